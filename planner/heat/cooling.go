package heat

import (
	"math"

	"sugarwright/planner/sugar"
)

// Shape of a body that cools: an endless rod, or an endless sheet that cools on both sides.
type Shape int

// The two shapes with a series.
const (
	Rod Shape = iota
	Sheet
)

// terms of the series; thirty hold the mean to 1e-4 from a Fourier number of 0.002 on.
const terms = 40

// Series is the cooling of a body of even first temperature in surroundings of another: all values are shares of the
// first difference.
//
// Reference: Carslaw and Jaeger 1959, chapters 3 and 7.
type Series struct {
	shape  Shape
	root   []float64
	weight []float64
}

// NewSeries for a Biot number h L / k, with L the radius of a rod or half the thickness of a sheet.
func NewSeries(s Shape, biot float64) *Series {
	f := func(z float64) float64 { return z*math.J1(z) - biot*math.J0(z) }
	if s == Sheet {
		f = func(z float64) float64 { return z*math.Sin(z) - biot*math.Cos(z) }
	}
	c := &Series{shape: s}
	const step = 0.05 // roots lie about pi apart
	for a := 1e-9; len(c.root) < terms; a += step {
		lo, hi := a, a+step
		if (f(lo) < 0) == (f(hi) < 0) {
			continue
		}
		for i := 0; i < 60; i++ {
			if m := (lo + hi) / 2; (f(m) < 0) == (f(lo) < 0) {
				lo = m
			} else {
				hi = m
			}
		}
		z := (lo + hi) / 2
		w := 4 * math.Sin(z) / (2*z + math.Sin(2*z))
		if s == Rod {
			j0, j1 := math.J0(z), math.J1(z)
			w = 2 * j1 / (z * (j0*j0 + j1*j1))
		}
		c.root, c.weight = append(c.root, z), append(c.weight, w)
	}
	return c
}

// At a place (0 centre, 1 surface) and Fourier number a t / L^2.
func (c *Series) At(place, fourier float64) float64 {
	s := 0.0
	for i, z := range c.root {
		v := math.Cos(z * place)
		if c.shape == Rod {
			v = math.J0(z * place)
		}
		s += c.weight[i] * v * math.Exp(-z*z*fourier)
	}
	return s
}

// Mean over the section.
func (c *Series) Mean(fourier float64) float64 {
	s := 0.0
	for i, z := range c.root {
		v := math.Sin(z) / z
		if c.shape == Rod {
			v = 2 * math.J1(z) / z
		}
		s += c.weight[i] * v * math.Exp(-z*z*fourier)
	}
	return s
}

// Lumped is the mean if the inside were of one heat: exp(-2 Bi Fo) of a rod, exp(-Bi Fo) of a sheet. It is short by 12
// % of the time at a rod's h d / 4 k = 0.2.
func Lumped(s Shape, biot, fourier float64) float64 {
	if s == Rod {
		return math.Exp(-2 * biot * fourier)
	}
	return math.Exp(-biot * fourier)
}

// Semi is the share of the difference that has reached depth x of a thick body after t, with a surface that takes h:
// both as numbers, xi = x / (2 sqrt(a t)) and H = h sqrt(a t) / k (Carslaw and Jaeger 1959, chapter 2).
func Semi(xi, biot float64) float64 {
	return math.Erfc(xi) - math.Exp(2*xi*biot+biot*biot)*math.Erfc(xi+biot)
}

// Contact is the heat at which two thick bodies meet, each of k, rho, c and its temperature.
func Contact(k1, rho1, c1, t1, k2, rho2, c2, t2 float64) float64 {
	a, b := math.Sqrt(k1*rho1*c1), math.Sqrt(k2*rho2*c2)
	return (a*t1 + b*t2) / (a + b)
}

// Minutes that the mean heat of a part takes from one temperature to another in surroundings that take h W/(m2 K): +Inf
// when it never gets there.
func Minutes(s Shape, thickMM, from, to, around, h float64) float64 {
	if from <= to {
		return 0
	}
	if around >= to {
		return math.Inf(1)
	}
	l := thickMM / 2000
	c := NewSeries(s, h*l/sugar.Conductivity.Value)
	want := (to - around) / (from - around)
	lo, hi := 0.0, 1.0
	for c.Mean(hi) > want {
		hi *= 2
	}
	for i := 0; i < 60; i++ {
		if m := (lo + hi) / 2; c.Mean(m) > want {
			lo = m
		} else {
			hi = m
		}
	}
	return hi * l * l / sugar.Diffusivity() / 60
}

// Side is what one side of a sheet, or the outside of a pile, meets: a temperature and what it takes, W/(m2 K).
type Side struct{ C, W float64 }

// OnTable is the mean heat of a strip after minutes, with the table below and the air or a lamp above; implicit steps,
// first order in time, sixty layers.
func OnTable(thickMM, from, minutes float64, table, above Side) float64 {
	const n = 60
	steps := 400
	dz := thickMM / 1000 / n
	dt := minutes * 60 / float64(steps)
	r := sugar.Diffusivity() * dt / (dz * dz)
	k := sugar.Conductivity.Value
	edge := func(s Side) float64 { return r * dz / k / (1/s.W + dz/(2*k)) } // through half a layer
	line := newTridiagonal(n)
	t := make([]float64, n)
	for i := range t {
		t[i] = from
	}
	for step := 0; step < steps; step++ {
		for i := range t {
			lo, hi := r, r
			line.b[i], line.d[i] = 1, t[i]
			if i == 0 {
				lo = edge(table)
				line.d[i] += lo * table.C
			}
			if i == n-1 {
				hi = edge(above)
				line.d[i] += hi * above.C
			}
			line.b[i] += lo + hi
			line.a[i], line.c[i] = -lo, -hi
		}
		line.a[0], line.c[n-1] = 0, 0
		line.solve(t)
	}
	sum := 0.0
	for _, v := range t {
		sum += v
	}
	return sum / n
}

// tridiagonal is one line of an implicit step.
type tridiagonal struct{ a, b, c, d []float64 }

func newTridiagonal(n int) *tridiagonal {
	return &tridiagonal{make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)}
}

// solve by elimination; it writes len(x) unknowns and spoils b and d.
func (l *tridiagonal) solve(x []float64) {
	n := len(x)
	for i := 1; i < n; i++ {
		m := l.a[i] / l.b[i-1]
		l.b[i] -= m * l.c[i-1]
		l.d[i] -= m * l.d[i-1]
	}
	x[n-1] = l.d[n-1] / l.b[n-1]
	for i := n - 2; i >= 0; i-- {
		x[i] = (l.d[i] - l.c[i]*x[i+1]) / l.b[i]
	}
}
