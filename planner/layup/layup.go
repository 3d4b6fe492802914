// Package layup finds the order in which parts are laid, by taking the finished block apart.
//
// Guarantees: by the rule of package removal the search is complete where no strip is bent on: when it is stuck there
// is no order. Where it is stuck beside bent strips, it begins again and keeps what they lie on; that finds most
// orders, not all. Turns are chosen greedily: few, not proved least.
//
// References: Wilson & Latombe 1994 (assembly by disassembly, blocking graphs).
package layup

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/blocking"
	"sugarwright/planner/build"
	"sugarwright/planner/recipe"
	"sugarwright/planner/removal"
	"sugarwright/planner/set"
)

// Refused are moves that the replay has rejected; they are not tried again.
type Refused map[build.Part]map[geom.Vec]bool

// Add remembers a rejected direction.
func (r Refused) Add(p build.Part, d geom.Vec) {
	if r[p] == nil {
		r[p] = map[geom.Vec]bool{}
	}
	r[p][d] = true
}

// Of orders every block of the set. A finding of severity error says where a block is stuck.
func Of(of *set.Set, refused Refused) (*build.Build, finding.List) {
	b := &build.Build{}
	var found finding.List
	for i := range of.Blocks {
		entries, stuck := orderBlock(of, i, refused)
		if len(stuck) > 0 {
			found.Add(finding.New(finding.OrderGaveUp, finding.Error, len(stuck)).At(of.Elements[stuck[0]].Inside()))
		}
		b.Blocks = append(b.Blocks, entries)
	}
	return b, found
}

// piece is a part of the block while it is taken apart.
type piece struct {
	build.Part
	shape geom.Region[geom.TruePoint]
	kind  set.Kind
	fit   recipe.Recipe
	rule  removal.Part
}

// pieces of a block: its elements, and the blocks in it.
func pieces(of *set.Set, id int) []*piece {
	var ps []*piece
	b := of.Blocks[id]
	for _, e := range b.Elements {
		el := of.Elements[e]
		ps = append(ps,
			&piece{Part: build.Part{Element: e, Block: -1}, shape: el.True, kind: el.Kind, fit: el.Fit.Recipe})
	}
	for _, c := range b.Blocks {
		ps = append(ps, &piece{Part: build.Part{Element: -1, Block: c}, shape: of.Blocks[c].Outline, fit: recipe.Recipe{Base: recipe.Bar}})
	}
	for i, p := range ps {
		p.rule.Own = removal.NewBits(len(ps))
		p.rule.Own.Set(i)
		if len(p.shape) > 1 {
			p.rule.Inside = inside(ps, i)
		}
		if p.fit.Bent() {
			p.rule.Way, p.rule.Core = bendWay(ps, i)
		}
	}
	return ps
}

// inside are the pieces in the holes of piece i.
func inside(ps []*piece, i int) removal.Bits {
	out := removal.NewBits(len(ps))
	holes := ps[i].shape[1:]
	for j, q := range ps {
		// A vertex may lie on the border: a point inside is asked too.
		for _, at := range []geom.TruePoint{q.shape[0][0], geom.Inside(q.shape)} {
			if j != i && slices.ContainsFunc(holes, func(h geom.Ring[geom.TruePoint]) bool { return h.Contains(at) }) {
				out.Set(j)
			}
		}
	}
	return out
}

// bendWay finds what is in the way of a strip that is bent on, and what it is bent over; nothing where it is no strip.
func bendWay(ps []*piece, i int) (way removal.Bits, core []int) {
	outside, under, ok := recipe.BendWay(ps[i].shape)
	if !ok {
		return nil, nil
	}
	locate := func(p geom.TruePoint) int {
		return slices.IndexFunc(ps,
			func(q *piece) bool { return q.shape.Bound().Contains([2]float64(p)) && q.shape.Contains(p) })
	}
	way = removal.NewBits(len(ps))
	for _, p := range outside {
		if j := locate(p); j >= 0 && j != i {
			way.Set(j)
		}
	}
	for _, p := range under {
		j := locate(p)
		if j == i {
			j = -1
		}
		core = append(core, j)
	}
	return way, core
}

