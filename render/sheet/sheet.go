// Package sheet holds what all sheets share: paper, units, a flow of pages with head and cautions, colours with letter
// and hatch, the key.
//
// Guarantees: colour is never the only key; every working sheet carries the cautions; nothing is written below the
// foot.
package sheet

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/words"
)

// Paper sizes in millimetres (ISO 216; Letter is 8.5 by 11 inches).
type Paper struct{ W, H float64 }

// Papers by name.
var Papers = map[string]Paper{"a4": {210, 297}, "letter": {215.9, 279.4}}

// Style is how sheets are printed.
type Style struct {
	Paper Paper
	US    bool         // inches, pounds and ounces, Fahrenheit
	Black bool         // black ink only: hatches and letters, no colours
	Split bool         // the wall sheet on two pages of the small paper, for shops without the large one
	Words *words.Table // nil: English
}

// Wall is the paper of the wall sheet: two of the small one side by side, or one of them. Its type is Scale times as large
// as it is laid out.
func (s Style) Wall() (paper Paper, scale float64) {
	if s.Split {
		return Paper{s.Paper.H, s.Paper.W}, 0.8
	}
	return Paper{2 * s.Paper.W, s.Paper.H}, 1
}

// Margin of every sheet, millimetres.
const Margin = 12

// Type of the booklet, the office's and the client's sheets, which are read at half a metre and in the hand: heights of
// capitals in millimetres.
const (
	NumberSize = 6
	TextSize   = 3.4
	ClientSize = 2.5
)

// T is the table of words.
func (s Style) T() *words.Table {
	if s.Words == nil {
		return words.English()
	}
	return s.Words
}

// Flow is a sheet in the making: as many pages as it needs, each with its head and the cautions at its foot. Y is where
// the next thing goes, Foot where the page ends.
type Flow struct {
	S        Style
	Pages    []*page.Page
	Page     *page.Page
	Y, Foot  float64
	title    string
	of       string // order and artwork that it belongs to
	least    float64
	cautions []page.Item
	foot     float64
}

// Start a working sheet; what names it.
func (s Style) Start(p *plan.Plan, what string) *Flow {
	f := s.sheet(what+s.T().Text("sheet.dash")+page.Clean(p.Artwork.Title), s.For(p), Lean)
	f.cautions, f.foot = s.cautions()
	f.Fresh()
	return f
}

// StartOffice starts a sheet for the office: as a working one, without the line of caution.
func (s Style) StartOffice(p *plan.Plan, what string) *Flow {
	f := s.sheet(what+s.T().Text("sheet.dash")+page.Clean(p.Artwork.Title), s.For(p), Lean)
	f.Fresh()
	return f
}

// StartClient starts a client's sheet: smaller type, no cautions for the kitchen.
func (s Style) StartClient(p *plan.Plan, title string) *Flow {
	f := s.sheet(title, s.For(p), ClientSize)
	f.Fresh()
	return f
}

func (s Style) sheet(title, of string, least float64) *Flow {
	return &Flow{S: s, title: title, of: of, least: least, foot: s.Paper.H - Margin}
}

// W is the width between the margins.
func (f *Flow) W() float64 { return f.Page.W - 2*Margin }

// overhang is how far a letter may reach out of its line's box.
const overhang = 1.0

// pageMark keeps the room for "88 of 88".
const pageMark = 26

// Fresh starts a page.
func (f *Flow) Fresh() {
	f.Page = &page.Page{W: f.S.Paper.W, H: f.S.Paper.H, Margin: Margin - overhang, Least: f.least, Title: f.title}
	f.Pages = append(f.Pages, f.Page)
	f.Page.Items = append(f.Page.Items, f.cautions...)
	f.Foot = f.foot
	size := 5.0
	for _, size = range []float64{5, Arm, TextSize, f.least} { // a long title, all of it
		if len(page.Wrap(page.Text{Text: f.title, Size: size, Bold: true}, f.W()-pageMark)) == 1 {
			break
		}
	}
	f.Y = Margin
	last := 0.0
	for _, l := range page.Wrap(page.Text{Text: f.title, Size: size, Bold: true}, f.W()-pageMark) {
		f.line(Margin, l, size, true)
		last = page.Width(page.Text{Text: l, Size: size, Bold: true})
	}
	of := page.Text{Text: f.of, Size: f.least, Anchor: "end"}
	if right := f.Page.W - Margin - pageMark; Margin+last+6+page.Width(of) <= right { // beside the title
		of.At = page.Point{right, f.Y - (Leading-1.3)*size}
		f.Page.Write(of)
		f.Y += 1
	} else {
		for _, l := range page.Wrap(page.Text{Text: f.of, Size: f.least}, f.W()-pageMark) {
			f.line(Margin, l, f.least, false)
		}
	}
	f.Y = math.Max(f.Y, Margin+9)
	f.Rule(Border)
	f.Y += 3
}

