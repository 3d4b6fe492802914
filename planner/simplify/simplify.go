// Package simplify finds the least change to a drawing that can be built: thin lines thickened or left out, gaps opened or closed, dots
// grown or left out, like colours merged, outlines made plainer, near-symmetric made symmetric.
//
// Guarantees: a change is paint laid over the whole partition, so neighbours still share their borders (P1); what comes out passes the
// shop's limits, and the judge when one is given; like places are changed alike, so symmetric stays symmetric; a map that passes comes
// back as it is.
//
// References: opening by a disc after Cabiddu & Attene 2017; visible difference by CIEDE2000 (Sharma, Wu & Dalal 2005).
package simplify

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/check"
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

// Key is one place of a change and its kind, to the millimetre: what is refused stays refused in whatever company it comes.
type Key struct {
	Kind Kind
	X, Y int
}

// Built is a judge's verdict on a map.
type Built struct {
	OK     bool
	Over   float64          // minutes over the clock; 0 when that is not what fails
	Places []geom.TruePoint // where it fails
	Code   finding.Code     // of what fails most
	Reason string
}

// Judge tells whether a map that passes the limits can be built. It is asked at most some twenty times, by two walks at once.
type Judge func(*partition.Map) (Built, error)

// Result of a simplification.
type Result struct {
	Map     *partition.Map
	Changes []Change // most seen first
	Passes  bool     // limits and judge
	Last    Built    // the judge's last word
	Seen    float64  // sum over the changes
	state   *state
}

// Bounds of the search.
const (
	mostRounds = 14
	mostJudged = 6 // questions of one walk
)

// Of seeks the least change. Changes with a refused key are not made. An error is our own, the geometry library's or a *partition.TooMuch.
func Of(m *partition.Map, sh *shop.Shop, judge Judge, refused map[Key]bool) (*Result, error) {
	e := &engine{m: m, shop: sh, refused: refused, memo: check.Memo{}, spur: map[[32]byte][][]check.Place{}, plain: map[[32]byte][][]geom.Region[geom.TruePoint]{}}
	e.look()
	best, err := e.leastByLimits()
	if err != nil || !best.Passes || judge == nil {
		return best, err
	}
	return e.untilBuilt(best, judge)
}

// dropWeights are tried one after the other: how much more the eye sees what is gone than what is bolder. The measure itself takes the first;
// tuned: a line thinner than a quarter of what is needed goes, others stay; the others are there for drawings where that leads nowhere.
var dropWeights = []float64{3, 1, 9}

