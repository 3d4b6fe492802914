package split

import (
	"math"
	"runtime"
	"sugarwright/planner/form"
	"sugarwright/planner/set"
	"sync"
)

// bits is a set of cells.
type bits []uint64

func (b bits) has(i int) bool { return b[i>>6]>>(i&63)&1 == 1 }
func (b bits) set(i int)      { b[i>>6] |= 1 << (i & 63) }
func (b bits) meets(o bits) bool {
	for i := range b {
		if b[i]&o[i] != 0 {
			return true
		}
	}
	return false
}

// within tells whether b less p lies in o.
func (b bits) within(o, p bits) bool {
	for i := range b {
		if b[i]&^o[i]&^p[i] != 0 {
			return false
		}
	}
	return true
}

func (b bits) key() string {
	out := make([]byte, 0, 8*len(b))
	for _, w := range b {
		for k := 0; k < 64; k += 8 {
			out = append(out, byte(w>>k))
		}
	}
	return string(out)
}

// Penalties in minutes, tuned on drawings whose split by a maker is known: an overlap below 0.94 costs 12 minutes a unit for subject,
// 0.8 of that for ground; below 0.7 a further 32 (8); what is missing from the hull 9; each millimetre under the thinnest 1.8.
const (
	fitKnee, fitSlope    = 0.94, 12.0
	fitFloor, floorSlope = 0.7, 32.0
	hollowKnee, hollow   = 0.03, 9.0
	notchPenalty         = 1.5 // a sharp concave corner is cut in with a knife, or pressed: no form has one; tuned
	thinSlope            = 1.8
	slightPenalty        = 12.0       // a slip of ground under the least area, at most
	evenWrap             = 0.9        // a coloured wrap is even: an uneven ring is a wrap and something else (SPLITTING 7, 17); tuned
	fitSpare, misfit     = 0.02, 30.0 // a subject part below the least fit is refused later: dearer than any cut
	groundShare          = 0.8
	groundFloorShare     = 0.25
	laidOverhead         = 0.5    // each part laid is one more seam; tuned
	halfRing             = 0.6    // a strip bent half round meets another: one wrap is plainer; tuned
	distinctOverhead     = 0.5    // each distinct part is one more thing to find and to get wrong; tuned
	holePenalty          = 40.0   // no hands make a part with two holes: each cut that opens one must gain
	noPart               = 1000.0 // cells that are no one part
	copyPenalty          = 0.5    // a bad fit costs again, half, for each copy
)

// tieMinutes is the difference in price below which two ways are equal: measuring on another sampling of the outlines must not decide.
const tieMinutes = 0.04

// priced is a set of cells seen as one part.
type priced struct {
	ok             bool
	shape, full    region // full: grooves closed
	fit            form.Fit
	make, lay, pen float64
	class          int
	rough          bool  // only bounds so far: it costs no less than this
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

// likeShare is the relative difference up to which signatures are one class in the search; copies are then verified point by point.
const likeShare = 0.012

// anyForm matches classes of every form.
const anyForm form.Form = -1

// classBin is the width of the bins by size in which classes are sought, a power of the size.
const classBin = 0.02

// classOf finds the class of a part, or makes it. A part that is priced roughly counts into any class of its shape.
func (g *merger) classOf(p *priced, colour int, f form.Form) int {
	s := form.Signature(p.shape)
	bin := int(math.Log(math.Max(s[0], 1e-9)) / classBin)
	for b := bin - 1; b <= bin+1; b++ {
		for _, i := range g.classBins[b] {
			c := &g.classes[i]
			if c.colour != colour || f != anyForm && c.form != f {
				continue
			}
			same := true
			for k := range s {
				tol := likeShare * s[0]
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
	key := p.own.key()
	if old, ok := g.memo[key]; ok {
		return old
	}
	p.p = g.roughly(p.cells)
	g.memo[key] = p
	return p
}

// roughly bounds the price of a set of cells from below, from what is quickly seen: pockets and corners.
func (g *merger) roughly(cells []int) *priced {
	p := &priced{}
	c := g.d.cells[cells[0]]
	shape, ok := g.d.union(cells)
	if !ok {
		p.shape = c.shape // for a place to point at
		p.full = c.shape
		p.pen, p.class = noPart, len(g.classes)
		g.classes = append(g.classes, class{colour: -1, pen: noPart})
		return p
	}
	p.shape, p.ok, p.ring, p.rough = shape, true, len(shape) > 1, true
	min := g.d.s.shop.Minutes
	if c.child >= 0 {
		p.lay, p.fit, p.rough = min.Lay, form.Fit{Form: form.Block, IoU: 1}, false
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
		share = groundShare
	}
	perimeter, area := p.full.Perimeter(), p.full.Area()
	mayBend := perimeter*perimeter/16 > area && q.lacks > 1-form.StraightFill
	if mayBend || c.colour == 0 && q.notch == 0 {
		lacks = 0
	}
	p.make, p.lay = math.Min(min.MakeRod, min.MakeStrip), min.Lay
	p.pen = share * (hollow*math.Max(0, lacks-hollowKnee) + notchPenalty*q.notch)
	p.class = g.classOf(p, c.colour, anyForm)
	return p
}

// sure prices parts that were priced roughly, on all cores: fitting is most of the work, and no part's fit depends on another's.
func (g *merger) sure(parts []*part) []*part {
	var todo []*part
	alike := map[*measured][]*part{} // shapes alike share what is measured: one core does them
	var shapes []*measured
	for _, p := range parts {
		if !p.p.rough {
			continue
		}
		p.p.rough = false
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
		if mk+lay+pen < bestCost-tieMinutes { // of equals the first: forms are tried plainest first
			bestCost = mk + lay + pen
			p.fit, p.make, p.lay, p.pen = f, mk, lay, pen
		}
	}
	if a := p.shape.Area(); a < leastSpacerMM2 && c.colour == 0 {
		p.pen += slightPenalty * (1 - a/leastSpacerMM2)
	}
	if holes := len(p.shape) - 1; holes > 1 && !g.outer(cells) {
		p.pen = holePenalty * float64(holes)
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
			p.pen += misfit
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
			if !t.own.has(i) && inHole(p.shape, g.points[i]) {
				p.inside.set(i)
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
			lay += halfRing
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
		share, floor = groundShare, groundFloorShare
		f.IoU = math.Max(f.IoU, f.Pressed)
		if f.Pressed > 0.8 {
			lacks = 0
		}
	}
	pen = share*fitSlope*math.Max(0, fitKnee-f.IoU) + floor*floorSlope*math.Max(0, fitFloor-f.IoU)
	least := g.d.s.shop.LeastFit + fitSpare
	if f.Form == form.Wrap {
		least = evenWrap
	}
	if (!ground || f.Form == form.Wrap) && f.IoU < least {
		pen += misfit
	}
	pen += share * (hollow*math.Max(0, lacks-hollowKnee) + notchPenalty*notch)
	pen += thinSlope * math.Max(0, g.d.s.shop.ThinnestMM-thick)
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
		if c := g.locate(q); c >= 0 && !own.has(c) {
			p.way.set(c)
		}
	}
	for _, q := range core {
		c := g.locate(q)
		if c >= 0 && own.has(c) {
			c = -1
		}
		p.core = append(p.core, c)
	}
}
