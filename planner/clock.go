package planner

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"sugarwright/geom/finding"
	"sugarwright/planner/form"
	"sugarwright/planner/heat"
	"sugarwright/planner/plan"
	"sugarwright/planner/schedule"
	"sugarwright/planner/sugar"
	"sugarwright/planner/words"
)

// clock makes the steps and puts them on the clock: those that tolerate least heat are made first, as far as minutes allow, and none waits
// until it has left its window (P8).
func (w *work) clock() error {
	sh := w.o.Shop
	n := len(w.set.Elements)
	s := &stepper{w: w, problem: schedule.Problem{Crew: sh.Crew}, made: make([]int, n), laid: make([]int, n), ended: make([]int, len(w.build.Blocks)),
		joined: make([]int, len(w.build.Blocks)), makes: make([]int, n), built: make([]int, len(w.build.Blocks)), copyOf: w.blockCopies()}
	start := s.prepare()
	s.make(start)
	for b := range w.build.Blocks {
		s.lay(b, start)
	}
	s.finish()
	s.waits()
	r, err := schedule.Solve(&s.problem)
	var cycle *schedule.Cycle
	switch {
	case errors.As(err, &cycle):
		s.forbidden(cycle)
		return nil
	case errors.Is(err, schedule.ErrGaveUp):
		w.found.Add(finding.Finding{Code: finding.ScheduleGave, Severity: finding.Error, Message: "no schedule was found that lays every part before it is too cold, and none was proved impossible",
			Suggestion: "this is a limit of the search; one more pair of hands (--crew) or a warm place (heat.warm_c in the shop file) would help it"})
		return nil
	case err != nil:
		return err
	}
	if err := schedule.Check(&s.problem, r); err != nil {
		return err
	}
	w.time = s.timing(r)
	w.scheduled = r
	if end := w.time.roll + sh.Minutes.Round; end > sh.ClockMin {
		at, n, minutes := w.busiest()
		w.found.Add(finding.Finding{Code: finding.TooLong, Severity: finding.Error, AtMM: &at,
			Message: fmt.Sprintf("the log is round %.0f minutes after the pour with %d pairs of hands; %.0f are allowed; most work is here: %d parts, %.0f minutes",
				end, sh.Crew, sh.ClockMin, n, minutes),
			Suggestion: "draw fewer parts, here first, or work with one more pair of hands (--crew)"})
	}
	w.number(s.problem.Tasks, s.jobs, r)
	w.stepper = s
	return nil
}

// timing reads off the schedule when parts and blocks are laid.
func (s *stepper) timing(r *schedule.Result) timing {
	end := func(k int) float64 { return r.Start[k] + s.problem.Tasks[k].Minutes }
	t := timing{roll: r.Start[s.round], drawn: end(s.draw)}
	for _, k := range s.laid {
		t.laid = append(t.laid, end(k))
	}
	for b := range s.ended {
		t.done = append(t.done, end(s.built[b]))
		t.joined = append(t.joined, end(s.joined[b]))
	}
	for b, a := range s.copyOf { // what is made with another block was laid with its parts
		if a < 0 {
			continue
		}
		t.done[b] = t.done[a]
		for _, e := range s.w.set.Blocks[b].Elements {
			for _, o := range s.w.set.Blocks[a].Elements {
				if s.w.origin(o) == s.w.origin(e) {
					t.laid[e] = t.laid[o]
				}
			}
		}
	}
	return t
}

// waits bounds how long parts and blocks may wait from their making until they are laid.
func (s *stepper) waits() {
	w := s.w
	for i, k := range s.laid {
		// A block that is made with another was laid together with it.
		if limit := s.mayWait(i); s.copyOf[w.set.Elements[i].Block] < 0 && !math.IsInf(limit, 1) {
			s.problem.Within(s.makes[w.origin(i)], k, limit)
		}
	}
	for b := range w.build.Blocks[:len(w.build.Blocks)-1] {
		warm := w.parts[w.inside(b)[0]].layC
		limit := w.mayWait(form.Rod, w.thickness(b), heat.Window{Low: math.Min(warm, sugar.Workable(w.o.Shop.TgC)), High: warm})
		from := s.built[b]
		if a := s.copyOf[b]; a >= 0 {
			from = s.built[a]
		}
		if !math.IsInf(limit, 1) {
			s.problem.Within(from, s.joined[b], limit)
		}
	}
}

// mayWait of an element, by its own window.
func (s *stepper) mayWait(i int) float64 {
	p := s.w.parts[i]
	return s.w.mayWait(p.fit.Form, form.Thick(p.fit), heat.Window{Low: p.window.Low, High: p.layC})
}

