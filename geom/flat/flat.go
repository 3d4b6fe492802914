// Package flat draws what was understood of an artwork: its flat regions, in its own frame and colours.
//
// Guarantees: the same picture as the artwork, only flat; read again, it gives the same file.
package flat

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Write is the SVG of a canvas map's regions. Page and place are those of the artwork.
func Write(page artwork.Page, m *partition.Map) []byte {
	var b bytes.Buffer
	d := head(&b, page, m)
	for _, r := range m.Regions {
		if r.Source.Line == 0 { // nothing painted here
			continue
		}
		fmt.Fprintf(&b, `<path fill="%s" d="`, m.Colours[r.Colour].RGB.Hex())
		for _, ring := range r.Shape {
			writeRing(&b, ring, m.Frame.ToTrue, d)
		}
		b.WriteString("\"/>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// head opens the file; it returns the digits of its numbers.
func head(b *bytes.Buffer, page artwork.Page, m *partition.Map) int {
	v := page.View
	d := digits(m)
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
	if page.Width > 0 {
		fmt.Fprintf(b, ` width="%s"`, number(page.Width, 6))
	}
	if page.Height > 0 {
		fmt.Fprintf(b, ` height="%s"`, number(page.Height, 6))
	}
	fmt.Fprintf(b, ` viewBox="%s %s %s %s"`, number(v.X, d), number(v.Y, d), number(v.W, d), number(v.H, d))
	if page.Aspect != "" {
		fmt.Fprintf(b, ` preserveAspectRatio="%s"`, page.Aspect)
	}
	b.WriteString(">\n")
	return d
}

func writeRing(b *bytes.Buffer, ring geom.Ring[geom.TruePoint], to geom.ToTrue, d int) {
	for i, p := range ring {
		q := to.Artwork(p)
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(number(q[0], d))
		b.WriteByte(' ')
		b.WriteString(number(q[1], d))
	}
	b.WriteByte('Z')
}

// digits is how many decimals of a user unit tell a tenth of the grid's step apart, wherever the drawing lies and
// however large its page.
func digits(m *partition.Map) int {
	return max(0, int(math.Ceil(-math.Log10(partition.Unit/10/m.Frame.ToTrue[0]))))
}

func number(x float64, digits int) string {
	t := strconv.FormatFloat(x, 'f', digits, 64)
	if digits > 0 {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" || t == "" {
		return "0"
	}
	return t
}
