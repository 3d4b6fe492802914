package pictures_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/pictures"
	"sugarwright/render/sheet"
)

// Each part is added in one picture, and each picture has the step that it shows.
func TestPages(t *testing.T) {
	printed.EachPlan(t, pictures.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		shown := map[int]bool{}
		for _, f := range pictures.Frames(p, s, 90, 74) {
			assert.NotEmpty(t, f.Steps, name)
			for _, n := range f.Steps {
				assert.False(t, shown[n], "%s: step %d twice", name, n)
				shown[n] = true
			}
		}
		for _, st := range p.Steps {
			if st.Do == plan.DoLay || st.Do == plan.DoWrap || st.Do == plan.DoBend {
				assert.True(t, shown[st.Number], "%s: step %d", name, st.Number)
			}
		}
	})
}
