// Package layup finds the order in which parts are laid, by taking the finished block apart.
//
// Guarantees: taking one part away never blocks another that leaves straight or is a wrap, so for these the search is complete: when it is stuck there is no such
// order. A bent strip leaves only while more than half of what it lies on is there: where the search is stuck, it begins again and keeps what such strips lie on.
// Turns are chosen greedily: few, not proved least.
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
	"sugarwright/planner/form"
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
func Of(set *set.Set, refused Refused) (*build.Build, finding.List) {
	b := &build.Build{}
	var found finding.List
	for i := range set.Blocks {
		entries, stuck := orderBlock(set, i, refused)
		if len(stuck) > 0 {
			found.Add(finding.New(finding.OrderGaveUp, finding.Error, len(stuck)).At(set.Elements[stuck[0]].Inside()))
		}
		b.Blocks = append(b.Blocks, entries)
	}
	return b, found
}

// piece is a part of the block while it is taken apart.
type piece struct {
	build.Part
	shape  geom.Region[geom.TruePoint]
	kind   set.Kind
	form   form.Form
	inside []bool // wraps: which pieces lie inside
	way    []bool // bends: which pieces are in the way
	core   []int  // bends: the piece under each sample of the inner side, or -1
}

func pieces(set *set.Set, id int) []*piece {
	var ps []*piece
	b := set.Blocks[id]
	for _, e := range b.Elements {
		el := set.Elements[e]
		ps = append(ps, &piece{Part: build.Part{Element: e, Block: -1}, shape: el.True, kind: el.Kind, form: el.Fit.Form})
	}
	for _, c := range b.Blocks {
		ps = append(ps, &piece{Part: build.Part{Element: -1, Block: c}, shape: set.Blocks[c].Outline, form: form.Block})
	}
	locate := func(p geom.TruePoint) int {
		for i, q := range ps {
			if q.shape.Bound().Contains([2]float64(p)) && q.shape.Contains(p) {
				return i
			}
		}
		return -1
	}
	for i, p := range ps {
		if len(p.shape) > 1 {
			p.inside = make([]bool, len(ps))
			for j, q := range ps {
				p.inside[j] = j != i && p.shape[1].Contains(q.shape[0][0])
				for _, h := range p.shape[2:] {
					p.inside[j] = p.inside[j] || j != i && h.Contains(q.shape[0][0])
				}
				if j != i && !p.inside[j] { // a vertex may lie on the border: ask inside
					in := insideOf(q.shape)
					for _, h := range p.shape[1:] {
						p.inside[j] = p.inside[j] || h.Contains(in)
					}
				}
			}
		}
		if p.form == form.Bent {
			way, core, ok := form.BendWay(p.shape)
			if !ok {
				continue
			}
			p.way = make([]bool, len(ps))
			for _, q := range way {
				if j := locate(q); j >= 0 && j != i {
					p.way[j] = true
				}
			}
			for _, q := range core {
				j := locate(q)
				if j == i {
					j = -1
				}
				p.core = append(p.core, j)
			}
		}
	}
	return ps
}

