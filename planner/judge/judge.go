// Package judge holds a plan, by what its file holds, to what was promised of every plan. It computes with nothing of
// the stages that made the plan but the replay and the rolling model, which are proofs by themselves.
//
// Guarantees: a fault names the part or the step, and the property that is broken (P1, P3 to P8).
package judge

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/flow"
	"sugarwright/planner/plan"
	"sugarwright/planner/replay"
)

// Of lists what is wrong with a plan; nothing when it is as promised. Rolling the log forward again, which takes a
// second, is Return.
func Of(p *plan.Plan) []string {
	j := &judge{p: p}
	j.cover()
	j.mass()
	j.volume()
	j.tiling()
	j.steps()
	j.clock()
	j.heat()
	j.replay()
	j.parts()
	return j.faults
}

type judge struct {
	p      *plan.Plan
	faults []string
}

func (j *judge) fault(ok bool, format string, values ...any) {
	if !ok {
		j.faults = append(j.faults, fmt.Sprintf(format, values...))
	}
}

// Region of a polygon of the file.
func Region(p plan.Polygon) geom.Region[geom.TruePoint] {
	var out geom.Region[geom.TruePoint]
	for _, ring := range p {
		var r geom.Ring[geom.TruePoint]
		for _, q := range ring {
			r = append(r, geom.TruePoint{float64(q[0]), float64(q[1])})
		}
		out = append(out, r)
	}
	return out
}

// near tells whether two numbers differ by no more than a share of the first.
func near(want, got, share float64) bool { return math.Abs(want-got) <= share*math.Abs(want) }

type edge [4]plan.Num

func (e edge) back() edge { return edge{e[2], e[3], e[0], e[1]} }

// edges counts the directed edges of polygons; those of no length are left out.
func edges(polygons []plan.Polygon) map[edge]int {
	out := map[edge]int{}
	for _, p := range polygons {
		for _, ring := range p {
			for i, a := range ring {
				if b := ring[(i+1)%len(ring)]; a != b {
					out[edge{a[0], a[1], b[0], b[1]}]++
				}
			}
		}
	}
	return out
}

// cover is P1: areas sum to the disc, and every border edge inside the log belongs to two elements, once each way: then
// nothing overlaps.
func (j *judge) cover() {
	sum := 0.0
	var all []plan.Polygon
	for _, e := range j.p.Elements {
		area := Region(e.True).Area()
		sum += area
		j.fault(math.Abs(float64(e.AreaMM2)-area) <= 1e-3, "%s: its area is %.4f, printed %.4f (P1)", e.ID, area,
			float64(e.AreaMM2))
		all = append(all, e.True)
	}
	d := float64(j.p.Log.DiameterMM)
	j.fault(near(math.Pi*d*d/4, sum, 1e-4), "parts cover %.3f of %.3f square mm (P1)", sum, math.Pi*d*d/4)
	count := edges(all)
	// Edges without their opposite are borders of blocks, which are noded apart: there one side may have a vertex more.
	// It lies on the other side's edge to the grid's rounding: merging moves a vertex by up to 0.28 micrometres,
	// splitting an edge by 0.2 a round. The areas of such slips are a ten-millionth of the disc.
	var odd []edge
	twice := 0
	for e, n := range count {
		if n != 1 {
			twice++
		}
		inside := math.Hypot(float64(e[0]+e[2])/2, float64(e[1]+e[3])/2) < d/2-0.05
		if inside && count[e.back()] != 1 {
			odd = append(odd, e)
		}
	}
	j.fault(twice == 0, "%d edges belong to two parts on the same side (P1)", twice)
	bad := 0
	for _, e := range odd {
		if !met(e, odd) {
			bad++
		}
	}
	j.fault(bad == 0, "%d border edges have nothing on the other side (P1)", bad)
}

// met tells whether the middle of an edge lies on an edge that runs the other way.
func met(e edge, others []edge) bool {
	m := geom.TruePoint{float64(e[0]+e[2]) / 2, float64(e[1]+e[3]) / 2}
	way := geom.Vec{float64(e[2] - e[0]), float64(e[3] - e[1])}
	for _, o := range others {
		a, b := geom.TruePoint{float64(o[0]), float64(o[1])}, geom.TruePoint{float64(o[2]), float64(o[3])}
		if geom.Sub(b, a).Dot(way) < 0 && geom.SegmentDist(m, a, b) < 6e-4 {
			return true
		}
	}
	return false
}

