package artwork

import (
	"math"
	"slices"
)

// Cap of an open line's ends.
type Cap int

// Join of two segments.
type Join int

// The caps and joins of SVG.
const (
	ButtCap Cap = iota
	RoundCap
	SquareCap

	MiterJoin Join = iota - 3
	RoundJoin
	BevelJoin
	MiterClipJoin
)

// Stroke says how a line is painted; lengths in user units.
type Stroke struct {
	Width      float64
	Cap        Cap
	Join       Join
	MiterLimit float64
	Dashes     []float64
	Offset     float64
	PathLength float64 // what the dashes take the whole path's length for; 0: what it is
}

// leastStep bounds the points of an arc: a stroke for which it is too coarse is wider than any log.
const leastStep = 0.01

// reach is how far a stroke's paint lies from its path at most, in user units.
func (s *Stroke) reach() float64 {
	k := math.Sqrt2 // a square cap's corner
	if s.Join == MiterJoin || s.Join == MiterClipJoin {
		k = math.Max(k, s.MiterLimit)
	}
	return k * s.Width / 2
}

// pieces covers the stroke by small polygons, all counter-clockwise, which the non-zero rule unites: a quadrilateral a
// segment, joins (round inside curves), caps (Nehab 2020: inner joins and cusps come right because every segment is
// swept whole).
func (s *Stroke) pieces(path Path, tol float64, left *int, add func([]pt)) error {
	r := s.Width / 2
	if r <= 0 {
		return nil
	}
	step := math.Pi / 4 // largest turn of an arc's chord at radius r
	if tol < r {
		step = math.Max(leastStep, math.Min(step, 2*math.Acos(1-tol/r)))
	}
	emit := func(p ...pt) {
		if *left -= len(p); *left < 0 {
			return
		}
		if area(p) < 0 {
			slices.Reverse(p)
		}
		add(p)
	}
	lines, err := path.flat(tol, step, left)
	if err != nil {
		return err
	}
	if lines, err = s.dashed(lines); err != nil {
		return err
	}
	for _, l := range lines {
		if s.one(l, r, step, emit); *left < 0 {
			return errPoints
		}
	}
	return nil
}

func area(p []pt) float64 {
	a := 0.0
	for i := range p {
		q := p[(i+1)%len(p)]
		a += p[i][0]*q[1] - q[0]*p[i][1]
	}
	return a
}

// one strokes a flattened line.
func (s *Stroke) one(l polyline, r, step float64, emit func(...pt)) {
	pts, smooth := distinct(l)
	n := len(pts)
	if n == 1 {
		switch c := pts[0]; s.Cap {
		case RoundCap:
			emit(fan(c, 0, 2*math.Pi, r, step)...)
		case SquareCap:
			emit(pt{c[0] - r, c[1] - r}, pt{c[0] + r, c[1] - r}, pt{c[0] + r, c[1] + r}, pt{c[0] - r, c[1] + r})
		}
		return
	}
	segs := n - 1
	if l.closed {
		segs = n
	}
	dir := func(i int) (float64, float64) {
		a, b := pts[i%n], pts[(i+1)%n]
		d := math.Hypot(b[0]-a[0], b[1]-a[1])
		return (b[0] - a[0]) / d, (b[1] - a[1]) / d
	}
	for i := 0; i < segs; i++ {
		a, b := pts[i], pts[(i+1)%n]
		u, v := dir(i)
		start, end := pt{u, v}, pt{u, v}
		if i == 0 && !l.closed && along(l.from, start, step) {
			start = l.from
		}
		if i == segs-1 && !l.closed && along(l.to, end, step) {
			end = l.to
		}
		// Two triangles: cut along the curve's own directions at its ends, the sides may cross.
		p, q := pt{a[0] + r*start[1], a[1] - r*start[0]}, pt{b[0] - r*end[1], b[1] + r*end[0]}
		if start == end {
			emit(p, pt{b[0] + r*end[1], b[1] - r*end[0]}, q, pt{a[0] - r*start[1], a[1] + r*start[0]})
		} else {
			emit(p, pt{b[0] + r*end[1], b[1] - r*end[0]}, q)
			emit(p, q, pt{a[0] - r*start[1], a[1] + r*start[0]})
		}
		if s.Cap == SquareCap && !l.closed {
			if i == 0 {
				square(a, pt{-start[0], -start[1]}, r, emit)
			}
			if i == segs-1 {
				square(b, end, r, emit)
			}
		}
		if i+1 < segs || l.closed {
			j := (i + 1) % n
			u2, v2 := dir(i + 1)
			e := pts[(i+2)%n]
			least := math.Min(math.Hypot(pts[j][0]-pts[i][0], pts[j][1]-pts[i][1]),
				math.Hypot(e[0]-pts[j][0], e[1]-pts[j][1]))
			s.join(pts[j], u, v, u2, v2, smooth[j], r, step, least, emit)
		}
	}
	if !l.closed && s.Cap == RoundCap {
		u, v := dir(0)
		a := math.Atan2(u, -v)
		emit(fan(pts[0], a, math.Pi, r, step)...)
		u, v = dir(segs - 1)
		a = math.Atan2(-u, v)
		emit(fan(pts[n-1], a, math.Pi, r, step)...)
	}
}

