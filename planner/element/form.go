package element

import (
	"math"

	"sugarwright/geom"
)

// Form is how hands make a part.
type Form int

// The forms. Strip may be straight or bent; Wrap closes round what is inside it.
const (
	Rod Form = iota
	Strip
	Bent // a strip that is bent when laid; printed as strip
	BlockForm
	Wedge
	Segment
	Teardrop
	Wrap
	Forms // their number
)

func (f Form) String() string {
	return [...]string{"rod", "strip", "strip", "block", "wedge", "segment", "teardrop", "wrap", "?"}[f]
}

// Fit is a form with the sizes that suit a region best, in millimetres, and how well: intersection over union, for bent strips and
// wraps developed at mid thickness.
type Fit struct {
	Form Form
	IoU  float64
	// By form: rod diameter; strip thickness, width; block width, height; wedge base, height, top, apex offset; segment chord, height;
	// teardrop diameter, length; bent strip and wrap thickness, developed width.
	A, B, C, D float64
	// Pressed is the overlap once the part is pressed onto what it lies on: for a half-moon on a round, its heights against those of a
	// straight half-moon. It prices ground, which gives way; IoU is what is printed.
	Pressed float64
	Turn    float64 // bent strips: radians from end to end
}

// segmentSides is enough for a chord error below 1 % of a segment's height.
const segmentSides = 16

// stripAspect is the length over thickness from which a rectangle is called a strip, not a block (common practice, no source).
const stripAspect = 2.2

// solid is a region prepared for fitting.
type solid[P geom.Frame] struct {
	r    geom.Region[P]
	area float64
	hull geom.Ring[P]
	mom  geom.Moments[P]
	best float64 // overlap of the plainest forms: what starts far below it is not climbed
}

// hopeless is how far below the best form so far a start may lie and still be climbed; tuned: the splits of the test drawings stay the same.
const hopeless = 0.35

// FitAll fits every form that a region can take; forms that make no sense for it are left out. The region's vertices may be thinned
// by 0.05 mm first, which moves an IoU by less than 0.005 on parts above 10 mm.
func FitAll[P geom.Frame](r geom.Region[P]) []Fit {
	thin := make(geom.Region[P], len(r))
	for i, ring := range r {
		thin[i] = geom.Thinned(ring, 0.05)
	}
	if len(r) > 1 {
		return fitRing(r)
	}
	s := solid[P]{r: thin, area: thin.Area(), hull: geom.Hull(thin[0]), mom: geom.MomentsOf(thin)}
	if s.area <= 0 || len(s.hull) < 3 {
		return nil
	}
	out := []Fit{s.rod(), s.rect(), s.wedge()}
	for _, f := range out {
		s.best = math.Max(s.best, f.IoU)
	}
	out = append(out, s.segment(), s.teardrop())
	if b, ok := fitBent(r); ok {
		out = append(out, b)
	}
	sound := out[:0]
	for _, f := range out { // a degenerate outline can leave a form without a size
		if !math.IsNaN(f.IoU+f.A+f.B+f.C+f.D) && !math.IsInf(f.A+f.B+f.C+f.D, 0) {
			sound = append(sound, f)
		}
	}
	return sound
}

func (s *solid[P]) iou(ring geom.Ring[P]) float64 { return geom.IoU(s.r, s.area, ring) }

func (s *solid[P]) rod() Fit {
	c := geom.Circle[P]{Centre: s.mom.Centroid, Radius: math.Sqrt(s.area / math.Pi)}
	return Fit{Form: Rod, IoU: s.iou(c.Polygon(32)), A: 2 * c.Radius}
}

// climb improves parameters by coordinate steps that halve, a fixed number of times: enough for 1 % of the size.
func climb(x []float64, step float64, score func([]float64) float64) float64 {
	best := score(x)
	for round := 0; round < 4; round++ {
		for again, tries := true, 0; again && tries < 3; tries++ {
			again = false
			for i := range x {
				for _, d := range [2]float64{step, -step} {
					old := x[i]
					x[i] += d
					if v := score(x); v > best+1e-6 {
						best, again = v, true
						break
					}
					x[i] = old
				}
			}
		}
		step /= 2
	}
	return best
}

func (s *solid[P]) rect() Fit {
	best := Fit{Form: BlockForm}
	for _, box := range []geom.Rect[P]{geom.SmallestRect(s.hull), geom.RectAlong(s.hull, s.mom.Axis())} {
		k := math.Sqrt(math.Min(1, s.area/(box.Length*box.Width)))
		x := []float64{box.Length * k, box.Width * k, 0, 0}
		at := func(x []float64) geom.Ring[P] {
			r := box
			r.Length, r.Width = math.Max(0.01, x[0]), math.Max(0.01, x[1])
			r.Centre = geom.Add(geom.Add(box.Centre, box.Axis, x[2]), box.Axis.Left(), x[3])
			return r.Ring()
		}
		v := climb(x, 0.08*math.Sqrt(s.area), func(x []float64) float64 { return s.iou(at(x)) })
		if v > best.IoU {
			best.IoU, best.A, best.B = v, math.Max(x[0], x[1]), math.Min(x[0], x[1])
		}
	}
	if best.A > stripAspect*best.B {
		best.Form, best.A, best.B = Strip, best.B, best.A
	}
	return best
}

