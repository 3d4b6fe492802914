package form

import (
	"math"

	"sugarwright/geom"
)

// Signature is the same for a shape wherever it lies, however it is turned, mirrored or not.
func Signature(r geom.Region[geom.TruePoint]) [6]float64 {
	m := geom.MomentsOf(r)
	far := 0.0
	for _, p := range r[0] {
		far = math.Max(far, geom.Dist(p, m.Centroid))
	}
	return [6]float64{math.Sqrt(m.Area), r.Perimeter() / 4, math.Sqrt(geom.Hull(r[0]).Area()),
		math.Sqrt(math.Sqrt(m.Ix + m.Iy)), math.Sqrt(math.Sqrt(math.Hypot(m.Ix-m.Iy, 2*m.Ixy))), far}
}

// Notches counts the sharp concave corners of an outline.
func Notches[P geom.Frame](ring geom.Ring[P]) float64 {
	q := geom.Thinned(ring, 0.05)
	sum := 0.0
	for i := range q {
		in, out := geom.Sub(q[i], q[(i+len(q)-1)%len(q)]), geom.Sub(q[(i+1)%len(q)], q[i])
		if turn := -math.Atan2(in.Cross(out), in.Dot(out)); turn > Tuned.NotchTurn {
			sum += math.Min(1, turn/Tuned.FullNotch)
		}
	}
	return sum
}

// Best is the fit of highest overlap; the zero Fit when there is none.
func Best(fits []Fit) Fit {
	var out Fit
	for _, f := range fits {
		if f.IoU > out.IoU {
			out = f
		}
	}
	return out
}