// along tells whether a curve's own direction at its end is that of its chord but for what a chord or two may turn; a
// leg of no account may point anywhere.
func along(d, chord pt, step float64) bool {
	return d[0]*chord[0]+d[1]*chord[1] > math.Cos(math.Min(2*step, 1))
}

// square is the half of a square cap beyond a line's end at c, in direction d.
func square(c, d pt, r float64, emit func(...pt)) {
	x, y := r*d[0], r*d[1]
	emit(pt{c[0] + y, c[1] - x}, pt{c[0] + y + x, c[1] - x + y}, pt{c[0] - y + x, c[1] + x + y}, pt{c[0] - y, c[1] + x})
}

// join fills the outside of a corner at c from direction (u, v) to (u2, v2). Inside a curve it fills the other side
// too, where the pen is so wide that the pieces, of which the shorter is least long, do not overlap there.
func (s *Stroke) join(c pt, u, v, u2, v2 float64, smooth bool, r, step, least float64, emit func(...pt)) {
	sin, cos := u*v2-v*u2, u*u2+v*v2
	turn := math.Atan2(sin, cos)
	if math.Abs(turn) < 1e-9 {
		return
	}
	side := -1.0 // the outside is right of a left turn
	if turn < 0 {
		side = 1
	}
	p := pt{c[0] - side*r*v, c[1] + side*r*u}
	q := pt{c[0] - side*r*v2, c[1] + side*r*u2}
	switch {
	case smooth || s.Join == RoundJoin:
		emit(append(fan(c, math.Atan2(p[1]-c[1], p[0]-c[0]), turn, r, step), c)...)
		if smooth && r*math.Tan(math.Min(math.Abs(turn), 3)/2) > least {
			emit(append(fan(c, math.Atan2(c[1]-p[1], c[0]-p[0]), turn, r, step), c)...)
		}
	case (s.Join == MiterJoin || s.Join == MiterClipJoin) && 1 <= s.MiterLimit*math.Cos(turn/2):
		k := r / math.Cos(turn/2)
		mx, my := -side*(v+v2), side*(u+u2)
		h := math.Hypot(mx, my)
		if h < 1e-12 {
			emit(c, p, q)
			return
		}
		emit(c, p, pt{c[0] + k*mx/h, c[1] + k*my/h}, q)
	case s.Join == MiterClipJoin: // the point of the miter is cut off square at the limit
		mx, my := -side*(v+v2), side*(u+u2)
		h := math.Hypot(mx, my)
		if h < 1e-12 {
			mx, my, h = u, v, 1
		}
		mx, my = mx/h, my/h
		rise := (p[0]-c[0])*mx + (p[1]-c[1])*my // of both ends of the bevel over the corner
		d := math.Max(0, s.MiterLimit*r-rise)   // how far the sides run on, measured along the middle
		if along := u*mx + v*my; along > 1e-9 {
			d /= along
		} else {
			d = 0
		}
		emit(c, p, pt{p[0] + d*u, p[1] + d*v}, pt{q[0] - d*u2, q[1] - d*v2}, q)
	default:
		emit(c, p, q)
	}
}

