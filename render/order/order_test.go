package order_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/order"
	"sugarwright/render/sheet"
)

// The count of pieces and each colour that has a dose are on it, on a page or two.
func TestPages(t *testing.T) {
	printed.EachPlan(t, order.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		assert.Contains(t, text, s.T().Text("order.title"), name)
		assert.Contains(t, text, strconv.Itoa(p.Piece.Count), name)
		for _, d := range p.Order.Doses {
			assert.Contains(t, text, d.Additive, name)
		}
		assert.LessOrEqual(t, len(order.Pages(p, s)), 2, name)
	})
}
