package order

import (
	"regexp"
	"slices"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// numbered is an additive by its European number.
var numbered = regexp.MustCompile(`(?i)^E ?[0-9]{3}`)

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
func (d *drawing) label(c *column) {
	p, s, t, l := d.p, d.s, d.s.T(), d.p.Label
	c.heading(t.Text("label.title"))
	c.para(t.Text("label.law"), true)
	part := len(p.Order.Designs) > 1 && !p.Order.Joint() // of what is in the packs
	if part {
		c.para(t.Text("label.others"), true)
	}
	d.ingredients(c)
	if p.Job != nil && p.Job.Market == "US" &&
		slices.ContainsFunc(l.Ingredients,
			func(x plan.Ingredient) bool { return x.Key == "colour" && numbered.MatchString(x.Name) }) {
		c.para(t.Text("label.us_names"), false)
	}
	for _, x := range l.Ingredients {
		if x.Key == "syrup" && x.Name == "wheat" && !x.Allergen {
			c.para(t.Text("label.wheat_exempt"), false)
		}
	}
	if len(l.Allergens) > 0 {
		list := append([]string(nil), l.Allergens...)
		for i, a := range list {
			if a == "wheat" {
				list[i] = t.Text("source.wheat")
			}
		}
		c.para(t.Text("label.allergens", strings.ToUpper(strings.Join(list, ", "))), true)
	} else {
		c.blank(t.Text("label.allergens_blank"))
	}
	if len(l.MayContain) > 0 {
		c.para(t.Text("label.may_contain", strings.Join(l.MayContain, ", ")), false)
	}
	for _, w := range l.Warnings {
		c.para(t.Text("warning."+string(w.Key), strings.Join(w.Of, ", ")), true)
	}
	for _, x := range p.Order.Packs {
		net := x.AskedG
		if net == 0 && part { // the other designs' pieces weigh otherwise
			continue
		}
		if net == 0 && !l.Weighed {
			c.blank(t.Text("label.net_blank", x.Pieces))
			continue
		}
		if net == 0 {
			net = x.NetG
		}
		c.para(t.Text("label.net", s.Exact(float64(net))), false)
	}
	if l.BestBefore > 0 {
		c.blank(t.Text("label.best_before", l.BestBefore))
	} else {
		c.blank(t.Text("label.best_before_blank"))
	}
	c.blank(t.Text("label.maker"))
}

// ingredients in the order of their weights; starred where the shop has not entered one.
func (d *drawing) ingredients(c *column) {
	l, t := d.p.Label, d.s.T()
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
	c.para(t.Text("label.ingredients", strings.Join(parts, ", ")), false)
	if open {
		c.para(t.Text("label.open"), false)
	}
}

// doses of each colour and of the piece beside the limits.
func (d *drawing) doses(c *column) {
	p, s, t := d.p, d.s, d.s.T()
	c.heading(t.Text("dose.title"))
	if len(p.Order.Doses) == 0 {
		c.para(t.Text("dose.none"), false)
		return
	}
	c.row(t.Text("dose.head"), true, 15, 0, t.Text("dose.in_colour"), t.Text("dose.in_piece"), t.Text("dose.limit"))
	for i, x := range p.Order.Doses {
		colour := p.Index().Colour(x.Colour)
		limit := t.Text("rule." + string(x.Rule) + "_short")
		if x.Limit >= 0 {
			limit = s.T().Number(float64(x.Limit), 0)
		}
		c.room(16)
		additive := x.Additive
		if additive == "" {
			additive = t.Text("dose.unnamed")
		}
		name := colour.Letter + " " + s.Colour(colour) + ", " + additive
		if x.Colour == "" {
			name = t.Text("dose.acid")
			if x.Additive != "" {
				name = x.Additive
			}
		}
		c.row(name, false, 15, 0, mg(s, x.MgPerKg), mg(s, x.PieceMg), limit)
		if i+1 == len(p.Order.Doses) || d.rule(p.Order.Doses[i+1]) != d.rule(x) {
			c.indented(4, d.rule(x), false) // once for those that follow one another
		}
	}
}

// rule by which a dose is limited, and where it stands.
func (d *drawing) rule(x plan.Dose) string {
	t := d.s.T()
	rule := t.Text("rule." + string(x.Rule))
	if x.Source != "" {
		rule += "; " + t.Text("dose.source", x.Source, x.Date)
	}
	return rule
}
