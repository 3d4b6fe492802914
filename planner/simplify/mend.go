package simplify

import (
	"errors"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/planner/check"
)

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
	// It takes lines away from between areas
	outline bool
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
	evened  bool            // symmetry was thought of
	bold    bool            // no change is too large
	banned  map[[4]int]bool // thought of once: taken, or led nowhere
	boxes   []orb.Bound
	boxesOf *partition.Map
	// Of the current map: its outlines
	outlines []network
	next     map[[32]byte][]neighbour // what each region borders on, by its outline
	nextOf   *partition.Map
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
		for _, c := range coats {
			s.spent += points(c.Shape) + points(c.Within)
		}
		if s.spent += s.points; s.spent > Tuned.MostPoints {
			return errSpent
		}
		if s.cur, s.turned, err = s.m.Repaint(coats); err != nil {
			return err
		}
	}
	s.places, err = check.Limits(s.cur, s.shop, s.memo)
	return err
}

// errSpent ends a search that has noded as many points as one may.
var errSpent = errors.New("the drawing has too much in it to be redrawn")

func points(shape []geom.Region[geom.TruePoint]) (n int) {
	for _, r := range shape {
		for _, ring := range r {
			n += len(ring)
		}
	}
	return n
}

// mend decides until the limits hold, or nothing is left to decide.
func (s *state) mend() error {
	if err := s.repaint(); err != nil {
		return err
	}
	for ; s.rounds < Tuned.MostRounds && len(s.places) > 0; s.rounds++ {
		if !s.decide() {
			return nil
		}
		if err := s.repaint(); err != nil {
			return err
		}
	}
	return nil
}

// decide takes the cheapest next choice for each group of places: a new decision, or another option of one that painted
// here.
func (s *state) decide() bool {
	any := false
	moved := map[*decision]bool{}
	for _, g := range s.grouped(s.places) {
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
			if c.colour == d.colour && again == nil &&
				(c.rests >= Tuned.MostRests || size(g) > Tuned.RestShare*size(c.places)) {
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

// grouped puts like places together, in the order in which they were found; those of an outline are one.
func (s *state) grouped(places []check.Place) [][]check.Place {
	var out [][]check.Place
	like := func(a, b float64) bool { return math.Abs(a-b) <= Tuned.Alike*max(a, b) }
	outline := map[int]bool{} // regions
	s.outlines = s.networks()
	for _, n := range s.outlines {
		for _, i := range n.regions {
			outline[i] = true
		}
	}
	for _, p := range places {
		k := slices.IndexFunc(out, func(g []check.Place) bool {
			q := g[0]
			if q.Code != p.Code || q.Need != p.Need || s.cur.Regions[q.Region].Colour != s.cur.Regions[p.Region].Colour {
				return false
			}
			if outline[q.Region] || outline[p.Region] {
				return outline[q.Region] && outline[p.Region]
			}
			return q.Whole == p.Whole && like(q.Width, p.Width) && like(q.Shape.Area(), p.Shape.Area())
		})
		if k < 0 {
			out = append(out, []check.Place{p})
		} else {
			out[k] = append(out[k], p)
		}
	}
	return out
}
