package forecast_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/forecast"
	"sugarwright/render/page"
	"sugarwright/render/view"
)

// A plan with faces has its picture; one without has none.
func TestPicture(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for _, s := range printed.Styles(t) {
			pg, ok := forecast.Picture(p, s)
			assert.Equal(t, p.Forecast != nil && len(p.Forecast.Faces) > 1, ok, name)
			if ok {
				assert.NoError(t, pg.Check(), name)
			}
			assert.NotEmpty(t, forecast.Drawn(p), name)
		}
	}
}

// A face has a rim as wide as the log, at its scale.
func TestFace(t *testing.T) {
	for name, p := range printed.Plans(t) {
		pg := &page.Page{W: 100, H: 100}
		forecast.Face(pg, p, printed.Styles(t)[0], view.View{Centre: page.Point{50, 50}, Scale: 0.5}, []plan.FaceShape{})
		b := view.Box(pg.Items[len(pg.Items)-1].Path.Rings)
		assert.InDelta(t, 0.5*float64(p.Log.DiameterMM), b[2]-b[0], 0.1, name)
	}
}
