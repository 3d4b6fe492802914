package order

import (
	"math"

	"sugarwright/planner/shop"
)

// Work is what an order takes, for its price.
type Work struct {
	Logs             int
	Packs            float64 // this drawing's share of them
	Share            float64 // this drawing's share of what is done once an order
	Crew             int
	LogMin           float64 // a log from the pour to the last cut
	SugarKg, SyrupKg float64 // of all logs
	FinishedKg       float64
	PartMin          float64 // the mean distinct part, made and laid; minutes of one person
	ColourMin        float64 // one more colour
	ColourKg         float64 // the least lump
}

// Cost is a line of the price: what it comes to; Blank where the shop has not entered all that it takes.
type Cost struct {
	Key    string
	Amount float64
}

// Price is what an order costs by the shop's own figures. Low and High are Blank while a line is; More is what one more
// log, colour or part adds.
type Price struct {
	Currency  string
	Lines     []Cost
	Low, High float64
	More      []Cost
}

// Of the shop's figures and the work.
func (w Work) Of(p shop.Price) Price {
	sum := func(pairs ...float64) float64 { // figure, quantity, figure, quantity
		total := 0.0
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == shop.Blank && pairs[i+1] != 0 {
				return shop.Blank
			}
			total += pairs[i] * pairs[i+1]
		}
		return total
	}
	hours := shop.Blank
	if p.SetUpMin != shop.Blank && (p.PackMin != shop.Blank || w.Packs == 0) {
		hours = (float64(w.Logs)*w.LogMin*float64(w.Crew) + p.SetUpMin*w.Share + math.Max(0, p.PackMin)*w.Packs) / 60
	}
	work := shop.Blank
	if hours != shop.Blank {
		work = sum(p.Hour, hours)
	}
	materials := sum(p.SugarKg, w.SugarKg, p.SyrupKg, w.SyrupKg, p.ExtrasKg, w.FinishedKg)
	out := Price{
		Currency: p.Currency,
		Low:      shop.Blank,
		High:     shop.Blank,
		Lines: []Cost{
			{"work", work},
			{"materials", materials},
			{"packs", sum(p.Pack, w.Packs)},
			{"order", sum(p.Order, w.Share)},
		},
	}
	total, known := 0.0, p.MarginPercent != shop.Blank && p.SpreadPercent != shop.Blank
	for _, l := range out.Lines {
		known = known && l.Amount != shop.Blank
		total += l.Amount
	}
	if known {
		total *= 1 + p.MarginPercent/100
		out.Low, out.High = total*(1-p.SpreadPercent/100), total*(1+p.SpreadPercent/100)
	}
	margin := func(v float64) float64 {
		if v == shop.Blank || p.MarginPercent == shop.Blank {
			return shop.Blank
		}
		return v * (1 + p.MarginPercent/100)
	}
	n := float64(w.Logs)
	perLog := shop.Blank
	if m := sum(p.SugarKg, w.SugarKg/n, p.SyrupKg, w.SyrupKg/n, p.ExtrasKg, w.FinishedKg/n); m != shop.Blank &&
		p.Hour != shop.Blank {
		perLog = m + p.Hour*w.LogMin*float64(w.Crew)/60
	}
	perColour := shop.Blank
	if m := sum(p.SugarKg, w.SugarKg/w.FinishedKg*w.ColourKg, p.SyrupKg, w.SyrupKg/w.FinishedKg*w.ColourKg, p.ExtrasKg, w.ColourKg); m != shop.Blank &&
		p.Hour != shop.Blank {
		perColour = n * (m + p.Hour*w.ColourMin/60)
	}
	out.More = []Cost{
		{"log", margin(perLog)},
		{"colour", margin(perColour)},
		{"part", margin(sum(p.Hour, n*w.PartMin/60))},
	}
	return out
}
