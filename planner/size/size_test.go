package size_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner/element"
	"sugarwright/planner/size"
)

// Draw ratio D/d, lengths grow by its square; masses and counts by schoolbook volumes (derived).
func TestCountAndLength(t *testing.T) {
	o := size.Order{PieceMM: 15, CutMM: 10}
	assert.Equal(t, 4000, o.Count(size.Log{DiameterMM: 150, LengthMM: 400}, 0)) // ratio 10, 100 times longer
	assert.Equal(t, 3200, o.Count(size.Log{DiameterMM: 150, LengthMM: 400}, 0.2))
	o = size.Order{PieceMM: 20, CutMM: 10}
	assert.Equal(t, 2250, o.Count(size.Log{DiameterMM: 150, LengthMM: 400}, 0)) // ratio 7.5, 56.25 times longer
}

func TestDiameter(t *testing.T) {
	for _, c := range []struct {
		name string
		o    size.Order
		want float64
	}{
		{"nothing ordered: the largest", size.Order{PieceMM: 15, CutMM: 10}, 150},
		{"a short log is twice as long as wide", size.Order{PieceMM: 15, CutMM: 10, LengthMM: 200}, 100},
		{"a disc of 150 x 300 at 1.45 weighs 7687.084 g", size.Order{PieceMM: 15, CutMM: 10, WeightG: 7687.084}, 150},
		{"an eighth of it is half as wide", size.Order{PieceMM: 15, CutMM: 10, WeightG: 7687.084 / 8}, 75},
		{"2400 pieces of 15 x 10 with a fifth lost: 300 long, 150 wide", size.Order{PieceMM: 15, CutMM: 10, Pieces: 2400}, 150},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := c.o.Diameter(150, 1.45, 0.2)
			require.NoError(t, err)
			assert.InDelta(t, c.want, d, 0.01)
		})
	}
	_, err := size.Order{LengthMM: 1, Pieces: 1}.Diameter(150, 1.45, 0.2)
	assert.ErrorIs(t, err, size.ErrOrder)
}

// A wrap round a core d with thickness t is pi (d + t) long at mid thickness, and that times t is the ring's area (derived): d 40, t 5:
// 141.371669; d 100, t 3: 323.584043; d 150, t 8: 496.371639.
func TestWrapIsDevelopedAtMidThickness(t *testing.T) {
	for _, c := range [][3]float64{{40, 5, 141.371669}, {100, 3, 323.584043}, {150, 8, 496.371639}} {
		out := geom.Circle[geom.TruePoint]{Radius: c[0]/2 + c[1]}.Polygon(720)
		in := geom.Circle[geom.TruePoint]{Radius: c[0] / 2}.Polygon(720).Reversed()
		fits := element.FitAll(geom.Region[geom.TruePoint]{out, in})
		require.Len(t, fits, 1)
		s := size.Of(fits[0])
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
		form element.Form
		key  string
		want float64
	}{
		{"rod", circle, element.Rod, "diameter_mm", 20},
		{"block", geom.Ring[geom.TruePoint]{{0, 0}, {30, 0}, {30, 20}, {0, 20}}, element.BlockForm, "width_mm", 30},
		{"strip", geom.Ring[geom.TruePoint]{{0, 0}, {60, 0}, {60, 8}, {0, 8}}, element.Strip, "thickness_mm", 8},
		{"wedge", geom.Ring[geom.TruePoint]{{0, 0}, {30, 0}, {15, 40}}, element.Wedge, "base_mm", 30},
		{"half-moon", half.Reversed(), element.Segment, "chord_mm", 80},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := geom.Region[geom.TruePoint]{c.r}
			if r.Area() < 0 {
				r = geom.Region[geom.TruePoint]{c.r.Reversed()}
			}
			best := element.Fit{}
			for _, f := range element.FitAll(r) {
				if f.IoU > best.IoU {
					best = f
				}
			}
			assert.Equal(t, c.form, best.Form)
			assert.Greater(t, best.IoU, 0.98)
			assert.InEpsilon(t, c.want, size.Of(best)[c.key], 0.02)
		})
	}
}
