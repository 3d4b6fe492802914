package planner

import (
	"fmt"
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

// doses are the additives of each colour's sugar and of the piece, beside the market's limits. The error is of type settings.Faults: a piece that is over a limit.
func (w *work) doses() ([]plan.Dose, error) {
	mass := make([]float64, len(w.m.Colours))
	total := 0.0
	for _, r := range w.m.Regions {
		m := r.Area * w.density(r.Colour)
		mass[r.Colour] += m
		total += m
	}
	inPiece := map[string]float64{}
	for i, m := range mass {
		for _, d := range w.shade(i).doses {
			inPiece[law.Canonical(d.additive)] += m / total * d.gPerKg * 1000
		}
	}
	market := ""
	if w.o.Job != nil {
		market = w.o.Job.Market
	}
	group := 0.0
	for a, mg := range inPiece {
		if law.Of(market, a).GroupMg > 0 {
			group += mg
		}
	}
	var out []plan.Dose
	var faults settings.Faults
	var unknown []string
	add := func(colour, additive string, mgPerKg, inPiece float64, l law.Limit, line int) {
		x := plan.Dose{Colour: colour, Additive: additive, MgPerKg: plan.Num(mgPerKg), PieceMg: plan.Num(inPiece), Limit: -1, Rule: string(l.Rule), Source: l.Source, Date: l.Seen}
		if mgPerKg == 0 {
			x.MgPerKg, x.PieceMg = shop.Blank, shop.Blank
		}
		switch l.Rule {
		case law.Most:
			x.Limit = plan.Num(l.MgPerKg)
		case law.Group:
			x.Limit = plan.Num(l.GroupMg)
		case law.Forbidden:
			x.Limit = 0
		}
		if l.Over(inPiece, group) {
			faults = append(faults, settings.Fault{File: w.o.Shop.File, Line: line, Text: overLimit(additive, inPiece, group, market, l)})
		}
		out = append(out, x)
		if l.Rule == law.NoMarket || l.Rule == law.Unlisted {
			unknown = append(unknown, named(additive))
		}
	}
	for i := range mass {
		alone := 0.0 // of the group, in this colour's sugar by itself
		for _, d := range w.shade(i).doses {
			if law.Of(market, d.additive).GroupMg > 0 {
				alone += d.gPerKg * 1000
			}
		}
		for _, d := range w.shade(i).doses {
			if d.additive == "" && d.weighG == 0 {
				continue // nothing is known of it
			}
			key := law.Canonical(d.additive)
			l := law.Of(market, key)
			add(colourID(i), d.additive, d.gPerKg*1000, inPiece[key], l, d.line)
			w.shades[i].strong = w.shades[i].strong || l.Over(d.gPerKg*1000, alone)
		}
	}
	if a := w.o.Shop.AcidPercent; a > 0 {
		name := ""
		if w.o.Job != nil {
			name = w.o.Job.Acid
		}
		add("", name, a*1e4, a*1e4, law.OfAcid(market, name), w.o.Shop.Lines.Acid)
	}
	if len(faults) > 0 {
		faults.Sort()
		return nil, slices.Compact(faults)
	}
	if len(unknown) > 0 {
		slices.Sort(unknown)
		w.found.Add(finding.Finding{Code: finding.LimitUnknown, Severity: finding.Note, Message: "no published limit is known to us for " + strings.Join(slices.Compact(unknown), ", ") + in(market),
			Suggestion: "look up the law of the market before you sell; name the market in the order's file (EU, GB, US)"})
	}
	return out, nil
}

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
	for i, c := range p.Colours {
		chain.SpareG += float64(c.SpareG)
		chain.TrimG += float64(c.TrimG)
		chain.SticksG += float64(c.NeedG - c.SpareG - c.TrimG - c.MassG)
		left := order.Colour{ID: c.ID, LeftG: float64(c.SpareG + c.TrimG), DensityGCm3: float64(c.Density), Jacket: w.m.Colours[i].RGB == w.o.Jacket, StripeMM: s.ThinnestWrapMM,
			Strong: w.shade(i).strong, MostMM: math.Pi * w.log.DiameterMM / 4, LogLengthMM: w.log.LengthMM, PieceVolumeMM: math.Pi / 4 * w.o.Order.PieceMM * w.o.Order.PieceMM * w.o.Order.CutMM}
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
	wheat := s.Label.SyrupFrom == "wheat" && j.Market != job.EU && j.Market != job.GB
	add("syrup", s.Label.SyrupFrom, b.SyrupG, wheat)
	if j.Acid != "" || b.AcidG > 0 {
		add("acid", j.Acid, b.AcidG, false)
	}
	if j.Flavour != "" || b.FlavourG > 0 {
		add("flavour", j.Flavour, b.FlavourG, false)
	}
	grams := map[string]float64{}
	var additives []string
	seen := map[string]bool{}
	unnamed := len(p.Colours) > 1 && len(s.Stock) == 0
	for i, c := range p.Colours {
		for _, d := range w.shade(i).doses {
			key := law.Canonical(d.additive)
			if unnamed = unnamed || key == ""; key == "" {
				continue
			}
			if !seen[key] {
				seen[key] = true
				additives = append(additives, d.additive)
			}
			grams[key] += float64(c.NeedG) / 1000 * d.gPerKg
		}
	}
	children := plan.Warning{Key: warnChildren, Of: []string{}}
	for _, a := range additives {
		if law.Warns(j.Market, a) {
			children.Of = append(children.Of, a)
		}
		add("colour", a, plan.Num(grams[law.Canonical(a)]), false)
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
	if wheat && !slices.Contains(out.Allergens, "wheat") {
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