// leastByLimits is the least seen change after which the shop's limits hold, of those that the weights lead to.
func (e *engine) leastByLimits() (*Result, error) {
	var best *Result
	for _, w := range dropWeights {
		s := &state{engine: e, weight: w, cur: e.m, banned: map[[4]int]bool{}}
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
	subjectArea float64
	outline     []geom.Ring[geom.TruePoint] // of the subject, towards the ground
}

// look gathers the subject's outline: borders between ground that reaches the jacket and what is not ground.
func (e *engine) look() {
	for _, r := range e.m.Regions {
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

// nearMM is how far from the subject's outline a change is seen about half again as much; tuned.
const nearMM = 6

// attention is 1 inside an area and 2 on the subject's outline, which the eye follows first.
func (e *engine) attention(p geom.TruePoint) float64 {
	d := math.Inf(1)
	for _, ring := range e.outline {
		for i := range ring {
			d = min(d, geom.SegmentDist(p, ring[i], ring[(i+1)%len(ring)]))
		}
	}
	return 1 + math.Exp(-d/nearMM)
}

// differ is how far apart two colours of the map are: 1 for CIEDE2000 of 50 and more, which nobody overlooks.
func (e *engine) differ(a, b int) float64 {
	return min(1, partition.DE2000(e.m.Colours[a].RGB, e.m.Colours[b].RGB)/50)
}

// decision is one group of like places and what may be done about it, cheapest first.
type decision struct {
	places  []check.Place
	colour  int
	options []option
	chosen  int
	rests   int // places beside its paint that still failed and were decided by themselves
}

// option is one way to change a decision's places.
type option struct {
	kind  Kind
	to    int
	coats []partition.Coat
	cost  float64
	after float64
	saves float64 // minutes, guessed
}

func (d *decision) option() *option { return &d.options[d.chosen] }

// keys of a decision, were it of this kind: one a place.
func (d *decision) keys(k Kind) []Key {
	out := make([]Key, len(d.places))
	for i, p := range d.places {
		out[i] = Key{k, int(math.Round(p.At[0])), int(math.Round(p.At[1]))}
	}
	return out
}

// refuses tells whether any of a set of keys is among those.
func refuses(set map[Key]bool, keys []Key) bool {
	return slices.ContainsFunc(keys, func(k Key) bool { return set[k] })
}

// state is one walk towards a map that passes: decisions in the order in which they paint.
type state struct {
	*engine
	weight  float64
	made    []*decision
	cur     *partition.Map
	turned  []partition.Turned
	coatOf  []int // decision of each coat
	places  []check.Place
	rounds  int
	stuck   bool
	shunned map[Key]bool    // another way is sought
	evened  bool            // symmetry was thought of
	bold    bool            // no change is too large
	banned  map[[4]int]bool // thought of once: taken, or led nowhere
	err     error
	boxes   []orb.Bound
	boxesOf *partition.Map
}

// repaint lays the chosen coats over the drawing and looks for places that fail.
func (s *state) repaint() error {
	var coats []partition.Coat
	s.coatOf = s.coatOf[:0]
	for i, d := range s.made {
		for _, c := range d.option().coats {
			coats = append(coats, c)
			s.coatOf = append(s.coatOf, i)
		}
	}
	s.cur, s.turned = s.m, nil
	var err error
	if len(coats) > 0 {
		if s.cur, s.turned, err = s.m.Repaint(coats); err != nil {
			return err
		}
	}
	s.places, err = check.Limits(s.cur, s.shop, s.memo)
	return err
}

// mend decides until the limits hold, or nothing is left to decide.
func (s *state) mend() error {
	if err := s.repaint(); err != nil {
		return err
	}
	for ; s.rounds < mostRounds && len(s.places) > 0; s.rounds++ {
		if s.stuck = !s.decide(); s.stuck {
			return nil
		}
		if err := s.repaint(); err != nil {
			return err
		}
	}
	return nil
}

// decide takes the cheapest next choice for each group of places: a new decision, or another option of one that painted here.
func (s *state) decide() bool {
	any := false
	moved := map[*decision]bool{}
	for _, g := range grouped(s.cur, s.places) {
		d := &decision{places: g, colour: s.cur.Regions[g[0].Region].Colour}
		culprits := s.culprits(g)
		var again *decision // the same place: decided before, and it still fails
		cheapest, extra := (*decision)(nil), math.Inf(1)
		done := false
		for _, c := range culprits {
			if moved[c] {
				done = true // wait and see what that did
				break
			}
			if c.chosen+1 < len(c.options) {
				if x := c.options[c.chosen+1].cost - c.option().cost; x < extra {
					cheapest, extra = c, x
				}
			}
			if c.colour == d.colour && again == nil && (c.rests >= mostRests || size(g) > restShare*size(c.places)) {
				again = c
			}
		}
		if done {
			any = true
			continue
		}
		s.offer(d)
		if len(d.options) > 0 && (cheapest == nil || again == nil && d.options[0].cost < extra) {
			for _, c := range culprits {
				if c.colour == d.colour {
					c.rests++
				}
			}
			s.made = append(s.made, d)
			moved[d], any = true, true
		} else if cheapest != nil {
			cheapest.chosen++
			moved[cheapest], any = true, true
		}
	}
	return any
}

// A rest of a decision's places is decided by itself while it is small beside them, a few times; tuned.
const (
	mostRests = 3
	restShare = 0.4
)

func size(places []check.Place) float64 {
	sum := 0.0
	for _, p := range places {
		sum += p.Shape.Area()
	}
	return sum
}

// culprits are the decisions that painted within reach of places, latest first.
func (s *state) culprits(g []check.Place) []*decision {
	var out []*decision
	for i := len(s.made) - 1; i >= 0; i-- {
		d := s.made[i]
		if slices.ContainsFunc(g, func(p check.Place) bool { return touches(d, p) }) {
			out = append(out, d)
		}
	}
	return out
}

// touches tells whether a decision's paint comes within a place's needed width of it.
func touches(d *decision, p check.Place) bool {
	box := p.Shape.Bound().Pad(p.Need / 2)
	for _, c := range d.option().coats {
		for _, r := range c.Shape {
			if !box.Intersects(r.Bound()) {
				continue
			}
			for _, q := range p.Shape.Points() {
				if r.Contains(q) {
					return true
				}
				for _, ring := range r {
					for i := range ring {
						if geom.SegmentDist(q, ring[i], ring[(i+1)%len(ring)]) < p.Need/4 {
							return true
						}
					}
				}
			}
		}
	}
	return false
}

// alike is how much areas and widths of one group may differ; tuned: a hand's tolerance.
const alike = 0.06

// grouped puts like places together, in the order in which they were found.
func grouped(m *partition.Map, places []check.Place) [][]check.Place {
	var out [][]check.Place
	like := func(a, b float64) bool { return math.Abs(a-b) <= alike*max(a, b) }
	for _, p := range places {
		k := slices.IndexFunc(out, func(g []check.Place) bool {
			q := g[0]
			return q.Code == p.Code && q.Whole == p.Whole && m.Regions[q.Region].Colour == m.Regions[p.Region].Colour && q.Need == p.Need &&
				like(q.Width, p.Width) && like(q.Shape.Area(), p.Shape.Area())
		})
		if k < 0 {
			out = append(out, []check.Place{p})
		} else {
			out[k] = append(out[k], p)
		}
	}
	return out
}

// result sums up what the coats changed.
func (s *state) result() (*Result, error) {
	r := &Result{Map: s.cur, Passes: len(s.places) == 0, state: s}
	changes := make([]Change, len(s.made))
	for i, d := range s.made {
		o := d.option()
		c := &changes[i]
		*c = Change{Keys: d.keys(o.kind), Kind: o.kind, Saves: o.saves, Gap: d.colour == 0, Colour: d.colour, To: o.to, After: o.after}
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
		if c.Area <= leastChangeMM2 {
			continue
		}
		r.Seen += c.Seen
		k := slices.IndexFunc(r.Changes, func(o Change) bool { return o.Keys[0] == c.Keys[0] })
		if k < 0 {
			r.Changes = append(r.Changes, c)
			continue
		}
		o := &r.Changes[k] // two steps of one change
		o.Area, o.Seen, o.Saves, o.Shape, o.After = o.Area+c.Area, o.Seen+c.Seen, o.Saves+c.Saves, append(o.Shape, c.Shape...), max(o.After, c.After)
	}
	slices.SortStableFunc(r.Changes, func(a, b Change) int { return int(math.Copysign(1, b.Seen-a.Seen)) })
	return r, nil
}

// leastChangeMM2 is the area below which a change is nobody's: what a later one painted over.
const leastChangeMM2 = 0.05

// seen is how much of a changed area the eye sees.
func (e *engine) seen(shape geom.Region[geom.TruePoint], area float64, from, to int, k Kind) float64 {
	v := area * e.differ(from, to) * e.attention(geom.MomentsOf(shape).Centroid)
	if k == Dropped {
		v *= dropWeights[0]
	}
	return v
}
