package recipe

import (
	"math"
	"sort"

	"sugarwright/geom"
)

func (f *fitter) start(base Base, theta float64, size ...float64) {
	t := trial{Recipe: Recipe{Base: base}, theta: theta}
	copy(t.Size[:], size)
	f.trials = append(f.trials, t)
}

// rods: a rod, and an oval along the main axis.
func (f *fitter) rods() {
	f.start(Rod, 0, 2*math.Sqrt(f.area/math.Pi))
	box := geom.RectAlong(f.hull, f.axis)
	if a, b := max(box.Length, box.Width), min(box.Length, box.Width); b > 0.3*a {
		theta := f.axis.Angle()
		if box.Width > box.Length {
			theta += math.Pi / 2
		}
		f.start(Oval, theta, a, b)
	}
}

// bars: along the narrowest box, and along the main axis.
func (f *fitter) bars() {
	for _, box := range []geom.Rect[geom.Vec]{geom.SmallestRect(f.hull), geom.RectAlong(f.hull, f.axis)} {
		f.start(Bar, box.Axis.Angle(), box.Length, box.Width)
	}
}

// moons: on each long side of the hull, as half-moons and as rods with a flat.
func (f *fitter) moons() {
	h := geom.Thinned(f.hull, 0.02*math.Sqrt(f.area))
	long := 0.0
	for i := range h {
		long = max(long, geom.Dist(h[i], h[(i+1)%len(h)]))
	}
	for i := range h {
		a, b := h[i], h[(i+1)%len(h)]
		if geom.Dist(a, b) < 0.75*long {
			continue
		}
		u := geom.Sub(b, a).Unit()
		box := geom.RectAlong(f.hull, u)
		if box.Width <= 0.62*box.Length {
			f.start(HalfMoon, u.Angle(), box.Length, min(box.Width, 0.5*box.Length))
		} else if box.Width < 1.1*box.Length {
			f.start(FlatRod, u.Angle(), box.Length, min(box.Width, 0.95*box.Length))
		}
	}
}

// wedges: on the sides of the hull cut down to four sides and to three.
func (f *fitter) wedges() {
	q := fewerSides(f.hull, 4)
	for i := 0; len(q) == 4 && i < 4; i++ {
		a, b := q[i], q[(i+1)%4]
		u := geom.Sub(b, a).Unit()
		at := func(p geom.Vec) geom.Vec { w := geom.Sub(p, a); return geom.Vec{w.Dot(u), u.Cross(w)} }
		c, d := at(q[(i+2)%4]), at(q[(i+3)%4])
		base, h := geom.Dist(a, b), (c[1]+d[1])/2
		if top := c[0] - d[0]; top >= 0 && top <= 1.02*base && math.Abs(c[1]-d[1]) <= 0.5*h {
			if top > 0.8*base {
				f.start(Bar, u.Angle(), (base+top)/2, h, (c[0]+d[0])/2-base/2)
			}
			f.start(Wedge, u.Angle(), base, min(top, 0.89*base), h, (c[0]+d[0])/2-base/2)
		}
	}
	q = fewerSides(f.hull, 3)
	if len(q) != 3 {
		return
	}
	i := longest(q)
	a, b, c := q[i], q[(i+1)%3], q[(i+2)%3]
	u := geom.Sub(b, a).Unit()
	w := geom.Sub(c, a)
	f.start(Triangle, u.Angle(), geom.Dist(a, b), u.Cross(w), w.Dot(u))
}

func longest(q []geom.Vec) int {
	best, at := 0.0, 0
	for i := range q {
		if d := geom.Dist(q[i], q[(i+1)%len(q)]); d > best+1e-6 {
			best, at = d, i
		}
	}
	return at
}

