// Package page lays out one sheet in millimetres, origin at the top left, y down; it knows no plan.
//
// Guarantees: shapes and texts are kept in drawing order; text widths come from the metrics of the embedded face (Go Regular, BSD-3).
package page

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Point on the sheet, millimetres.
type Point [2]float64

// Path is one or more rings, or an open line.
type Path struct {
	Rings  [][]Point
	Open   bool
	Fill   string // "" for none; #rrggbb or url(#hatch)
	Stroke string
	Width  float64
	Dashed bool
}

// Text is one line; Size is the height of capitals in millimetres; Anchor is start, middle or end.
type Text struct {
	At     Point
	Size   float64
	Text   string
	Anchor string
	Bold   bool
	Fill   string
}

// Item is a path or a text.
type Item struct {
	Path *Path
	Text *Text
}

// Hatch is a line pattern of its own angle and spacing.
type Hatch struct {
	ID             string
	Angle, Spacing float64
	Colour         string
	Cross          bool
}

// Page is one sheet.
type Page struct {
	W, H    float64
	Title   string
	Hatches []Hatch
	Items   []Item
}

// Add puts a path on the sheet.
func (p *Page) Add(path Path) { p.Items = append(p.Items, Item{Path: &path}) }

// Write puts a line of text on the sheet.
func (p *Page) Write(t Text) {
	if t.Anchor == "" {
		t.Anchor = "start"
	}
	if t.Fill == "" {
		t.Fill = "#000000"
	}
	p.Items = append(p.Items, Item{Text: &t})
}

// Line is a straight stroke.
func (p *Page) Line(a, b Point, width float64) {
	p.Add(Path{Rings: [][]Point{{a, b}}, Open: true, Stroke: "#000000", Width: width})
}

// CapHeight is the height of capitals over the font size, of the embedded face and near that of most sans serif faces.
const CapHeight = 0.72

var faces = sync.OnceValue(func() [2]*sfnt.Font {
	r, err := sfnt.Parse(goregular.TTF)
	b, err2 := sfnt.Parse(gobold.TTF)
	if err != nil || err2 != nil {
		return [2]*sfnt.Font{}
	}
	return [2]*sfnt.Font{r, b}
})

// spare widens every measured text: the reader's machine may set it in a wider face (the widest common one is 17 % wider, 28 % in bold).
const spare, spareBold = 1.17, 1.28

// Width of a text in millimetres, with room for a wider face.
func Width(t Text) float64 {
	if t.Bold {
		return spareBold * Natural(t)
	}
	return spare * Natural(t)
}

// Natural is the width of a text in the embedded face.
func Natural(t Text) float64 {
	f := faces()[0]
	if t.Bold {
		f = faces()[1]
	}
	if f == nil {
		return 0.7 * t.Size * float64(len(t.Text)) / CapHeight
	}
	var buf sfnt.Buffer
	const em = 1000
	sum := 0.0
	for _, r := range t.Text {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		if a, err := f.GlyphAdvance(&buf, g, fixed.I(em), font.HintingNone); err == nil {
			sum += float64(a) / 64 / em
		}
	}
	return sum * t.Size / CapHeight
}

// Wrap breaks a text into lines no wider than width.
func Wrap(t Text, width float64) []string {
	var lines []string
	line := ""
	word := ""
	flush := func() {
		if word == "" {
			return
		}
		try := word
		if line != "" {
			try = line + " " + word
		}
		probe := t
		probe.Text = try
		if line != "" && Width(probe) > width {
			lines = append(lines, line)
			try = word
		}
		line, word = try, ""
	}
	for _, r := range t.Text + " " {
		if r == ' ' {
			flush()
			continue
		}
		word += string(r)
	}
	return append(lines, line)
}
