package artwork_test

import (
	"encoding/base64"
	"encoding/binary"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
)

func drawing(inside string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + inside + `</svg>`)
}

func fontRule(family, more string, ttf []byte) string {
	return `@font-face{font-family:` + family + `;` + more + `;src:url(data:font/ttf;base64,` + base64.StdEncoding.EncodeToString(ttf) + `)}`
}

// A font that is not in the file is said with its line, the text, and its name; the text is drawn all the same.
func TestFontMissing(t *testing.T) {
	art, found, err := artwork.Parse(drawing("\n" + `<text x="20" y="100" font-size="60" font-family="Fancy Script, serif">Anna</text>`))
	require.NoError(t, err)
	require.Empty(t, found.Errors())
	require.Len(t, art.Altered, 1)
	a := art.Altered[0]
	assert.Equal(t, finding.TextSet, a.Code)
	assert.Equal(t, []any{"Anna", "Fancy Script"}, a.Values)
	assert.Equal(t, 2, a.Source.Line)
	box, ok := art.Bounds()
	require.True(t, ok)
	assert.InDelta(t, 20, box.X, 4)
	assert.InDelta(t, 100, box.Y+box.H, 2)
	assert.InDelta(t, 60*0.729, box.H, 3) // capitals of our face, 1493 of 2048
}

// A font in the file is chosen by family, then width, style and weight.
func TestFontChosen(t *testing.T) {
	style := `<style>` + fontRule(`"Own"`, "font-weight:400", goregular.TTF) + fontRule("Own", "font-weight:bold", gobold.TTF) +
		fontRule("Own", "font-weight:400;font-stretch:condensed", gobold.TTF) + `</style>`
	width := func(attr string) float64 {
		art, found, err := artwork.Parse(drawing(style + `<text x="0" y="100" font-size="40" ` + attr + `>mmmm</text>`))
		require.NoError(t, err)
		require.Empty(t, found.Errors())
		require.Empty(t, art.Altered, attr)
		box, _ := art.Bounds()
		return box.W
	}
	regular, bold := width(`font-family="Own"`), width(`font-family="Own" font-weight="700"`)
	assert.Greater(t, bold, regular+2)
	assert.Equal(t, regular, width(`font-family="None, own" font-weight="300"`))
	assert.Equal(t, bold, width(`font-family="Own" font-weight="bolder"`))
	assert.Equal(t, bold, width(`style="font: bold 40px/2 'Own'"`))
	assert.Equal(t, bold, width(`font-family="Own" font-stretch="extra-condensed"`))
}

// A font whose directory claims tables of gigabytes, or beyond its end, is not read: they would be made room for. The text is
// set in another face, and that is said.
func TestFontClaims(t *testing.T) {
	for table := range 4 {
		claims := append([]byte(nil), goregular.TTF...)
		binary.BigEndian.PutUint32(claims[12+16*table+12:], 0xff00_0000) // its length
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		art, found, err := artwork.Parse(drawing(`<style>` + fontRule("Own", "", claims) + `</style><text x="20" y="100" font-size="60" font-family="Own">Anna</text>`))
		runtime.ReadMemStats(&after)
		require.NoError(t, err)
		require.Empty(t, found.Errors())
		require.Len(t, art.Altered, 1)
		assert.Equal(t, finding.TextSet, art.Altered[0].Code)
		assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(200<<20))
	}
}

// Fonts and texts that are none, or too much, are findings and no more.
func TestBadText(t *testing.T) {
	junk := append([]byte("\x00\x01\x00\x00\x00\x05"), []byte(strings.Repeat("glyfheadlocamaxp\xff\xff\xff\xff", 40))...)
	broken := append([]byte(nil), goregular.TTF...)
	for i := 2000; i < len(broken); i += 97 {
		broken[i] ^= 0xff
	}
	for name, inside := range map[string]string{
		"junk font":     `<style>` + fontRule("Own", "", junk) + `</style><text x="20" y="100" font-size="60" font-family="Own">Anna</text>`,
		"broken font":   `<style>` + fontRule("Own", "", broken) + `</style><text x="20" y="100" font-size="60" font-family="Own">Anna</text>`,
		"outside font":  `<style>@font-face{font-family:Own;src:url(http://a.example/b.ttf)}</style><text x="20" y="100" font-size="60" font-family="Own">Anna</text>`,
		"no path":       `<text font-size="60"><textPath href="#none">Anna</textPath></text>`,
		"round itself":  `<text id="t" font-size="60"><textPath href="#t">Anna</textPath></text>`,
		"size 0":        `<text y="50" font-size="0">Anna</text>`,
		"negative":      `<text y="50" font-size="-4" textLength="-3" x="a b" rotate="9e99">Anna</text>`,
		"in nothing":    `<text y="50" fill="none">Anna</text>`,
		"only spaces":   `<text y="50" xml:space="preserve">   </text>`,
		"marks of way":  "<text y=\"50\">a\u202eb\u2066c</text>",
		"endless place": `<text x="1e300 1e300" dy="1e308">Anna</text>`,
	} {
		art, _, err := artwork.Parse(drawing(inside))
		assert.NoError(t, err, name)
		assert.NotNil(t, art, name)
	}
	for inside, code := range map[string]finding.Code{
		`<text y="50">漢</text>`:                                        finding.TextInArtwork,
		`<text y="50" writing-mode="tb">Anna</text>`:                   finding.TextInArtwork,
		`<text y="50">` + strings.Repeat("a", 6000) + `</text>`:        finding.TooMuch,
		strings.Repeat(`<text>`+strings.Repeat("a", 900)+`</text>`, 6): finding.TooMuch,
	} {
		_, found, err := artwork.Parse(drawing(inside))
		require.NoError(t, err)
		assert.True(t, found.Refuses() && found.Has(code), "%.40s", inside)
	}
}

// A line under or through a text is drawn; text that clips is said as text that is filled; bold that the file has not is said.
func TestDecoration(t *testing.T) {
	read := func(inside string) *artwork.Artwork {
		art, found, err := artwork.Parse(drawing(inside))
		require.NoError(t, err)
		require.Empty(t, found.Errors())
		return art
	}
	plain, _ := read(`<text x="20" y="100" font-size="40">nnn</text>`).Bounds()
	under, _ := read(`<text x="20" y="100" font-size="40" text-decoration="underline">nnn</text>`).Bounds()
	assert.Greater(t, under.Y+under.H, plain.Y+plain.H+1)
	over, _ := read(`<text x="20" y="100" font-size="40" text-decoration="overline">nnn</text>`).Bounds()
	assert.Less(t, over.Y, plain.Y-1)
	clipping := read(`<clipPath id="c"><text x="20" y="100" font-size="40" font-family="Fancy">nnn</text></clipPath><rect width="200" height="200" clip-path="url(#c)"/>`)
	require.Len(t, clipping.Altered, 1)
	assert.Equal(t, finding.TextSet, clipping.Altered[0].Code)
	light := read(`<style>` + fontRule("Own", "font-weight:400", goregular.TTF) + `</style><text y="100" font-size="40" font-family="Own" font-weight="bold">n</text>`)
	require.Len(t, light.Altered, 1)
	assert.Equal(t, "lighter", light.Altered[0].Case)
}
