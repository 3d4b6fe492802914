package gauge

import (
	"math"
	"slices"

	"sugarwright/render/page"
	"sugarwright/render/view"
)

// cell of the raster, and by how much gauges are grown, millimetres.
const (
	cell = 2.0
	grow = 1.6
)

// row of a raster, a bit a cell, up to 128 cells.
type row [2]uint64

func (r *row) set(k int) {
	if k >= 0 && k < 128 {
		r[k/64] |= 1 << (k % 64)
	}
}

// shifted is the row so many cells to the right.
func (r row) shifted(n int) row {
	if n >= 64 {
		return row{0, r[0] << (n - 64)}
	}
	if n == 0 {
		return r
	}
	return row{r[0] << n, r[1]<<n | r[0]>>(64-n)}
}

func (r row) meets(o row) bool { return r[0]&o[0] != 0 || r[1]&o[1] != 0 }

// raster of a page: what is taken.
type raster struct {
	w, h    float64
	columns int
	rows    []row
}

func newRaster(w, h float64) *raster {
	return &raster{w: w, h: h, columns: min(128, int(w/cell)), rows: make([]row, int(h/cell))}
}

// fill takes all of it.
func (r *raster) fill() {
	for i := range r.rows {
		r.rows[i] = row{^uint64(0), ^uint64(0)}
	}
}

// mask of an item: the cells that it takes, grown.
type mask struct {
	columns int
	rows    []row
}

// mask of the item, filled where it is solid, with the box of its number.
func (it item) mask() mask {
	m := mask{int(math.Ceil((it.w + grow) / cell)), make([]row, int(math.Ceil((it.h+grow)/cell)))}
	v := view.View{Scale: 1, Turn: it.turn, Centre: page.Point{it.label - it.box[0], it.box[3]}}
	if it.name != "" {
		m.box(page.Box{0, it.h/2 - numberSize/2 - grow, it.label, it.h/2 + numberSize/2 + grow}, nil)
	}
	for _, poly := range it.polys {
		rings := v.Place(poly)
		for _, r := range rings {
			for i, a := range r { // the outline, grown
				b := r[(i+1)%len(r)]
				m.box(page.Box{math.Min(a[0], b[0]) - grow, math.Min(a[1], b[1]) - grow, math.Max(a[0], b[0]) + grow, math.Max(a[1], b[1]) + grow},
					func(o page.Box) bool {
						return page.Hits(a, b, page.Box{o[0] - grow, o[1] - grow, o[2] + grow, o[3] + grow})
					})
			}
		}
		m.fill(rings)
	}
	return m
}

// box sets the cells that a box touches, or those of them that are wanted.
func (m mask) box(b page.Box, want func(page.Box) bool) {
	lo, hi := max(0, int(b[1]/cell)), min(len(m.rows)-1, int(b[3]/cell))
	for j := lo; j <= hi; j++ {
		for i := max(0, int(b[0]/cell)); i <= min(m.columns-1, int(b[2]/cell)); i++ {
			x, y := float64(i)*cell, float64(j)*cell
			if want == nil || want(page.Box{x, y, x + cell, y + cell}) {
				m.rows[j].set(i)
			}
		}
	}
}

// fill sets the cells whose middles lie inside, line by line.
func (m mask) fill(rings [][]page.Point) {
	for j := range m.rows {
		y := (float64(j) + 0.5) * cell
		var cuts []float64
		for _, r := range rings {
			for i, a := range r {
				b := r[(i+1)%len(r)]
				if (a[1] > y) != (b[1] > y) {
					cuts = append(cuts, a[0]+(b[0]-a[0])*(y-a[1])/(b[1]-a[1]))
				}
			}
		}
		slices.Sort(cuts)
		for k := 0; k+1 < len(cuts); k += 2 {
			for i := max(0, int(math.Ceil(cuts[k]/cell-0.5))); i <= min(m.columns-1, int(math.Floor(cuts[k+1]/cell-0.5))); i++ {
				m.rows[j].set(i)
			}
		}
	}
}

// place a mask where it first finds room, from the top, from the left, and takes it.
func (r *raster) place(m mask) (x, y float64, ok bool) {
	for j := 0; j+len(m.rows) <= len(r.rows); j++ {
		for i := 0; i+m.columns <= r.columns; i++ {
			if r.free(m, i, j) {
				for k, line := range m.rows {
					s := line.shifted(i)
					r.rows[j+k][0] |= s[0]
					r.rows[j+k][1] |= s[1]
				}
				return float64(i) * cell, float64(j) * cell, true
			}
		}
	}
	return 0, 0, false
}

func (r *raster) free(m mask, i, j int) bool {
	for k, line := range m.rows {
		if line.shifted(i).meets(r.rows[j+k]) {
			return false
		}
	}
	return true
}
