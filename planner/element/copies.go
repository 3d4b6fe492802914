package element

import (
	"math"

	"sugarwright/geom"
)

// congruentMM is the Hausdorff distance up to which two parts are copies (DESIGN 5).
const congruentMM = 0.02

// copies finds congruent elements of one colour and form, mirror images included; the first is the original.
func (s *splitter) copies() {
	es := s.set.Elements
	sig := make([][6]float64, len(es))
	for i := range es {
		sig[i] = signature(es[i].True)
	}
	for j := range es {
		if es[j].Kind == Ground || es[j].Kind == Jacket {
			continue
		}
		for i := 0; i < j; i++ {
			if es[i].CopyOf >= 0 || es[i].Colour != es[j].Colour || es[i].Kind != es[j].Kind || !alike(sig[i], sig[j]) {
				continue
			}
			if mirrored, ok := Congruent(es[i].True, es[j].True, congruentMM); ok {
				es[j].CopyOf, es[j].Mirror, es[j].Fit = i, mirrored, es[i].Fit
				break
			}
		}
	}
}

func alike(a, b [6]float64) bool {
	for k := range a {
		if k != 4 && math.Abs(a[k]-b[k]) > 0.002*a[0]+0.01 {
			return false
		}
	}
	return true
}

// Congruent tells whether b is a moved and turned within tol (Hausdorff), and whether it must be mirrored for that; unmirrored is
// preferred. Turns are found by matching each vertex of b with the vertex of a that is farthest from the centroid.
func Congruent(a, b region, tol float64) (mirrored, ok bool) {
	ca, cb := geom.MomentsOf(a).Centroid, geom.MomentsOf(b).Centroid
	far, dist := point{}, -1.0
	for _, p := range a[0] {
		if d := geom.Dist(p, ca); d > dist+1e-9 {
			far, dist = p, d
		}
	}
	u := geom.Sub(far, ca)
	for _, mirror := range []bool{false, true} {
		for _, q := range b[0] {
			v := geom.Sub(q, cb)
			if math.Abs(v.Len()-dist) > 2*tol {
				continue
			}
			turn := v.Angle() - u.Angle()
			if mirror {
				turn = v.Angle() + u.Angle()
			}
			cos, sin := math.Cos(turn), math.Sin(turn)
			move := func(p point) point {
				w := geom.Sub(p, ca)
				if mirror {
					w[1] = -w[1]
				}
				return geom.Add(cb, geom.Vec{cos*w[0] - sin*w[1], sin*w[0] + cos*w[1]}, 1)
			}
			if m := geom.Map(a, move); covers(m, b, tol) && covers(b, m, tol) {
				return mirror, true
			}
		}
	}
	return false, false
}

// covers tells whether every vertex of a is within tol of b's border.
func covers(a, b region, tol float64) bool {
	for _, ring := range a {
		for _, p := range ring {
			near := false
			for _, o := range b {
				for i := range o {
					if geom.SegmentDist(p, o[i], o[(i+1)%len(o)]) <= tol {
						near = true
						break
					}
				}
				if near {
					break
				}
			}
			if !near {
				return false
			}
		}
	}
	return true
}
