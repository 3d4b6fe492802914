// Package section is the split as the rolling model takes it: points in disc coordinates, shared by all parts that meet
// there.
//
// Guarantees: a border is the same points for both parts that it parts, also where they lie in blocks that were noded
// apart; no edge is longer than a hundredth of the diameter.
package section

import (
	"math"
	"slices"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/flow"
	"sugarwright/planner/set"
)

// Section is some elements inside a circle. Points are in disc coordinates.
type Section struct {
	Body   flow.Body   // the parts' stiffness is 1
	Blocks [][][]int32 // by block of the set, where the section is the whole log: its outline, only carried along
	centre geom.TruePoint
	radius float64
	index  map[geom.TruePoint]int32
	on     map[[2]geom.TruePoint][]geom.TruePoint // by edge: corners of neighbours that lie on it
	same   map[geom.TruePoint]geom.TruePoint      // corners that noding in blocks left a hair apart
}

// RadiusMM of the circle.
func (s *Section) RadiusMM() float64 { return s.radius }

// splitShare of the diameter is the longest edge, so that a straight border can bend as the flow bends it.
const splitShare = 0.01

// Of some elements of a set, inside a circle.
func Of(of *set.Set, elements []int, circle geom.Circle[geom.TruePoint]) *Section {
	s := &Section{centre: circle.Centre, radius: circle.Radius, index: map[geom.TruePoint]int32{}}
	s.meet(of, elements)
	for _, i := range elements {
		s.Body.Parts = append(s.Body.Parts, flow.Part{Stiffness: 1, Rings: s.rings(of.Elements[i].True)})
	}
	return s
}

// Log is the section of the whole log.
func Log(of *set.Set, radiusMM float64) *Section {
	all := make([]int, len(of.Elements))
	for i := range all {
		all[i] = i
	}
	s := Of(of, all, geom.Circle[geom.TruePoint]{Radius: radiusMM})
	for _, b := range of.Blocks {
		s.Blocks = append(s.Blocks, s.rings(b.Outline))
	}
	return s
}

// slipMM is how far a corner of one block may lie off the edge or the corner of another that it meets: blocks are noded
// apart, and the grid's rounding shows.
const slipMM = 1e-3

// meet finds, for edges that no neighbour has the other way round, the corners of neighbours on them.
func (s *Section) meet(of *set.Set, elements []int) {
	type edge = [2]geom.TruePoint
	count := map[edge]bool{}
	for _, i := range elements {
		for _, ring := range of.Elements[i].True {
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

func (s *Section) corner(p geom.TruePoint) geom.TruePoint {
	if q, ok := s.same[p]; ok {
		return q
	}
	return p
}

func (s *Section) point(p geom.TruePoint) int32 {
	p = s.corner(p)
	k, ok := s.index[p]
	if !ok {
		k = int32(len(s.Body.Points))
		s.index[p] = k
		v := geom.Sub(p, s.centre)
		s.Body.Points = append(s.Body.Points, geom.Vec{v[0] / s.radius, v[1] / s.radius})
	}
	return k
}

// ring lists the points of a line with its edges split: alike for both that meet at an edge.
func (s *Section) ring(r geom.Ring[geom.TruePoint]) []int32 {
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

func (s *Section) between(a, b geom.TruePoint) []int32 {
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

// Region puts rings of the section where its points are, on the outline at one moment.
func (s *Section) Region(rings [][]int32, points []geom.Vec, o flow.Outline) geom.Region[geom.LaidPoint] {
	out := make(geom.Region[geom.LaidPoint], len(rings))
	for i, ring := range rings {
		for _, k := range ring {
			out[i] = append(out[i],
				geom.LaidPoint{s.centre[0] + o.A*s.radius*points[k][0], s.centre[1] + o.B*s.radius*points[k][1]})
		}
	}
	return out
}

// rings of a region, as the points that they run through.
func (s *Section) rings(r geom.Region[geom.TruePoint]) [][]int32 {
	out := make([][]int32, len(r))
	for i, ring := range r {
		out[i] = s.ring(ring)
	}
	return out
}
