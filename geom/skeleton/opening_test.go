package skeleton_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/skeleton"
)

type ring = geom.Ring[geom.TruePoint]

// Shapes of known width: what a disc of w can reach (schoolbook).
func TestOpen(t *testing.T) {
	// Neck 4 wide, 10 long
	dumbbell := ring{
		{0, 0},
		{20, 0},
		{20, 8},
		{30, 8},
		{30, 0},
		{50, 0},
		{50, 20},
		{30, 20},
		{30, 12},
		{20, 12},
		{20, 20},
		{0, 20},
	}
	for _, c := range []struct {
		name   string
		r      ring
		width  float64
		pieces int
		left   float64 // area that is not reached, with what the corners lose, at most
	}{
		{"bar wide enough", ring{{0, 0}, {60, 0}, {60, 5}, {0, 5}}, 3.4, 1, 4 * 3},
		{"bar too thin", ring{{0, 0}, {60, 0}, {60, 3}, {0, 3}}, 3.4, 0, 180},
		{"dumb-bell in one", dumbbell, 3.4, 1, 12},
		{"dumb-bell parted", dumbbell, 5, 2, 60},
		{"triangle of inradius 10.395", ring{{0, 0}, {30, 0}, {15, 40}}, 20, 1, 600},
		{"triangle smaller than the disc (inradius 2.62)", ring{{0, 0}, {14, 0}, {12.5, 6.5}}, 5.4, 0, 60},
		{"the same with a point on its side", ring{{0, 0}, {7, 0}, {14, 0}, {12.5, 6.5}}, 5.4, 0, 60},
	} {
		t.Run(c.name, func(t *testing.T) {
			o, err := skeleton.Open(geom.Region[geom.TruePoint]{c.r}, c.width)
			require.NoError(t, err)
			assert.Equal(t, c.pieces, o.Pieces)
			sum := 0.0
			for _, p := range o.Left {
				sum += p.Area
			}
			assert.LessOrEqual(t, sum, c.left)
			if c.pieces == 0 {
				assert.InDelta(t, c.r.Area(), sum, 1e-6)
			}
		})
	}
}