// mass is P5: mass is density times area times length; colours and log are sums.
func (j *judge) mass() {
	by := map[string]float64{}
	for _, e := range j.p.Elements {
		want := float64(j.p.Index().Colour(e.Colour).Density) * float64(e.AreaMM2) * float64(j.p.Log.LengthMM) / 1000
		j.fault(math.Abs(want-float64(e.MassG)) <= 0.01, "%s weighs %.3f g, printed %.3f (P5)", e.ID, want,
			float64(e.MassG))
		by[e.Colour] += float64(e.MassG)
	}
	sum := 0.0
	for _, c := range j.p.Colours {
		j.fault(math.Abs(by[c.ID]-float64(c.MassG)) <= 0.05, "parts of %s weigh %.3f g, printed %.3f (P5)", c.ID,
			by[c.ID], float64(c.MassG))
		sum += float64(c.MassG)
	}
	j.fault(math.Abs(sum-float64(j.p.Log.MassG)) <= 0.05, "colours weigh %.3f g, the log %.3f (P5)", sum,
		float64(j.p.Log.MassG))
}

// volume is P6: laid and true areas agree within 0.1 %, and the laid polygons cover the oval.
func (j *judge) volume() {
	sum := 0.0
	for _, e := range j.p.Elements {
		area := Region(e.Laid).Area()
		sum += area
		j.fault(near(float64(e.AreaMM2), area, 1e-3), "%s has %.3f square mm, laid %.3f (P6)", e.ID, float64(e.AreaMM2),
			area)
		if len(e.InBlock) > 0 {
			j.fault(near(float64(e.AreaMM2), Region(e.InBlock).Area(), 1e-3),
				"%s has another area as laid in its block (P6)", e.ID)
		}
	}
	oval := math.Pi / 4 * float64(j.p.Log.LayWidthMM) * float64(j.p.Log.LayHeightMM)
	j.fault(near(oval, sum, 1e-4), "laid parts cover %.3f of the oval's %.3f square mm (P6)", sum, oval)
}

// tiling is P6: laid polygons share their borders exactly, edge against edge, but for the oval's own rim.
func (j *judge) tiling() {
	var all []plan.Polygon
	for _, e := range j.p.Elements {
		all = append(all, e.Laid)
	}
	count := edges(all)
	a, b := float64(j.p.Log.LayWidthMM)/2, float64(j.p.Log.LayHeightMM)/2
	bad := 0
	for e, n := range count {
		x, y := float64(e[0]+e[2])/2/a, float64(e[1]+e[3])/2/b
		if n != 1 || math.Hypot(x, y) < 0.998 && count[e.back()] != 1 {
			bad++
		}
	}
	j.fault(bad == 0, "%d laid edges have nothing on the other side (P6)", bad)
}

// steps is P8 and the structure: each lay-up entry has one step, turns have theirs, hands suffice at every moment, the
// finish is in order.
func (j *judge) steps() {
	moves, turns := 0, 0
	for _, b := range j.p.Layup {
		for _, e := range b.Parts {
			moves++
			if x := j.p.Index().Laying(e.Part); e.TurnDeg != 0 && (x == nil || x.Parts[0] == e.Part) {
				turns++
			}
		}
	}
	most := 0 // numbers follow the order of laying
	for _, b := range j.p.Layup {
		for _, e := range b.Parts {
			if x := j.p.Index().Element(e.Part); x != nil {
				j.fault(x.Number <= most+1, "part %d is laid before part %d", x.Number, most+1)
				most = max(most, x.Number)
			}
		}
	}
	count, last, covered := map[plan.Do]int{}, map[plan.Do]float64{}, 0
	for _, s := range j.p.Steps {
		count[s.Do]++
		covered += len(s.Covers)
		last[s.Do] = math.Max(last[s.Do], float64(s.StartMin+s.Minutes))
	}
	laying := covered + count[plan.DoLay] + count[plan.DoBend] + count[plan.DoFold] + count[plan.DoWrap] + count[plan.DoRoll]
	j.fault(laying == moves, "%d steps for %d lay-up entries", laying, moves)
	j.fault(count[plan.DoTurn] == turns, "%d steps for %d turns", count[plan.DoTurn], turns)
	j.fault(count[plan.DoMake] == j.p.Index().Distinct(), "%d steps make %d distinct parts", count[plan.DoMake],
		j.p.Index().Distinct())
	inOrder := last[plan.DoLay] <= last[plan.DoRound] && last[plan.DoRound] < last[plan.DoDraw] &&
		last[plan.DoDraw] < last[plan.DoCut]
	j.fault(inOrder && last[plan.DoKeep] == last[plan.DoDraw], "laying, rolling, drawing and cutting are not in order")
	j.lengths()
	j.hands()
}

