package split

import (
	"math"
	"sugarwright/geom"
	"sugarwright/planner/cuts"
	"sugarwright/planner/symmetry"
)

// beside is the line that runs within tol of a chord, or -1.
func beside(c [2]point, lines []line, tol float64) int {
	for i, o := range lines {
		if len(o.at) == 2 && cuts.CloseBy(c, [2]point{o.at[0], o.at[1]}, tol) {
			return i
		}
	}
	return -1
}

// addOrbits adds each cut together with its images under the motions, the first cuts first. Where a chord or an image
// would run beside a line already there, that line serves for it: two cuts a hair apart leave slivers.
func (d *domain) addOrbits(candidates [][][]point) {
	most := max(Tuned.MostLines, min(2*Tuned.MostLines, Tuned.MostOrbits*(len(d.motions)+1)))
	for _, cut := range candidates {
		cut = d.centred(cut)
		group, room := d.groups, most-(len(d.lines)-d.given)
		var serve []int
		var own []line
		for _, l := range cut {
			if len(d.motions) > 0 { // its ends are found by the rule by which those of its images are
				l = []point{d.onBorder(l[0]), d.onBorder(l[1])}
			}
			for k := -1; k < len(d.motions); k++ {
				c := [2]point{l[0], l[1]}
				if k >= 0 {
					c = [2]point{d.onBorder(d.motions[k].Of(l[0])), d.onBorder(d.motions[k].Of(l[1]))}
				}
				if i := beside(c, d.lines, cuts.Tuned.BesideMM); i >= 0 {
					serve = append(serve, i)
				} else if beside(c, own, cuts.Tuned.BesideMM) < 0 {
					own = append(own, line{[]point{c[0], c[1]}, []int{group}})
				}
			}
		}
		if len(own) == 0 || len(own) > room {
			continue
		}
		for _, i := range serve {
			if g := d.lines[i].groups; g[len(g)-1] != group {
				d.lines[i].groups = append(g, group)
			}
		}
		d.lines = append(d.lines, own...)
		d.groups++
	}
}

// centred bends chords that pass near the centre of a turning symmetry through it, so that their images meet in one
// point.
func (d *domain) centred(cut [][]point) [][]point {
	turns := false
	for _, m := range d.motions {
		turns = turns || !m.Mirror
	}
	if !turns {
		return cut
	}
	c := d.motions[0].Centre
	var out [][]point
	for _, l := range cut {
		if geom.SegmentDist(c, l[0], l[1]) < cuts.Tuned.BesideMM && geom.Dist(c, l[0]) > 2*cuts.Tuned.BesideMM &&
			geom.Dist(c, l[1]) > 2*cuts.Tuned.BesideMM {
			out = append(out, []point{l[0], c}, []point{c, l[1]})
			continue
		}
		out = append(out, l)
	}
	return out
}

// grouped gives given lines their groups: those that are images of each other have one.
func (d *domain) grouped(given [][]point) []line {
	var out []line
	for _, l := range given {
		group := d.groups
		if len(l) == 2 {
			for _, m := range d.motions {
				if i := beside([2]point{m.Of(l[0]), m.Of(l[1])}, out, cuts.Tuned.BesideMM); i >= 0 {
					group = out[i].groups[0]
					break
				}
			}
		}
		if group == d.groups {
			d.groups++
		}
		out = append(out, line{l, []int{group}})
	}
	return out
}

// onBorder moves an image's end onto the border that it must meet: a drawing is symmetric to a tenth of a millimetre
// only. A corner is preferred to the middle of an edge, or of a curve.
func (d *domain) onBorder(p point) point {
	best, dist := p, 2*symmetry.Tuned.ToleranceMM
	for _, q := range d.corners {
		if e := geom.Dist(p, q); e < dist {
			best, dist = q, e
		}
	}
	if dist < 2*symmetry.Tuned.ToleranceMM {
		return best
	}
	dist = Tuned.SamePointMM
	edge, edgeDist := p, 2*symmetry.Tuned.ToleranceMM
	for _, c := range d.cells {
		b := c.bound
		if p[0] < b.Min[0]-1 || p[0] > b.Max[0]+1 || p[1] < b.Min[1]-1 || p[1] > b.Max[1]+1 {
			continue
		}
		for _, ring := range c.shape {
			for i, q := range ring {
				r := ring[(i+1)%len(ring)]
				v := geom.Sub(r, q)
				if e := geom.Dist(p, q); e < dist {
					best, dist = q, e
				}
				t := math.Max(0, math.Min(1, geom.Sub(p, q).Dot(v)/v.Dot(v)))
				if s := geom.Add(q, v, t); geom.Dist(p, s) < edgeDist {
					edge, edgeDist = s, geom.Dist(p, s)
				}
			}
		}
	}
	if dist < Tuned.SamePointMM {
		return best
	}
	return edge
}