// trapezoid with its base from o along u, counter-clockwise; top 0 is a triangle. Apex is the offset of the top's middle from the base's start.
func trapezoid[P geom.Frame](o P, u geom.Vec, base, height, top, apex float64) geom.Ring[P] {
	v := u.Left()
	p := func(a, b float64) P { return geom.Add(geom.Add(o, u, a), v, b) }
	if top <= 1e-6 {
		return geom.Ring[P]{o, p(base, 0), p(apex, height)}
	}
	return geom.Ring[P]{o, p(base, 0), p(apex+top/2, height), p(apex-top/2, height)}
}

// wedge tries each side of the hull cut down to four and three sides as the base.
func (s *solid[P]) wedge() Fit {
	best := Fit{Form: Wedge}
	for n := 4; n >= 3; n-- {
		q := fewerSides(s.hull, n)
		for i := range q {
			a, b := q[i], q[(i+1)%len(q)]
			u := geom.Sub(b, a).Unit()
			box := geom.RectAlong(q, u)
			h := box.Width
			apex, top := 0.0, 0.0
			if len(q) == 3 {
				apex = geom.Sub(q[(i+2)%3], a).Dot(u)
			} else {
				c, d := geom.Sub(q[(i+2)%4], a).Dot(u), geom.Sub(q[(i+3)%4], a).Dot(u)
				apex, top = (c+d)/2, c-d
				hc, hd := geom.Sub(q[(i+2)%4], a).Dot(u.Left()), geom.Sub(q[(i+3)%4], a).Dot(u.Left())
				h = (hc + hd) / 2
				if top < 0 || top > geom.Dist(a, b) || math.Abs(hc-hd) > 0.5*h {
					continue
				}
			}
			if v := s.iou(trapezoid(a, u, geom.Dist(a, b), h, top, apex)); v < best.IoU-0.08 {
				continue
			}
			x := []float64{geom.Dist(a, b), h, top, apex, 0, 0}
			v := climb(x, 0.06*math.Sqrt(s.area), func(x []float64) float64 {
				if x[0] <= 0.01 || x[1] <= 0.01 || x[2] < 0 || x[2] > x[0] {
					return 0
				}
				return s.iou(trapezoid(geom.Add(geom.Add(a, u, x[4]), u.Left(), x[5]), u, x[0], x[1], x[2], x[3]))
			})
			if v > best.IoU {
				best = Fit{Form: Wedge, IoU: v, A: x[0], B: x[1], C: x[2], D: x[3]}
			}
		}
	}
	if best.C > 0.85*best.A { // a wedge that hardly narrows is a block
		best.IoU *= 0.9
	}
	return best
}