// fewerSides cuts a convex ring down to n sides by taking away, again and again, the side whose neighbours meet with
// least area added.
func fewerSides(hull geom.Ring[geom.Vec], n int) geom.Ring[geom.Vec] {
	q := append(geom.Ring[geom.Vec](nil), hull...)
	for len(q) > n {
		best, at, add := -1, geom.Vec{}, math.Inf(1)
		for i := range q {
			a, b, c, d := q[(i+len(q)-1)%len(q)], q[i], q[(i+1)%len(q)], q[(i+2)%len(q)]
			u, v := geom.Sub(b, a), geom.Sub(d, c)
			p, ok := geom.LinesMeet(a, u, c, v)
			if !ok || geom.Sub(p, b).Dot(u) < 0 || geom.Sub(p, c).Dot(v) > 0 {
				continue
			}
			if e := geom.Orient(b, p, c); e < add {
				best, at, add = i, p, e
			}
		}
		if best < 0 {
			return q
		}
		j := (best + 1) % len(q)
		q[best] = at
		q = append(q[:j], q[j+1:]...)
	}
	return q
}

// farthest are the two points of the hull that lie farthest apart.
func (f *fitter) farthest() (a, b geom.Vec) {
	far := -1.0
	for i, p := range f.hull {
		for _, q := range f.hull[i+1:] {
			if d := geom.Dist(p, q); d > far+1e-6 {
				a, b, far = p, q, d
			}
		}
	}
	return a, b
}

// leaves: between the two tips that lie farthest apart; and as a straight strip that is thickest in the middle.
func (f *fitter) leaves() {
	a, b := f.farthest()
	u := geom.Sub(b, a).Unit()
	up, down := 0.0, 0.0
	for _, p := range f.hull {
		h := u.Cross(geom.Sub(p, a))
		up, down = max(up, h), max(down, -h)
	}
	l := geom.Dist(a, b)
	if up+down < 0.9*l {
		f.start(Leaf, u.Angle(), l, max(up, 0.02*l), max(down, 0.02*l))
	}
	box := geom.RectAlong(f.hull, f.axis)
	if box.Length > 1.6*box.Width {
		at := func(share float64) float64 {
			x := geom.Sub(box.Centre, geom.Vec{}).Dot(f.axis) + (share-0.5)*box.Length
			lo, hi := math.Inf(1), math.Inf(-1)
			r := f.ring
			for i := range r {
				p, q := r[i], r[(i+1)%len(r)]
				s, t := geom.Vec(p).Dot(f.axis)-x, geom.Vec(q).Dot(f.axis)-x
				if (s < 0) != (t < 0) {
					y := f.axis.Cross(p) + (f.axis.Cross(q)-f.axis.Cross(p))*s/(s-t)
					lo, hi = min(lo, y), max(hi, y)
				}
			}
			return max(0, hi-lo)
		}
		f.start(Tapered, f.axis.Angle(), box.Length, at(0.5), max(0.3, 2*at(0.1)-at(0.2)), max(0.3, 2*at(0.9)-at(0.8)))
	}
}

// drops: the tip where the hull is farthest from the middle.
func (f *fitter) drops() {
	far, dist := f.hull[0], 0.0
	for _, p := range f.hull {
		if d := geom.Vec(p).Len(); d > dist+1e-6 {
			far, dist = p, d
		}
	}
	u := geom.Vec(far).Unit()
	box := geom.RectAlong(f.hull, u)
	if box.Length > 1.1*box.Width && box.Length < 3.5*box.Width {
		f.start(Drop, u.Angle(), box.Width, box.Length)
	}
}

// side is a stretch of border between two sharp corners, and how far an arc over its chord would rise.
type side struct {
	a, b geom.Vec
	rise float64
}

