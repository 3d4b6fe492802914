// Package geom is the plane vocabulary of the project: points in their frames, regions, and what is measured on them.
//
// Guarantees: a point's frame is its type, so that an artwork point, a true point and a laid point cannot be mixed
// without a named conversion. Lengths are millimetres in the true and the laid frame, user units in the artwork frame.
// Nothing here rounds or snaps.
//
// References: moments by the polygon sums (schoolbook); smallest circle by Welzl's move-to-front, written iteratively.
package geom

import (
	"math"
	"sort"

	"github.com/paulmach/orb"
)

// Frame is the constraint that every point type of the project meets.
type Frame interface{ ~[2]float64 }

// ArtworkPoint is in SVG user units, y down.
type ArtworkPoint orb.Point

// TruePoint is in millimetres at log scale, origin at the log's centre, y up, as the picture reads.
type TruePoint orb.Point

// LaidPoint is in millimetres in the oval in which the parts are laid; same origin and axes as TruePoint.
type LaidPoint orb.Point

// Ring is a closed line, first point not repeated.
type Ring[P Frame] []P

// Region is a connected polygon: outer ring first (counter-clockwise), holes after (clockwise).
type Region[P Frame] []Ring[P]

// Vec is a free vector; it belongs to no frame.
type Vec [2]float64

// Sub returns a - b.
func Sub[P Frame](a, b P) Vec { return Vec{a[0] - b[0], a[1] - b[1]} }

// Add returns p moved by v times t.
func Add[P Frame](p P, v Vec, t float64) P { return P{p[0] + v[0]*t, p[1] + v[1]*t} }

// Dot is the inner product.
func (v Vec) Dot(w Vec) float64 { return v[0]*w[0] + v[1]*w[1] }

// Cross is the z component of the outer product.
func (v Vec) Cross(w Vec) float64 { return v[0]*w[1] - v[1]*w[0] }

// Len is the Euclidean length.
// (Coordinates here are far from the limits of float64, so no scaled hypot is needed.)
func (v Vec) Len() float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1]) }

// Unit returns v over its length; the null vector stays as it is.
func (v Vec) Unit() Vec {
	if l := v.Len(); l > 0 {
		return Vec{v[0] / l, v[1] / l}
	}
	return v
}

// Left is v turned a quarter counter-clockwise.
func (v Vec) Left() Vec { return Vec{-v[1], v[0]} }

// Polar is the unit vector at an angle in radians.
func Polar(a float64) Vec { return Vec{math.Cos(a), math.Sin(a)} }

// Angle of v in radians, -pi to pi.
func (v Vec) Angle() float64 { return math.Atan2(v[1], v[0]) }

// Dist is the distance of two points.
func Dist[P Frame](a, b P) float64 { return Sub(a, b).Len() }

// Orient is twice the signed area of the triangle a, b, c: positive when c lies left of a to b.
func Orient[P Frame](a, b, c P) float64 { return Sub(b, a).Cross(Sub(c, a)) }

// Area is signed: positive for a counter-clockwise ring.
func (r Ring[P]) Area() float64 {
	if len(r) < 3 {
		return 0
	}
	s, o := 0.0, r[0]
	for i := 1; i+1 < len(r); i++ {
		s += Orient(o, r[i], r[i+1])
	}
	return s / 2
}

// Perimeter is the length of the closed line.
func (r Ring[P]) Perimeter() float64 {
	s := 0.0
	for i := range r {
		s += Dist(r[i], r[(i+1)%len(r)])
	}
	return s
}

// Reversed returns the ring run the other way.
func (r Ring[P]) Reversed() Ring[P] {
	out := make(Ring[P], len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

// Contains tells whether p is inside, by the even-odd rule; points on the line may be told either way.
func (r Ring[P]) Contains(p P) bool {
	in := false
	for i, j := 0, len(r)-1; i < len(r); j, i = i, i+1 {
		a, b := r[i], r[j]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1])+a[0] {
			in = !in
		}
	}
	return in
}

// Area of the region, holes taken off.
func (r Region[P]) Area() float64 {
	s := 0.0
	for _, ring := range r {
		s += ring.Area()
	}
	return s
}

// Corners is how many vertices the rings have.
func (r Region[P]) Corners() (n int) {
	for _, ring := range r {
		n += len(ring)
	}
	return n
}

// Perimeter of all rings.
func (r Region[P]) Perimeter() float64 {
	s := 0.0
	for _, ring := range r {
		s += ring.Perimeter()
	}
	return s
}

// Contains tells whether p is inside the region.
func (r Region[P]) Contains(p P) bool {
	in := false
	for _, ring := range r {
		if ring.Contains(p) {
			in = !in
		}
	}
	return in
}

// Points returns all vertices, ring after ring.
func (r Region[P]) Points() []P {
	var out []P
	for _, ring := range r {
		out = append(out, ring...)
	}
	return out
}

// Filled is the region without its holes.
func (r Region[P]) Filled() Region[P] { return r[:1] }

// Bound is the bounding box.
func (r Region[P]) Bound() orb.Bound { return BoundOf(r.Points()) }

// BoundOf is the bounding box of points.
func BoundOf[P Frame](pts []P) orb.Bound {
	if len(pts) == 0 {
		return orb.Bound{}
	}
	b := orb.Bound{Min: orb.Point(pts[0]), Max: orb.Point(pts[0])}
	for _, p := range pts[1:] {
		b = b.Extend(orb.Point(p))
	}
	return b
}

// Moments are area, centroid and second moments about the centroid (Ix is the integral of y squared).
type Moments[P Frame] struct {
	Area        float64
	Centroid    P
	Ix, Iy, Ixy float64
}

