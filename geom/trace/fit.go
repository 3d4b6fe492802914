package trace

import (
	"math"
	"slices"
)

// line through points by least squares: a point of it and its direction; ok is false where there are too few.
type line struct{ at, dir point }

func lineOf(p []point) (l line, ok bool) {
	if len(p) < 3 {
		return l, false
	}
	for _, q := range p {
		l.at[0] += q[0] / float64(len(p))
		l.at[1] += q[1] / float64(len(p))
	}
	var xx, xy, yy float64
	for _, q := range p {
		x, y := q[0]-l.at[0], q[1]-l.at[1]
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
	}
	a := math.Atan2(2*xy, xx-yy) / 2
	l.dir = point{math.Cos(a), math.Sin(a)}
	if first, last := p[0], p[len(p)-1]; (last[0]-first[0])*l.dir[0]+(last[1]-first[1])*l.dir[1] < 0 {
		l.dir = point{-l.dir[0], -l.dir[1]}
	}
	return l, true
}

// meet is where two lines cross.
func meet(a, b line) (point, bool) {
	d := a.dir[0]*b.dir[1] - a.dir[1]*b.dir[0]
	if math.Abs(d) < 0.1 {
		return point{}, false
	}
	t := ((b.at[0]-a.at[0])*b.dir[1] - (b.at[1]-a.at[1])*b.dir[0]) / d
	return point{a.at[0] + t*a.dir[0], a.at[1] + t*a.dir[1]}, true
}

