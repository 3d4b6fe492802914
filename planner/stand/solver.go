package stand

import "math"

// column is a force on at most two bodies: two directions and a moment each.
type column struct {
	at  [6]int
	val [6]float64
	n   int
}

func (c *column) put(row int, v float64) {
	if v != 0 {
		c.at[c.n], c.val[c.n] = row, v
		c.n++
	}
}

func (c *column) dot(v []float64) (sum float64) {
	for k := range c.n {
		sum += c.val[k] * v[c.at[k]]
	}
	return sum
}

func (c *column) times(o *column) (sum float64) {
	for k := range c.n {
		for l := range o.n {
			if c.at[k] == o.at[l] {
				sum += c.val[k] * o.val[l]
			}
		}
	}
	return sum
}

// solver seeks bounded numbers x, from 0 to most each, with which the columns sum to b, as nearly as may be in the sense
// of least squares, by an active set (Stark and Parker 1995).
type solver struct {
	b    []float64
	cols []column
	most []float64

	x    []float64
	at   []int8 // -1 at 0, 1 at most, 0 free
	free []int
	chol [][]float64 // of the normal equations of the free columns, row by row
	left []float64   // what the columns leave of b
}

func (s *solver) add(c column, most float64) {
	if c.times(&c) < 1e-18 {
		return
	}
	s.cols, s.most = append(s.cols, c), append(s.most, most)
}

// lacks is the length of what the columns leave of b.
func (s *solver) lacks() float64 {
	n := len(s.cols)
	s.x, s.at = make([]float64, n), make([]int8, n)
	norm := make([]float64, n)
	for i := range s.at {
		s.at[i] = -1
		norm[i] = math.Sqrt(s.cols[i].times(&s.cols[i]))
	}
	s.left = make([]float64, len(s.b))
	last := s.residual()
	for step := 0; step < 6*len(s.b)+20 && last > Tuned.Residual/4; step++ {
		// The column along which the residual falls fastest.
		best, gain := -1, 1e-9
		for i := range s.x {
			if s.at[i] != 0 {
				if g := s.cols[i].dot(s.left) / norm[i] * -float64(s.at[i]); g > gain {
					best, gain = i, g
				}
			}
		}
		if best < 0 || !s.release(best) {
			break
		}
		for inner := 0; inner < 3*len(s.b) && len(s.free) > 0; inner++ {
			if !s.advance(s.leastSquares()) {
				break
			}
		}
		now := s.residual()
		if now > last-1e-9 { // no more is gained
			break
		}
		last = now
	}
	return last
}

func (s *solver) residual() float64 {
	copy(s.left, s.b)
	for i, v := range s.x {
		if v != 0 {
			c := &s.cols[i]
			for k := range c.n {
				s.left[c.at[k]] -= v * c.val[k]
			}
		}
	}
	sum := 0.0
	for _, v := range s.left {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// release frees a column; false where the free ones already tell all that it could.
func (s *solver) release(i int) bool {
	row := make([]float64, len(s.free)+1)
	for k, f := range s.free {
		sum := s.cols[i].times(&s.cols[f])
		for l := range k {
			sum -= row[l] * s.chol[k][l]
		}
		row[k] = sum / s.chol[k][k]
	}
	d := s.cols[i].times(&s.cols[i]) + 1e-10
	for _, v := range row[:len(s.free)] {
		d -= v * v
	}
	if d <= 1e-12 {
		return false
	}
	row[len(s.free)] = math.Sqrt(d)
	s.chol, s.free = append(s.chol, row), append(s.free, i)
	s.at[i] = 0
	return true
}

// leastSquares is the best of the free columns alone.
func (s *solver) leastSquares() []float64 {
	rest := append([]float64(nil), s.b...)
	for i, a := range s.at {
		if a == 1 {
			c := &s.cols[i]
			for k := range c.n {
				rest[c.at[k]] -= s.x[i] * c.val[k]
			}
		}
	}
	n := len(s.free)
	z := make([]float64, n)
	for i, f := range s.free {
		z[i] = s.cols[f].dot(rest)
		for k := range i {
			z[i] -= s.chol[i][k] * z[k]
		}
		z[i] /= s.chol[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			z[i] -= s.chol[k][i] * z[k]
		}
		z[i] /= s.chol[i][i]
	}
	return z
}

// advance goes as far towards the free optimum as the bounds allow, and holds what has come to its bound; false when the
// optimum is reached.
func (s *solver) advance(z []float64) bool {
	t, hit := 1.0, -1
	for k, i := range s.free {
		d := z[k] - s.x[i]
		switch {
		case z[k] < 0 && d < 0:
			if u := -s.x[i] / d; u < t {
				t, hit = u, k
			}
		case z[k] > s.most[i] && d > 0:
			if u := (s.most[i] - s.x[i]) / d; u < t {
				t, hit = u, k
			}
		}
	}
	for k, i := range s.free {
		s.x[i] += t * (z[k] - s.x[i])
	}
	if hit < 0 {
		return false
	}
	var kept []int
	for k, i := range s.free {
		switch {
		case k == hit && z[k] < 0 || s.x[i] <= 1e-12 && z[k] < 0:
			s.x[i], s.at[i] = 0, -1
		case k == hit || s.x[i] >= s.most[i]-1e-12 && z[k] > s.most[i]:
			s.x[i], s.at[i] = s.most[i], 1
		default:
			kept = append(kept, i)
		}
	}
	first := 0 // the rows before the first that goes stay as they are
	for first < len(kept) && kept[first] == s.free[first] {
		first++
	}
	s.free, s.chol = s.free[:first], s.chol[:first]
	for _, i := range kept[first:] {
		if !s.release(i) {
			s.x[i], s.at[i] = 0, -1
		}
	}
	return true
}
