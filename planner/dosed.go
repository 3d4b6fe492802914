package planner

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"sugarwright/geom/finding"
	"sugarwright/planner/law"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

// inSweet is what is known of an additive in a sweet: mg/kg, and whether some of the colours that bring it have no dose.
type inSweet struct {
	mg    float64
	blank bool
}

// brought are the additives of one colour's sugar, mg/kg, in the order in which the mix names them.
func (s shade) brought() (keys []string, of map[string]inSweet) {
	of = map[string]inSweet{}
	for _, d := range s.doses {
		key := law.Canonical(d.additive)
		x, known := of[key]
		if !known {
			keys = append(keys, key)
		}
		x.mg += d.gPerKg * 1000
		x.blank = x.blank || d.gPerKg == 0
		of[key] = x
	}
	return keys, of
}

// sums are the additives of the sweet, by the masses of its colours, and the sum of those of the market's group.
func (w *work) sums(market string) (of map[string]inSweet, group float64) {
	mass := make([]float64, len(w.m.Colours))
	total := 0.0
	for _, r := range w.m.Regions {
		m := r.Area * w.density(r.Colour)
		mass[r.Colour] += m
		total += m
	}
	of = map[string]inSweet{}
	for i, m := range mass {
		keys, own := w.shade(i).brought()
		for _, key := range keys {
			x := of[key]
			x.mg += m / total * own[key].mg
			x.blank = x.blank || own[key].blank
			of[key] = x
			if law.Of(market, key).GroupMg > 0 {
				group += m / total * own[key].mg
			}
		}
	}
	return of, group
}

// doses holds the shop's recipe against the market's limits: additives of each colour's sugar, of the sweet, and the acid. The error is of type settings.Faults: a sweet
// over a limit. What has no published limit that we know, or no dose, is a note. strong are the colours whose sugar by itself is over one.
func (w *work) doses() (out []plan.Dose, strong []bool, err error) {
	market := ""
	if w.o.Job != nil {
		market = w.o.Job.Market
	}
	sweet, group := w.sums(market)
	strong = make([]bool, len(w.shades))
	var faults settings.Faults
	unknown, undosed := map[string]bool{}, map[string]bool{}
	hold := func(x plan.Dose, own, in inSweet, l law.Limit, line int) {
		x.MgPerKg, x.PieceMg, x.Limit = plan.Num(own.mg), plan.Num(in.mg), shop.Blank
		x.Rule, x.Source, x.Date = string(l.Rule), l.Source, l.Seen
		switch l.Rule {
		case law.Most:
			x.Limit = plan.Num(l.MgPerKg)
		case law.Group:
			x.Limit = plan.Num(l.GroupMg)
		case law.Forbidden:
			x.Limit = 0
		case law.Unlisted, law.NoMarket:
			unknown[named(x.Additive)] = true
		}
		if own.blank {
			x.MgPerKg = shop.Blank
		}
		if in.blank {
			x.PieceMg = shop.Blank
			undosed[named(x.Additive)] = true
		}
		if l.Over(in.mg, group) {
			faults = append(faults, settings.Fault{File: w.o.Shop.File, Line: line, Text: overLimit(x.Additive, in.mg, group, market, l)})
		}
		out = append(out, x)
	}
	for i, s := range w.shades {
		keys, own := s.brought()
		alone := 0.0 // of the group, in this colour's sugar
		for _, key := range keys {
			if law.Of(market, key).GroupMg > 0 {
				alone += own[key].mg
			}
		}
		for _, key := range keys {
			d := s.doses[slices.IndexFunc(s.doses, func(d additiveShare) bool { return law.Canonical(d.additive) == key })]
			if l := law.Of(market, key); key != "" || d.weighG > 0 { // else nothing is known of it
				hold(plan.Dose{Colour: colourID(i), Additive: d.additive}, own[key], sweet[key], l, d.line)
				strong[i] = strong[i] || l.Over(own[key].mg, alone)
			}
		}
	}
	if a := w.o.Shop.AcidPercent; a > 0 {
		x := plan.Dose{}
		if w.o.Job != nil {
			x.Additive = w.o.Job.Acid
		}
		all := inSweet{mg: a * 1e4}
		hold(x, all, all, law.OfAcid(market, x.Additive), w.o.Shop.Lines.Acid)
	}
	if len(faults) > 0 {
		faults.Sort()
		return nil, nil, slices.Compact(faults)
	}
	w.unknownLimits(market, unknown, undosed)
	return out, strong, nil
}

// unknownLimits notes what could not be held against a limit.
func (w *work) unknownLimits(market string, unknown, undosed map[string]bool) {
	list := func(of map[string]bool) string { return strings.Join(slices.Sorted(maps.Keys(of)), ", ") }
	if len(unknown) > 0 {
		w.found.Add(finding.Finding{Code: finding.LimitUnknown, Severity: finding.Note, Message: "no published limit is known to us for " + list(unknown) + in(market),
			Suggestion: "look up the law of the market before you sell; name the market in the order's file (EU, GB, US)"})
	}
	if len(undosed) > 0 {
		w.found.Add(finding.Finding{Code: finding.LimitUnknown, Severity: finding.Note, Message: "not held against its limit, since the shop has entered no dose: " + list(undosed),
			Suggestion: "enter dose_g_per_kg in [stock] of the shop's file, as your recipe has it"})
	}
}

// named is an additive's name, or that it has none.
func named(additive string) string {
	if additive == "" {
		return "what is not named"
	}
	return additive
}

// in a market, in words.
func in(market string) string {
	if market == "" {
		return ", since the order names no market"
	}
	return " in the market " + market
}

// overLimit is what is wrong with a dose.
func overLimit(additive string, mg, group float64, market string, l law.Limit) string {
	from := fmt.Sprintf("(market %s: %s, seen %s)", market, l.Source, l.Seen)
	switch {
	case l.Rule == law.Forbidden:
		return fmt.Sprintf("%s is not permitted in these sweets %s; allowed is none of it", additive, from)
	case l.Rule == law.Most && mg > l.MgPerKg:
		return fmt.Sprintf("the recipe brings %.0f mg of %s to a kilogram of sweets; allowed is at most %g %s", mg, additive, l.MgPerKg, from)
	}
	return fmt.Sprintf("the recipe brings %.0f mg of the colours of one group, %s among them, to a kilogram of sweets; allowed is at most %g %s", group, additive, l.GroupMg, from)
}
