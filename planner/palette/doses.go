package palette

import (
	"fmt"
	"maps"
	"slices"

	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/job"
	"sugarwright/planner/law"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

// inSweet is what is known of an additive in a sweet: mg/kg, and whether some of the colours that bring it have no
// dose.
type inSweet struct {
	mg    float64
	blank bool
}

// brought are the additives of one colour's sugar, mg/kg, in the order in which the mix names them.
func (s Shade) brought() (keys []string, of map[string]inSweet) {
	of = map[string]inSweet{}
	for _, d := range s.Doses {
		key := law.Canonical(d.Name)
		x, known := of[key]
		if !known {
			keys = append(keys, key)
		}
		x.mg += d.GPerKg * 1000
		x.blank = x.blank || d.GPerKg == 0
		of[key] = x
	}
	return keys, of
}

// sums are the additives of the sweet, by the masses of its colours, and the sum of those of the market's group.
func (p *Palette) sums(m *partition.Map, market string) (of map[string]inSweet, group float64) {
	mass := make([]float64, len(m.Colours))
	total := 0.0
	for _, r := range m.Regions {
		g := r.Area * p.Density(r.Colour)
		mass[r.Colour] += g
		total += g
	}
	of = map[string]inSweet{}
	for i, g := range mass {
		keys, own := p.Shades[i].brought()
		for _, key := range keys {
			x := of[key]
			x.mg += g / total * own[key].mg
			x.blank = x.blank || own[key].blank
			of[key] = x
			if law.Of(market, key).GroupMg > 0 {
				group += g / total * own[key].mg
			}
		}
	}
	return of, group
}

// holder holds doses against a market's limits and keeps what it found.
type holder struct {
	shop             *shop.Shop
	market           string
	group            float64 // mg/kg of the market's group in a sweet
	out              []plan.Dose
	faults           settings.Faults
	unknown, undosed map[string]bool
}

// hold one additive: in a colour's own sugar, and in the sweet.
func (h *holder) hold(x plan.Dose, own, in inSweet, l law.Limit, line int) {
	x.MgPerKg, x.PieceMg, x.Limit = plan.Num(own.mg), plan.Num(in.mg), shop.Blank
	x.Rule, x.Source, x.Date = plan.DoseRule(l.Rule), l.Source, l.Seen
	switch l.Rule {
	case law.Most:
		x.Limit = plan.Num(l.MgPerKg)
	case law.Group:
		x.Limit = plan.Num(l.GroupMg)
	case law.Forbidden:
		x.Limit = 0
	case law.Unlisted, law.NoMarket:
		h.unknown[named(x.Additive)] = true
	}
	if own.blank {
		x.MgPerKg = shop.Blank
	}
	if in.blank {
		x.PieceMg = shop.Blank
		h.undosed[named(x.Additive)] = true
	}
	if l.Over(in.mg, h.group) {
		h.faults = append(h.faults,
			settings.Fault{File: h.shop.File, Line: line, Text: h.overLimit(x.Additive, in.mg, l)})
	}
	h.out = append(h.out, x)
}

// hold the shop's recipe against the market's limits: additives of each colour's sugar, of the sweet, and the acid. The
// error is of type settings.Faults: a sweet over a limit. What has no published limit that we know, or no dose, is a
// note.
func (p *Palette) hold(m *partition.Map, j *job.Job) error {
	h := &holder{shop: p.shop, unknown: map[string]bool{}, undosed: map[string]bool{}}
	acid := ""
	if j != nil {
		h.market, acid = j.Market, j.Acid
	}
	var sweet map[string]inSweet
	sweet, h.group = p.sums(m, h.market)
	p.Strong = make([]bool, len(p.Shades))
	for i := range p.Shades {
		p.Strong[i] = h.colour(i, p.Shades[i], sweet)
	}
	if a := p.shop.AcidPercent; a > 0 {
		all := inSweet{mg: a * 1e4}
		h.hold(plan.Dose{Additive: acid}, all, all, law.OfAcid(h.market, acid), p.shop.Lines.Acid)
	}
	if len(h.faults) > 0 {
		h.faults.Sort()
		return slices.Compact(h.faults)
	}
	p.Doses = h.out
	p.Findings.Add(h.notes()...)
	return nil
}

// colour holds what one colour's sugar brings, and tells whether it is over a limit by itself.
func (h *holder) colour(i int, s Shade, sweet map[string]inSweet) (strong bool) {
	keys, own := s.brought()
	alone := 0.0 // of the group, in this colour's sugar
	for _, key := range keys {
		if law.Of(h.market, key).GroupMg > 0 {
			alone += own[key].mg
		}
	}
	for _, key := range keys {
		d := s.Doses[slices.IndexFunc(s.Doses, func(d Additive) bool { return law.Canonical(d.Name) == key })]
		if l := law.Of(h.market, key); key != "" || d.WeighG > 0 { // else nothing is known of it
			h.hold(plan.Dose{Colour: fmt.Sprintf("c%d", i), Additive: d.Name}, own[key], sweet[key], l, d.Line)
			strong = strong || l.Over(own[key].mg, alone)
		}
	}
	return strong
}

// notes say what could not be held against a limit.
func (h *holder) notes() (found finding.List) {
	if list := slices.Sorted(maps.Keys(h.unknown)); len(list) > 0 {
		f := finding.New(finding.LimitUnknown, finding.Note, list).In("no_market")
		if h.market != "" {
			f = finding.New(finding.LimitUnknown, finding.Note, list, h.market).In("market")
		}
		found.Add(f)
	}
	if list := slices.Sorted(maps.Keys(h.undosed)); len(list) > 0 {
		found.Add(finding.New(finding.LimitUnknown, finding.Note, list).In("no_dose"))
	}
	return found
}

// named is an additive's name, or that it has none.
func named(additive string) string {
	if additive == "" {
		return "what is not named"
	}
	return additive
}

// overLimit is what is wrong with a dose.
func (h *holder) overLimit(additive string, mg float64, l law.Limit) string {
	from := fmt.Sprintf("(market %s: %s, seen %s)", h.market, l.Source, l.Seen)
	switch {
	case l.Rule == law.Forbidden:
		return fmt.Sprintf("%s is not permitted in these sweets %s; allowed is none of it", additive, from)
	case l.Rule == law.Most && mg > l.MgPerKg:
		return fmt.Sprintf("the recipe brings %.0f mg of %s to a kilogram of sweets; allowed is at most %g %s", mg,
			additive, l.MgPerKg, from)
	}
	return fmt.Sprintf(
		"the recipe brings %.0f mg of the colours of one group, %s among them, to a kilogram of sweets; allowed is at most %g %s",
		h.group, additive, l.GroupMg, from)
}
