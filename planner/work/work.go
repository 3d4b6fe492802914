// Package work lists the steps of the work, from the pour to the last piece, and puts them on the clock.
//
// Guarantees (P8): each entry of the lay-up has one step, each turn one, each distinct part one that makes it; no step
// comes before what it needs; no part waits until it has left its band of heat; no more pairs of hands work at once
// than the crew has.
package work

import (
	"errors"
	"math"
	"slices"
	"sort"

	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/build"
	"sugarwright/planner/heat"
	"sugarwright/planner/palette"
	"sugarwright/planner/plan"
	"sugarwright/planner/schedule"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
	"sugarwright/planner/windows"
)

// Task is what is to be done: the parts and their order, their heats, the colours, and how the log ends.
type Task struct {
	Set      *set.Set
	Build    *build.Build
	Windows  *windows.Windows
	Map      *partition.Map
	Palette  *palette.Palette
	Shop     *shop.Shop
	LengthMM float64 // of the log
	StickMM  float64 // how thick its sticks are
	Pieces   float64 // cut from it, about
	Extras   bool    // acid or flavour is folded in
	Packed   bool    // the order has packs
	LeastG   float64 // the least log that carries the drawing
	Brief    bool    // what would help a log that takes too long is not sought: one of many tries
}

// Work is the steps on the clock.
type Work struct {
	Steps  []plan.Step
	Timing Timing
	Clock  *schedule.Result
	Made   []Moment // by element: the step after which it, or its original, is at hand
	Laid   []Moment // by element: the step that lays it
	task   Task
	// What the clock was set by, and what each of its tasks is
	problem *schedule.Problem
	does    []plan.Do
}

// Moment is when a step starts and how long it takes, minutes.
type Moment struct{ Start, Minutes float64 }

// Timing is when things happen to the parts, in minutes: an element's laying, a block's completion and its laying, the
// rolling of the log and the end of drawing.
type Timing struct {
	Laid, Done, Joined []float64
	Apart              float64 // when lumps are cut apart
	Roll, Round, Drawn float64 // when it is rolled, round, drawn
}

// day is how long the crew works, from when lumps are cut apart until the log is round.
func (t Timing) day() float64 { return t.Round - t.Apart }

// Of lists the steps and puts them on the clock. Parts that tolerate least heat are made first, as far as minutes
// allow. Work is nil where a finding says that there is no schedule. turns is nil, or for each element the minutes for
// which it must be turned each minute.
func Of(t Task, turns []float64) (*Work, finding.List, error) {
	var found finding.List
	if n := t.Set.Distinct() - 1; n > t.Shop.MostDistinct { // the jacket is made in any case
		found.Add(finding.New(finding.TooManyParts, finding.Warning, n, t.Shop.MostDistinct))
	}
	s := steps(t, turns)
	r, err := schedule.Solve(&s.problem)
	var cycle *schedule.Cycle
	switch {
	case errors.As(err, &cycle):
		found.Add(s.forbidden(cycle))
		return nil, found, nil
	case errors.Is(err, schedule.ErrGaveUp):
		found.Add(finding.New(finding.ScheduleGave, finding.Error))
		return nil, found, nil
	case err != nil:
		return nil, nil, err
	}
	if err := schedule.Check(&s.problem, r); err != nil {
		return nil, nil, err
	}
	w := s.work(r)
	cool := t.Shop.Slab.Cooling(t.kg(-1), pouredC, []float64{hookC})[0]
	if cool > mostCoolMin {
		found.Add(finding.New(finding.SlabSmall, finding.Error, math.Min(cool, 120), t.kg(-1), mostCoolMin))
	}
	if kg := t.kg(-1); t.Shop.Crew == 1 && kg > shop.OneLiftsKg {
		found.Add(finding.New(finding.TwoLift, finding.Error, kg, shop.OneLiftsKg))
	}
	if end := w.Timing.day(); end > t.Shop.ClockMin {
		at, n, minutes := Busiest(t.Set, t.Shop, t.grams)
		helps := []string{}
		if !t.Brief {
			helps = frees(t, turns)
		}
		f := finding.New(finding.TooLong, finding.Error, end, t.Shop.Crew, t.Shop.ClockMin, n, minutes, helps)
		found.Add(f.At(at))
	}
	return w, found, nil
}

