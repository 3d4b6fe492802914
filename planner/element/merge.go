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
	d         *domain
	log       bool
	points    []point // inside each cell
	outerC    int     // the cell of the closing wrap, or -1
	table     *blocking.Table
	memo      map[string]*part
	joins     map[[2]*part]*part
	seams     map[[2]int][][]int // of neighbouring cells: the groups of lines on each edge between them
	cutMemo   map[cutKey][]*part
	classes   []class
	classBins map[int][]int
	tally     []int // by class, all zero between uses
	parts     []*part
	atoms     []*part // what is merged: cells, slivers tidied away
	nodes     int
	proved    bool
	bound     float64
	heads     bits    // the first cell of each atom
	images    [][]int // of each head under each of the domain's motions
}

// mergeNodes bounds the merges priced in one domain; drawings for hands need hundreds.
const mergeNodes = 30_000

// tinyMM2 is the area below which a cell is no part by itself (trial: 14 square units of a 200-unit drawing).
const tinyMM2 = 4.4

// leastSpacerMM2 is the area below which ground beside the closing wrap is taken up by it (60 square units of a 200-unit drawing).
const leastSpacerMM2 = 19

func newMerger(d *domain, log bool) *merger {
	g := &merger{d: d, log: log, memo: map[string]*part{}, joins: map[[2]*part]*part{}, classBins: map[int][]int{}, cutMemo: map[cutKey][]*part{}, outerC: -1}
	shapes := make([]region, len(d.cells))
	for i, c := range d.cells {
		shapes[i] = c.shape
		g.points = append(g.points, inside(c.shape))
		if log && d.isOuter(i) && (g.outerC < 0 || c.area > d.cells[g.outerC].area) {
			g.outerC = i
		}
	}
	g.table = blocking.Of(shapes)
	for i := range d.cells {
		g.parts = append(g.parts, g.newPart([]int{i}))
	}
	g.findImages()
	return g
}

func (g *merger) newBits() bits { return make(bits, (len(g.d.cells)+63)/64) }

// newPart is a set of cells that has no price yet.
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

// run seeks the cheapest parts from three sides: pieces cut where it gains most, then merged; and cells merged while minutes are saved,
// merges that keep the drawing's symmetry before others, or all at any time. Each is then cut anew and shaken, and the cheapest stays.
func (g *merger) run() {
	g.tidy()
	g.findImages()
	g.findSeams()
	g.atoms = g.parts
	best := g.parts
	for _, start := range []func(){
		func() { g.carve(); g.merge(true); g.merge(false) },
		func() { g.parts = g.atoms; g.merge(true); g.merge(false) },
		func() { g.parts = g.atoms; g.merge(false) },
	} {
		start()
		g.recut()
		g.shake()
		if best = g.better(best, g.parts); len(g.atoms) > manyAtoms && g.sound(best) {
			break
		}
	}
	g.parts = best
	g.proved, g.bound = g.exhaust()
}

// manyAtoms is the number from which cells are merged only where cutting from above has failed: there it hardly ever finds anything cheaper,
// and takes long.
const manyAtoms = 50

// sound tells whether parts can all be made and laid.
func (g *merger) sound(parts []*part) bool {
	for _, p := range parts {
		if p.p.pen >= misfit {
			return false
		}
	}
	return len(g.stuck(parts)) == 0
}

// merge takes steps while they save.
func (g *merger) merge(whole bool) {
	for g.nodes < mergeNodes && g.step(whole) {
	}
}

// better is the cheaper of two sets of parts that can be laid.
func (g *merger) better(a, b []*part) []*part {
	sa, sb := len(g.stuck(a)), len(g.stuck(b))
	if sb < sa || sb == sa && g.total(b) < g.total(a)-tieMinutes {
		return b
	}
	return a
}

// tidy gives slim leftovers of the ground to the closing wrap, and cells too small to be parts to the neighbour they border on most; never
// so that a part is stuck that was free before.
func (g *merger) tidy() {
	g.priceAll()
	stuck := len(g.stuck(g.parts))
	left := map[*part]bool{} // what can go nowhere
	for again := true; again; {
		again = false
		for i, p := range g.parts {
			if left[p] || g.d.cells[p.cells[0]].child >= 0 || g.outer(p.cells) {
				continue
			}
			if rest, ok := g.tidied(i, stuck); ok {
				g.parts, again = rest, true
				break
			}
			left[p] = true
		}
	}
}

