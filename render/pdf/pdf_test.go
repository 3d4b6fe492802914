package pdf_test

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/render/page"
	"sugarwright/render/pdf"
)

// A file of two pages: the head and the end that ISO 32000-1, 7.5 asks for, a page tree of two, the sheet's size in
// points, and the same bytes each time.
func TestWrite(t *testing.T) {
	pages := func() []*page.Page {
		a, b := &page.Page{W: 210, H: 297}, &page.Page{W: 210, H: 297}
		a.Add(
			page.Path{Rings: [][]page.Point{page.Rect(10, 10, 50, 20)}, Fill: "#c02030", Stroke: "#000000", Width: 0.5})
		a.Add(
			page.Path{
				Rings:  [][]page.Point{{{10, 50}, {60, 50}}},
				Open:   true,
				Stroke: "#000000",
				Width:  0.5,
				Dashed: true,
			},
		)
		b.Write(page.Text{At: page.Point{20, 20}, Size: 4, Text: "Grün 7", Anchor: "middle", Bold: true})
		return []*page.Page{a, b}
	}
	data, err := pdf.Write(pages(), "A title")
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(data, []byte("%PDF-1.")))
	assert.True(t, bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")))
	assert.Contains(t, string(data), "/Count 2")
	assert.Regexp(t, `/MediaBox ?\[ ?0 0 595\.2[0-9]* 841\.[0-9]+ ?\]`, string(data))
	again, err := pdf.Write(pages(), "A title")
	require.NoError(t, err)
	assert.Equal(t, data, again)
}

// What joins or runs leftward cannot be set as text: it is drawn, and the file has curves where it has no letters.
func TestShaped(t *testing.T) {
	file := func(text string) string {
		pg := &page.Page{W: 100, H: 50}
		pg.Write(page.Text{At: page.Point{20, 20}, Size: 4, Text: text})
		data, err := pdf.Write([]*page.Page{pg}, "x")
		require.NoError(t, err)
		var out strings.Builder
		for _, m := range regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`).FindAllSubmatch(data, -1) {
			if z, err := zlib.NewReader(bytes.NewReader(m[1])); err == nil {
				_, _ = io.Copy(&out, z)
			}
		}
		return out.String()
	}
	arabic := file("\u0633\u0643\u0631")
	assert.Greater(t, len(regexp.MustCompile(`[0-9.]+ [0-9.]+ c `).FindAllString(arabic, -1)), 10)
	assert.Empty(t, regexp.MustCompile(`[0-9.]+ [0-9.]+ c `).FindAllString(file("sugar"), -1))
}
