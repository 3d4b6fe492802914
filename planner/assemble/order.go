package assemble

import (
	"math"

	"sugarwright/planner/order"
	"sugarwright/planner/plan"
)

// stripeShare of the way round the log is what one colour's stripes may take, so that those of four fit; tuned.
const stripeShare = 0.25

// order is the way from the boil to the packs.
func (s *Stages) order(p *plan.Plan) {
	want := s.Log.Wanted
	made := want.Logs * p.Piece.Count
	o := &plan.Order{
		Logs:    want.Logs,
		LeastG:  plan.Num(s.Shop.LeastG),
		MostG:   plan.Num(s.Shop.MostG),
		Wanted:  want.Pieces,
		Made:    made,
		Packs:   []plan.Pack{},
		Designs: []plan.Design{},
		Left:    []plan.Left{},
		Doses:   append([]plan.Dose{}, s.Palette.Doses...),
		EndsG:   plan.Num(float64(p.Log.MassG) - float64(p.Piece.Count)*float64(p.Piece.MassG)),
	}
	if x := s.Smallest; x != nil {
		o.SmallestMM, o.SmallestG = x.DiameterMM, x.MassG
	}
	packed := made
	if want.Pieces > 0 {
		packed = min(made, want.Pieces)
	}
	o.Spare = made - packed
	o.Left = append(o.Left, s.leftovers(p)...)
	for _, l := range order.WholeGrams(s.chain(p, packed).Ledger()) {
		o.Ledger = append(o.Ledger, plan.Balance{Key: plan.BalanceKey(l.Key), Off: plan.Num(l.OffG), Left: plan.Num(l.LeftG)})
	}
	packs := 0
	for _, x := range want.Packs {
		packs += x.Number
		pack := plan.Pack{
			Number: x.Number,
			Pieces: x.Pieces,
			Own:    plan.Num(x.Own),
			AskedG: plan.Num(x.AskedG),
			NetG:   plan.Num(x.NetG),
		}
		o.Packs = append(o.Packs, pack)
	}
	if j := s.Job; j != nil {
		for _, d := range j.Designs {
			o.Designs = append(o.Designs, plan.Design{File: d.File, Share: d.Share})
		}
	}
	p.Order = o
	o.Price = s.price(p, packs)
	p.Label = s.label(p)
}

// chain is what one log goes through; packed are the pieces of all logs that go into packs.
func (s *Stages) chain(p *plan.Plan, packed int) order.Chain {
	b := p.Boil
	c := order.Chain{
		FoldedG:   float64(b.FoldedG),
		SugarG:    float64(b.SugarG),
		SyrupG:    float64(b.SyrupG),
		WaterG:    float64(b.WaterG),
		FinishedG: float64(b.FinishedG),
		LogG:      float64(p.Log.MassG),
		EndLoss:   s.Shop.EndLoss,
		PieceG:    float64(p.Piece.MassG),
		Count:     p.Piece.Count,
		Logs:      s.Log.Wanted.Logs,
		Packed:    packed,
	}
	for _, x := range p.Colours {
		c.SpareG += float64(x.SpareG)
		c.TrimG += float64(x.TrimG)
		c.SticksG += float64(x.NeedG - x.SpareG - x.TrimG - x.MassG)
	}
	return c
}

// leftovers are what is left of each colour, and its use.
func (s *Stages) leftovers(p *plan.Plan) (out []plan.Left) {
	jacket := -1
	for _, r := range s.Map.Regions {
		if r.Jacket {
			jacket = r.Colour
		}
	}
	o := s.Order
	for i, c := range p.Colours {
		left := order.Colour{
			ID:            c.ID,
			LeftG:         float64(c.SpareG + c.TrimG),
			DensityGCm3:   float64(c.Density),
			Jacket:        i == jacket,
			StripeMM:      s.Shop.ThinnestWrapMM,
			Strong:        s.Palette.Strong[i],
			MostMM:        stripeShare * math.Pi * s.Log.DiameterMM,
			LogLengthMM:   s.Log.LengthMM,
			PieceVolumeMM: math.Pi / 4 * o.PieceMM * o.PieceMM * o.CutMM,
		}
		if left.LeftG > 0 {
			u := left.Use(s.Shop.LeastLumpG)
			out = append(
				out,
				plan.Left{
					Colour:  u.ID,
					Grams:   plan.Num(u.Grams),
					Use:     plan.LeftUse(u.Use),
					Sweets:  u.Sweets,
					WidthMM: plan.Num(u.WidthMM),
				},
			)
		}
	}
	return out
}

// price by the shop's own figures.
func (s *Stages) price(p *plan.Plan, packs int) *plan.Price {
	m, logs := s.Shop.Minutes, s.Log.Wanted.Logs
	made, minutes := 0, 0.0
	for _, st := range p.Steps {
		switch st.Do {
		case plan.DoMake:
			made++
			minutes += float64(st.Minutes)
		case plan.DoChop, plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll, plan.DoTurn:
			minutes += float64(st.Minutes) * float64(st.Hands)
		}
	}
	n := float64(logs)
	share := 1.0
	if j := s.Job; j != nil {
		share = float64(j.Own) / float64(j.All)
	}
	work := order.Work{
		Logs:       logs,
		Packs:      share * float64(packs),
		Share:      share,
		Crew:       s.Shop.Crew,
		LogMin:     float64(p.Clock.EndMin),
		SugarKg:    n * float64(p.Boil.SugarG) / 1000,
		SyrupKg:    n * float64(p.Boil.SyrupG) / 1000,
		FinishedKg: n * float64(p.Boil.FinishedG) / 1000,
		PartMin:    minutes / float64(max(1, made)),
		ColourMin:  m.Colour,
		ColourKg:   s.Shop.LeastLumpG / 1000,
	}
	price := work.Of(s.Shop.Price)
	costs := func(in []order.Cost) (out []plan.Cost) {
		for _, c := range in {
			out = append(out, plan.Cost{Key: plan.CostKey(c.Key), Amount: plan.Num(c.Amount)})
		}
		return out
	}
	return &plan.Price{
		Margin:   plan.Num(s.Shop.Price.MarginPercent),
		Spread:   plan.Num(s.Shop.Price.SpreadPercent),
		Currency: price.Currency,
		Decimals: int(s.Shop.Price.Decimals),
		Lines:    costs(price.Lines),
		Low:      plan.Num(price.Low),
		High:     plan.Num(price.High),
		More:     costs(price.More),
	}
}
