package simplify

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/check"
)

// untilBuilt makes the map one that can be built.
func (e *engine) untilBuilt(r *Result, judge Judge) (*Result, error) {
	best, err := e.ways(r.state, judge)
	if err == nil && !best.Passes { // what would be seen most may go, too
		r.state.bold = true
		return e.ways(r.state, judge)
	}
	return best, err
}

// mostSeen is how much of the subject's area one change may count as before anything else has been sought; tuned.
const mostSeen = 0.4

// ways seeks from one state.
// When the first question to the judge does not settle it, two walks go on from there: one mends what
// fails where it fails, one takes out what is seen least wherever it is. The change that is seen most in the better one is then refused, and another way
// sought. Of all that pass, the one in which least is seen to change stays.
func (e *engine) ways(start *state, judge Judge) (*Result, error) {
	begun := start.clone()
	best, err := begun.begin(judge)
	if err != nil || best.Passes || best.Last.Code == finding.TooManyParts {
		return best, err
	}
	first := best.Last
	var ways [2]*Result
	var errs [2]error
	var wg sync.WaitGroup
	for i := range ways {
		wg.Add(1)
		c := begun.clone()
		go func() {
			defer wg.Done()
			ways[i], errs[i] = c.walk(judge, first, i == 0, mostJudged)
		}()
	}
	wg.Wait()
	local := false
	for i, w := range ways {
		if errs[i] != nil {
			return nil, errs[i]
		}
		if i == 0 || w.Passes && (!best.Passes || w.Seen < best.Seen) {
			best, local = w, i == 0
		}
	}
	k := slices.IndexFunc(best.Changes, func(c Change) bool { return !start.has(c.Keys[0]) })
	if !best.Passes || k < 0 || best.Changes[k].Seen < max(0.4*best.Seen, worthAnother*e.subjectArea) {
		return best, nil
	}
	other := start.clone()
	for _, key := range best.Changes[k].Keys {
		other.shunned[key] = true
	}
	next, err := other.begin(judge)
	if err == nil && !next.Passes && next.Last.Code != finding.TooManyParts {
		next, err = other.walk(judge, next.Last, local, mostJudged/2)
	}
	if err == nil && next.Passes && next.Seen < best.Seen {
		best = next
	}
	return best, err
}

// worthAnother is how much of the subject must be seen to change in one place for another way to be sought; tuned.
const worthAnother = 0.08

// clone is a walk from the same place.
func (s *state) clone() *state {
	c, e := *s, *s.engine
	e.memo, e.plain, e.spur = maps.Clone(e.memo), maps.Clone(e.plain), maps.Clone(e.spur)
	c.engine, c.made = &e, nil
	for _, d := range s.made {
		copied := *d
		c.made = append(c.made, &copied)
	}
	c.coatOf, c.boxes, c.boxesOf = slices.Clone(s.coatOf), nil, nil
	c.banned, c.shunned = maps.Clone(s.banned), map[Key]bool{}
	return &c
}

// has tells whether a change is among the decisions.
func (s *state) has(k Key) bool {
	return slices.ContainsFunc(s.made, func(d *decision) bool { return d.keys(d.option().kind)[0] == k })
}

// begin takes out what saves most minutes for what is seen least until the work is guessed to fit the clock, and asks the judge.
func (s *state) begin(judge Judge) (*Result, error) {
	s.takeOut(s.capacity(), nil, false)
	if left := Guess(s.cur); left > hopeless*s.capacity() {
		r, err := s.result()
		if err == nil {
			r.Passes, r.Last = false, Built{Code: finding.TooManyParts, Reason: fmt.Sprintf("some %.0f minutes of work are left, of %.0f that fit the clock", left/guessPerMin, s.capacity()/guessPerMin)}
		}
		return r, err
	}
	return s.ask(judge)
}

func (s *state) ask(judge Judge) (*Result, error) {
	if s.err != nil {
		return nil, s.err
	}
	b, err := judge(s.cur)
	if err != nil {
		return nil, err
	}
	r, err := s.result()
	if err == nil {
		r.Last, r.Passes = b, b.OK
	}
	return r, err
}