func dist(a, b point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// blur is how far from a corner pixels hold both of its sides.
const blur = 2.5

// Windows beside a corner or a node, in pixels along the border.
const (
	nearest  = 0.7
	shortWay = 3.2
	longWay  = 6.0
)

// way are the points from a place in an open line, one way, between two distances.
func way(p []point, i, step int, from, to float64) (out []point) {
	d := 0.0
	for k := i + step; k >= 0 && k < len(p); k += step {
		d += dist(p[k], p[k-step])
		if d > to {
			break
		}
		if d >= from {
			out = append(out, p[k])
		}
	}
	return out
}

func turn(a, b point) float64 {
	return math.Atan2(a[0]*b[1]-a[1]*b[0], a[0]*b[0]+a[1]*b[1])
}

// tip is where the straight lines to both sides of a place meet, beyond what the pixels blur.
func tip(p []point, i int) (point, bool) {
	before, after := way(p, i, -1, 2, 9), way(p, i, 1, 2, 9)
	a, ok1 := lineOf(before)
	b, ok2 := lineOf(after)
	if !ok1 || !ok2 || !straight(before, a) || !straight(after, b) {
		return point{}, false
	}
	x, ok := meet(a, b)
	return x, ok && dist(x, p[i]) < 3
}

func straight(p []point, l line) bool {
	for _, q := range p {
		if math.Abs((q[0]-l.at[0])*l.dir[1]-(q[1]-l.at[1])*l.dir[0]) > 0.2 {
			return false
		}
	}
	return true
}

// corners of an open line: where it turns by over 35 degrees seen from afar, and hardly less seen from near, where an arc
// would turn less; each is put where the lines beside it meet.
func corners(p []point) (at []int, put []point) {
	const least = 35 * math.Pi / 180
	sharp := make([]float64, len(p))
	spots := make([]point, len(p))
	for i := 1; i+1 < len(p); i++ {
		bl, ok1 := lineOf(way(p, i, -1, nearest, longWay))
		al, ok2 := lineOf(way(p, i, 1, nearest, longWay))
		bs, ok3 := lineOf(way(p, i, -1, nearest, shortWay))
		as, ok4 := lineOf(way(p, i, 1, nearest, shortWay))
		if !ok1 || !ok2 || !ok3 || !ok4 {
			continue
		}
		long := math.Abs(turn(point{-bl.dir[0], -bl.dir[1]}, al.dir))
		short := math.Abs(turn(point{-bs.dir[0], -bs.dir[1]}, as.dir))
		if long < least || short < 0.72*long {
			continue
		}
		x := p[i]
		if far, ok := tip(p, i); ok { // a sharp one is blunt in pixels
			x = far
		} else if y, ok := meet(bl, al); ok && dist(y, p[i]) < 1.5 {
			x = y
		} else if y, ok := meet(bs, as); ok && dist(y, p[i]) < 1.5 {
			x = y
		}
		sharp[i], spots[i] = short-0.05*dist(x, p[i]), x
	}
	for i, s := range sharp {
		if s <= 0 {
			continue
		}
		best := true
		for k := i - 1; best && k >= 0 && dist(p[k], p[i]) < 3; k-- {
			best = sharp[k] < s
		}
		for k := i + 1; best && k < len(p) && dist(p[k], p[i]) < 3; k++ {
			best = sharp[k] <= s
		}
		if best {
			at, put = append(at, i), append(put, spots[i])
		}
	}
	return at, put
}

// fit all chains: nodes where the lines of their chains meet, corners kept, straight where they are straight, else smooth.
func (b *borders) fit() {
	nodes := b.nodes()
	for i := range b.chains {
		c := &b.chains[i]
		from, ok := nodes[c.from]
		if ok {
			c.points[0], c.points[len(c.points)-1] = from, nodes[c.to]
		}
		p, ring := resampled(c.points), false
		if !ok {
			p, ring = begun(p[:len(p)-1])
		}
		if ring {
			c.points = smoothRing(p, b.tol)
		} else {
			c.points = betweenCorners(p, b.tol)
		}
	}
	b.rounded()
}

// nodes are where the chains that meet at a corner of pixels do so.
func (b *borders) nodes() map[int]point {
	ends := map[int][][]point{} // the chains that leave it
	for _, c := range b.chains {
		if c.from != c.to || b.degree(c.from) != 2 {
			ends[c.from] = append(ends[c.from], way(c.points, 0, 1, nearest, longWay))
			ends[c.to] = append(ends[c.to], way(c.points, len(c.points)-1, -1, nearest, longWay))
		}
	}
	out := map[int]point{}
	for c, ways := range ends {
		out[c] = b.node(c, ways)
	}
	return out
}

// begun is a ring as a line that begins and ends at a corner of it; round is true where it has none.
func begun(p []point) (line []point, round bool) {
	thrice := slices.Concat(p, p, p)
	at, put := corners(thrice)
	for i, k := range at {
		if k >= len(p) && k < 2*len(p) {
			line = slices.Clone(thrice[k : k+len(p)+1])
			line[0], line[len(p)] = put[i], put[i]
			return line, false
		}
	}
	return p, true
}

// betweenCorners is a line fitted piece by piece, from corner to corner.
func betweenCorners(p []point, tol float64) (out []point) {
	at, put := corners(p)
	from, first := 0, p[0]
	for k := 0; k <= len(at); k++ {
		to, last := len(p)-1, p[len(p)-1]
		if k < len(at) {
			to, last = at[k], put[k]
		}
		piece := []point{first}
		for _, q := range p[from+1 : max(from+1, to)] {
			if (from == 0 || dist(q, first) > blur) && (to == len(p)-1 || dist(q, last) > blur) {
				piece = append(piece, q)
			}
		}
		fitted := smooth(append(piece, last), tol)
		out = append(out, fitted[:len(fitted)-1]...)
		from, first = to, last
	}
	return append(out, p[len(p)-1])
}

// rounded puts all points on a grid of a 256th of a pixel: the same on all processors.
func (b *borders) rounded() {
	for _, c := range b.chains {
		for i, p := range c.points {
			c.points[i] = point{math.Round(256*p[0]) / 256, math.Round(256*p[1]) / 256}
		}
	}
}

// node is where the chains' lines meet best, near the corner of pixels where they do; on the page's border it keeps to that.
func (b *borders) node(c int, ways [][]point) point {
	at := point{float64(c % (b.w + 1)), float64(c / (b.w + 1))}
	if at[0] == 0 || at[1] == 0 || at[0] == float64(b.w) || at[1] == float64(b.h) {
		return at
	}
	var xx, xy, yy, x, y float64
	for _, w := range ways {
		l, ok := lineOf(w)
		if !ok {
			continue
		}
		n := point{-l.dir[1], l.dir[0]}
		d := n[0]*(l.at[0]-at[0]) + n[1]*(l.at[1]-at[1])
		xx, xy, yy = xx+n[0]*n[0], xy+n[0]*n[1], yy+n[1]*n[1]
		x, y = x+n[0]*d, y+n[1]*d
	}
	xx, yy = xx+0.05, yy+0.05 // towards the corner where they are nearly parallel
	det := xx*yy - xy*xy
	v := point{(yy*x - xy*y) / det, (xx*y - xy*x) / det}
	if r := math.Hypot(v[0], v[1]); r > 0.9 {
		v = point{v[0] * 0.9 / r, v[1] * 0.9 / r}
	}
	return point{at[0] + v[0], at[1] + v[1]}
}

// sample is how far apart the points of a border are while it is fitted, pixels.
const sample = 0.5

// resampled is a line with points evenly apart.
func resampled(p []point) []point {
	length := 0.0
	for i := 1; i < len(p); i++ {
		length += dist(p[i-1], p[i])
	}
	n := int(math.Ceil(length / sample))
	if n < 2 {
		return p
	}
	out := []point{p[0]}
	at, k := 0.0, 1
	for i := 1; i < n; i++ {
		want := length * float64(i) / float64(n)
		for k < len(p)-1 && at+dist(p[k-1], p[k]) < want {
			at += dist(p[k-1], p[k])
			k++
		}
		d := dist(p[k-1], p[k])
		t := 0.0
		if d > 0 {
			t = (want - at) / d
		}
		out = append(out, point{p[k-1][0] + t*(p[k][0]-p[k-1][0]), p[k-1][1] + t*(p[k][1]-p[k-1][1])})
	}
	return append(out, p[len(p)-1])
}

// averages is how often points are averaged.
const averages = 4

// averaged are points, each the mean of those round it, so that what is left of the pixels' steps goes.
func averaged(p []point, ring bool) []point {
	n := len(p)
	weights := [5]float64{6, 4, 1, 0, 0}
	out := append([]point{}, p...)
	for i := range p {
		if !ring && (i == 0 || i == n-1) {
			continue
		}
		var sum point
		all := 0.0
		for d := -2; d <= 2; d++ {
			k := i + d
			if ring {
				k = ((k % n) + n) % n
			} else if k < 0 || k >= n || i+d < 0 || i-d < 0 || i+d > n-1 || i-d > n-1 {
				continue
			}
			w := weights[max(d, -d)]
			sum[0], sum[1], all = sum[0]+w*p[k][0], sum[1]+w*p[k][1], all+w
		}
		out[i] = point{sum[0] / all, sum[1] / all}
	}
	return out
}

// smooth is a line between two corners: straight where it is within the tolerance of that, else averaged and thinned.
func smooth(p []point, tol float64) []point {
	if thin := thinned(p, 1.2*tol+0.1); len(thin) == 2 {
		return thin
	}
	for range averages {
		p = averaged(p, false)
	}
	return thinned(p, tol/2)
}

func smoothRing(p []point, tol float64) []point {
	if len(p) >= 16 {
		for range averages {
			p = averaged(p, true)
		}
	}
	k := len(p) / 2
	out := append(thinned(p[:k+1], tol/2), thinned(append(append([]point{}, p[k:]...), p[0]), tol/2)[1:]...)
	return out
}

// thinned is a line less the points that lie within a tolerance of it.
func thinned(p []point, tol float64) []point {
	if len(p) < 3 {
		return p
	}
	keep := make([]bool, len(p))
	keep[0], keep[len(p)-1] = true, true
	stack := [][2]int{{0, len(p) - 1}}
	for len(stack) > 0 {
		lo, hi := stack[len(stack)-1][0], stack[len(stack)-1][1]
		stack = stack[:len(stack)-1]
		worst, at := tol, -1
		for i := lo + 1; i < hi; i++ {
			if d := off(p[i], p[lo], p[hi]); d > worst {
				worst, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			stack = append(stack, [2]int{lo, at}, [2]int{at, hi})
		}
	}
	var out []point
	for i, q := range p {
		if keep[i] {
			out = append(out, q)
		}
	}
	return out
}

func off(p, a, b point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := dx*dx + dy*dy
	t := 0.0
	if l > 0 {
		t = math.Max(0, math.Min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l))
	}
	return math.Hypot(p[0]-a[0]-t*dx, p[1]-a[1]-t*dy)
}