// lengths is P8: lengths are cut while the next are drawn, and pieces after the last; every step has a heat but packing;
// nothing white is made before white has been pulled, and nothing before its colour is in.
func (j *judge) lengths() {
	end := func(s plan.Step) float64 { return float64(s.StartMin + s.Minutes) }
	first := map[string]float64{} // by colour: when the first load of it, or its lump, is ready
	ready := func(s plan.Step) {
		if at, ok := first[s.Colour]; !ok || end(s) < at || s.Do == plan.DoPull && s.Load <= 1 {
			first[s.Colour] = end(s)
		}
	}
	var draw plan.Step
	for _, s := range j.p.Steps {
		switch s.Do {
		case plan.DoColour, plan.DoPull:
			ready(s)
		case plan.DoDraw:
			draw = s
		}
		j.fault(s.AtC != nil || s.Do == plan.DoPack, "step %d has no heat", s.Number)
	}
	for _, s := range j.p.Steps {
		switch s.Do {
		case plan.DoLengths:
			j.fault(s.StartMin > draw.StartMin && end(s) > end(draw) && float64(s.StartMin) <= end(draw)+1e-3, "lengths are not cut while drawing goes on")
		case plan.DoMake:
			e := j.p.Index().Element(s.Parts[0])
			if e == nil {
				continue // that is another fault
			}
			pulled := j.p.Index().Colour(e.Colour).Finish == plan.Pulled
			at, ok := first[e.Colour]
			j.fault(ok || !pulled, "part %d is of pulled sugar that no step pulls", e.Number)
			j.fault(!ok || float64(s.StartMin) >= at-1e-3, "part %d is made before its sugar is ready (P8)", e.Number)
		}
	}
}

// hands is P8: no more pairs of hands work at once than the crew has.
func (j *judge) hands() {
	type event struct {
		at    float64
		hands int
	}
	var events []event
	for _, s := range j.p.Steps {
		events = append(events, event{float64(s.StartMin), s.Hands}, event{float64(s.StartMin + s.Minutes), -s.Hands})
	}
	sort.Slice(events, func(a, b int) bool {
		if math.Abs(events[a].at-events[b].at) > 1e-3 {
			return events[a].at < events[b].at
		}
		return events[a].hands < events[b].hands
	})
	busy := 0
	for _, e := range events {
		busy += e.hands
		j.fault(busy <= j.p.Shop.Crew, "%d pairs of hands at minute %.1f (P8)", busy, e.at)
	}
}

// clock is P7 as printed, stiffness within its bounds, and the clock's own sums.
func (j *judge) clock() {
	r, c := j.p.Rolling, j.p.Clock
	if r != nil {
		j.fault(r.Planned.Worst <= r.TolerancePercent, "the return is %.3f %% off (P7)", float64(r.Planned.Worst))
		j.fault(r.Planned.RMS < 0.1, "the return is %.3f %% off, root mean square (P7)", float64(r.Planned.RMS))
	}
	j.fault(c.AtLeastMin <= c.EndMin+1e-3, "the schedule is shorter than its bound")
	j.fault(!c.Proved || math.Abs(float64(c.EndMin-c.AtLeastMin)) <= 1e-3,
		"a proved schedule is not as long as its bound")
	for _, s := range j.p.Steps {
		j.fault(len(s.Pairs) == s.Hands, "step %d needs %d pairs of hands and names %d", s.Number, s.Hands,
			len(s.Pairs))
		j.fault(s.StartMin+s.Minutes+s.SlackMin <= c.EndMin+1e-3, "step %d may wait until after the end", s.Number)
		if s.Do == plan.DoRound {
			j.fault(math.Abs(float64(c.RoundMin-s.StartMin-s.Minutes)) <= 1e-3, "the log is round when rolling ends")
		}
	}
}

// heat is P8: bands, and what parts that join may differ by.
func (j *judge) heat() {
	coolest, warmest := math.Inf(1), math.Inf(-1)
	for _, e := range j.p.Elements {
		coolest, warmest = math.Min(coolest, float64(e.LayC)), math.Max(warmest, float64(e.LayC))
		inBand := e.WindowC[0] <= e.LayC+1e-6 && e.LayC <= e.WindowC[1]+1e-6
		j.fault(inBand, "%s is laid at %.1f C, its band is %.1f to %.1f (P8)", e.ID, float64(e.LayC),
			float64(e.WindowC[0]), float64(e.WindowC[1]))
		j.fault(e.EtaRel >= 1/30.0-1e-3 && e.EtaRel <= 30, "%s is %.2f times as stiff as the ground", e.ID,
			float64(e.EtaRel))
	}
	j.fault(warmest-coolest <= float64(j.p.Shop.JoinC), "parts that join differ by %.1f C (P8)", warmest-coolest)
	for _, f := range j.p.Findings {
		j.fault(f.Severity != "error", "a plan with the error %s", f.Code)
	}
}

