package partition_test

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
)

var (
	rootTag = regexp.MustCompile(`(?s)^.*?<svg\b[^>]*>`)
	boxAttr = regexp.MustCompile(`viewBox="([^"]*)"`)
	paint   = regexp.MustCompile(`\s(fill|stroke|stroke-width|fill-rule|opacity)="([^"]*)"`)
	shapes  = regexp.MustCompile(`<(path|circle|ellipse|rect|polygon)\b[^>]*>`)
)

// parts splits a drawing into what is inside its root element and its view box.
func parts(t *testing.T, svg string) (inner string, x, y, w, h float64) {
	root := rootTag.FindString(svg)
	require.NotEmpty(t, root)
	inner = strings.TrimSuffix(strings.TrimSpace(svg[len(root):]), "</svg>")
	_, err := fmt.Sscan(boxAttr.FindStringSubmatch(root)[1], &x, &y, &w, &h)
	require.NoError(t, err)
	return inner, x, y, w, h
}

const space = `xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"`

// ways in which drawing programs save one and the same drawing; common practice, no source.
var ways = map[string]func(inner, box string, x, y, w, h float64) []byte{
	"style attributes": func(inner, box string, _, _, _, _ float64) []byte {
		inner = shapes.ReplaceAllStringFunc(inner, func(tag string) string {
			var style string
			tag = paint.ReplaceAllStringFunc(tag, func(a string) string {
				m := paint.FindStringSubmatch(a)
				style += m[1] + ":" + m[2] + ";"
				return ""
			})
			i := strings.IndexAny(tag, " \n\t/>")
			return tag[:i] + ` style="` + style + `"` + tag[i:]
		})
		return []byte(`<svg ` + space + ` viewBox="` + box + `">` + inner + `</svg>`)
	},
	"classes in a style element": func(inner, box string, _, _, _, _ float64) []byte {
		var sheet strings.Builder
		n := 0
		inner = shapes.ReplaceAllStringFunc(inner, func(tag string) string {
			n++
			fmt.Fprintf(&sheet, ".st%d{", n)
			tag = paint.ReplaceAllStringFunc(tag, func(a string) string {
				m := paint.FindStringSubmatch(a)
				sheet.WriteString(m[1] + ":" + m[2] + ";")
				return ""
			})
			sheet.WriteString("}\n")
			i := strings.IndexAny(tag, " \n\t/>")
			return tag[:i] + fmt.Sprintf(` class="other st%d"`, n) + tag[i:]
		})
		return []byte(
			`<svg ` + space + ` viewBox="` + box + `"><style type="text/css"><![CDATA[` + sheet.String() + `]]></style>` + inner + `</svg>`)
	},
	"layers in mm with nested transforms": func(inner, box string, x, y, w, h float64) []byte {
		return []byte(
			fmt.Sprintf(
				`<svg %s xmlns:lay="http://example.org/layers" width="%gmm" height="%gmm" viewBox="0 0 %g %g"><lay:view zoom="2"><lay:guide/></lay:view>`+
					`<g lay:label="Layer 1" transform="translate(%g,%g)"><g transform="scale(.5)"><g transform="matrix(2 0 0 2 0 0)">%s</g></g></g></svg>`,
				space,
				w,
				h,
				w,
				h,
				-x,
				-y,
				inner,
			),
		)
	},
	"defs, use and a clip path": func(inner, box string, x, y, w, h float64) []byte {
		return []byte(
			fmt.Sprintf(
				`<svg %s viewBox="%s"><defs><rect id="page" x="%g" y="%g" width="%g" height="%g"/><clipPath id="c"><use xlink:href="#page"/></clipPath><g id="all">%s</g></defs>`+
					`<g clip-path="url(#c)"><use xlink:href="#all" x="0"/></g></svg>`,
				space,
				box,
				x,
				y,
				w,
				h,
				inner,
			),
		)
	},
	"a nested svg with percentages, in inches": func(inner, box string, _, _, _, _ float64) []byte {
		return []byte(
			`<svg ` + space + ` width="4in" height="4in"><svg x="12.5%" y="12.5%" width="75%" height="3in" viewBox="` + box + `">` + inner + `</svg></svg>`)
	},
	"entities": func(inner, box string, _, _, _, _ float64) []byte {
		return []byte(
			`<?xml version="1.0" encoding="utf-8"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [
	<!ENTITY ns_svg "http://www.w3.org/2000/svg"> <!ENTITY box '` + box + `'><!-- <!ENTITY box "0 0 1 1"> -->
	<!ENTITY open "<g>"><!ENTITY body "&open;&rest;"><!ENTITY rest "<desc>a &amp; b</desc></g>">
]><svg xmlns="&ns_svg;" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="&box;">` + "&body;" + inner + `</svg>`,
		)
	},
	"byte order mark and CRLF": func(inner, box string, _, _, _, _ float64) []byte {
		s := "<?xml version=\"1.0\"?>\n<svg " + space + " viewBox=\"" + box + "\">\n" + strings.ReplaceAll(inner, ">",
			">\n") + "</svg>\n"
		return []byte("\ufeff" + strings.ReplaceAll(s, "\n", "\r\n"))
	},
	"UTF-16": func(inner, box string, _, _, _, _ float64) []byte {
		out := []byte{0xff, 0xfe}
		for _, u := range utf16.Encode([]rune(`<?xml version="1.0" encoding="UTF-16"?><svg ` + space + ` viewBox="` + box + `">` + inner + `</svg>`)) {
			out = append(out, byte(u), byte(u>>8))
		}
		return out
	},
	"packed": func(inner, box string, _, _, _, _ float64) []byte {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		fmt.Fprintf(z, `<svg %s viewBox="%s">%s</svg>`, space, box, inner)
		_ = z.Close()
		return b.Bytes()
	},
	"masked by a white page": func(inner, box string, x, y, w, h float64) []byte {
		return []byte(
			fmt.Sprintf(
				`<svg %s viewBox="%s"><mask id="m" maskUnits="userSpaceOnUse" x="%g" y="%g" width="%g" height="%g"><rect x="%g" y="%g" width="%g" height="%g" fill="#fff"/></mask><g mask="url(#m)">%s</g></svg>`,
				space, box, x, y, w, h, x, y, w, h, inner),
		)
	},
}

