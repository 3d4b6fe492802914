package form

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
	Block
	Wedge
	Segment
	Teardrop
	Wrap
	Forms // their number
)

func (f Form) String() string {
	return [...]string{"rod", "strip", "strip", "block", "wedge", "segment", "teardrop", "wrap", "?"}[f]
}

// Fit is a form with the sizes that suit a region best, in millimetres, and how well: intersection over union, for bent
// strips and wraps developed at mid thickness.
type Fit struct {
	Form Form
	IoU  float64
	// By form: rod diameter; strip thickness, width; block width, height; wedge base, height, top, apex offset; segment
	// chord, height; teardrop diameter, length; bent strip and wrap thickness, developed width.
	A, B, C, D float64
	// Pressed is the overlap once the part is pressed onto what it lies on: for a half-moon on a round, its heights
	// against those of a straight half-moon. It prices ground, which gives way; IoU is what is printed.
	Pressed float64
	Turn    float64 // bent strips: radians from end to end
}

// arcSides draws the arc of a half-moon or a teardrop: the polygon is given the arc's area, so ten sides move a fit by
// less than 0.01.
const arcSides = 10

// solid is a region prepared for fitting.
type solid[P geom.Frame] struct {
	r    geom.Region[P]
	area float64
	hull geom.Ring[P]
	mom  geom.Moments[P]
	best float64 // overlap of the best form so far
	clip geom.Clipper[P]
	line geom.Ring[P] // spare memory for forms
	Effort
}

// FitAll fits every form that a region can take; forms that make no sense for it are left out. The region's vertices
// may be thinned by 0.05 mm first, which moves an IoU by less than 0.005 on parts above 10 mm.
func FitAll[P geom.Frame](r geom.Region[P]) []Fit {
	return Fits(r, Fine, func(Form, Fit) bool { return true })
}

// Fits tries, with an effort, forms that are worth it beside the best so far.
func Fits[P geom.Frame](r geom.Region[P], e Effort, worth func(form Form, best Fit) bool) []Fit {
	thin := make(geom.Region[P], len(r))
	for i, ring := range r {
		thin[i] = geom.Thinned(ring, e.tol)
	}
	if len(r) > 1 {
		return fitRing(r)
	}
	s := solid[P]{r: thin, area: thin.Area(), hull: geom.Hull(thin[0]), mom: geom.MomentsOf(thin), Effort: e}
	if s.area <= 0 || len(s.hull) < 3 {
		return nil
	}
	var out []Fit
	best := Fit{}
	for _, f := range []struct {
		form Form
		fit  func() Fit
	}{{Rod, s.rod}, {Block, s.rect}, {Segment, s.segment}, {Wedge, s.wedge}, {Teardrop, s.teardrop}} {
		if !worth(f.form, best) {
			continue
		}
		fit := f.fit()
		if fit.IoU > best.IoU {
			best = fit
		}
		s.best = best.IoU
		out = append(out, fit)
	}
	if s.area < Tuned.StraightFill*s.hull.Area() { // what fills its hull is not bent
		if b, ok := FitBent(r); ok {
			out = append(out, b)
		}
	}
	sound := out[:0]
	for _, f := range out { // a degenerate outline can leave a form without a size
		if !math.IsNaN(f.IoU+f.A+f.B+f.C+f.D) && !math.IsInf(f.A+f.B+f.C+f.D, 0) {
			sound = append(sound, f)
		}
	}
	return sound
}

func (s *solid[P]) iou(ring geom.Ring[P]) float64 { return s.clip.IoU(s.r, s.area, ring) }

func (s *solid[P]) rod() Fit {
	c := geom.Circle[P]{Centre: s.mom.Centroid, Radius: math.Sqrt(s.area / math.Pi)}
	return Fit{Form: Rod, IoU: s.iou(c.Polygon(24)), A: 2 * c.Radius}
}

