package element

import (
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/blocking"
)

// part is a set of cells that is one part so far.
type part struct {
	cells []int
	own   bits
	p     *priced
}

// merger unites cells into parts while minutes are saved.
type merger struct {
	d       *domain
	log     bool
	points  []point // inside each cell
	outerC  int     // the cell of the closing wrap, or -1
	table   *blocking.Table
	memo    map[string]*priced
	classes []class
	parts   []*part
	nodes   int
	images  [][]int // cell under each of the domain's motions
}

// mergeNodes bounds the merges priced in one domain; drawings for hands need hundreds.
const mergeNodes = 30_000

// tinyMM2 is the area below which a cell is no part by itself (trial: 14 square units of a 200-unit drawing).
const tinyMM2 = 4.4

// leastSpacerMM2 is the area below which ground beside the closing wrap is taken up by it (60 square units of a 200-unit drawing).
const leastSpacerMM2 = 19

func newMerger(d *domain, log bool) *merger {
	g := &merger{d: d, log: log, memo: map[string]*priced{}, outerC: -1}
	shapes := make([]region, len(d.cells))
	for i, c := range d.cells {
		shapes[i] = c.shape
		g.points = append(g.points, inside(c.shape))
		if log && d.isOuter(i) && (g.outerC < 0 || c.area > d.cells[g.outerC].area) {
			g.outerC = i
		}
	}
	g.table = blocking.Of(shapes)
	g.images = d.images(d.motions, g.points)
	for i := range d.cells {
		g.parts = append(g.parts, g.newPart([]int{i}))
	}
	return g
}

func (g *merger) newBits() bits { return make(bits, (len(g.d.cells)+63)/64) }

func (g *merger) newPart(cells []int) *part {
	sort.Ints(cells)
	p := &part{cells: cells, own: g.newBits()}
	for _, c := range cells {
		p.own.set(c)
	}
	return p
}

func (g *merger) outer(cells []int) bool {
	for _, c := range cells {
		if c == g.outerC {
			return true
		}
	}
	return false
}

func (g *merger) locate(p point) int {
	for i, c := range g.d.cells {
		if c.bound.Contains([2]float64(p)) && c.shape.Contains(p) {
			return i
		}
	}
	return -1
}

// run merges until nothing is saved.
func (g *merger) run() {
	g.tidy()
	g.priceAll()
	for g.nodes < mergeNodes && g.step() {
	}
}

// tidy gives slim leftovers of the ground to the closing wrap, and cells too small to be parts to the neighbour they border on most.
func (g *merger) tidy() {
	for again := true; again; {
		again = false
		for i, p := range g.parts {
			to := -1
			area, width := 0.0, math.Inf(1)
			if len(p.cells) > 0 {
				shape, ok := g.d.union(p.cells)
				if !ok {
					continue
				}
				area = shape.Area()
				// A half-moon has 1.5 times its mean width 2 A / P at its highest; so a crescent is measured, whose box says nothing.
				width = math.Min(geom.SmallestRect(geom.Hull(shape[0])).Width, 3*area/shape.Perimeter())
			}
			c := g.d.cells[p.cells[0]]
			switch {
			case c.child >= 0 || g.outer(p.cells):
				continue
			case g.log && g.outerC >= 0 && c.colour == 0 && (width < g.d.s.shop.ThinnestMM || area < leastSpacerMM2) && g.touches(p, g.outerC):
				to = g.partOf(g.outerC)
			case area < tinyMM2 || width < 0.3*g.d.s.shop.ThinnestMM || c.colour == 0 && area < leastSpacerMM2:
				to = g.mostBorder(i)
			}
			if to < 0 || to == i {
				continue
			}
			q := g.newPart(append(append([]int(nil), p.cells...), g.parts[to].cells...))
			if u, ok := g.d.union(q.cells); !ok || len(u) > 2 && !g.outer(q.cells) { // no hands make a part with two holes
				continue
			}
			if o, ok := g.orbitOf([2]int{i, to}, g.owners()); ok {
				g.parts = g.with(o)
			} else {
				g.replace([][2]int{{i, to}}, []*part{q})
			}
			again = true
			break
		}
	}
}

func (g *merger) priceAll() {
	for _, p := range g.parts {
		p.p = g.price(p.cells)
	}
}

