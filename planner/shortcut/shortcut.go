// Package shortcut lists what may be left out or made as one when the sugar goes hard before the log is finished.
//
// Guarantees: each offer was replayed (P4), and can be taken up until the step that it names.
package shortcut

import (
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/plan"
	"sugarwright/planner/recipe"
	"sugarwright/planner/replay"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/work"
)

// Bounds of the card for when the sugar goes hard.
const (
	mostShortcuts = 8
	mostPairs     = 120 // pairs of parts whose union is tried
	wrongShare    = 0.06
)

// Job is what is being built.
type Job struct {
	Set   *set.Set
	Build *build.Build
	Work  *work.Work
	Shop  *shop.Shop
}

// Of lists what may be left out or made as one while there is time for it: each single part joined to a neighbour of
// its block, if the two make one form that hands know, and the block can still be built so (P4). Nothing that would put
// more than wrongShare of the picture into another colour is offered. The offers stand in the order of the work.
func Of(j Job) []plan.Shortcut {
	single, subject := j.singles()
	tried := 0
	var out []plan.Shortcut
	for i, e := range j.Set.Elements {
		var best *plan.Shortcut
		for k, n := range j.Set.Elements {
			if i == k || !single[i] || !single[k] || e.Block != n.Block || tried >= mostPairs {
				continue
			}
			area := e.True.Area()
			if e.Colour != n.Colour && (area > n.True.Area() || area > wrongShare*subject) ||
				e.Colour == n.Colour && i < k {
				continue
			}
			both, ok := geom.Joined(e.True, n.True)
			if !ok {
				continue
			}
			tried++
			c := j.shortcut(i, k, both)
			if c != nil &&
				(best == nil || c.WrongMM2 < best.WrongMM2 || c.WrongMM2 == best.WrongMM2 && c.UntilMin > best.UntilMin) {
				best = c
			}
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	// The best worth first; then in the order of the work.
	sort.SliceStable(out, func(a, b int) bool {
		return float64(out[a].WrongMM2)/float64(out[a].SavesMin) < float64(out[b].WrongMM2)/float64(out[b].SavesMin)
	})
	out = out[:min(len(out), mostShortcuts)]
	sort.SliceStable(out, func(a, b int) bool { return out[a].UntilMin < out[b].UntilMin })
	return out
}

// singles tells of each element whether it is made by itself, with no copies, and sums the area of the picture's
// subject.
func (j Job) singles() (single []bool, subject float64) {
	single = make([]bool, len(j.Set.Elements))
	copies := j.Set.Copies()
	for i, e := range j.Set.Elements {
		single[i] = e.CopyOf < 0 && copies[i] == 0 && (e.Kind == set.Subject || e.Kind == set.Spacer)
		if e.Kind == set.Subject {
			subject += e.True.Area()
		}
	}
	return single, subject
}

// shortcut joins part i to part k, or nil when that is no form or cannot be laid.
func (j Job) shortcut(i, k int, both geom.Region[geom.TruePoint]) *plan.Shortcut {
	best := recipe.Best(both, j.Set.Elements[i].Kind != set.Subject, j.Shop.Least(), recipe.Quick)
	if best.Class == recipe.Refused || !j.stillLaid(i, k, both) {
		return nil
	}
	e, n := j.Set.Elements[i], j.Set.Elements[k]
	at := math.Min(j.Work.Made[i].Start, j.Work.Made[k].Start)
	out := &plan.Shortcut{
		Do:       plan.Merge,
		Parts:    []string{j.Set.ID(i), j.Set.ID(k)},
		UntilMin: plan.Num(at),
		Form:     plan.Form(best.Base.String()),
		Bent:     best.Bent(),
		SavesMin: plan.Num(j.Work.Made[i].Minutes + j.Work.Laid[i].Minutes),
	}
	if e.Colour != n.Colour {
		out.Do, out.WrongMM2 = plan.LeaveOut, plan.Num(e.True.Area())
	}
	for _, step := range j.Work.Steps {
		if step.Do == plan.DoMake && (step.Parts[0] == out.Parts[0] || step.Parts[0] == out.Parts[1]) {
			out.Step = step.Number
			break
		}
	}
	return out
}

// stillLaid proves the block again with parts i and k as one, laid when the one or the other was.
func (j Job) stillLaid(i, k int, both geom.Region[geom.TruePoint]) bool {
	one := build.Part{Element: k, Block: -1}
	shapes := func(p build.Part) geom.Region[geom.TruePoint] {
		if p == one {
			return both
		}
		return j.Set.Shape(p)
	}
	for _, when := range []int{k, i} {
		var entries []build.Entry
		turn := 0.0
		for _, e := range j.Build.Blocks[j.Set.Elements[i].Block] {
			turn += e.Turn
			if e.Element == i || e.Element == k {
				if e.Element != when {
					continue // a turn before it is made before the next
				}
				e.Element = k
			}
			e.Turn, turn = turn, 0
			if len(entries) == 0 {
				e.Move, e.Direction = build.First, geom.Vec{}
			}
			entries = append(entries, e)
		}
		if replay.Prove(&build.Build{Blocks: [][]build.Entry{entries}}, shapes, replay.TrueGive) == nil {
			return true
		}
	}
	return false
}
