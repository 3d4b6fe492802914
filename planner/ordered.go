package planner

import (
	"math"
	"slices"
	"sort"
	"strings"

	"sugarwright/planner/job"
	"sugarwright/planner/law"
	"sugarwright/planner/order"
	"sugarwright/planner/plan"
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
	count := w.want.pieces
	if asked { // bad faces are found when the packs are filled
		count = int(math.Ceil(float64(count) * (1 + s.SparePercent/100)))
	}
	gross := pieceG / (1 - s.EndLoss)
	w.want.logs, o.Pieces = order.Logs(count, gross, s.MostG)
	if asked && float64(o.Pieces)*gross < s.LeastG {
		o.Pieces, o.WeightG = 0, s.LeastG
	}
	return o, nil
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
	o.Price = w.price(p, packs)
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
	return &plan.Price{Margin: plan.Num(w.o.Shop.Price.MarginPercent), Spread: plan.Num(w.o.Shop.Price.SpreadPercent), Currency: price.Currency, Lines: costs(price.Lines), Low: plan.Num(price.Low), High: plan.Num(price.High), More: costs(price.More)}
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
