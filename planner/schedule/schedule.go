// Package schedule puts the steps of the work on the clock.
//
// Guarantees (P8): every lag between steps is kept, no more pairs of hands work at once than the crew has. The result
// says whether its length is proved the least, or how far from a bound it may be; where there is no schedule, the cycle
// of steps that forbids it. Limits are counts of nodes, never clocks (P9).
//
// References: the resource-constrained project problem with minimum and maximum lags (RCPSP/max): serial generation
// (Kolisch 1996), branching on what of a conflict is delayed (De Reyck and Herroelen 1998); both from memory.
package schedule

import (
	"errors"
	"fmt"
	"math"
	"sugarwright/geom/finding"
)

// Task is one step: minutes and pairs of hands. Key says what should come early where it costs little: parts that
// tolerate least heat have the least; tasks with +Inf do not count.
type Task struct {
	Minutes float64
	Hands   int
	Key     float64
}

// Lag is a least time between two starts: start of To - start of From >= Minutes. A negative one bounds from above the
// other way.
type Lag struct {
	From, To int
	Minutes  float64
	Own      float64 // of these, the minutes of the task itself, with their sign
}

// Problem is what is to be put on the clock. Lags of 0 or more must not form a cycle.
type Problem struct {
	Tasks []Task
	Lags  []Lag
	Crew  int
	Rough bool // tasks are placed, and no branch is searched
}

// After asks that b starts at least minutes after a has ended.
func (p *Problem) After(a, b int, minutes float64) {
	p.Lags = append(p.Lags, Lag{a, b, p.Tasks[a].Minutes + minutes, p.Tasks[a].Minutes})
}

// From asks that b starts at least minutes after a has started.
func (p *Problem) From(a, b int, minutes float64) {
	p.Lags = append(p.Lags, Lag{From: a, To: b, Minutes: minutes})
}

// Within asks that b starts at most minutes after a has ended.
func (p *Problem) Within(a, b int, minutes float64) {
	p.Lags = append(p.Lags, Lag{b, a, -p.Tasks[a].Minutes - minutes, -p.Tasks[a].Minutes})
}

// Result has the start of every task, the end of the last, and a lower bound for it.
type Result struct {
	Start   []float64
	End     float64
	AtLeast float64
	Proved  bool
	Slack   []float64 // how much later a task may start, all else in its order, before the end moves
	Pairs   [][]int   // which pairs of hands work on a task, from 0
}

// Gap is how much shorter, as a share, the shortest schedule could be at most.
func (r *Result) Gap() float64 {
	if r.Proved || r.End <= 0 {
		return 0
	}
	return math.Max(0, 1-r.AtLeast/r.End)
}

// Cycle is why there is no schedule: going round these tasks takes Over minutes more than their lags allow. Hands tells
// that it holds only because the crew is what it is.
type Cycle struct {
	Tasks []int
	Over  float64
	Hands bool
}

func (c *Cycle) Error() string {
	return fmt.Sprintf("no schedule: steps %v take %.1f minutes too long for what must follow in time", c.Tasks, c.Over)
}

// ErrGaveUp is a search that found no schedule within its nodes and did not prove that there is none.
var ErrGaveUp = errors.New("no schedule was found within the search's limit")

// maxWork bounds the search in nodes times tasks: 8,000 nodes of 40 tasks, a fifth of a second.
const maxWork = 320_000

// maxTried bounds what is done between the nodes: many hands at many tasks that could all be at work at once can keep
// thousands of sets.
const maxTried = 2_000_000

const eps = 1e-9

// Solve finds a schedule: first by placing tasks in the order given and in seeded changes of it, then by branching
// until it is proved or the nodes are spent. The error is a *Cycle where none exists.
func Solve(p *Problem) (*Result, error) {
	for i, t := range p.Tasks {
		if t.Hands > p.Crew {
			return nil, fmt.Errorf("step %d needs %d pairs of hands, the crew has %d", i+1, t.Hands, p.Crew)
		}
	}
	heads, c := longest(len(p.Tasks), p.Lags)
	if c != nil {
		return nil, c
	}
	tails, _ := longest(len(p.Tasks), turned(p))
	s := &search{p: p, tails: tails, atLeast: bound(p, heads, tails), shortest: math.Inf(1)}
	s.place()
	if s.cut = p.Rough; s.shortest > s.atLeast+eps && !p.Rough {
		s.branch(heads)
		if !s.cut {
			s.atLeast = math.Max(s.atLeast, s.shortest)
		}
	}
	r := s.best
	if r == nil {
		if s.cut || s.cycle == nil { // no branch closed: not reached
			return nil, ErrGaveUp
		}
		return nil, s.cycle
	}
	r.AtLeast, r.Proved = s.atLeast, r.End < s.atLeast+eps
	r.Pairs = hands(p, r.Start)
	r.Slack = slack(p, r)
	return r, nil
}

