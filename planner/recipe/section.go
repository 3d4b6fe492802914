package recipe

import (
	"math"

	"sugarwright/geom"
)

// edge is a corner of a section and the side that begins there: straight, an arc that rises outward by rise, or one
// hollow by as much below 0.
type edge struct {
	at   geom.Vec
	rise float64
}

// path is the border of a bar's section, counter-clockwise from the left end of its foot; ok is false when the sizes
// make none. Ovals and bent strips have no corners and are drawn by themselves.
func (r Recipe) path(p []edge) (out []edge, ok bool) {
	s := r.Size
	v := func(x, y float64) geom.Vec { return geom.Vec{x, y} }
	if !(s[0] > 0.01) {
		return nil, false
	}
	switch r.Base {
	case Rod:
		p = append(p, edge{v(0, 0), s[0] / 2}, edge{v(s[0], 0), s[0] / 2})
	case Bar, Strip, Sheet:
		ok = s[1] > 0.01
		p = append(p, edge{at: v(0, 0)}, edge{at: v(s[0], 0)}, edge{at: v(s[0]+s[2], s[1])}, edge{at: v(s[2], s[1])})
	case HalfMoon:
		ok = s[1] > 0.01 && s[1] <= 0.75*s[0]
		p = append(p, edge{at: v(0, 0)}, edge{v(s[0], 0), s[1]})
	case FlatRod: // s[1] is over half of the diameter
		ok = s[1] > s[0]/2 && s[1] < s[0]
		c := 2 * math.Sqrt(max(0, s[1]*(s[0]-s[1])))
		p = append(p, edge{at: v(0, 0)}, edge{v(c, 0), s[1]})
	case Wedge:
		m := s[0]/2 + s[3]
		ok = s[1] >= 0 && s[2] > 0.01
		p = append(p, edge{at: v(0, 0)}, edge{at: v(s[0], 0)}, edge{at: v(m+s[1]/2, s[2])}, edge{at: v(m-s[1]/2, s[2])})
	case Triangle:
		ok = s[1] > 0.01
		p = append(p, edge{at: v(0, 0)}, edge{at: v(s[0], 0)}, edge{at: v(s[2], s[1])})
	case Leaf:
		ok = s[1] > 0 && s[2] > 0 && max(s[1], s[2]) <= 0.75*s[0]
		p = append(p, edge{v(0, 0), s[2]}, edge{v(s[0], 0), s[1]})
	case Drop:
		rad := s[0] / 2
		tip := s[1] - rad
		if ok = tip > 1.05*rad; ok {
			a := math.Acos(rad / tip)
			u, w := geom.Polar(a), geom.Polar(-a)
			// The tip at the right, the round end at the left.
			p = append(p, edge{at: v(s[1], 0)}, edge{v(rad+rad*u[0], rad*u[1]), rad + rad*math.Cos(a)},
				edge{at: v(rad+rad*w[0], rad*w[1])})
		}
	case Tapered:
		ok = s[1] > 0.01 && s[2] >= 0 && s[3] >= 0
		p = append(p, edge{at: v(0, -s[2]/2)}, edge{at: v(s[0]/2, -s[1]/2)}, edge{at: v(s[0], -s[3]/2)},
			edge{at: v(s[0], s[3]/2)}, edge{at: v(s[0]/2, s[1]/2)}, edge{at: v(0, s[2]/2)})
	}
	if !ok && r.Base != Rod {
		return nil, false
	}
	return r.worked(p)
}

// across is the side over from a side.
func across(p []edge, side int) int {
	if len(p) == 4 {
		return (side + 2) % 4
	}
	return (side + 1) % len(p)
}

