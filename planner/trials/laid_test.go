//go:build trials

package trials_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner"
	"sugarwright/planner/heat"
	"sugarwright/planner/judge"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
)

var exampleNames = []string{"orchard-apple", "harbour-flag", "tower-window", "lantern-face"}

// compiled compiles a drawing with settings of its own.
func compiled(t *testing.T, path, settings string, faces int) *planner.Result {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	o := options()
	if o.Shop, err = shop.Read([]byte(settings)); err != nil {
		t.Fatal(err)
	}
	o.Faces = faces
	r, err := planner.Compile("artwork.svg", data, o)
	require.NoError(t, err)
	return r
}

func example(name string) string { return "../../testdata/kitchen/" + name + "/artwork.svg" }

// P7 again, from the plan file alone: laid polygons and stiffness, rolled forward on a grid that the plan did not use,
// come back to the true polygons; and what the plan says of the simple squash is so.
func TestReturnFromTheFile(t *testing.T) {
	for _, name := range exampleNames {
		p := compiled(t, example(name), "", 0).Plan
		planned, squash, err := judge.Return(p)
		require.NoError(t, err)
		assert.Less(t, planned, 0.1, "%s: percent of the diameter", name)
		assert.Greater(t, squash, 2*planned, "%s: the laid shapes are not the simple squash", name)
	}
}

// In a cradle nothing is squashed: laid is true, to the last digit.
func TestCradle(t *testing.T) {
	p := compiled(t, example("tower-window"), "[log]\noval = 1", 0).Plan
	require.Equal(t, plan.AsDrawn, p.Verdict)
	assert.Zero(t, float64(p.Rolling.AsDrawn.Worst))
	for _, e := range p.Elements {
		assert.InDelta(t, float64(e.AreaMM2), judge.Region(e.Laid).Area(), 1e-2, e.ID)
	}
}

// Slipping skin: the plan proves its return as well, and is another plan.
func TestSlip(t *testing.T) {
	stick := compiled(t, example("orchard-apple"), "", 0).Plan
	slip := compiled(t, example("orchard-apple"), "[log]\noutline = \"slip\"", 0).Plan
	require.Equal(t, plan.AsDrawn, slip.Verdict)
	assert.Equal(t, "slip", slip.Rolling.Outline)
	assert.LessOrEqual(t, float64(slip.Rolling.Planned.Worst), 0.5)
	assert.NotEqual(t, stick.Elements[1].Laid, slip.Elements[1].Laid)
	checkPlan(t, "slip", slip)
}

// Parts of one heat flow alike: the plan says that the simple squash is as good.
func TestSquashAsGood(t *testing.T) {
	r := compiled(t, example("orchard-apple"), "[sugar]\njoin_c = 1\n[heat]\nlamp_c = 62\ntable_c = 62\n", 0)
	require.Equal(t, plan.AsDrawn, r.Plan.Verdict)
	assert.True(t, r.Stages.Findings.Has("squash-as-good"))
	assert.Less(t, float64(r.Plan.Rolling.Squash.Worst), 0.2)
	assert.False(t, compiled(t, example("harbour-flag"), "", 0).Stages.Findings.Has("squash-as-good"))
}

// A cold kitchen: the log is too stiff before it is drawn, and the plan says so; no warm place: parts cannot wait, and
// the plan names the steps and what would free them.
func TestColdKitchen(t *testing.T) {
	r := compiled(t, example("tower-window"), "[heat]\nlamp_c = 26\ntable_c = 26\nair_c = 20\n", 0)
	assert.True(t, r.Stages.Findings.Has("goes-hard"))
	assert.Less(t, float64(r.Stages.Clock.MarginMin), 0.0)

	r = compiled(t, example("tower-window"), "[heat]\nwarm_c = 0\nair_c = 10\nair_w = 60\n", 0)
	require.True(t, r.Stages.Findings.Has("no-schedule"), "%v", r.Stages.Findings)
	for _, f := range r.Stages.Findings {
		if f.Code == "no-schedule" {
			assert.Contains(t, fmt.Sprint(f.Values[1]), "lay ")
			assert.Contains(t, f.Values[2], "warm")
		}
	}
	assert.Equal(t, plan.ShopLimit, r.Plan.Verdict)
}

// The forecast: as planned nothing is off, along the rope something is, more where the kitchen differs more; the same
// input gives the same faces.
func TestForecast(t *testing.T) {
	calm := compiled(t, example("lantern-face"), "", 12).Plan.Forecast
	require.Len(t, calm.Faces, 13)
	assert.Less(t, float64(calm.NominalWrong), 0.3)
	assert.Greater(t, float64(calm.MeanWrong), float64(calm.NominalWrong))
	assert.GreaterOrEqual(t, float64(calm.WorstWrong), float64(calm.MeanWrong))
	assert.Empty(t, calm.Lost)
	wild := compiled(t, example("lantern-face"), "[spread]\nplacing_mm = 8\nheat_c = 5\noval = 0.08\nsqueeze = 0.08\n",
		12).Plan.Forecast
	assert.Greater(t, float64(wild.MeanWrong), 2*float64(calm.MeanWrong))
	still := compiled(t, example("lantern-face"), "[spread]\nplacing_mm = 0\nheat_c = 0\noval = 0\nsqueeze = 0\n",
		3).Plan.Forecast
	assert.Less(t, float64(still.WorstWrong), 0.3, "no spread, no error")
	assert.Equal(t, calm, compiled(t, example("lantern-face"), "", 12).Plan.Forecast, "P9")
}

