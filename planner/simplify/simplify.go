// Package simplify finds the least change to a drawing that can be built: thin lines thickened or left out, gaps opened
// or closed, dots grown or left out, like colours merged, outlines made plainer, near-symmetric made symmetric.
//
// Guarantees: a change is paint laid over the whole partition, so neighbours still share their borders (P1); what is said to
// pass is within the shop's limits; like places are changed alike, so symmetric stays
// symmetric; a map that passes comes back as it is.
//
// References: opening by a disc after Cabiddu & Attene 2017; visible difference by CIEDE2000 (Sharma, Wu & Dalal 2005).
package simplify

import (
	"errors"
	"maps"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/planner/check"
	"sugarwright/planner/likeness"
	"sugarwright/planner/shop"
)

// Kind of a change.
type Kind int

// Kinds, in the order in which ties go.
const (
	Bolder  Kind = iota // a thin line is thickened, a gap opened
	Dropped             // a thin line, a dot or a region gives way to what is round it; a gap is closed
	Larger              // a dot grows
	Merged              // a colour gives way to one like it
	Plainer             // an outline loses what a hand would not form
	Even                // a near-symmetric drawing becomes symmetric
)

func (k Kind) String() string {
	return [...]string{"bolder", "left-out", "larger", "merged", "plainer", "symmetric"}[k]
}

// Change is one numbered change: like places together.
type Change struct {
	Keys   []Key
	Kind   Kind
	Gap    bool // of the ground
	Colour int  // of what is changed
	To     int  // colour that takes most of its place, where it gives way
	Places []geom.TruePoint
	Before float64 // mean width or diameter, millimetres; 0 where it means nothing
	After  float64
	Area   float64 // that changed colour, square millimetres
	Seen   float64 // the same, weighted by how much the eye sees it
	Saves  float64 // minutes of work, guessed
	Shape  []geom.Region[geom.TruePoint]
}

// Key is one place of a change and its kind, to the millimetre: what is refused stays refused in whatever company it
// comes.
type Key struct {
	Kind Kind
	X, Y int
}

// Style is how far a drawing is redrawn.
type Style int

// Styles, nearest to the drawing first.
const (
	Near   Style = iota // no more than the limits ask for
	Sweets              // in plain areas, in kinds that a crew makes well in time
	Plain               // the same in fewer parts
	Other               // the same with an outline where that has none, or without where that has one
	Bold                // in few kinds
)

// Result of a simplification.
type Result struct {
	Map     *partition.Map
	Changes []Change // most seen first
	Passes  bool     // limits
	Seen    float64  // sum over the changes
	state   *state
}

// Engine redraws one map.
type Engine struct{ *engine }

// New engine for a map and a shop's limits. Changes with a refused key are not made.
func New(m *partition.Map, sh *shop.Shop, refused map[Key]bool) Engine {
	e := &engine{
		m:       m,
		shop:    sh,
		refused: refused,
		memo:    check.Memo{},
		spur:    map[[32]byte][][]check.Place{},
		plain:   map[[32]byte][][]geom.Region[geom.TruePoint]{},
		lines:   map[[32]byte][]check.Place{},
	}
	e.look()
	e.lookForEyes()
	return Engine{e}
}

// Draw the map anew in a style; a map with too much in it does not pass. An error is our own, the geometry library's or a
// *partition.TooMuch.
func (e Engine) Draw(style Style) (*Result, error) {
	if style == Near {
		return e.bounded(e.leastByLimits)
	}
	all, err := e.redrawn()
	if err != nil {
		return nil, err
	}
	switch {
	case style == Plain:
		return e.bounded(all[0].copied().state.plain)
	case style == Other && len(all) > 1:
		return all[1].copied(), nil
	case style == Other:
		return e.untouched(), nil
	case style == Bold:
		return e.bounded(all[0].copied().state.fewer)
	}
	return all[0].copied(), nil
}

// bounded is a drawing within what may be spent on it; else what does not pass.
func (e *engine) bounded(draw func() (*Result, error)) (*Result, error) {
	e.spent = 0
	r, err := draw()
	if errors.Is(err, errSpent) {
		return e.untouched(), nil
	}
	return r, err
}