// tidied is the parts after part i went to a neighbour; ok is false when it is a part by itself, or no neighbour can take it.
func (g *merger) tidied(i, stuck int) (rest []*part, ok bool) {
	p, thinnest := g.parts[i], g.d.s.shop.ThinnestMM
	if !p.p.ok {
		return nil, false
	}
	shape := p.p.shape
	area := shape.Area()
	// A half-moon has 1.5 times its mean width 2 A / P at its highest; so a crescent is measured, whose box says nothing.
	width := math.Min(geom.SmallestRect(geom.Hull(shape[0])).Width, 3*area/shape.Perimeter())
	ground := g.d.cells[p.cells[0]].colour == 0
	var to []int
	switch {
	case g.log && g.outerC >= 0 && ground && (width < thinnest || area < leastSpacerMM2) && g.touches(p, g.outerC):
		to = []int{g.partOf(g.outerC)}
	case area < tinyMM2 || width < 0.3*thinnest:
		to = g.mostBorder(i)
	}
	for _, j := range to {
		options := []option{{gone: []*part{p, g.parts[j]}, parts: []*part{g.join(p, g.parts[j])}}}
		if o, alone, ok := g.orbitOf([2]int{i, j}, g.owners()); ok && !alone {
			options = append([]option{o}, options...)
		}
		for _, o := range options {
			sound := true
			for _, q := range o.parts {
				sound = sound && q.p.ok && (len(q.p.shape) <= 2 || g.outer(q.cells)) // no hands make a part with two holes
				large := 0
				for _, h := range o.gone {
					if q.own.has(h.cells[0]) && h.p.shape.Area() > 2*area {
						large++
					}
				}
				sound = sound && large <= 1 // a leftover must not join what it lies between
			}
			if rest := g.with(o); sound && len(g.stuck(g.sure(rest))) <= stuck {
				return rest, true
			}
		}
	}
	return nil, false
}

func (g *merger) priceAll() {
	for i, p := range g.parts {
		g.parts[i] = g.part(p.cells)
	}
	g.sure(g.parts)
}