func insideOf(r geom.Region[geom.TruePoint]) geom.TruePoint {
	e := set.Element{True: r}
	return e.Inside()
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
func orderBlock(set *set.Set, id int, refused Refused) ([]build.Entry, []int) {
	if set.Blocks[id].Roll {
		var out []build.Entry
		for i, e := range set.Blocks[id].Elements {
			entry := build.Entry{Part: build.Part{Element: e, Block: -1}, Move: build.First}
			if i > 0 {
				entry.Move = build.Roll
			}
			out = append(out, entry)
		}
		return out, nil
	}
	ps := pieces(set, id)
	shapes := make([]geom.Region[geom.TruePoint], len(ps))
	for i, p := range ps {
		shapes[i] = p.shape
	}
	table := blocking.Along(shapes, set.Blocks[id].Dirs)
	seq, stuck := apart(ps, table, refused, false)
	if len(stuck) > 0 {
		if again, more := apart(ps, table, refused, true); len(more) == 0 {
			seq, stuck = again, nil
		}
	}
	if len(stuck) > 0 {
		if elements := elementsOf(ps, stuck); len(elements) > 0 {
			return nil, elements
		}
		return nil, set.Blocks[id].Elements
	}
	return turnedRound(ps, seq), nil
}

// elementsOf the pieces that are elements.
func elementsOf(ps []*piece, of []int) []int {
	var out []int
	for _, i := range of {
		if ps[i].Element >= 0 {
			out = append(out, ps[i].Element)
		}
	}
	return out
}

// apart takes pieces away one by one, the best way first; keep leaves what bent strips lie on until nothing else can go. It returns the takings, the one that stays
// last among them, or the pieces that are stuck.
func apart(ps []*piece, table *blocking.Table, refused Refused, keep bool) (seq []taking, stuck []int) {
	left := make([]bool, len(ps))
	for i := range left {
		left[i] = true
	}
	theta := 0.0
	for n := len(ps); n > 1; n-- {
		best := taking{piece: -1, score: math.Inf(-1)}
		for i := range ps {
			if left[i] {
				t, ok := take(ps, i, left, table, theta, refused)
				if ok && keep && t.move != build.Bend && underBent(ps, i, left) {
					t.score -= Tuned.KeepScore
				}
				if ok && t.score > best.score+1e-9 {
					best = t
				}
			}
		}
		if best.piece < 0 {
			for i := range ps {
				if left[i] {
					stuck = append(stuck, i)
				}
			}
			return nil, stuck
		}
		left[best.piece] = false
		theta = best.theta
		seq = append(seq, best)
	}
	for i := range ps {
		if left[i] {
			seq = append(seq, taking{piece: i, move: build.First, theta: theta})
		}
	}
	return seq, nil
}

// underBent tells whether a bent strip that is still there touches piece i with its inner side: with one sample it may be what keeps more than half of them covered.
func underBent(ps []*piece, i int, left []bool) bool {
	for k, p := range ps {
		if left[k] && k != i && p.way != nil && slices.Contains(p.core, i) {
			return true
		}
	}
	return false
}

// turnedRound is the order of laying: the takings from the last to the first.
func turnedRound(ps []*piece, seq []taking) []build.Entry {
	var out []build.Entry
	was := 0.0
	for k := len(seq) - 1; k >= 0; k-- {
		t := seq[k]
		e := build.Entry{Part: ps[t.piece].Part, Move: t.move, Turn: turn(was, t.theta)}
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

// early says what is taken away early, that is laid late: wraps, then half-moons and other ground, then round and pointed subject.
func early(p *piece) float64 {
	switch {
	case p.kind == set.Jacket:
		return 8
	case p.inside != nil:
		return 6
	case p.form == form.Segment && p.kind == set.Spacer:
		return 3
	case p.kind == set.Spacer:
		return 2
	case p.form == form.Teardrop || p.form == form.Rod:
		return 1
	}
	return 0.5
}

// take finds the best way to take piece i away from those left, if there is any.
func take(ps []*piece, i int, left []bool, table *blocking.Table, theta float64, refused Refused) (taking, bool) {
	p := ps[i]
	if p.inside != nil {
		for j := range ps {
			if left[j] && j != i && !p.inside[j] {
				return taking{}, false
			}
		}
		return taking{piece: i, move: build.Wrap, theta: theta, score: 100 + early(p)}, true
	}
	if p.way != nil {
		clear, on := true, 0
		for j := range ps {
			clear = clear && !(left[j] && p.way[j])
		}
		for _, j := range p.core {
			if j >= 0 && left[j] {
				on++
			}
		}
		if clear && 2*on > len(p.core) && !refused[p.Part][geom.Vec{}] { // a refused bend has no direction
			return taking{piece: i, move: build.Bend, theta: theta, score: 12 + early(p)}, true
		}
	}
	var blocked blocking.Mask
	for j := range ps {
		if left[j] && j != i {
			blocked |= table.At(i, j)
		}
	}
	return straight(table, blocked, i, p, theta, refused)
}

// straight picks the free direction that is most upward and farthest from what blocks; when all free ones would lift the part from
// below, the block is turned by quarter turns, as little as may be.
func straight(table *blocking.Table, blocked blocking.Mask, i int, p *piece, theta float64, refused Refused) (taking, bool) {
	best := taking{piece: -1, score: math.Inf(-1)}
	for _, quarter := range []float64{0, 90, -90, 180} {
		th := theta + quarter
		sin, cos := math.Sincos(th * math.Pi / 180)
		for k, d := range table.Dirs {
			if blocked>>k&1 == 1 || refused[p.Part][geom.Vec{-d[0], -d[1]}] {
				continue
			}
			up := sin*d[0] + cos*d[1]
			if up < -Tuned.MostRise+0.02 {
				continue
			}
			margin := 30.0
			for j, o := range table.Dirs {
				if blocked>>j&1 == 1 {
					margin = math.Min(margin, math.Acos(math.Max(-1, math.Min(1, d.Dot(o))))*180/math.Pi)
				}
			}
			s := 10 + early(p) + up + margin/30
			if quarter != 0 {
				s -= 11 + math.Abs(quarter)/900
			}
			if s > best.score+1e-9 {
				best = taking{piece: i, move: build.Lay, leave: d, theta: math.Mod(th, 360), score: s}
			}
		}
	}
	return best, best.piece >= 0
}
