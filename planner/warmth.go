package planner

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/form"
	"sugarwright/planner/heat"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/words"
)

// windows gives each part its band of heat and the heat at which it is laid: all as near to the coolest part's middle as their own bands
// allow, so that parts that join are alike, and flow alike when the log is rolled. That is also the heat at which what waits is kept. The
// closing wraps of ground and jacket go on warmer by half of what parts that join may differ by: they need not stand by themselves, and keep
// the log workable.
func (w *work) windows() {
	s := w.o.Shop
	common := math.Inf(1)
	for i, e := range w.set.Elements {
		win := w.window(e, s.HoldMin)
		if e.Kind != set.Jacket && win.High < win.Low {
			at := [2]float64(e.Inside())
			f := finding.Finding{Code: finding.NoWindow, Severity: finding.Error, AtMM: &at,
				Message:    fmt.Sprintf("a part of %.0f mm does not hold its shape by itself at any heat at which it joins", form.Thick(e.Fit)),
				Suggestion: "split it in the drawing, or order a smaller log"}
			if s.LayFromC > 0 || s.LayToC > 0 {
				f.Message += " inside the shop's own working band"
				f.Suggestion = "widen heat.lay_from_c and heat.lay_to_c in the shop file, split the part in the drawing, or order a smaller log"
			}
			w.found.Add(f)
		}
		if mid := (win.Low + win.High) / 2; mid < common {
			common, w.binding = mid, i
		}
		w.parts = append(w.parts, partInfo{window: win, fit: e.Fit, etaRel: 1})
	}
	coolest, warmest := math.Inf(1), math.Inf(-1)
	for i := range w.parts {
		p := &w.parts[i]
		p.layC = common
		if k := w.set.Elements[i].Kind; k == set.Ground || k == set.Jacket {
			p.layC += s.JoinC / 2
		}
		inner := math.Min(innerC, (p.window.High-p.window.Low)/4)
		p.layC = math.Max(p.window.Low+inner, math.Min(p.window.High, p.layC))
		coolest, warmest = math.Min(coolest, p.layC), math.Max(warmest, p.layC)
	}
	if s.WarmC > 0 {
		w.keepC = math.Min(s.WarmC, common)
		if s.WarmC < common-0.5 {
			w.found.Add(finding.Finding{Code: finding.WarmTooCold, Severity: finding.Warning,
				Message:    fmt.Sprintf("the warm place is held at %.0f C at most, lumps and parts need %.0f C", s.WarmC, common),
				Suggestion: "keep them warm in another way, or have a warmer place (heat.warm_c in the shop file)"})
		}
	}
	if warmest-coolest > s.JoinC {
		w.found.Add(finding.Finding{Code: finding.JoinHeat, Severity: finding.Error,
			Message:    fmt.Sprintf("parts that join would differ by %.1f C, %.0f are allowed", warmest-coolest, s.JoinC),
			Suggestion: "avoid very thick bent parts beside thin ones"})
	}
	if s.TgFrom != shop.FromTest {
		w.found.Add(finding.Finding{Code: finding.WindowGuess, Severity: finding.Note, Message: "temperatures are bands round a guessed glass transition: go by feel (bends, does not crack, holds a minute) until a shop test narrows them"})
	}
}

// innerC is how far above the low end of its window a part is laid, where the window is wide enough; set, no source: what a hand can tell.
const innerC = 1.5

// window of an element that must hold its shape by itself for some minutes.
func (w *work) window(e set.Element, holdMin float64) heat.Window {
	s := w.o.Shop
	radius := 0.0
	switch e.Fit.Form {
	case form.Wrap:
		radius = e.Fit.B / (2 * math.Pi)
	case form.Bent:
		radius = e.Fit.B / math.Max(0.1, e.Fit.Turn)
	}
	limits := heat.Limits{TgC: s.TgC, HoldMin: holdMin, LengthMM: w.log.LengthMM, BendS: bendShare * 60 * s.Minutes.Bend, FromC: s.LayFromC, ToC: s.LayToC}
	return limits.Of(e.Fit.Form, form.Thick(e.Fit), radius)
}

