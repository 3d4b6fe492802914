package shop

import (
	"sugarwright/geom/artwork"
	"sugarwright/planner/law"
	"sugarwright/planner/mixing"
	"sugarwright/planner/settings"
)

// Stock is one of the shop's own named colours: its shade as measured on clear sugar, and pulled; what it is called on
// a label; how much the recipe takes.
type Stock struct {
	Name      string
	Swatch    map[Finish]artwork.RGB // measured, one at least
	Additive  string                 // as on a label, like "E 120"; "" when not entered
	DoseGPerK float64                // grams of it a kilogram of sugar; 0 when not entered
	Strength  float64                // share of the additive in it
	Line      int                    // in the shop's file
}

// PlainWhite is what pulled sugar without colour is called in mixes.
const PlainWhite = "white"

// maxStock bounds the colours of a shop.
const maxStock = 40

func (s *Shop) stock(t *settings.Table) {
	for _, name := range t.Keys() {
		if !settings.Plain(name, maxName) {
			t.Fault(name, "stock: a name is empty, longer than %d characters or holds control characters", maxName)
		}
		if name == PlainWhite {
			t.Fault(name, "stock: %q is pulled sugar without colour; give yours another name", name)
		}
		e := t.Table(name)
		if e == nil {
			continue
		}
		own := Stock{Name: name, Swatch: map[Finish]artwork.RGB{}, Strength: 1, Line: t.Line(name)}
		for _, f := range []Finish{Clear, Pulled} {
			hex := ""
			if e.Text(string(f), 40, &hex); hex == "" {
				continue
			}
			if rgb, ok := artwork.ParseColour(hex); ok {
				own.Swatch[f] = rgb
			} else {
				e.Fault(string(f), "stock: %q is not a colour; measure the shade and write it like \"#b0142a\"", hex)
			}
		}
		if e.Text("additive", maxName, &own.Additive); law.Several(own.Additive) {
			e.Fault("additive", "stock: additive of %q is %q; allowed is one, as on a label, like \"E 120\"", name,
				own.Additive)
		}
		e.Number("dose_g_per_kg", 0, maxDose, &own.DoseGPerK)
		e.Number("strength", 0.001, 1, &own.Strength)
		e.Done()
		if len(own.Swatch) == 0 {
			t.Fault(name, "stock: %q needs its measured shade, like { clear = \"#b0142a\" }, or pulled, or both", name)
		}
		if len(s.Stock) == maxStock {
			t.Fault(name, "stock: more than %d colours", maxStock)
			return
		}
		s.Stock = append(s.Stock, own)
	}
}

// Named is a colour of the stock.
func (s *Shop) Named(name string) (Stock, bool) {
	for _, x := range s.Stock {
		if x.Name == name {
			return x, true
		}
	}
	return Stock{}, false
}

// Any is the colour's measured shade, clear where it was measured so.
func (x Stock) Any() artwork.RGB {
	if rgb, ok := x.Swatch[Clear]; ok {
		return rgb
	}
	return x.Swatch[Pulled]
}

// Blank is a price that the shop has not entered.
const Blank = -1.0

// Price is the shop's own figures, in its own currency; Blank where not entered.
type Price struct {
	Currency string
	// An hour of one person; minutes of one person beside the plan's, and for a pack
	Hour, SetUpMin, PackMin      float64
	SugarKg, SyrupKg, ExtrasKg   float64 // extras: colour, acid and flavour, for a kilogram of sugar
	Pack, Order                  float64 // what a pack costs empty; what each order costs in any case
	MarginPercent, SpreadPercent float64
	Decimals                     float64 // of printed amounts
}

func blankPrice() Price {
	return Price{
		Hour:          Blank,
		SetUpMin:      Blank,
		PackMin:       Blank,
		SugarKg:       Blank,
		SyrupKg:       Blank,
		ExtrasKg:      Blank,
		Pack:          Blank,
		Order:         Blank,
		MarginPercent: Blank,
		SpreadPercent: Blank,
	}
}

// Label is what the shop says of its sweets for the label.
type Label struct {
	SyrupFrom        string   // wheat, maize, potato or other: what the glucose syrup is made of; "" when not entered
	Allergens        []string // by the shop's own account, all sources: flavour, dusting, oil, what else is handled
	MayContain       []string
	Dusting          string
	BestBeforeMonths int // 0 when not entered
}

func (l *Label) read(t *settings.Table) {
	t.OneOf("syrup_from", []string{"wheat", "maize", "potato", "other"}, &l.SyrupFrom)
	t.Texts("allergens", 20, maxName, &l.Allergens)
	t.Texts("may_contain", 20, maxName, &l.MayContain)
	t.Text("dusting", maxName, &l.Dusting)
	t.Whole("best_before_months", 1, 60, &l.BestBeforeMonths)
}

// Shade of a colour in a finish. Where only the clear one was measured, pulling is taken as a mix with white in linear
// light (PulledWhite); where only the pulled one, it is the best that is known.
func (s *Shop) Shade(x Stock, f Finish) artwork.RGB {
	if rgb, ok := x.Swatch[f]; ok {
		return rgb
	}
	if f == Clear {
		return x.Swatch[Pulled]
	}
	return mixing.Mix([]float64{1 - s.PulledWhite, s.PulledWhite},
		[]mixing.Light{mixing.Of(x.Swatch[Clear]), {1, 1, 1}}).RGB()
}
