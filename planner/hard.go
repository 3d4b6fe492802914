package planner

import (
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/form"
	"sugarwright/planner/plan"
	"sugarwright/planner/replay"
	"sugarwright/planner/set"
	"sugarwright/planner/words"
)

// Bounds of the card for when the sugar goes hard.
const (
	mostShortcuts = 8
	mostPairs     = 120 // pairs of parts whose union is tried
	wrongShare    = 0.06
)

// hurry lists what may be left out or made as one while there is time for it: each single part joined to a neighbour of its block, if the two
// make one form that hands know, and the block can still be built so (P4). Nothing that would put more than wrongShare of the picture into
// another colour is offered.
func (w *work) hurry(s *stepper) {
	single := make([]bool, len(w.set.Elements))
	subject := 0.0
	for i, e := range w.set.Elements {
		single[i] = e.CopyOf < 0 && (e.Kind == set.Subject || e.Kind == set.Spacer)
		if e.Kind == set.Subject {
			subject += e.True.Area()
		}
	}
	for _, e := range w.set.Elements {
		if e.CopyOf >= 0 {
			single[e.CopyOf] = false
		}
	}
	tried := 0
	for i, e := range w.set.Elements {
		var best *plan.Shortcut
		for j, n := range w.set.Elements {
			if i == j || !single[i] || !single[j] || e.Block != n.Block || tried >= mostPairs {
				continue
			}
			area := e.True.Area()
			if e.Colour != n.Colour && (area > n.True.Area() || area > wrongShare*subject) || e.Colour == n.Colour && i < j {
				continue
			}
			both, ok := joined(e.True, n.True)
			if !ok {
				continue
			}
			tried++
			if c := w.shortcut(s, i, j, both); c != nil && (best == nil || c.WrongMM2 < best.WrongMM2 || c.WrongMM2 == best.WrongMM2 && c.UntilMin > best.UntilMin) {
				best = c
			}
		}
		if best != nil {
			w.shortcuts = append(w.shortcuts, *best)
		}
	}
	// The best worth first; then in the order of the work.
	sort.SliceStable(w.shortcuts, func(a, b int) bool {
		x, y := w.shortcuts[a], w.shortcuts[b]
		return float64(x.WrongMM2)/float64(x.SavesMin) < float64(y.WrongMM2)/float64(y.SavesMin)
	})
	w.shortcuts = w.shortcuts[:min(len(w.shortcuts), mostShortcuts)]
	sort.SliceStable(w.shortcuts, func(a, b int) bool { return w.shortcuts[a].UntilMin < w.shortcuts[b].UntilMin })
}

// shortcut joins part i to part j, or nil when that is no form or cannot be laid.
func (w *work) shortcut(s *stepper, i, j int, both geom.Region[geom.TruePoint]) *plan.Shortcut {
	fits := form.FitAll(both)
	best := form.Fit{}
	for _, f := range fits {
		if f.IoU > best.IoU {
			best = f
		}
	}
	if best.IoU < w.o.Shop.LeastFit || !w.stillLaid(i, j, both) {
		return nil
	}
	e, n := w.set.Elements[i], w.set.Elements[j]
	r := w.scheduled
	at := s.made[i]
	if r.Start[s.made[j]] < r.Start[at] {
		at = s.made[j]
	}
	out := &plan.Shortcut{Do: "merge", Parts: []string{w.id(i), w.id(j)}, UntilMin: plan.Num(r.Start[at]),
		SavesMin: plan.Num(s.problem.Tasks[s.made[i]].Minutes + s.problem.Tasks[s.laid[i]].Minutes)}
	for _, step := range w.steps {
		if step.Do == "make" && (step.Parts[0] == w.id(i) || step.Parts[0] == w.id(j)) {
			out.Step = step.Number
			break
		}
	}
	word := formWords[best.Form]
	if e.Colour == n.Colour {
		out.Say = words.P("hard.merge", e.Number, n.Number, words.Name(w.finish(e.Colour).Name), word)
		out.Text = words.English().Say(out.Say)
		return out
	}
	out.Do, out.WrongMM2 = "leave-out", plan.Num(e.True.Area())
	out.Say = words.P("hard.leave_out", e.Number, words.Name(w.finish(e.Colour).Name), n.Number, words.Name(w.finish(n.Colour).Name), word)
	out.Text = words.English().Say(out.Say)
	return out
}

// stillLaid proves the block again with the two as one part, laid when the one or the other was.
func (w *work) stillLaid(i, j int, both geom.Region[geom.TruePoint]) bool {
	one := build.Part{Element: j, Block: -1}
	shapes := func(p build.Part) geom.Region[geom.TruePoint] {
		if p == one {
			return both
		}
		return w.shape(p)
	}
	for _, when := range []int{j, i} {
		var entries []build.Entry
		turn := 0.0
		for _, e := range w.build.Blocks[w.set.Elements[i].Block] {
			turn += e.Turn
			if e.Element == i || e.Element == j {
				if e.Element != when {
					continue // a turn before it is made before the next
				}
				e.Element = j
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

// joined is the union of two regions that share border edges, in one piece; ok is false when they do not, or when it is not.
func joined(a, b geom.Region[geom.TruePoint]) (geom.Region[geom.TruePoint], bool) {
	type edge = [2]geom.TruePoint
	next := map[geom.TruePoint]geom.TruePoint{}
	edges := map[edge]bool{}
	for _, r := range []geom.Region[geom.TruePoint]{a, b} {
		for _, ring := range r {
			for k, p := range ring {
				edges[edge{p, ring[(k+1)%len(ring)]}] = true
			}
		}
	}
	shared := 0
	var order []geom.TruePoint
	for _, r := range []geom.Region[geom.TruePoint]{a, b} {
		for _, ring := range r {
			for k, p := range ring {
				q := ring[(k+1)%len(ring)]
				if edges[edge{q, p}] {
					shared++
					continue
				}
				if _, twice := next[p]; twice {
					return nil, false // they meet in a point too
				}
				next[p] = q
				order = append(order, p)
			}
		}
	}
	if shared == 0 {
		return nil, false
	}
	var outer geom.Ring[geom.TruePoint]
	var holes geom.Region[geom.TruePoint]
	done := map[geom.TruePoint]bool{}
	for _, p := range order {
		if done[p] {
			continue
		}
		var ring geom.Ring[geom.TruePoint]
		for q := p; !done[q]; q = next[q] {
			if _, ok := next[q]; !ok {
				return nil, false
			}
			done[q] = true
			ring = append(ring, q)
		}
		switch area := ring.Area(); {
		case area > 0 && outer == nil:
			outer = ring
		case area > 0:
			return nil, false // two pieces
		case math.Abs(area) > 0:
			holes = append(holes, ring)
		}
	}
	return append(geom.Region[geom.TruePoint]{outer}, holes...), outer != nil
}
