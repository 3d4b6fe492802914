package plan

import (
	"math"

	"sugarwright/geom"
)

// PolygonOf is a region as the file holds it.
func PolygonOf[P geom.Frame](r geom.Region[P]) Polygon {
	out := make(Polygon, len(r))
	for i, ring := range r {
		out[i] = make(Ring, len(ring))
		for j, p := range ring {
			out[i][j] = PointOf(p)
		}
	}
	return out
}

// PointOf is a point as the file holds it.
func PointOf[P ~[2]float64](p P) Point { return Point{Num(p[0]), Num(p[1])} }

// rounded is a number as the file prints it.
func (n Num) rounded() float64 { return math.Round(float64(n)*1e4)/1e4 + 0 }
