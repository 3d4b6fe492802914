package recipe

import (
	"math"
	"sort"

	"sugarwright/geom"
)

// Class says who makes a part, and how.
type Class int

// The classes, the best first.
const (
	Fine    Class = iota // made as it stands
	Close                // its corners soften, its ends round: press it into place
	Pressed              // ground only: a filler, pressed in between firm parts
	Refused              // no hands make it: it is cut
)

func (c Class) String() string { return [...]string{"plain", "close", "pressed", "refused"}[c] }

// Fit is the recipe of a part, and how far the part is from it.
type Fit struct {
	Recipe
	Misfit float64 // area of the symmetric difference over the part's area
	Lump   float64 // diameter of the largest disc in the symmetric difference, millimetres
	Class  Class
	Found  bool // false: nothing that hands make is near
	// Where the section lies on the part: its centroid, the way of its foot, and whether it is turned end for end.
	At   geom.Vec
	Turn float64
	Flip bool
	// drawn on the region, until it has been measured
	section []geom.Vec
}

// Placed is the section where it lies on the part.
func (f Fit) Placed() geom.Ring[geom.TruePoint] {
	ring := f.Section()
	if len(ring) < 3 {
		return nil
	}
	if f.Flip {
		ring = ring.Reversed()
		for i := range ring {
			ring[i][0] = -ring[i][0]
		}
	}
	c := geom.MomentsOf(geom.Region[geom.TruePoint]{ring}).Centroid
	s, k := math.Sincos(f.Turn)
	for i, p := range ring {
		v := geom.Sub(p, c)
		ring[i] = geom.TruePoint{k*v[0] - s*v[1] + f.At[0], s*v[0] + k*v[1] + f.At[1]}
	}
	return ring
}

// Moved is the fit of the part turned, and perhaps mirrored, about the origin.
func (f Fit) Moved(by func(geom.Vec) geom.Vec) Fit {
	way := by(geom.Polar(f.Turn)).Angle()
	f.At, f.Turn = by(f.At), way
	if by(geom.Vec{1, 0}).Cross(by(geom.Vec{0, 1})) < 0 {
		f.Turn, f.Flip = way-math.Pi, !f.Flip
	}
	return f
}

// IoU is intersection over union of part and recipe, which have the same area.
func (f Fit) IoU() float64 { return (2 - f.Misfit) / (2 + f.Misfit) }

// LumpLimit is the largest lump that a part of an area may have, millimetres.
func LumpLimit(area float64) float64 {
	return max(Tuned.LumpMM, Tuned.LumpShare*math.Sqrt(area))
}

// classOf puts a fit into its class.
func classOf(misfit, lump, area float64, ground bool) Class {
	ok := lump <= LumpLimit(area)
	switch {
	case ok && misfit <= Tuned.FineMisfit:
		return Fine
	case ok && misfit <= Tuned.CloseMisfit:
		return Close
	case ground && misfit <= Tuned.PressedMisfit && lump <= Tuned.PressedLumpMM && area <= Tuned.PressedMM2:
		return Pressed
	}
	return Refused
}

// near tells whether a quick fit that is refused is so near to a class, as a share of its limits, that a thorough one may
// come up to it.
func (f Fit) near(share, area float64, ground bool) bool {
	if f.Class != Refused || !f.Found {
		return false
	}
	limit, lump := Tuned.CloseMisfit, LumpLimit(area)
	if ground && area <= Tuned.PressedMM2 {
		limit, lump = Tuned.PressedMisfit, max(lump, Tuned.PressedLumpMM)
	}
	return f.Misfit <= share*limit && f.Lump <= (2*share-1)*lump
}

// Effort is how hard sizes are improved.
type Effort struct {
	tol    float64 // the outline is thinned by this share of the root of the area first
	climbs int     // starts improved
	rounds int     // step lengths, halved each time
	tries  int     // rounds over all sizes with one step
	lines  int
}

// Thorough is for what is printed, Quick for prices in the search.
var (
	Thorough = Effort{tol: 0.002, climbs: 4, rounds: 6, tries: 5, lines: 100}
	Quick    = Effort{tol: 0.006, climbs: 1, rounds: 3, tries: 3, lines: searchLines}
)

