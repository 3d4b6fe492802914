package flat

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Layers is the SVG of a canvas map's regions painted from back to front, to go on drawing with: what lies in a region is
// painted over it, in groups named by their colour; rings that are circles, ovals or rectangles, to a hundredth of the frame's
// grid and less than a hand sees, are written as such. Page and place are those of the artwork.
func Layers(page artwork.Page, m *partition.Map) []byte {
	var b bytes.Buffer
	d := head(&b, page, m)
	order, filled := nested(m)
	last := -1
	for n, i := range order {
		r := m.Regions[i]
		if r.Colour != last {
			if n > 0 {
				b.WriteString("</g>\n")
			}
			hex := m.Colours[r.Colour].RGB.Hex()
			fmt.Fprintf(&b, "<g id=\"layer%d-%s\" fill=\"%s\">\n", n+1, hex[1:], hex)
			last = r.Colour
		}
		rings := r.Shape[:1:1]
		for k, hole := range r.Shape[1:] {
			if !filled[[2]int{i, k + 1}] {
				rings = append(rings, hole)
			}
		}
		if len(rings) == 1 && writeShape(&b, rings[0], m.Frame.ToTrue, d) {
			continue
		}
		b.WriteString(`<path d="`)
		for _, ring := range rings {
			writeRing(&b, ring, m.Frame.ToTrue, d)
		}
		b.WriteString("\"/>\n")
	}
	if len(order) > 0 {
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// nested lists the painted regions, those that lie in another after it, and the holes that are painted over from edge to
// edge.
func nested(m *partition.Map) (order []int, filled map[[2]int]bool) {
	filled = map[[2]int]bool{}
	depth := make([]int, len(m.Regions))
	for i, r := range m.Regions {
		for k, hole := range r.Shape[1:] {
			all := true
			in := geom.Region[geom.TruePoint]{hole.Reversed()}
			box := in.Bound()
			for j, o := range m.Regions {
				if j == i || !box.Contains(o.Shape.Bound().Center()) && !box.Intersects(o.Shape.Bound()) || !in.Contains(geom.Inside(o.Shape)) {
					continue
				}
				depth[j]++
				all = all && o.Source.Line != 0
			}
			filled[[2]int{i, k + 1}] = all
		}
		if r.Source.Line != 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(depth[a], depth[b]), cmp.Compare(m.Regions[a].Colour, m.Regions[b].Colour))
	})
	return order, filled
}

// plainMM is how far a ring may lie from the circle, oval or rectangle that it is written as, millimetres in the log.
const plainMM = 0.02

// writeShape writes a ring as a circle, an oval or a rectangle, where it is one.
func writeShape(b *bytes.Buffer, ring geom.Ring[geom.TruePoint], to geom.ToTrue, d int) bool {
	if len(ring) < 4 {
		return false
	}
	k := 1 / to[0]
	bound := geom.Region[geom.TruePoint]{ring}.Bound()
	if len(ring) == 4 && corners(ring, geom.TruePoint(bound.Min), geom.TruePoint(bound.Max)) {
		at := to.Artwork(geom.TruePoint{bound.Min[0], bound.Max[1]})
		fmt.Fprintf(b, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", number(at[0], d), number(at[1], d),
			number(k*(bound.Max[0]-bound.Min[0]), d), number(k*(bound.Max[1]-bound.Min[1]), d))
		return true
	}
	if len(ring) < 12 {
		return false
	}
	c := geom.TruePoint(bound.Center())
	rx, ry := (bound.Max[0]-bound.Min[0])/2, (bound.Max[1]-bound.Min[1])/2
	for _, p := range ring {
		if r := math.Hypot((p[0]-c[0])/rx, (p[1]-c[1])/ry); math.Abs(r-1)*math.Min(rx, ry) > plainMM {
			return false
		}
	}
	at := to.Artwork(c)
	if math.Abs(rx-ry) < plainMM {
		fmt.Fprintf(b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", number(at[0], d), number(at[1], d), number(k*(rx+ry)/2, d))
	} else {
		fmt.Fprintf(b, "<ellipse cx=\"%s\" cy=\"%s\" rx=\"%s\" ry=\"%s\"/>\n", number(at[0], d), number(at[1], d), number(k*rx, d), number(k*ry, d))
	}
	return true
}

// corners tells whether each corner of a ring of four is one of a rectangle.
func corners(ring geom.Ring[geom.TruePoint], lo, hi geom.TruePoint) bool {
	for _, p := range ring {
		x := math.Min(math.Abs(p[0]-lo[0]), math.Abs(p[0]-hi[0]))
		y := math.Min(math.Abs(p[1]-lo[1]), math.Abs(p[1]-hi[1]))
		if x > plainMM/4 || y > plainMM/4 {
			return false
		}
	}
	return true
}
