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

// solver seeks bounded numbers x, from 0 to most each, with which the columns sum to b, as nearly as may be in the sense
// of least squares: a primal-dual interior point method with predictor and corrector (Mehrotra 1992; Nocedal and Wright,
// Numerical Optimization, chapter 16).
type solver struct {
	b    []float64
	cols []column
	most []float64

	left    []float64   // what the columns leave of b
	decided bool        // that they leave too much, by duality along what they leave
	normal  [][]float64 // of the step, its lower half from the first that may differ from 0 on, then its Cholesky factor
	from    []int       // where a row begins
}

// mostForce stands for no bound: in weights of the pile.
const mostForce = 50

func (s *solver) add(c column, most float64) {
	sum := 0.0
	for _, v := range c.val[:c.n] {
		sum += v * v
	}
	if sum >= 1e-18 {
		s.cols, s.most = append(s.cols, c), append(s.most, math.Min(most, mostForce))
	}
}

// reaches tells whether the columns leave no more than so much of b. Each iterate is a feasible x, with what it leaves,
// and by duality a bound on what any x leaves: it ends when one of the two decides.
func (s *solver) reaches(within float64) bool {
	n, m := len(s.cols), len(s.b)
	x, z, w := make([]float64, n), make([]float64, n), make([]float64, n)
	dx, dz, dw := make([]float64, n), make([]float64, n), make([]float64, n)
	slope, want, d := make([]float64, n), make([]float64, n), make([]float64, n)
	r := make([]float64, m)
	s.left = make([]float64, m)
	s.envelope()
	for i, u := range s.most {
		x[i], z[i], w[i] = math.Min(0.1, u/2), 0.1, 0.1
	}
	for range 60 {
		left := s.residual(x)
		if left <= within {
			return true
		}
		// No x leaves less than the part of b along what is left that the columns cannot reach.
		bound, mu := 0.0, 0.0
		for i, v := range s.left {
			bound += v * s.b[i]
		}
		for i := range s.cols {
			slope[i] = s.cols[i].dot(s.left)
			bound -= math.Max(0, slope[i]) * s.most[i]
			mu += x[i]*z[i] + (s.most[i]-x[i])*w[i]
		}
		if bound > within*left {
			s.decided = true
			return false
		}
		mu /= 2 * float64(n)
		for i, u := range s.most {
			d[i] = z[i]/x[i] + w[i]/(u-x[i])
		}
		s.factor(d)
		step := func(target float64, corrected bool) {
			clear(r)
			for i := range s.cols {
				low, high := target-x[i]*z[i], target-(s.most[i]-x[i])*w[i]
				if corrected {
					low -= dx[i] * dz[i]
					high += dx[i] * dw[i]
				}
				dz[i], dw[i] = low, high
				want[i] = (slope[i] + z[i] - w[i] + low/x[i] - high/(s.most[i]-x[i])) / d[i]
				c := &s.cols[i]
				for k := range c.n {
					r[c.at[k]] -= c.val[k] * want[i]
				}
			}
			s.solve(r)
			for i := range s.cols {
				dx[i] = want[i] + s.cols[i].dot(r)/d[i]
				dz[i] = (dz[i] - z[i]*dx[i]) / x[i]
				dw[i] = (dw[i] + w[i]*dx[i]) / (s.most[i] - x[i])
			}
		}
		reach := func() float64 { // how far the step goes before a bound
			t := 1.0
			for i, u := range s.most {
				if dx[i] < 0 {
					t = math.Min(t, -x[i]/dx[i])
				} else if dx[i] > 0 {
					t = math.Min(t, (u-x[i])/dx[i])
				}
				if dz[i] < 0 {
					t = math.Min(t, -z[i]/dz[i])
				}
				if dw[i] < 0 {
					t = math.Min(t, -w[i]/dw[i])
				}
			}
			return t
		}
		step(0, false)
		t, after := reach(), 0.0
		for i, u := range s.most {
			after += (x[i]+t*dx[i])*(z[i]+t*dz[i]) + (u-x[i]-t*dx[i])*(w[i]+t*dw[i])
		}
		after /= 2 * float64(n)
		step(mu*math.Pow(after/mu, 3), true)
		t = 0.995 * reach()
		for i := range s.cols {
			x[i] += t * dx[i]
			z[i] += t * dz[i]
			w[i] += t * dw[i]
		}
	}
	return false
}

// residual is the length of what the columns leave of b.
func (s *solver) residual(x []float64) float64 {
	copy(s.left, s.b)
	for i := range s.cols {
		c := &s.cols[i]
		for k := range c.n {
			s.left[c.at[k]] -= x[i] * c.val[k]
		}
	}
	sum := 0.0
	for _, v := range s.left {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// envelope makes room for the lower half of A A', A the columns: a row from the first that may differ from 0 on.
func (s *solver) envelope() {
	m := len(s.b)
	s.from, s.normal = make([]int, m), make([][]float64, m)
	for i := range s.from {
		s.from[i] = i
	}
	for i := range s.cols {
		c := &s.cols[i]
		first := m
		for _, k := range c.at[:c.n] {
			first = min(first, k)
		}
		for _, k := range c.at[:c.n] {
			s.from[k] = min(s.from[k], first)
		}
	}
	for i, from := range s.from {
		s.normal[i] = make([]float64, i+1-from)
	}
}

// factor makes the Cholesky factor of 1 + A/d A', A the columns; it lies within the envelope.
func (s *solver) factor(d []float64) {
	for i, row := range s.normal {
		clear(row)
		row[i-s.from[i]] = 1
	}
	for i := range s.cols {
		c := &s.cols[i]
		for k := range c.n {
			v := c.val[k] / d[i]
			row, from := s.normal[c.at[k]], s.from[c.at[k]]
			for l := range c.n {
				if c.at[l] <= c.at[k] {
					row[c.at[l]-from] += v * c.val[l]
				}
			}
		}
	}
	for i, row := range s.normal {
		from := s.from[i]
		for j := from; j < i; j++ {
			other, begin := s.normal[j], max(from, s.from[j])
			row[j-from] = (row[j-from] - dot(row[begin-from:j-from], other[begin-s.from[j]:])) / other[j-s.from[j]]
		}
		rest := row[:i-from]
		row[i-from] = math.Sqrt(math.Max(row[i-from]-dot(rest, rest), 1e-12))
	}
}

// solve replaces v by the solution of the factored equations.
func (s *solver) solve(v []float64) {
	for i, row := range s.normal {
		n := i - s.from[i]
		v[i] = (v[i] - dot(row[:n], v[s.from[i]:])) / row[n]
	}
	for i := len(v) - 1; i >= 0; i-- {
		row, from := s.normal[i], s.from[i]
		v[i] /= row[i-from]
		for k, l := range row[:i-from] {
			v[from+k] -= l * v[i]
		}
	}
}

// dot is the sum of products over the first.
func dot(a, b []float64) (sum float64) {
	b = b[:len(a)]
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
