package geom

import (
	"math"
	"sort"
)

// Inside is a point of a region: its centroid when that lies inside, else the middle of the widest run of a level line.
func Inside[P Frame](r Region[P]) P {
	c := MomentsOf(r).Centroid
	if r.Contains(c) {
		return c
	}
	b := r.Bound()
	bestP, bestW := r[0][0], 0.0
	for i := 1; i < 16; i++ {
		y := b.Min[1] + (b.Max[1]-b.Min[1])*(float64(i)+0.137)/16.3
		var xs []float64
		for _, ring := range r {
			for j := range ring {
				p, q := ring[j], ring[(j+1)%len(ring)]
				if (p[1] > y) != (q[1] > y) {
					xs = append(xs, p[0]+(q[0]-p[0])*(y-p[1])/(q[1]-p[1]))
				}
			}
		}
		sort.Float64s(xs)
		for j := 0; j+1 < len(xs); j += 2 {
			if w := xs[j+1] - xs[j]; w > bestW {
				bestP, bestW = P{(xs[j] + xs[j+1]) / 2, y}, w
			}
		}
	}
	return bestP
}

// mostSamples of a border: a strip 480 times as long as thick, eight points a thickness on each long side.
const mostSamples = 8000

// Resampled border: points at an even spacing near step.
func Resampled[P Frame](r Ring[P], step float64) Ring[P] {
	total := r.Perimeter()
	n := int(math.Max(16, math.Min(mostSamples, math.Round(total/step))))
	out := make(Ring[P], 0, n)
	step = total / float64(n)
	at, next := 0.0, 0.0
	for i := range r {
		a, b := r[i], r[(i+1)%len(r)]
		d := Dist(a, b)
		for next <= at+d && len(out) < n {
			t := 0.0
			if d > 0 {
				t = (next - at) / d
			}
			out = append(out, Add(a, Sub(b, a), t))
			next += step
		}
		at += d
	}
	return out
}

// LineLength of an open line.
func LineLength[P Frame](c Ring[P]) float64 {
	s := 0.0
	for i := 0; i+1 < len(c); i++ {
		s += Dist(c[i], c[i+1])
	}
	return s
}

// Along is the point at a share of an open line's length.
func Along[P Frame](c Ring[P], share float64) P {
	left := share * LineLength(c)
	for i := 0; i+1 < len(c); i++ {
		d := Dist(c[i], c[i+1])
		if left <= d && d > 0 {
			return Add(c[i], Sub(c[i+1], c[i]), left/d)
		}
		left -= d
	}
	return c[len(c)-1]
}