// sides cuts the border at its sharp corners, at most four of them, the sharpest.
func (f *fitter) sides(most int) []side {
	const n = 128
	ring := geom.Ring[geom.Vec](f.full)
	q := geom.Resampled(ring, ring.Perimeter()/n)
	m := len(q)
	if m < 24 {
		return nil
	}
	const w = 4
	turn := make([]float64, m)
	for i := range q {
		u, v := geom.Sub(q[i], q[(i+m-w)%m]), geom.Sub(q[(i+w)%m], q[i])
		turn[i] = math.Atan2(u.Cross(v), u.Dot(v))
	}
	type corner struct {
		at   geom.Vec
		i    int
		turn float64
	}
	var cs []corner
	for i, t := range turn {
		top := math.Abs(t) > 0.6
		for k := 1; k <= w && top; k++ {
			top = math.Abs(turn[(i+k)%m]) <= math.Abs(t) && math.Abs(turn[(i+m-k)%m]) < math.Abs(t)
		}
		if top {
			cs = append(cs, corner{q[i], i, math.Abs(t)})
		}
	}
	if len(cs) > most {
		sort.SliceStable(cs, func(i, j int) bool { return cs[i].turn > cs[j].turn })
		cs = cs[:most]
		sort.SliceStable(cs, func(i, j int) bool { return cs[i].i < cs[j].i })
	}
	if len(cs) < 2 {
		return nil
	}
	reach := 3 * ring.Perimeter() / n
	for k := range cs { // onto the border's own vertex
		best, dist := cs[k].at, reach
		for i, p := range f.ring {
			u, v := geom.Sub(p, f.ring[(i+len(f.ring)-1)%len(f.ring)]), geom.Sub(f.ring[(i+1)%len(f.ring)], p)
			if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) > 0.5 && geom.Dist(p, cs[k].at) < dist {
				best, dist = p, geom.Dist(p, cs[k].at)
			}
		}
		cs[k].at = best
	}
	var out []side
	for k, c := range cs {
		d := cs[(k+1)%len(cs)]
		area := 0.0 // between border and chord
		was := c.at
		for i := c.i + 1; i%m != d.i; i++ {
			area += was.Cross(q[i%m]) / 2
			was = q[i%m]
		}
		area += was.Cross(d.at)/2 + d.at.Cross(c.at)/2
		out = append(out, side{c.at, d.at, riseOf(area, geom.Dist(c.at, d.at))})
	}
	return out
}

// riseOf is the rise of the arc over a chord that has an area between.
func riseOf(area, chord float64) float64 {
	if chord < 1e-6 {
		return 0
	}
	h := 1.5 * area / chord
	for range 8 {
		if have := segmentArea(chord, h); math.Abs(have) > 1e-9 {
			h *= 0.5 + 0.5*area/have
		}
	}
	return max(-0.5*chord, min(0.7*chord, h))
}

// bows: half-moons on a hollow flat, and wedges and triangles of which a side, or two across, are round or hollow.
func (f *fitter) bows() {
	for _, t := range f.done {
		if t.Base == Drop && t.Op == Plain {
			for _, side := range []int{0, 2} {
				t.Op, t.Side, t.Done[0] = Bow, side, 0.05*t.Size[1]
				f.trials = append(f.trials, t)
			}
		}
	}
	switch s := f.sides(4); len(s) {
	case 2:
		i := 0
		if s[1].rise < s[0].rise {
			i = 1
		}
		u := geom.Sub(s[i].b, s[i].a)
		t := trial{Recipe: Recipe{Base: HalfMoon, Op: Bow}, theta: u.Angle()}
		t.Size[0], t.Size[1], t.Done[0] = u.Len(), s[1-i].rise, min(s[i].rise, -0.01*u.Len())
		f.trials = append(f.trials, t)
		for k := range s {
			if three := f.third(s, k); three != nil {
				f.bowedTriangle(three)
			}
		}
	case 3:
		f.bowedTriangle(s)
	case 4:
		f.bowedWedges(s)
		for drop := range 4 { // or a triangle, where one corner is slight
			var three []side
			for k := range 4 {
				if k == (drop+3)%4 {
					a, b := s[k].a, s[(k+1)%4].b
					area := geom.Orient(a, s[k].b, b)/2 + segmentArea(geom.Dist(a, s[k].b), s[k].rise) +
						segmentArea(geom.Dist(s[drop].a, b), s[drop].rise)
					three = append(three, side{a, b, riseOf(area, geom.Dist(a, b))})
				} else if k != drop {
					three = append(three, s[k])
				}
			}
			f.bowedTriangle(three)
		}
	}
}

