// Package cuts lists where one region may be cut: at concave corners, necks, mirror lines, through islands, and where a
// part that is stuck must open.
//
// Guarantees: every chord lies inside its region; the best cuts come first, and of cuts that are images of each other
// one stands for all.
package cuts

import (
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/symmetry"
)

type (
	point  = geom.TruePoint
	region = geom.Region[geom.TruePoint]
)

// cut is one candidate: chords that divide a region, and how little it costs to make (shorter and plainer first).
type Cut struct {
	chords [][2]point
	score  float64
}

// lines of a cut.
func (k Cut) Lines() [][]point {
	var out [][]point
	for _, ch := range k.chords {
		out = append(out, []point{ch[0], ch[1]})
	}
	return out
}

// middles of a region's holes.
func Middles(r region) []point {
	var out []point
	for _, h := range r[1:] {
		out = append(out, geom.MomentsOf(region{h.Reversed()}).Centroid)
	}
	return out
}

// corner of a thinned ring: in and out are unit directions along the border, region on the left; turn below 0 is
// concave.
type corner struct {
	at      point
	in, out geom.Vec
	turn    float64
}

// cutter finds candidate cuts of one region.
type cutter struct {
	r       region
	all     []corner
	concave []corner
	cuts    []Cut
	size    float64
	motions []symmetry.Motion
	through []Cut // cuts through islands: they have a quota of their own, for without them an island is walled in
}

// candidates lists the cuts of a region, best first; of cuts that are images of each other under the motions one stands
// for all.
func Of(r region, holes []point, motions []symmetry.Motion) []Cut {
	c := &cutter{size: math.Sqrt(r.Area()), motions: motions}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, 0.05))
	}
	for _, ring := range c.r {
		n := len(ring)
		for i := range ring {
			in, out := geom.Sub(ring[i], ring[(i+n-1)%n]).Unit(), geom.Sub(ring[(i+1)%n], ring[i]).Unit()
			k := corner{ring[i], in, out, math.Atan2(in.Cross(out), in.Dot(out))}
			if math.Abs(k.turn) > Tuned.CornerTurn {
				c.all = append(c.all, k)
				if k.turn < 0 {
					c.concave = append(c.concave, k)
				}
			}
		}
	}
	c.fromCorners()
	c.necks()
	c.axes()
	c.islands(holes)
	return c.kept()
}

func (c *cutter) ray(p point, d geom.Vec) (point, float64, bool) { return Ray(c.r, p, d) }

// Ray is the first point of a region's border from p along d, beyond 1e-3 mm; ok is false when the way does not start
// inside.
func Ray(r region, p point, d geom.Vec) (point, float64, bool) {
	hit := math.Inf(1)
	for _, ring := range r {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			e := geom.Sub(b, a)
			den := d.Cross(e)
			if math.Abs(den) < 1e-12 {
				continue
			}
			w := geom.Sub(a, p)
			t, s := w.Cross(e)/den, w.Cross(d)/den
			if t > 1e-3 && s >= -1e-9 && s <= 1+1e-9 && t < hit {
				hit = t
			}
		}
	}
	if math.IsInf(hit, 1) || !r.Contains(geom.Add(p, d, hit/2)) || !r.Contains(geom.Add(p, d, math.Min(hit/2, 0.02))) {
		return p, 0, false
	}
	return geom.Add(p, d, hit), hit, true
}

// sees tells whether the open segment p to q lies inside the region.
func (c *cutter) sees(p, q point) bool {
	d := geom.Sub(q, p)
	_, t, ok := c.ray(p, d.Unit())
	return ok && t > d.Len()-1e-3
}

// snapped moves a chord's end onto a corner near by, if that can be seen.
func (c *cutter) snapped(p, q point) point {
	best, dist := q, Tuned.SnapMM
	for _, k := range c.all {
		if d := geom.Dist(k.at, q); d < dist && geom.Dist(k.at, p) > 2*d && c.sees(p, k.at) {
			best, dist = k.at, d
		}
	}
	return best
}

func (c *cutter) add(weight float64, chords ...[2]point) {
	l := 0.0
	for _, ch := range chords {
		l += geom.Dist(ch[0], ch[1])
	}
	if l > 0.5 {
		c.cuts = append(c.cuts, Cut{chords, weight * (0.3 + l/c.size)})
	}
}

