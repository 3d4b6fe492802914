// Package stand tells whether parts that lie on each other on a table stay where they are under their weight.
//
// Guarantees: a pile stands where forces exist at its contacts, normal and tangential, within friction and tack, with
// which every part is in balance. That is necessary, and for hot sugar, which sticks more than it slides, near enough
// to sufficient.
//
// References: Livesley 1978 (limit analysis of structures formed from rigid blocks): friction taken as associated can
// overrate by a little; Stark and Parker 1995 (bounded-variable least squares). Tack and its limits are derived in the
// design.
package stand

import (
	"math"

	"sugarwright/geom"
)

// Level is how a pile stands, the best first.
type Level int

// The levels.
const (
	Free    Level = iota // by itself
	Tacked               // while its joints stick, for a minute
	Propped              // in a cradle, or with a bar against it
	Held                 // propped, and on tack
	Falls
)

func (l Level) String() string { return [...]string{"free", "tacked", "propped", "held", "falls"}[l] }

// contact is a piece of border along which two bodies touch; the normal points out of the first, into the second.
type contact struct {
	a, b   int // body; b is -1 for the table, -2 for a prop
	at     [2]geom.Vec
	normal geom.Vec
	long   float64
}

// Pile is bodies where they lie, in the frame in which they are drawn.
type Pile struct {
	shape    [][]geom.Vec
	centre   []geom.Vec
	area     []float64
	contacts []contact
	near     float64 // contacts within so much
}

// Of takes the outlines of bodies; what touches what is found once.
func Of[P geom.Frame](bodies []geom.Region[P]) *Pile {
	p := &Pile{near: Tuned.ContactMM}
	for _, r := range bodies {
		ring := make([]geom.Vec, len(r[0]))
		for i, q := range r[0] {
			ring[i] = geom.Vec(q)
		}
		m := geom.MomentsOf(r)
		p.shape = append(p.shape, ring)
		p.centre = append(p.centre, geom.Vec(m.Centroid))
		p.area = append(p.area, r.Area())
	}
	for i := range bodies {
		for j := range bodies[i+1:] {
			k := i + 1 + j
			if bodies[i].Bound().Pad(1).Intersects(bodies[k].Bound()) {
				// Along the border of the smaller, so that the order in which bodies are given changes nothing.
				if p.area[k] < p.area[i] {
					p.touching(k, i)
				} else {
					p.touching(i, k)
				}
			}
		}
	}
	return p
}

// spot is a point of a border, with the way out of the body.
type spot struct{ at, out geom.Vec }

// spots of a border, evenly, no corner among them.
func spots(ring []geom.Vec, step float64) (out []spot, long []float64) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		d := geom.Sub(b, a)
		l := d.Len()
		if l < 1e-9 {
			continue
		}
		n := int(math.Ceil(l / step))
		u := d.Unit()
		for k := range n {
			out = append(out, spot{geom.Add(a, d, (float64(k)+0.5)/float64(n)), geom.Vec{u[1], -u[0]}})
			long = append(long, l/float64(n))
		}
	}
	return out, long
}

// touching adds the contacts of two bodies: pieces of the first one's border with the second just beyond.
func (p *Pile) touching(i, j int) {
	const step = 0.75
	all, long := spots(p.shape[i], step)
	other := geom.Ring[geom.Vec](p.shape[j])
	on := make([]bool, len(all))
	start := -1
	for k, s := range all {
		on[k] = other.Contains(geom.Add(s.at, s.out, Tuned.BeyondMM)) && borderDist(s.at, p.shape[j]) <= p.near
		if !on[k] {
			start = k + 1
		}
	}
	if start < 0 {
		start = 0
	}
	var run []int
	flush := func() {
		if len(run) > 0 {
			p.piece(i, j, all, long, run)
		}
		run = nil
	}
	sum := 0.0
	for n := range all {
		k := (start + n) % len(all)
		if !on[k] || len(run) > 0 && (sum > Tuned.PieceMM || all[run[0]].out.Dot(all[k].out) < 0.97) {
			flush()
			sum = 0
		}
		if on[k] {
			run = append(run, k)
			sum += long[k]
		}
	}
	flush()
}