// walk takes out more after the judge's last word until he is content, has been asked often enough, or nothing is left to take. What fails by its shape
// is mended where it fails if local is set; what fails by the clock, wherever that is seen least.
func (s *state) walk(judge Judge, b Built, local bool, most int) (*Result, error) {
	for asked := 1; ; asked++ {
		bold := leastSaved * math.Pow(1.5, float64(asked-1)) // the bolder, the longer it fails
		before := s.kept()
		target := Guess(s.cur) - max(bold, guessPerMin*b.Over)
		more := s.takeOut(target, b.Places, local && b.Over == 0 && len(b.Places) > 0) || local && s.takeOut(target, nil, false)
		r, err := s.ask(judge)
		if err != nil || r.Passes || !more || asked == most {
			return r, err
		}
		if b.Over > 0 && r.Last.Over == 0 { // what was only too long now fails by its shape: back, and otherwise
			if err := s.back(before); err != nil {
				return r, err
			}
			continue
		}
		b = r.Last
	}
}

// kept is what was decided so far.
func (s *state) kept() (made []decision) {
	for _, d := range s.made {
		made = append(made, *d)
	}
	return made
}

// back returns to what was kept. What was decided since is not thought of again.
func (s *state) back(made []decision) error {
	for _, d := range s.made[min(len(made), len(s.made)):] {
		for _, k := range d.keys(d.option().kind) {
			s.shunned[k] = true
		}
	}
	s.made = nil
	for _, d := range made {
		s.made = append(s.made, &d)
	}
	return s.repaint()
}

// A drawing's guessed work against the clock: of 79 drawings, those that end in a plan within 40 minutes for two stand at 31 and less, and the
// log is round after some 16 minutes and three quarters of the guess; tuned.
const (
	guessPerMin = 1.3
	everyLogMin = 16
	leastSaved  = 3 // taken out between two questions to the judge; less asks too often, more takes out too much
)

// mostTaken bounds the steps between two questions to the judge.
const mostTaken = 30

// hopeless is how many times what fits the clock is not worth asking the judge about; of 79 drawings none from 1.1 times on could be planned.
const hopeless = 1.5

// capacity is the guessed work that fits the clock.
func (e *engine) capacity() float64 {
	return guessPerMin * (e.shop.ClockMin - everyLogMin) * math.Sqrt(float64(e.shop.Crew)/2)
}

// takeOut adds decisions that save work until no more than target is left, most for what is seen least first; places that failed come before others,
// or alone: then one decision is enough to ask again.
func (s *state) takeOut(target float64, failed []geom.TruePoint, only bool) bool {
	any := false
	for range mostTaken {
		need := Guess(s.cur) - target
		if need <= 0 || s.err != nil {
			break
		}
		found := s.features(need, failed, only)
		if len(found) == 0 {
			return any
		}
		// As many as are needed and do not touch each other; half of them, and half again, when they get in each other's way.
		batch := found[:1]
		touched := slices.Clone(found[0].regions)
		for _, f := range found[1:] {
			saved := 0.0
			for _, b := range batch {
				saved += b.saves
			}
			if saved >= need {
				break
			}
			if !slices.ContainsFunc(f.regions, func(i int) bool { return slices.Contains(touched, i) }) {
				batch = append(batch, f)
				touched = append(touched, f.regions...)
			}
		}
		for !s.take(batch) {
			if batch = batch[:len(batch)/2]; len(batch) == 0 {
				break
			}
		}
		if len(batch) == 0 {
			continue
		}
		any = true
		if only {
			break
		}
	}
	return any
}

// take makes decisions, unless that leads to places that cannot be mended; then they are not thought of again.
func (s *state) take(batch []feature) bool {
	before := slices.Clone(s.made)
	chosen := make([]int, len(before))
	for i, d := range before {
		chosen[i] = d.chosen
	}
	for _, f := range batch {
		s.made = append(s.made, f.decision)
		if len(batch) == 1 {
			s.banned[f.once()] = true
		}
	}
	work := Guess(s.cur)
	s.rounds = 0
	if s.repaint() == nil && s.mend() == nil && len(s.places) == 0 && s.subject() && Guess(s.cur) < work-0.1 {
		return true
	}
	s.made = before
	for i, d := range before {
		d.chosen = chosen[i]
	}
	s.err = s.repaint()
	return false
}

// subject tells whether anything but ground is left.
func (s *state) subject() bool {
	return slices.ContainsFunc(s.cur.Regions, func(r partition.Region) bool { return r.Colour != 0 && !r.Jacket })
}

// feature is something that could be taken out, and the minutes of work that it is guessed to save.
type feature struct {
	decision *decision
	saves    float64
	regions  []int // it and its neighbours
	price    float64
}

