package partition_test

import (
	"testing"

	colorful "github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Sharma, Wu & Dalal 2005, The CIEDE2000 color-difference formula, table of test pairs (a selection; pairs on hue discontinuities apart).
func TestCIEDE2000Pairs(t *testing.T) {
	for i, c := range [][7]float64{
		{50, 2.6772, -79.7751, 50, 0, -82.7485, 2.0425}, {50, 3.1571, -77.2803, 50, 0, -82.7485, 2.8615}, {50, 2.8361, -74.0200, 50, 0, -82.7485, 3.4412},
		{50, -1.3802, -84.2814, 50, 0, -82.7485, 1.0000}, {50, 0, 0, 50, -1, 2, 2.3669}, {50, 2.5, 0, 50, 0, -2.5, 4.3065},
		{50, 2.5, 0, 73, 25, -18, 27.1492}, {50, 2.5, 0, 61, -5, 29, 22.8977}, {50, 2.5, 0, 56, -27, -3, 31.9030}, {50, 2.5, 0, 58, 24, 15, 19.4535},
		{60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644}, {63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630},
		{61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731}, {35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645},
		{22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373}, {36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146},
		{90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441}, {6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377},
		{2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082},
	} {
		a, b := colorful.Lab(c[0]/100, c[1]/100, c[2]/100), colorful.Lab(c[3]/100, c[4]/100, c[5]/100)
		assert.InDelta(t, c[6], 100*a.DistanceCIEDE2000(b), 1e-4, "pair %d", i+1)
	}
}

// Differences from hex digits along the same path (derived, D65, 7-digit matrix).
func TestDE2000FromHex(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#ff0000", "#fe0000", 0.2079}, {"#ff0000", "#f00000", 3.1905}, {"#ffffff", "#f8f8f8", 1.4004}, {"#ff0000", "#00ff00", 86.6082}} {
		a, _ := artwork.ParseColour(c.a)
		b, _ := artwork.ParseColour(c.b)
		assert.InDelta(t, c.want, partition.DE2000(a, b), 0.005)
	}
}
