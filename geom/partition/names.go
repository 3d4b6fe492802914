package partition

import (
	"math"

	"sugarwright/geom/artwork"
)

// Lab is the CIE L*a*b* value (D65) on the usual scale.
func Lab(c artwork.RGB) (l, a, b float64) {
	l, a, b = lab(c).Lab()
	return 100 * l, 100 * a, 100 * b
}

// plain colour words of the kitchen, one swatch each; from memory.
var plain = []struct {
	name string
	rgb  artwork.RGB
}{
	{
		"white",
		artwork.RGB{255, 255, 255},
	}, {"black", artwork.RGB{20, 20, 20}}, {"grey", artwork.RGB{128, 128, 128}}, {"red", artwork.RGB{210, 35, 40}},
	{
		"pink",
		artwork.RGB{245, 150, 180},
	}, {"orange", artwork.RGB{240, 130, 30}}, {"yellow", artwork.RGB{250, 205, 40}}, {"green", artwork.RGB{50, 150, 60}},
	{
		"light green",
		artwork.RGB{160, 210, 110},
	}, {"blue", artwork.RGB{40, 90, 190}}, {"light blue", artwork.RGB{150, 205, 240}},
	{
		"purple",
		artwork.RGB{125, 60, 160},
	}, {"brown", artwork.RGB{120, 75, 40}}, {"brown", artwork.RGB{165, 95, 45}}, {"beige", artwork.RGB{230, 205, 160}}, {"dark red", artwork.RGB{130, 20, 35}},
	{
		"dark green",
		artwork.RGB{30, 90, 50},
	}, {"dark blue", artwork.RGB{25, 40, 100}}, {"turquoise", artwork.RGB{60, 180, 180}},
}

// Name is the plain word for a colour: that of the nearest swatch by CIEDE2000.
func Name(c artwork.RGB) string {
	best, d := "", math.Inf(1)
	for _, p := range plain {
		if e := DE2000(c, p.rgb); e < d {
			best, d = p.name, e
		}
	}
	return best
}
