package parts_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/parts"
	"sugarwright/render/sheet"
)

// Each distinct part has one row with its grams, copies and all; what finds no room is left for the next page.
func TestDraw(t *testing.T) {
	for name, p := range printed.Plans(t) {
		all := parts.Distinct(p)
		assert.Len(t, all, p.Index().Distinct(), name)
		grams := 0.0
		for _, e := range all {
			n, _, g := parts.Copies(p, e)
			assert.Len(t, p.Index().Alike(e.Number), n, name)
			grams += g
		}
		sum := 0.0
		for _, e := range p.Elements {
			sum += sheet.Made(p, e)
		}
		assert.InDelta(t, sum, grams, 1e-4*sum, "%s: parts that are made equal differ by a hair", name)
		for _, s := range printed.Styles(t) {
			left, rows := all, 0
			for len(left) > 0 {
				pg := &page.Page{W: 250, H: 80}
				before := left
				left = parts.Draw(pg, p, s, left, page.Box{10, 10, 229, 65})
				assert.NoError(t, pg.Check(), name)
				text := printed.Text([]*page.Page{pg})
				for _, e := range before[:len(before)-len(left)] {
					rows++
					assert.True(t, printed.Has(text, strconv.Itoa(e.Number)), "%s %d", name, e.Number)
					_, _, g := parts.Copies(p, e)
					assert.True(t, printed.Has(text, s.Grams(g)), "%s %d", name, e.Number)
				}
			}
			assert.Equal(t, len(all), rows, name)
		}
	}
}

// What is made once as thick as it is built in a block that is drawn out is drawn so.
func TestSection(t *testing.T) {
	p := &plan.Plan{
		Layup:    []plan.Block{{Block: "block1", Scale: 2, Parts: []plan.Part{{Part: "p1"}}}, {Block: "log"}},
		Elements: []plan.Element{{ID: "p1", Number: 1, Block: "block1", Laid: plan.Polygon{{{0, 0}, {3, 0}, {0, 4}}}}},
	}
	assert.Equal(t, plan.Polygon{{{0, 0}, {6, 0}, {0, 8}}}, parts.Section(p, p.Elements[0]))
}