// once tells a feature from others of the same place.
func (f feature) once() [4]int {
	o := f.decision.options[0]
	k := f.decision.keys(o.kind)[0]
	return [4]int{int(k.Kind), k.X, k.Y, int(10 * o.cost)}
}

// Guessed minutes; tuned on the shop's own figures (making 1.2, laying 0.4, a copy 0.6).
const (
	makeMin   = 1.2
	layMin    = 0.6
	islandMin = 1.0 // what is round an island must be cut to let it in
	bayMin    = 0.8 // a half turn of concave border is one more part
)

// nearFailed is how much less what fails is spared; tuned.
const nearFailed = 0.6

// features lists what could be taken out of the current map, least seen for the minutes that it saves first: groups of like regions, all of one
// colour, bays of outlines. More minutes than are needed do not count.
func (s *state) features(need float64, failed []geom.TruePoint, only bool) []feature {
	var all, out []feature
	groups := map[[3]int][]int{} // colour, size class -> regions
	var order [][3]int
	for i, r := range s.cur.Regions {
		if r.Jacket || s.outer(r) {
			continue
		}
		for _, k := range [][3]int{sizeClass(r), {r.Colour, -1, -1}} {
			if k[1] < 0 && r.Colour == 0 {
				continue
			}
			if groups[k] == nil {
				order = append(order, k)
			}
			groups[k] = append(groups[k], i)
		}
		if r.Colour != 0 {
			all = append(all, s.plainer(i)...)
			if only {
				all = append(all, s.spurs(i)...)
			}
			all = append(all, s.limbs(i)...)
		}
	}
	for _, k := range order {
		if k[1] >= 0 || len(groups[k]) > 1 {
			if f, ok := s.givesWay(groups[k]); ok {
				all = append(all, f)
			}
		}
	}
	if !s.evened {
		s.evened = true
		if f, ok := s.even(); ok {
			all = append(all, f)
		}
	}
	var failing []int
	for _, at := range failed {
		failing = append(failing, s.regionAt(at))
	}
	for _, f := range all {
		o := &f.decision.options[0]
		k := f.decision.keys(o.kind)
		if s.banned[f.once()] || refuses(s.shunned, k) || refuses(s.refused, k) || f.saves <= 0 {
			continue
		}
		if !s.bold && o.cost > mostSeen*s.subjectArea {
			continue
		}
		o.saves = f.saves / guessPerMin
		f.price = o.cost / min(f.saves, need)
		if slices.ContainsFunc(failing, func(i int) bool { return slices.Contains(f.regions, i) }) {
			f.price *= nearFailed
		} else if only {
			continue
		}
		if f.saves < min(need, leastSaved)/4 {
			f.price *= 3 // nibbling
		}
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b feature) int { return cmp.Compare(a.price, b.price) })
	return out
}

// outer tells whether a region is the ground round the picture.
func (s *state) outer(r partition.Region) bool {
	return r.Colour == 0 && math.Hypot(r.Shape[0][0][0], r.Shape[0][0][1]) > s.m.Frame.PictureRadius
}

// sizeClass is the same for regions that may be copies of each other.
func sizeClass(r partition.Region) [3]int {
	return [3]int{r.Colour, int(math.Round(math.Log(r.Area) / math.Log(1+2*alike))), len(r.Shape)}
}

// What the eye holds on to: a dot that stands by itself on another colour, the outline against the ground, a large area; tuned.
const (
	island     = 1.8
	silhouette = 2.0
	largeShare = 0.15
)

// mergedBelow is the difference, of 1, below which a colour that gives way to another is called merged and not left out: CIEDE2000 of 12; tuned.
const mergedBelow = 0.25