// untouched is the map as it is, which does not pass.
func (e *engine) untouched() *Result { return &Result{Map: e.m, state: e.start(1)} }

// copied is a result that goes its own way.
func (r *Result) copied() *Result {
	out, s := *r, *r.state
	s.made = slices.Clone(s.made)
	for i, d := range s.made {
		c := *d
		s.made[i] = &c
	}
	s.banned = maps.Clone(s.banned)
	out.state = &s
	return &out
}

// Hopeless tells whether a map has so much in it that none like it was ever put together, so many times over.
func Hopeless(m *partition.Map, times float64) bool { return Guess(m) > times*Tuned.Hopeless }

// redrawn are the maps for sweets, with their outline and without, the one that keeps more of the drawing first.
func (e *engine) redrawn() (out []*Result, err error) {
	if e.sweets != nil {
		return e.sweets, nil
	}
	s := e.start(1)
	lines := s.networks()
	for _, outline := range []bool{true, false} {
		if !outline && (len(lines) == 0 || s.onlyLines(lines)) {
			break // none to leave out
		}
		r, err := e.bounded(func() (*Result, error) {
			s := e.start(1)
			if err := s.redraw(outline); err != nil {
				return nil, err
			}
			if err := s.mend(); err != nil {
				return nil, err
			}
			if !outline {
				for _, n := range lines {
					s.crumbs(n.colour, n.crumb())
				}
				if err := s.mend(); err != nil {
					return nil, err
				}
			}
			return s.within(Tuned.SweetsKinds, Tuned.SweetsWork)
		})
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	if len(out) > 1 && out[1].Passes {
		like := likeness.New(e.m)
		with, bare := like.Of(out[0].Map), like.Of(out[1].Map)
		better := bare.S < with.S
		if math.Abs(bare.Parts-with.Parts) > Tuned.PartsTell {
			better = bare.Parts < with.Parts
		}
		if better || !out[0].Passes {
			out[0], out[1] = out[1], out[0]
		}
	}
	e.sweets = out
	return out, nil
}

// plain is a map for sweets in less work; untouched where that has no more in it.
func (s *state) plain() (*Result, error) {
	n := len(s.made)
	r, err := s.within(Tuned.SweetsKinds, Tuned.PlainWork)
	if err == nil && len(s.made) == n {
		r = s.untouched()
	}
	return r, err
}

// fewer is a map for sweets in fewer kinds.
func (s *state) fewer() (*Result, error) {
	s.bold = true
	return s.within(Tuned.BoldKinds, Tuned.BoldWork)
}

// within takes out until no more than so many kinds are left, and that share of the work that fits the clock.
func (s *state) within(most int, share float64) (*Result, error) {
	s.takeOut(func() float64 {
		return max(Guess(s.cur)-share*s.capacity(), 2*Tuned.MakeMin*float64(kinds(s.cur)-most)) - Tuned.LeastSaved/2 // nobody counts so closely
	}, nil, false)
	return s.result()
}

func (e *engine) start(weight float64) *state {
	return &state{engine: e, weight: weight, cur: e.m, banned: map[[4]int]bool{}}
}

// dropWeights are tried one after the other: how much more the eye sees what is gone than what is bolder. The measure
// itself takes the first; tuned: a line thinner than a quarter of what is needed goes, others stay; the others are
// there for drawings where that leads nowhere.
var dropWeights = []float64{3, 1, 9}

// leastByLimits is the least seen change after which the shop's limits hold, of those that the weights lead to.
func (e *engine) leastByLimits() (*Result, error) {
	var best *Result
	for _, w := range dropWeights {
		s := e.start(w)
		if err := s.mend(); err != nil {
			return nil, err
		}
		for _, d := range s.made {
			if d.option().outline {
				s.crumbs(d.colour, Tuned.CrumbMM2)
			}
		}
		if err := s.mend(); err != nil {
			return nil, err
		}
		r, err := s.result()
		if err != nil {
			return nil, err
		}
		if best == nil || r.Passes && (!best.Passes || r.Seen < best.Seen-1e-9) {
			best = r
		}
		if len(r.Changes) == 0 {
			break
		}
	}
	return best, nil
}

// engine is what does not change while one map is simplified.
type engine struct {
	m           *partition.Map
	shop        *shop.Shop
	refused     map[Key]bool
	memo        check.Memo
	spur        map[[32]byte][][]check.Place
	plain       map[[32]byte][][]geom.Region[geom.TruePoint]
	lines       map[[32]byte][]check.Place
	eyes        []eye
	sweets      []*Result // drawn for sweets, what keeps more of the drawing first
	subjectArea float64
	points      int                         // of the map
	spent       int                         // points noded so far
	outline     []geom.Ring[geom.TruePoint] // of the subject, towards the ground
}

// look gathers the subject's outline: borders between ground that reaches the jacket and what is not ground.
func (e *engine) look() {
	for _, r := range e.m.Regions {
		e.points += points([]geom.Region[geom.TruePoint]{r.Shape})
		if r.Colour != 0 && !r.Jacket {
			e.subjectArea += r.Area
		}
		if r.Colour == 0 && !r.Jacket {
			for i, ring := range r.Shape {
				if i > 0 || math.Hypot(ring[0][0], ring[0][1]) < e.m.Frame.PictureRadius-0.1 {
					e.outline = append(e.outline, ring)
				}
			}
		}
	}
}

// attention is 1 inside an area and 2 on the subject's outline, which the eye follows first.
func (e *engine) attention(p geom.TruePoint) float64 {
	d := math.Inf(1)
	for _, ring := range e.outline {
		for i := range ring {
			d = min(d, geom.SegmentDist(p, ring[i], ring[(i+1)%len(ring)]))
		}
	}
	return 1 + math.Exp(-d/Tuned.NearMM)
}

// differ is how far apart two colours of the map are: 1 for CIEDE2000 of 50 and more, which nobody overlooks.
func (e *engine) differ(a, b int) float64 {
	return min(1, partition.DE2000(e.m.Colours[a].RGB, e.m.Colours[b].RGB)/50)
}

// result sums up what the coats changed.
func (s *state) result() (*Result, error) {
	r := &Result{Map: s.cur, Passes: len(s.places) == 0, state: s}
	changes := make([]Change, len(s.made))
	for i, d := range s.made {
		o := d.option()
		c := &changes[i]
		*c = Change{
			Keys:   d.keys(o.kind),
			Kind:   o.kind,
			Saves:  o.saves,
			Gap:    d.colour == 0,
			Colour: d.colour,
			To:     o.to,
			After:  o.after,
		}
		for _, p := range d.places {
			c.Places = append(c.Places, p.At)
			c.Before += p.Width / float64(len(d.places))
		}
	}
	for _, t := range s.turned {
		if t.Coat < 0 {
			continue // slivers
		}
		c := &changes[s.coatOf[t.Coat]]
		c.Area += t.Area
		c.Shape = append(c.Shape, t.Shape...)
		for _, piece := range t.Shape {
			c.Seen += s.seen(piece, piece.Area(), t.From, t.To, c.Kind)
		}
	}
	for _, c := range changes {
		if c.Area <= Tuned.LeastChangeMM2 {
			continue
		}
		r.Seen += c.Seen
		k := slices.IndexFunc(r.Changes, func(o Change) bool { return o.Keys[0] == c.Keys[0] })
		if k < 0 {
			r.Changes = append(r.Changes, c)
			continue
		}
		o := &r.Changes[k] // two steps of one change
		o.Area, o.Seen, o.Saves, o.Shape, o.After = o.Area+c.Area, o.Seen+c.Seen, o.Saves+c.Saves, append(
			o.Shape,
			c.Shape...), max(
			o.After,
			c.After,
		)
	}
	slices.SortStableFunc(r.Changes, func(a, b Change) int { return int(math.Copysign(1, b.Seen-a.Seen)) })
	return r, nil
}

// seen is how much of a changed area the eye sees.
func (e *engine) seen(shape geom.Region[geom.TruePoint], area float64, from, to int, k Kind) float64 {
	v := area * e.differ(from, to) * e.attention(geom.MomentsOf(shape).Centroid)
	if k == Dropped {
		v *= dropWeights[0]
	}
	return v
}
