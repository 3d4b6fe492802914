package work

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/planner/schedule"
	"sugarwright/planner/set"
)

// Milestones are what is seen from the other end of the table: when each is planned, and the latest minute at which all
// that follows can still be done, if the log may be closed later by so many minutes.
func (w *Work) Milestones(spare float64) []plan.Milestone {
	var out []plan.Milestone
	ends := func(s plan.Step) float64 { return float64(s.StartMin + s.Minutes) }
	add := func(what plan.MilestoneKey, of []plan.Step) {
		at, by := math.Inf(-1), math.Inf(1)
		for _, s := range of {
			at = math.Max(at, ends(s))
		}
		for _, s := range of { // of those that end then
			if ends(s) > at-1e-6 {
				by = math.Min(by, at+float64(s.SlackMin)+spare)
			}
		}
		if len(of) > 0 {
			out = append(out, plan.Milestone{What: what, AtMin: plan.Num(at), ByMin: plan.Num(by)})
		}
	}
	those := func(does func(plan.Step) bool) (list []plan.Step) {
		for _, s := range w.Steps {
			if does(s) {
				list = append(list, s)
			}
		}
		return list
	}
	do := func(d plan.Do) func(plan.Step) bool { return func(s plan.Step) bool { return s.Do == d } }
	subject := map[string]bool{}
	of := w.task.Set
	for i, e := range of.Elements {
		subject[of.ID(i)] = e.Kind == set.Subject
	}
	lays := func(s plan.Step) bool {
		switch s.Do {
		case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll:
			return true
		}
		return false
	}
	add(plan.Poured, those(do(plan.DoPour)))
	add(plan.CutApart, those(do(plan.DoDivide)))
	add(plan.Kneaded, those(do(plan.DoColour)))
	add(plan.OffTheHook, those(do(plan.DoPull)))
	laid := those(lays)
	add(plan.FirstLaid, laid[:min(1, len(laid))])
	add(plan.PictureLaid, those(func(s plan.Step) bool { return lays(s) && subject[s.Parts[0]] }))
	add(plan.Closed, laid)
	add(plan.Rounded, those(do(plan.DoRound)))
	for _, s := range w.Steps {
		if s.Do == plan.DoLengths {
			out = append(out, plan.Milestone{What: plan.FirstLength, AtMin: s.StartMin, ByMin: s.StartMin + plan.Num(spare)})
		}
	}
	return append(out, plan.Milestone{What: plan.LastLength, AtMin: plan.Num(w.Timing.Drawn), ByMin: plan.Num(w.Timing.Drawn + spare)})
}

// slowerPercent is by how much minutes of hands may be off, the sum of a plan.
const slowerPercent = 25

// Slower tells what becomes of the work, in the order planned, if every step takes a quarter longer: which of the limits
// on waiting breaks. The limits of the sugar, and the cooling on the slab, stay as they are.
func (w *Work) Slower() plan.Slower {
	out := plan.Slower{Percent: slowerPercent, Holds: true}
	c := schedule.Slower(w.problem, w.Clock, 1+slowerPercent/100.0)
	if c == nil {
		return out
	}
	out.Holds, out.LateMin = false, plan.Num(c.Over)
	for _, k := range c.Tasks { // the step that comes too late is the last of them
		for _, s := range w.Steps {
			if s.Do == w.does[k] && math.Abs(float64(s.StartMin)-w.Clock.Start[k]) < 1e-6 {
				out.Step = max(out.Step, s.Number)
			}
		}
	}
	return out
}