// fan lists points on a circle from angle a through turn, both ends included.
func fan(c pt, a, turn, r, step float64) []pt {
	n := int(math.Max(2, math.Ceil(math.Abs(turn)/step)))
	out := make([]pt, 0, n+2)
	for i := 0; i <= n; i++ {
		sin, cos := math.Sincos(a + turn*float64(i)/float64(n))
		out = append(out, pt{c[0] + r*cos, c[1] + r*sin})
	}
	return out
}

// distinct drops repeated points.
func distinct(l polyline) ([]pt, []bool) {
	pts, smooth := []pt{l.pts[0]}, []bool{l.smooth[0]}
	for i, p := range l.pts[1:] {
		if p != pts[len(pts)-1] {
			pts, smooth = append(pts, p), append(smooth, l.smooth[i+1])
		}
	}
	if l.closed && len(pts) > 1 && pts[0] == pts[len(pts)-1] {
		pts, smooth = pts[:len(pts)-1], smooth[:len(smooth)-1]
	}
	return pts, smooth
}

// dashed cuts lines into dashes, anew for each subpath; none where the pattern is empty or sums to nothing.
func (s *Stroke) dashed(lines []polyline) ([]polyline, error) {
	t, sum := *s, 0.0
	if s.PathLength > 0 {
		whole := 0.0
		for _, l := range lines {
			whole += l.length()
		}
		t.Dashes, t.Offset = slices.Clone(s.Dashes), s.Offset*whole/s.PathLength
		for i := range t.Dashes {
			t.Dashes[i] *= whole / s.PathLength
		}
	}
	for _, d := range t.Dashes {
		sum += d
	}
	if len(t.Dashes) == 0 || !(sum > 0) {
		return lines, nil
	}
	var out []polyline
	for _, l := range lines {
		if out = append(out, t.dashOne(l, sum)...); len(out) > MaxDashes {
			return nil, errDashes
		}
	}
	return out, nil
}

func (l *polyline) length() float64 {
	sum := 0.0
	for i := 1; i < len(l.pts); i++ {
		sum += math.Hypot(l.pts[i][0]-l.pts[i-1][0], l.pts[i][1]-l.pts[i-1][1])
	}
	if n := len(l.pts); l.closed && n > 1 {
		sum += math.Hypot(l.pts[0][0]-l.pts[n-1][0], l.pts[0][1]-l.pts[n-1][1])
	}
	return sum
}

func (s *Stroke) dashOne(l polyline, sum float64) []polyline {
	pts, smooth := distinct(l)
	if len(pts) < 2 {
		return []polyline{l}
	}
	if l.closed {
		pts, smooth = append(pts, pts[0]), append(smooth, false)
	}
	dashes := s.Dashes
	if len(dashes)%2 == 1 {
		dashes, sum = append(append([]float64(nil), dashes...), dashes...), 2*sum
	}
	k, left := 0, math.Mod(math.Mod(s.Offset, sum)+sum, sum)
	for left >= dashes[k] && left > 0 {
		left -= dashes[k]
		k = (k + 1) % len(dashes)
	}
	left = dashes[k] - left
	startsOn := k%2 == 0
	var out []polyline
	cur := polyline{pts: []pt{pts[0]}, smooth: []bool{false}}
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		d := math.Hypot(b[0]-a[0], b[1]-a[1])
		at := 0.0
		for d-at > left {
			at += left
			p := pt{a[0] + (b[0]-a[0])*at/d, a[1] + (b[1]-a[1])*at/d}
			if k%2 == 0 {
				cur.pts, cur.smooth = append(cur.pts, p), append(cur.smooth, false)
				out = append(out, cur)
			}
			cur = polyline{pts: []pt{p}, smooth: []bool{false}}
			k = (k + 1) % len(dashes)
			left = dashes[k]
			if len(out) > MaxDashes {
				return out
			}
		}
		left -= d - at
		cur.pts, cur.smooth = append(cur.pts, b), append(cur.smooth, smooth[i+1])
	}
	if k%2 == 0 {
		if l.closed && startsOn && len(out) > 0 { // the last dash runs on into the first
			first := out[0]
			cur.pts, cur.smooth = append(cur.pts, first.pts[1:]...), append(cur.smooth, first.smooth[1:]...)
			out[0] = cur
		} else {
			out = append(out, cur)
		}
	}
	return out
}
