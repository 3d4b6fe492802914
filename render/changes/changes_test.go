package changes_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/changes"
)

// A drawing that was not changed has no sheet; of one that was each change has its number, from 1.
func TestPages(t *testing.T) {
	seen := 0
	for _, name := range golden.Names(t) {
		p := golden.Plan(t, name)
		for i, s := range printed.Styles(t) {
			pages := changes.Pages(p, s)
			if len(p.Changes) == 0 {
				assert.Empty(t, pages, name)
				continue
			}
			seen++
			text := printed.Text(pages)
			for _, c := range p.Changes {
				assert.True(t, printed.Has(text, strconv.Itoa(c.Number)), "%s %d", name, c.Number)
			}
			for k, pg := range pages {
				assert.NoError(t, pg.Check(), "%s, style %d, page %d", name, i, k+1)
			}
		}
	}
	assert.Positive(t, seen, plan.Format)
}
