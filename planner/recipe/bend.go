package recipe

import (
	"math"
	"sort"

	"sugarwright/geom"
)

// bends: strips, even or thickest in the middle, whose middle line is one arc, two, or more. The middle line is that
// between the two sides, from tip to tip.
func (f *fitter) bends() {
	for _, ends := range f.ends() {
		mid, thick := f.middle(ends)
		if mid == nil {
			continue
		}
		for _, arcs := range arcsOf(mid, uneven(thick) > Tuned.UnevenMisfit*f.limit()) {
			f.bendAlong(mid, thick, arcs)
		}
	}
	f.climbBends()
}

// ends are pairs of border points at which a strip may end: the middles of the two sharpest turns that are far apart,
// and the ends of the longest lid.
func (f *fitter) ends() [][2]geom.Vec {
	var out [][2]geom.Vec
	if c, ok := SidesOf(geom.Region[geom.Vec]{f.full}); ok {
		// Half a width on from the last points of both sides the border comes to its end.
		end := func(i, j, di, dj int) geom.Vec {
			at := func(i, j int) geom.Vec {
				return geom.Vec{(c.Inner[i][0] + c.Outer[j][0]) / 2, (c.Inner[i][1] + c.Outer[j][1]) / 2}
			}
			p := at(i, j)
			d := geom.Sub(p, at(i+di, j+dj)).Unit()
			p = geom.Add(p, d, 0.5*c.Width)
			for k, q := range f.ring { // a point ends in its own tip
				n := len(f.ring)
				u, v := geom.Sub(q, f.ring[(k+n-1)%n]), geom.Sub(f.ring[(k+1)%n], q)
				if math.Atan2(u.Cross(v), u.Dot(v)) > 1.9 && geom.Dist(p, q) < c.Width {
					return q
				}
			}
			return p
		}
		l, m := len(c.Inner)-1, len(c.Outer)-1
		out = append(out, [2]geom.Vec{end(0, 0, min(3, l), min(3, m)), end(l, m, -min(3, l), -min(3, m))})
	}
	lid, long := pocket{}, 0.0
	for _, k := range f.pockets() {
		if l := geom.Dist(f.ring[k.from], f.ring[k.to]); l > long+1e-6 && k.area > 0.02*f.area {
			lid, long = k, l
		}
	}
	if long > 0 {
		a, b := f.blunt(lid.from, -1), f.blunt(lid.to, 1)
		if len(out) == 0 || min(geom.Dist(a, out[0][0]), geom.Dist(a, out[0][1])) > 1 ||
			min(geom.Dist(b, out[0][0]), geom.Dist(b, out[0][1])) > 1 {
			out = append(out, [2]geom.Vec{a, b})
		}
	}
	return out
}

// blunt is the middle of the end edge that begins at a corner of the border, away from a pocket; a sharp corner is the
// end itself.
func (f *fitter) blunt(i, step int) geom.Vec {
	n := len(f.ring)
	turn := func(i int) float64 {
		u, v := geom.Sub(f.ring[i], f.ring[(i+n-1)%n]), geom.Sub(f.ring[(i+1)%n], f.ring[i])
		return math.Atan2(u.Cross(v), u.Dot(v))
	}
	j := (i + step + n) % n
	if turn(i) < 1.9 && turn(j) > 0.6 && geom.Dist(f.ring[i], f.ring[j]) < 6*f.area/geom.Ring[geom.Vec](f.ring).Perimeter() {
		return geom.Vec{(f.ring[i][0] + f.ring[j][0]) / 2, (f.ring[i][1] + f.ring[j][1]) / 2}
	}
	return f.ring[i]
}

