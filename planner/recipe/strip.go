package recipe

import (
	"math"

	"sugarwright/geom"
)

// Sides are the two long sides of a bent strip, both run from the one end to the other.
type Sides[P geom.Frame] struct {
	Inner, Outer geom.Ring[P] // Outer is the longer
	Width        float64
}

// SidesOf finds the two ends of a strip-like region, where the border turns by more than 120 degrees within about its
// width, and so its two long sides. ok is false when there are not exactly two ends.
func SidesOf[P geom.Frame](r geom.Region[P]) (Sides[P], bool) {
	var none Sides[P]
	p, a := r.Perimeter(), r.Area()
	disc := p*p/16 - a // from P = 2L + 2w, A = L w
	if len(r) != 1 || disc <= 0 {
		return none, false
	}
	w := p/4 - math.Sqrt(disc)
	if l := a / w; l < 2*w || l > Tuned.LongestStrip*w {
		return none, false
	}
	q := geom.Resampled(r[0], Tuned.Sample*w)
	n := len(q)
	turn := make([]float64, n)
	for i := range q {
		u, v := geom.Sub(q[i], q[(i+n-1)%n]), geom.Sub(q[(i+1)%n], q[i])
		turn[i] = math.Atan2(u.Cross(v), u.Dot(v))
	}
	win := int(1.25 * w / (p / float64(n)))
	sum := 0.0
	sums := make([]float64, n)
	for i := -win / 2; i <= win-win/2; i++ {
		sum += turn[(i+n)%n]
	}
	for i := range q {
		sums[i] = sum
		sum += turn[(i+1+win-win/2)%n] - turn[(i-win/2+n)%n]
	}
	var ends []int
	for {
		best := -1
		for i, s := range sums {
			if s > 2.1 && (best < 0 || s > sums[best]) { // 2.1 rad: 120 degrees
				best = i
			}
		}
		if best < 0 {
			break
		}
		ends = append(ends, best)
		for i := -win; i <= win; i++ {
			sums[(best+i+n)%n] = 0
		}
		if len(ends) > 3 {
			return none, false
		}
	}
	if len(ends) != 2 {
		return none, false
	}
	half := int(0.5 * w / (p / float64(n)))
	cut := func(from, to int) geom.Ring[P] {
		var out geom.Ring[P]
		for i := (from + half) % n; i != (to-half+n)%n; i = (i + 1) % n {
			out = append(out, q[i])
			if len(out) > n {
				return nil
			}
		}
		return out
	}
	c1, c2 := cut(ends[0], ends[1]), cut(ends[1], ends[0]).Reversed()
	if len(c1) < 4 || len(c2) < 4 {
		return none, false
	}
	if geom.LineLength(c1) > geom.LineLength(c2) {
		c1, c2 = c2, c1
	}
	return Sides[P]{c1, c2, w}, true
}