// fromCorners: at each concave corner both border edges run on into the inside, and the bisector; and pairs of corners
// that see each other.
func (c *cutter) fromCorners() {
	for i, k := range c.concave {
		for j, d := range []geom.Vec{k.in, {-k.out[0], -k.out[1]}, geom.Vec{k.in[0] - k.out[0], k.in[1] - k.out[1]}.Unit()} {
			q, _, ok := c.ray(k.at, d)
			if !ok {
				continue
			}
			w := 1.0
			if j == 2 {
				w = 1.4
			}
			c.add(w, [2]point{k.at, c.snapped(k.at, q)})
		}
		if i >= 60 { // pairs grow with the square; beyond this the region is no drawing for hands
			continue
		}
		for _, o := range c.concave[i+1:] {
			if geom.Dist(k.at, o.at) > 0.5 && c.sees(k.at, o.at) {
				c.add(0.7, [2]point{k.at, o.at})
			}
		}
	}
}

// necks: chords square to the border on both ends where the width is least and grows to 1.25 times on both sides.
func (c *cutter) necks() {
	const step, reach, grow = 1.0, 13, 1.25
	for _, ring := range c.r {
		if ring.Perimeter() < 8 {
			continue
		}
		q := geom.Resampled(ring, step)
		n := len(q)
		width := make([]float64, n)
		far := make([]point, n)
		for i := range q {
			t := geom.Sub(q[(i+1)%n], q[(i+n-1)%n]).Unit()
			p, d, ok := c.ray(geom.Add(q[i], t.Left(), 2e-3), t.Left())
			if !ok {
				d = math.Inf(1)
			}
			width[i], far[i] = d, p
		}
		for i := range q {
			w := width[i]
			if math.IsInf(w, 1) || w > 0.7*c.size {
				continue
			}
			least := true
			for j := 1; j <= 3; j++ {
				least = least && width[(i+j)%n] >= w && width[(i+n-j)%n] > w
			}
			if !least {
				continue
			}
			up, down := false, false
			for j := 1; j <= reach; j++ {
				up = up || width[(i+j)%n] > grow*w
				down = down || width[(i+n-j)%n] > grow*w
			}
			if up && down && !c.tip(q, i, far[i], step) {
				c.add(0.8, [2]point{c.snapped(far[i], c.snapTo(ring, q[i])), far[i]})
			}
		}
	}
}

// tip tells whether both ends of a chord lie on the border near each other, round a point: then it cuts off a tip, no
// neck.
func (c *cutter) tip(q geom.Ring[point], i int, far point, step float64) bool {
	w := geom.Dist(q[i], far)
	reach := int(4*w/step) + 2
	n := len(q)
	for j := 1; j <= reach && j < n; j++ {
		if geom.Dist(q[(i+j)%n], far) < step || geom.Dist(q[(i+n-j)%n], far) < step {
			return true
		}
	}
	return false
}

// snapTo is the border point of a ring nearest to p.
func (c *cutter) snapTo(ring geom.Ring[point], p point) point {
	best, dist := p, math.Inf(1)
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		e := geom.Sub(b, a)
		t := math.Max(0, math.Min(1, geom.Sub(p, a).Dot(e)/e.Dot(e)))
		q := geom.Add(a, e, t)
		if d := geom.Dist(p, q); d < dist {
			best, dist = q, d
		}
	}
	return best
}

// axes: the mirror lines of the region itself, tried along its principal axes and the drawing's.
func (c *cutter) axes() {
	m := geom.MomentsOf(c.r)
	u := m.Axis()
	for i, d := range []geom.Vec{{0, 1}, {1, 0}, u, u.Left()} {
		if i >= 2 && (math.Abs(d[0]) < 0.01 || math.Abs(d[1]) < 0.01) {
			continue
		}
		if c.mirrors(m.Centroid, d) {
			c.line(0.6, m.Centroid, d)
		}
	}
}

// mirrors tells whether the line through o along d maps the border onto itself within 0.3 mm.
func (c *cutter) mirrors(o point, d geom.Vec) bool {
	for _, ring := range c.r {
		for _, q := range ring {
			w := geom.Sub(q, o)
			p := geom.Add(geom.Add(o, d, w.Dot(d)), d.Left(), -w.Dot(d.Left()))
			if !symmetry.OnAny(p, c.r, 0.3) {
				return false
			}
		}
	}
	return true
}