// worked is a bar's border after the operation.
func (r Recipe) worked(p []edge) ([]edge, bool) {
	d := r.Done
	if r.Side < 0 || r.Side >= len(p) {
		return nil, false
	}
	next := func(i int) geom.Vec { return p[(i+1)%len(p)].at }
	along := geom.Sub(next(r.Side), p[r.Side].at)
	long := along.Len()
	u := along.Unit()
	switch r.Op {
	case Bow:
		p[r.Side].rise += d[0]
		if d[1] != 0 {
			p[across(p, r.Side)].rise += d[1]
		}
		for i := range p {
			if l := geom.Dist(p[i].at, next(i)); math.Abs(p[i].rise) > 0.75*l {
				return nil, false
			}
		}
	case Cut: // the corner at the side's end goes
		k := (r.Side + 1) % len(p)
		w := geom.Sub(next(k), p[k].at)
		if d[0] <= 0 || d[1] <= 0 || d[0] >= 0.95*long || d[1] >= 0.95*w.Len() {
			return nil, false
		}
		at := p[k].at
		p = append(p, edge{})
		copy(p[k+1:], p[k:])
		p[k].at, p[k].rise = geom.Add(at, u, -d[0]), 0
		p[k+1].at = geom.Add(at, w.Unit(), d[1])
	case Groove, Grooves:
		over := across(p, r.Side)
		// The row of the later side first, so that the other's place stays.
		rows := [2]struct {
			side int
			d    []float64
		}{{r.Side, d[:5]}, {over, d[5:]}}
		if rows[0].side < rows[1].side {
			rows[0], rows[1] = rows[1], rows[0]
		}
		for _, row := range rows {
			var ok bool
			if p, ok = grooved(p, row.side, row.d, r.Op == Groove); !ok {
				return nil, false
			}
		}
	}
	return p, true
}

// grooved presses a row of grooves into a straight side: rod, depth, where the first lies, how many, and their pitch.
func grooved(p []edge, side int, d []float64, one bool) ([]edge, bool) {
	n := 1
	if !one {
		n = int(math.Round(d[3]))
	}
	if d[0] == 0 || n == 0 {
		return p, true
	}
	if d[1] <= 0 || d[1] > d[0]/2+1e-9 || p[side].rise != 0 {
		return nil, false
	}
	along := geom.Sub(p[(side+1)%len(p)].at, p[side].at)
	half, was := math.Sqrt(d[1]*(d[0]-d[1])), 0.0
	out := append([]edge(nil), p[:side+1]...)
	for i := range n {
		x := d[2] + d[4]*float64(i)
		if x-half < was+1e-6 || x+half > along.Len()-1e-6 {
			return nil, false
		}
		was = x + half
		from := p[side].at
		out = append(out, edge{geom.Add(from, along.Unit(), x-half), -d[1]}, edge{at: geom.Add(from, along.Unit(), x+half)})
	}
	return append(out, p[side+1:]...), true
}

// segmentArea is what lies between a chord and an arc that rises over it.
func segmentArea(chord, rise float64) float64 {
	if rise == 0 || chord <= 0 {
		return 0
	}
	h := math.Abs(rise)
	r := (chord*chord/4 + h*h) / (2 * h)
	a := 2 * math.Atan2(chord/2, r-h) // the whole angle
	return math.Copysign(r*r/2*(a-math.Sin(a)), rise)
}

// pathArea is a border's area in closed form.
func pathArea(p []edge) float64 {
	sum := 0.0
	for i, e := range p {
		b := p[(i+1)%len(p)].at
		sum += e.at.Cross(b)/2 + segmentArea(geom.Dist(e.at, b), e.rise)
	}
	return sum
}

// arcStep is the angle between two points of a drawn arc: their radius is stretched so that the area is the arc's.
const arcStep = math.Pi / 12

// bendStep is the same for bent strips, whose middle is not stretched: a band drawn so lacks 0.2 % of its area.
const bendStep = math.Pi / 30

// draw appends a border's points; arcs are polygons of the same area.
func draw(out []geom.Vec, p []edge) []geom.Vec {
	for i, e := range p {
		out = append(out, e.at)
		b := p[(i+1)%len(p)].at
		chord := geom.Dist(e.at, b)
		if h := math.Abs(e.rise); h > 1e-6*chord && chord > 0 {
			out = arcPoints(out, e.at, b, e.rise)
		}
	}
	return out
}