// taking is one way to take a piece away.
type taking struct {
	piece int
	move  build.Move
	leave geom.Vec // Lay: the way it leaves, as drawn
	theta float64  // how the block is turned meanwhile, degrees
	score float64
}

// orderBlock takes a block apart and turns the sequence round. It returns the elements that are stuck, if any.
func orderBlock(of *set.Set, id int, refused Refused) ([]build.Entry, []int) {
	if of.Blocks[id].Roll {
		return rolledUp(of.Blocks[id]), nil
	}
	a := apart{ps: pieces(of, id), refused: refused}
	shapes := make([]geom.Region[geom.TruePoint], len(a.ps))
	for i, p := range a.ps {
		shapes[i] = p.shape
	}
	a.table = blocking.Along(shapes, of.Blocks[id].Dirs)
	seq, stuck := a.sequence(false)
	if len(stuck) > 0 {
		if again, more := a.sequence(true); len(more) == 0 {
			seq, stuck = again, nil
		}
	}
	if len(stuck) > 0 {
		if elements := a.elements(stuck); len(elements) > 0 {
			return nil, elements
		}
		return nil, of.Blocks[id].Elements
	}
	return a.turnedRound(seq), nil
}

// rolledUp is the order of sheets that are rolled up together, the inner first.
func rolledUp(b set.Block) []build.Entry {
	var out []build.Entry
	for i, e := range b.Elements {
		entry := build.Entry{Part: build.Part{Element: e, Block: -1}, Move: build.First}
		if i > 0 {
			entry.Move = build.Roll
		}
		out = append(out, entry)
	}
	return out
}

// apart is a block that is taken apart.
type apart struct {
	ps      []*piece
	table   *blocking.Table
	refused Refused
	left    []int        // the pieces that are still there
	present removal.Bits // the same
	theta   float64      // how the block is turned now, degrees
}

// elements of some pieces.
func (a *apart) elements(of []int) []int {
	var out []int
	for _, i := range of {
		if a.ps[i].Element >= 0 {
			out = append(out, a.ps[i].Element)
		}
	}
	return out
}

// sequence takes pieces away one by one, the best way first; keep leaves what bent strips lie on until nothing else can
// go. It returns the takings, the piece that stays last among them, or the pieces that are stuck.
func (a *apart) sequence(keep bool) (seq []taking, stuck []int) {
	a.left, a.present, a.theta = nil, removal.NewBits(len(a.ps)), 0
	for i := range a.ps {
		a.left = append(a.left, i)
		a.present.Set(i)
	}
	for len(a.left) > 1 {
		best := taking{piece: -1, score: math.Inf(-1)}
		for _, i := range a.left {
			t, ok := a.take(i)
			if ok && keep && t.move != build.Bend && a.underBent(i) {
				t.score -= Tuned.KeepScore
			}
			if ok && t.score > best.score+1e-9 {
				best = t
			}
		}
		if best.piece < 0 {
			return nil, a.left
		}
		a.left = slices.DeleteFunc(a.left, func(i int) bool { return i == best.piece })
		a.present.Remove(a.ps[best.piece].rule.Own)
		a.theta = best.theta
		seq = append(seq, best)
	}
	for _, i := range a.left {
		seq = append(seq, taking{piece: i, move: build.First, theta: a.theta})
	}
	return seq, nil
}

// underBent tells whether a bent strip that is still there lies on piece i, if only by one sample: with that one, more
// than half of its samples may be covered, and without it not.
func (a *apart) underBent(i int) bool {
	return slices.ContainsFunc(a.left, func(k int) bool {
		return k != i && a.ps[k].rule.Way != nil && slices.Contains(a.ps[k].rule.Core, i)
	})
}

