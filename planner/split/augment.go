package split

import (
	"math"
	"sugarwright/planner/cuts"

	"sugarwright/geom"
)

// repaired gives parts that no hands can make, or lay, cuts of their own. They alone are merged anew: first with cuts at
// their own corners, then with the boxes of what they border on too. Where neither helps, all is split anew with those
// cuts. What is no better is dropped.
func (g *merger) repaired(pieces []piece, log bool) (*merger, error) {
	const own, boxes, anew, last = 0, 1, 2, 3
	mended := false
	for round, way := 0, own; round < Tuned.RepairRounds && way < last && g.nodes < Tuned.MostRepaired; round++ {
		bad := g.bad()
		if len(bad) == 0 || len(bad) > Tuned.MostBad || way == anew && len(bad) > Tuned.MostAnew {
			break
		}
		d := g.reduced()
		if way == anew {
			d = g.d.copied()
		}
		for _, p := range bad {
			d.addOrbits(g.ownCuts(p, way > own))
		}
		if len(d.lines) == d.given {
			way++
			continue
		}
		if err := d.arrange(pieces); err != nil {
			return nil, err
		}
		if len(d.cells) > Tuned.MostRepairedCells {
			break
		}
		h, err := d.augmented(pieces, log)
		if err != nil {
			return nil, err
		}
		if way == anew {
			h.run()
		} else {
			h.reopen(g, bad)
		}
		h.nodes, h.corners = h.nodes+g.nodes, h.corners+g.corners
		if h.worse(g) {
			g.nodes, g.corners = h.nodes, h.corners
			way++
			continue
		}
		g, way, mended = h, own, true
	}
	// All parts may have cuts of their own that serve better than those of the cells.
	for rounds := 0; rounds < Tuned.PolishRounds && g.nodes < Tuned.MostPolished && len(g.bad()) == 0; rounds++ {
		h, err := g.recast(pieces, log, g.parts)
		if err != nil {
			return nil, err
		}
		if h.runOnce(); h.worse(g) {
			break
		}
		g, mended = h, true
	}
	if !mended {
		return g, nil
	}
	// What was mended piece by piece is sought once more as a whole, over the cuts that are left.
	h, err := g.recast(pieces, log, nil)
	if err != nil {
		return nil, err
	}
	if h.run(); h.worse(g) {
		g.proved, g.bound = h.proved, h.bound
		return g, nil
	}
	return h, nil
}

// recast is a search over those cuts alone along which parts are parted, and the own cuts of some of them.
func (g *merger) recast(pieces []piece, log bool, own []*part) (*merger, error) {
	d := g.reduced()
	for _, p := range own {
		if g.solid(p) && !p.p.ring {
			d.addOrbits(g.ownCuts(p, false))
		}
	}
	if err := d.arrange(pieces); err != nil {
		return nil, err
	}
	h, err := d.augmented(pieces, log)
	if err == nil {
		h.nodes, h.corners = g.nodes, g.corners
	}
	return h, err
}

// bad are the parts that no hands can make, or lay; and, where symmetry is kept, their images.
func (g *merger) bad() (out []*part) {
	held := map[*part]bool{}
	for _, i := range g.blocked(g.parts) {
		held[g.parts[i]] = true
	}
	owner := g.owners()
	for i, p := range g.parts {
		if held[p] = g.solid(p) && (p.p.pen >= Tuned.NoRecipe || held[p]); !held[p] || !g.d.s.even {
			continue
		}
		for k := range g.images {
			if j := g.image(k, i, owner); j >= 0 {
				held[g.parts[j]] = true
			}
		}
	}
	for _, p := range g.parts {
		if held[p] && g.solid(p) {
			out = append(out, p)
		}
	}
	return out
}

// worse tells whether parts are worse than others: more of them are bad, or as many and they cost no less.
func (g *merger) worse(than *merger) bool {
	a, b := len(g.bad()), len(than.bad())
	return a > b || a == b && g.total(g.parts) > than.total(than.parts)-Tuned.TieMinutes
}

// copied is the domain with room for more lines.
func (d *domain) copied() *domain {
	out := *d
	out.lines = nil
	for _, l := range d.lines {
		out.lines = append(out.lines, line{l.at, append([]int(nil), l.groups...)})
	}
	out.given = len(out.lines)
	return &out
}

// reduced is the domain with those lines alone along which parts are parted, and room for more.
func (g *merger) reduced() *domain {
	d := g.d
	out := *d
	out.lines = nil
	owner := g.owners()
	used := make([]bool, len(d.lines))
	for i, h := range d.arr.Halves {
		a, b := d.cellOf[h.Face], d.cellOf[d.arr.Halves[i^1].Face]
		if a < 0 || b < a || a == b || owner[a] == owner[b] || d.cells[a].piece != d.cells[b].piece {
			continue
		}
		p, q := d.arr.Verts[h.From].True(), d.arr.Verts[h.To].True()
		m := point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}
		for k, l := range d.lines {
			used[k] = used[k] || geom.LineDist(m, geom.Ring[point](l.at)) < Tuned.OnLineMM
		}
	}
	for k, l := range d.lines {
		if used[k] {
			out.lines = append(out.lines, line{l.at, append([]int(nil), l.groups...)})
		}
	}
	out.given = len(out.lines)
	return &out
}

