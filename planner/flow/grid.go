package flow

import (
	"math"

	"sugarwright/geom"
)

// sub is the number of midpoints a side of a cell at which the energy is summed.
const sub = 4

// grid is the square [-1, 1] x [-1, 1] in n x n cells with the quadratic splines that reach into the disc.
type grid struct {
	n      int
	cell   float64
	slip   bool
	index  []int32 // by spline, (n+2) x (n+2): its unknown, or -1
	count  int
	band   int
	inDisc []bool          // by midpoint, x-major
	b      [sub][3]float64 // splines of a cell at its midpoints
	b1, b2 [sub][3]float64 // their first and second derivatives
}

func newGrid(n int, slip bool) *grid {
	g := &grid{n: n, cell: 2 / float64(n), slip: slip, index: make([]int32, (n+2)*(n+2)), inDisc: make([]bool, n*sub*n*sub)}
	for k := range g.b {
		t := (float64(k) + 0.5) / sub
		g.b[k], g.b1[k], g.b2[k] = splines(t, g.cell)
	}
	m := n * sub
	used := make([]bool, len(g.index))
	for i := 0; i < m; i++ {
		for j := 0; j < m; j++ {
			x, y := g.mid(i), g.mid(j)
			if x*x+y*y >= 1 {
				continue
			}
			g.inDisc[i*m+j] = true
			for p := 0; p < 3; p++ {
				for q := 0; q < 3; q++ {
					used[(i/sub+p)*(n+2)+j/sub+q] = true
				}
			}
		}
	}
	for k := range g.index {
		g.index[k] = -1
		if used[k] {
			g.index[k] = int32(g.count)
			g.count++
		}
	}
	for k := range g.index { // the farthest partner of a spline is two columns and two rows on
		for d := 2*(n+2) + 2; d >= 0 && used[k]; d-- {
			if k+d < len(used) && used[k+d] {
				g.band = max(g.band, int(g.index[k+d]-g.index[k]))
				break
			}
		}
	}
	return g
}

// mid is the coordinate of midpoint i.
func (g *grid) mid(i int) float64 { return -1 + (float64(i)+0.5)*g.cell/sub }

// splines of a cell at t in [0, 1], with first and second derivatives.
func splines(t, cell float64) (b, b1, b2 [3]float64) {
	return [3]float64{(1 - t) * (1 - t) / 2, (1 + 2*t - 2*t*t) / 2, t * t / 2},
		[3]float64{(t - 1) / cell, (1 - 2*t) / cell, t / cell},
		[3]float64{1 / cell / cell, -2 / cell / cell, 1 / cell / cell}
}

// wall is the factor that keeps the stream function's value (slip), and its slope too (stick), at nought on the outline.
type wall struct{ w, x, y, xx, xy, yy float64 }

func (g *grid) wall(x, y float64) wall {
	f := 1 - x*x - y*y
	if g.slip {
		return wall{f, -2 * x, -2 * y, -2, 0, -2}
	}
	return wall{f * f, -4 * x * f, -4 * y * f, -4*f + 8*x*x, 8 * x * y, -4*f + 8*y*y}
}

// Outline is the ellipse at one moment: half axes over the round radius (their product 1), and its strain rates along and across them.
type Outline struct {
	A, B float64
	E, G float64
}

// drag, as a share of the mean stiffness, keeps a slipping outline from turning without end inside a circle; tuned: it changes the flow by
// less than the grid does.
const drag = 1e-3

// solve finds the stream function of least dissipation.
func (g *grid) solve(m *material, o Outline) *Field { return g.solveWith(m, o, nil) }

