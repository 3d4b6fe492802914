// Package schedule puts the steps of the work on the clock.
//
// Guarantees (P8): no step starts before what it needs has ended, and no more pairs of hands work at once than the crew has. The
// schedule is built serially by priority; it is not proved shortest and says so by the bound.
//
// References: serial schedule generation for the resource-constrained project problem (Kolisch 1996, from memory).
package schedule

import (
	"fmt"
	"math"
	"sort"
)

// Task is one step: minutes, pairs of hands, and the tasks that must end before.
type Task struct {
	Minutes float64
	Hands   int
	Needs   []int
}

// Result has the start of every task, the end of the last, and a lower bound for it.
type Result struct {
	Start   []float64
	End     float64
	AtLeast float64
}

// Serial places the tasks in the order given, each as early as its needs and the crew allow. A task may only need earlier ones.
func Serial(tasks []Task, crew int) (*Result, error) {
	r := &Result{Start: make([]float64, len(tasks))}
	longest := make([]float64, len(tasks))
	work := 0.0
	for i, t := range tasks {
		if t.Hands > crew {
			return nil, fmt.Errorf("step %d needs %d pairs of hands, the crew has %d", i+1, t.Hands, crew)
		}
		from := 0.0
		for _, n := range t.Needs {
			if n >= i {
				return nil, fmt.Errorf("internal: step %d needs a later one", i+1)
			}
			from = math.Max(from, r.Start[n]+tasks[n].Minutes)
			longest[i] = math.Max(longest[i], longest[n]+tasks[n].Minutes)
		}
		r.Start[i] = place(tasks[:i], r.Start[:i], t, from, crew)
		r.End = math.Max(r.End, r.Start[i]+t.Minutes)
		r.AtLeast = math.Max(r.AtLeast, longest[i]+t.Minutes)
		work += t.Minutes * float64(t.Hands)
	}
	r.AtLeast = math.Max(r.AtLeast, work/float64(crew))
	return r, nil
}

// place is the earliest start from which enough hands are free throughout.
func place(done []Task, start []float64, t Task, from float64, crew int) float64 {
	tries := []float64{from}
	for i, d := range done {
		if e := start[i] + d.Minutes; e > from {
			tries = append(tries, e)
		}
	}
	sort.Float64s(tries)
	for _, at := range tries {
		marks := []float64{at}
		for i := range done {
			if start[i] > at && start[i] < at+t.Minutes {
				marks = append(marks, start[i])
			}
		}
		free := true
		for _, m := range marks {
			busy := t.Hands
			for i, d := range done {
				if start[i] <= m+1e-9 && m < start[i]+d.Minutes-1e-9 {
					busy += d.Hands
				}
			}
			free = free && busy <= crew
		}
		if free {
			return at
		}
	}
	return from // not reached: after the last end all hands are free
}

// Check proves needs and hands again, by events.
func Check(tasks []Task, r *Result, crew int) error {
	for i, t := range tasks {
		for _, n := range t.Needs {
			if r.Start[i] < r.Start[n]+tasks[n].Minutes-1e-6 {
				return fmt.Errorf("internal: step %d starts before step %d ends", i+1, n+1)
			}
		}
		busy := 0
		for j, o := range tasks {
			if r.Start[j] <= r.Start[i]+1e-9 && r.Start[i] < r.Start[j]+o.Minutes-1e-9 {
				busy += o.Hands
			}
		}
		if busy > crew {
			return fmt.Errorf("internal: %d pairs of hands at minute %.1f", busy, r.Start[i])
		}
	}
	return nil
}
