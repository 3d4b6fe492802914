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
		a, b, c, d := i, i+1, i+1+w.w, i+w.w
		va, vb, vc, vd := value(a), value(b), value(c), value(d)
		low, right, top, left := edge{a, false}, edge{b, true}, edge{d, false}, edge{a, true}
		link := func(from, to edge) {
			next[from] = to
			order = append(order, from)
		}
		bits := 0
		for n, v := range [4]float64{va, vb, vc, vd} {
			if v > 0 {
				bits |= 1 << n
			}
		}
		mid := va+vb+vc+vd > 0
		switch bits { // inside to the left
		case 1:
			link(low, left)
		case 2:
			link(right, low)
		case 3:
			link(right, left)
		case 4:
			link(top, right)
		case 5:
			if mid {
				link(low, right)
				link(top, left)
			} else {
				link(low, left)
				link(top, right)
			}
		case 6:
			link(top, low)
		case 7:
			link(top, left)
		case 8:
			link(left, top)
		case 9:
			link(low, top)
		case 10:
			if mid {
				link(left, low)
				link(right, top)
			} else {
				link(right, low)
				link(left, top)
			}
		case 11:
			link(right, top)
		case 12:
			link(left, right)
		case 13:
			link(low, right)
		case 14:
			link(left, low)
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