// MomentsOf integrates over the region, exactly for a polygon.
func MomentsOf[P Frame](r Region[P]) Moments[P] {
	var m Moments[P]
	if len(r) == 0 || len(r[0]) == 0 {
		return m
	}
	o := r[0][0]
	var sx, sy float64
	for _, ring := range r {
		for i := range ring {
			a, b := Sub(ring[i], o), Sub(ring[(i+1)%len(ring)], o)
			c := a.Cross(b)
			m.Area += c / 2
			sx += c * (a[0] + b[0]) / 6
			sy += c * (a[1] + b[1]) / 6
			m.Ix += c * (a[1]*a[1] + a[1]*b[1] + b[1]*b[1]) / 12
			m.Iy += c * (a[0]*a[0] + a[0]*b[0] + b[0]*b[0]) / 12
			m.Ixy += c * (2*a[0]*a[1] + a[0]*b[1] + b[0]*a[1] + 2*b[0]*b[1]) / 24
		}
	}
	if m.Area == 0 {
		m.Centroid = o
		return m
	}
	x, y := sx/m.Area, sy/m.Area
	m.Centroid = P{o[0] + x, o[1] + y}
	m.Ix -= m.Area * y * y
	m.Iy -= m.Area * x * x
	m.Ixy -= m.Area * x * y
	return m
}

// Axis is the unit vector of the longer principal axis.
func (m Moments[P]) Axis() Vec {
	return Polar(0.5 * math.Atan2(2*m.Ixy, m.Iy-m.Ix))
}

// Hull is the convex hull, counter-clockwise, without collinear points.
func Hull[P Frame](pts []P) Ring[P] {
	s := append([]P(nil), pts...)
	sort.Slice(s, func(i, j int) bool {
		if s[i][0] != s[j][0] {
			return s[i][0] < s[j][0]
		}
		return s[i][1] < s[j][1]
	})
	half := func(s []P) []P {
		var h []P
		for _, p := range s {
			for len(h) > 1 && Orient(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			if len(h) == 0 || h[len(h)-1] != p {
				h = append(h, p)
			}
		}
		return h
	}
	lo := half(s)
	for i, j := 0, len(s)-1; i < j; i, j = i+1, j-1 {
		s[i], s[j] = s[j], s[i]
	}
	hi := half(s)
	if len(lo) < 2 {
		return lo
	}
	return append(lo[:len(lo)-1:len(lo)-1], hi[:len(hi)-1]...)
}

// Widths of a convex ring: the least distance of two parallels that hold it, and the distance of its farthest points.
func Widths[P Frame](hull Ring[P]) (least, most float64) {
	least = math.Inf(1)
	for i, p := range hull {
		n := Sub(hull[(i+1)%len(hull)], p).Unit().Left()
		wide := 0.0
		for _, q := range hull {
			wide, most = math.Max(wide, n.Dot(Sub(q, p))), math.Max(most, Dist(p, q))
		}
		least = math.Min(least, wide)
	}
	return least, most
}

// Circle is a centre and a radius.
type Circle[P Frame] struct {
	Centre P
	Radius float64
}

// Holds tells whether p lies in the circle, to a relative 1e-9.
func (c Circle[P]) Holds(p P) bool { return Dist(c.Centre, p) <= c.Radius*(1+1e-9)+1e-12 }

// SmallestCircle round the points. No points give the null circle.
func SmallestCircle[P Frame](pts []P) Circle[P] {
	h := Hull(pts)
	if len(h) == 0 {
		return Circle[P]{}
	}
	c := Circle[P]{h[0], 0}
	for i := range h {
		if c.Holds(h[i]) {
			continue
		}
		c = Circle[P]{h[i], 0}
		for j := 0; j < i; j++ {
			if c.Holds(h[j]) {
				continue
			}
			c = circle2(h[i], h[j])
			for k := 0; k < j; k++ {
				if !c.Holds(h[k]) {
					c = circle3(h[i], h[j], h[k])
				}
			}
		}
	}
	return c
}

func circle2[P Frame](a, b P) Circle[P] {
	return Circle[P]{P{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, Dist(a, b) / 2}
}

func circle3[P Frame](a, b, c P) Circle[P] {
	u, v := Sub(b, a), Sub(c, a)
	d := 2 * u.Cross(v)
	if d == 0 {
		out := circle2(a, b)
		for _, o := range []Circle[P]{circle2(a, c), circle2(b, c)} {
			if o.Radius > out.Radius {
				out = o
			}
		}
		return out
	}
	x := (v[1]*u.Dot(u) - u[1]*v.Dot(v)) / d
	y := (u[0]*v.Dot(v) - v[0]*u.Dot(u)) / d
	return Circle[P]{P{a[0] + x, a[1] + y}, math.Hypot(x, y)}
}

// Polygon of n vertices with the circle's own area (METHODS: vertices at r sqrt((2 pi/n)/sin(2 pi/n))),
// counter-clockwise.
func (c Circle[P]) Polygon(n int) Ring[P] {
	t := 2 * math.Pi / float64(n)
	r := c.Radius * math.Sqrt(t/math.Sin(t))
	out := make(Ring[P], n)
	for i := range out {
		out[i] = Add(c.Centre, Polar(t*float64(i)), r)
	}
	return out
}

// Sides is the number of vertices for which a polygon leaves the circle by at most tol.
func Sides(radius, tol float64) int {
	if radius <= tol {
		return 8
	}
	n := int(math.Ceil(math.Pi / math.Acos(1-tol/radius)))
	return max(8, (n+3)/4*4)
}
