package sheet

import (
	"fmt"
	"math"
	"strconv"

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
	touch := Touching(p)
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

// Touching are the pairs of colours of parts that share a border in the section.
func Touching(p *plan.Plan) map[string]map[string]bool {
	at := map[plan.Point]map[string]bool{}
	out := map[string]map[string]bool{}
	for _, e := range p.Elements {
		for _, r := range e.True {
			for _, q := range r {
				if at[q] == nil {
					at[q] = map[string]bool{}
				}
				at[q][e.Colour] = true
			}
		}
	}
	for _, set := range at {
		for a := range set {
			for b := range set {
				if a != b {
					if out[a] == nil {
						out[a] = map[string]bool{}
					}
					out[a][b] = true
				}
			}
		}
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
		pg.Hatch(rings, h, at, Ink(k.Fill(id)))
	}
	pg.Add(page.Path{Rings: rings, Stroke: "#000000", Width: outline})
}

// Ink is black or white, whichever stands out more on a colour (WCAG 2, relative luminance: the two are even at 0.179).
func Ink(hex string) string {
	if luminance(hex) > 0.179 {
		return "#000000"
	}
	return "#ffffff"
}

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

// Swatch draws a colour's patch, its letter beside it, and returns the x after both.
func (k Inks) Swatch(pg *page.Page, id string, x, y, box float64) float64 {
	sq := [][]page.Point{page.Rect(x, y, box, box)}
	k.Draw(pg, id, sq, page.Point{x + box/2, y + box/2}, 0.35)
	t := page.Text{
		At:   page.Point{x + box + 1.5, y + box/2 + TextSize/2},
		Size: TextSize,
		Bold: true,
		Text: k.colour[id].Letter,
	}
	pg.Write(t)
	return x + box + 1.5 + page.Width(t) + 2
}

// keyRow is the height of a row of the key.
const keyRow = 8.4

// keyText is a colour's line in the key.
func (s Style) keyText(c plan.Colour) string {
	return fmt.Sprintf("%s, %s, %s", s.Colour(c), s.T().Text("colour."+string(c.Finish)), s.Grams(float64(c.MassG)))
}

// keyIndent is where the words of the key start: after swatch and the widest letter.
func keyIndent(p *plan.Plan) float64 {
	widest := 0.0
	for _, c := range p.Colours {
		widest = math.Max(widest, page.Width(page.Text{Text: c.Letter, Size: TextSize, Bold: true}))
	}
	return 7 + 1.5 + widest + 2.5
}

// keyColumns is two when all lines fit into half of the width.
func (s Style) keyColumns(p *plan.Plan, width float64) int {
	for _, c := range p.Colours {
		if keyIndent(p)+page.Width(page.Text{Text: s.keyText(c), Size: TextSize}) > width/2-2 {
			return 1
		}
	}
	return 2
}

// KeyHeight is the height of the key so wide.
func (s Style) KeyHeight(p *plan.Plan, width float64) float64 {
	n := s.keyColumns(p, width)
	h := 0.0
	for i := 0; i < len(p.Colours); i += n {
		h += s.keyRowHeight(p.Colours[i], width/float64(n)-keyIndent(p))
	}
	return h
}

func (s Style) keyRowHeight(c plan.Colour, width float64) float64 {
	n := len(page.Wrap(page.Text{Text: s.keyText(c), Size: TextSize}, width))
	return keyRow + Leading*TextSize*float64(n-1)
}

// Key draws the colours with letter, hatch, name and grams from y down, in one or two columns, until the foot; it
// returns how many found room.
func (s Style) Key(pg *page.Page, p *plan.Plan, from int, x, y, width, foot float64) int {
	inks := s.Inks(p)
	columns := s.keyColumns(p, width)
	column, indent := width/float64(columns), keyIndent(p)
	n := 0
	for i := from; i < len(p.Colours); i += columns {
		h := s.keyRowHeight(p.Colours[i], column-indent)
		if y+h > foot+0.01 && n > 0 {
			break
		}
		for k, c := range p.Colours[i:min(i+columns, len(p.Colours))] {
			left := x + column*float64(k)
			inks.Swatch(pg, c.ID, left, y, 7)
			for l, text := range page.Wrap(page.Text{Text: s.keyText(c), Size: TextSize}, column-indent) {
				pg.Write(
					page.Text{
						At:   page.Point{left + indent, y + 5.5 + Leading*TextSize*float64(l)},
						Size: TextSize,
						Text: text,
					},
				)
			}
			n++
		}
		y += h
	}
	return n
}

// Colour is a colour's name.
func (s Style) Colour(c plan.Colour) string {
	return page.Clean(s.T().Name(c.Name))
}
