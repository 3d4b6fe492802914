package palette

import (
	"fmt"
	"math"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner/mixing"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

// leastShare is the least share of a colour in a mix: a twentieth, below which hands do not weigh; set, no source.
const leastShare = 0.05

// shadeOf is how one colour is made.
func (t matcher) shadeOf(i int) (Shade, *settings.Fault) {
	sh := t.shop
	rgb := t.m.Colours[i].RGB
	want, finish, line, wished := rgb, shop.Finish(""), 0, false
	if t.job != nil {
		if wish, ok := t.job.Colours[rgb]; ok {
			finish, line = wish.Finish, wish.Line
			if x, named := sh.Named(wish.Named); named {
				s := t.ofStock(x, t.finishFor(i, x, finish), rgb, plan.Wanted)
				s.OffDE2000 = 0 // what was wanted
				return s, nil
			}
			want, wished = wish.Shade, true
		}
	}
	if own, ok := sh.Colours[rgb]; ok && !wished {
		s := Shade{Colour: own, From: plan.Mapped, Made: rgb}
		if x, named := sh.Named(own.Name); named {
			if own.DoseGPerK > 0 { // its own for this
				x.DoseGPerK = own.DoseGPerK
			}
			s = t.ofStock(x, own.Finish, rgb, plan.Mapped)
		} else { // of no known additive
			s.Doses = []Additive{{WeighG: own.DoseGPerK}}
		}
		s.OffDE2000 = 0 // the maker's word
		return s, nil
	}
	if len(sh.Stock) == 0 {
		s := byRule(i, want, finish)
		if wished {
			s.From = plan.Wanted
		}
		return s, nil
	}
	s := t.nearest(want, i == 0, finish)
	if s.OffDE2000 <= sh.ColourDE2000 {
		return s, nil
	}
	text := fmt.Sprintf(
		"no colour of the shop comes near %s of the drawing: the best is %s, %s, CIEDE2000 %.0f off; allowed is %g (limits.colour_de2000). Map it in [colours] of the shop's file or of the order's, or add a colour to [stock]; sugarwright job DRAWING --shop FILE lists what it would take for each",
		want.Hex(), s.Name, s.Made.Hex(), s.OffDE2000, sh.ColourDE2000)
	if finish == shop.Clear {
		text += "; a pale shade is white and colour, finish = \"pulled\""
	}
	if math.IsInf(s.OffDE2000, 1) {
		text = fmt.Sprintf(
			"no colour of [stock] was measured %s, as %s of the drawing is wanted; allowed is the other finish, or a measured shade",
			finish, rgb.Hex())
	}
	if wished {
		return s, &settings.Fault{File: t.job.File, Line: line, Text: text}
	}
	return s, &settings.Fault{File: sh.File, Line: sh.Lines.Stock, Text: text}
}

// byRule is a colour that nobody mapped: the ground, and near-white, are pulled, all else is clear, unless it is said.
func byRule(i int, rgb artwork.RGB, said shop.Finish) Shade {
	f := shop.Clear
	if i == 0 || NearWhite(rgb) {
		f = shop.Pulled
	}
	if said != "" {
		f = said
	}
	return Shade{Colour: shop.Colour{Name: partition.Name(rgb), Finish: f}, From: plan.ByRule, Made: rgb}
}

// NearWhite tells whether a shade is that of plain pulled sugar.
func NearWhite(rgb artwork.RGB) bool {
	l, a, b := partition.Lab(rgb)
	return l > 90 && math.Hypot(a, b) < 8
}

// finishFor is the finish in which a colour of the stock comes nearer, unless it is said.
func (t matcher) finishFor(i int, x shop.Stock, said shop.Finish) shop.Finish {
	rgb := t.m.Colours[i].RGB
	_, clear := x.Swatch[shop.Clear]
	_, pulled := x.Swatch[shop.Pulled]
	switch {
	case said != "":
		return said
	case pulled && !clear || i == 0 || partition.DE2000(rgb, t.shop.Shade(x, shop.Pulled)) < partition.DE2000(rgb, t.shop.Shade(x, shop.Clear)):
		return shop.Pulled
	}
	return shop.Clear
}

// ofStock is one colour of the shop as it is.
func (t matcher) ofStock(x shop.Stock, f shop.Finish, want artwork.RGB, from plan.ShadeFrom) Shade {
	made := t.shop.Shade(x, f)
	return Shade{
		Colour:    shop.Colour{Name: x.Name, Finish: f, DoseGPerK: x.DoseGPerK},
		From:      from,
		Parts:     []plan.MixPart{{Name: x.Name, Share: 1}},
		Made:      made,
		OffDE2000: partition.DE2000(want, made),
		Doses:     dosesOf(x, 1),
		Guess:     guessed(x, f),
	}
}

// guessed tells whether a colour's shade in a finish was not measured.
func guessed(x shop.Stock, f shop.Finish) bool {
	_, measured := x.Swatch[f]
	return !measured && x.Name != shop.PlainWhite
}

// dosesOf is what a colour of the stock brings by its share of a mix, named and dosed or not.
func dosesOf(x shop.Stock, share float64) []Additive {
	return []Additive{{x.Additive, share * x.DoseGPerK, share * x.DoseGPerK * x.Strength, x.Line}}
}

// nearest is the shop's colour, or the mix, that comes nearest to a shade: clear ones among themselves, pulled ones
// among themselves and with plain white.
func (t matcher) nearest(want artwork.RGB, ground bool, said shop.Finish) Shade {
	sh := t.shop
	best := Shade{OffDE2000: math.Inf(1)}
	for _, f := range []shop.Finish{shop.Clear, shop.Pulled} {
		if said != "" && f != said || said == "" && ground && f == shop.Clear {
			continue
		}
		stock := []shop.Stock{}
		var of []mixing.Light
		if f == shop.Pulled {
			stock, of = append(stock, shop.Stock{Name: shop.PlainWhite}), append(of, mixing.Light{1, 1, 1})
		}
		for _, x := range sh.Stock {
			if _, measured := x.Swatch[shop.Clear]; f == shop.Clear && !measured {
				continue
			}
			stock, of = append(stock, x), append(of, mixing.Of(sh.Shade(x, f)))
		}
		r, ok := mixing.Best(want, of, sh.LikeDE2000, leastShare)
		if !ok || r.DE2000 >= best.OffDE2000 || best.OffDE2000 <= sh.LikeDE2000 && len(r.Parts) >= len(best.Parts) {
			continue
		}
		best = Shade{Colour: shop.Colour{Finish: f}, From: plan.Nearest, Made: r.Made, OffDE2000: r.DE2000}
		for k, p := range r.Parts {
			x := stock[p]
			best.Parts = append(best.Parts, plan.MixPart{Name: x.Name, Share: plan.Num(r.Shares[k])})
			best.DoseGPerK += r.Shares[k] * x.DoseGPerK
			best.Guess = best.Guess || guessed(x, f)
			if x.Name != shop.PlainWhite {
				best.Doses = append(best.Doses, dosesOf(x, r.Shares[k])...)
			}
			if best.Name += x.Name; k+1 < len(r.Parts) {
				best.Name += " + "
			}
		}
		if len(r.Parts) > 1 {
			best.From = plan.Mixed
		}
	}
	return best
}
