// Package order prints the order: how many logs, where every gram of the boil goes, what else the same boil makes, and
// the price by the shop's own figures.
//
// Guarantees: the printed balance adds up; a price that the shop's figures do not give is a blank.
package order

import (
	"fmt"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Pages of the order.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t, o := s.T(), p.Order
	f := s.Start(p, t.Text("order.title"))
	grams := func(v plan.Num) string { return s.Grams(float64(v)) }
	mm := func(v plan.Num) string { return s.Section(float64(v)) }
	say := func(key string, args ...any) { f.Paragraph(t.Text(key, args...), sheet.TextSize, false) }
	logs := "order.logs"
	if o.Logs == 1 {
		logs = "order.log"
	}
	f.Paragraph(t.Text(logs, o.Logs, grams(p.Log.MassG), mm(p.Log.DiameterMM), s.Length(float64(p.Log.LengthMM))), 5,
		true)
	say("order.limits", grams(o.LeastG), grams(o.MostG))
	if o.SmallestG > 0 && o.SmallestG <= o.MostG {
		say("order.smallest", mm(o.SmallestMM), grams(o.SmallestG))
	}
	if o.Wanted > 0 {
		say("order.wanted", o.Made, o.Wanted, o.Spare)
	} else {
		say("order.loose", o.Made)
	}
	for _, d := range o.Designs {
		say("order.design", d.File, d.Share, o.Shares())
	}
	heading := "order.ledger"
	if o.Logs > 1 {
		heading = "order.ledger_all"
	}
	f.Heading(t.Text(heading))
	f.Row("", sheet.TextSize, true, 36, t.Text("order.off"), t.Text("order.left"))
	for i, b := range o.Ledger {
		off := ""
		if i > 0 {
			digits := 0
			if s.US {
				digits = 1
			}
			switch v := s.Rounded(float64(o.Ledger[i-1].Left)) - s.Rounded(float64(b.Left)); {
			case v > 0:
				off = t.Number(v, digits)
			case v < 0:
				off = "+" + t.Number(-v, digits)
			}
		}
		f.Row(t.Text("ledger."+string(b.Key)), sheet.TextSize, false, 36, off, s.Whole(float64(b.Left)))
	}
	f.Y += 1
	say("order.reserve", words.Number{Value: 100 * float64(p.Shop.Reserve)},
		words.Number{Value: 100 * float64(p.Shop.EndLoss)}, s.Length(float64(p.Shop.AllowanceMM)))
	// All of it on one page
	f.Room(
		sheet.Leading*(sheet.NumberSize+2*sheet.TextSize) + 4 + 1.6*sheet.Leading*sheet.TextSize*float64(len(o.Left)+2))
	f.Heading(t.Text("order.also"))
	say("order.also_intro", grams(p.Shop.LeastLumpG))
	name := map[string]plan.Colour{}
	for _, c := range p.Colours {
		name[c.ID] = c
	}
	for _, l := range o.Left {
		use := t.Text("left."+string(l.Use), l.Sweets, s.MM(float64(l.WidthMM)), s.MM(float64(p.Shop.ThinnestWrapMM)))
		f.Row(fmt.Sprintf("%s %s: %s", name[l.Colour].Letter, s.Colour(name[l.Colour]), use), sheet.TextSize, false, 30,
			s.Whole(float64(l.Grams)))
	}
	f.Row(t.Text("left.ends"), sheet.TextSize, false, 30, s.Whole(float64(o.EndsG)))
	if o.Spare > 0 {
		f.Row(t.Text("left.spare", o.Spare), sheet.TextSize, false, 30,
			s.Whole(float64(o.Spare)*float64(p.Piece.MassG)))
	}
	price(f, o.Price, o.Designs)
	return f.Done()
}

// price by the shop's own figures, with blanks where it has entered none.
func price(f *sheet.Flow, p *plan.Price, designs []plan.Design) {
	if p == nil {
		return
	}
	s, t := f.S, f.S.T()
	f.Room(98)
	f.Heading(t.Text("price.title"))
	if len(designs) > 1 {
		f.Paragraph(t.Text("price.share"), sheet.TextSize, false)
	}
	for _, l := range p.Lines {
		f.Row(t.Text("price."+string(l.Key)), sheet.TextSize, false, 44, s.Money(l.Amount, p.Currency))
	}
	percent := func(v plan.Num) any {
		if v < 0 {
			return words.P("price.blank")
		}
		return words.Number{Value: float64(v)}
	}
	f.Row(t.Text("price.margin", percent(p.Margin), percent(p.Spread)), sheet.TextSize, false, 44)
	f.Row(t.Text("price.range"), 5, true, 50, s.Money(p.Low, p.Currency), s.Money(p.High, p.Currency))
	f.Y += 1
	f.Paragraph(t.Text("price.more"), sheet.TextSize, false)
	for _, l := range p.More {
		f.Row(t.Text("more."+string(l.Key)), sheet.TextSize, false, 44, s.Money(l.Amount, p.Currency))
	}
}