// replay is P4: the lay-up of the file is replayed with the polygons of the file.
func (j *judge) replay() {
	b, shapes, err := Build(j.p)
	if err != nil {
		j.fault(false, "%v (P4)", err)
		return
	}
	if f := replay.Prove(b, shapes, replay.TrueGive); f != nil {
		j.fault(false, "replayed from the file: %v (P4)", f)
	}
}

// Build is the lay-up of a plan file, and the polygons of what it lays, for the replay.
func Build(p *plan.Plan) (*build.Build, replay.Shapes[geom.TruePoint], error) {
	element, block := map[string]int{}, map[string]int{}
	var shapes, outlines []geom.Region[geom.TruePoint]
	for i, e := range p.Elements {
		element[e.ID] = i
		shapes = append(shapes, Region(e.True))
	}
	moves := map[plan.How]build.Move{
		plan.First:    build.First,
		plan.Lay:      build.Lay,
		plan.Bend:     build.Bend,
		plan.FoldUp:   build.Fold,
		plan.WrapOn:   build.Wrap,
		plan.RollInto: build.Roll,
	}
	out := &build.Build{}
	for i, b := range p.Layup {
		block[b.Block] = i
		var entries []build.Entry
		var held []geom.Region[geom.TruePoint]
		for k, x := range b.Parts {
			e := build.Entry{Part: build.Part{Element: -1, Block: -1}, Move: moves[x.How], Turn: float64(x.TurnDeg)}
			if k == 0 {
				e.Turn = float64(b.StartDeg)
			}
			if x.Direction != nil {
				e.Direction = geom.Vec{float64(x.Direction[0]), float64(x.Direction[1])}
			}
			if k, ok := element[x.Part]; ok {
				e.Element = k
				held = append(held, shapes[k])
			} else if k, ok := block[x.Part]; ok {
				e.Block = k
				held = append(held, outlines[k])
			}
			entries = append(entries, e)
		}
		out.Blocks = append(out.Blocks, entries)
		outline, ok := geom.Joined(held...)
		if !ok {
			outline, ok = united(held)
		}
		if !ok && i < len(p.Layup)-1 {
			return nil, nil, fmt.Errorf("the parts of %s are not one piece", b.Block)
		}
		outlines = append(outlines, outline)
	}
	if err := out.Check(len(p.Elements)); err != nil {
		return nil, nil, err
	}
	return out, func(q build.Part) geom.Region[geom.TruePoint] {
		if q.Element >= 0 {
			return shapes[q.Element]
		}
		return outlines[q.Block]
	}, nil
}

// Again are the rolling model's grid and steps for Return: others than the plan used.
var again = flow.Method{Cells: 80, Steps: 6}

// Return is P7 from the file alone: laid polygons and stiffness, rolled forward on a grid that the plan did not use. It
// gives how far the subject's borders come from their true places, and how far they would by the simple squash, in
// percent of the diameter.
func Return(p *plan.Plan) (planned, squash float64, err error) {
	d := float64(p.Log.DiameterMM)
	b := &flow.Body{}
	index := map[plan.Point]int32{}
	for _, e := range p.Elements {
		part := flow.Part{Stiffness: float64(e.EtaRel)}
		for _, ring := range e.Laid {
			var r []int32
			for _, q := range ring {
				k, ok := index[q]
				if !ok {
					k = int32(len(b.Points))
					index[q] = k
					b.Points = append(b.Points,
						geom.Vec{float64(2 * q[0] / p.Log.LayWidthMM), float64(2 * q[1] / p.Log.LayHeightMM)})
				}
				r = append(r, k)
			}
			part.Rings = append(part.Rings, r)
		}
		b.Parts = append(b.Parts, part)
	}
	at, err := flow.Forward(b, flow.Squash(float64(p.Shop.Oval)), again)
	if err != nil {
		return 0, 0, err
	}
	for i, e := range p.Elements {
		if e.Kind != plan.Subject {
			continue
		}
		truth := Region(e.True)
		for _, ring := range b.Parts[i].Rings {
			for _, k := range ring {
				planned = math.Max(planned, 100*far(truth, at[k], d)/d)
				squash = math.Max(squash, 100*far(truth, b.Points[k], d)/d)
			}
		}
	}
	return planned, squash, nil
}

// far is how far a point, in disc coordinates, lies from a region's border, millimetres.
func far(r geom.Region[geom.TruePoint], at geom.Vec, diameter float64) float64 {
	p := geom.TruePoint{at[0] * diameter / 2, at[1] * diameter / 2}
	near := math.Inf(1)
	for _, ring := range r {
		for k := range ring {
			near = math.Min(near, geom.SegmentDist(p, ring[k], ring[(k+1)%len(ring)]))
		}
	}
	return near
}
