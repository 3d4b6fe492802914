package lanes_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/lanes"
	"sugarwright/render/sheet"
)

// Every step with hands that begins before the log is round stands in a lane with its number.
func TestPages(t *testing.T) {
	printed.EachPlan(t, lanes.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		fields := strings.Fields(strings.NewReplacer(",", " ", "(", " ", ")", " ").Replace(text))
		for _, st := range p.Steps {
			if st.Do == plan.DoRound {
				break
			}
			if len(st.Pairs) > 0 && st.Minutes > 0 {
				assert.Contains(t, fields, fmt.Sprint(st.Number), "%s: step %d, %s", name, st.Number, st.Text)
			}
		}
	})
}

// Three and four lanes can be read too.
func TestManyHands(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for _, crew := range []int{3, 4} {
			q := *p
			q.Shop.Crew = crew
			for _, s := range printed.Styles(t) {
				for _, pg := range lanes.Pages(&q, s) {
					assert.NoError(t, pg.Check(), "%s, %d pairs", name, crew)
				}
			}
		}
	}
}
