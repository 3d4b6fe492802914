package order

import (
	"math"

	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// column is half of the sheet, from page to page.
type column struct {
	d    *drawing
	n    int // page
	x, w float64
	y    float64
}

// page that the column has come to.
func (c *column) page() *page.Page { return c.d.f.Pages[c.n] }

// room for so much, on the next page where there is none.
func (c *column) room(h float64) {
	if c.y+h <= c.d.f.Foot {
		return
	}
	if c.n++; c.n == len(c.d.f.Pages) {
		c.d.f.Fresh()
	}
	c.y = c.d.top
}

// loose and tight are the heights of a line over that of capitals.
const (
	loose = 1.55
	tight = 1.36
)

// hang is how far a letter may hang below its line, millimetres.
const hang = 0.6

// para writes a text over the column's width.
func (c *column) para(text string, bold bool) { c.indented(0, text, bold) }

func (c *column) indented(by float64, text string, bold bool) {
	for _, l := range page.Wrap(page.Text{Text: page.Clean(text), Size: sheet.Lean, Bold: bold}, c.w-by) {
		c.room(c.d.leading * sheet.Lean)
		c.page().Write(page.Text{At: page.Point{c.x + by, c.y + 1.2*sheet.Lean}, Size: sheet.Lean, Bold: bold, Text: l})
		c.y += c.d.leading * sheet.Lean
	}
}

// heading starts a part, with room for some of what follows.
func (c *column) heading(text string) {
	c.room(20)
	if c.y > c.d.top {
		c.y += 3 * c.d.leading / loose * c.d.leading / loose
	}
	c.page().Line(page.Point{c.x, c.y}, page.Point{c.x + c.w, c.y}, sheet.Bold)
	c.y += 1
	size := sheet.Arm
	if c.d.leading < loose {
		size = sheet.TextSize
	}
	for _, l := range page.Wrap(page.Text{Text: text, Size: size, Bold: true}, c.w) {
		c.page().Write(page.Text{At: page.Point{c.x, c.y + 1.15*size}, Size: size, Bold: true, Text: l})
		c.y += 1.55 * size
	}
}

// row of words at the left and figures at the right, each in a column so wide or wider; above it a bar over a share of the
// width, where there is one.
func (c *column) row(text string, bold bool, wide, share float64, figures ...string) {
	for _, x := range figures {
		wide = math.Max(wide, page.Width(page.Text{Text: page.Clean(x), Size: sheet.Lean, Bold: bold})+3)
	}
	width := c.w - wide*float64(len(figures)) - 2
	if width < 24 { // long figures stand below the words
		c.para(text, bold)
		text, width = "", 24
	}
	lines := page.Wrap(page.Text{Text: page.Clean(text), Size: sheet.Lean, Bold: bold}, width)
	h := c.d.leading*sheet.Lean*float64(len(lines)) + 1.6
	bar := share > 0
	if bar {
		h += 1.4
	} else {
		h += hang
	}
	c.room(h)
	pg := c.page()
	if bar {
		pg.Add(page.Path{Rings: [][]page.Point{page.Rect(c.x, c.y+0.2, math.Max(0.3, c.w*share), 1.2)}, Fill: "#8a8a8a"})
		c.y += 1.4
	} else {
		c.y += hang
		pg.Line(page.Point{c.x, c.y}, page.Point{c.x + c.w, c.y}, sheet.Context)
	}
	base := c.y + 0.6 + 1.2*sheet.Lean
	for i, x := range figures {
		at := page.Point{c.x + c.w - wide*float64(len(figures)-1-i), base}
		pg.Write(page.Text{At: at, Size: sheet.Lean, Bold: bold, Anchor: "end", Text: page.Clean(x)})
	}
	for i, l := range lines {
		pg.Write(page.Text{At: page.Point{c.x, base + c.d.leading*sheet.Lean*float64(i)}, Size: sheet.Lean, Bold: bold, Text: l})
	}
	c.y += c.d.leading*sheet.Lean*float64(len(lines)) + 1.6
}

// blank is a line to write on after some words.
func (c *column) blank(text string) {
	high := 8 * c.d.leading / loose
	c.room(high)
	for i, l := range page.Wrap(page.Text{Text: page.Clean(text), Size: sheet.Lean}, c.w-22) {
		if i > 0 {
			c.y += c.d.leading * sheet.Lean
		}
		t := page.Text{At: page.Point{c.x, c.y + high - 2}, Size: sheet.Lean, Text: l}
		c.page().Write(t)
		from := c.x + page.Width(t) + 2
		if i == 0 {
			c.page().Line(page.Point{from, c.y + high - 1.2}, page.Point{c.x + c.w, c.y + high - 1.2}, sheet.Rule)
		}
	}
	c.y += high
}