// third makes a corner where one of two sides lies farthest from its chord.
func (f *fitter) third(s []side, k int) []side {
	n := len(f.full)
	at := func(p geom.Vec) int {
		best, d := 0, math.Inf(1)
		for i, q := range f.full {
			if e := geom.Dist(p, q); e < d {
				best, d = i, e
			}
		}
		return best
	}
	a, b := at(s[k].a), at(s[k].b)
	u := geom.Sub(f.full[b], f.full[a]).Unit()
	top, far := a, 0.15*geom.Dist(f.full[a], f.full[b])
	for i := a; i != b; i = (i + 1) % n {
		if d := -u.Cross(geom.Sub(f.full[i], f.full[a])); d > far {
			top, far = i, d
		}
	}
	if top == a {
		return nil
	}
	rise := func(from, to int) side {
		area := f.full[to].Cross(f.full[from]) / 2
		for i := from; i != to; i = (i + 1) % n {
			area += f.full[i].Cross(f.full[(i+1)%n]) / 2
		}
		return side{f.full[from], f.full[to], riseOf(area, geom.Dist(f.full[from], f.full[to]))}
	}
	return []side{s[1-k], rise(a, top), rise(top, b)}
}

// bowedTriangle starts from three corners: the two sides that rise most are worked.
func (f *fitter) bowedTriangle(s []side) {
	q := []geom.Vec{s[0].a, s[1].a, s[2].a}
	if geom.Orient(q[0], q[1], q[2]) <= 0 {
		return
	}
	i := longest(q)
	a, b, c := q[i], q[(i+1)%3], q[(i+2)%3]
	u := geom.Sub(b, a).Unit()
	w := geom.Sub(c, a)
	t := trial{Recipe: Recipe{Base: Triangle, Op: Bow}, theta: u.Angle()}
	t.Size = [4]float64{geom.Dist(a, b), u.Cross(w), w.Dot(u)}
	plain := 0 // the side that rises least
	for k := range 3 {
		if math.Abs(s[(i+k)%3].rise) < math.Abs(s[(i+plain)%3].rise)-1e-6 {
			plain = k
		}
	}
	t.Side = (plain + 1) % 3
	t.Done[0], t.Done[1] = s[(i+t.Side)%3].rise, s[(i+t.Side+1)%3].rise
	f.trials = append(f.trials, t)
	// One side alone.
	if math.Abs(t.Done[1]) > math.Abs(t.Done[0]) {
		t.Side, t.Done[0] = (t.Side+1)%3, t.Done[1]
	}
	t.Done[1] = 0
	f.trials = append(f.trials, t)
}

// bowedWedges starts from four corners, with either pair of sides as foot and top, and either pair worked.
func (f *fitter) bowedWedges(s []side) {
	for i := range 4 {
		a, b := s[i].a, s[i].b
		u := geom.Sub(b, a).Unit()
		at := func(p geom.Vec) geom.Vec { w := geom.Sub(p, a); return geom.Vec{w.Dot(u), u.Cross(w)} }
		c, d := at(s[(i+2)%4].a), at(s[(i+2)%4].b)
		base, h := geom.Dist(a, b), (c[1]+d[1])/2
		if top := c[0] - d[0]; top < 0 || top > 1.02*base || h <= 0 {
			continue
		}
		for pair := range 2 {
			t := trial{Recipe: Recipe{Base: Wedge, Op: Bow, Side: pair}, theta: u.Angle()}
			t.Size = [4]float64{base, min(c[0]-d[0], 0.89*base), h, (c[0]+d[0])/2 - base/2}
			t.Done[0], t.Done[1] = s[(i+pair)%4].rise, s[(i+pair+2)%4].rise
			if math.Abs(t.Done[1]) > math.Abs(t.Done[0]) {
				one := t
				one.Side, one.Done[0], one.Done[1] = pair+2, t.Done[1], 0
				f.trials = append(f.trials, one)
			} else {
				one := t
				one.Done[1] = 0
				f.trials = append(f.trials, one)
			}
			f.trials = append(f.trials, t)
			if c[0]-d[0] > 0.85*base {
				t.Base, t.Size = Bar, [4]float64{base, h}
				f.trials = append(f.trials, t)
			}
		}
	}
}

