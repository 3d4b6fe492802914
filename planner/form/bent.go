package form

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

// evenness is the IoU of a developed band with the even band of its mean thickness.
func evenness(widths []float64) (iou, mean float64) {
	for _, w := range widths {
		mean += w / float64(len(widths))
	}
	lo, hi := 0.0, 0.0
	for _, w := range widths {
		lo, hi = lo+math.Min(w, mean), hi+math.Max(w, mean)
	}
	if hi == 0 {
		return 0, 0
	}
	return lo / hi, mean
}

// FitBent develops a strip at mid thickness; ok is false when the region is not strip-like or is straight.
func FitBent[P geom.Frame](r geom.Region[P]) (Fit, bool) {
	c, ok := SidesOf(r)
	if !ok {
		return Fit{}, false
	}
	var w []float64
	if TurnOf(c.Outer) > 2*math.Pi { // the nearest border may be that of the next turn
		w = across(w, c.Outer, c.Inner, c.Width)
	} else {
		for i := 0; i < len(c.Outer); i += 2 {
			w = append(w, geom.LineDist(c.Outer[i], c.Inner))
		}
	}
	ends := len(w) - 1
	if TurnOf(c.Outer) > 2*math.Pi {
		w = across(w, c.Inner, c.Outer, c.Width)
	} else {
		for i := 0; i < len(c.Inner); i += 2 {
			w = append(w, geom.LineDist(c.Inner[i], c.Outer))
		}
	}
	iou, mean := evenness(w)
	length := r.Area() / mean
	if k := ends / 8; w[k] < 0.6*mean || w[ends-k] < 0.6*mean {
		return Fit{}, false // it runs out to points: a crescent, no strip
	}
	// What the even band does not explain (ends, branches) lowers the fit.
	covered := mean * (geom.LineLength(c.Inner) + geom.LineLength(c.Outer) + 2*c.Width) / 2
	iou *= math.Min(1, covered/r.Area())
	// A strip cannot be bent round a corner sharper than itself without gaping: each sharp inner corner costs.
	chord := geom.Dist(c.Outer[0], c.Outer[len(c.Outer)-1])
	if geom.LineLength(c.Outer) < 1.02*chord &&
		geom.LineLength(c.Inner) < 1.02*geom.Dist(c.Inner[0], c.Inner[len(c.Inner)-1]) {
		return Fit{}, false
	}
	iou -= 0.06 * float64(sharp(c.Inner, c.Width))
	return Fit{Form: Bent, IoU: iou, A: mean, B: length, Turn: TurnOf(c.Outer)}, iou > 0.3
}

// across appends the distances of every second point of a line from another that runs beside it from the same end,
// looking no further than three widths ahead or back.
func across[P geom.Frame](w []float64, from, to geom.Ring[P], width float64) []float64 {
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

// sharp counts corners of more than 50 degrees within half a width along a line.
func sharp[P geom.Frame](c geom.Ring[P], w float64) int {
	step := math.Max(1, 0.3*w/(geom.LineLength(c)/float64(len(c))))
	k := int(step)
	n := 0
	for i := k; i+k < len(c); i++ {
		u, v := geom.Sub(c[i], c[i-k]), geom.Sub(c[i+k], c[i])
		if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) > 0.87 {
			n++
			i += 2 * k
		}
	}
	return n
}

// fitRing is the wrap that a region with one hole would be: developed, with the mean thickness.
func fitRing[P geom.Frame](r geom.Region[P]) []Fit {
	if len(r) != 2 {
		return nil
	}
	in, out := append(
		geom.Ring[P](nil),
		geom.Thinned(r[1], 0.05)...), append(
		geom.Ring[P](nil),
		geom.Thinned(r[0], 0.05)...)
	in, out = append(in, in[0]), append(out, out[0])
	var w []float64
	step := r.Perimeter() / 160
	for _, p := range geom.Resampled(r[0], step) {
		w = append(w, geom.LineDist(p, in))
	}
	for _, p := range geom.Resampled(r[1], step) {
		w = append(w, geom.LineDist(p, out))
	}
	iou, mean := evenness(w)
	if mean <= 0 {
		return nil
	}
	// A wrap cannot follow a notch deeper than its own thickness, nor press into any deep one (SPLITTING 18).
	hole := r[1].Reversed()
	hull := geom.Hull(hole)
	deep := 0.0
	closed := append(append(geom.Ring[P](nil), hull...), hull[0])
	for _, p := range hole {
		deep = math.Max(deep, geom.LineDist(p, closed))
	}
	if deep > math.Min(mean, Tuned.PressMM) {
		iou *= 0.6
	}
	return []Fit{{Form: Wrap, IoU: iou, A: mean, B: r.Area() / mean}}
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
