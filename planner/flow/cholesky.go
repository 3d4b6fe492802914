package flow

import "math"

// banded is a symmetric matrix of half band w, lower triangle by rows: row i holds columns i-w to i.
type banded struct {
	n, w int
	a    []float64
}

func newBanded(n, w int) *banded { return &banded{n, w, make([]float64, n*(w+1))} }

func (m *banded) row(i int) []float64 { return m.a[i*(m.w+1) : (i+1)*(m.w+1)] }

// at is the place of row i, column j, i-w <= j <= i.
func (m *banded) at(i, j int) *float64 { return &m.a[i*(m.w+1)+j-i+m.w] }

// ridge is added to the unit diagonal after scaling: splines that the disc barely touches are near dependent.
const ridge = 1e-11

// solve overwrites the matrix by its Cholesky factor, rows scaled to a unit diagonal, and b by the solution; ok is
// false when the matrix is not positive definite.
func (m *banded) solve(b []float64) (ok bool) {
	scale := make([]float64, m.n)
	for i := range scale {
		d := *m.at(i, i)
		if !(d > 0) {
			return false
		}
		scale[i] = 1 / math.Sqrt(d)
	}
	for i := range scale {
		row := m.row(i)
		for k := max(0, m.w-i); k <= m.w; k++ {
			row[k] *= scale[i] * scale[i-m.w+k]
		}
		row[m.w] += ridge
		b[i] *= scale[i]
	}
	if !m.factor() {
		return false
	}
	for i := range b {
		row := m.row(i)
		s := b[i]
		for k := max(0, m.w-i); k < m.w; k++ {
			s -= row[k] * b[i-m.w+k]
		}
		b[i] = s / row[m.w]
	}
	for i := m.n - 1; i >= 0; i-- {
		row := m.row(i)
		b[i] /= row[m.w]
		for k := max(0, m.w-i); k < m.w; k++ {
			b[i-m.w+k] -= row[k] * b[i]
		}
	}
	for i := range b {
		b[i] *= scale[i]
	}
	return true
}

// factor is row by row, from the first column that a row has (the factor fills no more), four columns at a time so that
// the row is read once for them.
func (m *banded) factor() bool {
	w := m.w
	for i := 0; i < m.n; i++ {
		ri := m.row(i)
		z := max(0, w-i) // the row's first
		for z < w && ri[z] == 0 {
			z++
		}
		j := i - w + z
		for ; j+4 <= i; j += 4 {
			k := j - i + w // columns up to j-1 of row i are done
			n := k - z
			r0, r1, r2, r3 := m.row(j), m.row(j+1), m.row(j+2), m.row(j+3)
			s0, s1, s2, s3 := dot4(ri[z:k], r0[w-n:w], r1[w-n-1:w-1], r2[w-n-2:w-2], r3[w-n-3:w-3])
			y0 := (ri[k] - s0) / r0[w]
			y1 := (ri[k+1] - s1 - y0*r1[w-1]) / r1[w]
			y2 := (ri[k+2] - s2 - y0*r2[w-2] - y1*r2[w-1]) / r2[w]
			y3 := (ri[k+3] - s3 - y0*r3[w-3] - y1*r3[w-2] - y2*r3[w-1]) / r3[w]
			ri[k], ri[k+1], ri[k+2], ri[k+3] = y0, y1, y2, y3
		}
		for ; j < i; j++ {
			k := j - i + w
			rj := m.row(j)
			s := ri[k]
			y := rj[w-k+z : w]
			for q, v := range ri[z:k] {
				s -= v * y[q]
			}
			ri[k] = s / rj[w]
		}
		d := ri[w]
		for _, v := range ri[z:w] {
			d -= v * v
		}
		if !(d > 0) {
			return false
		}
		ri[w] = math.Sqrt(d)
	}
	return true
}

// dot4 is the inner product of x with four rows of its length.
func dot4(x, a, b, c, d []float64) (s0, s1, s2, s3 float64) {
	n := len(x)
	if n == 0 {
		return
	}
	a, b, c, d = a[:n], b[:n], c[:n], d[:n]
	for i, v := range x {
		s0 += v * a[i]
		s1 += v * b[i]
		s2 += v * c[i]
		s3 += v * d[i]
	}
	return
}
