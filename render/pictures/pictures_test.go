package pictures_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/pictures"
	"sugarwright/render/sheet"
)

// Each step that lays is in one frame; a frame can be read in a cell of the wall and on a screen, and shows the number of
// what it adds.
func TestFrames(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for i, s := range printed.Styles(t) {
			set := pictures.Of(p, s)
			shown := map[int]bool{}
			for _, f := range set.Frames {
				for _, st := range f.Steps {
					assert.False(t, shown[st.Number], "%s: step %d twice", name, st.Number)
					shown[st.Number] = true
				}
				for _, size := range [][2]float64{{29, 26}, {90, 74}} {
					pg := &page.Page{W: size[0], H: size[1]}
					set.Draw(pg, f, page.Box{0.5, 0.5, size[0] - 0.5, size[1] - 0.5}, sheet.Arm)
					assert.NoError(t, pg.Check(), "%s, style %d, %v", name, i, f.Parts)
					text := printed.Text([]*page.Page{pg})
					for _, n := range f.Parts {
						assert.True(t, printed.Has(text, n), "%s: %s is not on its frame", name, n)
					}
				}
			}
			for _, st := range p.Steps {
				if st.Do == plan.DoLay || st.Do == plan.DoWrap || st.Do == plan.DoBend {
					assert.True(t, shown[st.Number], "%s: step %d", name, st.Number)
				}
			}
			assert.NoError(t, pictures.Exploded(p, s, 200, 150).Check(), name)
		}
	}
}