// edges: bars and wedges with the one edge cut off at which most is missing.
func (f *fitter) edges() {
	q := fewerSides(f.hull, 5)
	if len(q) != 5 {
		return
	}
	for i := range q { // side i is the cut: its neighbours meet in the corner that went
		a, b, c, d := q[(i+4)%5], q[i], q[(i+1)%5], q[(i+2)%5]
		p, ok := geom.LinesMeet(a, geom.Sub(b, a), c, geom.Sub(d, c))
		if !ok || geom.Sub(p, b).Dot(geom.Sub(b, a)) < 0 || geom.Sub(p, c).Dot(geom.Sub(d, c)) > 0 {
			continue
		}
		four := []geom.Vec{a, p, d, q[(i+3)%5]} // the corner that went is the second
		width, deep := geom.Dist(b, p), geom.Dist(c, p)
		if width*deep > 0.7*f.area {
			continue
		}
		for k := range 4 {
			a, b := four[k], four[(k+1)%4]
			u := geom.Sub(b, a).Unit()
			at := func(p geom.Vec) geom.Vec { w := geom.Sub(p, a); return geom.Vec{w.Dot(u), u.Cross(w)} }
			c, d := at(four[(k+2)%4]), at(four[(k+3)%4])
			base, h := geom.Dist(a, b), (c[1]+d[1])/2
			top := c[0] - d[0]
			if top < 0 || top > 1.02*base || h <= 0 || math.Abs(c[1]-d[1]) > 0.4*h {
				continue
			}
			t := trial{Recipe: Recipe{Base: Wedge, Op: Cut, Side: (4 - k) % 4}, theta: u.Angle()}
			t.Size = [4]float64{base, min(top, 0.89*base), h, (c[0]+d[0])/2 - base/2}
			t.Done[0], t.Done[1] = width, deep
			if top > 0.85*base {
				t.Base, t.Size = Bar, [4]float64{base, h}
			}
			f.trials = append(f.trials, t)
		}
	}
}

// pocket is a hollow of the border under an edge of its hull.
type pocket struct {
	from, to int // of the ring: its ends on the hull
	deep     float64
	area     float64
	bottom   geom.Vec
	lid      geom.Vec // the way of the hull's edge over it
}

// pockets lists the hollows, those of one hull edge by themselves where the border comes back to it between.
func (f *fitter) pockets() []pocket {
	ring := f.ring
	n := len(ring)
	const on = 0.1 // mm: a point so near to the hull's edge lies on it
	hull := map[geom.Vec]bool{}
	for _, p := range geom.Hull(geom.Ring[geom.Vec](ring)) {
		hull[p] = true
	}
	var out []pocket
	for i, p := range ring {
		if !hull[p] || hull[ring[(i+1)%n]] {
			continue
		}
		j := i + 1
		for ; !hull[ring[j%n]]; j++ {
		}
		u := geom.Sub(ring[j%n], p).Unit()
		deep := func(m int) float64 { return u.Cross(geom.Sub(ring[m%n], p)) }
		for from := i; from < j; {
			to := from + 1
			for to < j && deep(to) > on {
				to++
			}
			k := pocket{from: from % n, to: to % n, lid: u}
			for m := from; m < to; m++ {
				k.area += geom.Orient(ring[from%n], ring[(m+1)%n], ring[m%n]) / 2
				if d := deep(m); d > k.deep {
					k.deep, k.bottom = d, ring[m%n]
				}
			}
			if to > from+1 {
				out = append(out, k)
			}
			from = to
		}
	}
	return out
}

// grooves: where one to three pockets in one side are all that parts the region from a bar, a rod lies in each.
func (f *fitter) grooves() {
	ps := f.pockets()
	sort.SliceStable(ps, func(i, j int) bool { return ps[i].area > ps[j].area })
	for n := 1; n <= 5 && n <= len(ps); n++ {
		if ps[n-1].area < 0.008*f.area || ps[n-1].deep < 1 {
			return
		}
		f.grooved(ps[:n])
	}
}

// groove gathers the grooves of one side.
type groove struct{ at, deep, wide []float64 }

// done is the row that they are: rod, depth, where the first lies, how many, and their pitch.
func (g *groove) done() []float64 {
	n := float64(len(g.at))
	deep, wide := 0.0, 0.0
	for i := range g.at {
		deep, wide = deep+g.deep[i]/n, wide+g.wide[i]/n
	}
	sort.Float64s(g.at)
	out := []float64{max(2*deep, (wide*wide/4+deep*deep)/max(deep, 0.1)), deep, g.at[0], n, 0}
	if n > 1 {
		out[4] = (g.at[len(g.at)-1] - g.at[0]) / (n - 1)
	}
	return out
}