func (s *solid[P]) rect() Fit {
	var trials []trial[P]
	for _, box := range []geom.Rect[P]{geom.SmallestRect(s.hull), geom.RectAlong(s.hull, s.mom.Axis())} {
		k := math.Sqrt(math.Min(1, s.area/(box.Length*box.Width)))
		trials = append(
			trials,
			trial[P]{
				x: []float64{box.Length * k, box.Width * k, 0, 0},
				ring: func(out geom.Ring[P], x []float64) geom.Ring[P] {
					l, w := geom.Vec{
						box.Axis[0] * x[0] / 2,
						box.Axis[1] * x[0] / 2,
					}, geom.Vec{
						-box.Axis[1] * x[1] / 2,
						box.Axis[0] * x[1] / 2,
					}
					c := geom.Add(geom.Add(box.Centre, box.Axis, x[2]), box.Axis.Left(), x[3])
					if x[0] <= 0.01 || x[1] <= 0.01 {
						return nil
					}
					return append(out, geom.Add(geom.Add(c, l, -1), w, -1), geom.Add(geom.Add(c, l, 1), w, -1),
						geom.Add(geom.Add(c, l, 1), w, 1), geom.Add(geom.Add(c, l, -1), w, 1))
				},
			},
		)
	}
	t, ok := s.fit(trials)
	if !ok {
		return Fit{Form: Block}
	}
	long, short := math.Max(t.x[0], t.x[1]), math.Min(t.x[0], t.x[1])
	if long > Tuned.StripAspect*short {
		return Fit{Form: Strip, IoU: t.iou, A: short, B: long}
	}
	return Fit{Form: Block, IoU: t.iou, A: long, B: short}
}

// trapezoid with its base from o along u, counter-clockwise; top 0 is a triangle. Apex is the offset of the top's
// middle from the base's start.
func trapezoid[P geom.Frame](out geom.Ring[P], o P, u geom.Vec, base, height, top, apex float64) geom.Ring[P] {
	v := u.Left()
	p := func(a, b float64) P { return geom.Add(geom.Add(o, u, a), v, b) }
	if top <= 1e-6 {
		return append(out, o, p(base, 0), p(apex, height))
	}
	return append(out, o, p(base, 0), p(apex+top/2, height), p(apex-top/2, height))
}

// wedge tries each side of the hull cut down to four and three sides as the base.
func (s *solid[P]) wedge() Fit {
	var trials []trial[P]
	for n := 4; n >= 3; n-- {
		q := fewerSides(s.hull, n)
		for i := range q {
			a, b := q[i], q[(i+1)%len(q)]
			u := geom.Sub(b, a).Unit()
			h := geom.RectAlong(q, u).Width
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
			trials = append(
				trials,
				trial[P]{
					x: []float64{geom.Dist(a, b), h, top, apex, 0, 0},
					ring: func(out geom.Ring[P], x []float64) geom.Ring[P] {
						if x[0] <= 0.01 || x[1] <= 0.01 || x[2] < 0 || x[2] > x[0] {
							return nil
						}
						return trapezoid(out, geom.Add(geom.Add(a, u, x[4]), u.Left(), x[5]), u, x[0], x[1], x[2], x[3])
					},
				},
			)
		}
	}
	t, ok := s.fit(trials)
	if !ok {
		return Fit{Form: Wedge}
	}
	f := Fit{Form: Wedge, IoU: t.iou, A: t.x[0], B: t.x[1], C: t.x[2], D: t.x[3]}
	if f.C > 0.85*f.A { // a wedge that hardly narrows is a block
		f.IoU *= 0.9
	}
	return f
}

// fewerSides cuts a convex ring down to n sides by taking away, again and again, the side whose neighbours meet with
// least area added.
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

// arc appends a circular arc counter-clockwise: its ends on the circle, the points between them so far outside it that
// sectors have the arc's area.
func arc[P geom.Frame](out geom.Ring[P], c P, r, from, sweep float64) geom.Ring[P] {
	step := sweep / arcSides
	// The two end triangles have one point on the circle, the others two outside: r k sin(step) (2 + (n-2) k) = n r
	// step.
	n, s := float64(arcSides), math.Sin(step)
	k := 1.0
	if s > 1e-9 {
		k = (math.Sqrt(4+4*(n-2)*n*step/s) - 2) / (2 * (n - 2))
	}
	for i := 0; i <= arcSides; i++ {
		d := r
		if i > 0 && i < arcSides {
			d *= k
		}
		out = append(out, geom.Add(c, geom.Polar(from+step*float64(i)), d))
	}
	return out
}

