package planner

import (
	"math"
	"slices"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/flow"
	"sugarwright/planner/set"
)

// section is the split as the rolling model takes it: points in disc coordinates, shared by all parts that meet there, edges no longer
// than a hundredth of the diameter.
type section struct {
	centre geom.TruePoint
	radius float64
	body   flow.Body
	index  map[geom.TruePoint]int32
	on     map[[2]geom.TruePoint][]geom.TruePoint // by edge: corners of neighbours that lie on it
	same   map[geom.TruePoint]geom.TruePoint      // corners that noding in blocks left a hair apart
}

// splitShare of the diameter is the longest edge, so that a straight border can bend as the flow bends it.
const splitShare = 0.01

// sectionOf some elements of a set, inside a circle.
func sectionOf(set *set.Set, elements []int, centre geom.TruePoint, radius float64) *section {
	s := &section{centre: centre, radius: radius, index: map[geom.TruePoint]int32{}}
	s.meet(set, elements)
	for _, i := range elements {
		p := flow.Part{Stiffness: 1}
		for _, ring := range set.Elements[i].True {
			p.Rings = append(p.Rings, s.ring(ring))
		}
		s.body.Parts = append(s.body.Parts, p)
	}
	return s
}

// slipMM is how far a corner of one block may lie off the edge or the corner of another that it meets: blocks are noded apart, and the
// grid's rounding shows.
const slipMM = 1e-3

// meet finds, for edges that no neighbour has the other way round, the corners of neighbours on them.
func (s *section) meet(set *set.Set, elements []int) {
	type edge = [2]geom.TruePoint
	count := map[edge]bool{}
	for _, i := range elements {
		for _, ring := range set.Elements[i].True {
			for k, a := range ring {
				count[edge{a, ring[(k+1)%len(ring)]}] = true
			}
		}
	}
	var odd []edge
	for e := range count {
		if !count[edge{e[1], e[0]}] && geom.Dist(e[0], s.centre) < s.radius*0.999 {
			odd = append(odd, e)
		}
	}
	sort.Slice(odd, func(i, j int) bool {
		for k := 0; k < 4; k++ {
			if x, y := odd[i][k/2][k%2], odd[j][k/2][k%2]; x != y {
				return x < y
			}
		}
		return false
	})
	s.on, s.same = map[edge][]geom.TruePoint{}, map[geom.TruePoint]geom.TruePoint{}
	for i, e := range odd { // sorted by x: who lies further to the right is far
		for _, o := range odd[i+1:] {
			if o[0][0] > e[0][0]+slipMM {
				break
			}
			if d := geom.Dist(o[0], e[0]); d > 0 && d < slipMM {
				s.same[o[0]] = s.corner(e[0])
			}
		}
	}
	for _, e := range odd {
		way := geom.Sub(e[1], e[0])
		length := way.Len()
		for _, o := range odd {
			if c := s.corner(o[0]); c == s.corner(e[0]) || c == s.corner(e[1]) {
				continue
			}
			t := way.Dot(geom.Sub(o[0], e[0])) / length
			if t > 0 && t < length && math.Abs(way.Cross(geom.Sub(o[0], e[0]))/length) < slipMM {
				s.on[e] = append(s.on[e], o[0])
			}
		}
		sort.Slice(s.on[e], func(i, j int) bool { return geom.Dist(e[0], s.on[e][i]) < geom.Dist(e[0], s.on[e][j]) })
	}
}

func (s *section) corner(p geom.TruePoint) geom.TruePoint {
	if q, ok := s.same[p]; ok {
		return q
	}
	return p
}

func (s *section) point(p geom.TruePoint) int32 {
	p = s.corner(p)
	k, ok := s.index[p]
	if !ok {
		k = int32(len(s.body.Points))
		s.index[p] = k
		v := geom.Sub(p, s.centre)
		s.body.Points = append(s.body.Points, geom.Vec{v[0] / s.radius, v[1] / s.radius})
	}
	return k
}

// ring lists the points of a line with its edges split: alike for both that meet at an edge.
func (s *section) ring(r geom.Ring[geom.TruePoint]) []int32 {
	var out []int32
	for k, a := range r {
		e := [2]geom.TruePoint{a, r[(k+1)%len(r)]}
		from := a
		for _, to := range append(slices.Clone(s.on[e]), e[1]) {
			out = append(out, s.point(from))
			out = append(out, s.between(s.corner(from), s.corner(to))...)
			from = to
		}
	}
	return out
}

func (s *section) between(a, b geom.TruePoint) []int32 {
	n := int(math.Ceil(geom.Dist(a, b) / (2 * s.radius * splitShare)))
	turned := b[0] < a[0] || b[0] == a[0] && b[1] < a[1]
	if turned {
		a, b = b, a
	}
	var out []int32
	for k := 1; k < n; k++ {
		out = append(out, s.point(geom.Add(a, geom.Sub(b, a), float64(k)/float64(n))))
	}
	if turned {
		slices.Reverse(out)
	}
	return out
}

// region puts rings of the section where its points are, on the outline at one moment.
func (s *section) region(rings [][]int32, points []geom.Vec, o flow.Outline) geom.Region[geom.LaidPoint] {
	out := make(geom.Region[geom.LaidPoint], len(rings))
	for i, ring := range rings {
		for _, k := range ring {
			out[i] = append(out[i], geom.LaidPoint{s.centre[0] + o.A*s.radius*points[k][0], s.centre[1] + o.B*s.radius*points[k][1]})
		}
	}
	return out
}

// tracers adds a region that is only carried along.
func (s *section) tracers(r geom.Region[geom.TruePoint]) [][]int32 {
	out := make([][]int32, len(r))
	for i, ring := range r {
		out[i] = s.ring(ring)
	}
	return out
}