// Best is the plainest recipe near the best one for a region with no hole, or with the one that a closed sheet leaves.
// Ground may be pressed in as a filler.
func Best[P geom.Frame](r geom.Region[P], ground bool, least Least, e Effort) Fit {
	if len(r) > 1 {
		return ringFit(r)
	}
	f := newFitter(r, ground, least, e)
	if f == nil {
		return Fit{Class: Refused}
	}
	out := f.best()
	if e.lines != searchLines || !out.near(Tuned.NearShare, f.area, ground) {
		return out
	}
	if out = f.refined(); out.near(Tuned.NearerShare, f.area, ground) {
		return Best(r, ground, least, Thorough)
	}
	return out
}

// refined improves the nearest of the recipes that were found, finely: the region misses its class by little.
func (f *fitter) refined() Fit {
	f.Effort, f.scan = Thorough, newScan([][]geom.Vec{f.full}, f.area, Thorough.lines)
	tries := f.done
	f.done, f.most = nil, 0
	for i := range tries {
		f.rate(&tries[i])
	}
	sort.SliceStable(tries, func(i, j int) bool { return tries[i].share > tries[j].share })
	for i := range tries[:min(len(tries), Tuned.Refined)] {
		t := tries[i]
		if t.Bent() {
			f.climb(&t, t.freeBent(f.area), 0)
		} else {
			f.climb(&t, t.free(f.area), 0)
		}
		f.keep(&t)
	}
	return f.choose()
}

// Sized fits the sizes of a recipe to another region: the same part before it is rolled round.
func Sized[P geom.Frame](r geom.Region[P], was Fit, ground bool, least Least) Fit {
	if len(r) > 1 {
		return ringFit(r)
	}
	f := newFitter(r, ground, least, Thorough)
	if f == nil {
		return was
	}
	if was.Bent() {
		f.bends()
	} else {
		// The part has kept its lie by and large: only its sizes have changed, from every lie that its base could have.
		k := math.Sqrt(f.area / was.Area())
		for i := range 24 {
			f.trials = append(f.trials, trial{Recipe: was.Recipe.Sized(k), theta: 2 * math.Pi * float64(i) / 24})
			m := trial{Recipe: was.Recipe.Sized(k), theta: 2 * math.Pi * float64(i) / 24, flip: true}
			f.trials = append(f.trials, m)
		}
		f.climbBest(3)
	}
	best := was
	best.Misfit = math.Inf(1)
	for _, t := range f.done {
		if t.Base != was.Base || t.Op != was.Op && !(t.Bent() && was.Bent()) {
			continue
		}
		if g := f.measured(t); g.Found && g.Misfit < best.Misfit {
			best = g
		}
	}
	f.lump(&best)
	if math.IsInf(best.Misfit, 1) {
		best = was
		best.Recipe = was.Recipe.Sized(math.Sqrt(f.area / was.Area()))
	}
	return best
}

// trial is a recipe with its lie: the way in which its foot runs, and where its centroid is, from the region's.
type trial struct {
	Recipe
	theta, x, y float64
	flip        bool // turned end for end
	share       float64
}

// fitter finds the recipe of one region, in a frame in which few borders run along the scan's lines.
type fitter struct {
	*scan
	Effort
	ring   []geom.Vec // thinned
	full   []geom.Vec // as given, for the measure
	hull   geom.Ring[geom.Vec]
	axis   geom.Vec
	origin geom.Vec // the frame's, in the region's, and the way of its x axis
	u      geom.Vec
	least  Least
	ground bool
	drawn  drawing    // the last
	line   []geom.Vec // spare
	path   []edge
	trials []trial // of one family
	done   []trial // improved
	most   float64 // the best share so far
}

