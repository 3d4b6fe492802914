package recipe

import (
	"math"
	"sort"

	"sugarwright/geom"
)

// scan is a region seen along parallel lines: how much of it a section covers is then a sum over the lines, for borders
// of any shape. Points are in the scan's own frame, its origin in the region's centroid.
type scan struct {
	rings [][]geom.Vec
	area  float64
	lo    float64
	step  float64
	rows  [][]float64 // where lines cross the region, ascending
	hits  [][]float64 // the same for the section that is measured
}

// lines of a scan: few for the search, more for what is printed.
const (
	searchLines = 40
	finalLines  = 160
)

// newScan looks at rings through so many lines.
func newScan(rings [][]geom.Vec, area float64, lines int) *scan {
	s := &scan{rings: rings, area: area, lo: math.Inf(1)}
	hi := math.Inf(-1)
	for _, p := range rings[0] {
		s.lo, hi = min(s.lo, p[1]), max(hi, p[1])
	}
	pad := (hi - s.lo) * 0.15 // a section may reach beyond the region
	s.lo -= pad
	s.step = (hi + pad - s.lo) / float64(lines)
	s.rows, s.hits = make([][]float64, lines), make([][]float64, lines)
	for _, r := range rings {
		s.cross(s.rows, r)
	}
	for i := range s.rows {
		sort.Float64s(s.rows[i])
		s.hits[i] = make([]float64, 0, 8)
	}
	return s
}

// cross adds where a closed border crosses the lines.
func (s *scan) cross(rows [][]float64, ring []geom.Vec) {
	a := ring[len(ring)-1]
	for _, b := range ring {
		p, q := a, b
		a = b
		if p[1] > q[1] {
			p, q = q, p
		}
		// Lines stand at lo + (i + 1/2) step.
		first := ceil((p[1]-s.lo)/s.step - 0.5)
		last := ceil((q[1]-s.lo)/s.step-0.5) - 1
		first, last = max(first, 0), min(last, len(rows)-1)
		if first > last {
			continue
		}
		slope := (q[0] - p[0]) / (q[1] - p[1])
		x := p[0] + (s.lo+(float64(first)+0.5)*s.step-p[1])*slope
		for i := first; i <= last; i++ {
			rows[i] = append(rows[i], x)
			x += slope * s.step
		}
	}
}

// ceil is the least whole number that is no less.
func ceil(v float64) int {
	n := int(v)
	if float64(n) < v {
		n++
	}
	return n
}

// covered is the area that the region and a section have in common.
func (s *scan) covered(section []geom.Vec) float64 {
	for i := range s.hits {
		s.hits[i] = s.hits[i][:0]
	}
	s.cross(s.hits, section)
	sum := 0.0
	for i, b := range s.hits {
		a := s.rows[i]
		if len(a) < 2 || len(b) < 2 {
			continue
		}
		for k := 1; k < len(b); k++ { // few: sorted by insertion
			for j := k; j > 0 && b[j] < b[j-1]; j-- {
				b[j], b[j-1] = b[j-1], b[j]
			}
		}
		for j, k := 0, 0; j+1 < len(a) && k+1 < len(b); {
			lo, hi := max(a[j], b[k]), min(a[j+1], b[k+1])
			if hi > lo {
				sum += hi - lo
			}
			if a[j+1] < b[k+1] {
				j += 2
			} else {
				k += 2
			}
		}
	}
	return sum * s.step
}

// inside tells whether a point lies within closed rings.
func inside(rings [][]geom.Vec, p geom.Vec) bool {
	in := false
	for _, r := range rings {
		a := r[len(r)-1]
		for _, b := range r {
			if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]) {
				in = !in
			}
			a = b
		}
	}
	return in
}

// nearest is the border point of rings nearest to p, and its distance.
func nearest(rings [][]geom.Vec, p geom.Vec) (at geom.Vec, dist float64) {
	best := math.Inf(1)
	for _, r := range rings {
		a := r[len(r)-1]
		for _, b := range r {
			v := geom.Vec{b[0] - a[0], b[1] - a[1]}
			w := geom.Vec{p[0] - a[0], p[1] - a[1]}
			t := 0.0
			if l := v[0]*v[0] + v[1]*v[1]; l > 0 {
				t = max(0, min(1, (v[0]*w[0]+v[1]*w[1])/l))
			}
			dx, dy := w[0]-t*v[0], w[1]-t*v[1]
			if d := dx*dx + dy*dy; d < best {
				best, at = d, geom.Vec{a[0] + t*v[0], a[1] + t*v[1]}
			}
			a = b
		}
	}
	return at, math.Sqrt(best)
}

// lump is the diameter of the largest disc in what a region and a section have not in common, as far as it is over a
// limit; with enough, the first that is over it.
func lump(region, section [][]geom.Vec, limit float64, enough bool) float64 {
	within := func(p geom.Vec) float64 { // the largest disc about p
		if inside(region, p) == inside(section, p) {
			return 0
		}
		_, a := nearest(region, p)
		_, b := nearest(section, p)
		return min(a, b)
	}
	// A disc reaches from border to border: where it lies, one border is as far from the other as it is wide.
	type start struct {
		at  geom.Vec
		gap float64
	}
	var starts []start
	most := 0.0
	for _, side := range [2][2][][]geom.Vec{{region, section}, {section, region}} {
		for _, ring := range side[0] {
			a := ring[len(ring)-1]
			for _, b := range ring {
				n := int(2*geom.Dist(a, b)/limit) + 1
				for k := range n {
					p := geom.Add(a, geom.Sub(b, a), (float64(k)+0.5)/float64(n))
					q, d := nearest(side[1], p)
					if d > limit {
						starts = append(starts, start{geom.Vec{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}, d})
					}
					most = max(most, min(d, limit))
				}
				a = b
			}
		}
	}
	sort.SliceStable(starts, func(i, j int) bool { return starts[i].gap > starts[j].gap })
	found := 0.0
	for _, s := range starts {
		if s.gap < found || enough && found > limit {
			break
		}
		p, r := s.at, within(s.at)
		for step := limit / 4; step > limit/40; {
			better := false
			for _, d := range [8]geom.Vec{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {0.7, 0.7}, {-0.7, 0.7}, {-0.7, -0.7}, {0.7, -0.7}} {
				q := geom.Add(p, d, step)
				if v := within(q); v > r+1e-6 {
					p, r, better = q, v, true
					break
				}
			}
			if !better {
				step /= 2
			}
		}
		found = max(found, 2*r)
	}
	if found == 0 {
		return most
	}
	return found
}
