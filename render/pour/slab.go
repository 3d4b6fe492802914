package pour

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// Lump of the slab, in shares of its width and height, y down.
type Lump struct {
	Colour     plan.Colour
	X, Y, W, H float64
	Across     bool // it is cut off from the left, else from the top
}

// Map cuts the slab apart: each time the largest lump left, straight through all that is left, across its longer side.
func Map(p *plan.Plan, aspect float64) []Lump {
	order := append([]plan.Colour(nil), p.Colours...)
	sort.SliceStable(order, func(i, j int) bool { return order[i].CutG > order[j].CutG })
	left := 0.0
	for _, c := range order {
		left += float64(c.CutG)
	}
	var out []Lump
	x, y, w, h := 0.0, 0.0, 1.0, 1.0
	for _, c := range order {
		l := Lump{c, x, y, w, h, w*aspect >= h}
		share := float64(c.CutG) / left
		if l.Across {
			l.W *= share
			x, w = x+l.W, w-l.W
		} else {
			l.H *= share
			y, h = y+l.H, h-l.H
		}
		left -= float64(c.CutG)
		out = append(out, l)
	}
	return out
}

// aspect of the slab, width over height; a marble slab is longer than wide.
const aspect = 1.5

// slab is the poured sugar as a map in a box, with the distance of each cut from the left or the top; it returns where
// the map ends.
func (d *drawing) slab(box page.Box) float64 {
	b, s, t := d.p.Boil, d.s, d.s.T()
	high := math.Sqrt(float64(b.SlabMM2) / aspect)
	y := box[1]
	for _, l := range page.Wrap(page.Text{Text: t.Text("pour.slab", s.Length(high*aspect), s.Length(high), s.Section(float64(b.SlabMM))), Size: sheet.TextSize, Bold: true}, box[2]-box[0]) {
		y += 1.5 * sheet.TextSize
		d.f.Page.Write(page.Text{At: page.Point{box[0], y}, Size: sheet.TextSize, Bold: true, Text: l})
	}
	y += 2*sheet.Lean + 1
	const beside = 13.0 // for distances from the top
	w := math.Min(box[2]-box[0]-beside, (box[3]-y-2)*aspect)
	h := w / aspect
	left := box[2] - w
	at := func(l Lump) page.Box {
		return page.Box{left + l.X*w, y + l.Y*h, left + (l.X+l.W)*w, y + (l.Y+l.H)*h}
	}
	var lastTop, lastSide = left - 4, y - 4
	for i, l := range d.lumps {
		o := at(l)
		d.inks.Draw(d.f.Page, l.Colour.ID, [][]page.Point{page.Rect(o[0], o[1], o[2]-o[0], o[3]-o[1])}, page.Point{(o[0] + o[2]) / 2, (o[1] + o[3]) / 2}, sheet.Bold)
		d.number(fmt.Sprint(i+1), o)
		if i == len(d.lumps)-1 {
			break
		}
		dist := page.Text{Size: sheet.Lean, Text: d.distance(l, high)}
		if l.Across {
			dist.At, dist.Anchor = page.Point{o[2], y - 1.2}, "middle"
			if half := page.Width(dist) / 2; dist.At[0]-half > lastTop+1 && dist.At[0]+half < box[2] {
				d.f.Page.Write(dist)
				lastTop = dist.At[0] + half
			}
		} else {
			dist.At, dist.Anchor = page.Point{left - 1.5, o[3] + sheet.Lean/2}, "end"
			if dist.At[1]-sheet.Lean > lastSide+1 && o[3] < y+h-1 {
				d.f.Page.Write(dist)
				lastSide = dist.At[1]
			}
		}
	}
	return y + h
}

// number of a lump, where it has room.
func (d *drawing) number(n string, o page.Box) {
	t := page.Text{Size: sheet.Figure, Bold: true, Anchor: "middle", Text: n}
	w := page.Width(t) + 1.4
	if w > o[2]-o[0]-0.6 || 1.4*t.Size > o[3]-o[1]-0.6 {
		return
	}
	c := page.Point{(o[0] + o[2]) / 2, (o[1] + o[3]) / 2}
	d.f.Page.Add(page.Path{Rings: [][]page.Point{page.Rect(c[0]-w/2, c[1]-0.72*t.Size, w, 1.44*t.Size)}, Fill: "#ffffff"})
	t.At = page.Point{c[0], c[1] + t.Size/2}
	d.f.Page.Write(t)
}

// distance of a lump's cut from the slab's left edge, or its top.
func (d *drawing) distance(l Lump, high float64) string {
	if l.Across {
		return d.s.Length((l.X + l.W) * high * aspect)
	}
	return d.s.Length((l.Y + l.H) * high)
}
