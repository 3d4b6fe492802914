package pile

import (
	"fmt"
	"math"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
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

// Dents by which the stiffness of a closed log is told, millimetres.
var dents = []float64{1, 1.3, 2, 3, 5}

// The load on the peg, newtons, its radius, metres, and how long it stands, seconds: a kilogram on 20 mm for ten.
const (
	dentN, dentM, dentS = 9.81, 0.01, 10.0
)

// DentC is the heat of a log in which the peg sinks so far: creep under a flat peg, F = 8 eta a v, by correspondence from
// the elastic one (Cheng et al. 2000).
func DentC(mm, tg float64) float64 {
	return sugar.TempOf(dentN*dentS/(8*dentM*mm/1000), tg)
}

// Dents is how long the log can still be worked when the peg sinks so far, in the coolest of its surroundings.
func (k Kitchen) Dents(c *Cooling) []plan.Dent {
	stiff := sugar.Workable(k.Shop.TgC)
	var out []plan.Dent
	for _, mm := range dents {
		minutes := math.Inf(1)
		if stiff > c.ToC {
			minutes = c.Tau * math.Log((DentC(mm, k.Shop.TgC)-c.ToC)/(stiff-c.ToC))
		}
		out = append(out, plan.Dent{DentMM: plan.Num(mm), Minutes: plan.Num(math.Min(minutes, mostDentMin))})
	}
	return out
}

// mostDentMin is as long as a dent is believed.
const mostDentMin = 60

// Clock is how good the schedule is, for the plan, and by when the log must be closed: as late as its last length can
// still be drawn in the coolest of its surroundings. A log that goes hard before it is rolled is refused, one that goes
// hard before it is drawn warned of.
func Clock(k Kitchen, c *Cooling, w *work.Work) (*plan.Clock, finding.List) {
	s, r := k.Shop, w.Clock
	stiff := c.StiffMin
	if math.IsInf(stiff, 1) {
		stiff = -1
	}
	win := k.Windows.Parts[k.Windows.Binding].Window
	num := func(v float64) plan.Num { return plan.Num(v) }
	spare := k.margin(c.EarliestMin)
	first := math.Inf(1)
	for _, t := range k.Timing.Laid {
		first = math.Min(first, t)
	}
	return &plan.Clock{
		EndMin:          num(r.End),
		AtLeastMin:      num(r.AtLeast),
		Proved:          r.Proved,
		GapPercent:      num(100 * r.Gap()),
		RoundMin:        num(k.Timing.Round),
		DrawnMin:        num(k.Timing.Drawn),
		StiffMin:        num(stiff),
		MarginMin:       num(k.margin(c.StiffMin)),
		MarginRange:     [2]plan.Num{num(spare), num(k.margin(c.LatestMin))},
		ClosedMin:       num(k.Timing.Roll),
		OpenMin:         num(k.Timing.Roll - first),
		CloseByMin:      num(k.Timing.Roll + spare),
		LastLengthByMin: num(k.Timing.Drawn + spare),
		DoubtC:          num(s.DoubtC),
		Dents:           k.Dents(c),
		Milestones:      w.Milestones(math.Max(0, spare)),
		Slower:          w.Slower(),
		KeepC:           num(k.Windows.KeepC),
		Binding:         k.Set.ID(k.Windows.Binding),
		BindingC:        [2]plan.Num{num(win.Low), num(win.High)},
		TgC:             num(s.TgC),
		TgFrom:          plan.TgFrom(s.TgFrom),
		TgPlusMinus:     num(s.TgPlusMinus),
	}, k.hard(c, k.Timing.Round)
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
	switch worst := k.margin(c.EarliestMin); {
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
	case worst < 0:
		frees, severity := k.frees(-worst), finding.Warning
		if len(frees) == 0 && k.margin(c.StiffMin) < 0 {
			severity = finding.Error // as it is it cannot be kept, and nothing helps
		}
		f := finding.New(finding.GoesHard, severity, c.EarliestMin, -worst, s.DoubtC, frees).In("before_drawn")
		if len(frees) == 0 {
			f = f.In("nothing_frees")
		}
		found.Add(f)
	}
	return found
}

// What keeps a log workable until it is drawn, as the finding's values name it.
const (
	FreeWarmer  = "warmer"  // "warmer 5": lamp and table by so much
	FreeFan     = "fan"     // on the sticks
	FreeSmaller = "smaller" // "smaller 3.1": a log of so many kilograms
)

// warmerC are how much warmer lamp and table are tried.
var warmerC = []float64{5, 10, 15}

// frees tries what would save so many minutes: lamp and table warmer; a fan, under which sticks set in half the time; a
// shorter log.
func (k Kitchen) frees(lacks float64) (out []string) {
	for _, c := range warmerC {
		if k.margin(k.follow(rangeCells, c-k.Shop.DoubtC).stiff) >= 0 {
			out = append(out, fmt.Sprintf("%s %g", FreeWarmer, c))
			break
		}
	}
	draw := k.Timing.Drawn - k.Timing.Round
	if k.Shop.Minutes.DrawKg == 0 && k.Shop.Minutes.StickW < shop.FanW && draw*(1-k.Shop.Minutes.StickW/shop.FanW) >= lacks {
		out = append(out, FreeFan)
	}
	kg := 0.0
	for _, e := range k.Set.Elements {
		kg += e.True.Area() * k.Palette.Density(e.Colour) * k.LengthMM / 1e6
	}
	if share := math.Floor(20*(1-lacks/draw)) / 20; share >= leastShare {
		out = append(out, fmt.Sprintf("%s %.1f", FreeSmaller, share*kg))
	}
	return out
}

// leastShare of a log is the least that is offered for it.
const leastShare = 0.4
