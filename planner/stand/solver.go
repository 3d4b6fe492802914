package stand

import "math"

// solver seeks bounded numbers x, from 0 to most each, with which the columns sum to b, as nearly as may be in the sense
// of least squares, by an active set (Stark and Parker 1995).
type solver struct {
	rows int
	b    []float64
	cols [][]float64
	most []float64
}

func (s *solver) add(col []float64, most float64) {
	n := 0.0
	for _, v := range col {
		n += v * v
	}
	if n < 1e-18 {
		return
	}
	s.cols, s.most = append(s.cols, col), append(s.most, most)
}

// lacks is the length of what the columns leave of b.
func (s *solver) lacks() float64 {
	n := len(s.cols)
	x, at := make([]float64, n), make([]int8, n) // at: -1 at 0, 1 at most, 0 free
	for i := range at {
		at[i] = -1
	}
	left := append([]float64(nil), s.b...)
	residual := func() float64 {
		copy(left, s.b)
		for i, v := range x {
			if v != 0 {
				for k, c := range s.cols[i] {
					left[k] -= v * c
				}
			}
		}
		sum := 0.0
		for _, v := range left {
			sum += v * v
		}
		return math.Sqrt(sum)
	}
	var free []int
	last := residual()
	for step := 0; step < 6*s.rows+20; step++ {
		if last <= Tuned.Residual/4 {
			break
		}
		// The column along which the residual falls fastest.
		best, gain := -1, 1e-9
		for i := range x {
			if at[i] == 0 {
				continue
			}
			g, norm := 0.0, 0.0
			for k, c := range s.cols[i] {
				g += c * left[k]
				norm += c * c
			}
			g = g / math.Sqrt(norm) * -float64(at[i])
			if g > gain {
				best, gain = i, g
			}
		}
		if best < 0 {
			break
		}
		was := at[best]
		at[best] = 0
		free = append(free, best)
		for inner := 0; inner < 3*s.rows && len(free) > 0; inner++ {
			z, ok := s.leastSquares(free, x, at)
			if !ok {
				break
			}
			// As far towards the free optimum as the bounds allow.
			t, hit := 1.0, -1
			for k, i := range free {
				d := z[k] - x[i]
				switch {
				case z[k] < 0 && d < 0:
					if u := -x[i] / d; u < t {
						t, hit = u, k
					}
				case z[k] > s.most[i] && d > 0:
					if u := (s.most[i] - x[i]) / d; u < t {
						t, hit = u, k
					}
				}
			}
			for k, i := range free {
				x[i] += t * (z[k] - x[i])
			}
			if hit < 0 {
				break
			}
			kept := free[:0]
			for k, i := range free {
				switch {
				case k == hit && z[k] < 0 || x[i] <= 1e-12 && z[k] < 0:
					x[i], at[i] = 0, -1
				case k == hit || x[i] >= s.most[i]-1e-12 && z[k] > s.most[i]:
					x[i], at[i] = s.most[i], 1
				default:
					kept = append(kept, i)
				}
			}
			free = kept
		}
		now := residual()
		if now > last-1e-9 { // no more is gained
			if at[best] == 0 && was != 0 {
				break
			}
			if now >= last-1e-12 {
				break
			}
		}
		last = now
	}
	return last
}

// leastSquares solves for the free columns alone, by Cholesky on the normal equations.
func (s *solver) leastSquares(free []int, x []float64, at []int8) ([]float64, bool) {
	n := len(free)
	rest := append([]float64(nil), s.b...)
	for i := range x {
		if at[i] == 1 {
			for k, c := range s.cols[i] {
				rest[k] -= x[i] * c
			}
		}
	}
	a := make([]float64, n*n)
	z := make([]float64, n)
	for i, fi := range free {
		ci := s.cols[fi]
		for j := 0; j <= i; j++ {
			sum := 0.0
			for k, c := range s.cols[free[j]] {
				sum += c * ci[k]
			}
			a[i*n+j] = sum
		}
		for k, c := range ci {
			z[i] += c * rest[k]
		}
		a[i*n+i] += 1e-10
	}
	for i := range n {
		for j := 0; j <= i; j++ {
			sum := a[i*n+j]
			for k := range j {
				sum -= a[i*n+k] * a[j*n+k]
			}
			if i == j {
				if sum <= 0 {
					return nil, false
				}
				a[i*n+i] = math.Sqrt(sum)
			} else {
				a[i*n+j] = sum / a[j*n+j]
			}
		}
	}
	for i := range n {
		for k := range i {
			z[i] -= a[i*n+k] * z[k]
		}
		z[i] /= a[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			z[i] -= a[k*n+i] * z[k]
		}
		z[i] /= a[i*n+i]
	}
	return z, true
}
