package steps_test

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/steps"
)

var white = artwork.RGB{255, 255, 255}

func at(most int) steps.Options { return steps.Options{Ground: white, Shades: most} }

func read(t testing.TB, inside string, most int) *artwork.Artwork {
	art, found, err := steps.Read([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">`+inside+`</svg>`), at(most))
	require.NoError(t, err)
	require.Empty(t, found.Errors(), "%v", found)
	return art
}

func colours(art *artwork.Artwork) map[artwork.RGB]int {
	out := map[artwork.RGB]int{}
	for _, l := range art.Pictures[0].Layers {
		out[l.RGB]++
	}
	return out
}

const ramp = `<linearGradient id="g"><stop stop-color="#c00000"/><stop offset="1" stop-color="#0000c0"/></linearGradient>`

// A drawing without shades is left as it is: no step, no change, its own curves.
func TestFlatStays(t *testing.T) {
	art := read(t, `<circle cx="100" cy="100" r="80" fill="#c00000"/>`, steps.Most)
	assert.Nil(t, art.Flat)
	assert.Empty(t, art.Altered)
}

// A shade over wide colours becomes bands that tile it, no more than are asked; flat paint on it keeps its outline and colour.
func TestBands(t *testing.T) {
	drawing := ramp + `<rect x="20" y="20" width="160" height="160" fill="url(#g)"/><circle cx="100" cy="100" r="30" fill="#00c000"/>`
	for most := 1; most <= steps.Most; most++ {
		art := read(t, drawing, most)
		c := colours(art)
		assert.Len(t, c, min(most, 2)+1) // two show it
		assert.Equal(t, 1, c[artwork.RGB{0, 0xc0, 0}])
		m, _, err := partition.Canvas(art, white)
		require.NoError(t, err)
		k := m.Frame.ToTrue[0] * m.Frame.ToTrue[0]
		sum := 0.0
		for _, r := range m.Regions {
			if m.Colours[r.Colour].RGB != (artwork.RGB{0, 0xc0, 0}) && r.Source.Line > 0 {
				sum += r.Area / k
			}
		}
		assert.InDelta(t, 160*160-3.14159*900, sum, 2)
		require.Len(t, art.Altered, 1)
		assert.Equal(t, finding.ShadeFlat, art.Altered[0].Code)
	}
}

// Shapes between which an edge is seen stay two colours though each is a shade; two coats of one shape are one.
func TestEdges(t *testing.T) {
	art := read(t, `<linearGradient id="g" y2="1" x2="0"><stop stop-color="#d02040"/><stop offset="1" stop-color="#e03050"/></linearGradient>
		<linearGradient id="h" y2="1" x2="0"><stop stop-color="#f04868"/><stop offset="1" stop-color="#ff5878"/></linearGradient>
		<linearGradient id="s"><stop stop-color="#fff" stop-opacity=".2"/><stop offset="1" stop-color="#fff" stop-opacity="0"/></linearGradient>
		<rect x="20" y="20" width="80" height="160" fill="url(#g)"/><rect x="100" y="20" width="80" height="160" fill="url(#h)"/>
		<rect x="20" y="20" width="80" height="160" fill="url(#s)"/>`, steps.Most)
	assert.Len(t, colours(art), 2)
	assert.Len(t, art.Pictures[0].Layers, 2)
}

// A small thing of quite another colour stays, though a shade: an eye.
func TestEye(t *testing.T) {
	art := read(t, ramp+`<radialGradient id="e"><stop stop-color="#404040"/><stop offset="1" stop-color="#101010"/></radialGradient>
		<radialGradient id="y"><stop stop-color="#ffe040"/><stop offset="1" stop-color="#f0b020"/></radialGradient>
		<circle cx="100" cy="100" r="80" fill="url(#y)"/><circle cx="70" cy="80" r="4" fill="url(#e)"/><circle cx="130" cy="80" r="4" fill="url(#e)"/>`, steps.Most)
	assert.Len(t, colours(art), 2)
	assert.Len(t, art.Pictures[0].Layers, 3)
}

// A shade that ends in nothing ends in the ground; a soft mask is seen as what it lets through.
func TestFading(t *testing.T) {
	art := read(t, `<linearGradient id="m"><stop offset=".3" stop-color="#000"/><stop offset=".7" stop-color="#fff"/></linearGradient>
		<mask id="k"><rect width="200" height="200" fill="url(#m)"/></mask>
		<rect x="20" y="20" width="160" height="160" fill="#006000" mask="url(#k)"/>`, steps.Most)
	m, _, err := partition.Canvas(art, white)
	require.NoError(t, err)
	k := m.Frame.ToTrue[0] * m.Frame.ToTrue[0]
	painted := 0.0
	for _, r := range m.Regions {
		if r.Source.Line > 0 {
			painted += r.Area / k
		}
	}
	assert.Greater(t, painted, 0.35*160*160)
	assert.Less(t, painted, 0.75*160*160)
}

// Shadows and glows are left out, each a change; a blurred shape is drawn sharp, a blurred line that is all blur is left out.
func TestEffects(t *testing.T) {
	art := read(t, `<filter id="s"><feDropShadow dx="4" dy="4" stdDeviation="3"/></filter>
		<filter id="i"><feOffset in="SourceAlpha" dx="3"/><feGaussianBlur stdDeviation="2" result="b"/><feMerge><feMergeNode in="b"/><feMergeNode in="SourceGraphic"/></feMerge></filter>
		<filter id="b"><feGaussianBlur stdDeviation="2"/></filter>
		<circle cx="60" cy="60" r="40" fill="#c00000" filter="url(#s)"/><circle cx="140" cy="60" r="30" fill="#00c000" filter="url(#i)"/>
		<circle cx="60" cy="150" r="30" fill="#0000c0" filter="url(#b)"/><path d="M120 150h60" stroke="#c000c0" stroke-width="3" fill="none" filter="url(#b)"/>
		<circle cx="150" cy="170" r="10" fill="#c0c000" filter="blur(1px)"/>`, steps.Most)
	assert.Len(t, art.Pictures[0].Layers, 4)
	said := map[string]any{}
	for _, a := range art.Altered {
		assert.Equal(t, finding.EffectDropped, a.Code)
		said[a.Case] = a.Values[0]
	}
	assert.Equal(t, map[string]any{"": 2, "sharp": 2, "faded": 1}, said)
}

// A picture inside the file is traced in its own frame; one inside a drawing inside it too; one outside is said to be that.
func TestImage(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 100, 100))
	for y := range 100 {
		for x := range 100 {
			if c := (color.NRGBA{0xc0, 0, 0, 255}); x >= 20 && x < 80 && y >= 20 && y < 80 {
				img.SetNRGBA(x, y, c)
			}
		}
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	uri := "data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes())
	inner := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><image width="100" height="100" href="` + uri + `"/></svg>`
	for _, uri := range []string{uri, "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString([]byte(inner))} {
		art := read(t, fmt.Sprintf(`<image x="50" y="50" width="100" height="50" preserveAspectRatio="none" href="%s"/>`, uri), steps.Most)
		box, ok := art.Bounds()
		require.True(t, ok)
		for i, v := range [4]float64{70, 60, 60, 30} {
			assert.InDelta(t, v, [4]float64{box.X, box.Y, box.W, box.H}[i], 0.2)
		}
		require.Len(t, art.Altered, 1)
		assert.Equal(t, finding.Traced, art.Altered[0].Code)
	}
	for _, bad := range []string{"a.png", "data:image/png;base64,AAAA", "data:,", "data:image/png;base64,%%%"} {
		_, found, err := steps.Read([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><image width="9" height="9" href="`+bad+`"/></svg>`), at(3))
		require.NoError(t, err)
		assert.True(t, found.Has(finding.ImageInArtwork) && found.Refuses(), bad)
	}
	many := strings.Repeat(`<image width="9" height="9" href="`+uri+`"/>`, 10)
	_, found, err := steps.Read([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">`+many+`</svg>`), at(3))
	require.NoError(t, err)
	assert.True(t, found.Has(finding.TooMuch))
}

// The same drawing gives the same steps.
func TestSame(t *testing.T) {
	data, err := os.ReadFile("../../testdata/shaded/fox.svg")
	require.NoError(t, err)
	first, _, err := steps.Read(data, at(steps.Most))
	require.NoError(t, err)
	for range 3 {
		again, _, err := steps.Read(data, at(steps.Most))
		require.NoError(t, err)
		assert.Equal(t, string(first.Flat), string(again.Flat))
		assert.Equal(t, first.Altered, again.Altered)
	}
}

func BenchmarkRead(b *testing.B) {
	data, err := os.ReadFile("../../testdata/shaded/fox.svg")
	require.NoError(b, err)
	n := 0
	for range b.N {
		art, _, err := steps.Read(data, at(steps.Most))
		require.NoError(b, err)
		n += len(art.Outlines)
	}
	b.ReportMetric(float64(n)/float64(b.N), "regions")
}

// Shades of any kind become flat ones, the same each time.
func FuzzShades(f *testing.F) {
	for _, s := range []string{ramp + `<rect width="90" height="90" fill="url(#g)"/><circle r="40" fill="url(#g)" opacity=".4"/>`,
		ramp + `<mask id="m"><rect width="99" height="99" fill="url(#g)"/></mask><path d="M0 0h90v90z" mask="url(#m)"/>`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		data := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">` + s + `</svg>`)
		a, _, err := steps.Read(data, at(steps.Most))
		if err != nil {
			return
		}
		b, _, _ := steps.Read(data, at(steps.Most))
		if !bytes.Equal(a.Flat, b.Flat) {
			t.Fatal("not the same twice")
		}
	})
}

