// Package parts prints the list of distinct parts in the order of making: number, form drawn, colour, section, length,
// grams, copies, heat.
//
// Guarantees: each distinct part has one row; rows are never cut at the foot; copies that are mirrored are counted.
package parts

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// The columns of a row, from the left margin, and the drawing's box.
const (
	numberEnd = 15.0
	formFrom  = 19.0
	formW     = 32.0
	formH     = 22.0
	textFrom  = 55.0
	leading   = 1.5 * sheet.TextSize
)

// Pages of the parts list.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("parts.title"))
	f.Paragraph(t.Text("parts.intro"), sheet.TextSize, false)
	inks := s.Inks(p)
	for _, e := range Made(p) {
		n, mirrored, grams := Copies(p, e)
		pieces, thick := p.Index().Pieces(&e), p.Index().Scale(&e) > 1
		var lines []string
		lines = append(lines,
			s.Size(e)+", "+t.Text("size.long", s.Length(float64(e.Size["part_length_mm"])))+", "+s.Grams(grams))
		if n > 1 {
			copies := t.Text("parts.copies", n) + ": "
			switch {
			case thick && pieces > 1:
				copies += t.Text("parts.made_thick_pieces", s.Long(e), pieces, say.Block(p, e.Block))
			case thick:
				copies += t.Text("parts.made_thick", say.Block(p, e.Block))
			default:
				copies += t.Text("parts.made_once", s.Long(e), pieces)
			}
			if mirrored > 0 {
				copies += "; " + t.Text("parts.turned", mirrored)
			}
			lines = append(lines, copies)
		}
		heat := t.Text(
			"parts.window",
			t.Text("parts.window_range", s.Heat(float64(e.LayC), sheet.Guessed(p)),
				s.Limit(float64(e.WindowC[1]), float64(e.LayC), sheet.Guessed(p))),
		)
		if e.Turned {
			heat += "; " + t.Text("parts.turn")
		}
		lines = append(lines, heat)
		width := f.W() - textFrom
		head := page.Wrap(
			page.Text{
				Text: s.Form(e) + ", " + t.Text("parts.from", s.Colour(p.Index().Colour(e.Colour))),
				Size: sheet.TextSize,
				Bold: true,
			},
			width-15,
		)
		var body []string
		for _, l := range lines {
			body = append(body, page.Wrap(page.Text{Text: page.Clean(l), Size: sheet.TextSize}, width)...)
		}
		h := math.Max(formH+2, leading*float64(len(head)+len(body))+5)
		f.Room(h)
		f.Rule(0.18)
		y := f.Y + 1.5
		f.Page.Write(
			page.Text{
				At:     page.Point{sheet.Margin + numberEnd, y + sheet.NumberSize},
				Size:   sheet.NumberSize,
				Bold:   true,
				Anchor: "end",
				Text:   fmt.Sprint(e.Number),
			},
		)
		drawForm(f.Page, inks, e, Section(p, e),
			page.Box{sheet.Margin + formFrom, y, sheet.Margin + formFrom + formW, y + formH - 3})
		at := inks.Swatch(f.Page, e.Colour, sheet.Margin+textFrom, y, 5.5)
		base := y + 1.25*sheet.TextSize
		for i, l := range append(head, body...) {
			x := sheet.Margin + textFrom
			if i < len(head) {
				x = math.Max(at, x+15)
			}
			f.Page.Write(page.Text{At: page.Point{x, base}, Size: sheet.TextSize, Bold: i < len(head), Text: l})
			base += leading
		}
		f.Y += h
	}
	return f.Done()
}

// Made are the distinct parts in the order of making.
func Made(p *plan.Plan) []plan.Element {
	var out []plan.Element
	for _, st := range p.Steps {
		if st.Do == plan.DoMake {
			out = append(out, *p.Index().Element(st.Parts[0]))
		}
	}
	return out
}

// Copies of a part: how many in all, how many of them mirrored, and the grams of all.
func Copies(p *plan.Plan, e plan.Element) (n, mirrored int, grams float64) {
	for _, o := range p.Index().Alike(e.Number) {
		n++
		if o.Mirrored != e.Mirrored {
			mirrored++
		}
	}
	return n, mirrored, float64(p.Index().Pieces(&e)) * sheet.Made(p, e)
}

// drawForm draws a part's laid section as large as its box allows, not larger than life.
func drawForm(pg *page.Page, inks sheet.Inks, e plan.Element, poly plan.Polygon, box page.Box) {
	b := view.Bounds(0, poly)
	k := math.Min(1, math.Min((box[2]-box[0])/(b[2]-b[0]), (box[3]-box[1])/(b[3]-b[1])))
	v := view.View{
		Scale:  k,
		Centre: page.Point{(box[0]+box[2])/2 - k*(b[0]+b[2])/2, (box[1]+box[3])/2 + k*(b[1]+b[3])/2},
	}
	rings := v.Place(poly)
	inks.Draw(pg, e.Colour, rings, page.Pole(rings), 0.5)
}

// Section of a part as hands make it: laid, in its block where that is rolled round by itself, and as thick as it is
// built there.
func Section(p *plan.Plan, e plan.Element) plan.Polygon {
	poly, k := e.Laid, plan.Num(p.Index().Scale(&e))
	if len(e.InBlock) > 0 {
		poly = e.InBlock
	}
	if k == 1 {
		return poly
	}
	out := make(plan.Polygon, len(poly))
	for i, ring := range poly {
		for _, q := range ring {
			out[i] = append(out[i], plan.Point{k * q[0], k * q[1]})
		}
	}
	return out
}
