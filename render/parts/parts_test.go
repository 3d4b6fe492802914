package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/parts"
	"sugarwright/render/sheet"
)

// Each distinct part has one row that starts with its number.
func TestPages(t *testing.T) {
	printed.EachPlan(t, parts.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		made := parts.Made(p)
		assert.Len(t, made, p.Index().Distinct(), name)
		grams := 0.0
		for _, e := range made {
			n, _, g := parts.Copies(p, e)
			assert.Len(t, p.Index().Alike(e.Number), n, name)
			grams += g
			assert.Contains(t, text, s.Grams(g), "%s %d", name, e.Number)
		}
		all := 0.0
		for _, e := range p.Elements {
			all += sheet.Made(p, e)
		}
		assert.InDelta(t, all, grams, 1e-4*all, "%s: parts that are made equal differ by a hair", name)
	})
}
