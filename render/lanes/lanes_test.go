package lanes_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/lanes"
	"sugarwright/render/page"
)

// Lanes of one to four pairs of hands can be read, and none do two things at once.
func TestDraw(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for _, crew := range []int{2, 3, 4} {
			q := *p
			q.Shop.Crew = crew
			for _, s := range printed.Styles(t) {
				pg := &page.Page{W: 420, H: 80}
				lanes.Draw(pg, &q, s, page.Box{10, 10, 350, 10 + lanes.Height(crew)})
				assert.NoError(t, pg.Check(), "%s, %d pairs", name, crew)
			}
		}
	}
}

// What is made in the lanes takes the minutes that it takes: the coloured bars are as long as the steps.
func TestLengths(t *testing.T) {
	for name, p := range printed.Plans(t) {
		minutes := 0.0
		for _, st := range p.Steps {
			if st.Do == plan.DoMake {
				minutes += float64(st.Minutes) * float64(len(st.Pairs))
			}
		}
		assert.InDelta(t, minutes, lanes.Making(p), 1e-6, name)
	}
}
