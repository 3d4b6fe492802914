package artwork_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
)

// seen is what the eye sees where all outlines of a drawing hold, over white.
func seen(t *testing.T, body string) artwork.RGB {
	art, found := read(t, body)
	require.False(t, found.Refuses(), found)
	var all []int32
	for i := range art.Outlines {
		all = append(all, int32(i))
	}
	c, _ := artwork.NewEye(art).See(all, artwork.RGB{255, 255, 255})
	return c
}

// Blend modes by the formulas of W3C, Compositing and Blending 1, section 10, on backdrop 0.6 and source 0.4 in each
// channel (153 and 102 of 255), worked by hand.
func TestBlendModes(t *testing.T) {
	for mode, want := range map[string]float64{
		"normal": 0.4, "multiply": 0.24, "screen": 0.76, "overlay": 0.52, "darken": 0.4, "lighten": 0.6, "color-dodge": 1, "color-burn": 0,
		"hard-light": 0.48, "soft-light": 0.6 - 0.2*0.6*0.4, "difference": 0.2, "exclusion": 0.52,
		// Of greys, hue and saturation keep the backdrop, colour too; luminosity takes the source
		"hue": 0.6, "saturation": 0.6, "color": 0.6, "luminosity": 0.4,
	} {
		c := seen(
			t,
			`<rect width="90" height="90" fill="#999999"/><rect width="90" height="90" fill="#666666" style="mix-blend-mode:`+mode+`"/>`,
		)
		for k := range c {
			assert.InDelta(t, 255*want, float64(c[k]), 1, mode)
		}
	}
	// Of colours: luminosity of white on red is white, hue of red on grey is grey (its saturation is 0)
	assert.Equal(
		t,
		artwork.RGB{255, 255, 255},
		seen(
			t,
			`<rect width="9" height="9" fill="#f00"/><rect width="9" height="9" fill="#fff" style="mix-blend-mode:luminosity"/>`,
		),
	)
	grey := seen(
		t,
		`<rect width="9" height="9" fill="#808080"/><rect width="9" height="9" fill="#f00" style="mix-blend-mode:hue"/>`,
	)
	assert.InDelta(t, 128, float64(grey[1]), 1)
	// Colour of red on a grey of half lightness keeps the lightness: 0.3 R + 0.59 G + 0.11 B (the same, section 10.2)
	c := seen(
		t,
		`<rect width="9" height="9" fill="#808080"/><rect width="9" height="9" fill="#f00" style="mix-blend-mode:color"/>`,
	)
	assert.InDelta(t, 128, 0.3*float64(c[0])+0.59*float64(c[1])+0.11*float64(c[2]), 2)
	assert.Greater(t, c[0], c[1])
}

// Opacity is of the coat or of the group; a mask lets through by its lightness, a clip what lies inside.
func TestOpacityAndMasks(t *testing.T) {
	assert.Equal(t, artwork.RGB{255, 128, 128}, seen(t, `<rect width="9" height="9" fill="#f00" opacity=".5"/>`))
	// Two coats in a group at a half: the upper one hides the lower, then half of white comes through
	assert.Equal(
		t,
		artwork.RGB{128, 128, 255},
		seen(t, `<g opacity=".5"><rect width="9" height="9" fill="#f00"/><rect width="9" height="9" fill="#00f"/></g>`),
	)
	assert.Equal(
		t,
		artwork.RGB{255, 255, 255},
		seen(
			t,
			`<mask id="m"><rect width="9" height="9" fill="#000"/></mask><rect width="9" height="9" fill="#f00" mask="url(#m)"/>`,
		),
	)
	assert.Equal(
		t,
		artwork.RGB{255, 0, 0},
		seen(
			t,
			`<mask id="m"><rect width="9" height="9" fill="#fff"/></mask><rect width="9" height="9" fill="#f00" mask="url(#m)"/>`,
		),
	)
	assert.Equal(
		t,
		artwork.RGB{255, 0, 0},
		seen(
			t,
			`<clipPath id="c"><rect width="9" height="9"/></clipPath><rect width="9" height="9" fill="#f00" clip-path="url(#c)"/>`,
		),
	)
}

// Strokes: the area that is swept, by elementary geometry, with caps, joins and dashes (SVG 2, 13.5). The pieces
// overlap, so areas are counted on a grid, by the non-zero rule.
func TestStrokes(t *testing.T) {
	covered := func(body string) float64 {
		art, found := read(t, body)
		require.False(t, found.Refuses(), found)
		left := artwork.MaxPoints
		rings, err := art.Outlines[art.Pictures[0].Layers[0].Outline].Flat(
			geom.ToTrue(geom.Identity),
			1e-3,
			1000,
			&left,
		)
		require.NoError(t, err)
		const step = 0.25
		n := 0
		for x := 10 + step/2; x < 90; x += step {
			for y := 10 + step/2; y < 90; y += step {
				w := 0
				for _, r := range rings {
					if r.Contains(geom.TruePoint{x, y}) {
						w += map[bool]int{true: 1, false: -1}[r.Area() > 0]
					}
				}
				if w != 0 {
					n++
				}
			}
		}
		return float64(n) * step * step
	}
	line := func(more string) string {
		return `<path d="M20 50H80" fill="none" stroke="#000" stroke-width="10" ` + more + `/>`
	}
	near := func(want float64, body string) {
		t.Helper()
		assert.InDelta(t, want, covered(body), 0.015*want, body)
	}
	near(600, line(""))
	near(700, line(`stroke-linecap="square"`))
	near(600+25*math.Pi, line(`stroke-linecap="round"`))
	near(300, line(`stroke-dasharray="10"`))
	near(300, line(`stroke-dasharray="5" pathLength="30" stroke-dashoffset="5"`))
	angle := func(join string) string {
		return `<path d="M20 20H60V60" fill="none" stroke="#000" stroke-width="10" stroke-linejoin="` + join + `"/>`
	}
	near(800, angle("miter"))
	near(800-12.5, angle("bevel"))
	near(775+25*math.Pi/4, angle("round"))
	near(math.Pi*(25*25-15*15), `<circle cx="50" cy="50" r="20" fill="none" stroke="#000" stroke-width="10"/>`)
	near(4*60*10, `<rect x="20" y="20" width="60" height="60" fill="none" stroke="#000" stroke-width="10"/>`)
}

// A page of 200 by 100 px that shows 100 by 100 user units: uniform scale, centred (SVG 2, 8.6: xMidYMid meet).
func TestPage(t *testing.T) {
	art, found, err := artwork.Parse(
		[]byte(
			`<svg xmlns="http://www.w3.org/2000/svg" width="200" height="100" viewBox="0 0 100 100"><rect width="9" height="9"/></svg>`,
		),
	)
	require.NoError(t, err)
	require.Equal(t, finding.Note, max(found.Worst(), finding.Note))
	assert.True(t, art.Painted())
	x, y := art.Page.Pixels(400, 200).Apply(50, 50)
	assert.InDelta(t, 200, x, 1e-9)
	assert.InDelta(t, 100, y, 1e-9)
	x, _ = art.Page.Pixels(400, 200).Apply(0, 0)
	assert.InDelta(t, 100, x, 1e-9)
	assert.True(t, artwork.EvenOdd.Inside(3))
	assert.False(t, artwork.EvenOdd.Inside(2))
	assert.True(t, artwork.NonZero.Inside(-1))
}