// ownCuts are candidate cuts of one part: where it is narrow, at its pockets, along its axes, at its corners; and, where
// those have not helped, along the boxes of what it borders on.
func (g *merger) ownCuts(p *part, boxes bool) (own [][][]point) {
	lines := append(cuts.Narrows(p.p.shape, g.d.s.shop.ThinnestMM), cuts.Opened(p.p.shape, Tuned.DeepMM)...)
	lines = append(lines, cuts.Halved(p.p.shape)...)
	if boxes {
		lines = append(lines, g.boxed(p)...)
	}
	for _, l := range lines {
		own = append(own, [][]point{l})
	}
	for _, k := range cuts.Of(p.p.shape, cuts.Middles(p.p.shape), g.d.motions) {
		own = append(own, k.Lines())
	}
	return own
}

// reopen takes over another merger's parts, but for the bad ones: of these the cells are merged anew.
func (g *merger) reopen(from *merger, bad []*part) {
	open := map[*part]bool{}
	for _, p := range bad {
		open[p] = true
	}
	cells := map[*part][]int{}
	var parts []*part
	for i, at := range g.points {
		old := from.owner(at)
		if old == nil || open[old] {
			parts = append(parts, g.part([]int{i}))
			continue
		}
		cells[old] = append(cells[old], i)
	}
	for _, p := range from.parts {
		if c := cells[p]; c != nil {
			parts = append(parts, g.part(c))
		}
	}
	g.parts = g.evaluate(parts)
	g.cleanUp()
	g.findImages()
	g.findSeams()
	g.atoms = g.parts
	g.merge(true)
	if !g.d.s.even {
		g.merge(false)
		g.recut()
		g.perturb()
	}
	g.bound = from.bound
}

// owner is the part in which a point lies.
func (g *merger) owner(at point) *part {
	if c := g.locate(at); c >= 0 {
		return g.parts[g.partOf(c)]
	}
	return nil
}

// boxed are the sides of the boxes of what a part borders on, level and along the narrowest, run on through the part: so
// letters are squared, and what fills them up is bars and wedges.
func (g *merger) boxed(p *part) (out [][]point) {
	seen := map[int]bool{g.d.cells[p.cells[0]].piece: true}
	for _, c := range p.cells {
		for _, n := range g.d.cells[c].near {
			k := g.d.cells[n].piece
			if seen[k] || g.layers.Has(n) {
				continue
			}
			seen[k] = true
			var pts []point
			for _, o := range g.d.cells {
				if o.piece == k {
					pts = append(pts, o.shape[0]...)
				}
			}
			hull := geom.Hull(pts)
			for _, box := range []geom.Rect[point]{geom.RectAlong(hull, geom.Vec{1, 0}), geom.SmallestRect(hull)} {
				ring := box.Ring()
				for i, a := range ring {
					out = append(out, cuts.Across(p.p.shape, a, geom.Sub(ring[(i+1)%4], a).Unit())...)
				}
			}
		}
	}
	return out
}

// augmented cuts the cells that are stuck where they reach round others, until the cells can be taken apart one by one.
func (d *domain) augmented(pieces []piece, log bool) (*merger, error) {
	deep := Tuned.DeepMM
	for round := 0; ; round++ {
		g := newMerger(d, log)
		g.priceAll()
		blocked := g.blocked(g.parts)
		n := len(d.lines)
		// Ever shallower pockets, till one gives a cut
		for ; len(blocked) > 0 && round < Tuned.FreeRounds && len(d.lines) == n; round++ {
			d.addOrbits(g.augmenting(blocked, deep, log))
			deep = math.Max(Tuned.LeastDeepMM, deep/4)
		}
		if len(d.lines) == n {
			return g, nil
		}
		round--
		if err := d.arrange(pieces); err != nil {
			return nil, err
		}
	}
}

// freeing are cuts of the cells that are stuck: at pockets at least so deep, and at last through their middles.
func (g *merger) augmenting(blocked []int, deep float64, log bool) [][][]point {
	var out [][][]point
	for _, i := range blocked {
		if c := g.d.cells[g.parts[i].cells[0]]; c.child < 0 && !(log && g.d.isOuter(g.parts[i].cells[0])) {
			for _, l := range cuts.Opened(c.shape, deep) {
				out = append(out, [][]point{l})
			}
		}
	}
	if len(out) > 0 || deep > Tuned.LeastDeepMM {
		return out
	}
	for _, i := range blocked {
		if p := g.parts[i]; g.solid(p) && p.p.shape.Area() > Tuned.TinyMM2 {
			for _, l := range cuts.Halved(p.p.shape) {
				out = append(out, [][]point{l})
			}
		}
	}
	return out
}
