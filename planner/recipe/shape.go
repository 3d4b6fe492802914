package recipe

import (
	"math"

	"sugarwright/geom"
)

// Signature is the same for a shape wherever it lies, however it is turned, mirrored or not.
func Signature(r geom.Region[geom.TruePoint]) [6]float64 {
	m := geom.MomentsOf(r)
	far := 0.0
	for _, p := range r[0] {
		far = max(far, geom.Dist(p, m.Centroid))
	}
	return [6]float64{math.Sqrt(m.Area), r.Perimeter() / 4, math.Sqrt(geom.Hull(r[0]).Area()),
		math.Sqrt(math.Sqrt(m.Ix + m.Iy)), math.Sqrt(math.Sqrt(math.Hypot(m.Ix-m.Iy, 2*m.Ixy))), far}
}
