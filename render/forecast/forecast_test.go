package forecast_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/render/forecast"
)

// A plan with faces has its sheet, which can be read; one without has none.
func TestPages(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for i, s := range printed.Styles(t) {
			pages, ok := forecast.Pages(p, s)
			assert.Equal(t, p.Forecast != nil && len(p.Forecast.Faces) > 0, ok, name)
			for k, pg := range pages {
				assert.NoError(t, pg.Check(), "%s, style %d, page %d", name, i, k+1)
			}
			assert.NotEmpty(t, forecast.Drawn(p), name)
		}
	}
}
