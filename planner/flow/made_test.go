package flow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
)

// poly is a polynomial by powers of x and y.
type poly map[[2]int]float64

func (p poly) times(q poly) poly {
	out := poly{}
	for a, u := range p {
		for b, v := range q {
			out[[2]int{a[0] + b[0], a[1] + b[1]}] += u * v
		}
	}
	return out
}

func (p poly) plus(q poly, k float64) poly {
	out := poly{}
	for a, u := range p {
		out[a] += u
	}
	for a, u := range q {
		out[a] += k * u
	}
	return out
}

func (p poly) by(axis int) poly {
	out := poly{}
	for a, u := range p {
		if n := a[axis]; n > 0 {
			a[axis]--
			out[a] += float64(n) * u
		}
	}
	return out
}

func (p poly) at(x, y float64) float64 {
	s := 0.0
	for i := 0; i <= 13; i++ { // in order, so that the sum is the same on every run
		for j := 0; j <= 13; j++ {
			s += p[[2]int{i, j}] * math.Pow(x, float64(i)) * math.Pow(y, float64(j))
		}
	}
	return s
}

// A made-up flow on the disc: psi = (1 - r^2)^4 (1 + x/2 + xy), stiffness 2 + x + y^2/2, and the body force that drives
// it. The velocity converges with the second order, as quadratic splines can. (With a force that does not fade towards
// the rim the sums over cut cells spoil the order; rolling has no such force.)
func TestMadeUpFlow(t *testing.T) {
	rim := poly{{0, 0}: 1, {2, 0}: -1, {0, 2}: -1}
	psi := rim.times(rim).times(rim).times(rim).times(poly{{0, 0}: 1, {1, 0}: 0.5, {1, 1}: 1})
	eta := poly{{0, 0}: 2, {1, 0}: 1, {0, 2}: 0.5}
	normal := eta.times(psi.by(0).by(1)).times(poly{{0, 0}: 2})
	shear := eta.times(psi.by(1).by(1).plus(psi.by(0).by(0), -1))
	fx := normal.by(0).plus(shear.by(1), 1).times(poly{{0, 0}: -1})
	fy := shear.by(0).plus(normal.by(1), -1).times(poly{{0, 0}: -1})
	u, v := psi.by(1), psi.by(0).times(poly{{0, 0}: -1})

	worst := func(n int) float64 {
		g := newGrid(n, false)
		m := &material{at: make([]stiff, len(g.inDisc)), mean: 2}
		side := n * sub
		for i := 0; i < side; i++ {
			for j := 0; j < side; j++ {
				e := eta.at(g.mid(i), g.mid(j))
				m.at[i*side+j] = stiff{e, e, 1, 0}
			}
		}
		f := g.solveWith(m, Outline{A: 1, B: 1},
			func(x, y float64) (float64, float64) { return fx.at(x, y), fy.at(x, y) })
		require.NotNil(t, f)
		sum, points := 0.0, 0
		for r := 0.1; r < 1; r += 0.1 {
			for a := 0.0; a < 6; a += 0.1 {
				p := geom.Vec{r * math.Cos(a), r * math.Sin(a)}
				w, _, _, _ := f.Rates(p)
				sum += math.Pow(w[0]-u.at(p[0], p[1]), 2) + math.Pow(w[1]-v.at(p[0], p[1]), 2)
				points++
			}
		}
		return math.Sqrt(sum / float64(points))
	}
	a, b, c := worst(8), worst(16), worst(32)
	t.Logf("velocity, root mean square: 8 cells %.2e, 16 %.2e, 32 %.2e; order %.2f, %.2f", a, b, c, math.Log2(a/b),
		math.Log2(b/c))
	assert.Greater(t, math.Log2(a/b), 1.7)
	assert.Greater(t, math.Log2(b/c), 1.9)
}

// The factor solves what a plain elimination solves.
func TestBanded(t *testing.T) {
	const n, w = 23, 5
	m := newBanded(n, w)
	full := make([][]float64, n)
	for i := range full {
		full[i] = make([]float64, n)
	}
	for i := 0; i < n; i++ {
		for j := max(0, i-w); j <= i; j++ {
			x := math.Sin(float64(7*i+3*j)) * 0.4
			if i == j {
				x = 4 + float64(i%3)
			}
			*m.at(i, j) = x
			full[i][j], full[j][i] = x, x
		}
	}
	want, b := make([]float64, n), make([]float64, n)
	for i := range want {
		want[i] = math.Cos(float64(i))
	}
	for i := range b {
		for j := range want {
			b[i] += full[i][j] * want[j]
		}
	}
	require.True(t, m.solve(b))
	for i := range want {
		assert.InDelta(t, want[i], b[i], 1e-8)
	}
	assert.False(t, newBanded(3, 1).solve(make([]float64, 3)), "a null matrix")
}