// cornersOf are the points where outlines turn sharply.
func cornersOf(pieces []piece) (out []point) {
	for _, p := range pieces {
		for _, ring := range p.shape {
			for i, q := range ring {
				w, v := geom.Sub(q, ring[(i+len(ring)-1)%len(ring)]), geom.Sub(ring[(i+1)%len(ring)], q)
				if math.Abs(math.Atan2(w.Cross(v), w.Dot(v))) > Tuned.CornerRad {
					out = append(out, q)
				}
			}
		}
	}
	return out
}

// findImages maps each part, by the first of its cells, to its image under each motion; -1 where none matches in place,
// area and colour. Before the slivers are tidied away the parts are the cells.
func (g *merger) findImages() {
	type spot struct {
		shape  region
		at     point
		area   float64
		colour int
		child  bool
	}
	spots := make([]spot, len(g.parts))
	for i, p := range g.parts {
		c := g.d.cells[p.cells[0]]
		spots[i] = spot{c.shape, g.points[p.cells[0]], c.area, c.colour, c.child >= 0}
		if len(p.cells) > 1 {
			if shape, ok := g.d.union(p.cells); ok {
				spots[i].shape, spots[i].at, spots[i].area = shape, geom.Inside(shape), shape.Area()
			}
		}
	}
	g.heads = g.newBits()
	for _, p := range g.parts {
		g.heads.Set(p.cells[0])
	}
	g.images = make([][]int, len(g.d.motions))
	for k, m := range g.d.motions {
		g.images[k] = make([]int, len(g.d.cells))
		for i, p := range g.parts {
			to := -1
			q := m.Of(spots[i].at)
			for j, o := range spots {
				if o.colour == spots[i].colour && o.child == spots[i].child && math.Abs(o.area-spots[i].area) < 0.02*o.area+0.1 &&
					o.shape.Bound().Contains([2]float64(q)) &&
					o.shape.Contains(q) {
					to = g.parts[j].cells[0]
					break
				}
			}
			g.images[k][p.cells[0]] = to
		}
	}
}

// orbitOf is a merge together with its images under the drawing's symmetry; where images share a part, all that hang
// together become one. ok is false when some image is no merge; alone tells that the merge is its own image.
func (g *merger) orbitOf(pair [2]int, owner []int) (o option, alone, ok bool) {
	root := map[int]int{}
	var find func(i int) int
	find = func(i int) int {
		if r, ok := root[i]; ok && r != i {
			root[i] = find(r)
			return root[i]
		}
		root[i] = i
		return i
	}
	find(pair[0])
	root[find(pair[1])] = find(pair[0])
	merges := 1
	for k := range g.images {
		a, b := g.image(k, pair[0], owner), g.image(k, pair[1], owner)
		if a < 0 || b < 0 || a == b {
			return option{}, false, false
		}
		if find(a) != find(b) {
			root[find(b)] = find(a)
			merges++
		}
	}
	if merges < 2 {
		return option{}, true, true
	}
	cells := map[int][]int{}
	var heads []int
	for i := range g.parts {
		if _, in := root[i]; in {
			h := find(i)
			if cells[h] == nil {
				heads = append(heads, h)
			}
			cells[h] = append(cells[h], g.parts[i].cells...)
		}
	}
	for i := range g.parts {
		if _, in := root[i]; in {
			o.gone = append(o.gone, g.parts[i])
		}
	}
	for _, h := range heads {
		q := g.part(append([]int(nil), cells[h]...))
		if !q.p.ok || len(q.p.shape) > 2 {
			return option{}, false, false
		}
		o.parts = append(o.parts, q)
	}
	return o, false, true
}

// image is the part that a part becomes under motion k; -1 when it does not become one whole part.
func (g *merger) image(k, part int, owner []int) int {
	to, n := -1, 0
	for _, c := range g.parts[part].cells {
		if !g.heads.Has(c) {
			continue
		}
		j := g.images[k][c]
		if j < 0 || to >= 0 && owner[j] != to {
			return -1
		}
		to = owner[j]
		n++
	}
	if to >= 0 {
		for _, c := range g.parts[to].cells {
			if g.heads.Has(c) {
				n--
			}
		}
	}
	if n != 0 {
		return -1
	}
	return to
}
