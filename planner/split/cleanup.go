package split

import (
	"math"
	"sort"

	"sugarwright/geom"
)

// cleanUp gives slim leftovers of the ground to the closing wrap, and cells too small to be parts to the neighbour they
// border on most; never so that a part is stuck that was free before.
func (g *merger) cleanUp() {
	g.evaluate(g.parts)
	blocked := len(g.blocked(g.parts))
	left := map[*part]bool{} // what can go nowhere
	for again := true; again && !g.spent(); {
		again = false
		for i, p := range g.parts {
			if left[p] || g.d.cells[p.cells[0]].child >= 0 || g.outer(p.cells) {
				continue
			}
			if rest, ok := g.cleaned(i, blocked); ok {
				g.parts, again = rest, true
				break
			}
			left[p] = true
		}
	}
}

// cleaned is the parts after part i went to a neighbour; ok is false when it is a part by itself, or no neighbour can
// take it.
func (g *merger) cleaned(i, blocked int) (rest []*part, ok bool) {
	p, thinnest := g.parts[i], g.d.s.shop.ThinnestMM
	if !p.p.ok {
		return nil, false
	}
	shape := p.p.shape
	area := shape.Area()
	// A half-moon has 1.5 times its mean width 2 A / P at its highest; so a crescent is measured, whose box says
	// nothing.
	width := math.Min(geom.SmallestRect(geom.Hull(shape[0])).Width, 3*area/shape.Perimeter())
	ground := g.d.cells[p.cells[0]].colour == 0
	var to []int
	switch {
	case g.log && g.outerC >= 0 && ground && (width < thinnest || area < Tuned.LeastSpacerMM2) && g.touches(p, g.outerC):
		to = []int{g.partOf(g.outerC)}
		if g.deep(shape) > 2*thinnest { // a tongue of the wrap: better a neighbour's
			to = append(g.mostBorder(i), to...)
		}
	case area < Tuned.TinyMM2 || width < 0.3*thinnest:
		to = g.mostBorder(i)
	}
	for _, j := range to {
		options := []option{{gone: []*part{p, g.parts[j]}, parts: []*part{g.join(p, g.parts[j])}}}
		if o, alone, ok := g.orbitOf([2]int{i, j}, g.owners()); ok && !alone {
			options = append([]option{o}, options...)
		}
		for _, o := range options {
			makeable := true
			for _, q := range o.parts {
				// No hands make a part with two holes
				makeable = makeable && q.p.ok && (len(q.p.shape) <= 2 || g.outer(q.cells))
				large := 0
				for _, h := range o.gone {
					if q.own.Has(h.cells[0]) && h.p.shape.Area() > 2*area {
						large++
					}
				}
				makeable = makeable && large <= 1 // a leftover must not join what it lies between
			}
			if rest := g.with(o); makeable && len(g.blocked(g.evaluate(rest))) <= blocked {
				return rest, true
			}
		}
	}
	return nil, false
}

// deep is how far a shape reaches in from the smallest circle.
func (g *merger) deep(shape region) float64 {
	most := 0.0
	for _, p := range shape[0] {
		most = math.Max(most, g.d.closes.Radius-geom.Dist(p, g.d.closes.Centre))
	}
	return most
}

func (g *merger) touches(p *part, cell int) bool {
	for _, c := range p.cells {
		for _, n := range g.d.cells[c].near {
			if n == cell {
				return true
			}
		}
	}
	return false
}

// mostBorder lists the parts of the same colour with which part i shares border, most first.
func (g *merger) mostBorder(i int) []int {
	p := g.parts[i]
	shared := map[int]float64{}
	for _, c := range p.cells {
		for _, start := range g.d.arr.Faces[g.d.face[c]].Loops {
			for h := start; ; {
				half := g.d.arr.Halves[h]
				if o := g.d.cellOf[g.d.arr.Halves[h^1].Face]; o >= 0 && !p.own.Has(int(o)) {
					if oc := g.d.cells[o]; oc.child < 0 && oc.colour == g.d.cells[c].colour {
						shared[g.partOf(int(o))] += geom.Dist(g.d.arr.Verts[half.From].True(),
							g.d.arr.Verts[half.To].True())
					}
				}
				if h = half.Next; h == start {
					break
				}
			}
		}
	}
	var out []int
	for j := range g.parts {
		if shared[j] > 0 {
			out = append(out, j)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return shared[out[a]] > shared[out[b]] })
	return out
}
