// Package order prints what the office works by, in two columns: at the left the order, its packs, and what follows for
// the label; at the right where every gram of the boil goes, what else the same boil makes, and the price by the shop's
// own figures.
//
// Guarantees: the printed balance adds up; a price that the shop's figures do not give is a blank; no dose is printed that
// the shop has not entered; each limit stands with its source and the date at which it was seen; local law decides.
package order

import (
	"fmt"
	"slices"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// drawing is the sheet in the making.
type drawing struct {
	p       *plan.Plan
	s       sheet.Style
	f       *sheet.Flow
	top     float64 // of the columns
	leading float64
}

// Pages of the order: set a little tighter where that saves one, else in halves, so that no page has a rest only.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	pages := set(p, s, loose, false)
	if len(pages) == 1 {
		return pages
	}
	if t := set(p, s, tight, false); len(t) < len(pages) {
		return t
	}
	if halves := set(p, s, loose, true); len(halves) <= len(pages) {
		return halves
	}
	return pages
}

// set the order with so much between lines, on one page if it fits or in two halves.
func set(p *plan.Plan, s sheet.Style, leading float64, halves bool) []*page.Page {
	d := &drawing{p: p, s: s, f: s.StartOffice(p, s.T().Text("order.title")), leading: leading}
	d.top = d.f.Y
	w := (d.f.W() - 8) / 2
	left := &column{d: d, x: sheet.Margin, w: w, y: d.top}
	right := &column{d: d, x: sheet.Margin + w + 8, w: w, y: d.top}
	d.order(left)
	d.ledger(right)
	if halves {
		left.room(d.f.Foot)
		right.room(d.f.Foot)
	}
	d.label(left)
	d.doses(left)
	d.also(right)
	if left.n < right.n || left.n == right.n && left.y < right.y {
		d.price(left)
	} else {
		d.price(right)
	}
	return d.f.Done()
}

// order is how many logs, what the shop can, and what goes into the packs.
func (d *drawing) order(c *column) {
	p, s, t, o := d.p, d.s, d.s.T(), d.p.Order
	grams := func(v plan.Num) string { return s.Grams(float64(v)) }
	mm := func(v plan.Num) string { return s.Section(float64(v)) }
	c.heading(t.Text("order.order"))
	made := func(x plan.Design) {
		logs := "order.logs"
		if x.Logs == 1 {
			logs = "order.log"
		}
		c.para(t.Text(logs, x.Logs, grams(x.LogG), mm(x.LogMM), s.Length(float64(x.LengthMM))), true)
		if x.Wanted > 0 {
			c.para(t.Text("order.wanted", x.Made, x.Wanted, x.Spare), false)
		} else {
			c.para(t.Text("order.loose", x.Made), false)
		}
	}
	if o.Joint() {
		for i, x := range o.Designs {
			c.para(t.Text("order.numbered", i+1, page.Clean(x.Title), x.File, x.Share, o.Shares()), false)
			made(x)
		}
		c.para(t.Text("order.boils", o.Logs), false)
	} else {
		made(plan.Design{Logs: o.Logs, LogG: p.Log.MassG, LogMM: p.Log.DiameterMM, LengthMM: p.Log.LengthMM, Made: o.Made, Wanted: o.Wanted, Spare: o.Spare})
	}
	c.para(t.Text("order.limits", grams(o.LeastG), grams(o.MostG)), false)
	if o.SmallestG > 0 && o.SmallestG <= o.MostG {
		c.para(t.Text("order.smallest", mm(o.SmallestMM), grams(o.SmallestG)), false)
	}
	for _, x := range o.Designs {
		if !o.Joint() {
			c.para(t.Text("order.design", x.File, x.Share, o.Shares()), false)
		}
	}
	c.heading(t.Text("packs.title"))
	if len(o.Packs) == 0 {
		c.para(t.Text("packs.loose", o.Made, s.Exact(float64(p.Piece.MassG))), false)
	}
	if len(o.Designs) > 1 {
		key := "packs.reckoned"
		if p.Job == nil || o.Joint() {
			key = "packs.by_mix"
		}
		c.para(t.Text(key), false)
	}
	for _, x := range o.Packs {
		key := "packs.counted"
		if x.AskedG > 0 {
			key = "packs.weighed"
		}
		c.row(t.Text(key, x.Number, x.Pieces, s.Exact(float64(x.NetG)), s.Exact(float64(x.AskedG))), true, 0, 0)
		switch {
		case o.Joint():
			key := "packs.mix_of"
			if slices.ContainsFunc(x.Of, func(n plan.Num) bool { return count(n).Digits > 0 }) {
				key = "packs.mix_mean"
			}
			c.para(t.Text(key, d.mix(x)), false)
		case len(o.Designs) > 1:
			c.para(t.Text("packs.mix", count(x.Own), x.Pieces), false)
		}
	}
	c.blank(t.Text("packs.batch"))
	c.blank(t.Text("packs.packed_on"))
}

