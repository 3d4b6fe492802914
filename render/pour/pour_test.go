package pour_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/pour"
	"sugarwright/render/sheet"
)

// Every lump is on the sheet with what is cut off for it; the lumps are the finished sugar of the boil, and tile the map.
func TestPages(t *testing.T) {
	printed.EachPlan(t, pour.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		area, sum := 0.0, 0.0
		for _, l := range pour.Map(p, 1.5) {
			assert.Contains(t, text, s.Grams(float64(l.Colour.CutG)), name)
			area += l.W * l.H
			sum += float64(l.Colour.NeedG)
		}
		assert.InDelta(t, 1, area, 1e-9, name)
		assert.InDelta(t, float64(p.Boil.FinishedG), sum, 1, name)
	})
}

// The slab's map: areas as the weights, and each cut goes through all that is left.
func TestMap(t *testing.T) {
	for name, p := range printed.Plans(t) {
		total := 0.0
		for _, c := range p.Colours {
			total += float64(c.CutG)
		}
		assert.InDelta(t, float64(p.Boil.CookedG+p.Boil.AcidG+p.Boil.FlavourG), total, 0.01, "%s: the lumps are what is on the slab", name)
		x, y := 0.0, 0.0
		for i, l := range pour.Map(p, 1.5) {
			assert.InDelta(t, float64(l.Colour.CutG)/total, l.W*l.H, 1e-9, "%s: lump %d", name, i+1)
			assert.InDelta(t, x, l.X, 1e-9)
			assert.InDelta(t, y, l.Y, 1e-9)
			last := i == len(p.Colours)-1
			assert.True(t, last || math.Abs(l.X+l.W-1) < 1e-9 != (math.Abs(l.Y+l.H-1) < 1e-9), "%s: lump %d is cut off through all that is left", name, i+1)
			if l.Across {
				x += l.W
			} else {
				y += l.H
			}
		}
	}
}
