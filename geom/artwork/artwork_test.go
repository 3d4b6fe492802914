package artwork_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
)

func read(t testing.TB, body string) (*artwork.Artwork, finding.List) {
	a, f, err := artwork.Parse(
		[]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">` + body + `</svg>`))
	require.NoError(t, err)
	return a, f
}

func flat(a *artwork.Artwork, outline int) []geom.Ring[geom.TruePoint] {
	left := artwork.MaxPoints
	rings, err := a.Outlines[outline].Flat(geom.ToTrue(geom.Identity), 1e-4, 1000, &left)
	if err != nil {
		panic(err)
	}
	return rings
}

// area of the first layer's outline in user units.
func area(a *artwork.Artwork) float64 {
	s := 0.0
	for _, r := range flat(a, a.Pictures[0].Layers[0].Outline) {
		s += r.Area()
	}
	return math.Abs(s)
}

// W3C, SVG 2, implementation notes on elliptical arcs, and path data rules.
func TestPathData(t *testing.T) {
	for _, c := range []struct {
		name, d string
		want    float64
	}{
		{"radii too small are scaled up", "M0,0 A1,1 0 0 1 10,0 Z", 39.269908},
		{"a zero radius is a line", "M0,0 A0,5 0 0 1 10,0 L10,10 Z", 50},
		{"negative radii are taken absolute", "M0,0 A-5,-5 0 0 1 10,0 Z", 39.269908},
		{"angle modulo 360", "M0,0 A5,5 725 0 1 10,0 Z", 39.269908},
		{"equal ends drop the arc", "M0,0 A5,5 0 0 1 0,0 L10,0 L10,10 Z", 50},
		{"flags may touch", "M0,0a5,5 0 0110,0z", 39.269908},
		{"numbers may touch", "M0-1.5.5e1-.5 1e0.5Z", 4.5}, // (0,-1.5) (5,-0.5) (1,0.5), by the shoelace formula
		{"H and V", "M1 1H11V11H1Z", 100},
		{"relative move after close", "m1 1h10v10h-10z", 100},
		{"smooth cubic reflects", "M0 0C0 10 10 10 10 0S20 -10 20 0Z", 0},
		{"quadratic", "M0 0Q5 10 10 0Z", 100.0 / 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, f := read(t, `<path d="`+c.d+`"/>`)
			assert.Empty(t, f)
			assert.InDelta(t, c.want, area(a), 2e-2)
		})
	}
}

// A path with an error is drawn up to, not including, the bad command.
func TestPathWithAnError(t *testing.T) {
	a, f := read(t, `<path d="M 10,10 L 20,20,30" stroke="#000"/>`)
	assert.True(t, f.Has(finding.BadPath))
	assert.Equal(t, finding.Warning, f[0].Severity)
	assert.NotZero(t, f[0].Source.Line)
	assert.Len(t, a.Pictures[0].Layers, 2)
}

// Units: 1in = 96px = 2.54cm, 1pt = 1/72in, 1pc = 12pt, 1Q = 0.25mm (W3C, CSS Values and Units).
func TestUnits(t *testing.T) {
	for unit, px := range map[string]float64{"px": 1, "in": 96, "cm": 96 / 2.54, "mm": 96 / 25.4, "pt": 96.0 / 72, "pc": 16, "Q": 96 / 101.6} {
		a, f := read(t, `<rect width="1`+unit+`" height="1"/>`)
		assert.Empty(t, f, unit)
		assert.InDelta(t, px, area(a), 1e-6, unit)
	}
}

func TestColours(t *testing.T) {
	for s, want := range map[string]artwork.RGB{"red": {255, 0, 0}, "#f00": {255, 0, 0}, "#12ab9C": {0x12, 0xab, 0x9c}, "rgb(1, 2,3)": {1, 2, 3},
		"rgb(100%,0%,50%)": {255, 0, 128}, "hsl(120,100%,50%)": {0, 255, 0}, "RGB(300,-5,7)": {255, 0, 7}} {
		got, ok := artwork.ParseColour(s)
		assert.True(t, ok, s)
		assert.Equal(t, want, got, s)
	}
	for _, s := range []string{"", "nocolour", "#12", "rgb(1,2)", "rgb(a,b,c)", "#gggggg"} {
		_, ok := artwork.ParseColour(s)
		assert.False(t, ok, s)
	}
}

func BenchmarkParse(b *testing.B) {
	var body strings.Builder
	for i := 0; i < 500; i++ {
		body.WriteString(`<path class="a" d="M10 10C20 20 30 30 40 10Z" transform="scale(.9)"/>`)
	}
	for b.Loop() {
		read(b, "<style>.a{fill:#f00}</style>"+body.String())
	}
}

// Lines and columns count from 1, in characters, of the file as the client has it: before entities are put in and after
// decoding.
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		name, svg string
		line, col int
	}{
		{"first line", `<svg xmlns="http://www.w3.org/2000/svg"><path d="x"/></svg>`, 1, 41},
		{"after CRLF", "<svg xmlns=\"http://www.w3.org/2000/svg\">\r\n <path d=\"x\"/></svg>", 2, 2},
		{"after letters of two bytes", `<svg xmlns="http://www.w3.org/2000/svg"><!--äöü--><path d="x"/></svg>`, 1, 51},
		{"after an entity", "<!DOCTYPE svg [<!ENTITY e \"\n\n\n\">]>\n<svg xmlns=\"http://www.w3.org/2000/svg\">&e;&e;<path d=\"x\"/></svg>", 5, 47},
		{"in an entity", "<!DOCTYPE svg [<!ENTITY e '<g/><path d=\"x\"/>'>]>\n<svg xmlns=\"http://www.w3.org/2000/svg\">&e;</svg>", 2, 41},
	} {
		_, found, err := artwork.Parse([]byte(c.svg))
		require.NoError(t, err, c.name)
		require.Len(t, found, 1, c.name)
		assert.Equal(t, []int{c.line, c.col}, []int{found[0].Source.Line, found[0].Source.Column}, c.name)
	}
}

// What is not well-formed is refused with line and column (W3C, XML 1.0).
func TestNotWellFormed(t *testing.T) {
	const open = `<svg xmlns="http://www.w3.org/2000/svg">` + "\n"
	for name, svg := range map[string]string{
		"unclosed":            open + `<g>`,
		"closed by another":   open + `<g></h></svg>`,
		"attribute twice":     open + `<g id="a" id="b"/></svg>`,
		"attribute unquoted":  open + `<g id=a/></svg>`,
		"undeclared entity":   open + `<desc>&nosuch;</desc></svg>`,
		"bare ampersand":      open + `<desc>a & b</desc></svg>`,
		"second root":         open + `</svg><svg/>`,
		"text after the root": open + "</svg>\nx",
		"bad character":       open + "\x01</svg>",
		"bad UTF-8":           open + "\xff</svg>",
		"entity in a circle":  "<!DOCTYPE svg [<!ENTITY a \"&b;\"><!ENTITY b \"&a;\">]>" + open + `<desc>&a;</desc></svg>`,
		"not SVG":             "<html/>",
		"nothing":             "",
	} {
		_, _, err := artwork.Parse([]byte(svg))
		var bad *artwork.SyntaxError
		require.ErrorAs(t, err, &bad, name)
		if name != "nothing" {
			assert.Positive(t, bad.Line, name)
			assert.Positive(t, bad.Column, name)
		}
	}
}
