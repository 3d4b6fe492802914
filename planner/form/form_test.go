package form_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner/form"
)

// A wrap round a core d with thickness t is pi (d + t) long at mid thickness, and that times t is the ring's area
// (derived): d 40, t 5: 141.371669; d 100, t 3: 323.584043; d 150, t 8: 496.371639.
func TestWrapIsDevelopedAtMidThickness(t *testing.T) {
	for _, c := range [][3]float64{{40, 5, 141.371669}, {100, 3, 323.584043}, {150, 8, 496.371639}} {
		out := geom.Circle[geom.TruePoint]{Radius: c[0]/2 + c[1]}.Polygon(720)
		in := geom.Circle[geom.TruePoint]{Radius: c[0] / 2}.Polygon(720).Reversed()
		fits := form.FitAll(geom.Region[geom.TruePoint]{out, in})
		require.Len(t, fits, 1)
		s := form.Size(fits[0])
		assert.InDelta(t, c[1], s["thickness_mm"], 0.01)
		assert.InEpsilon(t, c[2], s["width_mm"], 2e-3)
		assert.Greater(t, fits[0].IoU, 0.995)
	}
}

// Each form is fitted back from itself.
func TestFormsFitThemselves(t *testing.T) {
	circle := geom.Circle[geom.TruePoint]{Radius: 10}.Polygon(64)
	var half geom.Ring[geom.TruePoint]
	for i := 0; i <= 60; i++ { // segment of r 50, height 20: chord 80 (schoolbook)
		a := math.Acos(30.0/50)*(1-float64(i)/30) + math.Pi/2
		half = append(half, geom.TruePoint{50 * math.Cos(a), 50 * math.Sin(a)})
	}
	for _, c := range []struct {
		name string
		r    geom.Ring[geom.TruePoint]
		form form.Form
		key  string
		want float64
	}{
		{"rod", circle, form.Rod, "diameter_mm", 20},
		{"block", geom.Ring[geom.TruePoint]{{0, 0}, {30, 0}, {30, 20}, {0, 20}}, form.Block, "width_mm", 30},
		{"strip", geom.Ring[geom.TruePoint]{{0, 0}, {60, 0}, {60, 8}, {0, 8}}, form.Strip, "thickness_mm", 8},
		{"wedge", geom.Ring[geom.TruePoint]{{0, 0}, {30, 0}, {15, 40}}, form.Wedge, "base_mm", 30},
		{"half-moon", half.Reversed(), form.Segment, "chord_mm", 80},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := geom.Region[geom.TruePoint]{c.r}
			if r.Area() < 0 {
				r = geom.Region[geom.TruePoint]{c.r.Reversed()}
			}
			best := form.Fit{}
			for _, f := range form.FitAll(r) {
				if f.IoU > best.IoU {
					best = f
				}
			}
			assert.Equal(t, c.form, best.Form)
			assert.Greater(t, best.IoU, 0.98)
			assert.InEpsilon(t, c.want, form.Size(best)[c.key], 0.02)
		})
	}
}