// segmentRing is a circular segment with its chord from o along u, counter-clockwise, bulging to the left of u.
func segmentRing[P geom.Frame](out geom.Ring[P], o P, u geom.Vec, chord, height float64) geom.Ring[P] {
	r := (chord*chord/4 + height*height) / (2 * height)
	c := geom.Add(geom.Add(o, u, chord/2), u.Left(), height-r)
	a0 := geom.Sub(geom.Add(o, u, chord), c).Angle()
	sweep := 2 * math.Atan2(chord/2, r-height)
	return arc(out, c, r, a0, sweep)
}

func (s *solid[P]) segment() Fit {
	var trials []trial[P]
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
		if box.Width > 1.1*box.Length {
			continue
		}
		o := geom.Add(geom.Add(box.Centre, u, -box.Length/2), u.Left(), -box.Width/2)
		trials = append(
			trials,
			trial[P]{
				x: []float64{box.Length, math.Min(box.Width, 0.74*box.Length), 0, 0},
				ring: func(out geom.Ring[P], x []float64) geom.Ring[P] {
					if x[0] <= 0.01 || x[1] <= 0.01 || x[1] > 0.75*x[0] {
						return nil
					}
					return segmentRing(out, geom.Add(geom.Add(o, u, x[2]), u.Left(), x[3]), u, x[0], x[1])
				},
			},
		)
	}
	best := Fit{Form: Segment}
	if t, ok := s.fit(trials); ok {
		best = Fit{Form: Segment, IoU: t.iou, A: t.x[0], B: t.x[1]}
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
	// What is pressed is hollow, and has no corners there
	if Notches(ring) > 0 || s.area > Tuned.StraightFill*s.hull.Area() {
		return 0
	}
	const samples = 32
	lo, hi, top := 0.0, 0.0, 0.0
	var heights [samples]float64
	for i := range heights {
		p := geom.Along(outer, (float64(i)+0.5)/samples)
		heights[i] = geom.LineDist(p, inner)
		top = math.Max(top, heights[i])
	}
	// The slips at the tips of a flat half-moon are pressed away.
	first, last := 0, samples-1
	for flat := top < Tuned.FlatShare*long; flat && first < last && heights[first] < Tuned.SlipShare*top; first++ {
	}
	for flat := top < Tuned.FlatShare*long; flat && last > first && heights[last] < Tuned.SlipShare*top; last-- {
	}
	for i, v := range heights[first : last+1] {
		x := 2*(float64(i)+0.5)/float64(last+1-first) - 1
		want := top * (1 - x*x) // a flat half-moon is near a parabola
		lo, hi = lo+math.Min(v, want), hi+math.Max(v, want)
	}
	if hi == 0 {
		return 0
	}
	return lo / hi
}

// teardropRing is a round end with a tangent point: the hull of a disc and its tip.
func teardropRing[P geom.Frame](out geom.Ring[P], c P, u geom.Vec, d, length float64) geom.Ring[P] {
	r := d / 2
	tip := length - r
	if tip <= r {
		return nil
	}
	a := math.Acos(r / tip)
	return arc(append(out, geom.Add(c, u, tip)), c, r, u.Angle()+a, 2*math.Pi-2*a)
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
	back := geom.Add(box.Centre, u, -box.Length/2)
	t, ok := s.fit(
		[]trial[P]{
			{
				x: []float64{math.Min(box.Width, box.Length/1.2), box.Length, 0, 0, u.Angle()},
				ring: func(out geom.Ring[P], x []float64) geom.Ring[P] {
					if x[0] <= 0.01 || x[1] < 1.15*x[0] || x[1] > 4*x[0] {
						return nil
					}
					w := geom.Polar(u.Angle() + (x[4]-u.Angle())/math.Sqrt(s.area))
					return teardropRing(out, geom.Add(geom.Add(back, w, x[0]/2+x[2]), w.Left(), x[3]), w, x[0], x[1])
				},
			},
		},
	)
	if !ok {
		return Fit{Form: Teardrop}
	}
	return Fit{Form: Teardrop, IoU: t.iou, A: t.x[0], B: t.x[1]}
}