// parted cuts the border at two ends into both sides, from the first end to the second. A blunt end is the border
// between its two corners; a round one is cut off half its width on.
func (f *fitter) parted(ends [2]geom.Vec) (a, b geom.Ring[geom.Vec]) {
	n := len(f.full)
	wide := 2 * f.area / geom.Ring[geom.Vec](f.full).Perimeter()
	sharp := func(i int) bool {
		p, q, r := f.full[(i+n-1)%n], f.full[i%n], f.full[(i+1)%n]
		u, v := geom.Sub(q, p), geom.Sub(r, q)
		return math.Atan2(u.Cross(v), u.Dot(v)) > 0.6
	}
	// Of both ends the border's next and last vertex, beyond its corners.
	var next, last [2]int
	var from, to [2]geom.Vec
	for k, p := range ends {
		best, at, on := math.Inf(1), 0, geom.Vec{}
		for i, q := range f.full {
			v := geom.Sub(f.full[(i+1)%n], q)
			t := 0.0
			if l := v.Dot(v); l > 0 {
				t = max(0, min(1, geom.Sub(p, q).Dot(v)/l))
			}
			if r := geom.Add(q, v, t); geom.Dist(p, r) < best-1e-9 {
				best, at, on = geom.Dist(p, r), i, r
			}
		}
		on0 := func(at, step int) int {
			if step > 0 {
				return at + 1
			}
			return at
		}
		walk := func(i, step int) (int, geom.Vec) {
			was, gone := on, 0.0
			for range n {
				q := f.full[(i%n+n)%n]
				gone += geom.Dist(was, q)
				if sharp((i%n + n) % n) {
					return i + step, q
				}
				if gone > 1.2*wide { // a tip, or round
					return on0(at, step), on
				}
				was = q
				i += step
			}
			return on0(at, step), on
		}
		next[k], from[k] = walk(at+1, 1)
		last[k], to[k] = walk(at, -1)
		if sharp(at) && geom.Dist(on, f.full[at]) < 1e-6 { // a tip
			next[k], from[k], last[k], to[k] = at+1, on, at-1, on
		}
		if sharp((at+1)%n) && geom.Dist(on, f.full[(at+1)%n]) < 1e-6 {
			next[k], from[k], last[k], to[k] = at+2, on, at, on
		}
	}
	chain := func(k, l int) geom.Ring[geom.Vec] {
		out := geom.Ring[geom.Vec]{from[k]}
		for i := next[k]; ; i++ {
			if (i-last[l]-1)%n == 0 || len(out) > n {
				break
			}
			if q := f.full[(i%n+n)%n]; geom.Dist(q, out[len(out)-1]) > 1e-6 {
				out = append(out, q)
			}
		}
		return append(out, to[l])
	}
	return chain(0, 1), chain(1, 0).Reversed()
}

// spinePoints of a middle line.
const spinePoints = 25

// middle is the line half way between the two sides from one end of a strip to the other, and how thick it is there.
func (f *fitter) middle(ends [2]geom.Vec) (mid geom.Ring[geom.Vec], thick []float64) {
	a, b := f.parted(ends)
	if len(a) < 2 || len(b) < 2 {
		return nil, nil
	}
	la, lb := geom.LineLength(a), geom.LineLength(b)
	if l := (la + lb) / 2; l*l < 1.2*f.area { // hardly longer than thick
		return nil, nil
	}
	// From a first line, of points at equal shares of both sides, to where the ways square to it meet the sides.
	for k := range spinePoints {
		t := float64(k) / (spinePoints - 1)
		p, q := geom.Along(a, t), geom.Along(b, t)
		mid = append(mid, geom.Vec{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2})
		thick = append(thick, geom.Dist(p, q))
	}
	next := append(geom.Ring[geom.Vec](nil), mid...)
	for k := 2; k < spinePoints-2; k++ {
		d := geom.Sub(mid[k+1], mid[k-1]).Unit().Left()
		p, q := along(a, mid[k], d), along(b, mid[k], d)
		if t := math.Abs(p - q); p*q < 0 && t < 1.5*thick[k] && t > 0.3*thick[k] {
			next[k], thick[k] = geom.Add(mid[k], d, (p+q)/2), t
		}
	}
	return next, thick
}

