package diagram_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/render/diagram"
	"sugarwright/render/page"
)

// A ring of wraps keeps those that are its picture; what is wrapped round everything is left to the inset. In any room the
// diagram can be read, and with little of it numbers that find no place are said to be left.
func TestDraw(t *testing.T) {
	for name, p := range printed.Plans(t) {
		inner, wraps := diagram.Parts(p)
		assert.Len(t, p.Elements, len(inner)+len(wraps), name)
		assert.NotEmpty(t, inner, name)
		for _, s := range printed.Styles(t) {
			for _, h := range []float64{240, 120, 60} {
				pg := &page.Page{W: 200, H: 260}
				_, left := diagram.Draw(pg, p, s, page.Box{10, 10, 182, 10 + h})
				assert.NoError(t, pg.Check(), "%s in %.0f mm", name, h)
				if h > 200 {
					assert.Zero(t, left, name)
				}
			}
		}
	}
}
