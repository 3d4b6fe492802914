// Package view puts polygons of the plan on a page: true or laid, scaled, turned, mirrored, no finer than the eye sees.
//
// Guarantees: outlines move by less than a line's width when they are thinned out.
package view

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
)

// View is where a frame of the plan goes on the page: its origin at Centre, Scale page millimetres a millimetre, turned
// counter-clockwise by Turn degrees, mirrored where Side is -1.
type View struct {
	Centre page.Point
	Scale  float64
	Turn   float64
	Side   float64
}

// At puts one point of the plan on the page.
func (v View) At(q plan.Point) page.Point {
	sin, cos := math.Sincos(v.Turn * math.Pi / 180)
	x, y := float64(q[0])*cos-float64(q[1])*sin, float64(q[0])*sin+float64(q[1])*cos
	if v.Side < 0 {
		x = -x
	}
	return page.Point{v.Centre[0] + v.Scale*x, v.Centre[1] - v.Scale*y}
}

// Along turns a direction of the plan into one of the page.
func (v View) Along(d plan.Point) page.Point {
	w := View{Scale: 1, Turn: v.Turn, Side: v.Side}
	return w.At(d)
}

// fine is how far, on the page, an outline may move when points are left out, millimetres: less than half of the
// thinnest line.
const fine = 0.08

// Place a polygon.
func (v View) Place(poly plan.Polygon) [][]page.Point {
	out := make([][]page.Point, 0, len(poly))
	for _, ring := range poly {
		ls := make(orb.LineString, 0, len(ring)+1)
		for _, q := range ring {
			ls = append(ls, orb.Point(v.At(q)))
		}
		if len(ls) == 0 {
			continue
		}
		// The ring is cut at its farthest point from the first, so that neither end moves.
		far, d := 0, 0.0
		for i, q := range ls {
			if e := math.Hypot(q[0]-ls[0][0], q[1]-ls[0][1]); e > d {
				far, d = i, e
			}
		}
		ls = append(ls, ls[0])
		thin := simplify.DouglasPeucker(fine)
		a := thin.LineString(append(orb.LineString(nil), ls[:far+1]...))
		b := thin.LineString(append(orb.LineString(nil), ls[far:]...))
		r := make([]page.Point, 0, len(a)+len(b))
		for _, q := range a {
			r = append(r, page.Point(q))
		}
		for _, q := range b[1:] {
			r = append(r, page.Point(q))
		}
		r = r[:len(r)-1]
		if len(r) < 3 {
			r = r[:0]
			for _, q := range ls[:len(ls)-1] {
				r = append(r, page.Point(q))
			}
		}
		out = append(out, r)
	}
	return out
}

// Bounds of polygons, in their own frame: left, low, right, high; turned by so many degrees.
func Bounds(turn float64, polys ...plan.Polygon) page.Box {
	v := View{Scale: 1, Turn: turn}
	b := page.Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, poly := range polys {
		for _, r := range poly {
			for _, q := range r {
				p := v.At(q)
				b = page.Box{math.Min(b[0], p[0]), math.Min(b[1], -p[1]), math.Max(b[2], p[0]), math.Max(b[3], -p[1])}
			}
		}
	}
	return b
}

// Box of rings on a page.
func Box(rings [][]page.Point) page.Box {
	b := page.Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, r := range rings {
		for _, q := range r {
			b = page.Box{math.Min(b[0], q[0]), math.Min(b[1], q[1]), math.Max(b[2], q[0]), math.Max(b[3], q[1])}
		}
	}
	return b
}
