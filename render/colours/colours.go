// Package colours prints how much of each colour to weigh off, and the boil that gives it all.
//
// Guarantees: the lumps, largest first, are cut off before their colour is put in, and with it sum to the finished
// sugar of the boil; no dose is printed that the shop has not entered.
package colours

import (
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Pages of the colour and boil sheet.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("colours.title"))
	if b := p.Boil; b != nil {
		f.Paragraph(t.Text("colours.boil"), sheet.NumberSize, true)
		if p.Order != nil && p.Order.Logs > 1 {
			f.Paragraph(t.Text("wall.logs", p.Order.Logs), 5, true)
		}
		acid := t.Text("colours.acid_blank")
		for _, c := range p.Colours {
			if c.DoseG > 0 {
				acid = t.Text("colours.acid_only_blank")
			}
		}
		if b.AcidG > 0 {
			acid = t.Text("colours.acid", s.Exact(float64(b.AcidG)))
		}
		flavour := t.Text("colours.flavour_blank")
		if b.FlavourG > 0 {
			flavour = t.Text("colours.flavour", s.Exact(float64(b.FlavourG)))
		}
		for _, l := range []string{
			t.Text("colours.sugar", s.Grams(float64(b.SugarG))),
			t.Text("colours.syrup", s.Grams(float64(b.SyrupG)), words.Number{Value: 100 * float64(b.SyrupSolids)}),
			t.Text("colours.water", s.Grams(float64(b.WaterG))),
			t.Text("colours.end", s.Degrees(float64(b.EndC)), words.Number{Value: s.Kelvins(float64(b.EndPlusMinus))}) + "; " +
				t.Text("colours.moisture", words.Number{Value: float64(b.WaterPercent), Digits: 1}),
			acid,
			flavour,
			t.Text("colours.all", s.Grams(float64(b.FinishedG))),
		} {
			f.Paragraph(l, 5, false)
		}
		f.Blank(t.Text("colours.actual"), 90)
		f.Y += 3
	}
	f.Rule(0.5)
	f.Y += 2
	f.Paragraph(
		t.Text("colours.intro", words.Number{Value: 100 * float64(p.Shop.Reserve)},
			s.Length(float64(p.Shop.AllowanceMM))),
		sheet.TextSize,
		false,
	)
	f.Paragraph(t.Text("colours.lump", s.Grams(float64(p.Shop.LeastLumpG))), sheet.TextSize, false)
	f.Y += 2
	inks := s.Inks(p)
	order := append([]plan.Colour(nil), p.Colours...)
	sort.SliceStable(order, func(i, j int) bool { return order[i].NeedG > order[j].NeedG })
	for _, c := range order {
		row(f, inks, c, p.Shop.LeastLumpG)
	}
	return f.Done()
}

// seen is the CIEDE2000 difference from which anyone sees one, by analogy with print.
const seen = 3.5

// row is one colour: swatch, letter, grams large, name, dose, and what to do when it is less than can be mixed.
func row(f *sheet.Flow, inks sheet.Inks, c plan.Colour, least plan.Num) {
	s, t := f.S, f.S.T()
	const gramsEnd, textFrom = 68.0, 74.0
	width := f.W() - textFrom
	body := t.Text("colours.in_log", s.Grams(float64(c.MassG)))
	if c.DoseG > 0 && len(c.Mix) < 2 {
		body += "; " + t.Text("colours.dose", s.Exact(float64(c.DoseG)))
	}
	if c.SpareG >= 0.5 {
		body += ". " + t.Text("colours.small", s.Grams(float64(least)), s.Grams(float64(c.SpareG)))
	}
	if len(c.Mix) > 1 {
		var parts words.All
		for _, m := range c.Mix {
			part := words.P("colours.part", words.Number{Value: 100 * float64(m.Share)}, words.Name(m.Name))
			if m.DoseG > 0 {
				part = part.And(words.P("colours.part_dose", s.Exact(float64(m.DoseG))))
			}
			parts = append(parts, part)
		}
		body += ". " + t.Text("colours.mix", parts)
	}
	if c.DE2000 >= seen {
		body += ". " + t.Text("colours.off", words.Number{Value: float64(c.DE2000)})
	}
	if c.Guess {
		body += ". " + t.Text("colours.guess", t.Text("colour."+string(c.Finish)))
	}
	name := s.Colour(c) + ", " + t.Text("colour."+string(c.Finish))
	h := max(18, sheet.Height(name, width, sheet.TextSize, true)+sheet.Height(body, width, sheet.TextSize, false)+4)
	f.Room(h)
	f.Rule(0.18)
	f.Y += 1.5
	inks.Swatch(f.Page, c.ID, sheet.Margin, f.Y, 11)
	if c.Made != c.SRGB && !s.Black { // how it comes out, below the drawing's
		f.Page.Add(
			page.Path{
				Rings:  [][]page.Point{page.Rect(sheet.Margin, f.Y+11, 11, 4)},
				Fill:   c.Made,
				Stroke: "#000000",
				Width:  0.35,
			},
		)
	}
	f.Page.Write(
		page.Text{
			At:     page.Point{sheet.Margin + gramsEnd, f.Y + 8},
			Size:   sheet.NumberSize,
			Bold:   true,
			Anchor: "end",
			Text:   t.Text("colours.need", s.Grams(float64(c.CutG))),
		},
	)
	y := f.Y
	f.Column(sheet.Margin+textFrom, width, name, sheet.TextSize, true)
	f.Column(sheet.Margin+textFrom, width, body, sheet.TextSize, false)
	f.Y = max(f.Y, y+h-2)
}
