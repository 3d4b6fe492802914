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
	"cmp"
	"math"
	"slices"

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

// Pile is bodies where they lie, in the frame in which they are drawn. It is not for use by several at once: how it has
// fallen is remembered.
type Pile struct {
	shape    [][]geom.Vec
	hull     [][]geom.Vec
	border   [][]spot // evenly
	centre   []geom.Vec
	area     []float64
	contacts []contact
	near     float64 // contacts within so much
	falls    []fall  // the last that told the most first
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
		p.hull = append(p.hull, geom.Hull(ring))
		p.border = append(p.border, spots(ring, Tuned.GroundMM))
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

// spot is a piece of a border: its middle, the way out of the body, and how long it is.
type spot struct {
	at, out geom.Vec
	long    float64
}

// spots of a border, evenly, no corner among them.
func spots(ring []geom.Vec, step float64) (out []spot) {
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
			out = append(out, spot{geom.Add(a, d, (float64(k)+0.5)/float64(n)), geom.Vec{u[1], -u[0]}, l / float64(n)})
		}
	}
	return out
}

// touching adds the contacts of two bodies: pieces of the first one's border with the second just beyond.
func (p *Pile) touching(i, j int) {
	all := spots(p.shape[i], Tuned.SpotMM)
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
			p.piece(i, j, all, run)
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
			sum += all[k].long
		}
	}
	flush()
}

// piece adds one contact.
func (p *Pile) piece(i, j int, all []spot, run []int) {
	var n geom.Vec
	l := 0.0
	for _, k := range run {
		n = geom.Add(n, all[k].out, all[k].long)
		l += all[k].long
	}
	a, b := all[run[0]], all[run[len(run)-1]]
	u := geom.Sub(b.at, a.at)
	if len(run) > 1 {
		u = u.Unit()
	} else {
		u = a.out.Left()
	}
	from := geom.Add(a.at, u, math.Min(l/2, Tuned.EndMM)-a.long/2)
	to := geom.Add(b.at, u, b.long/2-math.Min(l/2, Tuned.EndMM))
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
	held := p.table(bodies, up)
	if l == Propped || l == Held {
		held = append(held, p.props(bodies, up)...)
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
		for _, q := range p.hull[i] {
			low = math.Min(low, q.Dot(up))
		}
	}
	return low
}

// table are the contacts with the table.
func (p *Pile) table(bodies []int, up geom.Vec) (out []contact) {
	low := p.Foot(bodies, up)
	for _, i := range bodies {
		for _, s := range p.border[i] {
			if onTable(s, up, low) {
				out = append(out, contact{i, -1, [2]geom.Vec{s.at, s.at}, geom.Vec{-up[0], -up[1]}, s.long})
			}
		}
		// Corners carry too: of a part that stands on its point or on an edge.
		for _, q := range p.shape[i] {
			if q.Dot(up)-low <= Tuned.ContactMM {
				out = append(out, contact{a: i, b: -1, at: [2]geom.Vec{q, q}, normal: geom.Vec{-up[0], -up[1]}})
			}
		}
	}
	return thinned(out)
}

func onTable(s spot, up geom.Vec, low float64) bool {
	return s.at.Dot(up)-low <= Tuned.FootMM/2 && s.out.Dot(up) < -0.5
}

// props are the contacts with a cradle, or with bars against the pile.
func (p *Pile) props(bodies []int, up geom.Vec) (out []contact) {
	low := p.Foot(bodies, up)
	var pts []geom.Vec
	for _, i := range bodies {
		pts = append(pts, p.hull[i]...)
	}
	hull := geom.Hull(pts)
	for _, i := range bodies {
		for _, s := range p.border[i] {
			if s.out.Dot(up) < -math.Cos(Tuned.PropRad) && !onTable(s, up, low) && borderDist(s.at, hull) <= p.near {
				out = append(out, contact{i, -2, [2]geom.Vec{s.at, s.at}, s.out, s.long})
			}
		}
	}
	return thinned(out)
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
	joints := p.joints(body)
	row := make(map[int]int, len(bodies)) // of an outline's equations
	chain := chained(bodies, body, joints)
	total := 0.0
	var mid geom.Vec
	for _, i := range bodies {
		row[i] = 3 * slices.Index(chain, body(i))
		total += p.area[i]
		mid = geom.Add(mid, p.centre[i], p.area[i])
	}
	mid = geom.Vec{mid[0] / total, mid[1] / total}
	size := math.Sqrt(total)
	s := solver{b: make([]float64, 3*len(chain))}
	for _, i := range bodies {
		w := p.area[i] / total // of the whole weight
		at := geom.Sub(p.centre[i], mid)
		s.b[row[i]] += w * up[0]
		s.b[row[i]+1] += w * up[1]
		s.b[row[i]+2] += w * at.Cross(up) / size
	}
	// A force f of a contact pushes b along the normal and a against it.
	force := func(c contact, at, f geom.Vec) (col column) {
		put := func(k int, sign float64) {
			col.put(k, sign*f[0])
			col.put(k+1, sign*f[1])
			col.put(k+2, sign*geom.Sub(at, mid).Cross(f)/size)
		}
		put(row[c.a], -1)
		if c.b >= 0 {
			put(row[c.b], 1)
		}
		return col
	}
	for _, c := range append(joints, held...) {
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
	at := frame{row, mid, size}
	if p.fellBefore(&s, at) {
		return false
	}
	if s.reaches(Tuned.Residual) {
		return true
	}
	p.remember(&s, at)
	return false
}

// joints are the contacts between different bodies that are there.
func (p *Pile) joints(body func(int) int) (out []contact) {
	for _, c := range p.contacts {
		if a, b := body(c.a), body(c.b); a >= 0 && b >= 0 && a != b {
			out = append(out, c)
		}
	}
	return out
}

// chained are the bodies, each near to those it touches (Cuthill and McKee 1969): their equations are soon solved.
func chained(bodies []int, body func(int) int, joints []contact) (out []int) {
	touch := map[int][]int{}
	add := func(a, b int) {
		if !slices.Contains(touch[a], b) {
			touch[a] = append(touch[a], b)
		}
	}
	for _, c := range joints {
		add(body(c.a), body(c.b))
		add(body(c.b), body(c.a))
	}
	var all []int
	for _, i := range bodies {
		if !slices.Contains(all, body(i)) {
			all = append(all, body(i))
		}
	}
	fewest := func(a, b int) int { return cmp.Compare(len(touch[a]), len(touch[b])) }
	slices.SortStableFunc(all, fewest)
	for _, seed := range all {
		for k, next := len(out), []int{seed}; ; k++ {
			for _, i := range next {
				if !slices.Contains(out, i) {
					out = append(out, i)
				}
			}
			if k == len(out) {
				break
			}
			next = touch[out[k]]
			slices.SortStableFunc(next, fewest)
		}
	}
	return out
}
