package pictures

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// frame is one major step: what lies there in a block, what is added, how.
type frame struct {
	block  string
	there  []shape
	added  []shape
	parts  []plan.Part
	steps  []plan.Step // that lay the parts
	turn   *plan.Step  // that turns the block before
	turned float64     // degrees, all turns of the block so far
	now    float64     // degrees, the turn of this frame
}

// shape of an element in a block's frame.
type shape struct {
	e    *plan.Element
	poly plan.Polygon
}

// framer finds the frames of a plan.
type framer struct {
	p *plan.Plan
	x *plan.Index
}

func newFramer(p *plan.Plan) *framer { return &framer{p, p.Index()} }

// shapes of a part, an element or a block with all in it, as put into a block.
func (f *framer) shapes(part, block string) []shape {
	if e := f.x.Element(part); e != nil {
		if len(e.InBlock) > 0 && e.Block == block {
			return []shape{{e, e.InBlock}}
		}
		return []shape{{e, e.Laid}}
	}
	var out []shape
	if b := f.x.Block(part); b != nil {
		for _, x := range b.Parts {
			out = append(out, f.shapes(x.Part, block)...)
		}
	}
	return out
}

// mostTogether are copies laid one after the other that one frame shows.
const mostTogether = 3

// frames of the plan, block by block in the order in which they are built, so that numbers rise. Copies laid one after the other are one frame, and so is a block of two
// parts; a block that is made together with another has none.
func (f *framer) frames() []frame {
	var out []frame
	for _, b := range f.p.Layup {
		var there []shape
		turned, turns := float64(b.StartDeg), f.x.Turns(b.Block)
		start := len(out)
		for _, x := range b.Parts {
			step := *f.x.Laying(x.Part)
			add := f.shapes(x.Part, b.Block)
			if step.Block != b.Block { // built with another
				break
			}
			if last := len(out) - 1; last >= start && x.TurnDeg == 0 && f.together(out[last], x, len(b.Parts)) {
				n := &out[last]
				n.parts, n.steps, n.added = append(n.parts, x), append(n.steps, step), append(n.added, add...)
				there = append(there, add...)
				continue
			}
			n := frame{block: b.Block, there: there[:len(there):len(there)], added: add, parts: []plan.Part{x}, steps: []plan.Step{step}}
			if x.TurnDeg != 0 {
				turned += float64(x.TurnDeg)
				n.now = float64(x.TurnDeg)
				if len(turns) > 0 {
					n.turn, turns = turns[0], turns[1:]
				}
			}
			n.turned = turned
			out = append(out, n)
			there = append(there, add...)
		}
	}
	return out
}

// together tells whether a part is shown with those of a frame: copies, or the second of a block of two.
func (f *framer) together(n frame, x plan.Part, inBlock int) bool {
	if inBlock == 2 && !f.x.IsLog(n.block) && x.How != plan.RollInto {
		return true
	}
	return len(n.parts) < mostTogether && x.How == plan.Lay && (n.parts[0].How == plan.Lay || n.parts[0].How == plan.First) && f.alike(x.Part, n.parts[0].Part)
}

// alike tells whether two parts carry one number, or two blocks the same ones.
func (f *framer) alike(a, b string) bool {
	x, y := f.x.Element(a), f.x.Element(b)
	if x != nil && y != nil {
		return x.Number == y.Number
	}
	return x == nil && y == nil && sheet.Span(f.p, a) == sheet.Span(f.p, b)
}

// exploded moves the log's parts back the way they are laid, each as little as keeps it clear of all laid before; wraps
// go in a row below.
func (f *framer) exploded() []shape {
	const gap = 5
	log := f.p.Layup[len(f.p.Layup)-1]
	var out []shape
	var placed, wraps []page.Box
	var all page.Box
	for n, x := range log.Parts {
		parts := f.shapes(x.Part, log.Block)
		if len(parts) == 0 {
			continue
		}
		box := bounds(parts)
		dx, dy := 0.0, 0.0
		switch {
		case n == 0:
		case x.How == plan.WrapOn:
			if len(wraps) == 0 {
				wraps = []page.Box{{all[0], 0, all[0] - gap, all[1] - gap}}
			}
			row := wraps[len(wraps)-1]
			dx, dy = row[2]+gap-box[0], row[3]-box[3]
			wraps = append(wraps, page.Box{0, 0, box[2] + dx, row[3]})
		default:
			ux, uy := f.away(x, box, all)
			for t := 0.0; t < 5000; t += 1 {
				dx, dy = ux*t, uy*t
				if clear(page.Box{box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy}, placed, gap) {
					break
				}
			}
		}
		box = page.Box{box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy}
		if placed = append(placed, box); n == 0 {
			all = box
		}
		all = page.Box{
			math.Min(all[0], box[0]),
			math.Min(all[1], box[1]),
			math.Max(all[2], box[2]),
			math.Max(all[3], box[3]),
		}
		for _, s := range parts {
			out = append(out, shape{s.e, shifted(s.poly, dx, dy)})
		}
	}
	return out
}

// away is the direction in which a part goes back: against its move, else outwards.
func (f *framer) away(x plan.Part, box, all page.Box) (float64, float64) {
	dx, dy := (box[0]+box[2]-all[0]-all[2])/2, (box[1]+box[3]-all[1]-all[3])/2
	if x.Direction != nil {
		dx, dy = -float64(x.Direction[0]), -float64(x.Direction[1])
	}
	n := math.Hypot(dx, dy)
	if n < 1e-6 {
		return 0, 1
	}
	return dx / n, dy / n
}

func clear(box page.Box, placed []page.Box, gap float64) bool {
	for _, o := range placed {
		if box[0] < o[2]+gap && o[0] < box[2]+gap && box[1] < o[3]+gap && o[1] < box[3]+gap {
			return false
		}
	}
	return true
}

// bounds of shapes: left, low, right, high.
func bounds(parts []shape) page.Box {
	b := page.Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, s := range parts {
		for _, r := range s.poly {
			for _, q := range r {
				b = page.Box{
					math.Min(b[0], float64(q[0])),
					math.Min(b[1], float64(q[1])),
					math.Max(b[2], float64(q[0])),
					math.Max(b[3], float64(q[1])),
				}
			}
		}
	}
	return b
}

func shifted(p plan.Polygon, dx, dy float64) plan.Polygon {
	out := make(plan.Polygon, len(p))
	for i, r := range p {
		for _, q := range r {
			out[i] = append(out[i], plan.Point{q[0] + plan.Num(dx), q[1] + plan.Num(dy)})
		}
	}
	return out
}
