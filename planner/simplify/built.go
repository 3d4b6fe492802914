package simplify

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
)

// capacity is the guessed work that fits the clock.
func (e *engine) capacity() float64 {
	return Tuned.GuessPerMin * (e.shop.ClockMin - Tuned.EveryLogMin) * math.Sqrt(float64(e.shop.Crew)/2)
}

// takeOut adds decisions that save work until none is needed, most for what is seen least first; places that failed come
// before others, or alone: then one decision is enough to ask again.
func (s *state) takeOut(needed func() float64, failed []geom.TruePoint, only bool) bool {
	any, most := false, Tuned.MostTaken
	if only {
		most = Tuned.MostTakenNear
	}
	for range most {
		need := needed()
		if need <= 0 || s.spent > Tuned.MostPoints {
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
	}
	return any
}

// take makes decisions, unless that leads to places that cannot be mended; then they are not thought of again.
func (s *state) take(batch []feature) bool {
	back := s.saved()
	for _, f := range batch {
		s.made = append(s.made, f.decision)
		if len(batch) == 1 {
			s.banned[f.once()] = true
		}
	}
	work, many := Guess(s.cur), kinds(s.cur)
	s.rounds = 0
	if s.repaint() == nil && s.mend() == nil && len(s.places) == 0 && s.subject() && (Guess(s.cur) < work-0.1 || kinds(s.cur) < many) {
		return true
	}
	back()
	return false
}

// saved remembers what is decided; what it returns leads back there.
func (s *state) saved() func() {
	before := *s
	made := slices.Clone(s.made)
	coatOf := slices.Clone(s.coatOf)
	chosen := make([]int, len(made))
	for i, d := range made {
		chosen[i] = d.chosen
	}
	return func() {
		for i, d := range made {
			d.chosen = chosen[i]
		}
		s.made, s.coatOf = made, coatOf
		s.cur, s.turned, s.places = before.cur, before.turned, before.places
	}
}

// subject tells whether anything but ground is left.
func (s *state) subject() bool {
	return slices.ContainsFunc(s.cur.Regions, func(r partition.Region) bool { return r.Colour != 0 && !r.Jacket })
}
