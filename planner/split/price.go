package split

import (
	"math"
	"runtime"
	"sugarwright/planner/form"
	"sugarwright/planner/removal"
	"sugarwright/planner/set"
	"sync"
)

// bits is a set of cells.
type bits = removal.Bits

// priced is a set of cells seen as one part.
type priced struct {
	ok             bool
	shape, full    region // full: grooves closed
	fit            form.Fit
	make, lay, pen float64
	class          int
	isBound        bool  // only bounds so far: it costs no less than this
	inside         bits  // wraps: cells inside
	way            bits  // bends: cells in the way
	core           []int // bends: cells under the inner side, one entry a sample
	ring           bool
}

// class is a set of congruent shapes of one colour.
type class struct {
	colour int
	form   form.Form
	sig    [6]float64
	make   float64 // of the first of the class
	pen    float64
}

// anyForm matches classes of every form.
const anyForm form.Form = -1

// classOf finds the class of a part, or makes it. A part that is priced roughly counts into any class of its shape.
func (g *merger) classOf(p *priced, colour int, f form.Form) int {
	s := form.Signature(p.shape)
	bin := int(math.Log(math.Max(s[0], 1e-9)) / Tuned.ClassBin)
	for b := bin - 1; b <= bin+1; b++ {
		for _, i := range g.classBins[b] {
			c := &g.classes[i]
			if c.colour != colour || f != anyForm && c.form != f {
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
	g.classes = append(g.classes, class{colour, f, s, p.make, p.pen})
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

// bounded bounds the price of a set of cells from below, from what is quickly seen: pockets and corners.
func (g *merger) bounded(cells []int) *priced {
	p := &priced{}
	c := g.d.cells[cells[0]]
	shape, ok := g.d.union(cells)
	if !ok {
		p.shape = c.shape // for a place to point at
		p.full = c.shape
		p.pen, p.class = Tuned.NoPart, len(g.classes)
		g.classes = append(g.classes, class{colour: -1, pen: Tuned.NoPart})
		return p
	}
	p.shape, p.ok, p.ring, p.isBound = shape, true, len(shape) > 1, true
	min := g.d.s.shop.Minutes
	if c.child >= 0 {
		p.lay, p.fit, p.isBound = min.Lay, form.Fit{Form: form.Block, IoU: 1}, false
		p.class = g.classOf(p, c.colour, form.Block)
		return p
	}
	p.full = g.filled(shape, cells)
	if p.ring {
		p.make, p.lay = min.MakeWrap, min.Wrap
		p.class = g.classOf(p, c.colour, anyForm)
		return p
	}
	q := g.d.s.measure(p.full)
	lacks, share := q.lacks, 1.0
	if c.colour == 0 {
		share = Tuned.GroundShare
	}
	perimeter, area := p.full.Perimeter(), p.full.Area()
	mayBend := perimeter*perimeter/16 > area && q.lacks > 1-form.Tuned.StraightFill
	if mayBend || c.colour == 0 && q.notch == 0 {
		lacks = 0
	}
	p.make, p.lay = math.Min(min.MakeRod, min.MakeStrip), min.Lay
	p.pen = share * (Tuned.Hollow*math.Max(0, lacks-Tuned.HollowKnee) + Tuned.NotchPenalty*q.notch)
	p.class = g.classOf(p, c.colour, anyForm)
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
		q := g.d.s.measure(p.p.full)
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
		n := p.p.full.Corners()
		g.corners += n * n
		g.place(p)
	}
	return parts
}

// price finds the form in which a part is cheapest. It changes nothing but the part and what is measured of its shape.
func (g *merger) price(t *part, q *measured) {
	p, cells := t.p, t.cells
	c := g.d.cells[cells[0]]
	bestCost := math.Inf(1)
	for _, f := range g.forms(q, p.full, g.outer(cells)) {
		mk, lay, pen := g.formCost(f, c.colour == 0, g.outer(cells), q)
		if mk+lay+pen < bestCost-Tuned.TieMinutes { // of equals the first: forms are tried plainest first
			bestCost = mk + lay + pen
			p.fit, p.make, p.lay, p.pen = f, mk, lay, pen
		}
	}
	if a := p.shape.Area(); a < Tuned.LeastSpacerMM2 && c.colour == 0 {
		p.pen += Tuned.SlightPenalty * (1 - a/Tuned.LeastSpacerMM2)
	}
	if holes := len(p.shape) - 1; holes > 1 && !g.outer(cells) {
		p.pen = Tuned.HolePenalty * float64(holes)
	}
	if !p.ring {
		kind := set.Subject
		if c.colour == 0 {
			kind = set.Spacer
		}
		bad := false
		if len(p.full[0]) == len(p.shape[0]) {
			bad = q.thin(g.d.s, p.shape, kind, p.fit.Form)
		} else if is, err := g.d.s.thin(p.shape, kind, p.fit.Form); is || err != nil {
			bad = true
		}
		if bad {
			p.pen += Tuned.Misfit
		}
	}
}

// place puts a priced part into its class, and notes what lies inside a wrap or in a bent strip's way.
func (g *merger) place(t *part) {
	p := t.p
	c := g.d.cells[t.cells[0]]
	p.class = g.classOf(p, c.colour, p.fit.Form)
	if p.ring {
		p.inside = g.newBits()
		for i := range g.d.cells {
			if !t.own.Has(i) && inHole(p.shape, g.points[i]) {
				p.inside.Set(i)
			}
		}
	}
	if p.fit.Form == form.Bent {
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

// formCost is making, laying and penalty of a form, in minutes.
func (g *merger) formCost(f form.Fit, ground, outer bool, q *measured) (mk, lay, pen float64) {
	lacks, notch := q.lacks, q.notch
	m := g.d.s.shop.Minutes
	lay = m.Lay
	thick := f.A
	mk = m.Make(f.Form)
	switch f.Form {
	case form.Bent:
		lay = m.Bend
		lacks = 0
		if f.Turn > 2.6 && f.Turn < 3.7 { // 150 to 210 degrees
			lay += Tuned.HalfRing
		}
	case form.Block:
		thick = f.B
	case form.Wedge:
		thick = math.Min(f.A, f.B)
	case form.Segment:
		thick = f.B
	case form.Wrap:
		lay = m.Wrap
		lacks, notch, thick = 0, 0, 100
		if outer {
			return mk, lay, 0
		}
	}
	share, floor := 1.0, 1.0
	if ground {
		share, floor = Tuned.GroundShare, Tuned.GroundFloorShare
		f.IoU = math.Max(f.IoU, f.Pressed)
		if f.Pressed > 0.8 {
			lacks = 0
		}
	}
	pen = share*Tuned.FitSlope*math.Max(0, Tuned.FitKnee-f.IoU) + floor*Tuned.FloorSlope*math.Max(0,
		Tuned.FitFloor-f.IoU)
	least := g.d.s.shop.LeastFit + Tuned.FitSpare
	if f.Form == form.Wrap {
		least = Tuned.EvenWrap
	}
	if (!ground || f.Form == form.Wrap) && f.IoU < least {
		pen += Tuned.Misfit
	}
	pen += share * (Tuned.Hollow*math.Max(0, lacks-Tuned.HollowKnee) + Tuned.NotchPenalty*notch)
	pen += Tuned.ThinSlope * math.Max(0, g.d.s.shop.ThinnestMM-thick)
	return mk, lay, pen
}

// bend finds what is in a bent strip's way and what it is bent over.
func (g *merger) bend(p *priced, own bits) {
	way, core, ok := form.BendWay(p.shape)
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
