package heat

import (
	"math"
	"sort"

	"sugarwright/planner/sugar"
)

// Pile is the section of a log while it is put together: squares of a few millimetres, each of one part, that take
// their heat when the part is laid and then share it with what they lie against.
//
// Heat goes by implicit steps, along rows and columns in turn, which keep the sum exactly. Parts exchange heat only
// within one assembly: blocks lie apart until they are laid.
type Pile struct {
	side int
	cell float64 // metres
	part []int   // by square; -1 outside
	on   []int   // by square: the assembly it lies in, -1 before it is laid
	temp []float64
	line *tridiagonal
	row  []float64
}

// NewPile of a section in squares of cell millimetres, side a side: part names the part at each square, x-major, y
// upward, or -1.
func NewPile(side int, cellMM float64, part []int) *Pile {
	p := &Pile{
		side: side,
		cell: cellMM / 1000,
		part: part,
		on:   make([]int, len(part)),
		temp: make([]float64, len(part)),
		line: newTridiagonal(side),
		row:  make([]float64, side),
	}
	for i := range p.on {
		p.on[i] = -1
	}
	return p
}

// Lay puts a part of a temperature into an assembly.
func (p *Pile) Lay(part int, c float64, assembly int) {
	for i, k := range p.part {
		if k == part {
			p.on[i], p.temp[i] = assembly, c
		}
	}
}

// Join lays one assembly into another.
func (p *Pile) Join(block, into int) {
	for i, a := range p.on {
		if a == block {
			p.on[i] = into
		}
	}
}

// stepS is the longest step, seconds.
const stepS = 30

// Cool runs the clock: sides and top meet the lamp or the air, what lies lowest in its assembly meets the table.
func (p *Pile) Cool(minutes float64, table, above Side) {
	if minutes <= 0 {
		return
	}
	n := int(math.Ceil(minutes * 60 / stepS))
	dt := minutes * 60 / float64(n)
	low := map[int]int{} // by assembly: its lowest row
	for i, a := range p.on {
		if y := i % p.side; a >= 0 {
			if l, ok := low[a]; !ok || y < l {
				low[a] = y
			}
		}
	}
	for k := 0; k < n; k++ {
		p.step(dt, true, low, table, above)
		p.step(dt, false, low, table, above)
	}
}

// restShare of the section's side is how deep the part of it that rests on the table reaches: a log that is a tenth
// flatter than round.
const restShare = 0.03

func (p *Pile) step(dt float64, vertical bool, low map[int]int, table, above Side) {
	r := sugar.Diffusivity() * dt / (p.cell * p.cell)
	rest := int(restShare * float64(p.side))
	k := sugar.Conductivity.Value
	edge := func(s Side) float64 { return r * p.cell / k / (1/s.W + p.cell/(2*k)) }
	above.W *= math.Pi / 4 // the outline of squares is as much longer than the round one
	air, slab := edge(above), edge(table)
	for u := 0; u < p.side; u++ {
		at := func(v int) int {
			if vertical {
				return u*p.side + v
			}
			return v*p.side + u
		}
		for v := 0; v < p.side; {
			a := p.on[at(v)]
			if a < 0 {
				v++
				continue
			}
			end := v
			for end < p.side && p.on[at(end)] == a {
				end++
			}
			n := end - v
			for i := 0; i < n; i++ {
				lo, hi, add := r, r, 0.0
				if i == 0 {
					lo = air
					add += air * above.C
					if vertical && v <= low[a]+rest {
						lo = slab
						add = slab * table.C
					}
				}
				if i == n-1 {
					hi = air
					add += air * above.C
				}
				p.line.a[i], p.line.b[i], p.line.c[i], p.line.d[i] = -lo, 1+lo+hi, -hi, p.temp[at(v+i)]+add
			}
			p.line.a[0], p.line.c[n-1] = 0, 0
			x := p.row[:n]
			p.line.solve(x)
			for i, t := range x {
				p.temp[at(v+i)] = t
			}
			v = end
		}
	}
}

// Means are the mean heats of parts 0 to n-1; NaN for a part that no square is of, or that is not laid yet.
func (p *Pile) Means(n int) []float64 {
	sum, count := make([]float64, n), make([]float64, n)
	for i, k := range p.part {
		if k >= 0 && k < n && p.on[i] >= 0 {
			sum[k] += p.temp[i]
			count[k]++
		}
	}
	for k := range sum {
		sum[k] /= count[k]
	}
	return sum
}

// Against lists the parts of its assembly that a part lies against, in order.
func (p *Pile) Against(part int) []int {
	seen := map[int]bool{}
	for i, k := range p.part {
		if k != part || p.on[i] < 0 {
			continue
		}
		x, y := i/p.side, i%p.side
		for _, q := range [4][2]int{{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}} {
			if q[0] < 0 || q[1] < 0 || q[0] >= p.side || q[1] >= p.side {
				continue
			}
			if j := q[0]*p.side + q[1]; p.on[j] == p.on[i] && p.part[j] != part {
				seen[p.part[j]] = true
			}
		}
	}
	out := make([]int, 0, len(seen))
	for k := range seen {
		out = append(out, k)
	}
	sort.Ints(out)
	return out
}

// Middle is the heat at a square.
func (p *Pile) Middle(x, y int) float64 { return p.temp[x*p.side+y] }