// A picture of pixels that is mostly half let through is a shade: as paint, and as what a mask lets through. A dark one is a shadow.
func TestSoftPicture(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 100, 100))
	fade := func(c color.NRGBA) string {
		for y := range 100 {
			for x := range 100 {
				c.A = uint8(2 * x)
				img.SetNRGBA(x, y, c)
			}
		}
		var b bytes.Buffer
		require.NoError(t, png.Encode(&b, img))
		return "data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes())
	}
	art := read(t, `<rect width="200" height="200" fill="#ffe000"/><image width="200" height="200" href="`+fade(color.NRGBA{0, 0, 200, 0})+`"/>`, steps.Most)
	assert.GreaterOrEqual(t, len(colours(art)), 2)
	assert.Equal(t, finding.ShadeFlat, art.Altered[0].Code)
	art = read(t, `<mask id="m" mask-type="alpha"><image width="200" height="200" href="`+fade(color.NRGBA{0, 0, 0, 0})+`"/></mask><rect width="200" height="200" fill="#00a000" mask="url(#m)"/>`, steps.Most)
	assert.NotEmpty(t, colours(art))
	art = read(t, `<rect width="200" height="200" fill="#ffe000"/><image width="200" height="200" href="`+fade(color.NRGBA{20, 20, 20, 0})+`"/>`, steps.Most)
	assert.Len(t, colours(art), 1)
	assert.Equal(t, finding.EffectDropped, art.Altered[0].Code)
}
