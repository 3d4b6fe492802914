package view_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/view"
)

// The plan's y goes up, the page's down; a quarter turn is counter-clockwise; the other end is mirrored left to right.
func TestAt(t *testing.T) {
	near := func(want, got page.Point) {
		t.Helper()
		assert.InDelta(t, want[0], got[0], 1e-9)
		assert.InDelta(t, want[1], got[1], 1e-9)
	}
	v := view.View{Centre: page.Point{100, 50}, Scale: 2, Side: 1}
	near(page.Point{106, 42}, v.At(plan.Point{3, 4}))
	v.Side = -1
	near(page.Point{94, 42}, v.At(plan.Point{3, 4}))
	near(page.Point{-3, -4}, v.Along(plan.Point{3, 4}))
	v = view.View{Scale: 1, Turn: 90, Side: 1}
	near(page.Point{0, -1}, v.At(plan.Point{1, 0}))
}

// A circle of many points loses most of them, and no part of it moves by more than a tenth of a millimetre.
func TestPlace(t *testing.T) {
	var ring plan.Ring
	for i := range 720 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 360)
		ring = append(ring, plan.Point{plan.Num(40 * cos), plan.Num(40 * sin)})
	}
	rings := view.View{Centre: page.Point{50, 50}, Scale: 1, Side: 1}.Place(plan.Polygon{ring})
	assert.Less(t, len(rings[0]), 200)
	for i, q := range rings[0] {
		next := rings[0][(i+1)%len(rings[0])]
		assert.InDelta(t, 40, math.Hypot((q[0]+next[0])/2-50, (q[1]+next[1])/2-50), 0.1)
	}
	b := view.Box(rings)
	assert.InDelta(t, 10, b[0], 0.01)
	assert.InDelta(t, 90, b[3], 0.01)
	b = view.Bounds(0, plan.Polygon{ring})
	assert.InDelta(t, -40, b[0], 0.01)
	assert.InDelta(t, 40, b[2], 0.01)
}
