package simplify

import (
	"maps"
	"math"
	"slices"
	"sync"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
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

// ways seeks from one state. When the first question to the judge does not settle it, two walks go on from there: one
// mends what fails where it fails, one takes out what is seen least wherever it is. The change that is seen most in the
// better one is then refused, and another way sought. Of all that pass, the one in which least is seen to change stays.
func (e *engine) ways(start *state, judge Judge) (*Result, error) {
	begun := start.clone()
	best, err := begun.begin(judge)
	if err != nil || best.Passes || best.Last.Why.Code == finding.TooManyParts {
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
			ways[i], errs[i] = c.walk(judge, first, i == 0, Tuned.MostJudged)
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
	if !best.Passes || k < 0 || best.Changes[k].Seen < max(0.4*best.Seen, Tuned.WorthAnother*e.subjectArea) {
		return best, nil
	}
	other := start.clone()
	for _, key := range best.Changes[k].Keys {
		other.shunned[key] = true
	}
	next, err := other.begin(judge)
	if err == nil && !next.Passes && next.Last.Why.Code != finding.TooManyParts {
		next, err = other.walk(judge, next.Last, local, Tuned.MostJudged/2)
	}
	if err == nil && next.Passes && next.Seen < best.Seen {
		best = next
	}
	return best, err
}

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

// begin takes out what saves most minutes for what is seen least until the work is guessed to fit the clock, and asks
// the judge.
func (s *state) begin(judge Judge) (*Result, error) {
	s.takeOut(s.capacity(), nil, false)
	if left := Guess(s.cur); left > Tuned.Hopeless*s.capacity() {
		r, err := s.result()
		if err == nil {
			r.Passes, r.Last = false, Built{
				Why: finding.New(finding.TooManyParts, finding.Error, left/Tuned.GuessPerMin,
					s.capacity()/Tuned.GuessPerMin).In(
					"work",
				),
			}
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

// walk takes out more after the judge's last word until he is content, has been asked often enough, or nothing is left
// to take. What fails by its shape is mended where it fails if local is set; what fails by the clock, wherever that is
// seen least.
func (s *state) walk(judge Judge, b Built, local bool, most int) (*Result, error) {
	for asked := 1; ; asked++ {
		bold := Tuned.LeastSaved * math.Pow(1.5, float64(asked-1)) // the bolder, the longer it fails
		before := s.kept()
		target := Guess(s.cur) - max(bold, Tuned.GuessPerMin*b.Over)
		more := s.takeOut(target, b.Places, local && b.Over == 0 && len(b.Places) > 0) ||
			local && s.takeOut(target, nil, false)
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

// capacity is the guessed work that fits the clock.
func (e *engine) capacity() float64 {
	return Tuned.GuessPerMin * (e.shop.ClockMin - Tuned.EveryLogMin) * math.Sqrt(float64(e.shop.Crew)/2)
}

// takeOut adds decisions that save work until no more than target is left, most for what is seen least first; places
// that failed come before others, or alone: then one decision is enough to ask again.
func (s *state) takeOut(target float64, failed []geom.TruePoint, only bool) bool {
	any := false
	for range Tuned.MostTaken {
		need := Guess(s.cur) - target
		if need <= 0 || s.err != nil {
			break
		}
		found := s.features(need, failed, only)
		if len(found) == 0 {
			return any
		}
		// As many as are needed and do not touch each other; half of them, and half again, when they get in each
		// other's way.
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
