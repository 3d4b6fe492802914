package sheet

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/words"
)

// Row writes a line of a table: words at the left, wrapped, and figures at the right, each in a column so wide or
// wider, a thin rule above.
func (f *Flow) Row(text string, size float64, bold bool, column float64, figures ...string) {
	for _, x := range figures {
		column = math.Max(column, page.Width(page.Text{Text: page.Clean(x), Size: size, Bold: bold})+4)
	}
	width := f.W() - column*float64(len(figures)) - 2
	h := Height(text, width, size, bold) + 1.2
	f.Room(h)
	f.Rule(0.18)
	f.Y += 0.6
	for i, x := range figures {
		at := page.Point{f.Page.W - Margin - column*float64(len(figures)-1-i), f.Y + 1.3*size}
		f.Page.Write(page.Text{At: at, Size: size, Bold: bold, Anchor: "end", Text: page.Clean(x)})
	}
	f.Column(Margin, width, text, size, bold)
	f.Y += 0.6
}

// Heading starts a part of a sheet, with room for some of what follows.
func (f *Flow) Heading(text string) {
	f.Room(Leading*NumberSize + 16)
	f.Y += 2.5
	f.Paragraph(text, NumberSize, true)
	f.Y += 0.5
}

// Blank is a line to write on after some words.
func (f *Flow) Blank(text string, width float64) {
	f.Room(11)
	t := page.Text{At: page.Point{Margin, f.Y + 8}, Size: f.least, Text: text}
	f.Page.Write(t)
	from := Margin + page.Width(t) + 2
	f.Page.Line(page.Point{from, f.Y + 9}, page.Point{math.Max(from+20, Margin+width), f.Y + 9}, 0.25)
	f.Y += 11
}

// Whole prints masses that must add up: whole grams, or tenths of an ounce. It rounds what it is given; differences are
// to be taken of what Rounded gives.
func (s Style) Whole(v float64) string {
	if s.US {
		return s.T().Number(s.Rounded(v), 1) + "\u00a0oz"
	}
	return s.T().Number(s.Rounded(v), 0) + "\u00a0g"
}

// Rounded is a mass in grams or ounces as Whole prints it.
func (s Style) Rounded(v float64) float64 {
	if s.US {
		return math.Round(v/ounce*10) / 10
	}
	return math.Round(v)
}

// Money prints an amount, or a blank to fill in where it is not known.
func (s Style) Money(v plan.Num, currency string) string {
	if v < 0 {
		return "........"
	}
	out := s.T().Number(float64(v), 2)
	if currency != "" {
		out += "\u00a0" + currency
	}
	return out
}

// hashDigits of the artwork's digest are printed: enough to tell drawings of a shop apart.
const hashDigits = 10

// For says what a sheet belongs to: the order's name, day and flavour, and the artwork's digest.
func (s Style) For(p *plan.Plan) string {
	hash := p.Artwork.SHA256[:min(hashDigits, len(p.Artwork.SHA256))]
	out := s.T().Say(words.P("sheet.artwork", hash))
	if j := p.Job; j != nil {
		for _, x := range []string{j.Flavour, j.Date, j.Client} {
			if x != "" {
				out = x + ", " + out
			}
		}
	}
	return page.Clean(out)
}
