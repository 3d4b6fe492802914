package split

import (
	"math"
	mb "math/bits"
	"sort"
)

// atomSet is a connected set of atoms of one piece, seen as one part.
type atomSet struct {
	mask uint64
	part *part
}

// exhaust looks at every way to make parts of the atoms, with a lower bound that prunes; it returns whether it got to
// the end, and a lower bound on the price of all ways. What it proves is over the cells that the candidate cuts leave,
// not over all cuts that there are.
func (g *merger) exhaust() (proved bool, bound float64) {
	var solid, fixed []*part
	for _, a := range g.atoms {
		if g.solid(a) {
			solid = append(solid, a)
		} else {
			fixed = append(fixed, a)
		}
	}
	sets, ok := g.sets(solid)
	rest := g.leastShares(solid, sets)
	for _, s := range rest {
		bound += s
	}
	bound += g.total(fixed) + g.leastMaking(sets)
	if !ok {
		return false, bound
	}
	by := make([][]atomSet, len(solid)) // by lowest atom
	for _, s := range sets {
		k := mb.TrailingZeros64(s.mask)
		by[k] = append(by[k], s)
	}
	for k := range by {
		sort.SliceStable(by[k],
			func(i, j int) bool { return mb.OnesCount64(by[k][i].mask) > mb.OnesCount64(by[k][j].mask) })
	}
	best, blocked := g.total(g.parts), len(g.blocked(g.parts))
	all := uint64(1)<<len(solid) - 1
	n := make([]int, len(g.classes))
	var chosen []*part
	for _, p := range fixed {
		n[p.p.class]++
	}
	steps := 0
	var walk func(done uint64, cost, left float64)
	walk = func(done uint64, cost, left float64) {
		if steps++; steps > Tuned.MostSteps || cost+left >= best-Tuned.TieMinutes {
			return
		}
		if done == all {
			parts := append(append([]*part(nil), fixed...), chosen...)
			if k := len(g.blocked(parts)); k <= blocked {
				best, blocked, g.parts = cost, k, parts
			}
			return
		}
		k := mb.TrailingZeros64(^done)
		for _, s := range by[k] {
			if s.mask&done != 0 {
				continue
			}
			c := s.part.p.class
			more := s.part.p.lay + Tuned.LaidOverhead + g.making(c, n[c]+1) - g.making(c, n[c])
			less := 0.0
			for m := s.mask; m != 0; m &= m - 1 {
				less += rest[mb.TrailingZeros64(m)]
			}
			n[c]++
			chosen = append(chosen, s.part)
			walk(done|s.mask, cost+more, left-less)
			chosen = chosen[:len(chosen)-1]
			n[c]--
		}
	}
	sum := 0.0
	for _, s := range rest {
		sum += s
	}
	walk(0, g.total(fixed), sum)
	return steps <= Tuned.MostSteps, bound
}

// sets lists the connected sets of atoms that can be one part; ok is false when there are too many.
func (g *merger) sets(atoms []*part) (out []atomSet, ok bool) {
	if len(atoms) > 60 {
		return nil, false
	}
	near := make([]uint64, len(atoms))
	owner := map[int]int{}
	for i, a := range atoms {
		for _, c := range a.cells {
			owner[c] = i
		}
	}
	for i, a := range atoms {
		for _, c := range a.cells {
			for _, n := range g.d.cells[c].near {
				if j, in := owner[n]; in && j != i && g.d.cells[n].piece == g.d.cells[c].piece {
					near[i] |= 1 << j
				}
			}
		}
	}
	seen := map[uint64]bool{}
	var todo []uint64
	for i := range atoms {
		todo = append(todo, 1<<i)
		seen[1<<i] = true
	}
	for i := 0; i < len(todo); i++ {
		if len(todo) > Tuned.MostSets || g.d.s.sets+len(todo) > Tuned.MostSetsInAll {
			return nil, false
		}
		m, edge := todo[i], uint64(0)
		for b := m; b != 0; b &= b - 1 {
			edge |= near[mb.TrailingZeros64(b)]
		}
		for b := edge &^ m; b != 0; b &= b - 1 {
			if k := m | b&-b; !seen[k] {
				seen[k] = true
				todo = append(todo, k)
			}
		}
	}
	g.d.s.sets += len(todo)
	var parts []*part
	for _, m := range todo {
		var cells []int
		for b := m; b != 0; b &= b - 1 {
			cells = append(cells, atoms[mb.TrailingZeros64(b)].cells...)
		}
		p := g.part(cells)
		if p.p.ok && len(p.p.shape) <= 2 {
			out = append(out, atomSet{m, p})
			parts = append(parts, p)
		}
	}
	g.evaluate(parts)
	return out, true
}

// leastShares is, for each atom, the least share of laying that it can have in any set; without sets, that of a part
// with all atoms.
func (g *merger) leastShares(atoms []*part, sets []atomSet) []float64 {
	out := make([]float64, len(atoms))
	lay := g.d.s.shop.Minutes.Lay + Tuned.LaidOverhead
	pieces := map[int]int{}
	for _, a := range atoms {
		pieces[g.d.cells[a.cells[0]].piece]++
	}
	for i, a := range atoms {
		out[i] = lay / float64(pieces[g.d.cells[a.cells[0]].piece])
		if sets != nil {
			out[i] = math.Inf(1)
		}
	}
	for _, s := range sets {
		share := (s.part.p.lay + Tuned.LaidOverhead) / float64(mb.OnesCount64(s.mask))
		for m := s.mask; m != 0; m &= m - 1 {
			k := mb.TrailingZeros64(m)
			out[k] = math.Min(out[k], share)
		}
	}
	for i := range out {
		if math.IsInf(out[i], 1) {
			out[i] = 0
		}
	}
	return out
}

// leastMaking is the least that making can cost: one part of each colour.
func (g *merger) leastMaking(sets []atomSet) float64 {
	least := map[int]float64{}
	for _, s := range sets {
		c := g.d.cells[s.part.cells[0]].colour
		m := g.making(s.part.p.class, 1)
		if old, ok := least[c]; !ok || m < old {
			least[c] = m
		}
	}
	sum := 0.0
	for c := range g.d.s.m.Colours {
		sum += least[c]
	}
	return sum
}