// forbidden says which steps cannot follow each other, and what would free them: found by trying.
func (s *stepper) forbidden(c *schedule.Cycle) {
	var said, frees []string
	var at *[2]float64
	for _, k := range c.Tasks {
		said = append(said, lowerFirst(words.English().Say(s.jobs[k].say)))
	}
	for i := range s.laid {
		for _, k := range c.Tasks {
			if at == nil && (s.made[i] == k || s.laid[i] == k) {
				e := s.w.set.Elements[i]
				p := [2]float64(e.Inside())
				at = &p
			}
		}
	}
	works := func(change func(p *schedule.Problem)) bool {
		p := schedule.Problem{Tasks: append([]schedule.Task(nil), s.problem.Tasks...), Lags: append([]schedule.Lag(nil), s.problem.Lags...), Crew: s.problem.Crew}
		change(&p)
		_, err := schedule.Solve(&p)
		return err == nil
	}
	if s.problem.Crew < 4 && works(func(p *schedule.Problem) {
		p.Crew++
		for k := range p.Tasks {
			p.Tasks[k].Hands = min(s.hands[k], p.Crew)
		}
	}) {
		frees = append(frees, fmt.Sprintf("one more pair of hands (--crew %d)", s.problem.Crew+1))
	}
	if works(func(p *schedule.Problem) {
		kept := p.Lags[:0]
		for _, l := range p.Lags {
			if l.Minutes >= 0 {
				kept = append(kept, l)
			}
		}
		p.Lags = kept
	}) {
		frees = append(frees, "a warm table or box in which parts wait (heat.warm_c in the shop file)")
	}
	for i, e := range s.w.set.Elements {
		gone := map[int]bool{s.makes[i]: true, s.made[i]: true}
		for j := range s.laid {
			if s.w.origin(j) == i {
				gone[s.laid[j]] = true
			}
		}
		if e.CopyOf >= 0 || len(frees) > 2 || !slices.ContainsFunc(c.Tasks, func(k int) bool { return gone[k] }) {
			continue
		}
		if works(func(p *schedule.Problem) { without(p, gone) }) {
			frees = append(frees, fmt.Sprintf("a drawing without part %d", e.Number))
		}
	}
	advice := "nothing that was tried frees it: hands, a warm place, one part fewer"
	if len(frees) > 0 {
		advice = "what would free it: " + strings.Join(frees, "; or ")
	}
	s.w.found.Add(finding.Finding{Code: finding.NoSchedule, Severity: finding.Error, AtMM: at, Suggestion: advice,
		Message: fmt.Sprintf("these steps cannot follow each other before a part is too cold, by %.1f minutes: %s", math.Max(0.1, c.Over), strings.Join(said, " - "))})
}

// without takes the minutes of some tasks out of a problem, and the limits on them.
func without(p *schedule.Problem, gone map[int]bool) {
	kept := p.Lags[:0]
	for _, l := range p.Lags {
		if l.Minutes < 0 && (gone[l.From] || gone[l.To]) {
			continue
		}
		if gone[l.From] {
			l.Minutes -= p.Tasks[l.From].Minutes
		}
		kept = append(kept, l)
	}
	p.Lags = kept
	for k := range gone {
		p.Tasks[k].Minutes = 0
	}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// number sorts the steps by their start and numbers them.
func (w *work) number(tasks []schedule.Task, jobs []chore, r *schedule.Result) {
	add := func(j chore, start, minutes, slack float64, pairs []int) {
		if j.parts == nil {
			j.parts = []string{}
		}
		who := []int{}
		for _, h := range pairs {
			who = append(who, h+1)
		}
		w.steps = append(w.steps, plan.Step{Do: j.do, Parts: j.parts, Hands: len(pairs), AtC: j.at, StartMin: plan.Num(start), Minutes: plan.Num(minutes),
			SlackMin: plan.Num(slack), Pairs: who, Say: j.say, Text: words.English().Say(j.say)})
	}
	for i, j := range jobs {
		start, minutes, pairs := r.Start[i], tasks[i].Minutes, r.Pairs[i]
		if j.also != nil {
			mine := max(1, len(pairs)-1)
			add(*j.also, start, minutes, r.Slack[i], pairs[mine:])
			pairs = pairs[:mine]
		}
		add(j, start, minutes, r.Slack[i], pairs)
		for _, t := range j.then {
			add(t, start+minutes, 0, 0, nil)
		}
	}
	sort.SliceStable(w.steps, func(a, b int) bool { return w.steps[a].StartMin < w.steps[b].StartMin-1e-9 })
	for i := range w.steps {
		w.steps[i].Number = i + 1
	}
}
