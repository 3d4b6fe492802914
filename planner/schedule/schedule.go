// Package schedule puts the steps of the work on the clock.
//
// Guarantees (P8): no step starts before what it needs has ended, and no more pairs of hands work at once than the crew has. The
// schedule is built serially by priority, the best of seeded perturbations; it carries a lower bound, and is proved shortest only where it
// meets it.
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

// tries is how many perturbed orders Best looks at; 40 tasks take about 10 ms.
const tries = 200

// Best places the tasks in the order given, then in seeded perturbations of it, and keeps the first shortest: the given order stands
// for what is wanted (least heat first), and is left only where minutes are saved. A task may only need earlier ones.
func Best(tasks []Task, crew int) (*Result, error) {
	key := make([]float64, len(tasks))
	seed := uint64(1)
	var best *Result
	for k := 0; k <= tries; k++ {
		for i := range key {
			seed = seed*6364136223846793005 + 1442695040888963407 // Knuth's constants for a 64-bit congruential generator
			key[i] = float64(i)
			if k > 0 {
				key[i] += float64(seed>>40) / (1 << 24) * float64(1+k%16)
			}
		}
		r, err := serial(tasks, crew, key)
		if err != nil {
			return nil, err
		}
		if best == nil || r.End < best.End-1e-9 {
			best = r
		}
		if best.End < best.AtLeast+1e-9 {
			break
		}
	}
	return best, nil
}

// serial takes, again and again, the task of least key whose needs are placed, and starts it as early as needs and crew allow.
func serial(tasks []Task, crew int, key []float64) (*Result, error) {
	n := len(tasks)
	r := &Result{Start: make([]float64, n)}
	longest := make([]float64, n)
	work := 0.0
	placed := make([]bool, n)
	var done []int
	for len(done) < n {
		i := -1
		for j, t := range tasks {
			ready := !placed[j]
			for _, m := range t.Needs {
				if m >= j {
					return nil, fmt.Errorf("internal: step %d needs a later one", j+1)
				}
				ready = ready && placed[m]
			}
			if ready && (i < 0 || key[j] < key[i]) {
				i = j
			}
		}
		t := tasks[i]
		if t.Hands > crew {
			return nil, fmt.Errorf("step %d needs %d pairs of hands, the crew has %d", i+1, t.Hands, crew)
		}
		from := 0.0
		for _, m := range t.Needs {
			from = math.Max(from, r.Start[m]+tasks[m].Minutes)
			longest[i] = math.Max(longest[i], longest[m]+tasks[m].Minutes)
		}
		r.Start[i] = place(tasks, done, r.Start, t, from, crew)
		placed[i], done = true, append(done, i)
		r.End = math.Max(r.End, r.Start[i]+t.Minutes)
		r.AtLeast = math.Max(r.AtLeast, longest[i]+t.Minutes)
		work += t.Minutes * float64(t.Hands)
	}
	r.AtLeast = math.Max(r.AtLeast, work/float64(crew))
	return r, nil
}

// place is the earliest start from which enough hands are free throughout.
func place(tasks []Task, done []int, start []float64, t Task, from float64, crew int) float64 {
	at := []float64{from}
	for _, i := range done {
		if e := start[i] + tasks[i].Minutes; e > from {
			at = append(at, e)
		}
	}
	sort.Float64s(at)
	for _, a := range at {
		if free(tasks, done, start, t, a, crew) {
			return a
		}
	}
	return at[len(at)-1] // not reached: after the last end all hands are free
}

// free tells whether enough hands are free for t from a to its end: hands taken change only where a step starts.
func free(tasks []Task, done []int, start []float64, t Task, a float64, crew int) bool {
	busyAt := func(m float64) int {
		busy := t.Hands
		for _, i := range done {
			if start[i] <= m+1e-9 && m < start[i]+tasks[i].Minutes-1e-9 {
				busy += tasks[i].Hands
			}
		}
		return busy
	}
	if busyAt(a) > crew {
		return false
	}
	for _, i := range done {
		if start[i] > a && start[i] < a+t.Minutes-1e-9 && busyAt(start[i]) > crew {
			return false
		}
	}
	return true
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
