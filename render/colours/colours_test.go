package colours_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/colours"
	"sugarwright/render/sheet"
)

// Every colour is on the sheet with what is cut off for it; the lumps are the finished sugar of the boil.
func TestPages(t *testing.T) {
	printed.EachPlan(t, colours.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		sum := 0.0
		for _, c := range p.Colours {
			assert.Contains(t, text, s.Grams(float64(c.CutG)), name+" "+c.ID)
			sum += float64(c.NeedG)
		}
		assert.InDelta(t, float64(p.Boil.FinishedG), sum, 1, name)
	})
}
