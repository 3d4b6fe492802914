package pdf_test

import (
	"bytes"
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
