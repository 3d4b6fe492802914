package artwork

import (
	"math"

	"sugarwright/geom"
)

// flat turns curves into lines within tol (METHODS 1: n from the second difference, uniform in t) that turn by step at
// most, for strokes, in their user space. A move without a segment is no line.
func (p Path) flat(tol, step float64, left *int) ([]polyline, error) {
	out := make([]polyline, 0, len(p))
	for _, s := range p {
		if len(s.cubic) == 0 && !s.closed {
			continue
		}
		l := polyline{pts: []pt{s.pts[0]}, smooth: []bool{false}, closed: s.closed}
		at := 0
		for _, cubic := range s.cubic {
			if !cubic {
				at++
				l.pts, l.smooth = append(l.pts, s.pts[at]), append(l.smooth, false)
				continue
			}
			c := [4]pt{s.pts[at], s.pts[at+1], s.pts[at+2], s.pts[at+3]}
			at += 3
			n := max(chords(c, tol), int(math.Ceil(turning(c)/step)))
			if at == 3 {
				l.from = leg(c[0], c[1], c[2], c[3])
			}
			if at == len(s.pts)-1 {
				back := leg(c[3], c[2], c[1], c[0])
				l.to = pt{-back[0], -back[1]}
			}
			if n > MaxChords {
				return nil, errChords
			}
			for i := 1; i <= n; i++ {
				q := c[3]
				if i < n {
					q = bezier(c, float64(i)/float64(n))
				}
				l.pts, l.smooth = append(l.pts, q), append(l.smooth, i < n)
			}
		}
		if n := len(l.pts); l.closed && n > 1 && l.pts[0] == l.pts[n-1] {
			l.pts, l.smooth = l.pts[:n-1], l.smooth[:n-1]
		}
		if *left -= len(l.pts); *left < 0 {
			return nil, errPoints
		}
		out = append(out, l)
	}
	return out, nil
}

var (
	errPoints = &OverBound{"points", MaxPoints}
	errChords = &OverBound{"chords", MaxChords}
	errDashes = &OverBound{"dashes", MaxDashes}
)

// chords is how many straight pieces a cubic needs.
func chords(c [4]pt, tol float64) int {
	m := math.Max(math.Hypot(c[0][0]-2*c[1][0]+c[2][0], c[0][1]-2*c[1][1]+c[2][1]),
		math.Hypot(c[1][0]-2*c[2][0]+c[3][0], c[1][1]-2*c[2][1]+c[3][1]))
	return int(math.Min(1e9, math.Max(1, math.Ceil(math.Sqrt(3*m/(4*tol))))))
}

// leg is the direction from a to the first of the others that is elsewhere, of length 1; zero when none is.
func leg(a pt, others ...pt) pt {
	for _, b := range others {
		if d := math.Hypot(b[0]-a[0], b[1]-a[1]); d > 0 {
			return pt{(b[0] - a[0]) / d, (b[1] - a[1]) / d}
		}
	}
	return pt{}
}

// turning is how far a cubic's legs turn in all, in radians: no less than the curve does.
func turning(c [4]pt) float64 {
	sum, last := 0.0, pt{}
	for i := 1; i < 4; i++ {
		leg := pt{c[i][0] - c[i-1][0], c[i][1] - c[i-1][1]}
		if leg == (pt{}) {
			continue
		}
		if last != (pt{}) {
			sum += math.Abs(math.Atan2(last[0]*leg[1]-last[1]*leg[0], last[0]*leg[0]+last[1]*leg[1]))
		}
		last = leg
	}
	return sum
}

// manyChords is where a curve is halved first: halves that lie beyond the section are not worth their pieces.
const manyChords = 64

// ring is a subpath as a ring under m, curves within tol; what lies beyond the square of half width reach is only wound
// round rightly.
func (s *subpath) ring(m geom.Affine, tol, reach float64, left *int) (geom.Ring[geom.TruePoint], error) {
	place := func(p pt) pt {
		x, y := m.Apply(p[0], p[1])
		return pt{x, y}
	}
	out := geom.Ring[geom.TruePoint]{geom.TruePoint(place(s.pts[0]))}
	at := 0
	for _, cubic := range s.cubic {
		if !cubic {
			at++
			out = append(out, geom.TruePoint(place(s.pts[at])))
			continue
		}
		c := [4]pt{place(s.pts[at]), place(s.pts[at+1]), place(s.pts[at+2]), place(s.pts[at+3])}
		at += 3
		out = bend(out, c, tol, reach, *left)
		if len(out) > *left {
			return nil, errPoints
		}
	}
	if *left -= len(out); *left < 0 {
		return nil, errPoints
	}
	if n := len(out); n > 1 && out[0] == out[n-1] {
		out = out[:n-1]
	}
	return out, nil
}