// turned is the problem's lags on the clock that runs back from the end, where a task starts when it ends on the other:
// the longest way to a task is then what must follow its end.
func turned(p *Problem) []Lag {
	out := make([]Lag, len(p.Lags))
	for i, l := range p.Lags {
		out[i] = Lag{From: l.To, To: l.From, Minutes: l.Minutes + p.Tasks[l.To].Minutes - p.Tasks[l.From].Minutes}
	}
	return out
}

// longest is the earliest start of every task by its lags, or the cycle that forbids all starts (Bellman and Ford).
func longest(n int, lags []Lag) ([]float64, *Cycle) {
	d := make([]float64, n)
	by := make([]int, n)
	for i := range by {
		by[i] = -1
	}
	for round := 0; round <= n; round++ {
		last := -1
		for k, l := range lags {
			if v := d[l.From] + l.Minutes; v > d[l.To]+eps {
				d[l.To], by[l.To], last = v, k, l.To
			}
		}
		if last < 0 {
			return d, nil
		}
		if round == n {
			return nil, cycleOf(lags, by, last)
		}
	}
	return d, nil
}

// cycleOf walks back along the lags that last raised a start until it closes.
func cycleOf(lags []Lag, by []int, at int) *Cycle {
	for range by { // surely on the cycle then
		at = lags[by[at]].From
	}
	c := &Cycle{}
	for t := at; ; {
		l := lags[by[t]]
		c.Tasks = append(c.Tasks, t)
		c.Over += l.Minutes
		if t = l.From; t == at {
			break
		}
	}
	for i, j := 0, len(c.Tasks)-1; i < j; i, j = i+1, j-1 {
		c.Tasks[i], c.Tasks[j] = c.Tasks[j], c.Tasks[i]
	}
	return c
}

// bound is a lower bound of the end: the longest way, and for every pair of a head and a tail the work of all tasks
// that start no earlier and are followed by no less, shared by all hands.
func bound(p *Problem, heads, tails []float64) float64 {
	b := 0.0
	for i, t := range p.Tasks {
		b = math.Max(b, heads[i]+t.Minutes+tails[i])
	}
	for i := range p.Tasks {
		for j := range p.Tasks {
			h, q, work := heads[i], tails[j], 0.0
			for k, t := range p.Tasks {
				if heads[k] >= h-eps && tails[k] >= q-eps {
					work += t.Minutes * float64(t.Hands)
				}
			}
			if work > 0 {
				b = math.Max(b, h+work/float64(p.Crew)+q)
			}
		}
	}
	return b
}

// Slower tells whether every task may take so many times its minutes, each pair of hands doing what it does in the order
// of the result: the cycle of tasks that forbids it, or nil.
func Slower(p *Problem, r *Result, times float64) *Cycle {
	var lags []Lag
	for _, l := range append(p.inOrder(r), p.Lags...) {
		l.Minutes += (times - 1) * l.Own
		lags = append(lags, l)
	}
	_, c := longest(len(p.Tasks), lags)
	return c
}

// inOrder are the lags by which each pair of hands does its tasks one after the other.
func (p *Problem) inOrder(r *Result) (lags []Lag) {
	for i, a := range r.Pairs {
		for j, b := range r.Pairs {
			if m := p.Tasks[i].Minutes; i != j && r.Start[j] > r.Start[i]+m-1e-6 && m > eps && meet(a, b) {
				lags = append(lags, Lag{i, j, m, m})
			}
		}
	}
	return lags
}

// Check proves lags and hands again, by events.
func Check(p *Problem, r *Result) error {
	for _, l := range p.Lags {
		if r.Start[l.To]-r.Start[l.From] < l.Minutes-1e-6 {
			return finding.Impossible("steps %d and %d lie %.3f minutes apart, %.3f needed", l.From+1, l.To+1,
				r.Start[l.To]-r.Start[l.From], l.Minutes)
		}
	}
	for i, t := range p.Tasks {
		if r.Start[i] < -eps || r.Start[i]+t.Minutes > r.End+1e-6 {
			return finding.Impossible("step %d lies outside the schedule", i+1)
		}
		busy := 0
		for j, o := range p.Tasks {
			if r.Start[j] <= r.Start[i]+eps && r.Start[i] < r.Start[j]+o.Minutes-eps {
				busy += o.Hands
			}
		}
		if busy > p.Crew {
			return finding.Impossible("%d pairs of hands at minute %.1f", busy, r.Start[i])
		}
	}
	return nil
}