func newFitter[P geom.Frame](r geom.Region[P], ground bool, least Least, e Effort) *fitter {
	area := r.Area()
	if area <= 0.5 || len(r[0]) < 3 {
		return nil
	}
	f := &fitter{Effort: e, least: least, ground: ground}
	thin := geom.Thinned(r[0], max(0.02, e.tol*math.Sqrt(area)))
	m := geom.MomentsOf(r)
	u := tilt(thin)
	turned := func(ring geom.Ring[P]) []geom.Vec {
		out := make([]geom.Vec, len(ring))
		for i, p := range ring {
			w := geom.Sub(p, m.Centroid)
			out[i] = geom.Vec{w.Dot(u), u.Cross(w)}
		}
		return out
	}
	f.ring, f.full = turned(thin), turned(geom.Thinned(r[0], 0.01))
	f.hull = geom.Hull(f.full)
	if len(f.hull) < 3 {
		return nil
	}
	axis := m.Axis()
	f.axis = geom.Vec{axis.Dot(u), u.Cross(axis)}
	f.scan = newScan([][]geom.Vec{f.ring}, geom.Ring[geom.Vec](f.ring).Area(), e.lines)
	f.area, f.origin, f.u = area, geom.Vec(m.Centroid), u
	return f
}

// tilt is a direction along which little border lies: of sixteen, from that of the longest edge on.
func tilt[P geom.Frame](ring geom.Ring[P]) geom.Vec {
	type side struct{ long, angle float64 }
	var sides []side
	base, long := 0.0, 0.0
	for i := range ring {
		v := geom.Sub(ring[(i+1)%len(ring)], ring[i])
		s := side{v.Len(), v.Angle()}
		sides = append(sides, s)
		if s.long > long+1e-6 {
			base, long = s.angle, s.long
		}
	}
	best, least := base, math.Inf(1)
	for k := range 16 {
		a := base + math.Pi*(float64(k)+0.5)/16
		sum := 0.0
		for _, s := range sides {
			if d := math.Abs(math.Sin(s.angle - a)); d < 0.17 {
				sum += s.long * (0.17 - d)
			}
		}
		if sum < least-1e-9 {
			best, least = a, sum
		}
	}
	return geom.Polar(best)
}

// drawing is a section about its centroid, and by how much it is to grow for the region's area.
type drawing struct {
	line []geom.Vec
	grow float64
}

// draw draws a trial; false where its sizes make no section.
func (f *fitter) draw(t *trial) bool {
	out := f.drawn.line[:0]
	switch {
	case t.Bent():
		out = t.bent(out)
	case t.Base == Oval:
		out = ellipse(out, t.Size[0], t.Size[1])
	default:
		p, ok := t.Recipe.path(f.path[:0])
		if f.path = p; !ok {
			return false
		}
		out = draw(out, p)
	}
	if t.flip {
		for i, j := 0, len(out)-1; i <= j; i, j = i+1, j-1 {
			out[i], out[j] = geom.Vec{-out[j][0], out[j][1]}, geom.Vec{-out[i][0], out[i][1]}
		}
	}
	f.drawn.line = out
	area, cx, cy := 0.0, 0.0, 0.0
	a := out[len(out)-1]
	for _, b := range out {
		w := a[0]*b[1] - a[1]*b[0]
		area += w
		cx, cy = cx+w*(a[0]+b[0]), cy+w*(a[1]+b[1])
		a = b
	}
	if area <= 1e-6 {
		return false
	}
	cx, cy = cx/(3*area), cy/(3*area)
	for i, p := range out {
		out[i] = geom.Vec{p[0] - cx, p[1] - cy}
	}
	f.drawn.grow = math.Sqrt(2 * f.area / area)
	return true
}

// laid is the section that was drawn last, where a trial lies.
func (f *fitter) laid(t *trial) []geom.Vec {
	sin, cos := math.Sincos(t.theta)
	sin, cos = sin*f.drawn.grow, cos*f.drawn.grow
	out := f.line[:0]
	for _, p := range f.drawn.line {
		out = append(out, geom.Vec{cos*p[0] - sin*p[1] + t.x, sin*p[0] + cos*p[1] + t.y})
	}
	f.line = out
	return out
}

// rate measures the share of the region that a trial covers.
func (f *fitter) rate(t *trial) float64 {
	if t.share = 0; f.draw(t) {
		f.relaid(t)
	}
	return t.share
}

// relaid measures it again where nothing but its lie has changed.
func (f *fitter) relaid(t *trial) { t.share = f.covered(f.laid(t)) / f.area }

