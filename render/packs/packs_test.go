package packs_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/packs"
	"sugarwright/render/sheet"
)

// The title, and each colour that has a dose.
func TestPages(t *testing.T) {
	printed.EachPlan(t, packs.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		assert.Contains(t, text, s.T().Text("packs.title"), name)
		for _, d := range p.Order.Doses {
			assert.Contains(t, text, d.Additive, name)
		}
	})
}
