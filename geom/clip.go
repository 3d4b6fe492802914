package geom

import "math"

// ClipHalf keeps the part of a ring on the left of the line through o along d. Where the ring leaves and comes back,
// edges run to and fro on the line; they enclose no area, so signed areas stay exact.
func ClipHalf[P Frame](r Ring[P], o P, d Vec) Ring[P] {
	return clipInto(make(Ring[P], 0, len(r)+4), r, o, d)
}

// clipInto appends the clipped ring to out, which must not share its memory with r.
func clipInto[P Frame](out, r Ring[P], o P, d Vec) Ring[P] {
	if len(r) == 0 {
		return out
	}
	b := r[0]
	sb := d.Cross(Sub(b, o))
	for i := range r {
		a, sa := b, sb
		b = r[0]
		if i+1 < len(r) {
			b = r[i+1]
		}
		sb = d.Cross(Sub(b, o))
		if sa >= 0 {
			out = append(out, a)
		}
		if (sa < 0) != (sb < 0) {
			out = append(out, Add(a, Sub(b, a), sa/(sa-sb)))
		}
	}
	return out
}

// AreaInConvex is the area that a region and a convex counter-clockwise ring have in common.
func AreaInConvex[P Frame](r Region[P], convex Ring[P]) float64 {
	var c Clipper[P]
	return c.area(r, convex)
}

// Clipper measures overlaps again and again without taking new memory: this is the innermost loop of every fit.
type Clipper[P Frame] struct{ spare [2]Ring[P] }

func (c *Clipper[P]) area(r Region[P], convex Ring[P]) float64 {
	s, turn, spare := 0.0, 0, &c.spare
	for _, ring := range r {
		for i := range convex {
			if len(ring) < 3 {
				break
			}
			a := convex[i]
			d := Sub(convex[(i+1)%len(convex)], a)
			if !crosses(ring, a, d) {
				continue
			}
			spare[turn] = clipInto(spare[turn][:0], ring, a, d)
			ring, turn = spare[turn], 1-turn
		}
		s += ring.Area()
	}
	return s
}

// crosses tells whether some of a ring lies right of the line through o along d.
func crosses[P Frame](r Ring[P], o P, d Vec) bool {
	for _, p := range r {
		if d[0]*(p[1]-o[1]) < d[1]*(p[0]-o[0]) {
			return true
		}
	}
	return false
}

// IoU is intersection over union of a region and a convex counter-clockwise ring.
func (c *Clipper[P]) IoU(r Region[P], area float64, convex Ring[P]) float64 {
	i := c.area(r, convex)
	u := area + convex.Area() - i
	if u <= 0 {
		return 0
	}
	return math.Max(0, i/u)
}

// Rect is an oriented rectangle: Axis along Length.
type Rect[P Frame] struct {
	Centre        P
	Axis          Vec
	Length, Width float64
}

// Ring of the rectangle, counter-clockwise.
func (r Rect[P]) Ring() Ring[P] {
	u, v := r.Axis, r.Axis.Left()
	c := func(a, b float64) P { return Add(Add(r.Centre, u, a*r.Length/2), v, b*r.Width/2) }
	return Ring[P]{c(-1, -1), c(1, -1), c(1, 1), c(-1, 1)}
}

// SmallestRect is the rectangle of least area round a convex ring (one side lies on an edge of the hull).
func SmallestRect[P Frame](hull Ring[P]) Rect[P] {
	best, area := Rect[P]{}, math.Inf(1)
	for i := range hull {
		u := Sub(hull[(i+1)%len(hull)], hull[i]).Unit()
		if u == (Vec{}) {
			continue
		}
		r := RectAlong(hull, u)
		if a := r.Length * r.Width; a < area-1e-9 {
			best, area = r, a
		}
	}
	if best.Width > best.Length {
		best.Length, best.Width, best.Axis = best.Width, best.Length, best.Axis.Left()
	}
	return best
}

// RectAlong is the box of points in the frame turned to u; its length is along u.
func RectAlong[P Frame](pts []P, u Vec) Rect[P] {
	v := u.Left()
	lo, hi := Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		w := Vec{p[0], p[1]}
		a, b := w.Dot(u), w.Dot(v)
		lo, hi = Vec{math.Min(lo[0], a), math.Min(lo[1], b)}, Vec{math.Max(hi[0], a), math.Max(hi[1], b)}
	}
	cx, cy := (lo[0]+hi[0])/2, (lo[1]+hi[1])/2
	return Rect[P]{P{u[0]*cx + v[0]*cy, u[1]*cx + v[1]*cy}, u, hi[0] - lo[0], hi[1] - lo[1]}
}

// Map applies f to every point of a region; it is how a region goes from one frame to another.
func Map[P, Q Frame](r Region[P], f func(P) Q) Region[Q] {
	out := make(Region[Q], len(r))
	for i, ring := range r {
		out[i] = make(Ring[Q], len(ring))
		for j, p := range ring {
			out[i][j] = f(p)
		}
	}
	return out
}

// Thinned drops vertices that lie within tol of the line through their kept neighbours; areas move by less than tol
// times the length. It is for measuring and fitting, never for the shapes of a plan, whose neighbours share every
// vertex.
func Thinned[P Frame](r Ring[P], tol float64) Ring[P] {
	if len(r) < 8 {
		return r
	}
	far, d := 0, -1.0
	for i, p := range r {
		if e := Dist(r[0], p); e > d {
			far, d = i, e
		}
	}
	var out Ring[P]
	var walk func(lo, hi int)
	walk = func(lo, hi int) {
		a, b := r[lo], r[hi%len(r)]
		w, worst := -1, tol
		for i := lo + 1; i < hi; i++ {
			if e := SegmentDist(r[i], a, b); e > worst {
				w, worst = i, e
			}
		}
		if w < 0 {
			out = append(out, a)
			return
		}
		walk(lo, w)
		walk(w, hi)
	}
	walk(0, far)
	walk(far, len(r))
	if len(out) < 3 {
		return r
	}
	return out
}

// SegmentDist is the distance of p from the segment a to b.
func SegmentDist[P Frame](p, a, b P) float64 { return math.Sqrt(SegmentDist2(p, a, b)) }

// LineDist is the distance of p from an open line.
func LineDist[P Frame](p P, line Ring[P]) float64 {
	d := math.Inf(1)
	for i := 0; i+1 < len(line); i++ {
		if e := SegmentDist2(p, line[i], line[i+1]); e < d {
			d = e
		}
	}
	return math.Sqrt(d)
}

func SegmentDist2[P Frame](p, a, b P) float64 {
	dx, dy, wx, wy := b[0]-a[0], b[1]-a[1], p[0]-a[0], p[1]-a[1]
	if t := wx*dx + wy*dy; t > 0 {
		if l := dx*dx + dy*dy; t < l {
			t /= l
			wx, wy = wx-t*dx, wy-t*dy
		} else {
			wx, wy = p[0]-b[0], p[1]-b[1]
		}
	}
	return wx*wx + wy*wy
}

// LinesMeet is the point where the line through a along u meets the line through b along v; ok is false when they are
// parallel.
func LinesMeet[P Frame](a P, u Vec, b P, v Vec) (P, bool) {
	c := u.Cross(v)
	if math.Abs(c) < 1e-12*(1+u.Len()*v.Len()) {
		return a, false
	}
	return Add(a, u, Sub(b, a).Cross(v)/c), true
}