// count of pieces, with a decimal where it is a mean.
func count(v plan.Num) words.Number {
	n := words.Number{Value: float64(v)}
	if n.Value != float64(int(n.Value)) {
		n.Digits = 1
	}
	return n
}

// mix is how many pieces of each drawing go into a pack.
func (d *drawing) mix(x plan.Pack) string {
	var of []string
	for i, n := range x.Of {
		of = append(of, d.s.T().Text("packs.of", count(n), page.Clean(d.p.Order.Designs[i].Title)))
	}
	return strings.Join(of, " + ")
}

// ledger is the boil as it falls, line by line, from the pan into the packs.
func (d *drawing) ledger(c *column) {
	p, s, t, o := d.p, d.s, d.s.T(), d.p.Order
	heading := "order.ledger"
	if o.Logs > 1 {
		heading = "order.ledger_all"
	}
	c.heading(t.Text(heading))
	c.row("", true, 14, 0, t.Text("order.off"), t.Text("order.left"))
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
		c.row(t.Text("ledger."+string(b.Key)), false, 14, float64(b.Left/max(1, o.Ledger[0].Left)), off, s.Whole(float64(b.Left)))
	}
	c.y++
	c.para(t.Text("order.reserve", words.Number{Value: 100 * float64(p.Shop.Reserve)},
		words.Number{Value: 100 * float64(p.Shop.EndLoss)}, s.Length(float64(p.Shop.AllowanceMM))), false)
}

// also is what else the same boil makes.
func (d *drawing) also(c *column) {
	p, s, t, o := d.p, d.s, d.s.T(), d.p.Order
	if len(o.Shared) > 0 {
		c.heading(t.Text("order.shared"))
		c.para(t.Text("order.shared_intro"), false)
		c.y += 0.6
		for _, x := range o.Shared {
			name, of := page.Clean(t.Name(x.Name)), ""
			for i, n := range x.Of {
				if i > 0 {
					of += ", "
				}
				of += fmt.Sprint(n)
			}
			key, dose := "order.shared_of", ""
			if x.DoseG > 0 {
				key, dose = "order.shared_dose", s.Exact(float64(x.DoseG))
			}
			c.row(t.Text(key, name, of, dose), false, 18, 0, s.Whole(float64(x.Grams)))
		}
	}
	c.heading(t.Text("order.also"))
	c.para(t.Text("order.also_intro", s.Grams(float64(p.Shop.LeastLumpG))), false)
	c.y += 0.6
	for _, l := range o.Left {
		colour := p.Index().Colour(l.Colour)
		use := t.Text("left."+string(l.Use), l.Sweets, s.MM(float64(l.WidthMM)), s.MM(float64(p.Shop.ThinnestWrapMM)))
		c.row(fmt.Sprintf("%s %s: %s", colour.Letter, s.Colour(colour), use), false, 18, 0, s.Whole(float64(l.Grams)))
	}
	c.row(t.Text("left.ends"), false, 18, 0, s.Whole(float64(o.EndsG)))
	if o.Spare > 0 {
		c.row(t.Text("left.spare", o.Spare), false, 18, 0, s.Whole(float64(o.Spare)*float64(p.Piece.MassG)))
	}
}

// price by the shop's own figures, with blanks where it has entered none.
func (d *drawing) price(c *column) {
	p, s, t := d.p.Order.Price, d.s, d.s.T()
	if p == nil {
		return
	}
	c.heading(t.Text("price.title"))
	if len(d.p.Order.Designs) > 1 && !d.p.Order.Joint() {
		c.para(t.Text("price.share"), false)
	}
	for _, l := range p.Lines {
		c.row(t.Text("price."+string(l.Key)), false, 24, 0, s.Money(l.Amount, p))
	}
	percent := func(v plan.Num) any {
		if v < 0 {
			return words.P("price.blank")
		}
		return words.Number{Value: float64(v)}
	}
	c.row(t.Text("price.margin", percent(p.Margin), percent(p.Spread)), false, 0, 0)
	c.row(t.Text("price.range"), true, 24, 0, s.Money(p.Low, p), s.Money(p.High, p))
	if len(p.More) == 0 {
		return
	}
	c.y++
	c.para(t.Text("price.more"), false)
	for _, l := range p.More {
		c.row(t.Text("more."+string(l.Key)), false, 24, 0, s.Money(l.Amount, p))
	}
}
