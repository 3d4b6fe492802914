package wall_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/sheet"
	"sugarwright/render/wall"
)

// The wall sheet has the picture's name, the boil, every colour's grams and who does what on pages that can be read.
func TestPages(t *testing.T) {
	printed.EachPlan(t, wall.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		for _, c := range p.Colours {
			assert.True(t, printed.Has(text, s.Grams(float64(c.CutG))), "%s %s", name, c.ID)
		}
		assert.True(t, printed.Has(text, s.T().Text("wall.hot")), name)
		assert.True(t, printed.Has(text, s.T().Text("lane.round")), name)
	})
}

// On the small paper the sheet is two pages at four fifths of its size, no smaller.
func TestSplit(t *testing.T) {
	p := golden.Plan(t, "orchard-apple")
	pages := wall.Pages(p, sheet.Style{Paper: sheet.Papers["a4"], Split: true})
	assert.Len(t, pages, 2)
	for _, pg := range pages {
		assert.NoError(t, pg.Check())
		assert.InDelta(t, 297, pg.W, 1e-9)
		assert.InDelta(t, 210, pg.H, 1e-9)
		assert.InDelta(t, 0.8*sheet.Foot, pg.Least, 1e-9)
	}
}

// With few parts nothing is drawn large a second time.
func TestLarge(t *testing.T) {
	assert.Nil(t, wall.Large(golden.Plan(t, "orchard-apple"), printed.Styles(t)[0]))
	many := wall.Large(golden.Plan(t, "house-windows"), printed.Styles(t)[0])
	assert.NotEmpty(t, many)
	for _, pg := range many {
		assert.NoError(t, pg.Check())
	}
}
