package marked_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
	"sugarwright/internal/printed"
	"sugarwright/render/marked"
)

// A plan whose findings have a place has its marked picture, with a number for the first; one without has none.
func TestPages(t *testing.T) {
	seen := 0
	for _, name := range golden.Names(t) {
		p := golden.Plan(t, name)
		placed := false
		for _, f := range p.Findings {
			placed = placed || f.AtMM != nil
		}
		for i, s := range printed.Styles(t) {
			pages, ok := marked.Pages(p, s)
			assert.Equal(t, placed, ok, name)
			if !ok {
				continue
			}
			seen++
			assert.True(t, printed.Has(printed.Text(pages), "1"), name)
			for k, pg := range pages {
				assert.NoError(t, pg.Check(), "%s, style %d, page %d", name, i, k+1)
			}
		}
	}
	assert.Positive(t, seen)
}