// bend adds a cubic's chords, its start excluded.
func bend(out geom.Ring[geom.TruePoint], c [4]pt, tol, reach float64, most int) geom.Ring[geom.TruePoint] {
	n := chords(c, tol)
	if len(out) > most {
		return out
	}
	if n > manyChords {
		if beyond(c, reach) {
			return append(out, geom.TruePoint(c[3]))
		}
		a, b := halves(c)
		return bend(bend(out, a, tol, reach, most), b, tol, reach, most)
	}
	for i := 1; i < n; i++ {
		out = append(out, geom.TruePoint(bezier(c, float64(i)/float64(n))))
	}
	return append(out, geom.TruePoint(c[3]))
}

// beyond tells whether a curve lies wholly on the far side of one side of the square.
func beyond(c [4]pt, reach float64) bool {
	for axis := 0; axis < 2; axis++ {
		lo := min(c[0][axis], c[1][axis], c[2][axis], c[3][axis])
		hi := max(c[0][axis], c[1][axis], c[2][axis], c[3][axis])
		if lo > reach || hi < -reach {
			return true
		}
	}
	return false
}

// halves cuts a cubic in its middle (de Casteljau).
func halves(c [4]pt) (a, b [4]pt) {
	mid := func(p, q pt) pt { return pt{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2} }
	p, q, r := mid(c[0], c[1]), mid(c[1], c[2]), mid(c[2], c[3])
	s, t := mid(p, q), mid(q, r)
	m := mid(s, t)
	return [4]pt{c[0], p, s, m}, [4]pt{m, t, r, c[3]}
}

// Flat is the outline in the true frame with curves within tol millimetres; what lies beyond the square of half width
// reach is only wound round rightly. A stroke comes as pieces that the non-zero rule unites. The points are taken from
// left; the error names the bound.
func (o *Outline) Flat(to geom.ToTrue, tol, reach float64, left *int) ([]geom.Ring[geom.TruePoint], error) {
	m := geom.Affine(to).Times(o.Matrix)
	if m.Det() == 0 {
		return nil, nil
	}
	var out []geom.Ring[geom.TruePoint]
	if o.Stroke == nil {
		for i := range o.Path {
			r, err := o.Path[i].ring(m, tol, reach, left)
			if err != nil {
				return nil, err
			}
			if len(r) > 2 {
				out = append(out, r)
			}
		}
		return out, nil
	}
	err := o.Stroke.pieces(o.Path, tol/stretch(m), left, func(piece []pt) {
		r := make(geom.Ring[geom.TruePoint], len(piece))
		for i, p := range piece {
			r[i][0], r[i][1] = m.Apply(p[0], p[1])
		}
		out = append(out, r)
	})
	return out, err
}

// extremes adds a path's outermost points, curves sampled.
func (p Path) extremes(m geom.Affine, b *box) {
	for _, s := range p {
		x, y := m.Apply(s.pts[0][0], s.pts[0][1])
		b.add(x, y)
		at := 0
		for _, cubic := range s.cubic {
			if !cubic {
				at++
				x, y := m.Apply(s.pts[at][0], s.pts[at][1])
				b.add(x, y)
				continue
			}
			var c [4]pt
			for k := range c {
				c[k][0], c[k][1] = m.Apply(s.pts[at+k][0], s.pts[at+k][1])
			}
			at += 3
			b.add(c[3][0], c[3][1])
			for axis := 0; axis < 2; axis++ {
				for _, t := range turningPoints(c[0][axis], c[1][axis], c[2][axis], c[3][axis]) {
					q := bezier(c, t)
					b.add(q[0], q[1])
				}
			}
		}
	}
}

// turningPoints are the parameters in (0,1) where a cubic's derivative vanishes.
func turningPoints(p0, p1, p2, p3 float64) []float64 {
	a, h, c := p3-3*p2+3*p1-p0, p2-2*p1+p0, p1-p0 // a t^2 + 2 h t + c = 0
	var out []float64
	add := func(t float64) {
		if t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	if d := h*h - a*c; d >= 0 {
		q := -(h + math.Copysign(math.Sqrt(d), h))
		if a != 0 {
			add(q / a)
		}
		if q != 0 {
			add(c / q)
		}
	}
	return out
}

func bezier(c [4]pt, t float64) pt {
	u := 1 - t
	w := [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
	return pt{
		w[0]*c[0][0] + w[1]*c[1][0] + w[2]*c[2][0] + w[3]*c[3][0],
		w[0]*c[0][1] + w[1]*c[1][1] + w[2]*c[2][1] + w[3]*c[3][1],
	}
}