// Turned is the second round: parts that were found to need turning while they hold by themselves are turned, which
// takes minutes of hands. minutes says for how long each element is turned; 0 for those that are not. It returns the
// work as it was where that changes no time.
func (w *Work) Turned(minutes []float64) (*Work, finding.List, error) {
	if w.task.Shop.Minutes.TurnPart > 0 {
		return Of(w.task, minutes)
	}
	again := *w
	again.Steps = append([]plan.Step(nil), w.Steps...)
	of := w.task.Set
	for i, m := range minutes {
		if m == 0 {
			continue
		}
		for k := range again.Steps {
			if st := &again.Steps[k]; st.Do == plan.DoMake && st.Parts[0] == of.ID(of.Origin(i)) {
				st.TurnIt = true
			}
		}
	}
	return &again, nil, nil
}

// Heated gives the steps of the finished log their heats: when it is rolled round, and when its last length is drawn.
func (w *Work) Heated(roundC, drawnC float64) *Work {
	again := *w
	again.Steps = slices.Clone(w.Steps)
	for i := range again.Steps {
		switch s := &again.Steps[i]; s.Do {
		case plan.DoRound:
			s.AtC = degrees(roundC)
		case plan.DoDraw, plan.DoLengths:
			s.AtC, s.ToC = degrees(roundC), degrees(drawnC)
		case plan.DoKeep:
			if s.AtC == nil {
				s.AtC = degrees(roundC)
			}
		case plan.DoCut:
			s.AtC = degrees(w.task.Shop.AirC)
		}
	}
	return &again
}

// Check holds the steps to the set: one that makes each distinct part, one that lays each element, and hands within the
// crew.
func (w *Work) Check() error {
	makes, lays := 0, 0
	for i, s := range w.Steps {
		switch s.Do {
		case plan.DoMake:
			makes++
		case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll:
			lays += 1 + len(s.Covers)
		}
		if s.Number != i+1 || s.Hands > w.task.Shop.Crew {
			return finding.Impossible("step %d is numbered %d and needs %d pairs of hands", i+1, s.Number, s.Hands)
		}
	}
	if want := len(w.task.Set.Elements) + len(w.task.Set.Blocks) - 1; makes != w.task.Set.Distinct() || lays != want {
		return finding.Impossible("%d steps make and %d lay; %d parts and %d places", makes, lays,
			w.task.Set.Distinct(), want)
	}
	return nil
}

// grams of an element in the log.
func (t Task) grams(i int) float64 {
	e := t.Set.Elements[i]
	return e.True.Area() * t.Palette.Density(e.Colour) * t.LengthMM / 1000
}

// kg of the whole log, or of one of its colours where colour is not below 0.
func (t Task) kg(colour int) (sum float64) {
	for i, e := range t.Set.Elements {
		if colour < 0 || e.Colour == colour {
			sum += t.grams(i) / 1000
		}
	}
	return sum
}

// Busiest is the place of the picture that takes most minutes to make and lay: an area of one colour or, where that is
// the ground, a block.
func Busiest(of *set.Set, s *shop.Shop, grams func(element int) float64) (at [2]float64, parts int, minutes float64) {
	type tally struct {
		at      [2]float64
		area    float64
		parts   int
		minutes float64
	}
	by := map[[2]int]*tally{}
	var order []*tally
	copies := of.Copies()
	for i, e := range of.Elements {
		if e.Kind == set.Jacket || e.Kind == set.Ground {
			continue
		}
		key := [2]int{e.Block, e.Colour}
		t := by[key]
		if t == nil {
			t = &tally{}
			by[key] = t
			order = append(order, t)
		}
		t.parts++
		t.minutes += s.Minutes.Place(e.Fit, grams(i))
		if e.CopyOf < 0 {
			t.minutes += s.Minutes.Make(e.Fit.Recipe, grams(i), s.LengthMM, copies[i]+1)
		}
		if a := e.True.Area(); a > t.area {
			t.area, t.at = a, [2]float64(e.Inside())
		}
	}
	var best tally
	for _, t := range order {
		if t.minutes > best.minutes+1e-9 {
			best = *t
		}
	}
	return best.at, best.parts, best.minutes
}

