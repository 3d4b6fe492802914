package work

import (
	"fmt"
	"math"
	"slices"

	"sugarwright/planner/schedule"
	"sugarwright/planner/shop"
)

// What may bring a log that takes too long within the crew's day, as the finding's values name it, with the minutes that
// it would take then.
const (
	FreeCrew    = "crew"    // "crew 3 37": a crew of three
	FreeMachine = "machine" // "machine 38": a machine that pulls
	FreeSlab    = "slab"    // "slab 38": water below the slab
	FreeLighter = "lighter" // "lighter 3.1 36": a log of so many kilograms
	FreeBoth    = "both"    // "both 3 4.5 38": a crew of three, and a log of so many kilograms
	FreeFitted  = "fitted"  // "fitted 3 36": a crew of three, the machine and the slab at once
)

// largestCrew is the most that is tried.
const largestCrew = 4

// shares of the log that are tried, the largest first.
var shares = []float64{0.8, 0.65, 0.5, 0.4, 0.3, 0.2}

// fitted is what a machine takes that is tried, kilograms; set, no source.
const FittedKg = 7

// frees tries what brings the log within the crew's day: each by itself, then all at once.
func frees(t Task, turns []float64) (out []string) {
	day := func(t Task, change ...func(*shop.Shop)) float64 {
		sh := *t.Shop
		for _, c := range change {
			c(&sh)
		}
		t.Shop = &sh
		s := steps(t, turns)
		s.problem.Rough = true
		r, err := schedule.Solve(&s.problem)
		if err != nil || t.Shop.Slab.Cooling(t.kg(-1), pouredC, []float64{hookC})[0] > mostCoolMin {
			return math.Inf(1)
		}
		return s.timing(r).day()
	}
	try := func(minutes float64, way string) {
		if minutes <= t.Shop.ClockMin {
			out = append(out, fmt.Sprintf("%s %.0f", way, math.Ceil(minutes-1e-6)))
		}
	}
	var all []func(*shop.Shop)
	crew := min(t.Shop.Crew+1, largestCrew)
	if crew > t.Shop.Crew {
		more := func(s *shop.Shop) { s.Crew = crew }
		all = append(all, more)
		try(day(t, more), fmt.Sprintf("%s %d", FreeCrew, crew))
	}
	if t.Shop.Minutes.MachineKg == 0 {
		machine := func(s *shop.Shop) { s.Minutes.MachineKg = FittedKg }
		all = append(all, machine)
		try(day(t, machine), FreeMachine)
	}
	if !t.Shop.Slab.Cooled {
		cooled := func(s *shop.Shop) { s.Slab.Cooled = true }
		all = append(all, cooled)
		try(day(t, cooled), FreeSlab)
	}
	kg := t.kg(-1)
	least := math.Max(t.Shop.LeastG, t.LeastG) / 1000
	lighter := func(way string, change ...func(*shop.Shop)) { // the heaviest that is tried and serves
		for _, x := range shares {
			log := t
			log.LengthMM *= x
			log.Pieces *= x
			if minutes := day(log, change...); x*kg >= least && minutes <= t.Shop.ClockMin {
				try(minutes, fmt.Sprintf("%s %.1f", way, math.Floor(10*x*kg)/10))
				return
			}
		}
	}
	lighter(FreeLighter)
	if len(out) == 0 && crew > t.Shop.Crew {
		lighter(fmt.Sprintf("%s %d", FreeBoth, crew), all[0])
	}
	if len(out) == 0 && len(all) > 1 {
		try(day(t, all...), fmt.Sprintf("%s %d", FreeFitted, crew))
	}
	return slices.Clip(out)
}
