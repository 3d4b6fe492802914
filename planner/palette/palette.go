// Package palette settles how each colour of a drawing is made in the shop's sugar, and holds the shop's recipe against
// the market's limits.
//
// Guarantees: every colour of the map has a shade, or a fault names the line of the file that keeps it from one; the
// client's wish comes before the maker's mapping, and that before what is computed; no sweet over a published limit
// passes.
package palette

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/job"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

// Shade is how a colour of the drawing is made.
type Shade struct {
	shop.Colour
	From      plan.ShadeFrom
	Parts     []plan.MixPart // of the shop's stock, where it has any; grams are not known yet
	Made      artwork.RGB    // how it comes out, as far as is known
	OffDE2000 float64        // CIEDE2000, from what was wanted
	Guess     bool           // a shade in it was not measured in this finish
	Doses     []Additive     // what the mix brings
}

// Additive is what one of the shop's colours brings to a kilogram of a colour's sugar.
type Additive struct {
	Name   string  // "" where the shop has not named it
	WeighG float64 // of the shop's colour, as weighed
	GPerKg float64 // of the additive in it; 0 where the shop has entered no dose
	Line   int     // of the shop's file
}

// Palette is the shades of a map's colours, by colour of the map, and what they bring to the sweets.
type Palette struct {
	Shades   []Shade
	Doses    []plan.Dose
	Strong   []bool // colours whose sugar by itself is over a limit
	Findings finding.List
	shop     *shop.Shop
}

// Density of a colour's sugar, g/cm3.
func (p *Palette) Density(colour int) float64 {
	if p.Pulled(colour) {
		return p.shop.PulledDensity
	}
	return p.shop.ClearDensity
}

// Pulled tells whether a colour's sugar is pulled until it is opaque.
func (p *Palette) Pulled(colour int) bool { return p.Shades[colour].Finish == shop.Pulled }

// Tinted tells whether colour is put into the sugar: it is no plain white.
func (p *Palette) Tinted(colour int) bool {
	x := p.Shades[colour]
	return x.DoseGPerK > 0 || !NearWhite(x.Made)
}

// Check holds every shade to a name, a finish and shares that sum to one.
func (p *Palette) Check() error {
	for i, s := range p.Shades {
		sum := 0.0
		for _, m := range s.Parts {
			sum += float64(m.Share)
		}
		if s.Name == "" || s.Finish == "" || len(s.Parts) > 0 && math.Abs(sum-1) > 1e-6 {
			return finding.Impossible("colour %d is made as %q, %q, of shares that sum to %g", i, s.Name, s.Finish, sum)
		}
	}
	return nil
}

// Unmatched is the palette of a drawing that was refused before its colours were matched: the drawing's own.
func Unmatched(m *partition.Map, s *shop.Shop) *Palette {
	p := &Palette{shop: s}
	for i, c := range m.Colours {
		p.Shades = append(p.Shades, byRule(i, c.RGB, ""))
	}
	return p
}

