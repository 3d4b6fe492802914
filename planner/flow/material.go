package flow

import (
	"math"

	"sugarwright/geom"
)

// stiff is what resists at one midpoint: stretching along or across a border of normal angle phi (along) and sliding on
// it (across); cos and sin are of 2 phi.
type stiff struct{ along, across, cos, sin float64 }

// material is the stiffness at all midpoints of a grid.
type material struct {
	at   []stiff
	mean float64
}

// materialOf rasters the parts at their points. Where a border cuts the window of three by three midpoints the material
// counts as layered: means of the stiffness along the layers, of its inverse across them.
func materialOf(g *grid, b *Body, points []geom.Vec, o Outline) *material {
	side := g.n * sub
	id := raster(g, b, points)
	m := &material{at: make([]stiff, side*side)}
	logs := make([]float64, len(b.Parts))
	for i, p := range b.Parts {
		logs[i] = math.Log(p.Stiffness)
	}
	// Borders: midpoints with another part in their window, and the gradient of log stiffness there.
	mixed := make([]bool, len(id))
	gx, gy := make([]float64, len(id)), make([]float64, len(id))
	for i := 0; i < side; i++ {
		for j := 0; j < side; j++ {
			k := i*side + j
			if id[k] < 0 {
				continue
			}
			for di := -1; di <= 1; di++ {
				for dj := -1; dj <= 1; dj++ {
					q := at(id, side, i+di, j+dj)
					if q < 0 || q == id[k] {
						continue
					}
					mixed[k] = true
					d := (logs[q] - logs[id[k]]) * (2 - math.Abs(float64(di*dj))) // Sobel's weights
					gx[k] += float64(di) * d / o.A
					gy[k] += float64(dj) * d / o.B
				}
			}
		}
	}
	n := 0
	for i := 0; i < side; i++ {
		for j := 0; j < side; j++ {
			k := i*side + j
			if id[k] < 0 {
				continue
			}
			eta := b.Parts[id[k]].Stiffness
			m.at[k] = stiff{eta, eta, 1, 0}
			m.mean += eta
			n++
			if !mixed[k] {
				continue
			}
			sum, inverse, count := 0.0, 0.0, 0.0
			cos, sin := 0.0, 0.0
			for di := -1; di <= 1; di++ {
				for dj := -1; dj <= 1; dj++ {
					q := at(id, side, i+di, j+dj)
					if q < 0 {
						continue
					}
					e := b.Parts[q].Stiffness
					sum, inverse, count = sum+e, inverse+1/e, count+1
					l := (i+di)*side + j + dj
					cos += gx[l]*gx[l] - gy[l]*gy[l]
					sin += 2 * gx[l] * gy[l]
				}
			}
			if h := math.Hypot(cos, sin); h > 0 {
				m.at[k] = stiff{sum / count, count / inverse, cos / h, sin / h}
			}
		}
	}
	m.mean /= float64(max(1, n))
	return m
}

func at(id []int32, side, i, j int) int32 {
	if i < 0 || j < 0 || i >= side || j >= side {
		return -1
	}
	return id[i*side+j]
}

// Raster names the part at each square of a round section, 4 x cells a side, x-major, y upward; -1 outside.
func (b *Body) Raster(points []geom.Vec, cells int) []int32 {
	return raster(newGrid(cells, false), b, points)
}

// raster names the part at each midpoint inside the disc, by the even-odd rule along columns; midpoints that the
// polygons miss at the rim take their neighbour's part.
func raster(g *grid, b *Body, points []geom.Vec) []int32 {
	side := g.n * sub
	id := make([]int32, side*side)
	for i := range id {
		id[i] = -1
	}
	cross := make([][]float64, side) // by column, of one part
	column := func(x float64) float64 { return (x+1)/g.cell*sub - 0.5 }
	for k, p := range b.Parts {
		lo, hi := side, -1
		for _, ring := range p.Rings {
			for i, from := range ring {
				a, c := points[from], points[ring[(i+1)%len(ring)]]
				if a[0] > c[0] {
					a, c = c, a
				}
				first := max(0, int(math.Ceil(column(a[0]))))
				last := min(side-1, int(math.Ceil(column(c[0])))-1)
				for x := first; x <= last; x++ {
					cross[x] = append(cross[x], a[1]+(c[1]-a[1])*(g.mid(x)-a[0])/(c[0]-a[0]))
					lo, hi = min(lo, x), max(hi, x)
				}
			}
		}
		for x := lo; x <= hi; x++ {
			c := cross[x]
			for i := 1; i < len(c); i++ { // few: insertion
				for j := i; j > 0 && c[j] < c[j-1]; j-- {
					c[j], c[j-1] = c[j-1], c[j]
				}
			}
			for i := 0; i+1 < len(c); i += 2 {
				from, to := max(0, int(math.Ceil(column(c[i])))), min(side-1, int(math.Ceil(column(c[i+1])))-1)
				for y := from; y <= to; y++ {
					if g.inDisc[x*side+y] {
						id[x*side+y] = int32(k)
					}
				}
			}
			cross[x] = c[:0]
		}
	}
	for round := 0; round < 2; round++ {
		var where []int
		var what []int32
		for i := 0; i < side; i++ {
			for j := 0; j < side; j++ {
				k := i*side + j
				if !g.inDisc[k] || id[k] >= 0 {
					continue
				}
				for _, q := range [4]int32{at(id, side, i-1, j), at(id, side, i+1, j), at(id, side, i, j-1), at(id, side, i, j+1)} {
					if q >= 0 {
						where, what = append(where, k), append(what, q)
						break
					}
				}
			}
		}
		for i, k := range where {
			id[k] = what[i]
		}
	}
	// What is still nobody's lies in a hole of the input: the first part's, so that nothing has no stiffness
	for k := range id {
		if g.inDisc[k] && id[k] < 0 {
			id[k] = 0
		}
	}
	return id
}