// line adds all chords of the line through o along d.
func (c *cutter) line(weight float64, o point, d geom.Vec) {
	var ts []float64
	for _, ring := range c.r {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			sa, sb := d.Cross(geom.Sub(a, o)), d.Cross(geom.Sub(b, o))
			if (sa < 0) != (sb < 0) {
				p := geom.Add(a, geom.Sub(b, a), sa/(sa-sb))
				ts = append(ts, geom.Sub(p, o).Dot(d))
			}
		}
	}
	sort.Float64s(ts)
	var chords [][2]point
	for i := 0; i+1 < len(ts); i += 2 {
		if ts[i+1]-ts[i] < 0.2 {
			continue
		}
		a, b := geom.Add(o, d, ts[i]), geom.Add(o, d, ts[i+1])
		if q := c.snapped(b, a); geom.Dist(q, a) < 0.6 {
			a = q
		}
		if q := c.snapped(a, b); geom.Dist(q, b) < 0.6 {
			b = q
		}
		chords = append(chords, [2]point{a, b})
	}
	if len(chords) > 0 {
		c.add(weight, chords...)
	}
}

// pierce adds the line through o along d as a cut through islands; the more islands it passes through the middle, the
// better.
func (c *cutter) pierce(weight float64, o point, d geom.Vec, centres []point) {
	hits := 0
	for _, p := range centres {
		if math.Abs(d.Cross(geom.Sub(p, o))) < 0.5 {
			hits++
		}
	}
	n := len(c.cuts)
	c.line(weight/float64(max(1, hits)), o, d)
	c.through = append(c.through, c.cuts[n:]...)
	c.cuts = c.cuts[:n]
}

// islands: lines through the centres of what lies inside the region; pairs of centres, level, upright and along the
// body (SPLITTING 15).
func (c *cutter) islands(centres []point) {
	u := geom.MomentsOf(c.r).Axis()
	if len(centres) > 12 {
		centres = centres[:12]
	}
	for i, p := range centres {
		for _, q := range centres[i+1:] {
			if geom.Dist(p, q) > 1 {
				c.pierce(0.9, p, geom.Sub(q, p).Unit(), centres)
			}
		}
		for k, d := range []geom.Vec{{1, 0}, {0, 1}, u} {
			if k == 2 && (math.Abs(u[0]) < 0.02 || math.Abs(u[1]) < 0.02) {
				continue
			}
			c.pierce(0.7, p, d, centres)
		}
	}
}

// kept is the best cuts through islands and the best others, in turn.
func (c *cutter) kept() []Cut {
	a, b := c.choose(c.through), c.choose(c.cuts)
	var out []Cut
	for i := 0; i < len(a) || i < len(b); i++ {
		if i < len(a) {
			out = append(out, a[i])
		}
		if i < len(b) {
			out = append(out, b[i])
		}
	}
	return out
}

// choose drops doubles and keeps the best, groups of equal score whole.
func (c *cutter) choose(cuts []Cut) []Cut {
	sort.SliceStable(cuts, func(i, j int) bool {
		return math.Round(cuts[i].score/Tuned.TieScore) < math.Round(cuts[j].score/Tuned.TieScore)
	})
	var out []Cut
	for i, k := range cuts {
		if len(out) >= Tuned.PerRegion && k.score > cuts[i-1].score+2*Tuned.TieScore || len(out) >= 2*Tuned.PerRegion {
			break
		}
		same := false
		for _, o := range out {
			if len(o.chords) != len(k.chords) {
				continue
			}
			same = same || CloseBy(o.chords[0], k.chords[0], Tuned.BesideMM)
			for _, m := range c.motions {
				same = same ||
					CloseBy([2]point{m.Of(o.chords[0][0]), m.Of(o.chords[0][1])}, k.chords[0], Tuned.BesideMM)
			}
		}
		if !same {
			out = append(out, k)
		}
	}
	return out
}

// CloseBy tells whether two chords run beside each other, either way round.
func CloseBy(a, b [2]point, tol float64) bool {
	return geom.Dist(a[0], b[0]) < tol && geom.Dist(a[1], b[1]) < tol ||
		geom.Dist(a[0], b[1]) < tol && geom.Dist(a[1], b[0]) < tol
}
