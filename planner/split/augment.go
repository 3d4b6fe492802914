package split

import (
	"math"
	"sugarwright/planner/cuts"
)

// repaired gives parts that no hands can make, or lay, cuts of their own, and splits anew with them; what is no better
// is dropped.
func (g *merger) repaired(pieces []piece, log bool) (*merger, error) {
	for round := 0; round < Tuned.RepairRounds && g.nodes < Tuned.MostRepaired; round++ {
		d := *g.d
		d.lines = append([]line(nil), d.lines...)
		for i, l := range d.lines {
			d.lines[i].groups = append([]int(nil), l.groups...)
		}
		d.given = len(d.lines)
		held := map[*part]bool{}
		for _, i := range g.blocked(g.parts) {
			held[g.parts[i]] = true
		}
		for _, p := range g.parts {
			if !g.solid(p) || p.p.pen < Tuned.Misfit && !held[p] {
				continue
			}
			var own [][][]point
			lines := append(cuts.Narrows(p.p.shape, d.s.shop.ThinnestMM), cuts.Opened(p.p.shape, Tuned.DeepMM)...)
			if held[p] {
				lines = append(lines, cuts.Halved(p.p.shape)...)
			}
			for _, l := range lines {
				own = append(own, [][]point{l})
			}
			for _, k := range cuts.Of(p.p.shape, cuts.Middles(p.p.shape), d.motions) {
				own = append(own, k.Lines())
			}
			d.addOrbits(own)
		}
		if len(d.lines) == d.given {
			return g, nil
		}
		if err := d.arrange(pieces); err != nil {
			return nil, err
		}
		h, err := d.augmented(pieces, log)
		if err != nil {
			return nil, err
		}
		if len(d.cells) > Tuned.MostRepairedCells {
			return g, nil
		}
		h.run()
		h.nodes, h.corners = h.nodes+g.nodes, h.corners+g.corners
		if was, is := len(g.blocked(g.parts)), len(h.blocked(h.parts)); is > was ||
			is == was && h.total(h.parts) > g.total(g.parts)-Tuned.TieMinutes {
			return g, nil
		}
		g = h
	}
	return g, nil
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