// areas of each colour of what is painted, as shares of the page's paint.
func areas(t *testing.T, data []byte) (map[string]float64, int) {
	art, found, err := artwork.Parse(data)
	require.NoError(t, err)
	for _, f := range found {
		assert.NotContains(t, []finding.Code{finding.BadValue, finding.BadTransform}, f.Code)
	}
	m, _, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	require.NoError(t, err)
	out, sum := map[string]float64{}, 0.0
	for _, r := range m.Regions {
		if r.Source.Line > 0 && r.Colour != 0 {
			out[m.Colours[r.Colour].RGB.Hex()] += r.Area
			sum += r.Area
		}
	}
	for k := range out {
		out[k] /= sum
	}
	return out, len(m.Regions)
}

// The open drawings, saved in the ways of drawing programs, are the same drawing.
func TestSavedByDrawingPrograms(t *testing.T) {
	names, err := filepath.Glob("../../testdata/corpora/*.svg")
	require.NoError(t, err)
	var each []string
	for way := range ways {
		each = append(each, way)
	}
	slices.Sort(each)
	for i, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		want, _ := areas(t, data)
		inner, x, y, w, h := parts(t, string(data))
		for k, way := range each {
			if (i+k)%2 > 0 { // each drawing by every other way, each way of every other drawing
				continue
			}
			save := ways[way]
			got, _ := areas(t, save(inner, fmt.Sprintf("%g %g %g %g", x, y, w, h), x, y, w, h))
			require.Equal(t, len(want), len(got), "%s: %s", name, way)
			for c, a := range want {
				assert.InDelta(t, a, got[c], 2e-5, "%s: %s: %s", name, way, c)
			}
		}
	}
}
