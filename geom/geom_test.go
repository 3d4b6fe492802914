package geom_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
)

type ring = geom.Ring[geom.TruePoint]
type region = geom.Region[geom.TruePoint]

// Schoolbook formulae: areas, centroids and second moments about the centroid.
func TestMoments(t *testing.T) {
	for _, c := range []struct {
		name         string
		r            ring
		area, cx, cy float64
		ix, iy, ixy  float64
	}{
		{"rectangle 60 x 20", ring{{0, 0}, {60, 0}, {60, 20}, {0, 20}}, 1200, 30, 10, 40000, 360000, 0},
		{"triangle base 30, height 40", ring{{0, 0}, {30, 0}, {15, 40}}, 600, 15, 13.333333, 53333.333333, 22500, 0},
		{"L, 40 x 40 outside, arms 10", ring{{0, 0}, {40, 0}, {40, 10}, {10, 10}, {10, 40}, {0, 40}}, 700, 13.571429, 13.571429, 94404.761905, 94404.761905, -51428.571429},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := geom.MomentsOf(region{c.r})
			assert.InDelta(t, c.area, m.Area, 1e-6)
			assert.InDelta(t, c.cx, m.Centroid[0], 1e-6)
			assert.InDelta(t, c.cy, m.Centroid[1], 1e-6)
			assert.InDelta(t, c.ix, m.Ix, 1e-5)
			assert.InDelta(t, c.iy, m.Iy, 1e-5)
			assert.InDelta(t, c.ixy, m.Ixy, 1e-5)
		})
	}
}

// A polygon whose vertices lie at r sqrt((2 pi/n)/sin(2 pi/n)) has the circle's area (derived).
func TestCirclePolygonHasTheCirclesArea(t *testing.T) {
	c := geom.Circle[geom.TruePoint]{Radius: 50}
	assert.InDelta(t, 7853.981634, c.Polygon(64).Area(), 1e-6)
	assert.InDelta(t, 7853.981634, c.Polygon(geom.Sides(50, 0.01)).Area(), 1e-6)
}

func TestSmallestCircle(t *testing.T) {
	got := geom.SmallestCircle([]geom.TruePoint{{0, 0}, {4, 0}, {0, 3}, {1, 1}})
	assert.InDelta(t, 2.5, got.Radius, 1e-9) // Thales: the hypotenuse is the diameter
}

func TestClippingKeepsAreas(t *testing.T) {
	c := region{geom.Circle[geom.TruePoint]{Radius: 10}.Polygon(400)}
	half := ring{{-20, 0}, {20, 0}, {20, 20}, {-20, 20}}
	assert.InDelta(t, 157.079633, geom.AreaInConvex(c, half), 0.01)
	assert.InDelta(t, 1, new(geom.Clipper[geom.TruePoint]).IoU(region{half}, half.Area(), half), 1e-9)
}
