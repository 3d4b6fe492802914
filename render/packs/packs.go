// Package packs prints the pack sheet: pieces in each pack, the mix of designs, doses beside the market's limits, and
// what follows from the recipe for the label.
//
// Guarantees: no dose is printed that the shop has not entered; each limit stands with its source and the date at which
// it was seen; local law decides.
package packs

import (
	"regexp"
	"slices"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Pages of the pack sheet.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t, o := s.T(), p.Order
	f := s.Start(p, t.Text("packs.title"))
	say := func(key string, args ...any) { f.Paragraph(t.Text(key, args...), sheet.TextSize, false) }
	if len(o.Packs) == 0 {
		say("packs.loose", o.Made, s.Exact(float64(p.Piece.MassG)))
	}
	if len(o.Designs) > 1 {
		say("packs.reckoned")
	}
	for _, x := range o.Packs {
		key := "packs.counted"
		if x.AskedG > 0 {
			key = "packs.weighed"
		}
		f.Row(t.Text(key, x.Number, x.Pieces, s.Exact(float64(x.NetG)), s.Exact(float64(x.AskedG))), 5, true, 10)
		if len(o.Designs) > 1 {
			say("packs.mix", words.Number{Value: float64(x.Own), Digits: digits(float64(x.Own))}, x.Pieces)
		}
	}
	for _, d := range o.Designs {
		say("order.design", d.File, d.Share, o.Shares())
	}
	f.Blank(t.Text("packs.batch"), 90)
	f.Blank(t.Text("packs.packed_on"), 90)
	label(f, p)
	doses(f, p)
	return f.Done()
}

// numbered is an additive by its European number.
var numbered = regexp.MustCompile(`(?i)^E ?[0-9]{3}`)

func digits(v float64) int {
	if v == float64(int(v)) {
		return 0
	}
	return 1
}

// mg prints milligrams, small ones with a decimal; a blank where the shop has entered none.
func mg(s sheet.Style, v plan.Num) string {
	switch {
	case v < 0:
		return "........"
	case v < 20:
		return s.T().Number(float64(v), 1)
	}
	return s.T().Number(float64(v), 0)
}

// label lists what follows from the recipe.
func label(f *sheet.Flow, p *plan.Plan) {
	s, t, l := f.S, f.S.T(), p.Label
	f.Heading(t.Text("label.title"))
	f.Paragraph(t.Text("label.law"), sheet.TextSize, true)
	if len(p.Order.Designs) > 1 {
		f.Paragraph(t.Text("label.others"), sheet.TextSize, true)
	}
	ingredients(f, l)
	if p.Job != nil && p.Job.Market == "US" &&
		slices.ContainsFunc(l.Ingredients,
			func(x plan.Ingredient) bool { return x.Key == "colour" && numbered.MatchString(x.Name) }) {
		f.Paragraph(t.Text("label.us_names"), sheet.TextSize, false)
	}
	for _, x := range l.Ingredients {
		if x.Key == "syrup" && x.Name == "wheat" && !x.Allergen {
			f.Paragraph(t.Text("label.wheat_exempt"), sheet.TextSize, false)
		}
	}
	if len(l.Allergens) > 0 {
		list := append([]string(nil), l.Allergens...)
		for i, a := range list {
			if a == "wheat" {
				list[i] = t.Text("source.wheat")
			}
		}
		f.Paragraph(t.Text("label.allergens", strings.ToUpper(strings.Join(list, ", "))), sheet.TextSize, true)
	} else {
		f.Blank(t.Text("label.allergens_blank"), 120)
	}
	if len(l.MayContain) > 0 {
		f.Paragraph(t.Text("label.may_contain", strings.Join(l.MayContain, ", ")), sheet.TextSize, false)
	}
	for _, w := range l.Warnings {
		f.Paragraph(t.Text("warning."+string(w.Key), strings.Join(w.Of, ", ")), sheet.TextSize, true)
	}
	for _, x := range p.Order.Packs {
		net := x.AskedG
		if net == 0 && len(p.Order.Designs) > 1 { // the other designs' pieces weigh otherwise
			continue
		}
		if net == 0 {
			net = x.NetG
		}
		f.Paragraph(t.Text("label.net", s.Exact(float64(net))), sheet.TextSize, false)
	}
	if l.BestBefore > 0 {
		f.Blank(t.Text("label.best_before", l.BestBefore), 120)
	} else {
		f.Blank(t.Text("label.best_before_blank"), 120)
	}
	f.Blank(t.Text("label.maker"), 150)
}

// ingredients in the order of their weights; starred where the shop has not entered one.
func ingredients(f *sheet.Flow, l *plan.Label) {
	t := f.S.T()
	var parts []string
	open := false
	for _, x := range l.Ingredients {
		text := ""
		switch {
		case x.Key == "syrup" && x.Name != "" && x.Name != "other":
			text = t.Text("ingredient.syrup_of", words.P("source."+x.Name))
		case x.Key == "syrup" || x.Name == "":
			text = t.Text("ingredient." + string(x.Key) + "_plain")
		default:
			text = t.Text("ingredient."+string(x.Key), x.Name)
		}
		if x.Allergen {
			text = strings.ToUpper(text)
		}
		if x.Grams == 0 {
			open = true
			text += " (*)"
		}
		parts = append(parts, text)
	}
	f.Paragraph(t.Text("label.ingredients", strings.Join(parts, ", ")), sheet.TextSize, false)
	if open {
		f.Paragraph(t.Text("label.open"), sheet.TextSize, false)
	}
}

// doses of each colour and of the piece beside the limits.
func doses(f *sheet.Flow, p *plan.Plan) {
	s, t := f.S, f.S.T()
	f.Room(60) // the heads with the first of them
	f.Heading(t.Text("dose.title"))
	if len(p.Order.Doses) == 0 {
		f.Paragraph(t.Text("dose.none"), sheet.TextSize, false)
		return
	}
	names := map[string]plan.Colour{}
	for _, c := range p.Colours {
		names[c.ID] = c
	}
	f.Row(t.Text("dose.head"), sheet.TextSize, true, 34, t.Text("dose.in_colour"), t.Text("dose.in_piece"),
		t.Text("dose.limit"))
	for _, d := range p.Order.Doses {
		c := names[d.Colour]
		limit := t.Text("rule." + string(d.Rule) + "_short")
		if d.Limit >= 0 {
			limit = s.T().Number(float64(d.Limit), 0)
		}
		f.Room(22)
		additive := d.Additive
		if additive == "" {
			additive = t.Text("dose.unnamed")
		}
		name := c.Letter + " " + s.Colour(c) + ", " + additive
		if d.Colour == "" {
			name = t.Text("dose.acid")
			if d.Additive != "" {
				name = d.Additive
			}
		}
		f.Row(name, sheet.TextSize, false, 34, mg(s, d.MgPerKg), mg(s, d.PieceMg), limit)
		rule := t.Text("rule." + string(d.Rule))
		if d.Source != "" {
			rule += "; " + t.Text("dose.source", d.Source, d.Date)
		}
		f.Column(sheet.Margin+8, f.W()-8, rule, sheet.TextSize, false)
	}
}