// along is how far from p, on the line through it along d, a side lies; the nearest crossing counts.
func along(side geom.Ring[geom.Vec], p geom.Vec, d geom.Vec) float64 {
	best := math.Inf(1)
	for i := 0; i+1 < len(side); i++ {
		a, b := geom.Sub(side[i], p), geom.Sub(side[i+1], p)
		s, t := d.Cross(a), d.Cross(b)
		if (s < 0) == (t < 0) {
			continue
		}
		if v := a.Dot(d) + (b.Dot(d)-a.Dot(d))*s/(s-t); math.Abs(v) < math.Abs(best) {
			best = v
		}
	}
	return best
}

// uneven is the misfit of an even strip, though it bent as it should.
func uneven(thick []float64) float64 {
	sum, off := 0.0, 0.0
	for _, t := range thick {
		sum += t
	}
	for _, t := range thick {
		off += math.Abs(t - sum/float64(len(thick)))
	}
	return off / sum
}

// arcsOf are ways to draw a middle line: as one arc, and, where that leaves it by more than pressing takes up, with
// straight ends and as two arcs, and at last as many as it takes; of one arc alone the thickness may differ.
func arcsOf(mid geom.Ring[geom.Vec], alone bool) (out [][]Arc) {
	l := geom.LineLength(mid)
	// The way of the line at points along it, and its whole turn.
	q := geom.Ring[geom.Vec]{}
	for k := range spinePoints {
		q = append(q, geom.Along(mid, float64(k)/(spinePoints-1)))
	}
	way := []float64{}
	for k := 1; k < len(q); k++ {
		a := geom.Sub(q[k], q[k-1]).Angle()
		if len(way) > 0 {
			a = way[len(way)-1] + math.Remainder(a-way[len(way)-1], 2*math.Pi)
		}
		way = append(way, a)
	}
	m := len(way)
	step := l / float64(m)
	deg := 180 / math.Pi
	// One arc: the slope of the way by least squares.
	sx, sy, sxx, sxy := 0.0, 0.0, 0.0, 0.0
	for i, w := range way {
		x := float64(i)
		sx, sy, sxx, sxy = sx+x, sy+w, sxx+x*x, sxy+x*w
	}
	k := float64(m)
	slope := (k*sxy - sx*sy) / (k*sxx - sx*sx)
	one := []Arc{{l, slope * k * deg}}
	off := spineOff(q, one)
	if out = append(out, one); alone || off < Tuned.SpineMM {
		return out
	}
	const mayBend = 6.0 // mm: from farther off, moving the joints does not help
	// Straight, arc, straight.
	best, least := []Arc(nil), math.Inf(1)
	for i := 0; i < m-2; i += 2 {
		for j := i + 4; j <= m; j += 2 {
			if i == 0 && j == m {
				continue
			}
			start, end := mean(way, 0, max(1, i)), mean(way, min(j, m-1), m)
			if i == 0 {
				start = way[0] - (way[1]-way[0])/2
			}
			if j == m {
				end = way[m-1] + (way[m-1]-way[m-2])/2
			}
			var arcs []Arc
			if i > 0 {
				arcs = append(arcs, Arc{LengthMM: step * float64(i)})
			}
			arcs = append(arcs, Arc{step * float64(j-i), (end - start) * deg})
			if j < m {
				arcs = append(arcs, Arc{LengthMM: step * float64(m-j)})
			}
			if e := spineOff(q, arcs); e < least {
				best, least = arcs, e
			}
		}
	}
	if least < mayBend {
		best, least = refined(q, best)
		out = append(out, best)
	}
	// Two arcs.
	two := math.Inf(1)
	for i := 3; i <= m-3; i++ {
		a, b := line(way[:i]), line(way[i:])
		arcs := []Arc{{step * float64(i), a * float64(i) * deg}, {step * float64(m-i), b * float64(m-i) * deg}}
		if e := spineOff(q, arcs); e < two {
			best, two = arcs, e
		}
	}
	if two < mayBend {
		best, two = refined(q, best)
		out = append(out, best)
	}
	if min(two, least) < Tuned.SpineMM {
		return out
	}
	// As many arcs as it takes, of three points each.
	var many []Arc
	for i := 0; i < m; i += 3 {
		j := min(m, i+3)
		from, to := way[0]-(way[1]-way[0])/2, way[m-1]+(way[m-1]-way[m-2])/2
		if i > 0 {
			from = (way[i-1] + way[i]) / 2
		}
		if j < m {
			to = (way[j-1] + way[j]) / 2
		}
		many = append(many, Arc{step * float64(j-i), (to - from) * deg})
	}
	return append(out, many)
}

