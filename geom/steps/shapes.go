package steps

import (
	"cmp"
	"container/heap"
	"slices"

	colorful "github.com/lucasb-eyer/go-colorful"

	"sugarwright/geom"
)

// seamless is the mean difference across a border, CIE94, below which nobody sees an edge. Tuned on the shaded drawings.
const seamless = 5

// leastShape is the share of what is painted below which a shape is a sparkle, and goes to the one that is most like it.
const leastShape = 0.0003

// shape is fields between which no edge is seen: what a client takes for one thing.
type shape struct {
	fields []int32
	beside map[*shape]*border
	hard   int // a field of one colour in it; -1: none
	dots   int
	gone   bool
	steps  []step
}

// border is what parts two shapes.
type border struct {
	sum   float64 // of differences along it
	dots  int
	stamp int
}

func (b *border) mean() float64 { return b.sum / float64(b.dots) }

// joint is a border in the order in which shapes are joined.
type joint struct {
	a, b  *shape
	mean  float64
	order [2]int32
	stamp int
}

type joints []joint

func (q joints) Len() int      { return len(q) }
func (q joints) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q joints) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(q[i].mean, q[j].mean), slices.Compare(q[i].order[:], q[j].order[:])) < 0
}
func (q *joints) Push(x any) { *q = append(*q, x.(joint)) }
func (q *joints) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// shapes joins fields, the pair with the least edge first, while none is seen.
func (r *raster) shapes() (out []*shape) {
	of := make([]*shape, len(r.l.fields))
	painted := 0
	for f := range of {
		if len(r.dots[f]) == 0 {
			continue
		}
		of[f] = &shape{fields: []int32{int32(f)}, beside: map[*shape]*border{}, hard: -1, dots: len(r.dots[f])}
		if !r.l.fields[f].shaded {
			of[f].hard = f
		}
		if r.l.fields[f].source.Line > 0 {
			painted += len(r.dots[f])
		}
		out = append(out, of[f])
	}
	for i, f := range r.field {
		if f < 0 {
			continue
		}
		for _, j := range [2]int{i + 1, i + r.w} {
			if j < len(r.field) && r.field[j] >= 0 && r.field[j] != f {
				of[f].meet(of[r.field[j]], r.edge(i, j))
			}
		}
	}
	seen := func(x joint) bool { // an edge that stays
		return x.mean >= seamless && float64(min(x.a.dots, x.b.dots)) >= leastShape*float64(painted)
	}
	var q joints
	for _, s := range out {
		for t := range s.beside {
			if x := jointOf(s, t); s.fields[0] < t.fields[0] && !seen(x) {
				q = append(q, x)
			}
		}
	}
	heap.Init(&q)
	for q.Len() > 0 {
		x := heap.Pop(&q).(joint)
		b := x.a.beside[x.b]
		if x.a.gone || x.b.gone || b == nil || b.stamp != x.stamp || seen(x) || !r.joins(x.a, x.b) {
			continue
		}
		x.a.take(x.b)
		for _, t := range x.a.neighbours() {
			if y := jointOf(x.a, t); !seen(y) {
				heap.Push(&q, y)
			}
		}
	}
	return slices.DeleteFunc(out, func(s *shape) bool { return s.gone })
}

// edge is the difference of two fields where they meet between two dots.
func (r *raster) edge(i, j int) float64 {
	a, b := r.point(i%r.w, i/r.w), r.point(j%r.w, j/r.w)
	mid := geom.Add(a, geom.Sub(b, a), 0.5)
	see := func(k int) colorful.Color {
		if f := &r.l.fields[r.field[k]]; !f.shaded {
			return r.seen[k]
		}
		return r.look(r.field[k], mid)
	}
	return differ(see(i), see(j))
}

// joins tells whether two shapes may be one: not where both have a flat colour of their own.
func (r *raster) joins(a, b *shape) bool {
	return a.hard < 0 || b.hard < 0
}

func (s *shape) meet(t *shape, d float64) {
	b := s.beside[t]
	if b == nil {
		b = &border{}
		s.beside[t], t.beside[s] = b, b
	}
	b.sum += d
	b.dots++
}

func jointOf(a, b *shape) joint {
	if b.fields[0] < a.fields[0] {
		a, b = b, a
	}
	x := a.beside[b]
	return joint{a, b, x.mean(), [2]int32{a.fields[0], b.fields[0]}, x.stamp}
}

// take another shape into this one.
func (s *shape) take(t *shape) {
	s.fields = append(s.fields, t.fields...)
	s.dots += t.dots
	if s.hard < 0 {
		s.hard = t.hard
	}
	t.gone = true
	for u, b := range t.beside {
		delete(u.beside, t)
		if u == s {
			continue
		}
		mine := s.beside[u]
		if mine == nil {
			mine = &border{}
			s.beside[u], u.beside[s] = mine, mine
		}
		mine.sum += b.sum
		mine.dots += b.dots
		mine.stamp = max(mine.stamp, b.stamp)
	}
	for _, b := range s.beside {
		b.stamp++
	}
}

// neighbours in the order of their first fields.
func (s *shape) neighbours() (out []*shape) {
	for t := range s.beside {
		out = append(out, t)
	}
	slices.SortFunc(out, func(a, b *shape) int { return cmp.Compare(a.fields[0], b.fields[0]) })
	return out
}