// coverShare of its border must lie against neighbours before a part is held by them; tuned: three sides of four.
const coverShare = 0.75

// holds settles for how long each part must hold its shape by itself: until neighbours or a wrap support it. One that cannot for so long is
// turned each minute, with the pile.
func (w *work) holds(s *section) {
	owner := map[[2]int32]int{}
	for i, p := range s.body.Parts {
		for _, ring := range p.Rings {
			for k, a := range ring {
				owner[[2]int32{a, ring[(k+1)%len(ring)]}] = i
			}
		}
	}
	for i, p := range s.body.Parts {
		type side struct{ at, length float64 }
		var sides []side
		all := 0.0
		for _, ring := range p.Rings {
			for k, a := range ring {
				b := ring[(k+1)%len(ring)]
				length := geom.Dist(s.body.Points[a], s.body.Points[b])
				all += length
				if j, ok := owner[[2]int32{b, a}]; ok {
					sides = append(sides, side{w.meet(i, j), length})
				}
			}
		}
		sort.SliceStable(sides, func(a, b int) bool { return sides[a].at < sides[b].at })
		covered, until := 0.0, w.time.roll
		for _, x := range sides {
			if covered += x.length; covered >= coverShare*all {
				until = math.Min(until, x.at)
				break
			}
		}
		part := &w.parts[i]
		part.holdMin = math.Max(0, until-w.time.laid[i])
		if part.holdMin > w.o.Shop.HoldMin {
			win := w.window(w.set.Elements[i], part.holdMin)
			if (win.Turned || win.High < part.layC) && !part.window.Turned {
				part.window.Turned = true
				w.sayTurned(i)
			}
		}
	}
}

// sayTurned adds to the step that makes a part that it is turned.
func (w *work) sayTurned(i int) {
	for k := range w.steps {
		if st := &w.steps[k]; st.Do == "make" && st.Parts[0] == w.id(w.origin(i)) && !st.Say.Has("step.turn_it") {
			st.Say = st.Say.And(words.P("step.turn_it"))
			st.Text = words.English().Say(st.Say)
		}
	}
}

// meet is when two parts lie against each other: both laid, and the blocks that hold them joined.
func (w *work) meet(i, j int) float64 {
	at := math.Max(w.time.laid[i], w.time.laid[j])
	for a, b := w.set.Elements[i].Block, w.set.Elements[j].Block; a != b; {
		// Blocks are built before those that hold them: the earlier one is joined to its holder first.
		if a > b {
			a, b = b, a
		}
		at = math.Max(at, w.time.joined[a])
		a = w.holder(a)
	}
	return at
}

// holder of a block: the block into which it is laid.
func (w *work) holder(b int) int {
	for h, blk := range w.set.Blocks {
		for _, c := range blk.Blocks {
			if c == b {
				return h
			}
		}
	}
	return b
}

// bendShare of the minutes that the shop takes to bend a part on is the bending itself, the rest fitting and pressing; set, no source.
const bendShare = 0.5

// mayWait is for how many minutes a part that has been made stays in its window: for good where the warm place is warm enough.
func (w *work) mayWait(f form.Form, thick float64, win heat.Window) float64 {
	around := w.o.Shop.AirC
	if w.keepC > 0 {
		around = w.keepC
	}
	shape := heat.Rod
	if f == form.Strip || f == form.Bent || f == form.Wrap {
		shape = heat.Sheet
	}
	return heat.Minutes(shape, thick, win.High, win.Low, around, w.o.Shop.AirW)
}

// thickness of a block: its narrowest width.
func (w *work) thickness(b int) float64 {
	hull := geom.Hull(w.set.Blocks[b].Outline[0])
	best := math.Inf(1)
	for i, p := range hull {
		n := geom.Sub(hull[(i+1)%len(hull)], p).Unit().Left()
		wide := 0.0
		for _, q := range hull {
			wide = math.Max(wide, n.Dot(geom.Sub(q, p)))
		}
		best = math.Min(best, wide)
	}
	return best
}
