package after_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/after"
	"sugarwright/render/sheet"
)

// The faults of a first cut, blanks for each lump, and the cautions stand on the sheet, as pages that can be read.
func TestPages(t *testing.T) {
	printed.EachPlan(t, after.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		for _, c := range p.Colours {
			assert.True(t, printed.Has(text, c.Letter+", "+s.T().Text("wall.weight")), name)
		}
		assert.Contains(t, text, s.T().Text("caution.law"), name)
		assert.Contains(t, text, s.T().Text("cut.twist_see"), name)
	})
}
