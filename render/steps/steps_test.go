package steps_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/sheet"
	"sugarwright/render/steps"
)

// Each step has its line, in its order, with its clock; the cards and the plain text have their heads.
func TestPages(t *testing.T) {
	printed.EachPlan(t, steps.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		lines := steps.Lines(p, s)
		assert.Len(t, lines, len(p.Steps), name)
		plain := string(steps.Text(p, s))
		for i, l := range lines {
			assert.Equal(t, i+1, l.Step.Number)
			assert.NotEmpty(t, l.Text)
			assert.Contains(t, text, sheet.Clock(float64(l.Step.StartMin)), name)
			assert.Contains(t, plain, l.Text, name)
		}
		for _, pg := range steps.Cards(p, s) {
			assert.NoError(t, pg.Check(), name)
		}
		assert.NotEmpty(t, steps.Intro(p, s))
	})
}
