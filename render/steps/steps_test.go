package steps_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/render/sheet"
	"sugarwright/render/steps"
)

// Each step has its line, in its order, with its clock.
func TestText(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for _, s := range printed.Styles(t) {
			lines := steps.Lines(p, s)
			assert.Len(t, lines, len(p.Steps), name)
			plain := string(steps.Text(p, s))
			for i, l := range lines {
				assert.Equal(t, i+1, l.Step.Number)
				assert.NotEmpty(t, l.Text)
				assert.Contains(t, plain, sheet.Clock(float64(l.Step.StartMin)), name)
				assert.Contains(t, plain, l.Text, name)
			}
			assert.NotEmpty(t, steps.Intro(p, s))
		}
	}
}
