package steps

import (
	"maps"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"sugarwright/geom"
)

// margin is how many dots a contour runs on beyond its field, so that it is the field's own outline that cuts it.
const margin = 2

// plain is how far a contour may lie from where it was found, in dots.
const plain = 0.12

// contours of a field's steps, as rings in user units: the k-th holds all that has the k-th label or a later one.
func (r *raster) contours(f int32) (out [][][][2]float64) {
	fl := &r.l.fields[f]
	if !fl.shaded {
		return nil
	}
	w := r.window(f)
	if len(w.in) == 0 {
		fl.labels = []int{r.loose(f)}
		return nil
	}
	fl.labels = r.labelsOf(w.in)
	for k := 1; k < len(fl.labels); k++ {
		out = append(out, w.outline(fl.labels, k))
	}
	return out
}

// loose is the label of a field that is too small for a dot.
func (r *raster) loose(f int32) int {
	l, _ := nearest(r.colours, r.look(f, r.spots[f]))
	return l
}

// labelsOf dots, darkest first.
func (r *raster) labelsOf(in []int) (out []int) {
	for _, i := range in {
		if l := int(r.at[i]); !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	slices.SortFunc(out, func(a, b int) int {
		la, _, _ := r.colours[a].Lab()
		lb, _, _ := r.colours[b].Lab()
		switch {
		case la < lb:
			return -1
		case la > lb:
			return 1
		}
		return a - b
	})
	return out
}

// spot is a dot of a field's window: its colour as the field has it there, its label, and whether that is the nearest.
type spot struct {
	label int16
	own   bool
	d     []float64 // to each of the raster's colours; nil until asked
}

// window is the dots of a field and a margin round them.
type window struct {
	*raster
	f   int32
	in  []int // the field's own
	dot []int // all, in order
	at  map[int]*spot
}

func (r *raster) window(f int32) *window {
	w := &window{raster: r, f: f, in: r.dots[f], at: map[int]*spot{}}
	for _, i := range w.in {
		w.at[i] = &spot{label: r.at[i], own: r.at[i] == r.was[i]}
	}
	all := w.at
	last := w.in
	for range margin {
		var next []int
		for _, i := range last {
			x, y := i%r.w, i/r.w
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					u, v := x+dx, y+dy
					j := v*r.w + u
					if u < 0 || v < 0 || u >= r.w || v >= r.h || all[j] != nil {
						continue
					}
					l := r.of[f].label(r, f, r.look(f, r.point(u, v)))
					s := &spot{label: l, own: true}
					if from := all[i]; !from.own && r.wasOf(f, i) == l { // given away beside
						s.label, s.own = from.label, false
					}
					all[j] = s
					next = append(next, j)
				}
			}
		}
		last = next
	}
	w.dot = slices.Sorted(maps.Keys(all))
	return w
}

// wasOf is the label by colour alone of a dot of a field, or of one beside it.
func (r *raster) wasOf(f int32, i int) int16 {
	if r.field[i] == f {
		return r.was[i]
	}
	return -2
}

// level is how deep a dot lies in the labels from the k-th on: above 0 inside.
func (w *window) level(i int, labels []int, k int) float64 {
	s := w.at[i]
	in := slices.Index(labels, int(s.label)) >= k
	depth := 0.5
	if s.own {
		if s.d == nil {
			c := w.look(w.f, w.point(i%w.w, i/w.w))
			s.d = make([]float64, len(labels))
			for n, l := range labels {
				s.d[n] = differ(c, w.colours[l])
			}
		}
		depth = slices.Min(s.d[:k]) - slices.Min(s.d[k:])
	}
	switch {
	case in && depth <= 0:
		return 0.01
	case !in && depth >= 0:
		return -0.01
	}
	return depth
}

// edge is a side of the grid of dots: from a dot to the right or to the one above.
type edge struct {
	dot int
	up  bool
}

// links are the sides of a cell that a contour enters and leaves by, the inside to its left, for each set of corners inside: from the
// lower left round against the clock; 21 and 26 are 5 and 10 with both corners hanging together.
var links = [27][][2]int{
	1: {{0, 3}}, 2: {{1, 0}}, 3: {{1, 3}}, 4: {{2, 1}}, 5: {{0, 3}, {2, 1}}, 6: {{2, 0}}, 7: {{2, 3}}, 8: {{3, 2}}, 9: {{0, 2}},
	10: {{1, 0}, {3, 2}}, 11: {{1, 2}}, 12: {{3, 1}}, 13: {{0, 1}}, 14: {{3, 0}}, 21: {{0, 1}, {2, 3}}, 26: {{3, 0}, {1, 2}},
}

// outline of the labels from the k-th on, by marching squares, as rings in user units.
func (w *window) outline(labels []int, k int) (out [][][2]float64) {
	level := make(map[int]float64, len(w.dot))
	for _, i := range w.dot {
		level[i] = w.level(i, labels, k)
	}
	value := func(i int) float64 {
		if v, ok := level[i]; ok {
			return v
		}
		return -1
	}
	next := map[edge]edge{}
	var order []edge
	cell := func(i int) { // its lower left dot
		corners := [4]int{i, i + 1, i + 1 + w.w, i + w.w}
		sides := [4]edge{{i, false}, {i + 1, true}, {i + w.w, false}, {i, true}} // below, right, above, left
		bits, sum := 0, 0.0
		for n, c := range corners {
			v := value(c)
			if sum += v; v > 0 {
				bits |= 1 << n
			}
		}
		if sum > 0 && (bits == 5 || bits == 10) { // the two corners hang together
			bits += 16
		}
		for _, l := range links[bits] {
			next[sides[l[0]]] = sides[l[1]]
			order = append(order, sides[l[0]])
		}
	}
	done := map[int]bool{}
	for _, i := range w.dot {
		for _, c := range [4]int{i, i - 1, i - w.w, i - w.w - 1} {
			if !done[c] {
				done[c] = true
				cell(c)
			}
		}
	}
	place := func(e edge) orb.Point {
		to := e.dot + 1
		if e.up {
			to = e.dot + w.w
		}
		p, q := w.point(e.dot%w.w, e.dot/w.w), w.point(to%w.w, to/w.w)
		vp, vq := value(e.dot), value(to)
		t := vp / (vp - vq)
		return orb.Point{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])}
	}
	used := map[edge]bool{}
	for _, start := range order {
		if used[start] {
			continue
		}
		var line orb.LineString
		for e := start; !used[e]; e = next[e] {
			used[e] = true
			line = append(line, place(e))
		}
		line = append(line, line[0])
		line = simplify.DouglasPeucker(plain * w.raster.dot).LineString(line)
		if len(line) < 4 {
			continue
		}
		var ring [][2]float64
		for _, p := range line[:len(line)-1] {
			ring = append(ring, w.frame.ToTrue.Artwork(geom.TruePoint(p)))
		}
		out = append(out, ring)
	}
	return out
}
