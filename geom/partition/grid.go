// Package partition divides the section into regions of one colour whose neighbours share their borders vertex by
// vertex.
//
// Guarantees (P1, P9): all outlines are noded in one pass on an integer grid of 1e-4 mm with exact predicates; the
// faces tile the plane; no vertex is within two units of another or of an edge that does not end in it; the result does
// not depend on map order.
//
// References: Hobby 1999 and Guibas & Marimont 1998 (snap rounding); Halperin & Packer 2002 (iterated); the two-unit
// split and merge loop is METHODS 2's. Like colours: Sharma, Wu & Dalal 2005.
package partition

import (
	"cmp"
	"math"
	"math/bits"

	"sugarwright/geom"
)

// Unit is the grid's step in millimetres.
const Unit = 1e-4

// Limit is the largest coordinate that the grid takes, in units: below 2^23 orientations are exact in int64 (METHODS
// 0).
const Limit = 1<<23 - 1

// Point is a place on the grid, in units.
type Point struct{ X, Y int64 }

// Snap rounds a true point to the grid, half away from zero so that turning by a quarter commutes with it.
func Snap(p geom.TruePoint) Point {
	return Point{int64(math.Round(p[0] / Unit)), int64(math.Round(p[1] / Unit))}
}

// True is the float64 nearest to the grid point in millimetres; Snap gives the point back.
func (p Point) True() geom.TruePoint { return geom.TruePoint{float64(p.X) / 1e4, float64(p.Y) / 1e4} }

func (p Point) sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

func cross(a, b Point) int64 { return a.X*b.Y - a.Y*b.X }

func dot(a, b Point) int64 { return a.X*b.X + a.Y*b.Y }

func orient(a, b, c Point) int64 { return cross(b.sub(a), c.sub(a)) }

func less(a, b Point) bool { return a.X < b.X || a.X == b.X && a.Y < b.Y }

func compare(a, b Point) int {
	if c := cmp.Compare(a.X, b.X); c != 0 {
		return c
	}
	return cmp.Compare(a.Y, b.Y)
}

// near tells whether p lies within tol units of the inside of segment a to b (its ends excluded).
func near(p, a, b Point) bool {
	d, w := b.sub(a), p.sub(a)
	t, l := dot(d, w), dot(d, d)
	if t <= 0 || t >= l {
		return false
	}
	c := cross(d, w)
	if c < 0 {
		c = -c
	}
	if c > tol*(abs(d.X)+abs(d.Y)) { // keeps the squares below 2^63
		return false
	}
	return c*c <= tol*tol*l
}

// crossing is where segments a-b and c-d cross properly, rounded; ok is false when they do not.
func crossing(a, b, c, d Point) (Point, bool) {
	o1, o2 := orient(a, b, c), orient(a, b, d)
	if o1 == 0 || o2 == 0 || (o1 > 0) == (o2 > 0) {
		return Point{}, false
	}
	o3, o4 := orient(c, d, a), orient(c, d, b)
	if o3 == 0 || o4 == 0 || (o3 > 0) == (o4 > 0) {
		return Point{}, false
	}
	num, den := abs(o3), abs(o3)+abs(o4)
	return Point{a.X + mulDiv(b.X-a.X, num, den), a.Y + mulDiv(b.Y-a.Y, num, den)}, true
}

// mulDiv is x*num/den rounded half away from zero, in 128 bits; 0 <= num <= den.
func mulDiv(x, num, den int64) int64 {
	hi, lo := bits.Mul64(uint64(abs(x)), uint64(num))
	lo, carry := bits.Add64(lo, uint64(den/2), 0)
	q, _ := bits.Div64(hi+carry, lo, uint64(den))
	if x < 0 {
		return -int64(q)
	}
	return int64(q)
}

func abs(x int64) int64 {
	if x < 0 {
		return -x
	}
	return x
}
