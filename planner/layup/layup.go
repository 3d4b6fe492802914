// Package layup finds the order in which parts are laid on a table, by taking the finished block apart.
//
// Guarantees: after each move what lies there stands, by itself, on tack, or with a prop that is said; nothing is pushed
// in from below, and nothing rises into its place. Where the search is stuck after its bound there may still be an order.
//
// References: Wilson & Latombe 1994 (assembly by disassembly, blocking graphs).
package layup

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/blocking"
	"sugarwright/planner/build"
	"sugarwright/planner/recipe"
	"sugarwright/planner/removal"
	"sugarwright/planner/set"
	"sugarwright/planner/stand"
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
	level stand.Level
	score float64
}

// orderBlock takes a block apart and turns the sequence round. It returns the elements that are stuck, if any.
func orderBlock(of *set.Set, id int, refused Refused) ([]build.Entry, []int) {
	if of.Blocks[id].Roll {
		return rolledUp(of.Blocks[id]), nil
	}
	a := apart{ps: pieces(of, id), refused: refused, found: map[standing]stand.Level{}, failed: map[string]bool{}}
	shapes := make([]geom.Region[geom.TruePoint], len(a.ps))
	for i, p := range a.ps {
		shapes[i] = p.shape
	}
	a.table = blocking.Along(shapes, of.Blocks[id].Dirs)
	a.pile = stand.Of(shapes)
	a.thetas = thetas(a.ps)
	seq, stuck := a.sequence()
	if len(stuck) > 0 {
		a.bentFirst, a.asked, a.failed = true, 0, map[string]bool{}
		if again, more := a.sequence(); len(more) == 0 {
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
	pile    *stand.Pile
	thetas  []float64
	refused Refused
	found   map[standing]stand.Level
	failed  map[string]bool // sets that cannot be taken apart, however they are turned
	fewest  []int           // pieces of the smallest of them
	asked   int             // balances computed, each the square of its pieces
	// A bent strip may lie there first, in a cradle: where no other order is found
	bentFirst bool
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

// sequence takes pieces away one by one until the first is left, depth first, the best way first. It returns the takings,
// the piece that stays last among them, or the pieces that are stuck.
func (a *apart) sequence() (seq []taking, stuck []int) {
	present := removal.NewBits(len(a.ps))
	for i := range a.ps {
		present.Set(i)
	}
	// The finished block lies as drawn if it can.
	starts := slices.Clone(a.thetas)
	slices.SortStableFunc(starts, func(x, y float64) int { return int(a.stands(present, x)) - int(a.stands(present, y)) })
	if len(a.ps) == 1 {
		starts = a.thetas
	}
	best, tried := math.Inf(1), 0
	for _, th := range starts {
		if a.stands(present, th) == stand.Falls {
			continue
		}
		if found, ok := a.takeApart(present, th); ok {
			if c := cost(found); c < best-1e-9 {
				seq, best = found, c
			}
			if tried++; tried == Tuned.MostStarts || best == 0 {
				break
			}
		}
		if a.failed[present.Key()] || a.spent() {
			break
		}
	}
	if seq != nil {
		return seq, nil
	}
	if a.fewest == nil {
		return nil, a.list(present)
	}
	return nil, a.fewest
}

// cost of an order for hands: its turns, and the moves after which a prop or tack must hold what lies there.
func cost(seq []taking) (sum float64) {
	sticks := 0
	for i, t := range seq {
		if sticks++; t.level != stand.Tacked && t.level != stand.Held {
			sticks = 0
		}
		if sticks > Tuned.MostSticks { // tack holds for a minute
			sum += Tuned.LongTackCost
		}
		if i > 0 && math.Abs(turn(seq[i-1].theta, t.theta)) > 1 && seq[i-1].move != build.Wrap {
			sum += Tuned.TurnCost
		}
		sum += [...]float64{0, Tuned.TackCost, Tuned.PropCost, Tuned.TackCost + Tuned.PropCost, 0}[t.level]
	}
	return sum
}

// takeApart takes pieces away from those that are present, which stand as they are turned.
func (a *apart) takeApart(present removal.Bits, theta float64) ([]taking, bool) {
	left := a.list(present)
	if len(left) == 1 {
		if !a.begins(left[0], theta) {
			return nil, false
		}
		return []taking{{piece: left[0], move: build.First, theta: theta, level: a.stands(present, theta)}}, true
	}
	key := present.Key()
	if a.failed[key] || a.spent() {
		return nil, false
	}
	for _, others := range []bool{false, true} { // as it lies, then turned
		for t := range a.takings(present, left, theta, others) {
			if a.spent() {
				return nil, false
			}
			rest := slices.Clone(present)
			rest.Remove(a.ps[t.piece].rule.Own)
			if a.failed[rest.Key()] {
				continue
			}
			for _, th := range a.after(t, rest) {
				t.theta = th
				if seq, ok := a.takeApart(rest, th); ok {
					return append([]taking{t}, seq...), true
				}
			}
		}
	}
	a.failed[key] = true
	if a.fewest == nil || len(left) < len(a.fewest) {
		a.fewest = left
	}
	return nil, false
}

// spent tells whether the search has come to its bound.
func (a *apart) spent() bool { return len(a.failed) > Tuned.MostStates || a.asked > Tuned.MostAsked }

// after is how the rest may lie when a piece has been taken: as it lay; of what was in a wrap, which is rolled onto it,
// any way in which it stands.
func (a *apart) after(t taking, rest removal.Bits) []float64 {
	if t.move != build.Wrap {
		return []float64{t.theta}
	}
	nearest := slices.Clone(a.thetas)
	slices.SortStableFunc(nearest, func(x, y float64) int { return cmp.Compare(math.Abs(turn(t.theta, x)), math.Abs(turn(t.theta, y))) })
	var out []float64
	for _, th := range nearest {
		if a.stands(rest, th) < stand.Falls {
			out = append(out, th)
		}
		if len(out) == Tuned.WrapTurns {
			break
		}
	}
	slices.SortStableFunc(out, func(x, y float64) int { return int(a.stands(rest, x)) - int(a.stands(rest, y)) })
	return out
}

func (a *apart) list(present removal.Bits) (out []int) {
	for i := range a.ps {
		if present.Has(i) {
			out = append(out, i)
		}
	}
	return out
}

// takings are the ways to take a piece away, the best first: as the block lies, or in other turns in which it stands too.
func (a *apart) takings(present removal.Bits, left []int, theta float64, others bool) iter.Seq[taking] {
	turns := []float64{theta}
	if others {
		turns = nil
		for _, th := range a.thetas {
			if math.Abs(turn(theta, th)) > 1 && a.stands(present, th) < stand.Falls {
				turns = append(turns, th)
			}
		}
	}
	var out []taking
	for _, th := range turns {
		for _, i := range left {
			t, ok := a.take(i, present, left, th)
			if !ok {
				continue
			}
			if th != theta {
				t.score -= Tuned.TurnScore + math.Abs(turn(theta, th))/Tuned.TurnDeg
			}
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, byScore)
	return a.standing(out[:min(len(out), Tuned.MostTakings)], present)
}

// standing are those of the takings after which the rest stands, the best first. How it stands is asked of no more than
// are wanted.
func (a *apart) standing(of []taking, present removal.Bits) iter.Seq[taking] {
	return func(yield func(taking) bool) {
		var asked []taking
		for len(of)+len(asked) > 0 {
			if len(of) == 0 || len(asked) > 0 && byScore(asked[0], of[0]) <= 0 { // none that is left can be better
				if !yield(asked[0]) {
					return
				}
				asked = asked[1:]
				continue
			}
			t := of[0]
			of = of[1:]
			if t.move != build.Wrap {
				rest := slices.Clone(present)
				rest.Remove(a.ps[t.piece].rule.Own)
				t.level = a.stands(rest, t.theta)
				t.score -= [...]float64{0, Tuned.TackScore, Tuned.PropScore, Tuned.TackScore + Tuned.PropScore, math.Inf(1)}[t.level]
			}
			if t.level == stand.Falls {
				continue
			}
			k := slices.IndexFunc(asked, func(o taking) bool { return byScore(t, o) < 0 })
			if k < 0 {
				k = len(asked)
			}
			asked = slices.Insert(asked, k, t)
		}
	}
}

func byScore(x, y taking) int {
	switch d := y.score - x.score; {
	case d > 1e-9:
		return 1
	case d < -1e-9:
		return -1
	}
	return 0
}

// underBent tells whether a bent strip that is still there lies on piece i, if only by one sample: with that one, more
// than half of its samples may be covered, and without it not.
func (a *apart) underBent(i int, present removal.Bits) bool {
	for k, p := range a.ps {
		if k != i && present.Has(k) && p.rule.Way != nil && slices.Contains(p.rule.Core, i) {
			return true
		}
	}
	return false
}

// turnedRound is the order of laying: the takings from the last to the first. The first part lies from the start as it
// will be wanted.
func (a *apart) turnedRound(seq []taking) []build.Entry {
	var out []build.Entry
	was := 0.0
	present := removal.NewBits(len(a.ps))
	sticks := 0 // moves one after the other that tack holds
	for _, t := range slices.Backward(seq) {
		present.Set(t.piece)
		if t.move == build.Wrap { // the pile is rolled onto the sheet as it lies; what is closed needs no turn
			t.theta = was
		}
		e := build.Entry{Part: a.ps[t.piece].Part, Move: t.move, Turn: turn(was, t.theta), Stands: a.stands(present, t.theta)}
		if sticks++; e.Stands == stand.Free || e.Stands == stand.Propped {
			sticks = 0
		}
		// Tack holds for a minute: a prop must take over where one can.
		if sticks > Tuned.MostSticks && e.Stands == stand.Tacked && a.pile.At(a.bodies(present), upward(t.theta), stand.Propped) {
			e.Stands, sticks = stand.Propped, 0
		}
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

// take finds the best way to take piece i away from those that are present, if there is any.
func (a *apart) take(i int, present removal.Bits, left []int, theta float64) (taking, bool) {
	p := a.ps[i]
	t := taking{piece: i, theta: theta, score: late(p)}
	if p.rule.Inside != nil {
		t.move = build.Wrap
		t.score += Tuned.WrapScore
		return t, p.rule.Unwraps(present)
	}
	up := upward(theta)
	covered := a.cover(i, present, up)
	if a.underBent(i, present) {
		t.score -= Tuned.KeepScore
	}
	if !a.refused[p.Part][geom.Vec{}] && p.rule.Unbends(present) { // a refused bend has no direction
		t.move = build.Bend
		t.score += Tuned.BendScore
		if covered <= Tuned.BentUnder {
			return t, true
		}
		if farRound(p.fit) {
			t.move = build.Fold
			return t, true
		}
		t.score -= Tuned.BendScore
	}
	rest := slices.Clone(present)
	rest.Remove(p.rule.Own)
	below := a.foot(rest, up) - lowest(p, up)
	area := p.shape.Area()
	switch {
	case below > Tuned.BelowMM, covered > Tuned.UnderShare && below > Tuned.UnderMM, covered > Tuned.OverhangShare && area > Tuned.OverhangMM2:
		return t, false
	}
	blocked := removal.Blocked(left, func(j int) blocking.Mask {
		if j == i {
			return 0
		}
		return a.table.At(i, j)
	})
	best := math.Inf(-1)
	for k, d := range a.table.Dirs {
		if blocked>>k&1 == 1 || a.refused[p.Part][geom.Vec{-d[0], -d[1]}] {
			continue
		}
		rise := d.Dot(up)
		side := rise > -Tuned.SideSin && rise < Tuned.FromAboveSin && area <= Tuned.SideMM2 && math.Abs(below) < Tuned.BelowMM
		if rise < Tuned.FromAboveSin && !side {
			continue
		}
		if s := rise + clearance(a.table.Dirs, blocked, d)/Tuned.ClearDeg; s > best+1e-9 {
			best, t.leave = s, d
		}
	}
	t.move = build.Lay
	t.score += Tuned.LayScore + best - covered*Tuned.CoverScore
	return t, !math.IsInf(best, -1)
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
