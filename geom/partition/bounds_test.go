package partition_test

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
)

// said is all that reading and dividing a file says: the error, or the findings that stop a plan.
func said(t *testing.T, svg []byte) string {
	art, found, err := artwork.Parse(svg)
	if err != nil {
		return err.Error()
	}
	f := frame()
	f.ToTrue, f.KeepWholeCanvas = partition.Whole(art, f.PictureRadius), true
	_, more, err := partition.Of(art, f)
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		found.Add(much.Finding())
	} else {
		require.NoError(t, err)
	}
	var b strings.Builder
	for _, f := range append(found, more...) {
		if f.Severity == finding.Error {
			fmt.Fprintln(&b, f.Wording(), f.Values)
		}
	}
	return b.String()
}

// Every bound refuses, in the wording that names it.
func TestBounds(t *testing.T) {
	svg := func(body string) []byte {
		return []byte(
			`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 200 200">` + body + `</svg>`)
	}
	many := func(n int, format string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	chain := func(n int, link string) string { // each of n links refers to the one before
		var b strings.Builder
		b.WriteString(`<defs><path id="u0" d="M0 0h1v1"/>`)
		for i := range n {
			fmt.Fprintf(&b, link, i+1, i)
		}
		return fmt.Sprintf(`%s</defs><use href="#u%d"/>`, b.String(), n)
	}
	packed := func(data []byte) []byte {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		_, _ = z.Write(data)
		_ = z.Close()
		return b.Bytes()
	}
	for bound, file := range map[string][]byte{
		"MaxBytes":                append(svg(""), make([]byte, artwork.MaxBytes)...),
		"unpacked":                packed(append(svg(""), make([]byte, artwork.MaxBytes)...)),
		"MaxDepth":                svg(strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300)),
		"MaxNodes":                svg(strings.Repeat("<g/>", artwork.MaxNodes)),
		"too-much_nodes":          svg(chain(20, `<g id="u%d"><use href="#u%[2]d"/><use href="#u%[2]d"/></g>`)),
		"too-much_segments":       svg(`<path d="M0 0` + strings.Repeat("h1", artwork.MaxSegments+1) + `"/>`),
		"too-much_dashes":         svg(`<path d="M0 0H200" stroke="#000" stroke-dasharray="1e-4"/>`),
		"bad-reference_deep":      svg(chain(60, `<use id="u%d" href="#u%d"/>`)),
		"MaxEntities":             []byte(`<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("a", 1000) + `">` + many(10, `<!ENTITY b%d "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">`) + `<!ENTITY c "` + strings.Repeat("&b1;", 200) + `">]>` + string(svg("<desc>&c;</desc>"))),
		"too-much_style":          svg(`<style>` + many(3000, ".a%d b c d e{fill:red}") + `</style>` + strings.Repeat("<g><g><g/></g></g>", 3000)),
		"too-much_points":         svg(strings.Repeat(`<circle cx="100" cy="100" r="90" stroke="#000"/>`, 5000)),
		"too-much_chords":         svg(`<circle r="1e9" fill="none" stroke="#000"/>`),
		"too-much_crossings":      svg(many(1500, `<path d="M0 %[1]d.5H2000M%[1]d 0V2000" stroke="#c00" stroke-width=".2" transform="scale(.1)"/>`)),
		"too-much_tests":          svg(many(30000, `<path d="M0 %[1]dH400000v.4H0z" transform="scale(.0005 .006)"/>`)),
		"too-much_colours":        svg(many(250, `<path d="M%[1]d 0h1v100h-1z" fill="rgb(%[1]d,0,9)" transform="scale(.8 1)"/><path d="M%[1]d 100h1v100h-1z" fill="rgb(9,%[1]d,200)" transform="scale(.8 1)"/>`)),
		"outside":                 []byte(`<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>` + string(svg("<desc>&x;</desc>"))),
		"bad-reference_outside":   svg(`<use href="other.svg#a"/>`),
		"off-the-grid_coordinate": svg(`<path d="M0 0H1e12V9"/>`),
		"attribute x is give":     svg(`<rect x="1" x="2"/>`),
	} {
		t.Run(bound, func(t *testing.T) {
			assert.Contains(t, said(t, file), bound)
		})
	}
}