// givesWay is regions that take on the colour beside them that is seen least.
func (s *state) givesWay(regions []int) (feature, bool) {
	d := &decision{colour: s.cur.Regions[regions[0]].Colour}
	o := option{kind: Merged}
	f := feature{decision: d, saves: makeMin}
	for _, i := range regions {
		r := s.cur.Regions[i]
		p := place(r, i)
		near := s.neighbours(p)
		f.regions = append(f.regions, i)
		for _, n := range near {
			f.regions = append(f.regions, n.regions...)
		}
		all := total(near)
		best, cost := -1, math.Inf(1)
		for _, n := range near {
			if n.length < 0.15*all || len(near) > 1 && n.colour == d.colour {
				continue
			}
			kind := Merged
			if s.differ(d.colour, n.colour) > mergedBelow {
				kind = Dropped
			}
			c := s.seen(r.Shape, r.Area, d.colour, n.colour, kind)
			if kind == Dropped && len(near) == 1 {
				c *= island
			}
			if n.colour == 0 && slices.ContainsFunc(n.regions, func(i int) bool { return s.outer(s.cur.Regions[i]) }) {
				c *= silhouette
			}
			if r.Area > largeShare*s.subjectArea {
				c *= silhouette
			}
			// What keeps the border with the others is seen less than what moves it.
			if c *= 2 - n.length/all; c < cost {
				best, cost = n.colour, c
			}
		}
		if best < 0 {
			return f, false
		}
		if s.differ(d.colour, best) > mergedBelow {
			o.kind = Dropped
		}
		o.to = best
		o.cost += cost
		own := d.colour
		o.coats = append(o.coats, partition.Coat{Shape: []geom.Region[geom.TruePoint]{r.Shape}, Over: func(c int) bool { return c == own }, Colour: best, Source: r.Source})
		d.places = append(d.places, p)
		f.saves += layMin + bayMin*bays(r.Shape)
		if len(near) == 1 {
			f.saves += islandMin
		}
	}
	d.options = []option{o}
	return f, true
}

// place is a whole region.
func place(r partition.Region, i int) check.Place {
	return check.Place{Region: i, Shape: r.Shape, At: geom.MomentsOf(r.Shape).Centroid, Width: 2 * r.Area / r.Shape.Perimeter(), Whole: true}
}

// bays is how many half turns a region's outline makes inwards, seen to a third of a millimetre.
func bays(r geom.Region[geom.TruePoint]) float64 {
	sum := 0.0
	ring := geom.Thinned(r[0], 0.3)
	for i, p := range ring {
		a, b := geom.Sub(p, ring[(i+len(ring)-1)%len(ring)]), geom.Sub(ring[(i+1)%len(ring)], p)
		if t := math.Atan2(a.Cross(b), a.Dot(b)); t < 0 {
			sum -= t
		}
	}
	return sum / math.Pi
}

// plainMM are the radii to which outlines are made plainer: nothing smaller is formed by hand; tuned.
var plainMM = []float64{2.5, 5, 9}

// closed are the ways to make a region's outline plainer, kept by its outline.
func (e *engine) closed(r partition.Region) [][]geom.Region[geom.TruePoint] {
	key := check.Outline(r, false)
	if c, ok := e.plain[key]; ok {
		return c
	}
	var out [][]geom.Region[geom.TruePoint]
	for _, radius := range plainMM {
		c, err := skeleton.Closed(r.Shape, radius)
		if err == nil && len(c) == 1 && c[0].Area()-r.Area >= 1 {
			out = append(out, c)
		}
	}
	e.plain[key] = out
	return out
}

// plainer is a region's outline without bays, and without spurs, that a disc cannot enter.
func (s *state) plainer(i int) []feature {
	r := s.cur.Regions[i]
	before := bays(r.Shape)
	if before < 0.5 {
		return nil
	}
	var out []feature
	p := place(r, i)
	for _, closed := range s.closed(r) {
		more := closed[0].Area() - r.Area
		o := option{kind: Plainer, to: r.Colour, coats: []partition.Coat{{Shape: closed, Colour: r.Colour, Source: r.Source}}}
		near := s.neighbours(p)
		for _, n := range near {
			o.cost += more * s.differ(r.Colour, n.colour) * 1.5 * n.length / total(near)
		}
		d := &decision{places: []check.Place{p}, colour: r.Colour, options: []option{o}}
		f := feature{decision: d, saves: bayMin * (before - bays(closed[0])), regions: []int{i}}
		for _, n := range near {
			f.regions = append(f.regions, n.regions...)
		}
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b feature) int {
		return cmp.Compare(a.decision.options[0].cost/a.saves, b.decision.options[0].cost/b.saves)
	})
	return out
}

// Guess is the minutes of work that a map is guessed to take beyond what every log takes.
func Guess(m *partition.Map) float64 {
	seen := map[[3]int]bool{}
	sum := 0.0
	for _, r := range m.Regions {
		if r.Jacket {
			continue
		}
		if c := sizeClass(r); !seen[c] {
			seen[c] = true
			sum += makeMin
		}
		sum += layMin + bayMin*bays(r.Shape) + islandMin*float64(len(r.Shape)-1)
	}
	return sum
}
