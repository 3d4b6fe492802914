package split

import (
	"math"

	"sugarwright/geom"
	"sugarwright/planner/form"
	"sugarwright/planner/set"
)

// measured is what pricing needs to know of a shape, remembered for all shapes that are congruent with it as far as
// their signatures tell.
type measured struct {
	sig    [6]float64
	fits   []form.Fit
	lacks  float64 // of its hull
	notch  float64 // sharp concave corners, by how sharp
	slight map[[2]int]bool
}

// measure is what is known of a shape, or of one like it.
func (s *splitter) measure(shape region) *measured {
	sig := form.Signature(shape)
	bin := int(sig[0] / (4 * Tuned.SameMM))
	for b := bin - 1; b <= bin+1; b++ {
	seek:
		for _, m := range s.known[b] {
			for k := range sig {
				if math.Abs(sig[k]-m.sig[k]) > Tuned.SameMM {
					continue seek
				}
			}
			return m
		}
	}
	m := &measured{
		sig:    sig,
		slight: map[[2]int]bool{},
		lacks:  1 - shape[0].Area()/geom.Hull(shape[0]).Area(),
		notch:  form.Notches(shape[0]),
	}
	s.known[bin] = append(s.known[bin], m)
	return m
}

// forms fits the shape. The closing wrap takes any outline: it is not fitted.
func (g *merger) forms(m *measured, shape region, outer bool) []form.Fit {
	if outer {
		return []form.Fit{{Form: form.Wrap, IoU: 1, A: 100}}
	}
	if m.fits == nil {
		min := g.d.s.shop.Minutes
		m.fits = form.Fits(shape, form.Quick(shape.Area()), func(f form.Form, best form.Fit) bool {
			// A form that is dearer to make than the best one with its penalty is not tried.
			return best.IoU < Tuned.FitFloor ||
				min.Make(f) < min.Make(best.Form)+Tuned.FitSlope*math.Max(0, Tuned.FitKnee-best.IoU)
		})
		if len(m.fits) == 0 {
			m.fits = []form.Fit{{Form: form.Wrap, IoU: 0.01}}
		}
	}
	return m.fits
}

// thin remembers for the shape whether it is too thin for a part of a kind and form.
func (m *measured) thin(s *splitter, shape region, kind set.Kind, f form.Form) bool {
	key := [2]int{int(kind), int(f)}
	bad, ok := m.slight[key]
	if !ok {
		is, err := s.thin(shape, kind, f)
		bad = is || err != nil
		m.slight[key] = bad
	}
	return bad
}