// work reads the steps and their times off a schedule.
func (s *stepper) work(r *schedule.Result) *Work {
	moment := func(k int) Moment { return Moment{r.Start[k], s.problem.Tasks[k].Minutes} }
	w := &Work{Timing: s.timing(r), Clock: r, Steps: s.numbered(r), task: s.Task, problem: &s.problem}
	s.box(w.Steps)
	for _, c := range s.chores {
		w.does = append(w.does, c.Do)
	}
	for i := range s.Set.Elements {
		w.Made, w.Laid = append(w.Made, moment(s.made[i])), append(w.Laid, moment(s.laid[i]))
	}
	return w
}

// timing reads off the schedule when parts and blocks are laid.
func (s *stepper) timing(r *schedule.Result) Timing {
	end := func(k int) float64 { return r.Start[k] + s.problem.Tasks[k].Minutes }
	t := Timing{Roll: r.Start[s.round], Apart: r.Start[s.divided], Round: end(s.round), Drawn: end(s.draw)}
	for _, k := range s.laid {
		t.Laid = append(t.Laid, end(k))
	}
	for b := range s.ended {
		t.Done = append(t.Done, end(s.built[b]))
		t.Joined = append(t.Joined, end(s.joined[b]))
	}
	return t
}

// numbered are the steps by their start, with their times.
func (s *stepper) numbered(r *schedule.Result) []plan.Step {
	var out []plan.Step
	add := func(st plan.Step, start, minutes, slack float64, pairs []int) {
		if st.Parts == nil {
			st.Parts = []string{}
		}
		st.Pairs = []int{}
		for _, h := range pairs {
			st.Pairs = append(st.Pairs, h+1)
		}
		st.Hands, st.StartMin, st.Minutes, st.SlackMin = len(pairs), plan.Num(start), plan.Num(minutes), plan.Num(slack)
		out = append(out, st)
	}
	for i, j := range s.chores {
		start, minutes, pairs := r.Start[i], s.problem.Tasks[i].Minutes, r.Pairs[i]
		mine := pairs
		if len(j.also) > 0 {
			mine = pairs[:max(1, len(pairs)-1)]
		}
		add(j.Step, start, minutes, r.Slack[i], mine)
		for _, x := range j.also {
			by := pairs[len(mine):]
			if x.free {
				by = nil
			}
			add(x.Step, start+x.from, x.until-x.from, r.Slack[i], by)
		}
		for _, t := range j.then {
			add(t, start+minutes, 0, 0, nil)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].StartMin < out[b].StartMin-1e-9 })
	for i := range out {
		out[i].Number = i + 1
	}
	return out
}

// waits bounds how long parts and blocks may wait from their making until they are laid.
func (s *stepper) waits() {
	for i, k := range s.laid {
		// A block that is made with another was laid together with it.
		if limit := s.mayWait(i); s.copyOf[s.Set.Elements[i].Block] < 0 && !math.IsInf(limit, 1) {
			s.problem.Within(s.makes[s.Set.Origin(i)], k, limit)
		}
	}
	for b := range s.Build.Blocks[:len(s.Build.Blocks)-1] {
		warm := s.Windows.Parts[s.Set.Inside(b)[0]].LayC
		band := heat.Window{Low: math.Min(warm, sugar.Workable(s.Shop.TgC)), High: warm}
		limit := s.Windows.Waits(false, s.Set.Thickness(b), band)
		if !math.IsInf(limit, 1) {
			s.problem.Within(s.built[b], s.joined[b], limit)
		}
	}
}

// mayWait is how many minutes an element may wait, by its own window.
func (s *stepper) mayWait(i int) float64 {
	p, fit := s.Windows.Parts[i], s.Set.Elements[i].Fit
	return s.Windows.Waits(fit.Flat(), fit.Thick(), heat.Window{Low: p.Window.Low, High: p.LayC})
}
