package svg_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/render/page"
	"sugarwright/render/svg"
)

// The file is well-formed XML with its size in millimetres, one below the other when it has several pages; a word that
// is said twice is kept once.
func TestWrite(t *testing.T) {
	a, b := &page.Page{W: 210, H: 297, Title: "a < b"}, &page.Page{W: 210, H: 297}
	a.Add(page.Path{Rings: [][]page.Point{page.Rect(10, 10, 50, 20)}, Fill: "#c02030"})
	a.Write(page.Text{At: page.Point{20, 60}, Size: 4, Text: "weighs & melts"})
	b.Write(page.Text{At: page.Point{20, 80}, Size: 4, Text: "weighs & melts"})
	data := string(svg.Write([]*page.Page{a, b}))
	d := xml.NewDecoder(strings.NewReader(data))
	names := map[string]int{}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		if e, ok := tok.(xml.StartElement); ok {
			names[e.Name.Local]++
		}
	}
	assert.Contains(t, data, `width="210.000mm"`)
	assert.Equal(t, 1, strings.Count(data, "#c02030"))
	assert.Positive(t, names["use"])
	one := string(svg.Write([]*page.Page{a}))
	assert.Less(t, len(data), 2*len(one), "the line is kept once")
	assert.Equal(t, data, string(svg.Write([]*page.Page{a, b})))
}
