package split

import (
	"math"
	"sugarwright/planner/cuts"
)

// deepMM is the depth from which a pocket of a cell's hull surely holds on to something; below leastDeepMM it gives.
const (
	deepMM      = 0.4
	leastDeepMM = 0.02
)

// mendRounds bounds how often parts that cannot be made get cuts of their own.
const mendRounds = 3

// mostMended is the number of sets priced from which a domain gets no more rounds.
const mostMended = 1500

// mostMendedCells is the number of cells from which a search with the new cuts takes seconds and has not yet mended anything.
const mostMendedCells = 160

// mended gives parts that no hands can make, or lay, cuts of their own, and splits anew with them; what is no better is dropped.
func (g *merger) mended(pieces []piece, log bool) (*merger, error) {
	for round := 0; round < mendRounds && g.nodes < mostMended; round++ {
		d := *g.d
		d.lines = append([]line(nil), d.lines...)
		for i, l := range d.lines {
			d.lines[i].groups = append([]int(nil), l.groups...)
		}
		d.given = len(d.lines)
		held := map[*part]bool{}
		for _, i := range g.stuck(g.parts) {
			held[g.parts[i]] = true
		}
		for _, p := range g.parts {
			if !g.solid(p) || p.p.pen < misfit && !held[p] {
				continue
			}
			var own [][][]point
			lines := append(cuts.Narrows(p.p.shape, d.s.shop.ThinnestMM), cuts.Opened(p.p.shape, deepMM)...)
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
		h, err := d.freed(pieces, log)
		if err != nil {
			return nil, err
		}
		if len(d.cells) > mostMendedCells {
			return g, nil
		}
		h.run()
		h.nodes += g.nodes
		if was, is := len(g.stuck(g.parts)), len(h.stuck(h.parts)); is > was || is == was && h.total(h.parts) > g.total(g.parts)-tieMinutes {
			return g, nil
		}
		g = h
	}
	return g, nil
}

// freeRounds bounds how often stuck cells are cut again; once every cell is convex an order exists (Guibas & Yao 1983), and most
// drawings need none.
const freeRounds = 6

// freed cuts the cells that are stuck where they reach round others, until the cells can be taken apart one by one.
func (d *domain) freed(pieces []piece, log bool) (*merger, error) {
	deep := deepMM
	for round := 0; ; round++ {
		g := newMerger(d, log)
		g.priceAll()
		stuck := g.stuck(g.parts)
		n := len(d.lines)
		for ; len(stuck) > 0 && round < freeRounds && len(d.lines) == n; round++ { // ever shallower pockets, till one gives a cut
			d.addOrbits(g.freeing(stuck, deep, log))
			deep = math.Max(leastDeepMM, deep/4)
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
func (g *merger) freeing(stuck []int, deep float64, log bool) [][][]point {
	var out [][][]point
	for _, i := range stuck {
		if c := g.d.cells[g.parts[i].cells[0]]; c.child < 0 && !(log && g.d.isOuter(g.parts[i].cells[0])) {
			for _, l := range cuts.Opened(c.shape, deep) {
				out = append(out, [][]point{l})
			}
		}
	}
	if len(out) > 0 || deep > leastDeepMM {
		return out
	}
	for _, i := range stuck {
		if p := g.parts[i]; g.solid(p) && p.p.shape.Area() > tinyMM2 {
			for _, l := range cuts.Halved(p.p.shape) {
				out = append(out, [][]point{l})
			}
		}
	}
	return out
}
