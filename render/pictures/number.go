package pictures

import (
	"math"

	"sugarwright/render/page"
	"sugarwright/render/view"
)

// labels puts the numbers of a picture: inside their parts, else where they cover least.
type labels struct {
	pg      *page.Page
	cell    page.Box
	size    float64
	taken   []page.Box // arrows, and numbers
	leaders [][2]page.Point
	added   []area
	there   []area
}

// area that a number may cover, and its box.
type area struct {
	rings [][]page.Point
	box   page.Box
}

func areaOf(rings [][]page.Point) area { return area{rings, view.Box(rings)} }

func newLabels(pg *page.Page, cell page.Box, size float64, taken []page.Box, parts []added, v view.View, n frame) *labels {
	l := &labels{pg: pg, cell: cell, size: size, taken: taken}
	for _, a := range parts {
		l.added = append(l.added, areaOf(a.rings))
	}
	for _, s := range n.there {
		l.there = append(l.there, areaOf(v.Place(s.poly)))
	}
	return l
}

// put a part's number.
func (l *labels) put(a added, bare bool) {
	tag := page.Tag{Rings: a.rings, Text: a.text, Bare: bare}
	if at, w, h, ok := tag.Inside(l.size); ok && !l.covered(page.Box{at[0] - w, at[1] - h, at[0] + w, at[1] + h}) {
		l.write(a.text, at, w, h, !bare)
		return
	}
	w, h := page.Half(a.text, l.size)
	pole := page.Pole(a.rings)
	best, at := math.Inf(1), pole
	for _, far := range []float64{0.6, 2, 4.5, 8} {
		b := view.Box(a.rings)
		for i := range 24 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
			// Clear of the part's box along the ray
			c := page.Point{(b[0]+b[2])/2 + cos*((b[2]-b[0])/2+w+far), (b[1]+b[3])/2 + sin*((b[3]-b[1])/2+h+far)}
			c[0] = math.Max(l.cell[0]+w, math.Min(l.cell[2]-w, c[0]))
			c[1] = math.Max(l.cell[1]+h, math.Min(l.cell[3]-h, c[1]))
			if price := l.price(pole, c, w, h) + math.Hypot(c[0]-pole[0], c[1]-pole[1])/40; price < best {
				best, at = price, c
			}
		}
	}
	end := l.edge(pole, at, w, h)
	l.pg.Leader(pole, end)
	l.leaders = append(l.leaders, [2]page.Point{pole, end})
	l.write(a.text, at, w, h, true)
}

// write a number, on a plate where it stands on something.
func (l *labels) write(text string, at page.Point, w, h float64, plate bool) {
	if plate {
		l.pg.Add(page.Path{Rings: [][]page.Point{page.Rect(at[0]-w, at[1]-h, 2*w, 2*h)}, Fill: "#ffffff"})
	}
	l.pg.Write(page.Text{At: page.Point{at[0], at[1] + l.size/2}, Size: l.size, Bold: true, Anchor: "middle", Text: text})
	l.taken = append(l.taken, page.Box{at[0] - w, at[1] - h, at[0] + w, at[1] + h})
}

// covered tells whether a box meets an arrow or a number.
func (l *labels) covered(b page.Box) bool {
	for _, t := range l.taken {
		if b.Overlaps(t) {
			return true
		}
	}
	return false
}

// price of a number at a place: what it and its leader cover.
func (l *labels) price(from, at page.Point, w, h float64) (price float64) {
	box := page.Box{at[0] - w, at[1] - h, at[0] + w, at[1] + h}
	if from[0] > box[0]-1 && from[0] < box[2]+1 && from[1] > box[1]-1 && from[1] < box[3]+1 {
		price += 16 // on the leader's own dot
	}
	for _, t := range l.taken {
		if box.Overlaps(t) {
			price += 8
		}
		if page.Hits(from, l.edge(from, at, w, h), t) {
			price += 8
		}
	}
	for _, s := range l.leaders {
		if page.Hits(s[0], s[1], box) || page.Crosses(s[0], s[1], from, at) {
			price += 8
		}
	}
	cover := func(all []area, each float64) {
		for _, a := range all {
			for i := range 9 {
				q := page.Point{at[0] + w*(float64(i%3)-1), at[1] + h*(float64(i/3)-1)}
				if a.box.Contains(q) && page.Inside(a.rings, q) {
					price += each
				}
			}
		}
	}
	cover(l.added, 0.5)
	cover(l.there, 0.08)
	return price
}

// edge is where a leader ends at a number's box.
func (l *labels) edge(from, at page.Point, w, h float64) page.Point {
	dx, dy := from[0]-at[0], from[1]-at[1]
	k := math.Min(1, math.Min((w+0.3)/math.Max(1e-9, math.Abs(dx)), (h+0.3)/math.Max(1e-9, math.Abs(dy))))
	return page.Point{at[0] + k*dx, at[1] + k*dy}
}
