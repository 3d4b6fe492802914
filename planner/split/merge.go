package split

import (
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/blocking"
	"sugarwright/planner/recipe"
	"sugarwright/planner/removal"
	"sugarwright/planner/set"
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
	outerC    int     // the cell of the innermost closing wrap, or -1
	layers    bits    // the cells of all closing wraps
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
	nodes     int     // sets of cells priced
	corners   int     // of these
	proved    bool
	bound     float64
	heads     bits    // the first cell of each atom
	images    [][]int // of each head under each of the domain's motions
}

func newMerger(d *domain, log bool) *merger {
	g := &merger{
		d:         d,
		log:       log,
		memo:      map[string]*part{},
		joins:     map[[2]*part]*part{},
		classBins: map[int][]int{},
		cutMemo:   map[cutKey][]*part{},
		outerC:    -1,
	}
	g.layers = g.newBits()
	shapes := make([]region, len(d.cells))
	for i, c := range d.cells {
		shapes[i] = c.shape
		g.points = append(g.points, geom.Inside(c.shape))
		if log && d.isOuter(i) {
			g.layers.Set(i)
			if g.outerC < 0 || c.shape.Filled().Area() < d.cells[g.outerC].shape.Filled().Area() {
				g.outerC = i // the innermost takes up what is left
			}
		}
	}
	g.table = blocking.Of(shapes)
	for i := range d.cells {
		g.parts = append(g.parts, g.newPart([]int{i}))
	}
	g.findImages()
	return g
}

func (g *merger) newBits() bits { return removal.NewBits(len(g.d.cells)) }

// newPart is a set of cells that has no price yet.
func (g *merger) newPart(cells []int) *part {
	sort.Ints(cells)
	p := &part{cells: cells, own: g.newBits()}
	for _, c := range cells {
		p.own.Set(c)
	}
	return p
}

