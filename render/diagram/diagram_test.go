package diagram_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/diagram"
	"sugarwright/render/sheet"
)

// Every number is on the diagram at least once.
func TestPages(t *testing.T) {
	printed.EachPlan(t, diagram.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		for _, e := range p.Elements {
			assert.True(t, printed.Has(text, strconv.Itoa(e.Number)), "%s %d", name, e.Number)
		}
	})
}