// piece adds one contact.
func (p *Pile) piece(i, j int, all []spot, long []float64, run []int) {
	var n geom.Vec
	l := 0.0
	for _, k := range run {
		n = geom.Add(n, all[k].out, long[k])
		l += long[k]
	}
	a, b := all[run[0]], all[run[len(run)-1]]
	u := geom.Sub(b.at, a.at)
	if len(run) > 1 {
		u = u.Unit()
	} else {
		u = a.out.Left()
	}
	from := geom.Add(a.at, u, math.Min(l/2, Tuned.EndMM)-long[run[0]]/2)
	to := geom.Add(b.at, u, long[run[len(run)-1]]/2-math.Min(l/2, Tuned.EndMM))
	p.contacts = append(p.contacts, contact{i, j, [2]geom.Vec{from, to}, n.Unit(), l})
}

func borderDist(q geom.Vec, ring []geom.Vec) float64 {
	best := math.Inf(1)
	for i, a := range ring {
		best = math.Min(best, geom.SegmentDist(q, a, ring[(i+1)%len(ring)]))
	}
	return best
}

// Stands tells how the outlines that are there stand when up is up, at best at the level asked for: a pile that stands
// free is found to be free, one that needs more is tried with tack, with props and with both up to that level. body says
// of which rigid body an outline is a piece; -1 where it is not there.
func (p *Pile) Stands(body func(int) int, up geom.Vec, most Level) Level {
	if p.At(body, up, Free) {
		return Free
	}
	if most == Free || !p.At(body, up, most) { // what does not stand with all that helps stands with no part of it
		return Falls
	}
	for l := Tacked; l < most; l++ {
		if p.At(body, up, l) {
			return l
		}
	}
	return most
}

// At tells whether the outlines that are there stand at one level: with props alone, say, where tack would do too.
func (p *Pile) At(body func(int) int, up geom.Vec, l Level) bool {
	up = up.Unit()
	var bodies []int
	for i := range p.shape {
		if body(i) >= 0 {
			bodies = append(bodies, i)
		}
	}
	held, props := p.ground(bodies, up)
	if l == Propped || l == Held {
		held = append(held, props...)
	}
	tack := 0.0
	if l == Tacked || l == Held {
		tack = Tuned.TackPa
	}
	return p.balanced(bodies, body, held, up, tack)
}

// Foot is the lowest that bodies reach, along up.
func (p *Pile) Foot(bodies []int, up geom.Vec) float64 {
	low := math.Inf(1)
	for _, i := range bodies {
		for _, q := range p.shape[i] {
			low = math.Min(low, q.Dot(up))
		}
	}
	return low
}

// ground are the contacts with the table, and with props: a cradle, or bars against the pile.
func (p *Pile) ground(bodies []int, up geom.Vec) (table, props []contact) {
	low := p.Foot(bodies, up)
	var pts []geom.Vec
	for _, i := range bodies {
		pts = append(pts, p.shape[i]...)
	}
	hull := geom.Hull(pts)
	for _, i := range bodies {
		ring := p.shape[i]
		all, long := spots(ring, 1.5)
		for k, s := range all {
			c := contact{a: i, at: [2]geom.Vec{s.at, s.at}, long: long[k]}
			if c.at[0].Dot(up)-low <= Tuned.FootMM/2 && s.out.Dot(up) < -0.5 {
				c.b, c.normal = -1, geom.Vec{-up[0], -up[1]}
				table = append(table, c)
				continue
			}
			if s.out.Dot(up) < -math.Cos(Tuned.PropRad) && borderDist(s.at, hull) <= p.near {
				c.b, c.normal = -2, s.out
				props = append(props, c)
			}
		}
		// Corners carry too: of a part that stands on its point or on an edge.
		for _, q := range ring {
			if q.Dot(up)-low <= Tuned.ContactMM {
				table = append(table, contact{a: i, b: -1, at: [2]geom.Vec{q, q}, normal: geom.Vec{-up[0], -up[1]}})
			}
		}
	}
	return thinned(table), thinned(props)
}

