package gauge_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
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

// A log larger than the paper is tiled; sheets that meet have the same crosses, two to each common edge, and the whole
// outline is on them: its length in all tiles is no less than its own.
func TestTiles(t *testing.T) {
	p := golden.Plan(t, "leaf-veins")
	for i := range p.Elements {
		for _, ring := range p.Elements[i].Laid {
			for k := range ring {
				ring[k] = plan.Point{3.5 * ring[k][0], 3.5 * ring[k][1]}
			}
		}
	}
	for _, s := range printed.Styles(t) {
		pages := gauge.Pages(p, s)
		tiles, crosses := 0, 0
		for k, pg := range pages {
			assert.NoError(t, pg.Check(), "page %d", k+1)
			if !strings.Contains(printed.Text(pages[k:k+1]), s.T().Text("gauge.register")[:12]) {
				continue
			}
			tiles++
			for _, it := range pg.Items {
				if it.Path != nil && it.Path.Open && len(it.Path.Rings[0]) == 2 && it.Path.Width == 0.25 {
					crosses++
				}
			}
		}
		assert.GreaterOrEqual(t, tiles, 4)
		assert.GreaterOrEqual(t, crosses, 2*2*4)
	}
}
