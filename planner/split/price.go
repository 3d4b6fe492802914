package split

import (
	"math"
	"runtime"
	"sugarwright/planner/recipe"
	"sugarwright/planner/removal"
	"sugarwright/planner/set"
	"sync"
)

// bits is a set of cells.
type bits = removal.Bits

// priced is a set of cells seen as one part.
type priced struct {
	ok                   bool
	shape                region
	fit                  recipe.Fit
	make, work, lay, pen float64 // the bar's kind; the operation's; laying; what hands find hard
	grams                float64
	class                int
	isBound              bool  // only bounds so far: it costs no less than this
	inside               bits  // wraps: cells inside
	way                  bits  // bends: cells in the way
	core                 []int // bends: cells under the inner side, one entry a sample
	ring                 bool
}

// class is a set of congruent shapes of one colour.
type class struct {
	colour     int
	how        [3]int // bar, operation, and whether it is refused
	sig        [6]float64
	make, work float64 // of the first of the class
	grams      float64
	pen        float64
}

// anyHow matches classes of every recipe.
var anyHow = [3]int{-1, -1, -1}

func how(p *priced) [3]int {
	out := [3]int{int(p.fit.Base), int(p.fit.Op)}
	if p.pen >= Tuned.NoRecipe {
		out[2] = 1
	}
	return out
}

// classOf finds the class of a part, or makes it. A part that is priced roughly counts into any class of its shape.
func (g *merger) classOf(p *priced, colour int, how [3]int) int {
	s := recipe.Signature(p.shape)
	bin := int(math.Log(math.Max(s[0], 1e-9)) / Tuned.ClassBin)
	for b := bin - 1; b <= bin+1; b++ {
		for _, i := range g.classBins[b] {
			c := &g.classes[i]
			if c.colour != colour || how != anyHow && c.how != how {
				continue
			}
			same := true
			for k := range s {
				tol := Tuned.LikeShare * s[0]
				if k == 4 { // small differences of round shapes are noise here
					tol *= 4
				}
				same = same && math.Abs(s[k]-c.sig[k]) <= tol
			}
			if same {
				return i
			}
		}
	}
	g.classes = append(g.classes, class{colour, how, s, p.make, p.work, p.grams, p.pen})
	i := len(g.classes) - 1
	g.classBins[bin] = append(g.classBins[bin], i)
	return i
}

// part is the one part that a set of cells is; its price may be rough.
func (g *merger) part(cells []int) *part {
	p := g.newPart(cells)
	key := p.own.Key()
	if old, ok := g.memo[key]; ok {
		return old
	}
	p.p = g.bounded(p.cells)
	g.memo[key] = p
	return p
}

// bounded bounds the price of a set of cells from below: the least that making and laying take.
func (g *merger) bounded(cells []int) *priced {
	p := &priced{}
	c := g.d.cells[cells[0]]
	shape, ok := g.d.union(cells)
	if !ok {
		p.shape = c.shape // for a place to point at
		p.pen, p.class = Tuned.NoPart, len(g.classes)
		g.classes = append(g.classes, class{colour: -1, pen: Tuned.NoPart})
		return p
	}
	p.shape, p.ok, p.ring, p.isBound = shape, true, len(shape) > 1, true
	min := g.d.s.shop.Minutes
	if c.child >= 0 {
		p.lay, p.fit, p.isBound = min.Lay, recipe.Fit{Recipe: recipe.Recipe{Base: recipe.Bar}, Class: recipe.Fine}, false
		p.class = g.classOf(p, c.colour, how(p))
		return p
	}
	p.grams = g.d.s.log.Grams(shape.Area(), c.colour)
	if p.ring {
		p.make, p.lay = min.Sheet, min.Wrap
	} else {
		p.make, p.lay = math.Min(min.Rod, min.Bar), min.Lay
	}
	p.class = g.classOf(p, c.colour, anyHow)
	return p
}

