package pictures

import (
	"math"
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
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
	whole  []shape     // the block when it is complete
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

// frames of the plan in the order of the work. Copies laid one after the other are one frame; a block that is made
// together with another has none.
func (f *framer) frames() []frame {
	var out []frame
	for _, b := range f.p.Layup {
		var whole, there []shape
		for _, x := range b.Parts {
			whole = append(whole, f.shapes(x.Part, b.Block)...)
		}
		turned, turns := float64(b.StartDeg), f.x.Turns(b.Block)
		var last *frame
		for _, x := range b.Parts {
			step := *f.x.Laying(x.Part)
			add := f.shapes(x.Part, b.Block)
			if step.Block != b.Block { // built with another
				break
			}
			if last != nil && x.TurnDeg == 0 && x.How == plan.Lay && last.parts[len(last.parts)-1].How == plan.Lay &&
				f.alike(x.Part, last.parts[0].Part) {
				last.parts, last.steps, last.added = append(last.parts, x), append(last.steps, step), append(
					last.added,
					add...)
				there = append(there, add...)
				continue
			}
			n := frame{
				block: b.Block,
				there: there[:len(there):len(there)],
				added: add,
				parts: []plan.Part{x},
				steps: []plan.Step{step},
				whole: whole,
			}
			if x.TurnDeg != 0 {
				turned += float64(x.TurnDeg)
				n.now = float64(x.TurnDeg)
				if len(turns) > 0 {
					n.turn, turns = turns[0], turns[1:]
				}
			}
			n.turned = turned
			out = append(out, n)
			last = &out[len(out)-1]
			there = append(there, add...)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].steps[0].Number < out[j].steps[0].Number })
	return out
}

// alike tells whether two parts carry one number.
func (f *framer) alike(a, b string) bool {
	x, y := f.x.Element(a), f.x.Element(b)
	return x != nil && y != nil && x.Number == y.Number
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
