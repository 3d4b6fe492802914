// Package pdf writes pages as one PDF file at exact scale.
//
// Guarantees: a millimetre of the page is a millimetre of the file, to its two decimals of a point; the face is
// embedded; same pages same bytes (P9). Text that needs shaping (scripts that join or run leftward) is drawn as
// outlines, since the file's text operators cannot shape.
//
// References: ISO 32000-1, 8.5 (path construction and painting).
package pdf

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"sugarwright/render/page"
)

// pt is points a millimetre.
const pt = 72 / 25.4

// Write draws the pages; title is the document's.
func Write(pages []*page.Page, title string) ([]byte, error) {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", SizeStr: "A4"})
	f.SetCatalogSort(true)
	f.SetCompression(true)
	then := time.Unix(0, 0).UTC() // no clock: the same plan gives the same file
	f.SetCreationDate(then)
	f.SetModificationDate(then)
	f.SetTitle(title, true)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCellMargin(0)
	for i, data := range page.Faces() {
		f.AddUTF8FontFromBytes(faces[i], "", data)
	}
	for _, p := range pages {
		orient := "P"
		if p.W > p.H {
			orient = "L"
		}
		f.AddPageFormat(orient, fpdf.SizeType{Wd: math.Min(p.W, p.H), Ht: math.Max(p.W, p.H)})
		d := drawing{f: f, h: p.H}
		f.RawWriteStr("1 j 0 J")
		for _, it := range p.Items {
			switch {
			case it.Path != nil:
				d.path(it.Path)
			case it.Picture != nil:
				d.picture(it.Picture)
			default:
				d.text(it.Text)
			}
		}
	}
	var b bytes.Buffer
	err := f.Output(&b)
	return b.Bytes(), err
}

var faces = [2]string{"regular", "bold"}

// drawing writes one page's operators, origin at the foot.
type drawing struct {
	f *fpdf.Fpdf
	h float64
}

// picture places a picture of pixels, kept once for each that is alike.
func (d drawing) picture(p *page.Picture) {
	name := fmt.Sprintf("%x", sha256.Sum256(p.PNG))
	kind := fpdf.ImageOptions{ImageType: "PNG"}
	d.f.RegisterImageOptionsReader(name, kind, bytes.NewReader(p.PNG))
	d.f.ImageOptions(name, p.At[0], p.At[1], p.At[2]-p.At[0], p.At[3]-p.At[1], false, kind, 0, "")
}

func num(v float64) string {
	t := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
	if t == "-0" {
		return "0"
	}
	return t
}

func (d drawing) point(p page.Point) string { return num(p[0]*pt) + " " + num((d.h-p[1])*pt) }

// colour as red, green, blue from 0 to 1.
func colour(hex string) string {
	c, ok := page.RGB(hex)
	if !ok {
		return "0 0 0"
	}
	part := func(v uint8) string { return strconv.FormatFloat(float64(v)/255, 'f', 3, 64) }
	return part(c.R) + " " + part(c.G) + " " + part(c.B)
}

func (d drawing) path(p *page.Path) {
	if p.Fill == "" && p.Stroke == "" {
		return
	}
	var b strings.Builder
	if p.Fill != "" {
		b.WriteString(colour(p.Fill) + " rg ")
	}
	if p.Stroke != "" {
		b.WriteString(colour(p.Stroke) + " RG " + num(p.Width*pt) + " w ")
		if p.Dashed {
			fmt.Fprintf(&b, "[%s %s] 0 d ", num(page.Dash[0]*pt), num(page.Dash[1]*pt))
		}
	}
	for _, r := range p.Rings {
		for i, q := range r {
			b.WriteString(d.point(q))
			if i == 0 {
				b.WriteString(" m ")
			} else {
				b.WriteString(" l ")
			}
		}
		if !p.Open {
			b.WriteString("h ")
		}
	}
	switch {
	case p.Fill != "" && p.Stroke != "":
		b.WriteString("B")
	case p.Fill != "":
		b.WriteString("f")
	default:
		b.WriteString("S")
	}
	if p.Dashed {
		b.WriteString(" [] 0 d")
	}
	d.f.RawWriteStr(b.String())
}

// lastRune is the last that the writer's embedded faces can name; what lies beyond is drawn as outlines.
const lastRune = 0xFFFF

func (d drawing) text(t *page.Text) {
	l := page.Set(*t)
	if !l.Plain || strings.ContainsFunc(t.Text, func(r rune) bool { return r > lastRune }) {
		d.outlines(t, l)
		return
	}
	face := faces[0]
	if t.Bold {
		face = faces[1]
	}
	d.f.RawWriteStr(colour(t.Fill) + " rg")
	d.f.SetFont(face, "", t.Size/page.CapHeight*pt)
	d.f.Text(t.Start(), t.At[1], t.Text)
}

// outlines draws a text's glyphs as areas; quadratic curves become cubic ones.
func (d drawing) outlines(t *page.Text, l *page.Line) {
	var b strings.Builder
	b.WriteString(colour(t.Fill) + " rg ")
	k, x0 := t.Scale(), t.Start()
	for _, g := range l.Glyphs {
		put := func(p page.Point) string {
			return d.point(page.Point{x0 + k*(g.X+p[0]), t.At[1] - k*(g.Y+p[1])})
		}
		var last page.Point
		for _, c := range page.Outline(g.Face, g.ID) {
			switch {
			case c.Move:
				b.WriteString(put(c.P[0]) + " m ")
			case len(c.P) == 1:
				b.WriteString(put(c.P[0]) + " l ")
			default:
				mid := func(a, b page.Point) page.Point { return page.Point{(a[0] + 2*b[0]) / 3, (a[1] + 2*b[1]) / 3} }
				b.WriteString(put(mid(last, c.P[0])) + " " + put(mid(c.P[1], c.P[0])) + " " + put(c.P[1]) + " c ")
			}
			last = c.P[len(c.P)-1]
		}
	}
	b.WriteString("f")
	d.f.RawWriteStr(b.String())
}