// fewerSides cuts a convex ring down to n sides by taking away, again and again, the side whose neighbours meet with least area added.
func fewerSides[P geom.Frame](hull geom.Ring[P], n int) geom.Ring[P] {
	q := append(geom.Ring[P](nil), hull...)
	for len(q) > n {
		best, at, add := -1, P{}, math.Inf(1)
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

// SegmentRing is a circular segment with its chord from o along u, counter-clockwise, bulging to the left of u.
func segmentRing[P geom.Frame](o P, u geom.Vec, chord, height float64) geom.Ring[P] {
	r := (chord*chord/4 + height*height) / (2 * height)
	c := geom.Add(geom.Add(o, u, chord/2), u.Left(), height-r)
	a0 := geom.Sub(geom.Add(o, u, chord), c).Angle()
	sweep := 2 * math.Atan2(chord/2, r-height)
	out := make(geom.Ring[P], 0, segmentSides+1)
	for i := 0; i <= segmentSides; i++ {
		out = append(out, geom.Add(c, geom.Polar(a0+sweep*float64(i)/segmentSides), r))
	}
	return out
}

func (s *solid[P]) segment() Fit {
	best := Fit{Form: Segment}
	h := geom.Thinned(s.hull, 0.02*math.Sqrt(s.area))
	long := 0.0
	for i := range h {
		long = math.Max(long, geom.Dist(h[i], h[(i+1)%len(h)]))
	}
	for i := range h {
		a, b := h[i], h[(i+1)%len(h)]
		if geom.Dist(a, b) < 0.75*long {
			continue
		}
		u := geom.Sub(b, a).Unit()
		box := geom.RectAlong(s.hull, u)
		o := geom.Add(geom.Add(box.Centre, u, -box.Length/2), u.Left(), -box.Width/2)
		x := []float64{box.Length, box.Width, 0, 0}
		if x[1] <= 0.75*x[0] && s.iou(segmentRing(o, u, x[0], x[1])) < s.best-hopeless {
			continue
		}
		v := climb(x, 0.06*math.Sqrt(s.area), func(x []float64) float64 {
			if x[0] <= 0.01 || x[1] <= 0.01 || x[1] > 0.75*x[0] {
				return 0
			}
			return s.iou(segmentRing(geom.Add(geom.Add(o, u, x[2]), u.Left(), x[3]), u, x[0], x[1]))
		})
		if v > best.IoU {
			best = Fit{Form: Segment, IoU: v, A: x[0], B: x[1]}
		}
	}
	best.Pressed = s.crescent()
	return best
}

// crescent compares the region's heights over its concave side with those of a half-moon: 0 when it is none.
func (s *solid[P]) crescent() float64 {
	ring := s.r[0]
	n := len(ring)
	// The two tips are the ends of the longest edge of the hull.
	h := s.hull
	a, b, long := h[0], h[0], 0.0
	for i := range h {
		if d := geom.Dist(h[i], h[(i+1)%len(h)]); d > long {
			a, b, long = h[i], h[(i+1)%len(h)], d
		}
	}
	ia, ib := -1, -1
	for i, p := range ring {
		if p == a {
			ia = i
		}
		if p == b {
			ib = i
		}
	}
	if ia < 0 || ib < 0 {
		return 0
	}
	side := func(from, to int) geom.Ring[P] {
		var out geom.Ring[P]
		for i := from; ; i = (i + 1) % n {
			out = append(out, ring[i])
			if i == to || len(out) > n {
				return out
			}
		}
	}
	inner, outer := side(ia, ib), side(ib, ia)
	const samples = 24
	lo, hi, top := 0.0, 0.0, 0.0
	var heights [samples]float64
	for i := range heights {
		p := along(outer, (float64(i)+0.5)/samples)
		heights[i] = lineDist(p, inner)
		top = math.Max(top, heights[i])
	}
	for i, v := range heights {
		x := 2*(float64(i)+0.5)/samples - 1
		want := top * (1 - x*x) // a flat half-moon is near a parabola
		lo, hi = lo+math.Min(v, want), hi+math.Max(v, want)
	}
	if hi == 0 {
		return 0
	}
	return lo / hi
}

// along is the point at a share of an open line's length.
func along[P geom.Frame](c geom.Ring[P], share float64) P {
	left := share * openLen(c)
	for i := 0; i+1 < len(c); i++ {
		d := geom.Dist(c[i], c[i+1])
		if left <= d && d > 0 {
			return geom.Add(c[i], geom.Sub(c[i+1], c[i]), left/d)
		}
		left -= d
	}
	return c[len(c)-1]
}

// teardropRing is a round end with a tangent point: the hull of a disc and its tip.
func teardropRing[P geom.Frame](c P, u geom.Vec, d, length float64) geom.Ring[P] {
	r := d / 2
	tip := length - r
	if tip <= r {
		return geom.Circle[P]{Centre: c, Radius: r}.Polygon(24)
	}
	a := math.Acos(r / tip)
	out := geom.Ring[P]{geom.Add(c, u, tip)}
	for i := 0; i <= 20; i++ {
		t := u.Angle() + a + (2*math.Pi-2*a)*float64(i)/20
		out = append(out, geom.Add(c, geom.Polar(t), r))
	}
	return out
}

func (s *solid[P]) teardrop() Fit {
	far, dist := s.hull[0], 0.0
	for _, p := range s.hull {
		if d := geom.Dist(p, s.mom.Centroid); d > dist+1e-9 {
			far, dist = p, d
		}
	}
	u := geom.Sub(far, s.mom.Centroid).Unit()
	box := geom.RectAlong(s.hull, u)
	x := []float64{math.Min(box.Width, box.Length), box.Length, 0, 0, u.Angle()}
	back := geom.Add(box.Centre, u, -box.Length/2)
	if s.iou(teardropRing(geom.Add(back, u, x[0]/2), u, x[0], x[1])) < s.best-hopeless {
		return Fit{Form: Teardrop}
	}
	v := climb(x, 0.06*math.Sqrt(s.area), func(x []float64) float64 {
		if x[0] <= 0.01 || x[1] < 1.15*x[0] || x[1] > 4*x[0] {
			return 0
		}
		w := geom.Polar(u.Angle() + (x[4]-u.Angle())/math.Sqrt(s.area))
		c := geom.Add(geom.Add(back, w, x[0]/2+x[2]), w.Left(), x[3])
		return s.iou(teardropRing(c, w, x[0], x[1]))
	})
	return Fit{Form: Teardrop, IoU: v, A: x[0], B: x[1]}
}
