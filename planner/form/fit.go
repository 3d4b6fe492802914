package form

import (
	"math"
	"sort"

	"sugarwright/geom"
)

// Effort is how hard a form's sizes are improved.
type Effort struct {
	tol    float64 // the outline is thinned by this first
	climbs int     // starts improved
	rounds int     // step lengths, halved each time
	tries  int     // rounds over all sizes with one step
}

// Fine is for what is printed: every start, and rounds enough for half a hundredth of the size.
var Fine = Effort{tol: 0.05, climbs: 7, rounds: 5, tries: 4}

// Quick is for prices in the search, a hundredth worse; the outline moves by at most coarseShare of the square root of
// the area.
func Quick(area float64) Effort {
	return Effort{tol: math.Max(Fine.tol, Tuned.CoarseShare*math.Sqrt(area)), climbs: 1, rounds: 3, tries: 2}
}

// hopeful tells whether a form that starts at an overlap can still come up to the best one: climbing closed less than
// half of the gap to 1 in 99 of 100 fits of the test drawings.
func (s *solid[P]) hopeful(start float64) bool { return start+0.5*(1-start) > s.best-0.02 }

// trial is a form with starting sizes x; ring draws it into out, or returns nil where sizes make no such form.
type trial[P geom.Frame] struct {
	x    []float64
	ring func(out geom.Ring[P], x []float64) geom.Ring[P]
	iou  float64
}

// fit improves the best starts of a form and returns the best of them; ok is false when none can come up to the forms
// fitted before.
func (s *solid[P]) fit(trials []trial[P]) (trial[P], bool) {
	for i, t := range trials {
		s.line = t.ring(s.line[:0], t.x)
		trials[i].iou = s.iou(s.line)
	}
	sort.SliceStable(trials, func(i, j int) bool { return trials[i].iou > trials[j].iou })
	best := trial[P]{}
	for i, t := range trials {
		if i == s.climbs || !s.hopeful(t.iou) || t.iou < best.iou-0.05 {
			break
		}
		if s.climb(&t); t.iou > best.iou {
			best = t
		}
	}
	return best, best.iou > 0
}

// climb improves sizes by coordinate steps that halve.
func (s *solid[P]) climb(t *trial[P]) {
	step := Tuned.ClimbShare * math.Sqrt(s.area)
	for round := 0; round < s.rounds; round++ {
		for again, tries := true, 0; again && tries < s.tries; tries++ {
			again = false
			for i := range t.x {
				for _, d := range [2]float64{step, -step} {
					old := t.x[i]
					t.x[i] += d
					s.line = t.ring(s.line[:0], t.x)
					if v := s.iou(s.line); v > t.iou+1e-6 {
						t.iou, again = v, true
						break
					}
					t.x[i] = old
				}
			}
		}
		step /= 2
	}
}