// number is one of those that a trial is improved by, how far it goes for a step of a millimetre, and its least.
type number struct {
	at    *float64
	scale float64
	least float64
}

// lie are the numbers of where a trial lies.
func (t *trial) lie(area float64) []number {
	none := math.Inf(-1)
	return []number{{&t.theta, 1 / (0.6 * math.Sqrt(area)), none}, {&t.x, 1, none}, {&t.y, 1, none}}
}

// free are the numbers of a trial that are improved: its lie, then all sizes but the first, which the area settles.
func (t *trial) free(area float64) []number {
	out := t.lie(area)[:1]
	add := func(of ...*float64) {
		for _, x := range of {
			out = append(out, number{x, 1, math.Inf(-1)})
		}
	}
	for i := 1; i < len(sizes[t.Base]); i++ {
		if i < 2 || t.Base != Bar || t.Size[i] != 0 {
			add(&t.Size[i])
		}
	}
	switch t.Op {
	case Bow:
		add(&t.Done[0])
		if t.Done[1] != 0 {
			add(&t.Done[1])
		}
	case Cut:
		add(&t.Done[0], &t.Done[1])
	case Groove:
		add(&t.Done[0], &t.Done[1], &t.Done[2])
	case Grooves:
		for row := 0; row < 10; row += 5 {
			if t.Done[row+3] > 0 {
				add(&t.Done[row], &t.Done[row+1], &t.Done[row+2])
			}
			if t.Done[row+3] > 1 {
				add(&t.Done[row+4])
			}
		}
	}
	add(&t.x, &t.y)
	return out
}

// climb improves a trial by steps along one of its numbers at a time, halved when none helps. It ends early when the
// share that it is to come up to is out of reach.
func (f *fitter) climb(t *trial, free []number, floor float64) {
	step := Tuned.ClimbShare * math.Sqrt(f.area)
	if f.rate(t) == 0 {
		return
	}
	hope := Tuned.LastHope
	kept := true // the last drawing is of the trial as it stands
	for range f.rounds {
		for tries, again := 0, true; again && tries < f.tries; tries++ {
			again = false
			for _, n := range free {
				lies := n.at == &t.theta || n.at == &t.x || n.at == &t.y
				for _, d := range [2]float64{step * n.scale, -step * n.scale} {
					old, was := *n.at, t.share
					*n.at += d
					t.lengths()
					switch {
					case *n.at < n.least:
					case lies && kept:
						f.relaid(t)
					default:
						f.rate(t)
						kept = lies
					}
					if t.share > was+1e-5 {
						again, kept = true, true
						break
					}
					*n.at, t.share = old, was
					t.lengths()
				}
			}
		}
		if t.share+hope*(1-t.share) < floor {
			return
		}
		step, hope = step/2, 0.65*hope
	}
}

// climbBest improves the best starts of a family, as many as may still come up to the best so far: climbing closes less
// than half of the gap in nearly all fits.
func (f *fitter) climbBest(most int) {
	for i := range f.trials {
		f.rate(&f.trials[i])
	}
	sort.SliceStable(f.trials, func(i, j int) bool { return f.trials[i].share > f.trials[j].share })
	floor := f.floor()
	var climbed [Bases]int // the best starts of each bar
	for i := range f.trials {
		t := &f.trials[i]
		if t.share+Tuned.HopeShare*(1-t.share) < floor {
			break
		}
		if climbed[t.Base]++; climbed[t.Base] > most {
			continue
		}
		f.climb(t, t.free(f.area), floor)
		f.keep(t)
	}
	f.trials = f.trials[:0]
}

// floor is the least share that is of use: that of a part, and no more than a plainer recipe may lack of the best.
func (f *fitter) floor() float64 { return max(f.most-0.01, 1-0.55*f.limit()) }

// keep takes an improved trial to those that are chosen from, if it keeps to its limits.
func (f *fitter) keep(t *trial) {
	t.settle()
	if r, ok := tidied(t.Recipe, f.area); ok && f.least.allow(r, f.area, f.ground) {
		f.done = append(f.done, *t)
		f.most = max(f.most, t.share)
	}
}

