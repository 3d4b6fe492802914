package split

import (
	"math"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
	"sugarwright/planner/symmetry"
)

// equalShare is the distance, as a share of the square root of the area, up to which near-equal parts are made equal:
// below it the areas differ by less than 3 % (SPLITTING 3); equalMM bounds it for large parts.
const (
// equalBudget is the share of the picture that all of it together may move: above it the plan would no longer be as
// drawn (DESIGN 5).
)

// copies finds congruent elements of one colour, mirror images included; the first is the original. Near-equal parts
// are made equal: they keep their polygons and share one size, and a finding says what that moves in the picture.
func (s *splitter) copies() {
	es := s.set.Elements
	sig := make([][6]float64, len(es))
	for i := range es {
		sig[i] = recipe.Signature(es[i].True)
	}
	picture := math.Pi * s.m.Frame.PictureRadius * s.m.Frame.PictureRadius
	left := Tuned.EqualBudget * picture
	for j := range es {
		if es[j].Block == len(s.set.Blocks)-1 && (es[j].Kind == set.Ground || es[j].Kind == set.Jacket) {
			continue
		}
		near := math.Min(Tuned.EqualMM, Tuned.EqualShare*sig[j][0])
		if es[j].Kind == set.Spacer {
			near *= Tuned.GiveWay
		}
	search:
		for _, tol := range []float64{Tuned.CongruentMM, near} {
			for i := 0; i < j; i++ {
				if es[i].CopyOf >= 0 || es[i].Colour != es[j].Colour || es[i].Kind != es[j].Kind || !alike(sig[i], sig[j], tol) {
					continue
				}
				image, mirrored, ok := Congruent(es[i].True, es[j].True, tol)
				if !ok {
					continue
				}
				if tol > Tuned.CongruentMM {
					moved := between(image, es[j].True)
					if moved > left {
						continue
					}
					left -= moved
					s.found.Add(finding.New(finding.MadeEqual, finding.Note, 100*moved/picture).At(es[j].Inside()))
				}
				es[j].CopyOf, es[j].Mirror, es[j].Fit = i, mirrored, es[i].Fit
				break search
			}
		}
	}
}

func alike(a, b [6]float64, tol float64) bool {
	for k := range a {
		if k != 4 && math.Abs(a[k]-b[k]) > 2*tol+0.002*a[0] {
			return false
		}
	}
	return true
}

// between is the area between the borders of two nearly equal regions, in square millimetres: mean distance times
// length.
func between(a, b region) float64 {
	const samples = 120
	sum, n := 0.0, 0
	for _, ring := range a {
		q := geom.Resampled(ring, a.Perimeter()/samples)
		for _, p := range q {
			d := math.Inf(1)
			for _, r := range b {
				d = math.Min(d, math.Min(geom.LineDist(p, r), geom.SegmentDist(p, r[len(r)-1], r[0])))
			}
			sum, n = sum+d, n+1
		}
	}
	return sum / float64(n) * a.Perimeter()
}

// Congruent tells whether b is a moved and turned within tol (Hausdorff), and whether it must be mirrored for that;
// unmirrored is preferred, and of several turns the one that leaves least between them. The image is a so moved. Turns
// are found by matching vertices of b with the vertex of a that is farthest from the centroid.
func Congruent(a, b region, tol float64) (image region, mirrored, ok bool) {
	ca, cb := geom.MomentsOf(a).Centroid, geom.MomentsOf(b).Centroid
	far, dist := point{}, -1.0
	for _, p := range a[0] {
		if d := geom.Dist(p, ca); d > dist+1e-9 {
			far, dist = p, d
		}
	}
	u := geom.Sub(far, ca)
	for _, mirror := range []bool{false, true} {
		least := math.Inf(1)
		for _, q := range b[0] {
			v := geom.Sub(q, cb)
			if math.Abs(v.Len()-dist) > 2*tol { // only a vertex as far out can be its image
				continue
			}
			turn := v.Angle() - u.Angle()
			if mirror {
				turn = v.Angle() + u.Angle()
			}
			cos, sin := math.Cos(turn), math.Sin(turn)
			m := geom.Map(a, func(p point) point {
				w := geom.Sub(p, ca)
				if mirror {
					w[1] = -w[1]
				}
				return geom.Add(cb, geom.Vec{cos*w[0] - sin*w[1], sin*w[0] + cos*w[1]}, 1)
			})
			if !covers(m, b, tol) || !covers(b, m, tol) {
				continue
			}
			if gap := between(m, b); gap < least-1e-9 {
				image, least = m, gap
			}
			if least < Tuned.CongruentMM {
				break
			}
		}
		if image != nil {
			return image, mirror, true
		}
	}
	return nil, false, false
}

// covers tells whether every vertex of a is within tol of b's border.
func covers(a, b region, tol float64) bool {
	for _, ring := range a {
		for _, p := range ring {
			if !symmetry.OnAny(p, b, tol) {
				return false
			}
		}
	}
	return true
}
