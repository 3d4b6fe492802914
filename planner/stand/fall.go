package stand

import (
	"math"
	"slices"

	"sugarwright/geom"
)

// A fall is a way in which a pile went: how each outline sets out, along and round a point. Most piles that fall do so
// in a way known from one with a part more or less.
type fall struct {
	about geom.Vec
	sways [][3]float64
}

// frame is where a solver's equations are: those of each outline, the point that moments are about, and their unit.
type frame struct {
	row  map[int]int
	mid  geom.Vec
	size float64
}

// mostFalls are remembered.
const mostFalls = 16

// fellBefore tells whether the pile falls in a way that is known. It is certain: no forces can keep it from it.
func (p *Pile) fellBefore(s *solver, f frame) bool {
	way := make([]float64, len(s.b))
	for n, known := range p.falls {
		d := geom.Sub(f.mid, known.about)
		for i, k := range f.row {
			v := known.sways[i]
			way[k], way[k+1], way[k+2] = v[0]-v[2]*d[1], v[1]+v[2]*d[0], v[2]*f.size
		}
		if s.lacks(way) > Tuned.Residual {
			p.falls = slices.Insert(slices.Delete(p.falls, n, n+1), 0, known)
			return true
		}
	}
	return false
}

// remember keeps the way in which a pile has just fallen.
func (p *Pile) remember(s *solver, f frame) {
	if !s.decided {
		return
	}
	known := fall{f.mid, make([][3]float64, len(p.shape))}
	for i, k := range f.row {
		known.sways[i] = [3]float64{s.left[k], s.left[k+1], s.left[k+2] / f.size}
	}
	p.falls = slices.Insert(p.falls, 0, known)
	p.falls = p.falls[:min(len(p.falls), mostFalls)]
}

// lacks is the least that any forces leave of b along a way, by duality.
func (s *solver) lacks(way []float64) float64 {
	long := math.Sqrt(dot(way, way))
	if long == 0 {
		return 0
	}
	bound := dot(way, s.b)
	for i := range s.cols {
		bound -= math.Max(0, s.cols[i].dot(way)) * s.most[i]
	}
	return bound / long
}