// best goes through the bars, then through the operations, plainest first; a bar that fits ends the search.
func (f *fitter) best() Fit {
	for _, family := range []func(){f.rods, f.bars, f.moons, f.wedges, f.leaves, f.drops} {
		family()
		if f.climbBest(f.climbs); f.enough() {
			return f.choose()
		}
	}
	hollows, edges := f.hollows()
	if (hollows > 5 || hollows >= 4 && edges > 2) && !f.slender() { // no operation makes so many
		return f.choose()
	}
	if (hollows <= 1 || f.slender()) && f.area < Tuned.BentHull*f.hull.Area() { // a thick strip is bent one way, and is hollow there
		f.bends()
	}
	for _, starts := range []func(){f.bows, f.edges, f.grooves} {
		if !f.enough() {
			starts()
			f.climbBest(f.climbs + 1)
		}
	}
	return f.choose()
}

// enough tells whether a bar is so near that no operation is looked for.
func (f *fitter) enough() bool { return f.most >= 1-Tuned.EnoughMisfit/2 }

// hollows counts the pockets that are lumps, and the hull's edges over them.
func (f *fitter) hollows() (n, edges int) {
	limit, lids := LumpLimit(f.area), map[int]bool{}
	for _, p := range f.pockets() {
		if p.deep > limit && p.area > limit*limit {
			n++
			lids[int(math.Round(5*p.lid.Angle()))%31] = true // to a fifth of a radian
		}
	}
	return n, len(lids)
}

// slender tells whether a region may be a thin strip.
func (f *fitter) slender() bool {
	p := geom.Ring[geom.Vec](f.ring).Perimeter()
	d := p*p/16 - f.area
	return d > 0 && p/4-math.Sqrt(d) <= Tuned.TwiceMM
}

// choose is the plainest recipe whose misfit is near the least, among those that keep to their limits and hold no lump.
func (f *fitter) choose() Fit {
	var fits []Fit
	for _, t := range f.done {
		if 2*(1-t.share) > f.limit()*1.5 || 2*(1-t.share) > 2*(1-f.most)+0.06 {
			continue
		}
		if g := f.measured(t); g.Found {
			fits = append(fits, g)
		}
	}
	if len(fits) == 0 {
		return Fit{Class: Refused, Misfit: math.Inf(1)}
	}
	sort.SliceStable(fits, func(i, j int) bool { return fits[i].Misfit < fits[j].Misfit })
	best := -1 // the nearest that is accepted
	for i := range fits {
		if f.lump(&fits[i]); fits[i].Class < Refused {
			best = i
			break
		}
	}
	if best < 0 {
		return fits[0] // it tells how far off
	}
	near := fits[best : best+1]
	for i := best + 1; i < len(fits) && fits[i].Misfit <= max(fits[best].Misfit+Tuned.PlainerMisfit, Tuned.EnoughMisfit); i++ {
		near = fits[best : i+1]
	}
	sort.SliceStable(near, func(i, j int) bool {
		if near[i].Op != near[j].Op {
			return near[i].Op < near[j].Op
		}
		return near[i].Base < near[j].Base
	})
	for i := range near {
		if f.lump(&near[i]); near[i].Class < Refused {
			return near[i]
		}
	}
	return near[0]
}

// limit is the most misfit with which the region can be a part at all.
func (f *fitter) limit() float64 {
	if f.ground && f.area <= Tuned.PressedMM2 {
		return Tuned.PressedMisfit
	}
	return Tuned.CloseMisfit
}

// measured is a trial with its sizes as they are printed, and its misfit; Found is false when they break a limit.
func (f *fitter) measured(t trial) Fit {
	r, ok := tidied(t.Recipe, f.area)
	if !ok || !f.least.allow(r, f.area, f.ground) {
		return Fit{Class: Refused}
	}
	t.Recipe = r
	if !f.draw(&t) {
		return Fit{Class: Refused}
	}
	out := f.laid(&t)
	return Fit{
		Recipe:  r,
		Misfit:  max(0, 2*(1-f.covered(out)/f.area)),
		Class:   Refused,
		Found:   true,
		At:      geom.Add(geom.Add(f.origin, f.u, t.x), f.u.Left(), t.y),
		Turn:    t.theta + f.u.Angle(),
		Flip:    t.flip,
		section: append([]geom.Vec(nil), out...),
	}
}