// evaluate prices parts that were priced roughly, on all cores: fitting is most of the work, and no part's fit depends
// on another's.
func (g *merger) evaluate(parts []*part) []*part {
	var todo []*part
	alike := map[*measured][]*part{} // shapes alike share what is measured: one core does them
	var shapes []*measured
	for _, p := range parts {
		if !p.p.isBound {
			continue
		}
		p.p.isBound = false
		todo = append(todo, p)
		q := g.d.s.measure(p.p.shape)
		if alike[q] == nil {
			shapes = append(shapes, q)
		}
		alike[q] = append(alike[q], p)
	}
	if len(todo) == 0 {
		return parts
	}
	next := make(chan *measured, len(shapes))
	for _, q := range shapes {
		next <- q
	}
	close(next)
	var wg sync.WaitGroup
	for n := min(len(shapes), runtime.GOMAXPROCS(0)); n > 0; n-- {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for q := range next {
				for _, p := range alike[q] {
					g.price(p, q)
				}
			}
		}()
	}
	wg.Wait()
	for _, p := range todo {
		g.nodes++
		n := p.p.shape.Corners()
		g.corners += n * n
		g.place(p)
	}
	return parts
}

// ground tells whether cells are ground.
func (g *merger) ground(cells []int) bool { return g.d.cells[cells[0]].colour == 0 }

// price finds the recipe of a part, and the minutes of making and laying it. It changes nothing but the part and what
// is measured of its shape.
func (g *merger) price(t *part, q *measured) {
	p, cells := t.p, t.cells
	ground, outer := g.ground(cells), g.outer(cells)
	m := g.d.s.shop.Minutes
	p.pen = 0
	if outer { // the closing wrap takes any outline
		p.fit = recipe.Best(p.shape, true, g.d.s.shop.Least(), recipe.Quick)
		p.fit.Base, p.fit.Class = recipe.Sheet, recipe.Fine
	} else {
		p.fit = q.fit(p.shape, ground, g.d.s.shop.Least())
	}
	p.make, p.work, p.lay = m.Make(p.fit.Recipe, 0, 0, 1)-m.Work(p.fit.Recipe), m.Work(p.fit.Recipe), m.Place(p.fit, p.grams)
	switch area := p.shape.Area(); {
	case outer:
	case p.fit.Class == recipe.Refused || len(p.shape) > 2:
		p.pen = Tuned.NoRecipe * (1 + 0.1*math.Min(1, p.fit.Misfit) + float64(max(0, len(p.shape)-2)))
	case ground && area < Tuned.LeastSpacerMM2:
		p.pen = Tuned.SlightPenalty * (1 - area/Tuned.LeastSpacerMM2)
	}
	if !p.ring {
		kind := set.Subject
		if ground {
			kind = set.Spacer
		}
		if q.thin(g.d.s, p.shape, kind, p.fit) {
			p.pen += Tuned.NoRecipe
		}
	}
}

// place puts a priced part into its class, and notes what lies inside a wrap or in a bent strip's way.
func (g *merger) place(t *part) {
	p := t.p
	c := g.d.cells[t.cells[0]]
	p.class = g.classOf(p, c.colour, how(p))
	if p.ring {
		p.inside = g.newBits()
		for i := range g.d.cells {
			if !t.own.Has(i) && inHole(p.shape, g.points[i]) {
				p.inside.Set(i)
			}
		}
	}
	if p.fit.Bent() {
		g.bend(p, t.own)
	}
}

func inHole(r region, p point) bool {
	for _, h := range r[1:] {
		if h.Contains(p) {
			return true
		}
	}
	return false
}

// bend finds what is in a bent strip's way and what it is bent over.
func (g *merger) bend(p *priced, own bits) {
	way, core, ok := recipe.BendWay(p.shape)
	if !ok {
		return
	}
	p.way = g.newBits()
	for _, q := range way {
		if c := g.locate(q); c >= 0 && !own.Has(c) {
			p.way.Set(c)
		}
	}
	for _, q := range core {
		c := g.locate(q)
		if c >= 0 && own.Has(c) {
			c = -1
		}
		p.core = append(p.core, c)
	}
}
