package sheet

import (
	"math"
	"strconv"

	"github.com/lucasb-eyer/go-colorful"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
)

// Inks are how the colours of a plan are drawn: fill, hatch and the hatch's own ink. The ground has no hatch.
type Inks struct {
	colour map[string]plan.Colour
	hatch  map[string]page.Hatch
	black  bool
}

// patterns are the hatches, plainest first. Any two differ by at least 30 degrees, by 1.6 times in spacing, or by being
// crossed.
func patterns() []page.Hatch {
	var out []page.Hatch
	for _, cross := range []bool{false, true} {
		for _, spacing := range []float64{2.4, 4.2, 1.4} {
			for _, angle := range []float64{45, 135, 90, 0} {
				if cross && angle >= 90 { // crossed, the two are one
					continue
				}
				out = append(out, page.Hatch{Angle: angle, Spacing: spacing, Cross: cross})
			}
		}
	}
	return out
}

// Inks of a plan: colours that touch somewhere have hatches that differ; the first colours have the plainest. With more
// colours than patterns a pattern is given twice, never to colours that touch, if that can be.
func (s Style) Inks(p *plan.Plan) Inks {
	out := Inks{colour: map[string]plan.Colour{}, hatch: map[string]page.Hatch{}, black: s.Black}
	touch := p.Index().Touching()
	all := patterns()
	used := make([]int, len(all))
	given := map[string]int{}
	for i, c := range p.Colours {
		out.colour[c.ID] = c
		if i == 0 {
			continue
		}
		best, least := 0, math.MaxInt
		for k := range all {
			price := used[k]
			for o := range touch[c.ID] {
				if g, ok := given[o]; ok && g == k {
					price += 1000
				}
			}
			if price < least {
				best, least = k, price
			}
		}
		used[best]++
		given[c.ID] = best
		out.hatch[c.ID] = all[best]
	}
	return out
}

// Fill of a colour.
func (k Inks) Fill(id string) string {
	if k.black {
		return "#ffffff"
	}
	return k.colour[id].SRGB
}

// Hatch of a colour; ok is false for the ground's.
func (k Inks) Hatch(id string) (page.Hatch, bool) {
	h, ok := k.hatch[id]
	return h, ok
}

// Draw an area of a colour: filled, hatched with a line through at, outlined.
func (k Inks) Draw(pg *page.Page, id string, rings [][]page.Point, at page.Point, outline float64) {
	pg.Add(page.Path{Rings: rings, Fill: k.Fill(id)})
	if h, ok := k.hatch[id]; ok {
		pg.Hatch(rings, h, at, k.ink(k.Fill(id)))
	}
	pg.Add(page.Path{Rings: rings, Stroke: "#000000", Width: outline})
}

// Ink of a hatch on a colour: the colour towards black, or towards white where it is dark. Black on white.
func (k Inks) ink(hex string) string {
	switch c, err := colorful.Hex(hex); {
	case k.black || err != nil:
		return "#000000"
	case luminance(hex) < dark:
		return c.BlendRgb(colorful.Color{R: 1, G: 1, B: 1}, 0.5).Hex()
	default:
		return c.BlendRgb(colorful.Color{}, 0.42).Hex()
	}
}

// dark is the relative luminance at which black and white stand out alike (WCAG 2).
const dark = 0.179

func luminance(hex string) float64 {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return 1
	}
	lin := func(c uint64) float64 {
		x := float64(c&255) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(v>>16) + 0.7152*lin(v>>8) + 0.0722*lin(v)
}

// Colour is a colour's name.
func (s Style) Colour(c plan.Colour) string {
	return page.Clean(s.T().Name(c.Name))
}

// Plain is a colour's name where a mix is not told by its parts.
func (s Style) Plain(c plan.Colour) string {
	if c.From == plan.Mixed && len(c.Mix) > 1 {
		return s.T().Text("colour.mixed")
	}
	return s.Colour(c)
}