// lump measures the largest disc in the difference, and puts the fit into its class.
func (f *fitter) lump(g *Fit) {
	if g.section == nil {
		return
	}
	limit := LumpLimit(f.area)
	if g.Misfit <= f.limit() && g.Misfit*f.area > math.Pi/4*limit*limit {
		g.Lump = lump([][]geom.Vec{f.full}, [][]geom.Vec{g.section}, limit, f.lines == searchLines)
	}
	g.Class, g.section = classOf(g.Misfit, g.Lump, f.area, f.ground), nil
}

// tidied sees to it that no size lies between 0 and 1 mm, and that the area is the part's.
func tidied(r Recipe, area float64) (Recipe, bool) {
	has := r.Area()
	if has <= 0 || math.IsNaN(has) {
		return r, false
	}
	r = r.Sized(math.Sqrt(area / has))
	was := r
	small := func(v float64) bool { return v != 0 && math.Abs(v) < 1 }
	for i := range sizes[r.Base] {
		if !small(r.Size[i]) {
			continue
		}
		switch {
		case r.Base == Wedge && i == 1: // to a point
			r.Base, r.Size = Triangle, [4]float64{r.Size[0], r.Size[2], r.Size[0]/2 + r.Size[3]}
			if r.Op != Plain {
				return r, false
			}
			return tidied(r, area)
		case r.Base == Wedge && i == 3, r.Base == Triangle && i == 2, r.Base == Tapered && i >= 2, r.Base <= Strip && i == 2:
			r.Size[i] = 0
		case r.Base == Leaf && i >= 1:
			r.Base, r.Size = HalfMoon, [4]float64{r.Size[0], r.Size[1] + r.Size[2]}
			return tidied(r, area)
		default:
			return r, false
		}
	}
	if r.Base == Triangle && r.Size[0]-r.Size[2] != 0 && math.Abs(r.Size[0]-r.Size[2]) < 1 {
		r.Size[2] = r.Size[0]
	}
	switch r.Op {
	case Bow:
		if small(r.Done[1]) {
			r.Done[1] = 0
		}
		if small(r.Done[0]) {
			if r.Done[1] == 0 {
				r.Op, r.Done, r.Side = Plain, [10]float64{}, 0
			} else {
				r.Done[0] = 0
			}
		}
	case Bend, BendTwice, Follow:
		for i := range 2 {
			if small(r.Done[i]) {
				r.Done[i] = 0
			}
		}
	case Cut, Groove, Grooves:
		if math.Abs(r.Done[0]) < 1 || math.Abs(r.Done[1]) < 1 || small(r.Done[5]) || small(r.Done[6]) {
			return r, false
		}
	}
	if r.Base == Bar || r.Base == Strip {
		r = long(r)
	}
	if !same(r, was) {
		has := r.Area()
		if has <= 0 {
			return r, false
		}
		r = r.Sized(math.Sqrt(area / has))
	}
	return r, true
}

func same(a, b Recipe) bool {
	return a.Base == b.Base && a.Op == b.Op && a.Size == b.Size && a.Done == b.Done && a.Side == b.Side
}

// long calls a bar a strip where it is thin.
func long(r Recipe) Recipe {
	if r.Bent() {
		return r
	}
	r.Base = Bar
	if r.Size[0] > Tuned.StripAspect*r.Size[1] {
		r.Base = Strip
	}
	return r
}

// settle lays a bar on its longer side.
func (t *trial) settle() {
	if t.Base > Strip || t.Base == Rod || t.Bent() || t.Size[2] != 0 || t.Size[1] <= t.Size[0] {
		return
	}
	t.Size[0], t.Size[1] = t.Size[1], t.Size[0]
	if t.Op != Plain {
		t.Side = (t.Side + 3) % 4 // turned a quarter, clockwise
	}
	if t.theta += math.Pi / 2; t.flip {
		t.theta -= math.Pi
	}
}