// refined moves the joints of arcs and what each turns, while a middle line then lies nearer.
func refined(q geom.Ring[geom.Vec], arcs []Arc) ([]Arc, float64) {
	arcs = append([]Arc(nil), arcs...)
	least := spineOff(q, arcs)
	for step := geom.LineLength(q) / spinePoints / 2; step > 0.1; step /= 2 {
		for tries, again := 0, true; again && tries < 6; tries++ {
			again = false
			for i := range arcs {
				for _, by := range [2]float64{step, -step} {
					moves := []func(float64){func(v float64) { arcs[i].LengthMM += v }}
					if arcs[i].TurnDeg != 0 {
						moves = append(moves, func(v float64) { arcs[i].TurnDeg += 3 * v })
					}
					for _, move := range moves {
						if move(by); arcs[i].LengthMM > 1 {
							if e := spineOff(q, arcs); e < least-1e-4 {
								least, again = e, true
								continue
							}
						}
						move(-by)
					}
				}
			}
		}
	}
	return arcs, least
}

func mean(v []float64, i, j int) float64 {
	s := 0.0
	for _, x := range v[i:j] {
		s += x
	}
	return s / float64(j-i)
}

// line is the slope of values by least squares.
func line(v []float64) float64 {
	sx, sy, sxx, sxy, n := 0.0, 0.0, 0.0, 0.0, float64(len(v))
	for i, w := range v {
		x := float64(i)
		sx, sy, sxx, sxy = sx+x, sy+w, sxx+x*x, sxy+x*w
	}
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// spineOff is how far a middle line lies off its arcs, laid on it as well as they can be.
func spineOff(q geom.Ring[geom.Vec], arcs []Arc) float64 {
	turn, at, ok := lieOf(q, arcs)
	if !ok {
		return math.Inf(1)
	}
	s, c := math.Sincos(turn)
	most := 0.0
	for i, p := range q {
		v := at[i]
		most = max(most, geom.Dist(geom.Vec{c*v[0] - s*v[1], s*v[0] + c*v[1]}, geom.Vec(p)))
	}
	return most
}

// lieOf turns arcs so that they lie on a middle line's points, by least squares; the points on the arcs are centred on
// the line's own middle.
func lieOf(q geom.Ring[geom.Vec], arcs []Arc) (turn float64, at []geom.Vec, ok bool) {
	whole := 0.0
	for _, a := range arcs {
		whole += a.LengthMM
	}
	n := len(q)
	pos, way, gone, i := geom.Vec{}, 0.0, 0.0, 0
	for k := range n {
		s := whole * float64(k) / float64(n-1)
		for i < len(arcs)-1 && s > gone+arcs[i].LengthMM {
			pos = walk(pos, way, arcs[i].LengthMM, arcs[i])
			way += arcs[i].TurnDeg * math.Pi / 180
			gone += arcs[i].LengthMM
			i++
		}
		at = append(at, walk(pos, way, s-gone, arcs[i]))
	}
	var ca, cq geom.Vec
	for k := range at {
		ca, cq = geom.Add(ca, at[k], 1/float64(n)), geom.Add(cq, geom.Vec(q[k]), 1/float64(n))
	}
	sin, cos := 0.0, 0.0
	for k := range at {
		u, v := geom.Sub(at[k], ca), geom.Sub(geom.Vec(q[k]), cq)
		sin, cos = sin+u.Cross(v), cos+u.Dot(v)
	}
	turn = math.Atan2(sin, cos)
	s, c := math.Sincos(turn)
	back := geom.Vec{c*cq[0] + s*cq[1], -s*cq[0] + c*cq[1]}
	for k := range at {
		at[k] = geom.Add(geom.Sub(at[k], ca), back, 1)
	}
	return turn, at, true
}

// walk goes a way along an arc.
func walk(from geom.Vec, way, s float64, a Arc) geom.Vec {
	t := 0.0
	if a.LengthMM > 0 {
		t = a.TurnDeg * math.Pi / 180 * s / a.LengthMM
	}
	chord := s
	if math.Abs(t) > 1e-9 {
		chord = 2 * s / t * math.Sin(t/2)
	}
	return geom.Add(from, geom.Polar(way+t/2), chord)
}

// bendAlong starts an even strip and one that is thickest in the middle along arcs.
func (f *fitter) bendAlong(mid geom.Ring[geom.Vec], thick []float64, arcs []Arc) {
	turn, _, ok := lieOf(mid, arcs)
	if !ok {
		return
	}
	l, curved := 0.0, 0
	for _, a := range arcs {
		l += a.LengthMM
		if math.Abs(a.TurnDeg) > 3 {
			curved++
		}
	}
	r := Recipe{Base: Strip, Op: Bend, Arcs: arcs}
	switch {
	case curved == 2:
		r.Op = BendTwice
	case curved > 2:
		r.Op = Follow
	case curved == 0:
		return
	}
	even := r
	even.Size = [4]float64{l, f.area / l}
	f.trials = append(f.trials, trial{Recipe: even, theta: turn})
	if len(arcs) == 1 {
		// The thickness by least squares: straight from the middle to both ends.
		h := len(thick) / 2
		end := func(v []float64) float64 { // of values from the middle on
			k := len(v)
			return v[k-1-k/8] + (v[k-1-k/8]-v[k/3])/float64(k-1-k/8-k/3)*float64(k/8)
		}
		back := make([]float64, h+1)
		for i := range back {
			back[i] = thick[h-i]
		}
		r.Base = Tapered
		r.Size = [4]float64{l, thick[h], max(0, end(back)), max(0, end(thick[h:]))}
		f.trials = append(f.trials, trial{Recipe: r, theta: turn})
	}
}

// climbBends improves the best bent strips: the lie, the thickness, and of one arc how far it turns.
func (f *fitter) climbBends() {
	for i := range f.trials {
		f.rate(&f.trials[i])
	}
	sort.SliceStable(f.trials, func(i, j int) bool { return f.trials[i].share > f.trials[j].share })
	for i := range f.trials {
		t, floor := &f.trials[i], f.floor()
		if i > f.climbs || t.share+Tuned.BendHope*(1-t.share) < floor {
			break
		}
		f.climb(t, t.freeBent(f.area), floor)
		f.keep(t)
	}
	f.trials = f.trials[:0]
}

// freeBent are the numbers of a bent strip that are improved: its lie, its thickness or its bevels, and its arcs where
// they are few.
func (t *trial) freeBent(area float64) []number {
	none := math.Inf(-1)
	t.Arcs = append([]Arc(nil), t.Arcs...)
	free := t.lie(area)
	switch t.Base {
	case Tapered:
		free = append(free, number{&t.Size[1], 1, none}, number{&t.Size[2], 1, 0}, number{&t.Size[3], 1, 0})
	case Strip:
		free = append(free, number{&t.Done[0], 1, none}, number{&t.Done[1], 1, none})
	}
	for i := range t.Arcs {
		if len(t.Arcs) <= 3 {
			if t.Arcs[i].TurnDeg != 0 {
				free = append(free, number{&t.Arcs[i].TurnDeg, 180 / math.Pi / math.Sqrt(area), none})
			}
			free = append(free, number{&t.Arcs[i].LengthMM, 1, none})
		}
	}
	return free
}

// lengths keeps a bent strip as long as its arcs.
func (t *trial) lengths() {
	if !t.Bent() {
		return
	}
	l := 0.0
	for _, a := range t.Arcs {
		l += a.LengthMM
	}
	t.Size[0] = l
}