// Of settles how each colour of a map is made: the client's wish first, then the maker's own mapping, else the nearest
// of the shop's colours or of their mixes, else (the shop has entered none) the drawing's colour itself. wishes says
// whether a wish for a colour that the drawing does not have is a fault. The error is of type settings.Faults.
func Of(m *partition.Map, s *shop.Shop, j *job.Job, wishes bool) (*Palette, error) {
	p := &Palette{shop: s}
	t := matcher{m: m, shop: s, job: j}
	if err := t.wishesKnown(); err != nil && wishes {
		return nil, err
	}
	var faults settings.Faults
	for i, c := range m.Colours {
		shade, fault := t.shadeOf(i)
		if fault != nil {
			faults = append(faults, *fault)
		}
		p.Shades = append(p.Shades, shade)
		if shade.OffDE2000 > s.AlikeDE2000 && fault == nil {
			p.Findings.Add(
				finding.New(finding.ColourOff, finding.Warning, c.RGB.Hex(), shade.Made.Hex(), shade.Name,
					shade.OffDE2000),
			)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	apart(p.Shades)
	alike, err := t.cameOutAlike(p.Shades)
	if err != nil {
		return nil, err
	}
	p.Findings.Add(alike...)
	return p, p.hold(m, j)
}

// Best is how each colour of a map would be made, also where that is farther off than the shop allows.
func Best(m *partition.Map, s *shop.Shop, j *job.Job) []Shade {
	t := matcher{m: m, shop: s, job: j}
	var out []Shade
	for i := range m.Colours {
		shade, _ := t.shadeOf(i)
		out = append(out, shade)
	}
	apart(out)
	return out
}

// apart gives shades that were named by rule names of their own: of two of one name the lighter and the darker, of more
// a number each, the lightest first.
func apart(shades []Shade) {
	by := map[string][]int{}
	var names []string
	for i, s := range shades {
		if by[s.Name] == nil {
			names = append(names, s.Name)
		}
		by[s.Name] = append(by[s.Name], i)
	}
	for _, name := range names {
		same := by[name]
		rule := func(i int) bool { return shades[i].From == plan.ByRule }
		if len(same) < 2 || !slices.ContainsFunc(same, rule) {
			continue
		}
		sort.SliceStable(same, func(a, b int) bool { return light(shades[same[a]].Made) > light(shades[same[b]].Made) })
		for k, i := range same {
			own := fmt.Sprintf("%s %d", name, k+1)
			if pair := [2]string{"light " + name, "dark " + name}; len(same) == 2 && by[pair[0]] == nil && by[pair[1]] == nil {
				own = pair[k]
			}
			if rule(i) {
				shades[i].Name = own
			}
		}
	}
}

// light is how light a colour is: its L*.
func light(c artwork.RGB) float64 {
	l, _, _ := partition.Lab(c)
	return l
}

// matcher is what matching the colours of one drawing needs.
type matcher struct {
	m    *partition.Map
	shop *shop.Shop
	job  *job.Job
}

// cameOutAlike warns of colours of the drawing that nobody can tell apart as they are made, and refuses a picture of
// which none stands out from the ground.
func (t matcher) cameOutAlike(shades []Shade) (found finding.List, err error) {
	if len(t.shop.Stock) == 0 && t.job == nil {
		return nil, nil // the drawing's own colours: the check speaks of them
	}
	like := t.shop.LikeDE2000
	seen := len(shades) == 1
	for i, a := range shades {
		seen = seen || i > 0 && partition.DE2000(a.Made, shades[0].Made) >= like
		for k := range i {
			b := shades[k]
			off := partition.DE2000(a.Made, b.Made)
			if off < like || a.Name == b.Name && a.Finish == b.Finish && a.From != plan.ByRule {
				first, second := t.m.Colours[k].RGB.Hex(), t.m.Colours[i].RGB.Hex()
				found.Add(
					finding.New(finding.AlikeColours, finding.Warning, first, second, b.Name, a.Name, off, like).In(
						"as_made"),
				)
			}
		}
	}
	if seen {
		return found, nil
	}
	const text = "nothing of the picture stands out from the ground: all of its colours come out as the ground's; " +
		"allowed is a difference of limits.like_de2000 or more for one of them"
	for _, c := range t.m.Colours {
		if t.job != nil {
			if wish, ok := t.job.Colours[c.RGB]; ok {
				return nil, t.job.Fault(wish.Line, "%s", text)
			}
		}
	}
	return nil, settings.Faults{{File: t.shop.File, Line: t.shop.Lines.Stock, Text: text}}
}

// wishesKnown refuses a wish for a colour that the drawing does not have; with several designs another may have it.
func (t matcher) wishesKnown() error {
	j := t.job
	if j == nil || len(j.Designs) > 1 {
		return nil
	}
	has := map[artwork.RGB]bool{}
	list := ""
	for i, c := range t.m.Colours {
		has[c.RGB] = true
		if i > 0 {
			list += ", "
		}
		list += c.RGB.Hex()
	}
	var faults settings.Faults
	for rgb, wish := range j.Colours {
		if !has[rgb] {
			text := fmt.Sprintf("colours: the drawing has no %s; allowed are %s", rgb.Hex(), list)
			faults = append(faults, settings.Fault{File: j.File, Line: wish.Line, Text: text})
		}
	}
	if len(faults) > 0 {
		faults.Sort()
		return faults
	}
	return nil
}
