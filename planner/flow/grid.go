package flow

import (
	"math"
	"sync"

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
	wholes []whole         // by cell
	b      [sub][3]float64 // splines of a cell at its midpoints
	b1, b2 [sub][3]float64 // their first and second derivatives
}

// grids are kept: what does not depend on the body is computed once.
var grids sync.Map

func newGrid(n int, slip bool) *grid {
	type key struct {
		n    int
		slip bool
	}
	if g, ok := grids.Load(key{n, slip}); ok {
		return g.(*grid)
	}
	g := makeGrid(n, slip)
	grids.Store(key{n, slip}, g)
	return g
}

func makeGrid(n int, slip bool) *grid {
	g := &grid{
		n:      n,
		cell:   2 / float64(n),
		slip:   slip,
		index:  make([]int32, (n+2)*(n+2)),
		inDisc: make([]bool, n*sub*n*sub),
	}
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
	g.sumWholes()
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

// wall is the factor that keeps the stream function's value (slip), and its slope too (stick), at nought on the
// outline.
type wall struct{ w, x, y, xx, xy, yy float64 }

func (g *grid) wall(x, y float64) wall {
	f := 1 - x*x - y*y
	if g.slip {
		return wall{f, -2 * x, -2 * y, -2, 0, -2}
	}
	return wall{f * f, -4 * x * f, -4 * y * f, -4*f + 8*x*x, 8 * x * y, -4*f + 8*y*y}
}

// Outline is the ellipse at one moment: half axes over the round radius (their product 1), and its strain rates along
// and across them.
type Outline struct {
	A, B float64
	E, G float64
}

// drag, as a share of the mean stiffness, keeps a slipping outline from turning without end inside a circle; tuned: it
// changes the flow by less than the grid does.
const drag = 1e-3

// whole is what a cell that lies in the disc with one stiffness adds to the energy, whatever the outline: sums over its
// midpoints of products of the second derivatives of its nine splines, xy with xy, yy with yy, yy with xx (both ways),
// xx with xx; and of the derivatives themselves.
type whole struct {
	xyxy, yyyy, yyxx, xxxx [45]float64
	xy, yy, xx             [9]float64
}

// second derivatives of the nine splines of a cell, times the wall, at one of its midpoints; and first ones.
type second struct{ xx, xy, yy, x, y [9]float64 }

func (g *grid) second(cx, cy, p, q int, out *second) {
	w := g.wall(g.mid(cx*sub+p), g.mid(cy*sub+q))
	t := 0
	for i := 0; i < 3; i++ {
		b, b1, b2 := g.b[p][i], g.b1[p][i], g.b2[p][i]
		// wall times spline in x, differentiated in x (digits) and y (letters)
		f0, f1, f2 := w.w*b, w.x*b+w.w*b1, w.xx*b+2*w.x*b1+w.w*b2
		fy, f1y, fyy := w.y*b, w.xy*b+w.y*b1, w.yy*b
		for j := 0; j < 3; j++ {
			c, c1, c2 := g.b[q][j], g.b1[q][j], g.b2[q][j]
			out.xx[t] = f2 * c
			out.xy[t] = f1y*c + f1*c1
			out.yy[t] = fyy*c + 2*fy*c1 + f0*c2
			out.x[t] = f1 * c
			out.y[t] = fy*c + f0*c1
			t++
		}
	}
}

// wholes are computed once for a grid.
func (g *grid) sumWholes() {
	g.wholes = make([]whole, g.n*g.n)
	var d second
	for cx := 0; cx < g.n; cx++ {
		for cy := 0; cy < g.n; cy++ {
			w := &g.wholes[cx*g.n+cy]
			for p := 0; p < sub; p++ {
				for q := 0; q < sub; q++ {
					g.second(cx, cy, p, q, &d)
					z := 0
					for t := 0; t < 9; t++ {
						w.xy[t] += d.xy[t]
						w.yy[t] += d.yy[t]
						w.xx[t] += d.xx[t]
						for r := 0; r <= t; r++ {
							w.xyxy[z] += d.xy[t] * d.xy[r]
							w.yyyy[z] += d.yy[t] * d.yy[r]
							w.yyxx[z] += d.yy[t]*d.xx[r] + d.xx[t]*d.yy[r]
							w.xxxx[z] += d.xx[t] * d.xx[r]
							z++
						}
					}
				}
			}
		}
	}
}

// solve finds the stream function of least dissipation.
func (g *grid) solve(m *material, o Outline) *Field { return g.solveWith(m, o, nil) }

// solveWith takes a body force, in disc coordinates per volume, too; tests have one.
func (g *grid) solveWith(m *material, o Outline, force func(x, y float64) (fx, fy float64)) *Field {
	k := newBanded(g.count, g.band)
	f := make([]float64, g.count)
	ref, ridge := m.mean, 0.0
	if g.slip {
		ref, ridge = 0, drag*m.mean
	}
	var local [45]float64
	var load [9]float64
	for cx := 0; cx < g.n; cx++ {
		for cy := 0; cy < g.n; cy++ {
			switch inside, even := g.cellIs(m, cx, cy); {
			case !inside:
				continue
			case even && ridge == 0 && force == nil:
				g.wholeCell(m.at[cx*sub*g.n*sub+cy*sub].along, ref, o, &g.wholes[cx*g.n+cy], &local, &load)
			default:
				g.cutCell(m, ref, ridge, o, force, cx, cy, &local, &load)
			}
			z := 0
			for t := 0; t < 9; t++ {
				it := int(g.index[(cx+t/3)*(g.n+2)+cy+t%3])
				f[it] += load[t]
				for r := 0; r <= t; r++ {
					*k.at(it, int(g.index[(cx+r/3)*(g.n+2)+cy+r%3])) += local[z]
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

// cellIs tells whether some midpoint of a cell lies in the disc, and whether all do and have one stiffness.
func (g *grid) cellIs(m *material, cx, cy int) (inside, even bool) {
	side := g.n * sub
	even = true
	first := m.at[cx*sub*side+cy*sub]
	for p := 0; p < sub; p++ {
		row := (cx*sub+p)*side + cy*sub
		for q := row; q < row+sub; q++ {
			inside = inside || g.inDisc[q]
			even = even && g.inDisc[q] && m.at[q] == first
		}
	}
	return inside, even && first.along == first.across
}

// wholeCell sums the energy of a cell of one stiffness: with G1 = 2 psi_xy and G2 = psi_yy - psi_xx it is eta (G1 G1 +
// G2 G2).
func (g *grid) wholeCell(eta, ref float64, o Outline, w *whole, local *[45]float64, load *[9]float64) {
	da := g.cell * g.cell / (sub * sub)
	iab, iaa, ibb := 2/(o.A*o.B), 1/(o.A*o.A), 1/(o.B*o.B)
	k1, k2, k3, k4 := eta*da*iab*iab, eta*da*ibb*ibb, -eta*da*ibb*iaa, eta*da*iaa*iaa
	for z := range local {
		local[z] = k1*w.xyxy[z] + k2*w.yyyy[z] + k3*w.yyxx[z] + k4*w.xxxx[z]
	}
	d := (eta - ref) * da
	for t := range load {
		load[t] = -d * (2*o.E*iab*w.xy[t] + 2*o.G*(ibb*w.yy[t]-iaa*w.xx[t]))
	}
}

// cutCell sums the energy of a cell midpoint by midpoint.
func (g *grid) cutCell(
	m *material,
	ref, ridge float64,
	o Outline,
	force func(x, y float64) (fx, fy float64),
	cx, cy int,
	local *[45]float64,
	load *[9]float64,
) {
	*local, *load = [45]float64{}, [9]float64{}
	da := g.cell * g.cell / (sub * sub)
	iab, iaa, ibb := 2/(o.A*o.B), 1/(o.A*o.A), 1/(o.B*o.B)
	var d second
	var d1, d2 [9]float64
	for p := 0; p < sub; p++ {
		for q := 0; q < sub; q++ {
			at := (cx*sub+p)*g.n*sub + cy*sub + q
			if !g.inDisc[at] {
				continue
			}
			g.second(cx, cy, p, q, &d)
			s := &m.at[at]
			ra, rh := math.Sqrt(s.along*da), math.Sqrt(s.across*da)
			e1, e2 := 2*o.E*s.cos+2*o.G*s.sin, -2*o.E*s.sin+2*o.G*s.cos
			l1, l2 := (s.along-ref)*da*e1/ra, (s.across-ref)*da*e2/rh
			for t := 0; t < 9; t++ {
				g1, g2 := iab*d.xy[t], ibb*d.yy[t]-iaa*d.xx[t]
				d1[t] = ra * (s.cos*g1 + s.sin*g2)
				d2[t] = rh * (s.cos*g2 - s.sin*g1)
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
						local[z] += ridge * da * (d.y[t]*d.y[r]/(o.B*o.B) + d.x[t]*d.x[r]/(o.A*o.A))
						z++
					}
				}
			}
			if force != nil {
				fx, fy := force(g.mid(cx*sub+p), g.mid(cy*sub+q))
				for t := 0; t < 9; t++ {
					load[t] += da * (fx*d.y[t]/o.B - fy*d.x[t]/o.A)
				}
			}
		}
	}
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

// drift is how fast a point moves in disc coordinates, beside the even squash. A point outside moves as the rim beside
// it does: splines that the disc barely touches say nothing out there.
func (f *Field) drift(p geom.Vec) geom.Vec {
	if r := p.Len(); r > 1 {
		p = geom.Vec{p[0] / r, p[1] / r}
	}
	px, py, _, _, _ := f.derivatives(p)
	ab := f.o.A * f.o.B
	return geom.Vec{py / ab, -px / ab}
}

// Rates at a point of the disc: velocity over the round radius, strain rates xx and xy, and spin (counter-clockwise),
// the even squash included.
func (f *Field) Rates(p geom.Vec) (velocity geom.Vec, exx, exy, spin float64) {
	px, py, pxx, pxy, pyy := f.derivatives(p)
	o := f.o
	x, y := o.A*p[0], o.B*p[1]
	velocity = geom.Vec{o.E*x + o.G*y + py/o.B, o.G*x - o.E*y - px/o.A}
	exx = o.E + pxy/(o.A*o.B)
	exy = o.G + (pyy/(o.B*o.B)-pxx/(o.A*o.A))/2
	return velocity, exx, exy, -(pxx/(o.A*o.A) + pyy/(o.B*o.B)) / 2
}
