package gauge_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/gauge"
	"sugarwright/render/sheet"
)

// Each page has its bar of 100 mm.
func TestPages(t *testing.T) {
	printed.EachPlan(t, gauge.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		for i, pg := range gauge.Pages(p, s) {
			bars := 0
			for _, it := range pg.Items {
				if it.Path != nil && it.Path.Open && len(it.Path.Rings[0]) == 2 {
					a, b := it.Path.Rings[0][0], it.Path.Rings[0][1]
					if math.Abs(math.Hypot(a[0]-b[0], a[1]-b[1])-100) < 1e-6 {
						bars++
					}
				}
			}
			assert.Positive(t, bars, "%s page %d", name, i+1)
		}
	})
}
