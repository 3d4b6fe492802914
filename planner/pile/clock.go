package pile

import (
	"math"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/planner/schedule"
	"sugarwright/planner/work"
)

// hardK above its glass transition sugar is a thousand times stiffer than hands can press: it breaks when the log is
// rolled.
const hardK = 10

// margin is how many minutes are left between the last length drawn and the log too stiff to work: what stands
// against the log going solid. It is the warning that the maker most needs.
func (k Kitchen) margin(stiff float64) float64 {
	return math.Min(stiff, k.Timing.Drawn+watchMin) - k.Timing.Drawn
}

// Clock is how good the schedule is, for the plan. A log that goes hard before it is rolled is refused, one that goes
// hard before it is drawn warned of.
func Clock(k Kitchen, c *Cooling, r *schedule.Result) (*plan.Clock, finding.List) {
	s := k.Shop
	rounded := k.Timing.Round
	stiff := c.StiffMin
	if math.IsInf(stiff, 1) {
		stiff = -1
	}
	win := k.Windows.Parts[k.Windows.Binding].Window
	num := func(v float64) plan.Num { return plan.Num(v) }
	return &plan.Clock{
		EndMin:      num(r.End),
		AtLeastMin:  num(r.AtLeast),
		Proved:      r.Proved,
		GapPercent:  num(100 * r.Gap()),
		RoundMin:    num(rounded),
		DrawnMin:    num(k.Timing.Drawn),
		StiffMin:    num(stiff),
		MarginMin:   num(k.margin(c.StiffMin)),
		MarginRange: [2]plan.Num{num(k.margin(c.EarliestMin)), num(k.margin(c.LatestMin))},
		KeepC:       num(k.Windows.KeepC),
		Binding:     k.Set.ID(k.Windows.Binding),
		BindingC:    [2]plan.Num{num(win.Low), num(win.High)},
		TgC:         num(s.TgC),
		TgFrom:      plan.TgFrom(s.TgFrom),
		TgPlusMinus: num(s.TgPlusMinus),
	}, k.hard(c, rounded)
}

// hard finds what goes hard too early: a part before the log is rolled, the log before it is round, or before it is
// drawn.
func (k Kitchen) hard(c *Cooling, roundedMin float64) (found finding.List) {
	s := k.Shop
	hard := -1
	for i, t := range c.RollC {
		if t < s.TgC+hardK && (hard < 0 || t < c.RollC[hard]) {
			hard = i
		}
	}
	switch m := k.margin(c.StiffMin); {
	case hard >= 0:
		e := k.Set.Elements[hard]
		found.Add(
			finding.New(finding.GoesHard, finding.Error, e.Number, c.RollC[hard], s.LampC, s.TableC).In(
				"part").At(e.Inside()),
		)
	case c.StiffMin < roundedMin:
		at, _, _ := work.Busiest(k.Set, s, func(int) float64 { return 0 })
		found.Add(
			finding.New(finding.GoesHard, finding.Error, c.StiffMin, roundedMin, s.LampC, s.TableC).In(
				"before_round").At(at),
		)
	case m < 0:
		found.Add(finding.New(finding.GoesHard, finding.Warning, c.StiffMin, -m, s.LampC, s.TableC).In("before_drawn"))
	}
	return found
}
