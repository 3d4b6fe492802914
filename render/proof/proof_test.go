package proof_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/proof"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// A circle of the piece's true diameter is drawn.
func TestPages(t *testing.T) {
	printed.EachPlan(t, proof.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		round := 0
		for _, pg := range proof.Pages(p, s) {
			for _, it := range pg.Items {
				if it.Path == nil {
					continue
				}
				b := view.Box(it.Path.Rings)
				d := float64(p.Piece.DiameterMM)
				if math.Abs(b[2]-b[0]-d) < 0.02 && math.Abs(b[3]-b[1]-d) < 0.02 {
					round++
				}
			}
		}
		assert.Positive(t, round, name)
		assert.NotContains(t, strings.ToLower(text), "jacket", name)
	})
}
