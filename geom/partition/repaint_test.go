package partition_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Coats of paint: later ones hide earlier ones, only what they may cover changes, borders stay shared (P1), and areas
// are those of the schoolbook.
func TestRepaint(t *testing.T) {
	art, _, err := artwork.Parse(
		[]byte(
			`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200"><rect x="60" y="60" width="80" height="80" fill="#d00"/><rect x="90" y="90" width="20" height="20" fill="#00d"/></svg>`),
	)
	require.NoError(t, err)
	w := artwork.RGB{255, 255, 255}
	f := partition.Frame{
		ToTrue:        geom.ToTrue{0.5, 0, 0, -0.5, -50, 50},
		LogRadius:     75,
		JacketRadius:  69,
		PictureRadius: 50,
		Ground:        w,
		Jacket:        w,
		LikeDE2000:    3,
		SliverMM:      0.02,
		SpeckMM2:      2,
		FlattenMM:     0.015,
	}
	m, _, err := partition.Of(art, f)
	require.NoError(t, err)
	colour := func(m *partition.Map, hex string) int {
		for i, c := range m.Colours {
			if c.RGB.Hex() == hex {
				return i
			}
		}
		t.Fatal(hex)
		return -1
	}
	area := func(m *partition.Map, hex string) (a float64) {
		for _, r := range m.Regions {
			if r.Colour == colour(m, hex) && !r.Jacket {
				a += r.Area
			}
		}
		return a
	}
	red, blue := colour(m, "#dd0000"), colour(m, "#0000dd")
	assert.InDelta(t, 1500, area(m, "#dd0000"), 1e-3) // 40 by 40 less 10 by 10
	square := func(x0, y0, x1, y1 float64) []geom.Region[geom.TruePoint] {
		return []geom.Region[geom.TruePoint]{{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}}
	}
	same, turned, err := m.Repaint(nil)
	require.NoError(t, err)
	assert.Empty(t, turned)
	assert.Len(t, same.Regions, len(m.Regions))
	n, turned, err := m.Repaint([]partition.Coat{
		// On the ground only: 20 by 10
		{Shape: square(0, 0, 40, 10), Colour: blue, Over: func(c int) bool { return c == 0 }},
		{Shape: square(30, 0, 40, 10), Colour: red}, // over half of that
		{Shape: square(-100, -100, 100, 100), Within: square(-5, -5, 5, 5), Colour: 0},
	})
	require.NoError(t, err)
	assert.InDelta(t, 100, area(n, "#0000dd"), 1e-3) // 10 by 10 left on the ground; the middle is gone
	assert.InDelta(t, 1600, area(n, "#dd0000"), 1e-3)
	sum := map[int]float64{}
	for _, x := range turned {
		sum[x.Coat] += x.Area
	}
	assert.InDeltaMapValues(t, map[int]float64{0: 100, 1: 100, 2: 100}, sum, 1e-3)
	// Beyond the picture circle nothing is painted.
	o, _, err := m.Repaint([]partition.Coat{{Shape: square(40, -30, 74, 30), Colour: red}})
	require.NoError(t, err)
	for _, r := range o.Regions {
		if r.Colour == red {
			for _, p := range r.Shape[0] {
				assert.LessOrEqual(t, geom.Dist(p, geom.TruePoint{}), 50.05)
			}
		}
	}
}
