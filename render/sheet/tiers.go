package sheet

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/words"
)

// Heights of capitals by the distance from which they are read, millimetres: 20 minutes of arc at D metres are 5.8 D, 16
// minutes 4.7 D (ISO 9241-3).
const (
	Title  = 9.0 // from the door
	Glance = 6.0 // part numbers, at a glance from 1.2 m
	Figure = 5.0 // grams, times, sizes
	Arm    = 4.0 // headings, and what is read at arm's length
	Near   = 3.6 // clocks and numbers in frames and lanes
	Lean   = 2.8 // what is read leaning in
	Foot   = 2.2 // digest and key to the signs
)

// Lines, millimetres.
const (
	Context = 0.18
	Rule    = 0.25
	Outline = 0.35
	Bold    = 0.5
	Border  = 1.0
)

// There is the grey of what lies there already, and ThereBy that of its outline; Idle is that of idle time.
const (
	There   = "#dcdcdc"
	ThereBy = "#8a8a8a"
	Idle    = "#efefef"
)

// Person draws the sign of a pair of hands, from 0: a letter in a disc, a ring, a thick ring, a double ring.
func Person(pg *page.Page, k int, c page.Point, r float64) {
	disc, ink := page.Path{Rings: [][]page.Point{page.Circle(c, r)}, Fill: "#ffffff", Stroke: "#000000", Width: 0.35}, "#000000"
	switch k {
	case 0:
		disc.Fill, ink = "#000000", "#ffffff"
	case 2:
		disc.Width = 0.9
	}
	pg.Add(disc)
	if k == 3 {
		pg.Add(page.Path{Rings: [][]page.Point{page.Circle(c, r+0.7)}, Stroke: "#000000", Width: 0.35})
	}
	size := 1.15 * r
	pg.Write(page.Text{At: page.Point{c[0], c[1] + size/2}, Size: size, Bold: true, Anchor: "middle", Fill: ink, Text: string(rune('A' + k))})
}

// Square draws a colour's square: filled, hatched, its letter on a plate.
func (k Inks) Square(pg *page.Page, id string, x, y, box, size float64) {
	k.Draw(pg, id, [][]page.Point{page.Rect(x, y, box, box)}, page.Point{x + box/2, y + box/2}, Outline)
	t := page.Text{At: page.Point{x + box/2, y + box/2 + size/2}, Size: size, Bold: true, Anchor: "middle", Text: k.colour[id].Letter}
	if _, ok := k.hatch[id]; ok {
		w := page.Width(t) + 1
		pg.Add(page.Path{Rings: [][]page.Point{page.Rect(x+box/2-w/2, y+box/2-size*0.72, w, size*1.44)}, Fill: "#ffffff"})
	}
	pg.Write(t)
}

// bare is a length without its unit, which the heading of a table says once.
func (s Style) bare(v, step float64) string {
	t := []rune(s.length(v, step))
	return string(t[:len(t)-3])
}

// Across prints a part's section in few words, without the unit: a by b, larger first except a thickness, and what else
// its outline takes.
func (s Style) Across(e plan.Element) (size, more string) {
	t := s.T()
	v := func(k string) string { return s.bare(float64(e.Size[k]), 1) }
	thin := s.bare(float64(e.Size["thickness_mm"]), 0.5)
	by := func(a, b string) string { return a + "\u00a0×\u00a0" + b }
	larger := func(a, b string) string {
		if e.Size[a] < e.Size[b] {
			a, b = b, a
		}
		return by(v(a), v(b))
	}
	switch e.Form {
	case plan.Rod:
		return "⌀\u00a0" + v("diameter_mm"), ""
	case plan.Strip, plan.Wrap, plan.Bar:
		return by(v("width_mm"), thin), ""
	case plan.Oval:
		return larger("long_mm", "short_mm"), ""
	case plan.Wedge:
		if e.Size["top_mm"] < leanMM {
			return by(v("base_mm"), v("height_mm")), t.Text("across.point")
		}
		return by(v("base_mm"), v("height_mm")), t.Text("across.top", v("top_mm"))
	case plan.Triangle:
		return by(v("base_mm"), v("height_mm")), t.Text("across.point")
	case plan.FlatRod:
		return "⌀\u00a0" + v("diameter_mm"), t.Text("across.flat", v("height_mm"))
	case plan.Leaf:
		return by(v("chord_mm"), s.bare(float64(e.Size["height_mm"]+e.Size["height_2_mm"]), 1)), ""
	case plan.Tapered:
		return by(v("width_mm"), thin), t.Text("across.ends", s.bare(float64(e.Size["end_mm"]), 0.5), s.bare(float64(e.Size["end_2_mm"]), 0.5))
	case plan.Segment:
		return by(v("chord_mm"), v("height_mm")), ""
	}
	return by(v("length_mm"), v("diameter_mm")), ""
}

// Pair prints a width and a height.
func (s Style) Pair(w, h float64) string { return s.bare(w, 1) + "\u00a0×\u00a0" + s.Section(h) }

// Shape says a part's form, how it leans, and what is done to it.
func (s Style) Shape(e plan.Element) string {
	said := s.Form(e)
	for _, more := range []string{s.lean(e), s.operation(e)} {
		if more != "" {
			said = s.T().Text("size.with", said, more)
		}
	}
	return said
}

// Span names the numbers in a block: "3", "1+2", "1-10".
func Span(p *plan.Plan, block string) string {
	lo, hi, count := math.MaxInt, 0, map[int]bool{}
	var look func(string)
	look = func(name string) {
		b := p.Index().Block(name)
		if b == nil {
			return
		}
		for _, x := range b.Parts {
			if e := p.Index().Element(x.Part); e != nil {
				lo, hi = min(lo, e.Number), max(hi, e.Number)
				count[e.Number] = true
			} else {
				look(x.Part)
			}
		}
	}
	look(block)
	switch len(count) {
	case 0:
		return ""
	case 1:
		return fmt.Sprint(lo)
	case 2:
		return fmt.Sprintf("%d+%d", lo, hi)
	}
	return fmt.Sprintf("%d–%d", lo, hi)
}

// Band is the heat at which most parts are laid, and those that are laid at another, by their bands.
func (s Style) Band(p *plan.Plan) (most string, others []Heated) {
	count := map[string]int{}
	of := map[int]string{}
	for i := range p.Elements {
		e := &p.Elements[i]
		of[e.Number] = s.Heat(float64(e.LayC), Guessed(p))
		count[of[e.Number]]++
	}
	for band, n := range count {
		if n > count[most] || n == count[most] && band < most {
			most = band
		}
	}
	at := map[string]int{}
	for n := 1; n <= len(of); n++ {
		band, ok := of[n]
		if !ok || band == most {
			continue
		}
		k, ok := at[band]
		if !ok {
			k = len(others)
			at[band] = k
			others = append(others, Heated{Band: band})
		}
		others[k].Parts = append(others[k].Parts, n)
	}
	return most, others
}

// Heated are parts, by number, that are laid at one heat.
type Heated struct {
	Band  string
	Parts words.All
}

// Fitted is the first of some texts that stands in so many lines of a width, wrapped; the last where none does.
func Fitted(width, size float64, lines int, texts ...string) (out []string) {
	for _, t := range texts {
		if out = page.Wrap(page.Text{Text: page.Clean(t), Size: size}, width); len(out) <= lines {
			break
		}
	}
	return out
}