func (g *merger) partOf(cell int) int {
	for i, p := range g.parts {
		if p.own.has(cell) {
			return i
		}
	}
	return -1
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

// mostBorder is the part of the same colour with which part i shares most border, or -1.
func (g *merger) mostBorder(i int) int {
	p := g.parts[i]
	shared := map[int]float64{}
	for _, c := range p.cells {
		for _, start := range g.d.arr.Faces[g.d.face[c]].Loops {
			for h := start; ; {
				half := g.d.arr.Halves[h]
				if o := g.d.cellOf[g.d.arr.Halves[h^1].Face]; o >= 0 && !p.own.has(int(o)) {
					if oc := g.d.cells[o]; oc.child < 0 && oc.colour == g.d.cells[c].colour {
						shared[g.partOf(int(o))] += geom.Dist(g.d.arr.Verts[half.From].True(), g.d.arr.Verts[half.To].True())
					}
				}
				if h = half.Next; h == start {
					break
				}
			}
		}
	}
	best := -1
	for j := range g.parts {
		if shared[j] > 0 && (best < 0 || shared[j] > shared[best]) {
			best = j
		}
	}
	return best
}

// replace takes out the parts of the pairs and puts in the new ones.
func (g *merger) replace(pairs [][2]int, with []*part) {
	gone := map[int]bool{}
	for _, p := range pairs {
		gone[p[0]], gone[p[1]] = true, true
	}
	var out []*part
	for i, p := range g.parts {
		if !gone[i] {
			out = append(out, p)
		}
	}
	g.parts = append(out, with...)
}

// total is the price of parts: making and fit once a class, laying each.
func (g *merger) total(parts []*part) float64 {
	type tally struct {
		make, pen float64
		n         int
	}
	classes := make(map[int]*tally, len(parts))
	order := make([]int, 0, len(parts))
	sum := 0.0
	for _, p := range parts {
		t := classes[p.p.class]
		if t == nil {
			t = &tally{}
			classes[p.p.class] = t
			order = append(order, p.p.class)
		}
		t.n++
		t.make, t.pen = math.Max(t.make, p.p.make), math.Max(t.pen, p.p.pen)
		sum += p.p.lay + laidOverhead
	}
	for _, c := range order {
		t := classes[c]
		sum += t.make + distinctOverhead + t.pen*(1+copyPenalty*float64(t.n-1))
	}
	return sum
}

// option is one merge, or a whole class of equal merges.
type option struct {
	pairs  [][2]int
	parts  []*part
	saving float64
}

// step takes the merge that saves most and leaves no more parts stuck than before; false when none does.
func (g *merger) step() bool {
	options := g.options()
	now := g.total(g.parts)
	var good []option
	for _, o := range options {
		rest := g.with(o)
		if o.saving = now - g.total(rest); o.saving > 1e-9 {
			good = append(good, o)
		}
	}
	sort.SliceStable(good, func(i, j int) bool { return good[i].saving > good[j].saving+1e-9 })
	stuck := -1
	for _, o := range good {
		if stuck < 0 {
			stuck = len(g.stuck(g.parts))
		}
		if rest := g.with(o); len(g.stuck(rest)) <= stuck {
			g.parts = rest
			return true
		}
	}
	return false
}

func (g *merger) with(o option) []*part {
	gone := map[int]bool{}
	for _, p := range o.pairs {
		gone[p[0]], gone[p[1]] = true, true
	}
	out := make([]*part, 0, len(g.parts))
	for i, p := range g.parts {
		if !gone[i] {
			out = append(out, p)
		}
	}
	return append(out, o.parts...)
}

// owners is the part of each cell.
func (g *merger) owners() []int {
	owner := make([]int, len(g.d.cells))
	for i, p := range g.parts {
		for _, c := range p.cells {
			owner[c] = i
		}
	}
	return owner
}

// options lists all single merges and, where several equal ones can be done at once, the whole class.
func (g *merger) options() []option {
	var out []option
	type key [3]int
	groups := map[key][]int{}
	var keys []key
	owner := g.owners()
	for i, p := range g.parts {
		c := g.d.cells[p.cells[0]]
		if c.child >= 0 || g.outer(p.cells) {
			continue
		}
		seen := map[int]bool{}
		for _, pc := range p.cells {
			for _, n := range g.d.cells[pc].near {
				j := owner[n]
				oc := g.d.cells[n]
				if j <= i || seen[j] || oc.colour != c.colour || oc.child >= 0 || g.outer(g.parts[j].cells) {
					continue
				}
				seen[j] = true
				q := g.newPart(append(append([]int(nil), p.cells...), g.parts[j].cells...))
				q.p = g.price(q.cells)
				if !q.p.ok || len(q.p.shape) > 2 {
					continue
				}
				a, b := p.p.class, g.parts[j].p.class
				k := key{min(a, b), max(a, b), q.p.class}
				if groups[k] == nil {
					keys = append(keys, k)
				}
				groups[k] = append(groups[k], len(out))
				out = append(out, option{pairs: [][2]int{{i, j}}, parts: []*part{q}})
			}
		}
	}
	if len(g.images) > 0 {
		single := len(out)
		for i := 0; i < single; i++ {
			if o, ok := g.orbitOf(out[i].pairs[0], owner); ok {
				out = append(out, o)
			}
		}
	}
	for _, k := range keys {
		if len(groups[k]) < 2 {
			continue
		}
		var o option
		used := map[int]bool{}
		for _, n := range groups[k] {
			pr := out[n].pairs[0]
			if used[pr[0]] || used[pr[1]] {
				continue
			}
			used[pr[0]], used[pr[1]] = true, true
			o.pairs = append(o.pairs, pr)
			o.parts = append(o.parts, out[n].parts[0])
		}
		if len(o.pairs) > 1 {
			out = append(out, o)
		}
	}
	return out
}

// emit turns the parts into elements of a new block of the set and returns the block's index.
func (d *domain) emit(g *merger) int {
	set := d.s.set
	id := len(set.Blocks)
	b := Block{Dirs: g.table.Dirs}
	sort.SliceStable(g.parts, func(i, j int) bool { return g.parts[i].cells[0] < g.parts[j].cells[0] })
	var all []int
	for _, p := range g.parts {
		all = append(all, p.cells...)
		c := d.cells[p.cells[0]]
		if c.child >= 0 {
			b.Blocks = append(b.Blocks, c.child)
			continue
		}
		kind := Subject
		if c.colour == 0 {
			kind = Spacer
			if p.p.fit.Form == Wrap {
				kind = Ground
			}
		}
		b.Elements = append(b.Elements, len(set.Elements))
		fit := p.p.fit
		if g.outer(p.cells) {
			fit = best(FitAll(p.p.shape))
		}
		set.Elements = append(set.Elements, Element{Kind: kind, Colour: c.colour, Block: id, True: p.p.shape, Fit: fit, CopyOf: -1})
	}
	b.Outline, _ = d.union(all)
	set.Nodes += g.nodes
	set.Blocks = append(set.Blocks, b)
	return id
}