// turnedRound is the order of laying: the takings from the last to the first.
func (a *apart) turnedRound(seq []taking) []build.Entry {
	var out []build.Entry
	was := 0.0
	for _, t := range slices.Backward(seq) {
		e := build.Entry{Part: a.ps[t.piece].Part, Move: t.move, Turn: turn(was, t.theta)}
		if t.move == build.Lay {
			e.Direction = geom.Vec{-t.leave[0], -t.leave[1]}
		}
		was = t.theta
		out = append(out, e)
	}
	return out
}

// turn from one angle to another, within half a turn.
func turn(a, b float64) float64 {
	d := math.Mod(b-a, 360)
	if d > 180 {
		d -= 360
	}
	if d <= -180 {
		d += 360
	}
	return d
}

// late is the score for what is laid late, and so taken away early: wraps, then half-moons and other ground, then round
// and pointed subject.
func late(p *piece) float64 {
	switch {
	case p.kind == set.Jacket:
		return Tuned.LateJacket
	case p.rule.Inside != nil:
		return Tuned.LateWrap
	case p.fit.Base == recipe.HalfMoon && p.kind == set.Spacer:
		return Tuned.LateHalfMoon
	case p.kind == set.Spacer:
		return Tuned.LateSpacer
	case p.fit.Base == recipe.Drop || p.fit.Base == recipe.Rod || p.fit.Base == recipe.Oval:
		return Tuned.LateRound
	}
	return Tuned.LateOther
}

// take finds the best way to take piece i away from those left, if there is any.
func (a *apart) take(i int) (taking, bool) {
	p := a.ps[i]
	if p.rule.Inside != nil {
		return taking{
			piece: i,
			move:  build.Wrap,
			theta: a.theta,
			score: Tuned.WrapScore + late(p),
		}, p.rule.Unwraps(a.present)
	}
	if !a.refused[p.Part][geom.Vec{}] && p.rule.Unbends(a.present) { // a refused bend has no direction
		return taking{piece: i, move: build.Bend, theta: a.theta, score: Tuned.BendScore + late(p)}, true
	}
	blocked := removal.Blocked(a.left, func(j int) blocking.Mask {
		if j == i {
			return 0
		}
		return a.table.At(i, j)
	})
	return a.straight(i, blocked)
}

// quarters are the turns of a block that are tried, degrees.
var quarters = []float64{0, 90, -90, 180}

// straight picks the free direction that is most upward and farthest from what blocks; when all free ones would lift
// the part from below, the block is turned by quarter turns, as little as may be.
func (a *apart) straight(i int, blocked blocking.Mask) (taking, bool) {
	p, dirs := a.ps[i], a.table.Dirs
	best := taking{piece: -1, score: math.Inf(-1)}
	for _, quarter := range quarters {
		th := a.theta + quarter
		sin, cos := math.Sincos(th * math.Pi / 180)
		for k, d := range dirs {
			if blocked>>k&1 == 1 || a.refused[p.Part][geom.Vec{-d[0], -d[1]}] {
				continue
			}
			up := sin*d[0] + cos*d[1]
			if up < -Tuned.MostRise+Tuned.RiseSpare {
				continue
			}
			s := Tuned.LayScore + late(p) + up + clearance(dirs, blocked, d)/Tuned.ClearDeg
			if quarter != 0 {
				s -= Tuned.TurnScore + math.Abs(quarter)/Tuned.TurnDeg
			}
			if s > best.score+1e-9 {
				best = taking{piece: i, move: build.Lay, leave: d, theta: math.Mod(th, 360), score: s}
			}
		}
	}
	return best, best.piece >= 0
}

// clearance is how far a direction is from the nearest blocked one, in degrees, as far as it counts.
func clearance(dirs [blocking.Count]geom.Vec, blocked blocking.Mask, d geom.Vec) float64 {
	margin := Tuned.ClearDeg
	for j, o := range dirs {
		if blocked>>j&1 == 1 {
			margin = math.Min(margin, math.Acos(math.Max(-1, math.Min(1, d.Dot(o))))*180/math.Pi)
		}
	}
	return margin
}