// arcPoints appends the points between the ends of an arc from a to b that rises to the right of its way, outward.
func arcPoints(out []geom.Vec, a, b geom.Vec, rise float64) []geom.Vec {
	chord, h := geom.Dist(a, b), math.Abs(rise)
	r := (chord*chord/4 + h*h) / (2 * h)
	whole := 2 * math.Atan2(chord/2, r-h)
	u := geom.Sub(b, a).Unit()
	m := geom.Add(a, u, chord/2)
	side := geom.Vec{u[1], -u[0]} // outward of a counter-clockwise border
	if rise < 0 {
		side = geom.Vec{-side[0], -side[1]}
	}
	c := geom.Add(m, side, h-r)
	n := max(4, int(math.Ceil(whole/arcStep)))
	step := whole / float64(n)
	// The two end triangles have one point on the circle, the others two outside:
	// r k sin(step) (2 + (n-2) k) = n r step.
	k, s := 1.0, math.Sin(step)
	if s > 1e-9 {
		k = (math.Sqrt(4+4*float64(n-2)*float64(n)*step/s) - 2) / (2 * float64(n-2))
	}
	if step < 0.02 {
		k = 1
	}
	from := geom.Sub(a, c).Angle()
	turn := step
	if rise < 0 {
		turn = -step
	}
	sin, cos := math.Sincos(turn)
	d := geom.Polar(from)
	for i := 1; i < n; i++ {
		d = geom.Vec{cos*d[0] - sin*d[1], sin*d[0] + cos*d[1]}
		out = append(out, geom.Add(c, d, r*k))
	}
	return out
}

// ellipse appends an oval's points, with the oval's area.
func ellipse(out []geom.Vec, a, b float64) []geom.Vec {
	const n = 32
	k := math.Sqrt(2 * math.Pi / n / math.Sin(2*math.Pi/n))
	for i := range n {
		v := geom.Polar(2 * math.Pi * float64(i) / n)
		out = append(out, geom.Vec{a / 2 * k * v[0], b / 2 * k * v[1]})
	}
	return out
}

// thickAt is the thickness of a strip a way along it.
func (r Recipe) thickAt(s float64) float64 {
	if r.Base != Tapered {
		return r.Size[1]
	}
	w := r.Size[0] / 2
	if s < w {
		return r.Size[2] + (r.Size[1]-r.Size[2])*s/w
	}
	return r.Size[3] + (r.Size[1]-r.Size[3])*(2*w-s)/w
}

// bent appends the points of a bent strip: its middle line, and half of its thickness on both sides; at the ends the
// sides run farther or less far, by the bevels.
func (r Recipe) bent(out []geom.Vec) []geom.Vec {
	var spine, normal []geom.Vec
	var thick []float64
	at, way, s := geom.Vec{}, 0.0, 0.0
	add := func() {
		spine, normal, thick = append(spine, at), append(normal, geom.Polar(way+math.Pi/2)), append(thick, r.thickAt(s))
	}
	add()
	for _, a := range r.Arcs {
		turn := a.TurnDeg * math.Pi / 180
		n := max(2, int(math.Ceil(math.Abs(turn)/bendStep)))
		if r.Base == Tapered && n%2 == 1 {
			n++ // the thickest place is a point of its own
		}
		l, t := a.LengthMM/float64(n), turn/float64(n)
		chord := l
		if math.Abs(t) > 1e-9 {
			chord = 2 * l / t * math.Sin(t/2)
		}
		for range n {
			at = geom.Add(at, geom.Polar(way+t/2), chord)
			way += t
			s += l
			add()
		}
	}
	first, last := geom.Vec{1, 0}, geom.Polar(way)
	b0, b1 := r.Done[0], r.Done[1]
	n := len(spine) - 1
	// What the bevel takes from a side's end may be more than one step of the drawing.
	side := func(out []geom.Vec, sign float64) []geom.Vec {
		from, to := geom.Add(geom.Add(spine[0], normal[0], sign*thick[0]/2), first, -sign*b0),
			geom.Add(geom.Add(spine[n], normal[n], sign*thick[n]/2), last, sign*b1)
		k := len(out)
		out = append(out, from)
		for i := 1; i < n; i++ {
			p := geom.Add(spine[i], normal[i], sign*thick[i]/2)
			if geom.Sub(p, from).Dot(first) <= 0 && sign*b0 < 0 && i < n/2 || geom.Sub(p, to).Dot(last) >= 0 && sign*b1 < 0 && i > n/2 {
				continue
			}
			out = append(out, p)
		}
		out = append(out, to)
		if sign > 0 {
			for i, j := k, len(out)-1; i < j; i, j = i+1, j-1 {
				out[i], out[j] = out[j], out[i]
			}
		}
		return out
	}
	out = side(out, -1)
	return side(out, 1)
}