// solveWith takes a body force, in disc coordinates per volume, too; tests have one.
func (g *grid) solveWith(m *material, o Outline, force func(x, y float64) (fx, fy float64)) *Field {
	k := newBanded(g.count, g.band)
	f := make([]float64, g.count)
	n, side := g.n, g.n*sub
	da := g.cell * g.cell / (sub * sub)
	ref, ridge := m.mean, 0.0
	if g.slip {
		ref, ridge = 0, drag*m.mean
	}
	iab, iaa, ibb := 2/(o.A*o.B), 1/(o.A*o.A), 1/(o.B*o.B)
	var g1, g2, d1, d2, u, v [9]float64
	var local [45]float64
	for cx := 0; cx < n; cx++ {
		for cy := 0; cy < n; cy++ {
			local = [45]float64{}
			var load [9]float64
			any := false
			for p := 0; p < sub; p++ {
				x := g.mid(cx*sub + p)
				for q := 0; q < sub; q++ {
					at := (cx*sub+p)*side + cy*sub + q
					if !g.inDisc[at] {
						continue
					}
					any = true
					y := g.mid(cy*sub + q)
					w := g.wall(x, y)
					t := 0
					for i := 0; i < 3; i++ {
						bx, bx1, bx2 := g.b[p][i], g.b1[p][i], g.b2[p][i]
						// w*B as a product in x, differentiated once and twice
						c0, c1, c2 := w.w*bx, w.x*bx+w.w*bx1, w.xx*bx+2*w.x*bx1+w.w*bx2
						cy0, cy1 := w.y*bx, w.xy*bx+w.y*bx1
						cyy := w.yy * bx
						for j := 0; j < 3; j++ {
							by, by1, by2 := g.b[q][j], g.b1[q][j], g.b2[q][j]
							g1[t] = iab * (cy1*by + c1*by1)
							g2[t] = ibb*(cyy*by+2*cy0*by1+c0*by2) - iaa*c2*by
							if ridge > 0 || force != nil {
								u[t], v[t] = (cy0*by+c0*by1)/o.B, -c1*by/o.A
							}
							t++
						}
					}
					s := &m.at[at]
					ra, rh := math.Sqrt(s.along*da), math.Sqrt(s.across*da)
					e1, e2 := 2*o.E*s.cos+2*o.G*s.sin, -2*o.E*s.sin+2*o.G*s.cos
					l1, l2 := (s.along-ref)*da*e1/ra, (s.across-ref)*da*e2/rh
					for t := 0; t < 9; t++ {
						d1[t] = ra * (s.cos*g1[t] + s.sin*g2[t])
						d2[t] = rh * (s.cos*g2[t] - s.sin*g1[t])
						load[t] -= l1*d1[t] + l2*d2[t]
					}
					z := 0
					for t := 0; t < 9; t++ {
						a, b := d1[t], d2[t]
						for r := 0; r <= t; r++ {
							local[z] += a*d1[r] + b*d2[r]
							z++
						}
					}
					if ridge > 0 {
						z = 0
						for t := 0; t < 9; t++ {
							for r := 0; r <= t; r++ {
								local[z] += ridge * da * (u[t]*u[r] + v[t]*v[r])
								z++
							}
						}
					}
					if force != nil {
						fx, fy := force(x, y)
						for t := 0; t < 9; t++ {
							load[t] += da * (fx*u[t] + fy*v[t])
						}
					}
				}
			}
			if !any {
				continue
			}
			z := 0
			for t := 0; t < 9; t++ {
				it := int(g.index[(cx+t/3)*(n+2)+cy+t%3])
				f[it] += load[t]
				for r := 0; r <= t; r++ {
					*k.at(it, int(g.index[(cx+r/3)*(n+2)+cy+r%3])) += local[z]
					z++
				}
			}
		}
	}
	if !k.solve(f) {
		return nil
	}
	return &Field{g, f, o}
}

// Field is the stream function beside the even squash, as spline coefficients.
type Field struct {
	g *grid
	c []float64
	o Outline
}

// derivatives of the stream function at a point of the disc.
func (f *Field) derivatives(p geom.Vec) (px, py, pxx, pxy, pyy float64) {
	g := f.g
	cell := func(x float64) (int, float64) {
		s := (x + 1) / g.cell
		c := min(g.n-1, max(0, int(s)))
		return c, s - float64(c)
	}
	cx, tx := cell(p[0])
	cy, ty := cell(p[1])
	bx, bx1, bx2 := splines(tx, g.cell)
	by, by1, by2 := splines(ty, g.cell)
	w := g.wall(p[0], p[1])
	var s, sx, sy, sxx, sxy, syy float64
	for i := 0; i < 3; i++ {
		for j := 0; j < 3; j++ {
			k := g.index[(cx+i)*(g.n+2)+cy+j]
			if k < 0 {
				continue
			}
			c := f.c[k]
			s += c * bx[i] * by[j]
			sx += c * bx1[i] * by[j]
			sy += c * bx[i] * by1[j]
			sxx += c * bx2[i] * by[j]
			sxy += c * bx1[i] * by1[j]
			syy += c * bx[i] * by2[j]
		}
	}
	return w.x*s + w.w*sx, w.y*s + w.w*sy, w.xx*s + 2*w.x*sx + w.w*sxx, w.xy*s + w.x*sy + w.y*sx + w.w*sxy, w.yy*s + 2*w.y*sy + w.w*syy
}

// drift is how fast a point moves in disc coordinates, beside the even squash.
func (f *Field) drift(p geom.Vec) geom.Vec {
	px, py, _, _, _ := f.derivatives(p)
	ab := f.o.A * f.o.B
	return geom.Vec{py / ab, -px / ab}
}

// Rates at a point of the disc: velocity over the round radius, strain rates xx and xy, and spin (counter-clockwise), the even squash
// included.
func (f *Field) Rates(p geom.Vec) (velocity geom.Vec, exx, exy, spin float64) {
	px, py, pxx, pxy, pyy := f.derivatives(p)
	o := f.o
	x, y := o.A*p[0], o.B*p[1]
	velocity = geom.Vec{o.E*x + o.G*y + py/o.B, o.G*x - o.E*y - px/o.A}
	exx = o.E + pxy/(o.A*o.B)
	exy = o.G + (pyy/(o.B*o.B)-pxx/(o.A*o.A))/2
	return velocity, exx, exy, -(pxx/(o.A*o.A) + pyy/(o.B*o.B)) / 2
}
