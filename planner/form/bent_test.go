package form_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/form"
)

// arch is part of a ring, from one angle to another.
func arch(in, out, from, to float64) geom.Region[geom.TruePoint] {
	const n = 60
	var r geom.Ring[geom.TruePoint]
	for i := range n + 1 {
		v := geom.Polar(from + (to-from)*float64(i)/n)
		r = append(r, geom.TruePoint{out * v[0], out * v[1]})
	}
	for i := range n + 1 {
		v := geom.Polar(to - (to-from)*float64(i)/n)
		r = append(r, geom.TruePoint{in * v[0], in * v[1]})
	}
	return geom.Region[geom.TruePoint]{r}
}

// A part of a ring is a bent strip: as thick as the ring, as long as the arc at its middle, with two sides.
func TestBent(t *testing.T) {
	r := arch(30, 36, 0.3, 2.8)
	f, ok := form.FitBent(r)
	assert.True(t, ok)
	assert.Greater(t, f.IoU, 0.9)
	assert.InDelta(t, 6, form.Thick(f), 0.5)
	sides, ok := form.SidesOf(r)
	assert.True(t, ok)
	assert.InDelta(t, 2.5, math.Abs(form.TurnOf(sides.Outer)), 0.3)
	way, core, ok := form.BendWay(r)
	assert.True(t, ok)
	assert.NotEmpty(t, way)
	assert.NotEmpty(t, core)
	_, ok = form.FitBent(geom.Region[geom.TruePoint]{{{0, 0}, {20, 0}, {20, 20}, {0, 20}}})
	assert.False(t, ok, "a square is not bent")
}

// The best fit is the one with most overlap that its form is worth; each form has its word; the signature of a shape
// stays when it is turned.
func TestBest(t *testing.T) {
	r := geom.Region[geom.TruePoint]{{{0, 0}, {60, 0}, {60, 10}, {0, 10}}}
	best := form.Best(form.FitAll(r))
	assert.Equal(t, form.Strip, best.Form)
	assert.Equal(t, "strip", best.Form.String())
	assert.InDelta(t, 10, form.Thick(best), 0.1)
	turned := geom.Map(r, func(p geom.TruePoint) geom.TruePoint {
		return geom.TruePoint{0.6*p[0] - 0.8*p[1], 0.8*p[0] + 0.6*p[1]}
	})
	a, b := form.Signature(r), form.Signature(turned)
	for i := range a {
		assert.InDelta(t, a[i], b[i], 1e-6*math.Max(1, math.Abs(a[i])))
	}
	assert.NotZero(t, form.Quick(600))
	moon := geom.Region[geom.TruePoint]{{}}
	for i := range 61 {
		v := geom.Polar(math.Pi/3 + float64(i)*math.Pi*4/3/60)
		moon[0] = append(moon[0], geom.TruePoint{30 * v[0], 30 * v[1]})
	}
	for i := range 61 {
		v := geom.Polar(math.Pi*5/3 - float64(i)*math.Pi*4/3/60)
		moon[0] = append(moon[0], geom.TruePoint{26*v[0]*0.55 + 6, 26 * v[1]})
	}
	assert.NotEmpty(t, form.FitAll(moon))
}