// The card for when it goes hard: what it offers can be done until the first of the two parts is made, saves minutes,
// and joins parts that lie against each other; merging puts nothing into another colour.
func TestGoingHard(t *testing.T) {
	offers := 0
	for _, path := range []string{"../../testdata/corpora/twemoji-lemon.svg", "../../testdata/corpora/twemoji-tulip.svg",
		"../../testdata/reference/mushroom.svg", "../../testdata/reference/smile-plain.svg"} {
		p := compiled(t, path, "", 1).Plan
		made, area := map[string]float64{}, map[string]float64{}
		number := map[string]int{}
		for _, s := range p.Steps {
			if s.Do == "make" {
				made[s.Parts[0]], number[s.Parts[0]] = float64(s.StartMin), s.Number
			}
		}
		for _, e := range p.Elements {
			area[e.ID] = float64(e.AreaMM2)
		}
		for _, x := range p.GoingHard {
			offers++
			require.Len(t, x.Parts, 2)
			a, b := x.Parts[0], x.Parts[1]
			assert.InDelta(t, math.Min(made[a], made[b]), float64(x.UntilMin), 1e-3, x.Parts)
			assert.Equal(t, min(number[a], number[b]), x.Step, x.Parts)
			assert.Greater(t, float64(x.SavesMin), 0.0, x.Parts)
			want := 0.0
			if x.Do == "leave-out" {
				want = area[a]
			}
			assert.InDelta(t, want, float64(x.WrongMM2), 1e-2, x.Parts)
		}
	}
	assert.GreaterOrEqual(t, offers, 3)
}

// A block that is rolled round by itself has its own oval: its parts are laid into that, with their areas.
func TestLaidInBlock(t *testing.T) {
	found := 0
	for _, name := range []string{"bullseye-plain", "citrus-8", "initials-co"} {
		p := once(t, "../../testdata/reference/"+name+".svg").Plan
		blocks, truth := map[string][]geom.TruePoint{}, map[string][]geom.TruePoint{}
		for _, e := range p.Elements {
			if len(e.InBlock) == 0 {
				continue
			}
			found++
			r := judge.Region(e.InBlock)
			assert.InEpsilon(t, float64(e.AreaMM2), r.Area(), 1e-3, "%s: %s", name, e.ID)
			blocks[e.Block] = append(blocks[e.Block], r[0]...)
			truth[e.Block] = append(truth[e.Block], judge.Region(e.True)[0]...)
		}
		for b, pts := range blocks {
			flat := func(pts []geom.TruePoint) float64 {
				box := geom.BoundOf(pts)
				return (box.Max[1] - box.Min[1]) / (box.Max[0] - box.Min[0])
			}
			assert.InDelta(t, float64(p.Shop.Oval), flat(pts)/flat(truth[b]), 0.01, "%s: oval of %s", name, b)
		}
	}
	assert.Greater(t, found, 2)
}

// With no warm place what is made cools in the air: from the end of its making to its laying no part waits longer than
// its mean heat takes from the heat of laying to the low end of its window (P8). Thickness is read from the file, so a
// tenth is allowed.
func TestWaits(t *testing.T) {
	p := compiled(t, example("tower-window"), "[heat]\nwarm_c = 0\n", 0).Plan
	require.Equal(t, plan.AsDrawn, p.Verdict)
	made, laid := map[int]float64{}, map[string]float64{}
	number := map[string]int{}
	for _, e := range p.Elements {
		number[e.ID] = e.Number
	}
	for _, s := range p.Steps {
		switch s.Do {
		case "make":
			made[number[s.Parts[0]]] = float64(s.StartMin + s.Minutes)
		case "lay", "bend", "wrap":
			laid[s.Parts[0]] = float64(s.StartMin)
		}
	}
	bound := 0
	for _, e := range p.Elements {
		shape, thick := heat.Rod, float64(e.Size["height_mm"])
		switch e.Form {
		case "strip", "wrap":
			shape, thick = heat.Sheet, float64(e.Size["thickness_mm"])
		case "rod":
			thick = float64(e.Size["diameter_mm"])
		case "wedge":
			thick = math.Min(thick, float64(e.Size["base_mm"]))
		}
		limit := heat.Minutes(shape, thick, float64(e.LayC), float64(e.WindowC[0]), 25, 11)
		wait := laid[e.ID] - made[e.Number]
		assert.GreaterOrEqual(t, wait, -1e-3, e.ID)
		assert.LessOrEqual(t, wait, 1.1*limit+0.01, "%s, %.1f mm", e.ID, thick)
		if limit < 5 {
			bound++
		}
	}
	assert.Greater(t, bound, 3, "the limits matter")
}