func (f *fitter) grooved(ps []pocket) {
	gone := map[int]bool{}
	n := len(f.ring)
	for _, p := range ps {
		for i := (p.from + 1) % n; i != p.to; i = (i + 1) % n {
			gone[i] = true
		}
	}
	var full geom.Ring[geom.Vec]
	for i, p := range f.ring {
		if !gone[i] {
			full = append(full, p)
		}
	}
	if len(full) < 3 {
		return
	}
	g := newFitter(geom.Region[geom.Vec]{full}, f.ground, f.least, Effort{tol: 0, climbs: 1, rounds: 3, tries: 3, lines: searchLines})
	if g == nil {
		return
	}
	for _, family := range []func(){g.bars, g.moons, g.wedges} {
		family()
		g.climbBest(1)
	}
	sort.SliceStable(g.done, func(i, j int) bool { return g.done[i].share > g.done[j].share })
	// What lies in the other fitter's frame is found again by its own points: both are turned about centroids.
	m := geom.MomentsOf(geom.Region[geom.Vec]{full})
	u := tilt(geom.Thinned(full, 0.02))
	for _, t := range g.done {
		if t.share < 0.9 || t.Base == FlatRod {
			continue
		}
		has := t.Area()
		if has <= 0 {
			continue
		}
		t.Recipe = t.Recipe.Sized(math.Sqrt(g.area / has))
		b, ok := t.Recipe.path(nil)
		if !ok {
			continue
		}
		centre := geom.MomentsOf(geom.Region[geom.Vec]{draw(nil, b)}).Centroid
		own := func(p geom.Vec) geom.Vec { // of this fitter's frame, into the bar's
			w := geom.Sub(p, m.Centroid)
			q := geom.Vec{w.Dot(u) - t.x, u.Cross(w) - t.y}
			s, c := math.Sincos(-t.theta)
			return geom.Add(geom.Vec{c*q[0] - s*q[1], s*q[0] + c*q[1]}, centre, 1)
		}
		rows := map[int]*groove{}
		var sides []int
		for _, p := range ps {
			a, c := own(f.ring[p.from]), own(f.ring[p.to])
			mid := geom.Vec{(a[0] + c[0]) / 2, (a[1] + c[1]) / 2}
			side, dist := -1, math.Inf(1)
			for i := range b {
				if d := geom.SegmentDist(mid, b[i].at, b[(i+1)%len(b)].at); b[i].rise == 0 && d < dist {
					side, dist = i, d
				}
			}
			if side < 0 {
				continue
			}
			if rows[side] == nil {
				rows[side], sides = &groove{}, append(sides, side)
			}
			u := geom.Sub(b[(side+1)%len(b)].at, b[side].at).Unit()
			row := rows[side]
			row.at = append(row.at, geom.Sub(mid, b[side].at).Dot(u))
			row.deep = append(row.deep, max(0, u.Cross(geom.Sub(own(p.bottom), b[side].at))))
			// The width of a round groove of this depth and area.
			row.wide = append(row.wide, max(geom.Dist(a, c)*0.8, 1.3*p.area/max(0.5, p.deep)))
		}
		if len(sides) == 0 || len(sides) > 2 || len(sides) == 2 && across(b, sides[0]) != sides[1] {
			continue
		}
		r := t
		r.Op, r.Side = Groove, sides[0]
		if len(ps) > 1 {
			r.Op = Grooves
		}
		copy(r.Done[:5], rows[sides[0]].done())
		if len(sides) == 2 {
			copy(r.Done[5:], rows[sides[1]].done())
		} else if r.Op == Groove {
			r.Done[3], r.Done[4] = 0, 0
		}
		if mean := r.Done[1]; mean < 0.5 {
			continue
		}
		// Into this fitter's frame: the way of the foot, and the centroid.
		r.theta += u.Angle()
		r.x, r.y = 0, 0
		f.trials = append(f.trials, r)
	}
}
