package recipe

import "math"

// Least are the shop's least sizes, millimetres.
type Least struct{ RodMM, ThinMM, SheetMM float64 }

// allow tells whether hands can make a recipe: its proportions, the shop's least sizes, and what its operation takes.
//
// References: common practice, no source.
func (l Least) allow(r Recipe, area float64, ground bool) bool {
	s, d := r.Size, r.Done
	thin := l.ThinMM * 0.99 // what the fit itself moves
	ok := true
	switch r.Base {
	case Rod:
		ok = s[0] >= l.RodMM*0.99
	case Oval:
		ok = s[1] >= 0.4*s[0] && s[1] >= l.RodMM*0.99
	case Bar, Strip:
		ok = s[1] >= thin && s[0] <= Tuned.WidestStrip*s[1] && math.Abs(s[2]) <= 1.75*min(s[0], s[1]) || r.Bent()
	case Wedge:
		ok = s[1] < 0.9*s[0] && (s[1] >= 2 || s[1] == 0) && s[2] >= thin && footAngle(s) >= leastTip(ground)
	case Triangle:
		ok = s[1] >= thin && leastAngle(s) >= leastTip(ground)
	case HalfMoon:
		ok = s[1] >= thin && s[1] >= 0.08*s[0] && s[1] <= 0.5*s[0]
	case FlatRod:
		ok = s[1] > s[0]/2 && s[1] <= 0.95*s[0]
	case Leaf:
		ok = s[1]+s[2] >= 5 && s[1] <= 0.5*s[0] && s[2] <= 0.5*s[0]
	case Drop:
		ok = s[1] >= 1.15*s[0] && s[1] <= 3*s[0]
	case Tapered:
		ok = s[1] >= thin && s[0] <= Tuned.WidestStrip*s[1] && s[1] >= 0.9*max(s[2], s[3])
	}
	if !ok {
		return false
	}
	p, has := Recipe{Base: r.Base, Size: s}.path(nil)
	if !has && !r.Bent() && r.Base != Oval {
		return false
	}
	switch r.Op {
	case Bow:
		deep := min(s[0], area/s[0])
		if r.Base == HalfMoon {
			deep = s[1]
		}
		for k, v := range d[:2] {
			if v >= 0 {
				continue
			}
			i := r.Side
			if k == 1 {
				i = across(p, r.Side)
			}
			side := distance(p, i)
			if len(p) == 3 { // a triangle is deeper in its middle than on the whole
				deep = 1.5 * area / side
			}
			if -v > 0.3*side || -v > 0.4*max(deep, area/side) {
				return false
			}
		}
	case Cut:
		ok = d[0]*d[1]/2 <= 0.35*area
	case Groove, Grooves:
		ok = l.grooves(r, p, area, thin)
	case Bend, BendTwice, Follow:
		ok = l.bends(r) && math.Abs(d[0]) <= s[1] && math.Abs(d[1]) <= s[1]
	}
	return ok
}

// grooves tells whether a bar takes its grooves: none too deep or too wide, rest enough between and under them.
func (l Least) grooves(r Recipe, p []edge, area, thin float64) bool {
	thick, rest, gone := r.Thick(), r.Thick(), 0.0
	for row := 0; row < 10; row += 5 {
		d, n := r.Done[row:row+5], 1.0
		if r.Op == Grooves {
			n = d[3]
		} else if row > 0 {
			break
		}
		if n == 0 || d[0] == 0 {
			continue
		}
		side := r.Side
		if row > 0 {
			side = across(p, side)
		}
		half := math.Sqrt(d[1] * max(0, d[0]-d[1]))
		if d[1] > 0.5*thick || 2*half > 0.5*distance(p, side) || n*2*half > 0.75*distance(p, side) || d[0] < 0.6*l.RodMM ||
			n > 3 || n > 1 && d[4]-2*half < thin {
			return false
		}
		rest -= d[1]
		gone += n * segmentArea(2*half, d[1])
	}
	if r.Op == Grooves && r.Done[8] > 0 {
		return rest >= 5 && gone <= 0.25*area
	}
	return rest >= thin && gone <= 0.18*area
}

// bends tells whether a strip can be bent so: no arc tighter than the strip is thick, none too far round.
func (l Least) bends(r Recipe) bool {
	t := r.Size[1]
	if t < l.SheetMM*0.99 {
		return false
	}
	turn, arcs := 0.0, 0
	for _, a := range r.Arcs {
		if math.Abs(a.TurnDeg) < 3 {
			continue
		}
		arcs++
		turn += math.Abs(a.TurnDeg)
		if radius := a.LengthMM / (math.Abs(a.TurnDeg) * math.Pi / 180); radius < 0.95*t {
			return false
		}
	}
	switch r.Op {
	case Bend:
		return turn <= Tuned.MostBend
	case BendTwice:
		return turn <= Tuned.MostBend && t <= Tuned.TwiceMM
	}
	return t <= Tuned.TwiceMM && r.Base == Strip
}

// distance is a side's length.
func distance(p []edge, i int) float64 {
	a, b := p[i].at, p[(i+1)%len(p)].at
	return math.Hypot(b[0]-a[0], b[1]-a[1])
}

// leastTip is the least angle of a triangle, radians: 15 degrees, for ground 8.
func leastTip(ground bool) float64 {
	if ground {
		return 8 * math.Pi / 180
	}
	return 15 * math.Pi / 180
}

// footAngle is the lesser angle at a wedge's foot.
func footAngle(s [4]float64) float64 {
	side := (s[0] - s[1]) / 2
	return min(math.Abs(math.Atan2(s[2], side+s[3])), math.Abs(math.Atan2(s[2], side-s[3])))
}

// leastAngle of a triangle by base, height and the apex's place.
func leastAngle(s [4]float64) float64 {
	a, b := math.Atan2(s[1], s[2]), math.Atan2(s[1], s[0]-s[2])
	return min(a, min(b, math.Pi-a-b))
}
