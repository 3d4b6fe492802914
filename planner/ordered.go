package planner

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"

	"sugarwright/geom/finding"
	"sugarwright/planner/job"
	"sugarwright/planner/law"
	"sugarwright/planner/order"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// wanted is an order counted out.
type wanted struct {
	packs  []order.Pack
	pieces int // of this drawing; 0: nothing asked
	logs   int
}

// perLog is the order of one log: as called for, or what the order's file and the shop's least and largest log make of it. gramsPerMM is of a log so wide; pieces are
// known no better than that.
func (w *work) perLog(diameter, gramsPerMM float64) (size.Order, error) {
	o, s := w.o.Order, w.o.Shop
	w.want = wanted{logs: 1, pieces: o.Pieces}
	asked := w.o.Job != nil && w.o.Job.Asked()
	if !asked && o.Pieces == 0 || o.PieceMM == 0 {
		return o, nil
	}
	r := diameter / o.PieceMM
	pieceG := gramsPerMM / r / r * o.CutMM
	if asked {
		var err error
		if w.want.packs, w.want.pieces, err = order.Packs(w.o.Job, pieceG); err != nil {
			return o, err
		}
	}
	gross := pieceG / (1 - s.EndLoss)
	w.want.logs, o.Pieces = order.Logs(w.want.pieces, gross, s.MostG)
	if asked && float64(o.Pieces)*gross < s.LeastG {
		o.Pieces, o.WeightG = 0, s.LeastG
	}
	return o, nil
}

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

// stripeShare of the way round the log is what one colour's stripes may take, so that those of four fit; tuned.
const stripeShare = 0.25

// orderOf is the way from the boil to the packs.
func (w *work) orderOf(p *plan.Plan) {
	s, b := w.o.Shop, p.Boil
	made := w.want.logs * p.Piece.Count
	o := &plan.Order{Logs: w.want.logs, LeastG: plan.Num(s.LeastG), MostG: plan.Num(s.MostG), Wanted: w.want.pieces, Made: made, Packs: []plan.Pack{}, Designs: []plan.Design{},
		Left: []plan.Left{}, Doses: []plan.Dose{}, EndsG: plan.Num(float64(p.Log.MassG) - float64(p.Piece.Count)*float64(p.Piece.MassG))}
	if d, g, ok := w.smallestOrder(); ok {
		o.SmallestMM, o.SmallestG = plan.Num(d), plan.Num(g)
	}
	packed := made
	if w.want.pieces > 0 {
		packed = min(made, w.want.pieces)
	}
	o.Spare = made - packed
	chain := order.Chain{FoldedG: float64(b.FoldedG), SugarG: float64(b.SugarG), SyrupG: float64(b.SyrupG), WaterG: float64(b.WaterG), FinishedG: float64(b.FinishedG), LogG: float64(p.Log.MassG), EndLoss: s.EndLoss,
		PieceG: float64(p.Piece.MassG), Count: p.Piece.Count, Logs: w.want.logs, Packed: packed}
	jacket := -1
	for _, r := range w.m.Regions {
		if r.Jacket {
			jacket = r.Colour
		}
	}
	for i, c := range p.Colours {
		chain.SpareG += float64(c.SpareG)
		chain.TrimG += float64(c.TrimG)
		chain.SticksG += float64(c.NeedG - c.SpareG - c.TrimG - c.MassG)
		left := order.Colour{ID: c.ID, LeftG: float64(c.SpareG + c.TrimG), DensityGCm3: float64(c.Density), Jacket: i == jacket, StripeMM: s.ThinnestWrapMM,
			Strong: w.strong[i], MostMM: stripeShare * math.Pi * w.log.DiameterMM, LogLengthMM: w.log.LengthMM, PieceVolumeMM: math.Pi / 4 * w.o.Order.PieceMM * w.o.Order.PieceMM * w.o.Order.CutMM}
		if left.LeftG > 0 {
			u := left.Use(s.LeastLumpG)
			o.Left = append(o.Left, plan.Left{Colour: u.ID, Grams: plan.Num(u.Grams), Use: u.Use, Sweets: u.Sweets, WidthMM: plan.Num(u.WidthMM)})
		}
	}
	for _, l := range order.WholeGrams(chain.Ledger()) {
		o.Ledger = append(o.Ledger, plan.Balance{Key: l.Key, Off: plan.Num(l.OffG), Left: plan.Num(l.LeftG)})
	}
	packs := 0
	for _, x := range w.want.packs {
		packs += x.Number
		o.Packs = append(o.Packs, plan.Pack{Number: x.Number, Pieces: x.Pieces, Own: plan.Num(x.Own), AskedG: plan.Num(x.AskedG), NetG: plan.Num(x.NetG)})
	}
	o.Doses = append(o.Doses, w.dosed...)
	if j := w.o.Job; j != nil {
		for _, d := range j.Designs {
			o.Designs = append(o.Designs, plan.Design{File: d.File, Share: d.Share})
		}
	}
	if s.Price.Entered() {
		o.Price = w.price(p, packs)
	}
	p.Order = o
	p.Label = w.label(p)
}

