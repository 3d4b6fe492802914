package planner

import (
	"fmt"
	"math"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/mixing"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

// shade is how a colour of the drawing is made.
type shade struct {
	shop.Colour
	from  string          // rule, mapped, wanted, nearest or mixed
	parts []plan.MixPart  // of the shop's stock, where it has any; grams are not known yet
	made  artwork.RGB     // how it comes out, as far as is known
	off   float64         // CIEDE2000, from what was wanted
	guess bool            // a shade in it was not measured in this finish
	doses []additiveShare // what the mix brings
}

// additiveShare is what one of the shop's colours brings to a kilogram of a colour's sugar.
type additiveShare struct {
	additive string  // "" where the shop has not named it
	weighG   float64 // of the shop's colour, as weighed
	gPerKg   float64 // of the additive in it; 0 where the shop has entered no dose
	line     int     // of the shop's file
}

// leastShare is the least share of a colour in a mix: a twentieth, below which hands do not weigh; set, no source.
const leastShare = 0.05

// match settles how each colour of the drawing is made: the client's wish first, then the maker's own mapping, else the nearest of the shop's colours or of their
// mixes, else (the shop has entered none) the drawing's colour itself. It refuses what no colour comes near to.
func (w *work) match() error {
	w.shades = make([]shade, len(w.m.Colours))
	if err := w.wishesKnown(); err != nil && !w.o.simpler {
		return err
	}
	var faults settings.Faults
	for i := range w.shades {
		s, fault := w.shadeOf(i)
		if fault != nil {
			faults = append(faults, *fault)
		}
		w.shades[i] = s
		if s.off > w.o.Shop.AlikeDE2000 && fault == nil {
			w.found.Add(finding.Finding{Code: finding.ColourOff, Severity: finding.Warning,
				Message:    fmt.Sprintf("%s of the drawing comes out as %s, %s: CIEDE2000 %.0f off, as anyone sees", w.m.Colours[i].RGB.Hex(), s.made.Hex(), s.Name, s.off),
				Suggestion: "show the client the colours of the proof, or map the colour in the shop's file"})
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return w.cameOutAlike()
}

// cameOutAlike warns of colours of the drawing that nobody can tell apart as they are made, and refuses a picture of which none stands out from the ground.
func (w *work) cameOutAlike() error {
	if len(w.o.Shop.Stock) == 0 && w.o.Job == nil {
		return nil // the drawing's own colours: the check speaks of them
	}
	like := w.o.Shop.LikeDE2000
	seen := len(w.shades) == 1
	for i, a := range w.shades {
		seen = seen || i > 0 && partition.DE2000(a.made, w.shades[0].made) >= like
		for k := range i {
			b := w.shades[k]
			if off := partition.DE2000(a.made, b.made); off < like || a.Name == b.Name && a.Finish == b.Finish && a.from != "rule" {
				w.found.Add(finding.Finding{Code: finding.AlikeColours, Severity: finding.Warning,
					Message:    fmt.Sprintf("%s and %s of the drawing come out alike, as %s and %s (CIEDE2000 %.1f, below %g nobody tells them apart)", w.m.Colours[k].RGB.Hex(), w.m.Colours[i].RGB.Hex(), b.Name, a.Name, off, like),
					Suggestion: "map one of them to another colour, or draw the two as one"})
			}
		}
	}
	if seen {
		return nil
	}
	text := "nothing of the picture stands out from the ground: all of its colours come out as the ground's; allowed is a difference of limits.like_de2000 or more for one of them"
	for _, c := range w.m.Colours {
		if w.o.Job != nil {
			if wish, ok := w.o.Job.Colours[c.RGB]; ok {
				return w.o.Job.Fault(wish.Line, "%s", text)
			}
		}
	}
	return settings.Faults{{File: w.o.Shop.File, Line: w.o.Shop.Lines.Stock, Text: text}}
}

// wishesKnown refuses a wish for a colour that the drawing does not have; with several designs another may have it.
func (w *work) wishesKnown() error {
	j := w.o.Job
	if j == nil || len(j.Designs) > 1 {
		return nil
	}
	has := map[artwork.RGB]bool{}
	list := ""
	for i, c := range w.m.Colours {
		has[c.RGB] = true
		if i > 0 {
			list += ", "
		}
		list += c.RGB.Hex()
	}
	var faults settings.Faults
	for rgb, wish := range j.Colours {
		if !has[rgb] {
			faults = append(faults, settings.Fault{File: j.File, Line: wish.Line, Text: fmt.Sprintf("colours: the drawing has no %s; allowed are %s", rgb.Hex(), list)})
		}
	}
	if len(faults) > 0 {
		faults.Sort()
		return faults
	}
	return nil
}

// shadeOf is how one colour is made.
func (w *work) shadeOf(i int) (shade, *settings.Fault) {
	sh := w.o.Shop
	rgb := w.m.Colours[i].RGB
	want, finish, line, wished := rgb, shop.Finish(""), 0, false
	if w.o.Job != nil {
		if wish, ok := w.o.Job.Colours[rgb]; ok {
			finish, line = wish.Finish, wish.Line
			if x, named := sh.Named(wish.Named); named {
				s := w.ofStock(x, w.finishFor(i, x, finish), rgb, "wanted")
				s.off = 0 // what was wanted
				return s, nil
			}
			want, wished = wish.Shade, true
		}
	}
	if own, ok := sh.Colours[rgb]; ok && !wished {
		s := shade{Colour: own, from: "mapped", made: rgb}
		if x, named := sh.Named(own.Name); named {
			if own.DoseGPerK > 0 { // its own for this
				x.DoseGPerK = own.DoseGPerK
			}
			s = w.ofStock(x, own.Finish, rgb, "mapped")
		} else { // of no known additive
			s.doses = []additiveShare{{weighG: own.DoseGPerK}}
		}
		s.off = 0 // the maker's word
		return s, nil
	}
	if len(sh.Stock) == 0 {
		s := byRule(i, want, finish)
		if wished {
			s.from = "wanted"
		}
		return s, nil
	}
	s := w.nearest(want, i == 0, finish)
	if s.off <= sh.ColourDE2000 {
		return s, nil
	}
	text := fmt.Sprintf("no colour of the shop comes near %s of the drawing: the best is %s, %s, CIEDE2000 %.0f off; allowed is %g (limits.colour_de2000). Map it in [colours] of the shop's file or of the order's, or add a colour to [stock]",
		want.Hex(), s.Name, s.made.Hex(), s.off, sh.ColourDE2000)
	if finish == shop.Clear {
		text += "; a pale shade is white and colour, finish = \"pulled\""
	}
	if math.IsInf(s.off, 1) {
		text = fmt.Sprintf("no colour of [stock] was measured %s, as %s of the drawing is wanted; allowed is the other finish, or a measured shade", finish, rgb.Hex())
	}
	if wished {
		return s, &settings.Fault{File: w.o.Job.File, Line: line, Text: text}
	}
	return s, &settings.Fault{File: sh.File, Line: sh.Lines.Stock, Text: text}
}

// byRule is a colour that nobody mapped: the ground, and near-white, are pulled, all else is clear, unless it is said.
func byRule(i int, rgb artwork.RGB, said shop.Finish) shade {
	f := shop.Clear
	if i == 0 || nearWhite(rgb) {
		f = shop.Pulled
	}
	if said != "" {
		f = said
	}
	return shade{Colour: shop.Colour{Name: partition.Name(rgb), Finish: f}, from: "rule", made: rgb}
}

// nearWhite tells whether a shade is that of plain pulled sugar.
func nearWhite(rgb artwork.RGB) bool {
	l, a, b := partition.Lab(rgb)
	return l > 90 && math.Hypot(a, b) < 8
}

// finishFor is the finish in which a colour of the stock comes nearer, unless it is said.
func (w *work) finishFor(i int, x shop.Stock, said shop.Finish) shop.Finish {
	rgb := w.m.Colours[i].RGB
	_, clear := x.Swatch[shop.Clear]
	_, pulled := x.Swatch[shop.Pulled]
	switch {
	case said != "":
		return said
	case pulled && !clear || i == 0 || partition.DE2000(rgb, w.o.Shop.Shade(x, shop.Pulled)) < partition.DE2000(rgb, w.o.Shop.Shade(x, shop.Clear)):
		return shop.Pulled
	}
	return shop.Clear
}

// ofStock is one colour of the shop as it is.
func (w *work) ofStock(x shop.Stock, f shop.Finish, want artwork.RGB, from string) shade {
	made := w.o.Shop.Shade(x, f)
	return shade{Colour: shop.Colour{Name: x.Name, Finish: f, DoseGPerK: x.DoseGPerK}, from: from, parts: []plan.MixPart{{Name: x.Name, Share: 1}}, made: made,
		off: partition.DE2000(want, made), doses: dosesOf(x, 1), guess: guessed(x, f)}
}

// guessed tells whether a colour's shade in a finish was not measured.
func guessed(x shop.Stock, f shop.Finish) bool {
	_, measured := x.Swatch[f]
	return !measured && x.Name != shop.PlainWhite
}

// dosesOf is what a colour of the stock brings by its share of a mix, named and dosed or not.
func dosesOf(x shop.Stock, share float64) []additiveShare {
	return []additiveShare{{x.Additive, share * x.DoseGPerK, share * x.DoseGPerK * x.Strength, x.Line}}
}

// nearest is the shop's colour, or the mix, that comes nearest to a shade: clear ones among themselves, pulled ones among themselves and with plain white.
func (w *work) nearest(want artwork.RGB, ground bool, said shop.Finish) shade {
	sh := w.o.Shop
	best := shade{off: math.Inf(1)}
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
		if !ok || r.DE2000 >= best.off || best.off <= sh.LikeDE2000 && len(r.Parts) >= len(best.parts) {
			continue
		}
		best = shade{Colour: shop.Colour{Finish: f}, from: "nearest", made: r.Made, off: r.DE2000}
		for k, p := range r.Parts {
			x := stock[p]
			best.parts = append(best.parts, plan.MixPart{Name: x.Name, Share: plan.Num(r.Shares[k])})
			best.DoseGPerK += r.Shares[k] * x.DoseGPerK
			best.guess = best.guess || guessed(x, f)
			if x.Name != shop.PlainWhite {
				best.doses = append(best.doses, dosesOf(x, r.Shares[k])...)
			}
			if best.Name += x.Name; k+1 < len(r.Parts) {
				best.Name += " + "
			}
		}
		if len(r.Parts) > 1 {
			best.from = "mixed"
		}
	}
	return best
}