// TurnOf is how far an open line turns from its start to its end, radians, without sign.
func TurnOf[P geom.Frame](c geom.Ring[P]) float64 {
	sum := 0.0
	for i := 1; i+1 < len(c); i++ {
		u, v := geom.Sub(c[i], c[i-1]), geom.Sub(c[i+1], c[i])
		sum += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return math.Abs(sum)
}

// Even measures a strip-like region against a strip of its mean thickness, developed at mid thickness: the difference
// of their widths over the area, and the most that one is off. For rolls and spirals, which turn farther than they can
// be drawn.
func Even[P geom.Frame](r geom.Region[P]) (f Fit, ok bool) {
	c, ok := SidesOf(r)
	if !ok || straight(c.Outer) && straight(c.Inner) {
		return Fit{}, false
	}
	w := gaps(nil, c.Outer, c.Inner, c.Width)
	ends := len(w) - 1
	w = gaps(w, c.Inner, c.Outer, c.Width)
	misfit, most, mean := unevenness(w)
	if k := ends / 8; w[k] < 0.6*mean || w[ends-k] < 0.6*mean {
		return Fit{}, false // it runs out to points: a crescent, no even strip
	}
	f = Fit{Misfit: misfit, Lump: most, Found: true}
	f.Base, f.Op, f.Size = Strip, Follow, [4]float64{r.Area() / mean, mean}
	turn := TurnOf(c.Outer)
	f.Arcs = []Arc{{f.Size[0], turn * 180 / math.Pi}}
	return f, true
}

// straight tells whether a line is hardly longer than the way from its start to its end.
func straight[P geom.Frame](c geom.Ring[P]) bool {
	return geom.LineLength(c) < 1.02*geom.Dist(c[0], c[len(c)-1])
}

// unevenness is how far widths are off their mean: area over area, the most, and the mean.
func unevenness(widths []float64) (misfit, most, mean float64) {
	for _, w := range widths {
		mean += w / float64(len(widths))
	}
	for _, w := range widths {
		misfit += math.Abs(w-mean) / float64(len(widths))
		most = max(most, math.Abs(w-mean))
	}
	if mean <= 0 {
		return 1, 0, 0
	}
	return misfit / mean, most, mean
}

// gaps appends the distances of every second point of a line from another that runs beside it from the same end,
// looking no further than three widths ahead or back.
func gaps[P geom.Frame](w []float64, from, to geom.Ring[P], width float64) []float64 {
	reach := max(4, int(3*width/(geom.LineLength(to)/float64(len(to)))))
	at := 0
	for i := 0; i < len(from); i += 2 {
		best, d := at, math.Inf(1)
		for j := max(0, at-reach); j < min(len(to)-1, at+reach); j++ {
			if e := geom.SegmentDist(from[i], to[j], to[j+1]); e < d {
				best, d = j, e
			}
		}
		w, at = append(w, d), best
	}
	return w
}

// ringFit is the sheet that a region with one hole would be, closed round what lies in the hole: developed, with the
// mean thickness.
func ringFit[P geom.Frame](r geom.Region[P]) Fit {
	refused := Fit{Class: Refused, Misfit: math.Inf(1)}
	if len(r) != 2 {
		return refused
	}
	in, out := append(geom.Ring[P](nil), geom.Thinned(r[1], 0.05)...), append(geom.Ring[P](nil), geom.Thinned(r[0], 0.05)...)
	in, out = append(in, in[0]), append(out, out[0])
	var w []float64
	step := r.Perimeter() / 160
	for _, p := range geom.Resampled(r[0], step) {
		w = append(w, geom.LineDist(p, in))
	}
	for _, p := range geom.Resampled(r[1], step) {
		w = append(w, geom.LineDist(p, out))
	}
	misfit, most, mean := unevenness(w)
	if mean <= 0 {
		return refused
	}
	// A wrap cannot follow a notch deeper than its own thickness, nor press into any deep one.
	hole := r[1].Reversed()
	hull := geom.Hull(hole)
	deep := 0.0
	closed := append(append(geom.Ring[P](nil), hull...), hull[0])
	for _, p := range hole {
		deep = max(deep, geom.LineDist(p, closed))
	}
	f := Fit{Recipe: Recipe{Base: Sheet, Size: [4]float64{r.Area() / mean, mean}}, Misfit: misfit, Lump: most, Found: true}
	f.Class = classOf(misfit, most, r.Area(), false)
	if deep > min(mean, Tuned.PressMM) {
		f.Class = Refused
	}
	return f
}

// BendWay samples, for a strip-like region, the band of its own thickness outside it through which it is bent on, and
// points just under its inner side.
func BendWay(r geom.Region[geom.TruePoint]) (way, core []geom.TruePoint, ok bool) {
	c, ok := SidesOf(r)
	if !ok {
		return nil, nil, false
	}
	normal := func(line geom.Ring[geom.TruePoint], i int, away geom.Ring[geom.TruePoint]) geom.Vec {
		a, b := line[max(0, i-1)], line[min(len(line)-1, i+1)]
		n := geom.Sub(b, a).Unit().Left()
		if geom.LineDist(geom.Add(line[i], n, 0.3*c.Width), away) < geom.LineDist(geom.Add(line[i], n, -0.3*c.Width),
			away) {
			n = geom.Vec{-n[0], -n[1]}
		}
		return n
	}
	skip := int(c.Width / (geom.LineLength(c.Outer) / float64(len(c.Outer)))) // at its ends a strip may meet another
	for i := skip; i < len(c.Outer)-skip; i += 2 {
		n := normal(c.Outer, i, c.Inner)
		for _, t := range []float64{0.15, 0.4, 0.7, 1} {
			way = append(way, geom.Add(c.Outer[i], n, t*c.Width))
		}
	}
	for i := 0; i < len(c.Inner); i += 2 {
		core = append(core, geom.Add(c.Inner[i], normal(c.Inner, i, c.Outer), 0.1*c.Width))
	}
	return way, core, true
}

// Sheetlike tells whether a region is put on as a sheet: closed round what is inside it, or bent.
func Sheetlike[P geom.Frame](r geom.Region[P]) bool {
	if len(r) > 1 {
		return ringFit(r).Misfit < 2*Tuned.CloseMisfit
	}
	f, ok := Even(r)
	return ok && f.Misfit < 2*Tuned.CloseMisfit
}

// AsRod is the diameter of the rod of a region's area, millimetres, and how far the region is from it: the symmetric
// difference over the area.
func AsRod[P geom.Frame](r geom.Region[P]) (diameterMM, misfit float64) {
	m := geom.MomentsOf(r)
	c := geom.Circle[P]{Centre: m.Centroid, Radius: math.Sqrt(m.Area / math.Pi)}
	if len(r) > 1 {
		return 2 * c.Radius, math.Inf(1)
	}
	return 2 * c.Radius, 2 * (1 - geom.AreaInConvex(r, c.Polygon(48))/m.Area)
}