// price by the shop's own figures.
func (w *work) price(p *plan.Plan, packs int) *plan.Price {
	m := w.o.Shop.Minutes
	made, minutes := 0, 0.0
	for _, st := range p.Steps {
		switch st.Do {
		case "make":
			made++
			minutes += float64(st.Minutes)
		case "chop", "lay", "bend", "wrap", "roll", "turn":
			minutes += float64(st.Minutes) * float64(st.Hands)
		}
	}
	n := float64(w.want.logs)
	share := 1.0
	if j := w.o.Job; j != nil {
		share = float64(j.Own) / float64(j.All)
	}
	work := order.Work{Logs: w.want.logs, Packs: share * float64(packs), Share: share, Crew: w.o.Shop.Crew, LogMin: float64(p.Clock.EndMin), SugarKg: n * float64(p.Boil.SugarG) / 1000, SyrupKg: n * float64(p.Boil.SyrupG) / 1000,
		FinishedKg: n * float64(p.Boil.FinishedG) / 1000, PartMin: minutes / float64(max(1, made)), ColourMin: m.Colour, ColourKg: w.o.Shop.LeastLumpG / 1000}
	price := work.Of(w.o.Shop.Price)
	costs := func(in []order.Cost) (out []plan.Cost) {
		for _, c := range in {
			out = append(out, plan.Cost{Key: c.Key, Amount: plan.Num(c.Amount)})
		}
		return out
	}
	return &plan.Price{Currency: price.Currency, Lines: costs(price.Lines), Low: plan.Num(price.Low), High: plan.Num(price.High), More: costs(price.More)}
}

// Keys of the warnings of a label.
const (
	warnChildren = "children" // of the six colours
	warnChoking  = "choking"
)

// label is what follows from the recipe: ingredients by weight as they went into the boil, those whose weight nobody entered after the rest.
func (w *work) label(p *plan.Plan) *plan.Label {
	s, b := w.o.Shop, p.Boil
	j := w.o.Job
	if j == nil {
		j = &job.Job{}
	}
	out := &plan.Label{Ingredients: []plan.Ingredient{}, Allergens: append([]string{}, s.Label.Allergens...), MayContain: append([]string{}, s.Label.MayContain...), Warnings: []plan.Warning{{Key: warnChoking, Of: []string{}}},
		BestBefore: s.Label.BestBeforeMonths}
	n := plan.Num(w.want.logs)
	add := func(key, name string, grams plan.Num, allergen bool) {
		out.Ingredients = append(out.Ingredients, plan.Ingredient{Key: key, Name: name, Grams: n * grams, Allergen: allergen})
	}
	add("sugar", "", b.SugarG, false)
	// Wheat must be stressed in the United States (21 U.S.C. 343(w)); glucose syrup of wheat is exempt in the European Union (Regulation (EU) 1169/2011, annex II).
	wheat := s.Label.SyrupFrom == "wheat" && j.Market != law.EU && j.Market != law.GB
	add("syrup", s.Label.SyrupFrom, b.SyrupG, wheat)
	if j.Acid != "" || b.AcidG > 0 {
		add("acid", j.Acid, b.AcidG, false)
	}
	if j.Flavour != "" || b.FlavourG > 0 {
		add("flavour", j.Flavour, b.FlavourG, false)
	}
	grams := map[string]inSweet{}
	var additives []string
	unnamed := len(p.Colours) > 1 && len(s.Stock) == 0
	for i, c := range p.Colours {
		for _, d := range w.shade(i).doses {
			key := law.Canonical(d.additive)
			if unnamed = unnamed || key == ""; key == "" {
				continue
			}
			x, known := grams[key]
			if !known {
				additives = append(additives, d.additive)
			}
			x.mg += float64(c.NeedG) * d.gPerKg
			x.blank = x.blank || d.gPerKg == 0
			grams[key] = x
		}
	}
	children := plan.Warning{Key: warnChildren, Of: []string{}}
	for _, a := range additives {
		if law.Warns(j.Market, a) {
			children.Of = append(children.Of, a)
		}
		g := grams[law.Canonical(a)].mg / 1000
		if grams[law.Canonical(a)].blank { // a part is not all of it
			g = 0
		}
		add("colour", a, plan.Num(g), false)
	}
	if unnamed {
		add("colour", "", 0, false)
	}
	if len(children.Of) > 0 {
		out.Warnings = append(out.Warnings, children)
	}
	if s.Label.Dusting != "" {
		add("dusting", s.Label.Dusting, 0, false)
	}
	sort.SliceStable(out.Ingredients, func(i, k int) bool { return out.Ingredients[i].Grams > out.Ingredients[k].Grams })
	if wheat && !slices.ContainsFunc(out.Allergens, func(a string) bool { return strings.EqualFold(a, "wheat") }) {
		out.Allergens = append(out.Allergens, "wheat")
	}
	return out
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