// thinned keeps of contacts that lie along each other every third, and the first and the last of each body.
func thinned(in []contact) (out []contact) {
	for i, c := range in {
		if i%3 == 0 || i == len(in)-1 || in[i+1].a != c.a || in[i-1].a != c.a || geom.Dist(in[i-1].at[0], c.at[0]) > 2.5 || geom.Dist(in[i+1].at[0], c.at[0]) > 2.5 {
			out = append(out, c)
		}
	}
	return out
}

// balanced tells whether forces at the contacts hold every body.
func (p *Pile) balanced(bodies []int, body func(int) int, held []contact, up geom.Vec, tackPa float64) bool {
	row, rows := make(map[int]int, len(bodies)), map[int]int{}
	total, size := 0.0, 0.0
	var mid geom.Vec
	for _, i := range bodies {
		k, ok := rows[body(i)]
		if !ok {
			k = 3 * len(rows)
			rows[body(i)] = k
		}
		row[i] = k
		total += p.area[i]
		mid = geom.Add(mid, p.centre[i], p.area[i])
	}
	mid = geom.Vec{mid[0] / total, mid[1] / total}
	size = math.Sqrt(total)
	b := make([]float64, 3*len(rows))
	for _, i := range bodies {
		w := p.area[i] / total // of the whole weight
		at := geom.Sub(p.centre[i], mid)
		b[row[i]] += w * up[0]
		b[row[i]+1] += w * up[1]
		b[row[i]+2] += w * at.Cross(up) / size
	}
	s := solver{b: b}
	// A force f of a contact pushes b along the normal and a against it.
	force := func(c contact, at, f geom.Vec) (col column) {
		put := func(i int, sign float64) {
			if k, ok := row[i]; ok {
				col.put(k, sign*f[0])
				col.put(k+1, sign*f[1])
				col.put(k+2, sign*geom.Sub(at, mid).Cross(f)/size)
			}
		}
		put(c.a, -1)
		if c.b >= 0 {
			put(c.b, 1)
		}
		return col
	}
	for _, c := range append(p.within(row), held...) {
		mu, ends := Tuned.Friction, c.at[:]
		if c.b == -1 {
			mu = Tuned.TableFriction
		}
		if ends[0] == ends[1] {
			ends = ends[:1]
		}
		t := c.normal.Left()
		// What the joint carries beside friction, of the whole weight: pascals times square metres, an end's share.
		tack := 0.0
		if c.b >= 0 {
			tack = tackPa * c.long / 1000 / (weight * total / 1e6) / float64(len(ends))
		}
		for _, at := range ends {
			s.add(force(c, at, geom.Add(c.normal, t, mu)), math.Inf(1))
			s.add(force(c, at, geom.Add(c.normal, t, -mu)), math.Inf(1))
			if tack > 0 { // from a pull of tack, sheared by what is left of it, on
				side := tack * (1 - mu)
				apex := force(c, at, geom.Add(geom.Vec{-tack * c.normal[0], -tack * c.normal[1]}, t, -side))
				for k := range apex.n {
					s.b[apex.at[k]] -= apex.val[k]
				}
				s.add(force(c, at, geom.Vec{2 * side * t[0], 2 * side * t[1]}), 1)
			}
		}
	}
	return s.reaches(Tuned.Residual)
}

// within are the contacts between different bodies that are there.
func (p *Pile) within(row map[int]int) (out []contact) {
	for _, c := range p.contacts {
		i, a := row[c.a]
		k, b := row[c.b]
		if a && b && i != k {
			out = append(out, c)
		}
	}
	return out
}