// join is the part that two parts would be together.
func (g *merger) join(a, b *part) *part {
	key := [2]*part{a, b}
	p, ok := g.joins[key]
	if !ok {
		p = g.part(append(append([]int(nil), a.cells...), b.cells...))
		g.joins[key] = p
	}
	return p
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

// mostBorder lists the parts of the same colour with which part i shares border, most first.
func (g *merger) mostBorder(i int) []int {
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
	var out []int
	for j := range g.parts {
		if shared[j] > 0 {
			out = append(out, j)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return shared[out[a]] > shared[out[b]] })
	return out
}

// total is the price of parts: making and fit once a class, laying each.
func (g *merger) total(parts []*part) float64 {
	n := g.counts(parts)
	sum := 0.0
	for _, p := range parts {
		sum += p.p.lay + laidOverhead + g.making(p.p.class, n[p.p.class])
		n[p.p.class] = 0
	}
	return sum
}

// counts are the parts of each class; whoever asks sets them back to zero.
func (g *merger) counts(parts []*part) []int {
	for len(g.tally) < len(g.classes) {
		g.tally = append(g.tally, 0)
	}
	for _, p := range parts {
		g.tally[p.p.class]++
	}
	return g.tally
}

// making is the price of making n parts of a class.
func (g *merger) making(class, n int) float64 {
	if n == 0 {
		return 0
	}
	c := &g.classes[class]
	return c.make + distinctOverhead + c.pen*(1+copyPenalty*float64(n-1))
}

// saved is how much cheaper a merge makes the parts; n counts the parts of each class.
func (g *merger) saved(o *option, n []int) float64 {
	sum := 0.0
	var touched [16]int
	classes := touched[:0]
	count := func(p *part, by int) {
		sum -= float64(by) * (p.p.lay + laidOverhead)
		classes = append(classes, p.p.class)
	}
	for _, p := range o.gone {
		count(p, -1)
	}
	for _, p := range o.parts {
		count(p, 1)
	}
	for i, c := range classes {
		first := true
		for _, e := range classes[:i] {
			first = first && e != c
		}
		if !first {
			continue
		}
		k := n[c]
		for j, e := range classes {
			if e == c && j < len(o.gone) {
				k--
			} else if e == c {
				k++
			}
		}
		sum += g.making(c, n[c]) - g.making(c, k)
	}
	return sum
}

// option is one merge, or a whole class of equal merges.
type option struct {
	gone   []*part
	parts  []*part
	saving float64
	whole  bool // it keeps the drawing's symmetry
}

// step takes the merge that saves most and leaves no more parts stuck than before; false when none does. With whole, only merges that
// keep the drawing's symmetry are taken.
func (g *merger) step(whole bool) bool {
	options := g.options()
	keep := func() {
		n := g.counts(g.parts)
		var left []option
		for _, o := range options {
			if o.saving = g.saved(&o, n); o.saving > 1e-9 && (o.whole || !whole) {
				left = append(left, o)
			}
		}
		for _, p := range g.parts {
			n[p.p.class] = 0
		}
		options = left
	}
	// First by the bounds of rough prices; what may save is then priced.
	keep()
	var open []*part
	for _, o := range options {
		open = append(open, o.parts...)
	}
	g.sure(open)
	keep()
	sort.SliceStable(options, func(i, j int) bool {
		return math.Round(options[i].saving/tieMinutes) > math.Round(options[j].saving/tieMinutes)
	})
	stuck := -1
	for _, o := range options {
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
	gone := map[*part]bool{}
	for _, p := range o.gone {
		gone[p] = true
	}
	out := make([]*part, 0, len(g.parts))
	for _, p := range g.parts {
		if !gone[p] {
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
	var pairs [][2]int // of the single merges
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
				q := g.join(p, g.parts[j])
				if !q.p.ok || len(q.p.shape) > 2 {
					continue
				}
				a, b := p.p.class, g.parts[j].p.class
				k := key{min(a, b), max(a, b), q.p.class}
				if groups[k] == nil {
					keys = append(keys, k)
				}
				groups[k] = append(groups[k], len(out))
				out = append(out, option{gone: []*part{p, g.parts[j]}, parts: []*part{q}})
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	if len(g.images) > 0 {
		for i := range pairs {
			o, alone, ok := g.orbitOf(pairs[i], owner)
			switch out[i].whole = alone; {
			case ok && !alone:
				o.whole = true
				out = append(out, o)
			}
		}
	}
	out = append(out, g.closures(owner)...)
	for _, k := range keys {
		if len(groups[k]) < 2 {
			continue
		}
		var o option
		used := map[*part]bool{}
		for _, n := range groups[k] {
			pr := out[n].gone
			if used[pr[0]] || used[pr[1]] {
				continue
			}
			used[pr[0]], used[pr[1]] = true, true
			o.gone = append(o.gone, pr...)
			o.parts = append(o.parts, out[n].parts[0])
		}
		if len(o.parts) > 1 {
			out = append(out, o)
		}
	}
	return out
}

// closures lists merges of all that lies round one part in one colour to a ring: no merge of two leads there without passing strips that
// nobody would bend.
func (g *merger) closures(owner []int) []option {
	var out []option
	for i, p := range g.parts {
		round := map[int][]int{} // by colour, the parts round p
		seen := map[int]bool{i: true}
		for _, c := range p.cells {
			for _, n := range g.d.cells[c].near {
				if j := owner[n]; !seen[j] {
					seen[j] = true
					if o := g.d.cells[n]; o.child < 0 && !g.outer(g.parts[j].cells) {
						round[o.colour] = append(round[o.colour], j)
					}
				}
			}
		}
		for colour := range g.d.s.m.Colours {
			js := round[colour]
			if len(js) < 2 {
				continue
			}
			sort.Ints(js)
			o := option{}
			var cells []int
			for _, j := range js {
				cells = append(cells, g.parts[j].cells...)
				o.gone = append(o.gone, g.parts[j])
			}
			if q := g.part(cells); q.p.ok && len(q.p.shape) == 2 && g.sure([]*part{q})[0].p.pen < slightPenalty {
				o.parts, o.whole = []*part{q}, true
				out = append(out, o)
			}
		}
	}
	return out
}

// printed is the fit of a finished part, measured finely. The form is chosen anew: quick fits may have missed by a little.
func (g *merger) printed(p *part) Fit {
	fits := FitAll(p.p.full)
	if g.outer(p.cells) {
		return best(fits)
	}
	q, least, out := g.d.s.measure(p.p.full), math.Inf(1), p.p.fit
	for _, f := range fits {
		mk, lay, pen := g.formCost(f, g.d.cells[p.cells[0]].colour == 0, false, q)
		// A part that was found free because it can be bent on, or wrapped round, stays so.
		if (f.Form == Bent || f.Form == Wrap) == (p.p.fit.Form == Bent || p.p.fit.Form == Wrap) && mk+lay+pen < least-tieMinutes {
			least, out = mk+lay+pen, f
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
		fit := g.printed(p)
		set.Elements = append(set.Elements, Element{Kind: kind, Colour: c.colour, Block: id, True: p.p.shape, Full: p.p.full, Fit: fit, CopyOf: -1})
	}
	b.Outline, _ = d.union(all)
	set.Nodes += g.nodes
	set.Price += g.total(g.parts)
	set.Bound += g.bound
	set.Proved = set.Proved && g.proved
	set.Blocks = append(set.Blocks, b)
	return id
}
