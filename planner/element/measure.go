package element

import (
	"math"

	"sugarwright/geom"
)

// signature is the same for a shape wherever it lies, however it is turned, mirrored or not.
func signature(r region) [6]float64 {
	m := geom.MomentsOf(r)
	far := 0.0
	for _, p := range r[0] {
		far = math.Max(far, geom.Dist(p, m.Centroid))
	}
	return [6]float64{math.Sqrt(m.Area), r.Perimeter() / 4, math.Sqrt(geom.Hull(r[0]).Area()),
		math.Sqrt(math.Sqrt(m.Ix + m.Iy)), math.Sqrt(math.Sqrt(math.Hypot(m.Ix-m.Iy, 2*m.Ixy))), far}
}

// measured is what pricing needs to know of a shape, remembered for all shapes that are congruent with it as far as their signatures tell.
type measured struct {
	sig    [6]float64
	fits   []Fit
	lacks  float64 // of its hull
	notch  float64 // sharp concave corners, by how sharp
	slight map[[2]int]bool
}

// sameMM is how near the signatures of two shapes must be for one to stand for the other in the search.
const sameMM = 0.004

// notchTurn is the least turn of a concave corner that counts; from fullNotch on it counts once.
const (
	notchTurn = 30 * math.Pi / 180
	fullNotch = 60 * math.Pi / 180
)

// notches counts the sharp concave corners of an outline.
func notches[P geom.Frame](ring geom.Ring[P]) float64 {
	q := geom.Thinned(ring, 0.05)
	sum := 0.0
	for i := range q {
		in, out := geom.Sub(q[i], q[(i+len(q)-1)%len(q)]), geom.Sub(q[(i+1)%len(q)], q[i])
		if turn := -math.Atan2(in.Cross(out), in.Dot(out)); turn > notchTurn {
			sum += math.Min(1, turn/fullNotch)
		}
	}
	return sum
}

// measure is what is known of a shape, or of one like it.
func (s *splitter) measure(shape region) *measured {
	sig := signature(shape)
	bin := int(sig[0] / (4 * sameMM))
	for b := bin - 1; b <= bin+1; b++ {
	seek:
		for _, m := range s.known[b] {
			for k := range sig {
				if math.Abs(sig[k]-m.sig[k]) > sameMM {
					continue seek
				}
			}
			return m
		}
	}
	m := &measured{sig: sig, slight: map[[2]int]bool{}, lacks: 1 - shape[0].Area()/geom.Hull(shape[0]).Area(), notch: notches(shape[0])}
	s.known[bin] = append(s.known[bin], m)
	return m
}

// forms fits the shape. The closing wrap takes any outline: it is not fitted.
func (g *merger) forms(m *measured, shape region, outer bool) []Fit {
	if outer {
		return []Fit{{Form: Wrap, IoU: 1, A: 100}}
	}
	if m.fits == nil {
		min := g.d.s.shop.Minutes
		makes := [Forms]float64{min.MakeRod, min.MakeStrip, min.MakeStrip, min.MakeBlock, min.MakeWedge, min.MakeSegment, min.MakeTeardrop, min.MakeWrap}
		m.fits = fitAll(shape, quick(shape.Area()), func(form Form, best Fit) bool {
			// A form that is dearer to make than the best one with its penalty is not tried.
			return best.IoU < fitFloor || makes[form] < makes[best.Form]+fitSlope*math.Max(0, fitKnee-best.IoU)
		})
		if len(m.fits) == 0 {
			m.fits = []Fit{{Form: Wrap, IoU: 0.01}}
		}
	}
	return m.fits
}

// thin remembers for the shape whether it is too thin for a part of a kind and form.
func (m *measured) thin(s *splitter, shape region, kind Kind, form Form) bool {
	key := [2]int{int(kind), int(form)}
	bad, ok := m.slight[key]
	if !ok {
		is, err := s.thin(shape, kind, form)
		bad = is || err != nil
		m.slight[key] = bad
	}
	return bad
}
