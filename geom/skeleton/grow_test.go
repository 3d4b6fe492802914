package skeleton_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/skeleton"
)

func box(x0, y0, x1, y1 float64) geom.Region[geom.TruePoint] {
	return geom.Region[geom.TruePoint]{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}
}

// The middle of a bar is its axis, and stops short of its ends, so that what is grown along it ends where the bar ends
// (schoolbook geometry).
func TestMiddle(t *testing.T) {
	bar := box(-20, -1, 20, 1)
	const width = 4
	lines := skeleton.Middle(bar, []geom.Region[geom.TruePoint]{bar}, width)
	require.NotEmpty(t, lines)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, l := range lines {
		for _, p := range l {
			assert.InDelta(t, 0, p[1], 1e-3)
			lo, hi = min(lo, p[0]), max(hi, p[0])
		}
	}
	assert.InDelta(t, -19, lo, 0.5, "a border of the width runs round the end to here")
	assert.InDelta(t, 19, hi, 0.5)
	grown, err := skeleton.Along(lines, width/2)
	require.NoError(t, err)
	require.Len(t, grown, 1)
	b := grown[0].Bound()
	assert.InDelta(t, -2, b.Min[1], 0.01)
	assert.InDelta(t, 2, b.Max[1], 0.01)
	// A wedge of 1 in 20: half its width is the distance of the axis from a side.
	wedge := geom.Region[geom.TruePoint]{{{0, 0}, {60, -1.5}, {60, 1.5}}}
	for _, l := range skeleton.Middle(wedge, []geom.Region[geom.TruePoint]{wedge}, 5) {
		for _, p := range l {
			assert.InDelta(t, 0, p[1], 0.02)
		}
	}
	// What is wide has no thin middle.
	wide := box(-20, -10, 20, 10)
	assert.Empty(t, skeleton.Middle(wide, []geom.Region[geom.TruePoint]{wide}, 4))
}

// What is surely open is open by the test itself: bars, a dumb-bell with a neck, a comb, a ring.
func TestSurelyOpen(t *testing.T) {
	neck := geom.Region[geom.TruePoint]{
		{
			{-20, -5},
			{-8, -5},
			{-8, -1},
			{8, -1},
			{8, -5},
			{20, -5},
			{20, 5},
			{8, 5},
			{8, 1},
			{-8, 1},
			{-8, 5},
			{-20, 5},
		},
	}
	circle := geom.Circle[geom.TruePoint]{Radius: 12}.Polygon(100)
	hole := geom.Circle[geom.TruePoint]{Radius: 9}.Polygon(100).Reversed()
	for _, c := range []struct {
		name  string
		r     geom.Region[geom.TruePoint]
		width float64
		sure  bool
	}{
		{"bar, wide enough", box(-20, -2, 20, 2), 3.4, true},
		{"bar, too thin", box(-20, -1, 20, 1), 3.4, false},
		{"long neck", neck, 3.4, false},
		{"neck, disc fits", neck, 1.9, true},
		{"ring, wide enough", geom.Region[geom.TruePoint]{circle, hole}, 2.9, true},
		{"ring, too thin", geom.Region[geom.TruePoint]{circle, hole}, 3.4, false},
	} {
		assert.Equal(t, c.sure, skeleton.SurelyOpen(c.r, c.width, 3*c.width), c.name)
		o, err := skeleton.Open(c.r, c.width)
		require.NoError(t, err)
		if c.sure {
			assert.Equal(t, 1, o.Pieces, c.name)
			for _, p := range o.Left {
				assert.Less(t, p.Length, 4*c.width, c.name)
			}
		}
	}
}

// A bay that a disc does not enter is closed, a wider one stays (areas in closed form).
func TestClosed(t *testing.T) {
	// A bay 6 wide, 12 deep
	u := geom.Region[geom.TruePoint]{{{0, 0}, {30, 0}, {30, 20}, {18, 20}, {18, 8}, {12, 8}, {12, 20}, {0, 20}}}
	closed, err := skeleton.Closed(u, 4)
	require.NoError(t, err)
	require.Len(t, closed, 1)
	sag := 4 - math.Sqrt(16-9)                         // the disc of radius 4 rests on both corners
	segment := 16*math.Asin(3.0/4) - 3*math.Sqrt(16-9) // of chord 6
	assert.InDelta(t, u.Area()+72-segment, closed[0].Area(), 0.3, "sags %g", sag)
	open, err := skeleton.Closed(u, 2)
	require.NoError(t, err)
	require.Len(t, open, 1)
	assert.InDelta(t, u.Area()+2*(4-math.Pi)*4/4, open[0].Area(), 0.3, "two corners of radius 2")
}
