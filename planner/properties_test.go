package planner_test

import (
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/plan"
)

// checkPlan checks a plan from its file's content only: P1, P3, P5, P6, P7 as printed, P8 and the structure of the lay-up. (P4 is proved in the
// compile; P2 follows from the partition; P7 is computed again in TestReturnFromTheFile; P9 and P10 have tests of their own.)
func checkPlan(t *testing.T, name string, p *plan.Plan) {
	checkCover(t, name, p)
	checkMass(t, name, p)
	checkVolume(t, name, p)
	checkTiling(t, name, p)
	checkSteps(t, name, p)
	checkClock(t, name, p)
	coolest, warmest := math.Inf(1), math.Inf(-1)
	for _, e := range p.Elements {
		coolest, warmest = math.Min(coolest, float64(e.LayC)), math.Max(warmest, float64(e.LayC))
	}
	assert.LessOrEqual(t, warmest-coolest, float64(p.Shop.JoinC), "%s: parts that join (P8)", name)
	for _, f := range p.Findings {
		assert.NotEqual(t, "no-window", f.Code, name)
	}
	for _, e := range p.Elements {
		if e.Kind == "subject" {
			assert.GreaterOrEqual(t, float64(e.Fit), float64(p.Shop.LeastFit), "%s: %s fit (P3)", name, e.ID)
		}
		assert.LessOrEqual(t, float64(e.WindowC[0]), float64(e.LayC)+1e-6, "%s: %s window (P8)", name, e.ID)
		assert.LessOrEqual(t, float64(e.LayC), float64(e.WindowC[1])+1e-6, "%s: %s window (P8)", name, e.ID)
	}
}

