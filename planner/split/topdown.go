package split

import (
	"sort"

	"sugarwright/geom"
)

// findSeams notes for each pair of neighbouring cells of one piece the groups of lines that part them, edge by edge.
func (g *merger) findSeams() {
	d := g.d
	g.seams = map[[2]int][][]int{}
	for i, h := range d.arr.Halves {
		a, b := d.cellOf[h.Face], d.cellOf[d.arr.Halves[i^1].Face]
		if a < 0 || b < a || a == b || d.cells[a].piece != d.cells[b].piece {
			continue
		}
		p, q := d.arr.Verts[h.From].True(), d.arr.Verts[h.To].True()
		m := point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}
		var groups []int
		for _, l := range d.lines {
			if geom.LineDist(m, geom.Ring[point](l.at)) < Tuned.OnLineMM {
				groups = append(groups, l.groups...)
			}
		}
		key := [2]int{int(a), int(b)}
		g.seams[key] = append(g.seams[key], groups)
	}
}

// parted tells whether all edges between two neighbouring cells lie on lines of a group.
func (g *merger) parted(a, b, group int) bool {
	for _, groups := range g.seams[[2]int{min(a, b), max(a, b)}] {
		on := false
		for _, k := range groups {
			on = on || k == group
		}
		if !on {
			return false
		}
	}
	return true
}

// cut parts a part along the lines of a group; nil when they do not part it.
func (g *merger) cut(p *part, group int) []*part {
	key := cutKey{p, group}
	if out, ok := g.cutMemo[key]; ok {
		return out
	}
	seen := g.newBits()
	var out []*part
	for _, c := range p.cells {
		if seen.Has(c) {
			continue
		}
		seen.Set(c)
		todo := []int{c}
		for i := 0; i < len(todo); i++ {
			for _, n := range g.d.cells[todo[i]].near {
				if p.own.Has(n) && !seen.Has(n) && !g.parted(todo[i], n, group) {
					seen.Set(n)
					todo = append(todo, n)
				}
			}
		}
		if len(todo) == len(p.cells) {
			break
		}
		out = append(out, g.part(todo))
	}
	g.cutMemo[key] = out
	return out
}

type cutKey struct {
	p     *part
	group int
}

// solid tells whether a part may be cut and joined: no finished block, and not the closing wrap.
func (g *merger) solid(p *part) bool { return g.d.cells[p.cells[0]].child < 0 && !g.outer(p.cells) }

// uncut is the parts before any cut: all atoms of a piece in one.
func (g *merger) uncut() []*part {
	var out []*part
	cells := map[int][]int{}
	for _, p := range g.atoms {
		if !g.solid(p) {
			out = append(out, p)
			continue
		}
		k := g.d.cells[p.cells[0]].piece
		cells[k] = append(cells[k], p.cells...)
	}
	var pieces []int
	for k := range cells {
		pieces = append(pieces, k)
	}
	sort.Ints(pieces)
	for _, k := range pieces {
		// The closing wrap parts its piece: what it leaves may hang together in several places.
		left := append([]int(nil), cells[k]...)
		for len(left) > 0 {
			in := g.newBits()
			for _, c := range left {
				in.Set(c)
			}
			todo := []int{left[0]}
			seen := g.newBits()
			seen.Set(left[0])
			for i := 0; i < len(todo); i++ {
				for _, n := range g.d.cells[todo[i]].near {
					if in.Has(n) && !seen.Has(n) && g.d.cells[n].piece == k {
						seen.Set(n)
						todo = append(todo, n)
					}
				}
			}
			out = append(out, g.part(todo))
			rest := left[:0]
			for _, c := range left {
				if !seen.Has(c) {
					rest = append(rest, c)
				}
			}
			left = rest
		}
	}
	return out
}

// cutAll is the parts after cutting along a group; ok is false when nothing is cut.
func (g *merger) cutAll(parts []*part, group int) (out []*part, ok bool) {
	for _, p := range parts {
		if g.solid(p) {
			if pieces := g.cut(p, group); pieces != nil {
				out, ok = append(out, pieces...), true
				continue
			}
		}
		out = append(out, p)
	}
	return out, ok
}

// cutTopDown goes the other way: from uncut pieces, it takes the cut that gains most, while one does; where none does,
// the two that do together.
func (g *merger) cutTopDown() {
	g.parts = g.evaluate(g.uncut())
	blocked := len(g.blocked(g.parts))
	cost := g.total(g.parts) + Tuned.BlockedMinutes*float64(blocked)
	var best []*part
	bestCost := cost
	// try cuts along each of some groups: by the bounds of rough prices first, then what may gain is priced.
	try := func(from []*part, first int) {
		var rests [][]*part
		var open []*part
		for k := first; k < g.d.groups; k++ {
			if rest, ok := g.cutAll(from, k); ok && g.total(rest) < bestCost-Tuned.TieMinutes {
				rests = append(rests, rest)
				open = append(open, rest...)
			}
		}
		g.evaluate(open)
		for _, rest := range rests {
			c := g.total(rest)
			if c >= bestCost-Tuned.TieMinutes {
				continue
			}
			if c += Tuned.BlockedMinutes * float64(len(g.blocked(rest))); c < bestCost-Tuned.TieMinutes {
				best, bestCost = rest, c
			}
		}
	}
	for !g.spent() {
		best = nil
		try(g.parts, 0)
		if best == nil {
			for k := 0; k < g.d.groups; k++ {
				if once, ok := g.cutAll(g.parts, k); ok {
					try(once, k+1)
				}
			}
		}
		if best == nil {
			return
		}
		g.parts = best
	}
}

// recut joins what an option joins and cuts it anew along one group, while that saves.
func (g *merger) recut() {
	for !g.spent() {
		now := g.total(g.parts)
		blocked := len(g.blocked(g.parts))
		var best []*part
		for _, o := range g.options() {
			rest := g.with(o)
			if g.total(rest) > now+Tuned.RecutMinutes {
				continue
			}
			for k := 0; k < g.d.groups; k++ {
				parts := rest[: len(rest)-len(o.parts) : len(rest)-len(o.parts)]
				any := false
				for _, p := range o.parts {
					if pieces := g.cut(p, k); pieces != nil {
						parts, any = append(parts, pieces...), true
					} else {
						parts = append(parts, p)
					}
				}
				if !any {
					continue
				}
				if g.total(parts) >= now-Tuned.TieMinutes {
					continue
				}
				if c := g.total(g.evaluate(parts)); c < now-Tuned.TieMinutes && len(g.blocked(parts)) <= blocked {
					best, now = parts, c
				}
			}
		}
		if best == nil {
			return
		}
		g.parts = best
	}
}

// perturb cuts along each group, though that costs, and merges anew; what is cheaper in the end stays.
func (g *merger) perturb() {
	for again := true; again; {
		again = false
		for k := 0; k < g.d.groups && !g.spent(); k++ {
			kept := g.parts
			rest, ok := g.cutAll(kept, k)
			if !ok || g.total(rest) > g.total(kept)+Tuned.RecutMinutes {
				continue
			}
			g.parts = g.evaluate(rest)
			g.merge(true)
			g.merge(false)
			if g.total(g.parts) < g.total(kept)-Tuned.TieMinutes && len(g.blocked(g.parts)) <= len(g.blocked(kept)) {
				again = true
				continue
			}
			g.parts = kept
		}
	}
}
