package element

import (
	"math"

	"sugarwright/geom"
)

// deepMM is the depth from which a pocket of a cell's hull surely holds on to something; below leastDeepMM it gives.
const (
	deepMM      = 0.4
	leastDeepMM = 0.02
)

// halved cuts a region along its main axis: a convex part that another grips comes free in halves.
func halved(r region) [][]point {
	c := &cutter{size: math.Sqrt(r.Area())}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, 0.02))
	}
	m := geom.MomentsOf(r)
	c.line(1, m.Centroid, m.Axis())
	c.line(1, m.Centroid, m.Axis().Left())
	var out [][]point
	for _, k := range c.cuts {
		out = append(out, k.lines()...)
	}
	return out
}

// opened lists chords that cut a region at the deepest point of each pocket of its hull, square to the pocket's lid; and a line through
// each hole.
func opened(r region, least float64) [][]point {
	c := &cutter{size: math.Sqrt(r.Area())}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, math.Min(0.02, least/2)))
	}
	var out [][]point
	for _, h := range r[1:] {
		c.line(1, geom.MomentsOf(region{h.Reversed()}).Centroid, geom.Vec{1, 0})
	}
	for _, k := range c.cuts {
		out = append(out, k.lines()...)
	}
	ring := c.r[0]
	onHull := map[point]bool{}
	for _, p := range geom.Hull(ring) {
		onHull[p] = true
	}
	first := 0
	for first < len(ring) && !onHull[ring[first]] {
		first++
	}
	for i := 0; i < len(ring); {
		a := ring[(first+i)%len(ring)]
		j := i + 1
		for j < len(ring) && !onHull[ring[(first+j)%len(ring)]] {
			j++
		}
		b := ring[(first+j)%len(ring)]
		u := geom.Sub(b, a).Unit()
		deep, at := least, point{}
		for k := i + 1; k < j; k++ {
			p := ring[(first+k)%len(ring)]
			if e := u.Cross(geom.Sub(p, a)); e > deep {
				deep, at = e, p
			}
		}
		if deep > least {
			if q, _, ok := c.ray(at, u.Left()); ok {
				out = append(out, []point{at, q})
			}
		}
		i = j
	}
	return out
}

// narrows lists chords across a region where its width falls below the thinnest: what is beyond is a slip by itself.
func narrows(r region, need float64) [][]point {
	if r.Perimeter() > 400*need {
		return nil
	}
	c := &cutter{}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, 0.02))
	}
	var out [][]point
	for _, ring := range r {
		q := resampled(ring, need/3)
		n := len(q)
		was := math.Inf(1)
		for i := 0; i <= n; i++ {
			t := geom.Sub(q[(i+1)%n], q[(i+n-1)%n]).Unit()
			from := geom.Add(q[i%n], t.Left(), 2e-3)
			far, d, ok := c.ray(from, t.Left())
			if !ok {
				continue
			}
			if i > 0 && (d < 1.05*need) != (was < 1.05*need) && d < 2*need && was < 2*need {
				out = append(out, []point{c.snapTo(ring, q[i%n]), far})
			}
			was = d
		}
	}
	return out
}

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
			var cuts [][][]point
			own := append(narrows(p.p.shape, d.s.shop.ThinnestMM), opened(p.p.shape, deepMM)...)
			if held[p] {
				own = append(own, halved(p.p.shape)...)
			}
			for _, l := range own {
				cuts = append(cuts, [][]point{l})
			}
			for _, k := range candidates(p.p.shape, middles(p.p.shape), d.motions) {
				cuts = append(cuts, k.lines())
			}
			d.addOrbits(cuts)
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
			for _, l := range opened(c.shape, deep) {
				out = append(out, [][]point{l})
			}
		}
	}
	if len(out) > 0 || deep > leastDeepMM {
		return out
	}
	for _, i := range stuck {
		if p := g.parts[i]; g.solid(p) && p.p.shape.Area() > tinyMM2 {
			for _, l := range halved(p.p.shape) {
				out = append(out, [][]point{l})
			}
		}
	}
	return out
}
