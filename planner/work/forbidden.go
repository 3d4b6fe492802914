package work

import (
	"fmt"
	"math"
	"slices"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/planner/schedule"
)

// What may free steps that cannot follow each other, as the finding's values name it.
const (
	FreeHands   = "hands"   // "hands 3": a crew of three
	FreeWarm    = "warm"    // a warm place
	FreeWithout = "without" // "without 5": a drawing without part 5
)

// forbidden says which steps cannot follow each other, and what would free them: found by trying.
func (s *stepper) forbidden(c *schedule.Cycle) finding.Finding {
	var said []string
	for _, k := range c.Tasks {
		said = append(said, s.label(s.chores[k].Step))
	}
	frees := s.frees(c)
	f := finding.New(finding.NoSchedule, finding.Error, math.Max(0.1, c.Over), said, frees)
	if len(frees) == 0 {
		f = f.In("nothing_frees")
	}
	for i := range s.laid {
		for _, k := range c.Tasks {
			if s.made[i] == k || s.laid[i] == k {
				return f.At(s.Set.Elements[i].Inside())
			}
		}
	}
	return f
}

// label names a step in a finding: what it does, and the number of its part or the name of its block.
func (s *stepper) label(st plan.Step) string {
	if len(st.Parts) == 0 {
		return string(st.Do)
	}
	for i, e := range s.Set.Elements {
		if s.Set.ID(i) == st.Parts[0] {
			return fmt.Sprintf("%s %d", st.Do, e.Number)
		}
	}
	return fmt.Sprintf("%s %s", st.Do, st.Parts[0])
}

// mostFrees bounds how many ways out are named.
const mostFrees = 3

// frees tries what would make a schedule possible.
func (s *stepper) frees(c *schedule.Cycle) []string {
	out := []string{}
	works := func(change func(p *schedule.Problem)) bool {
		p := schedule.Problem{
			Tasks: slices.Clone(s.problem.Tasks),
			Lags:  slices.Clone(s.problem.Lags),
			Crew:  s.problem.Crew,
		}
		change(&p)
		_, err := schedule.Solve(&p)
		return err == nil
	}
	more := func(p *schedule.Problem) {
		p.Crew++
		for k := range p.Tasks {
			p.Tasks[k].Hands = min(s.hands[k], p.Crew)
		}
	}
	if s.problem.Crew < largestCrew && works(more) {
		out = append(out, fmt.Sprintf("%s %d", FreeHands, s.problem.Crew+1))
	}
	if works(func(p *schedule.Problem) {
		p.Lags = slices.DeleteFunc(p.Lags, func(l schedule.Lag) bool { return l.Minutes < 0 })
	}) {
		out = append(out, FreeWarm)
	}
	for i, e := range s.Set.Elements {
		gone := map[int]bool{s.makes[i]: true, s.made[i]: true}
		for j := range s.laid {
			if s.Set.Origin(j) == i {
				gone[s.laid[j]] = true
			}
		}
		if e.CopyOf >= 0 || len(out) >= mostFrees ||
			!slices.ContainsFunc(c.Tasks, func(k int) bool { return gone[k] }) {
			continue
		}
		if works(func(p *schedule.Problem) { without(p, gone) }) {
			out = append(out, fmt.Sprintf("%s %d", FreeWithout, e.Number))
		}
	}
	return out
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
