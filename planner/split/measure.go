package split

import (
	"math"

	"sugarwright/geom"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
)

// measured is what pricing needs to know of a shape, remembered for all shapes that are congruent with it as far as
// their signatures tell.
type measured struct {
	sig    [6]float64
	fits   [2]*recipe.Fit // for subject and for ground
	lacks  float64        // of its hull
	slight map[[2]int]bool
}

// measure is what is known of a shape, or of one like it: copies in a drawing differ by a little.
func (s *splitter) measure(shape region) *measured {
	sig := recipe.Signature(shape)
	bin := int(math.Log(math.Max(sig[0], 1e-9)) / Tuned.SameShare)
	tol := Tuned.SameShare * sig[0]
	for b := bin - 1; b <= bin+1; b++ {
	seek:
		for _, m := range s.known[b] {
			for k := range sig {
				if d := math.Abs(sig[k] - m.sig[k]); d > tol && !(k == 4 && d <= 4*tol) {
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
	}
	s.known[bin] = append(s.known[bin], m)
	return m
}

// fit is the shape's recipe.
func (m *measured) fit(shape region, ground bool, least recipe.Least) recipe.Fit {
	k := 0
	if ground {
		k = 1
	}
	if m.fits[k] == nil {
		f := recipe.Best(shape, ground, least, recipe.Quick)
		m.fits[k] = &f
	}
	return *m.fits[k]
}

// thin remembers for the shape whether it is too thin for a part of a kind that is made so.
func (m *measured) thin(s *splitter, shape region, kind set.Kind, f recipe.Fit) bool {
	key := [2]int{int(kind), 0}
	if f.Bent() || f.Closed() {
		key[1] = 1
	}
	bad, ok := m.slight[key]
	if !ok {
		is, err := s.thin(shape, kind, f, Tuned.OpenSpare)
		bad = is || err != nil
		m.slight[key] = bad
	}
	return bad
}
