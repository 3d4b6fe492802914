package pile

import (
	"math"
	"slices"
	"sort"

	"sugarwright/geom"
)

// coverShare of its border must lie against neighbours before a part is held by them; tuned: three sides of four.
const coverShare = 0.75

// Holds is for how long each part must hold its shape by itself, in minutes, and for how long of that it must be turned
// each minute.
type Holds struct {
	Min    []float64
	Turned []float64 // by element; 0 where the part holds, or was to be turned in any case
}

// Any tells whether a part needs turning that was not known to.
func (h *Holds) Any() bool {
	return slices.ContainsFunc(h.Turned, func(m float64) bool { return m > 0 })
}

// HoldsOf settles for how long each part must hold its shape by itself: until neighbours or a wrap support it. One that
// cannot for so long is turned each minute, with the pile.
func HoldsOf(k Kitchen) *Holds {
	s, of := k.Section, k.Set
	out := &Holds{Min: make([]float64, len(of.Elements)), Turned: make([]float64, len(of.Elements))}
	owner := map[[2]int32]int{}
	for i, p := range s.Body.Parts {
		for _, ring := range p.Rings {
			for n, a := range ring {
				owner[[2]int32{a, ring[(n+1)%len(ring)]}] = i
			}
		}
	}
	for i, p := range s.Body.Parts {
		type side struct{ at, length float64 }
		var sides []side
		all := 0.0
		for _, ring := range p.Rings {
			for n, a := range ring {
				b := ring[(n+1)%len(ring)]
				length := geom.Dist(s.Body.Points[a], s.Body.Points[b])
				all += length
				if j, ok := owner[[2]int32{b, a}]; ok {
					sides = append(sides, side{k.meet(i, j), length})
				}
			}
		}
		sort.SliceStable(sides, func(a, b int) bool { return sides[a].at < sides[b].at })
		covered, until := 0.0, k.Timing.Roll
		for _, x := range sides {
			if covered += x.length; covered >= coverShare*all {
				until = math.Min(until, x.at)
				break
			}
		}
		out.Min[i] = math.Max(0, until-k.Timing.Laid[i])
		if out.Min[i] <= k.Shop.HoldMin {
			continue
		}
		part := k.Windows.Parts[i]
		win := k.Windows.Holding(of.Elements[i], out.Min[i])
		if (win.Turned || win.High < part.LayC) && !part.Window.Turned {
			out.Turned[i] = out.Min[i]
		}
	}
	return out
}

// meet is when two parts lie against each other: both laid, and the blocks that hold them joined.
func (k Kitchen) meet(i, j int) float64 {
	at := math.Max(k.Timing.Laid[i], k.Timing.Laid[j])
	for a, b := k.Set.Elements[i].Block, k.Set.Elements[j].Block; a != b; {
		// Blocks are built before those that hold them: the earlier one is joined to its holder first.
		if a > b {
			a, b = b, a
		}
		at = math.Max(at, k.Timing.Joined[a])
		a = k.Set.Holder(a)
	}
	return at
}