func (g *merger) outer(cells []int) bool {
	for _, c := range cells {
		if g.layers.Has(c) {
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

// run seeks the cheapest parts from three sides: pieces cut where it gains most, then merged; and cells merged while
// minutes are saved, merges that keep the drawing's symmetry before others, or all at any time. Each is then cut anew
// and shaken, and the cheapest stays.
func (g *merger) run() {
	g.begin()
	if g.d.s.even {
		g.runEven()
		return
	}
	best := g.parts
	for _, start := range []func(){
		func() { g.cutTopDown(); g.merge(true); g.merge(false) },
		func() { g.parts = g.atoms; g.merge(true); g.merge(false) },
		func() { g.parts = g.atoms; g.merge(false) },
	} {
		start()
		g.recut()
		g.perturb()
		if best = g.better(best, g.parts); len(g.atoms) > Tuned.ManyAtoms && g.makeable(best) {
			break
		}
	}
	g.parts = best
	g.proved, g.bound = g.exhaust()
}

// runOnce is run from one side.
func (g *merger) runOnce() {
	g.begin()
	g.cutTopDown()
	g.merge(true)
	if !g.d.s.even {
		g.merge(false)
	}
}

// begin prices the cells and tidies them.
func (g *merger) begin() {
	g.priceAll()
	g.cleanUp()
	g.findImages()
	g.findSeams()
	g.atoms = g.parts
}

// runEven seeks the cheapest parts that keep the drawing's symmetry.
func (g *merger) runEven() {
	best := g.parts
	for _, start := range []func(){g.cutTopDown, func() { g.parts = g.atoms }} {
		start()
		g.merge(true)
		best = g.better(best, g.parts)
	}
	g.parts = best
	_, g.bound = g.exhaust()
	g.parts = best
}

// makeable tells whether parts can all be made and laid.
func (g *merger) makeable(parts []*part) bool {
	for _, p := range parts {
		if p.p.pen >= Tuned.NoRecipe {
			return false
		}
	}
	return len(g.blocked(parts)) == 0
}

// merge takes steps while they save.
func (g *merger) merge(whole bool) {
	for !g.spent() && g.step(whole) {
	}
}

// spent tells whether the search has priced as much as it may.
func (g *merger) spent() bool {
	return g.nodes >= Tuned.MergeNodes || g.corners >= Tuned.MostCorners
}

// better is the cheaper of two sets of parts that can be laid.
func (g *merger) better(a, b []*part) []*part {
	sa, sb := len(g.blocked(a)), len(g.blocked(b))
	if sb < sa || sb == sa && g.total(b) < g.total(a)-Tuned.TieMinutes {
		return b
	}
	return a
}

func (g *merger) priceAll() {
	for i, p := range g.parts {
		g.parts[i] = g.part(p.cells)
	}
	g.evaluate(g.parts)
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
		if p.own.Has(cell) {
			return i
		}
	}
	return -1
}

// total is the price of parts: making and fit once a class, laying each.
func (g *merger) total(parts []*part) float64 {
	n := g.counts(parts)
	sum := 0.0
	for _, p := range parts {
		sum += p.p.lay + Tuned.LaidOverhead + g.making(p.p.class, n[p.p.class])
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
	min := g.d.s.shop.Minutes
	sum := c.make + c.work + Tuned.DistinctOverhead + float64(n)*(c.pen+min.Each(c.grams, g.d.s.log.LengthMM))
	if n > 1 {
		sum += min.Chop * float64(n)
	}
	return sum
}

// step takes the merge that saves most and leaves no more parts stuck than before; false when none does. With whole,
// only merges that keep the drawing's symmetry are taken.
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
	g.evaluate(open)
	keep()
	sort.SliceStable(options, func(i, j int) bool {
		return math.Round(options[i].saving/Tuned.TieMinutes) > math.Round(options[j].saving/Tuned.TieMinutes)
	})
	blocked := -1
	for _, o := range options {
		if blocked < 0 {
			blocked = len(g.blocked(g.parts))
		}
		if rest := g.with(o); len(g.blocked(rest)) <= blocked {
			g.parts = rest
			return true
		}
	}
	return false
}

// printed is the fit of a finished part, measured finely. A part that was found free because it can be bent on, or
// wrapped round, stays so.
func (g *merger) printed(p *part) recipe.Fit {
	if g.outer(p.cells) {
		return p.p.fit
	}
	// What was priced may have been the fit of a part that is congruent, which lies elsewhere, or of its mirror image.
	ground, least := g.ground(p.cells), g.d.s.shop.Least()
	over := func(v geom.Vec) geom.Vec { return geom.Vec{-v[0], v[1]} }
	for _, e := range []recipe.Effort{recipe.Thorough, recipe.Quick} {
		if f := recipe.Best(p.p.shape, ground, least, e); f.Class < recipe.Refused && f.Bent() == p.p.fit.Bent() {
			return f
		}
		if f := recipe.Best(turnedOver(p.p.shape), ground, least, e); f.Class < recipe.Refused && f.Bent() == p.p.fit.Bent() {
			return f.Moved(over)
		}
	}
	return p.p.fit
}

// turnedOver is a region's mirror image, left to right.
func turnedOver(r region) region {
	out := make(region, len(r))
	for i, ring := range r {
		out[i] = ring.Reversed()
		for k := range out[i] {
			out[i][k][0] = -out[i][k][0]
		}
	}
	return out
}

// emit turns the parts into elements of a new block of the set and returns the block's index.
func (d *domain) emit(g *merger) int {
	out := d.s.set
	id := len(out.Blocks)
	b := set.Block{Dirs: g.table.Dirs}
	sort.SliceStable(g.parts, func(i, j int) bool { return g.parts[i].cells[0] < g.parts[j].cells[0] })
	var all []int
	for _, p := range g.parts {
		all = append(all, p.cells...)
		c := d.cells[p.cells[0]]
		if c.child >= 0 {
			b.Blocks = append(b.Blocks, c.child)
			continue
		}
		if !p.p.ok {
			d.s.gaveUp(d.s.pose.Out(geom.Inside(p.p.shape)), "falls_apart")
			continue
		}
		kind := set.Subject
		if c.colour == 0 {
			kind = set.Spacer
			if p.p.fit.Closed() {
				kind = set.Ground
			}
		}
		b.Elements = append(b.Elements, len(out.Elements))
		fit := g.printed(p)
		out.Elements = append(out.Elements,
			set.Element{Kind: kind, Colour: c.colour, Block: id, True: p.p.shape, Fit: fit, CopyOf: -1})
	}
	b.Outline, _ = d.union(all)
	out.Nodes += g.nodes
	out.Price += g.total(g.parts)
	out.Bound += g.bound
	out.Proved = out.Proved && g.proved
	out.Blocks = append(out.Blocks, b)
	return id
}