// line writes one line at Y and goes below it.
func (f *Flow) line(x float64, text string, size float64, bold bool) {
	f.Page.Write(page.Text{At: page.Point{x, f.Y + 1.3*size}, Size: size, Bold: bold, Text: text})
	f.Y += Leading * size
}

// Leading is the distance of lines over the height of capitals; ascenders reach 1.3 of it up, descenders 0.35 down.
const Leading = 1.7

// Room starts a page when less than h is left; it tells whether it did.
func (f *Flow) Room(h float64) bool {
	if f.Y+h <= f.Foot {
		return false
	}
	f.Fresh()
	return true
}

// Paragraph writes a text over the whole width, from page to page.
func (f *Flow) Paragraph(text string, size float64, bold bool) {
	f.Column(Margin, f.W(), text, size, bold)
}

// Column writes a text from x, so wide, from page to page.
func (f *Flow) Column(x, width float64, text string, size float64, bold bool) {
	for _, l := range page.Wrap(page.Text{Text: page.Clean(text), Size: size, Bold: bold}, width) {
		f.Room(Leading * size)
		f.line(x, l, size, bold)
	}
}

// Height of a text so wide.
func Height(text string, width, size float64, bold bool) float64 {
	return Leading * size * float64(len(page.Wrap(page.Text{Text: page.Clean(text), Size: size, Bold: bold}, width)))
}

// Rule draws a line over the whole width at Y.
func (f *Flow) Rule(width float64) {
	f.Page.Line(page.Point{Margin, f.Y}, page.Point{f.Page.W - Margin, f.Y}, width)
}

// Done marks each page with its number and the count, and returns them.
func (f *Flow) Done() []*page.Page {
	for i, pg := range f.Pages {
		pg.Write(page.Text{At: page.Point{pg.W - Margin, Margin + 1.3*5}, Size: f.least, Anchor: "end",
			Text: f.S.T().Text("sheet.page", i+1, len(f.Pages))})
	}
	return f.Pages
}

// cautions are one line at the foot of a page, in a few words, and where the page ends above it.
func (s Style) cautions() ([]page.Item, float64) {
	pg := &page.Page{W: s.Paper.W, H: s.Paper.H}
	lines := Fitted(pg.W-2*Margin-4, Lean, 1, s.T().Text("caution.short"), s.T().Text("caution.shorter"))
	high := 2.2 * Lean * float64(len(lines))
	top := pg.H - Margin - high
	pg.Add(page.Path{Rings: [][]page.Point{page.Rect(Margin, top, pg.W-2*Margin, high)}, Fill: "#000000"})
	for i, l := range lines {
		pg.Write(page.Text{At: page.Point{Margin + 2, top + 1.6*Lean + 1.6*Lean*float64(i)}, Size: Lean, Fill: "#ffffff", Text: l})
	}
	return pg.Items, top - 2.5
}

// Guessed tells whether the plan's temperatures are guesses: no shop test has narrowed the glass transition.
func Guessed(p *plan.Plan) bool { return p.Clock == nil || p.Clock.TgFrom != plan.FromLumpTest }

// Form of a part in words.
func (s Style) Form(e plan.Element) string {
	return s.T().Say(say.Form(e.Form, e.Bent))
}

// Spot is the nearest spot, on rings round a place, that keeps its distance from those taken.
func Spot(at page.Point, put []page.Point, dist float64) (page.Point, bool) {
	for ring := range 24 {
		for j := range max(1, 8*ring) {
			p := turned(at, 3.5*float64(ring), float64(j)/float64(max(1, 8*ring)))
			ok := true
			for _, q := range put {
				ok = ok && distance(p, q) >= dist
			}
			if ok {
				return p, true
			}
		}
	}
	return at, false
}
