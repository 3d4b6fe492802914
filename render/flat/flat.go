// Package flat draws what was understood of an artwork: its flat regions, in its own frame and colours.
//
// Guarantees: the same picture as the artwork, only flat; read again, it gives the same file.
package flat

import (
	"bytes"
	"fmt"
	"strconv"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Write is the SVG of a canvas map's regions. Page and place are those of the artwork.
func Write(page artwork.Page, m *partition.Map) []byte {
	var b bytes.Buffer
	v := page.View
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
	if page.Width > 0 {
		fmt.Fprintf(&b, ` width="%s"`, number(page.Width))
	}
	if page.Height > 0 {
		fmt.Fprintf(&b, ` height="%s"`, number(page.Height))
	}
	fmt.Fprintf(&b, ` viewBox="%s %s %s %s"`, number(v.X), number(v.Y), number(v.W), number(v.H))
	if page.Aspect != "" {
		fmt.Fprintf(&b, ` preserveAspectRatio="%s"`, page.Aspect)
	}
	b.WriteString(">\n")
	for _, r := range m.Regions {
		if r.Source.Line == 0 { // nothing painted here
			continue
		}
		fmt.Fprintf(&b, `<path fill="%s" d="`, m.Colours[r.Colour].RGB.Hex())
		for _, ring := range r.Shape {
			writeRing(&b, ring, m.Frame.ToTrue)
		}
		b.WriteString("\"/>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func writeRing(b *bytes.Buffer, ring geom.Ring[geom.TruePoint], to geom.ToTrue) {
	for i, p := range ring {
		q := to.Artwork(p)
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(number(q[0]))
		b.WriteByte(' ')
		b.WriteString(number(q[1]))
	}
	b.WriteByte('Z')
}

// number has seven significant digits of the page's scale: finer than the grid.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'g', 9, 64)
}