func region(p plan.Polygon) geom.Region[geom.TruePoint] {
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

// P1: areas sum to the disc, and every border edge inside the log belongs to two elements, once each way: then nothing overlaps.
func checkCover(t *testing.T, name string, p *plan.Plan) {
	sum := 0.0
	edges := map[[4]plan.Num]int{}
	for _, e := range p.Elements {
		r := region(e.True)
		sum += r.Area()
		assert.InDelta(t, float64(e.AreaMM2), r.Area(), 1e-3, "%s: %s area", name, e.ID)
		for _, ring := range e.True {
			for i := range ring {
				a, b := ring[i], ring[(i+1)%len(ring)]
				edges[[4]plan.Num{a[0], a[1], b[0], b[1]}]++
			}
		}
	}
	d := float64(p.Log.DiameterMM)
	assert.InEpsilon(t, math.Pi*d*d/4, sum, 1e-4, "%s: disc (P1)", name)
	// Edges without their opposite are borders of blocks, which are noded apart: there one side may have a vertex more. It lies on the
	// other side's edge to the grid's rounding: merging moves a vertex by up to 0.28 micrometres, splitting an edge by 0.2 a round. The areas of
	// such slips are a ten-millionth of the disc.
	var odd [][4]plan.Num
	for k, n := range edges {
		inside := math.Hypot(float64(k[0]+k[2])/2, float64(k[1]+k[3])/2) < d/2-0.05
		assert.Equal(t, 1, n, "%s: an edge twice (P1)", name)
		if inside && edges[[4]plan.Num{k[2], k[3], k[0], k[1]}] != 1 {
			odd = append(odd, k)
		}
	}
	bad := 0
	for _, k := range odd {
		m := geom.TruePoint{float64(k[0]+k[2]) / 2, float64(k[1]+k[3]) / 2}
		met := false
		for _, o := range odd {
			a, b := geom.TruePoint{float64(o[0]), float64(o[1])}, geom.TruePoint{float64(o[2]), float64(o[3])}
			v, w := geom.Sub(b, a), geom.Vec{float64(k[2] - k[0]), float64(k[3] - k[1])}
			met = met || v.Dot(w) < 0 && geom.SegmentDist(m, a, b) < 6e-4
		}
		if !met {
			bad++
		}
	}
	assert.Zero(t, bad, "%s: border edges that nothing lies against (P1)", name)
}

// P5: mass is density times area times length; colours and log are sums.
func checkMass(t *testing.T, name string, p *plan.Plan) {
	by := map[string]float64{}
	density := map[string]float64{}
	for _, c := range p.Colours {
		density[c.ID] = float64(c.Density)
	}
	for _, e := range p.Elements {
		assert.InDelta(t, density[e.Colour]*float64(e.AreaMM2)*float64(p.Log.LengthMM)/1000, float64(e.MassG), 0.01, "%s: %s (P5)", name, e.ID)
		by[e.Colour] += float64(e.MassG)
	}
	sum := 0.0
	for _, c := range p.Colours {
		assert.InDelta(t, by[c.ID], float64(c.MassG), 0.05, "%s: %s (P5)", name, c.ID)
		sum += float64(c.MassG)
	}
	assert.InDelta(t, sum, float64(p.Log.MassG), 0.05, "%s (P5)", name)
}

// P6: laid and true areas agree within 0.1 %, and the laid polygons cover the oval.
func checkVolume(t *testing.T, name string, p *plan.Plan) {
	sum := 0.0
	for _, e := range p.Elements {
		a := region(e.Laid).Area()
		sum += a
		assert.InEpsilon(t, float64(e.AreaMM2), a, 1e-3, "%s: %s (P6)", name, e.ID)
	}
	assert.InEpsilon(t, math.Pi/4*float64(p.Log.LayWidthMM)*float64(p.Log.LayHeightMM), sum, 1e-4, "%s (P6)", name)
}

// P8 and the structure: each lay-up entry has one step, turns have theirs, hands suffice at every moment, the finish is in order.
func checkSteps(t *testing.T, name string, p *plan.Plan) {
	moves, turns, steps, turnSteps, makes := 0, 0, 0, 0, 0
	numbers := map[int]bool{}
	for _, e := range p.Elements {
		numbers[e.Number] = true
	}
	for _, b := range p.Layup {
		for _, e := range b.Parts {
			moves++
			if e.TurnDeg != 0 {
				turns++
			}
		}
	}
	type event struct {
		at    float64
		hands int
	}
	var events []event
	last := map[string]float64{}
	for _, s := range p.Steps {
		switch s.Do {
		case "lay", "bend", "wrap", "roll":
			steps++
		case "turn":
			turnSteps++
		case "make":
			makes++
		}
		end := float64(s.StartMin + s.Minutes)
		last[s.Do] = math.Max(last[s.Do], end)
		events = append(events, event{float64(s.StartMin), s.Hands}, event{end, -s.Hands})
	}
	assert.Equal(t, moves, steps, "%s: steps for lay-up entries", name)
	assert.Equal(t, turns, turnSteps, "%s: turns", name)
	assert.Equal(t, len(numbers), makes, "%s: one make a distinct part", name)
	sort.Slice(events, func(i, j int) bool {
		if math.Abs(events[i].at-events[j].at) > 1e-3 {
			return events[i].at < events[j].at
		}
		return events[i].hands < events[j].hands
	})
	busy := 0
	for _, e := range events {
		busy += e.hands
		assert.LessOrEqual(t, busy, p.Shop.Crew, "%s: hands at minute %.1f (P8)", name, e.at)
	}
	assert.True(t, last["lay"] <= last["round"] && last["round"] < last["draw"] && last["draw"] < last["cut"] && last["keep"] == last["draw"], name)
}

// P6: laid polygons share their borders exactly, edge against edge, but for the oval's own rim.
func checkTiling(t *testing.T, name string, p *plan.Plan) {
	edges := map[[4]plan.Num]int{}
	for _, e := range p.Elements {
		for _, ring := range e.Laid {
			for i, a := range ring {
				if b := ring[(i+1)%len(ring)]; a != b { // what rounding to the file's digits drew together
					edges[[4]plan.Num{a[0], a[1], b[0], b[1]}]++
				}
			}
		}
	}
	a, b := float64(p.Log.LayWidthMM)/2, float64(p.Log.LayHeightMM)/2
	bad := 0
	for k, n := range edges {
		x, y := float64(k[0]+k[2])/2/a, float64(k[1]+k[3])/2/b
		if n != 1 || math.Hypot(x, y) < 0.998 && edges[[4]plan.Num{k[2], k[3], k[0], k[1]}] != 1 {
			bad++
		}
	}
	assert.Zero(t, bad, "%s: laid edges that nothing lies against (P6)", name)
}

// P7 as printed, stiffness within its bounds, and the clock's own sums.
func checkClock(t *testing.T, name string, p *plan.Plan) {
	assert.LessOrEqual(t, float64(p.Rolling.Planned.Worst), float64(p.Rolling.TolerancePercent), "%s: return (P7)", name)
	assert.Less(t, float64(p.Rolling.Planned.RMS), 0.1, "%s: return, root mean square (P7)", name)
	for _, e := range p.Elements {
		assert.True(t, e.EtaRel >= 1/30.0-1e-3 && e.EtaRel <= 30, "%s: stiffness of %s", name, e.ID)
	}
	c := p.Clock
	assert.LessOrEqual(t, float64(c.AtLeastMin), float64(c.EndMin)+1e-3, name)
	if c.Proved {
		assert.InDelta(t, float64(c.EndMin), float64(c.AtLeastMin), 1e-3, name)
	}
	for _, s := range p.Steps {
		assert.Len(t, s.Pairs, s.Hands, "%s: step %d", name, s.Number)
		assert.LessOrEqual(t, float64(s.StartMin+s.Minutes+s.SlackMin), float64(c.EndMin)+1e-3, "%s: slack of step %d", name, s.Number)
		if s.Do == "round" {
			assert.InDelta(t, float64(c.RoundMin), float64(s.StartMin+s.Minutes), 1e-3, name)
		}
	}
}
