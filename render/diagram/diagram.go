// Package diagram draws where each part goes: the laid section, numbers in the order of laying, TOP; and beside it the
// whole log as it will come out, with its wraps.
//
// Guarantees: every part has its number, inside it or led to it, or shares that of its copies; no two leaders cross.
package diagram

import (
	"fmt"
	"math"
	"slices"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// Of the diagram's room: the inset at the left, the width of a column of numbers, and the room that they leave it.
const (
	insetW  = 37.0
	beside  = 7.0 // of a column of numbers, with their width
	topH    = 7.0
	most    = 2.0 // times life size
	many    = 4   // so many copies without room for their number share one
	few     = 6   // so many numbers outside stand at the left alone, where the parts are drawn larger for it
	crowded = 22  // numbers outside, from which on they are smaller
)

// Draw the diagram in a box, with the inset at its left; it returns how many numbers stand outside, and how many found
// no place.
func Draw(pg *page.Page, p *plan.Plan, s sheet.Style, box page.Box) (led, left int) {
	inner, wraps := Parts(p)
	inset(pg, p, s, wraps, page.Box{box[0], box[1], box[0] + insetW, box[3]})
	room := page.Box{box[0] + insetW + 3, box[1] + topH, box[2], box[3]}
	size, v, tags, ports := arranged(p, s, inner, room)
	inks := s.Inks(p)
	for _, e := range inner {
		inks.Draw(pg, e.Colour, v.Place(e.Laid), v.At(e.Label), sheet.Outline)
	}
	top(pg, s, page.Point{v.Centre[0], frame(v, inner)[1] - 1})
	unplaced, led := pg.Labels(tags, ports, size)
	return led, len(unplaced)
}

// arranged is the view in which the parts fill a room beside their numbers, in the largest type in which all of them have
// a place and those outside are not crowded.
func arranged(p *plan.Plan, s sheet.Style, parts []*plan.Element, room page.Box) (size float64, v view.View, tags []page.Tag, ports []page.Port) {
	for _, size = range []float64{sheet.Glance, sheet.Figure} {
		v, tags = placed(p, s, parts, room, size)
		out := outside(tags, size)
		if len(out) == 0 {
			return size, v, tags, nil
		}
		named := shared(tags, out)
		column := beside + page.Widest(named, size)
		inner := page.Box{room[0] + column, room[1], room[2], room[3]}
		if len(out)-len(tags)+len(named) > few {
			inner[2] -= column
		}
		v, tags = placed(p, s, parts, inner, size)
		tags = shared(tags, outside(tags, size))
		ports = page.PortsBeside(frame(v, parts), room, size, page.Widest(tags, size), nil)
		if n := len(outside(tags, size)); n <= crowded && n <= len(ports) {
			break
		}
	}
	return size, v, tags, ports
}

// Parts that carry the picture, and the wraps round all of it, outermost last, which carry no place.
func Parts(p *plan.Plan) (inner, wraps []*plan.Element) {
	x := p.Index()
	log := x.Log()
	ground := p.Ground
	around := map[string]bool{}
	for i := len(log.Parts) - 1; i > 0 && log.Parts[i].How == plan.WrapOn; i-- {
		e := x.Element(log.Parts[i].Part)
		if e == nil || len(wraps) > 0 && e.Colour != ground {
			break
		}
		around[e.ID] = true
		wraps = append([]*plan.Element{e}, wraps...)
	}
	for i := range p.Elements {
		if e := &p.Elements[i]; !around[e.ID] {
			inner = append(inner, e)
		}
	}
	return inner, wraps
}

// placed fits the parts into a room, and names them.
func placed(p *plan.Plan, s sheet.Style, parts []*plan.Element, room page.Box, size float64) (view.View, []page.Tag) {
	b := view.Bounds(0, shapes(parts)...)
	k := math.Min((room[2]-room[0])/(b[2]-b[0]), (room[3]-room[1])/(b[3]-b[1]))
	k = math.Min(k, most)
	v := view.View{Scale: k, Centre: page.Point{(room[0]+room[2])/2 - k*(b[0]+b[2])/2, room[1] + k*b[3]}}
	inks := s.Inks(p)
	var tags []page.Tag
	for _, e := range parts {
		_, hatched := inks.Hatch(e.Colour)
		tags = append(tags, page.Tag{Rings: v.Place(e.Laid), Text: fmt.Sprint(e.Number), Bare: !hatched})
	}
	return v, tags
}

func shapes(parts []*plan.Element) (out []plan.Polygon) {
	for _, e := range parts {
		out = append(out, e.Laid)
	}
	return out
}

// frame of the parts on the page.
func frame(v view.View, parts []*plan.Element) page.Box {
	var rings [][]page.Point
	for _, e := range parts {
		rings = append(rings, v.Place(e.Laid)...)
	}
	return view.Box(rings)
}

// outside are the tags whose numbers have no room in their parts.
func outside(tags []page.Tag, size float64) (out []int) {
	for i, t := range tags {
		if _, _, _, ok := t.Inside(size); !ok {
			out = append(out, i)
		}
	}
	return out
}

// shared leaves one number for many copies that have no room for theirs, with their count.
func shared(tags []page.Tag, out []int) []page.Tag {
	tags = slices.Clone(tags)
	count := map[string]int{}
	for _, i := range out {
		count[tags[i].Text]++
	}
	drop := map[int]bool{}
	named := map[string]bool{}
	for _, i := range out {
		text := tags[i].Text
		if n := count[text]; n > many {
			if drop[i] = named[text]; !named[text] {
				named[text] = true
				tags[i].Text = fmt.Sprintf("%d × %s", n, text)
			}
		}
	}
	var kept []page.Tag
	for i, t := range tags {
		if !drop[i] {
			kept = append(kept, t)
		}
	}
	return kept
}

// top marks the top of the log, its tip at a point.
func top(pg *page.Page, s sheet.Style, tip page.Point) {
	word := page.Text{At: page.Point{tip[0] + 4, tip[1] - 0.6}, Size: sheet.Near, Bold: true, Text: s.T().Text("sheet.top")}
	pg.Add(page.Path{Rings: [][]page.Point{{tip, {tip[0] - 2.4, tip[1] - 4.4}, {tip[0] + 2.4, tip[1] - 4.4}}}, Fill: "#000000"})
	pg.Write(word)
}

// inset draws the whole log as laid, its wraps numbered, and how large the pile is.
func inset(pg *page.Page, p *plan.Plan, s sheet.Style, wraps []*plan.Element, box page.Box) {
	t := s.T()
	w, h := float64(p.Log.LayWidthMM), float64(p.Log.LayHeightMM)
	const above, below = 10.0, 14.0 // the wraps' numbers, the pile's size
	k := math.Min((box[2]-box[0]-1)/math.Max(w, h), math.Max(5, box[3]-box[1]-above-below)/h)
	c := page.Point{(box[0] + box[2]) / 2, math.Max((box[1]+box[3])/2, box[1]+above+k*h/2)}
	v := view.View{Scale: k, Centre: c}
	inks := s.Inks(p)
	for i := range p.Elements {
		e := &p.Elements[i]
		rings := v.Place(e.Laid)
		pg.Add(page.Path{Rings: rings, Fill: inks.Fill(e.Colour), Stroke: "#000000", Width: sheet.Context})
	}
	for i, e := range wraps {
		n := float64(i) - float64(len(wraps)-1)/2
		number := page.Text{At: page.Point{c[0] + 14*n, c[1] - k*h/2 - 4}, Size: sheet.Glance, Bold: true, Anchor: "middle", Text: fmt.Sprint(e.Number)}
		pg.Write(number)
		pg.Leader(within(v.Place(e.Laid), c, page.Point{0.35 * n, -1}), page.Point{number.At[0], number.At[1] + 1.2})
	}
	y := math.Min(c[1]+k*h/2+2, box[3]-below+2)
	pg.Write(page.Text{At: page.Point{box[0], y + 1.3*sheet.Lean}, Size: sheet.Lean, Fill: "#444444", Text: t.Text("wall.pile")})
	pg.Write(page.Text{At: page.Point{box[0], y + 1.7*sheet.Lean + 1.5*sheet.Arm}, Size: sheet.Arm, Bold: true, Text: s.Pair(w, h)})
}

// within is the middle of the outermost piece of a ray from a point that lies in a region.
func within(rings [][]page.Point, c, dir page.Point) page.Point {
	n := math.Hypot(dir[0], dir[1])
	at := func(r float64) page.Point { return page.Point{c[0] + r*dir[0]/n, c[1] + r*dir[1]/n} }
	last := -1.0
	for r := 60.0; r > 0; r -= 0.05 {
		in := page.Inside(rings, at(r))
		if in && last < 0 {
			last = r
		}
		if !in && last > 0 {
			return at((r + last) / 2)
		}
	}
	return c
}
