package geom_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
)

type point = geom.TruePoint

var (
	square = geom.Ring[point]{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	holed  = geom.Region[point]{square, {{3, 3}, {3, 7}, {7, 7}, {7, 3}}}
)

// Vectors by the textbook.
func TestVectors(t *testing.T) {
	v := geom.Vec{3, 4}
	assert.Equal(t, 5.0, v.Len())
	assert.Equal(t, geom.Vec{0.6, 0.8}, v.Unit())
	assert.Equal(t, geom.Vec{-4, 3}, v.Left())
	assert.Zero(t, v.Dot(v.Left()))
	assert.Equal(t, 25.0, v.Cross(v.Left()))
	assert.InDelta(t, 1.1, geom.Polar(1.1).Angle(), 1e-12)
	assert.Zero(t, geom.Vec{}.Unit().Len())
	assert.Positive(t, geom.Orient(point{0, 0}, point{1, 0}, point{1, 1}), "a left turn")
	at, ok := geom.LinesMeet(point{0, 0}, geom.Vec{1, 1}, point{4, 0}, geom.Vec{0, 1})
	assert.True(t, ok)
	assert.InDelta(t, 4, at[1], 1e-12)
	_, ok = geom.LinesMeet(point{0, 0}, geom.Vec{1, 1}, point{4, 0}, geom.Vec{2, 2})
	assert.False(t, ok)
	assert.Equal(t, 5.0, geom.SegmentDist(point{-3, 4}, point{0, 0}, point{10, 0}))
	assert.Equal(t, 4.0, geom.LineDist(point{3, 4}, geom.Ring[point]{{0, 0}, {10, 0}}))
}

// Matrices as SVG 2, 8.5 has them: [a b c d e f].
func TestAffine(t *testing.T) {
	m := geom.Affine{2, 0, 0, 3, 5, 7}
	x, y := m.Apply(1, 1)
	assert.Equal(t, [2]float64{7, 10}, [2]float64{x, y})
	assert.Equal(t, 6.0, m.Det())
	assert.InDelta(t, math.Sqrt(6), m.Scale(), 1e-12)
	n, ok := m.Inverse()
	assert.True(t, ok)
	x, y = m.Times(n).Apply(3, 4)
	assert.InDelta(t, 3, x, 1e-12)
	assert.InDelta(t, 4, y, 1e-12)
	_, ok = geom.Affine{}.Inverse()
	assert.False(t, ok)
}

// Regions: areas, what lies inside, bounds, all against sums by hand.
func TestRegions(t *testing.T) {
	assert.Equal(t, 84.0, holed.Area())
	assert.Equal(t, 56.0, holed.Perimeter())
	assert.True(t, holed.Contains(point{1, 1}))
	assert.False(t, holed.Contains(point{5, 5}))
	assert.True(t, holed.Filled().Contains(point{5, 5}))
	assert.Len(t, holed.Points(), 8)
	assert.Equal(t, 10.0, holed.Bound().Max[1])
	assert.Equal(t, -100.0, square.Reversed().Area())
	assert.True(t, holed.Contains(geom.Inside(holed)), "its middle lies in the hole")
	double := geom.Map(holed, func(p point) point { return point{2 * p[0], 2 * p[1]} })
	assert.Equal(t, 336.0, double.Area())
	long := geom.Region[point]{{{0, 0}, {30, 0}, {30, 2}, {0, 2}}}
	assert.InDelta(t, 1, math.Abs(geom.MomentsOf(long).Axis()[0]), 1e-12)
}

// What is cut off, thinned and sampled: half a square, a circle with fewer points, even steps.
func TestRings(t *testing.T) {
	half := geom.ClipHalf(square, point{4, 0}, geom.Vec{0, 1})
	assert.Contains(t, []float64{40, 60}, half.Area())
	r := geom.SmallestRect(geom.Hull([]point(square)))
	assert.InDelta(t, 100, r.Ring().Area(), 1e-9)
	r = geom.RectAlong([]point(square), geom.Vec{1, 1}.Unit())
	assert.InDelta(t, 200, math.Abs(r.Ring().Area()), 1e-9)
	var circle geom.Ring[point]
	for i := range 400 {
		v := geom.Polar(float64(i) * math.Pi / 200)
		circle = append(circle, point{20 * v[0], 20 * v[1]})
	}
	thin := geom.Thinned(circle, 0.05)
	assert.Less(t, len(thin), 100)
	assert.InDelta(t, circle.Area(), thin.Area(), 0.01*circle.Area())
	even := geom.Resampled(square, 1)
	assert.Len(t, even, 40)
	assert.InDelta(t, 1, geom.Dist(even[3], even[4]), 1e-9)
	line := geom.Ring[point]{{0, 0}, {10, 0}, {10, 10}}
	assert.Equal(t, 20.0, geom.LineLength(line))
	assert.Equal(t, point{10, 5}, geom.Along(line, 0.75))
	assert.Equal(t, point{10, 10}, geom.Along(line, 2))
	c := geom.SmallestCircle([]point{{0, 0}, {6, 0}, {3, 5}, {3, 1}})
	assert.InDelta(t, 3.4, c.Radius, 1e-9, "the circle through three points: r = abc / 4K")
}

// Regions that share a border are joined; a ring of four has a hole; those that lie apart are not.
func TestJoined(t *testing.T) {
	right := geom.Region[point]{{{10, 0}, {20, 0}, {20, 10}, {10, 10}}}
	out, ok := geom.Joined(geom.Region[point]{square}, right)
	assert.True(t, ok)
	assert.Equal(t, 200.0, out.Area())
	_, ok = geom.Joined(geom.Region[point]{square}, geom.Region[point]{{{30, 0}, {40, 0}, {40, 10}, {30, 10}}})
	assert.False(t, ok)
	out, ok = geom.Joined(
		geom.Region[point]{
			{{0, 0}, {10, 0}, {20, 0}, {30, 0}, {20, 10}, {10, 10}},
		},
		geom.Region[point]{{{30, 0}, {30, 30}, {20, 20}, {20, 10}}},
		geom.Region[point]{
			{{30, 30}, {0, 30}, {10, 20}, {20, 20}},
		},
		geom.Region[point]{{{0, 30}, {0, 0}, {10, 10}, {10, 20}}},
	)
	assert.True(t, ok)
	assert.Len(t, out, 2)
	assert.Equal(t, 800.0, out.Area())
}
