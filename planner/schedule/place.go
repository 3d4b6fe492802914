package schedule

import (
	"math"
	"slices"
	"sort"
)

// tries is how many changed orders place looks at, forward and backward; 40 tasks take some 20 ms.
const tries = 120

// place puts the tasks serially in the order given, then in seeded changes of it, from the start and, to keep what must
// not wait near to what it waits for, from the end.
func (s *search) place() {
	forward := newSerial(s.p, false)
	backward := newSerial(s.p, true)
	key := make([]float64, len(s.p.Tasks))
	both := func() {
		start := forward.run(key)
		s.take(start)
		for i := range key { // the same order, from the end
			key[i] = -start[i] - s.p.Tasks[i].Minutes
		}
		s.take(backward.run(key))
	}
	for i, t := range s.p.Tasks { // what has no key as soon as it can, what has one in the order of the keys
		key[i] = float64(i)
		if !math.IsInf(t.Key, 1) {
			key[i] += float64(len(key))
		}
	}
	both()
	for i, t := range s.p.Tasks { // and from the end: what has a key as late as it can, the last of them last
		key[i] = -float64(i)
		if !math.IsInf(t.Key, 1) {
			key[i] += float64(len(key))
		}
	}
	s.take(backward.run(key))
	s.reorder(forward, key)
	seed := uint64(1)
	for k := 0; k <= tries && s.cost > s.atLeast+eps; k++ {
		for i := range key {
			// Knuth's constants for a 64-bit congruential generator
			seed = seed*6364136223846793005 + 1442695040888963407
			key[i] = float64(i)
			if k > 0 {
				key[i] += float64(seed>>40) / (1 << 24) * float64(1+k%16)
			}
		}
		both()
	}
	s.reorder(forward, key)
}

// reorders is how many exchanges reorder tries.
const reorders = 150

// reorder takes pairs of keyed tasks of the best schedule that start in the wrong order, one after the other, and
// places all again with the one put just before the other, until none of that helps.
func (s *search) reorder(forward *serial, key []float64) {
	tried := 0
	for again := true; again && s.best != nil; {
		again = false
		start := s.best.Start
	seek:
		for i, a := range s.p.Tasks {
			for j, b := range s.p.Tasks {
				if !wrong(a, b, start[i], start[j]) {
					continue
				}
				if tried++; tried > reorders {
					return
				}
				copy(key, start)
				key[i] = key[j] - 1e-6
				cost := s.cost
				if s.take(forward.run(key)); s.cost < cost-eps {
					again = true
					break seek
				}
			}
		}
	}
}

// wrong tells whether a should start before b and does not.
func wrong(a, b Task, startA, startB float64) bool {
	return a.Key < b.Key-eps && !math.IsInf(b.Key, 1) && startA > startB+eps
}

// serial places tasks one by one. Backward it runs on the clock that goes from the end.
type serial struct {
	p        *Problem
	backward bool
	into     [][]Lag // by task: lags of 0 or more that lead to it, on its clock
	start    []float64
	placed   []bool
	profile  profile
}

func newSerial(p *Problem, backward bool) *serial {
	v := &serial{
		p:        p,
		backward: backward,
		into:     make([][]Lag, len(p.Tasks)),
		start:    make([]float64, len(p.Tasks)),
		placed:   make([]bool, len(p.Tasks)),
	}
	lags := p.Lags
	if backward {
		lags = turned(p)
	}
	for i, l := range lags {
		if p.Lags[i].Minutes >= 0 {
			v.into[l.To] = append(v.into[l.To], l)
		}
	}
	return v
}

// run takes, again and again, the task of least key whose lags are ready, and starts it as early as lags and crew
// allow.
func (v *serial) run(key []float64) []float64 {
	n := len(v.p.Tasks)
	v.profile.at, v.profile.busy = append(v.profile.at[:0], 0), append(v.profile.busy[:0], 0)
	for i := range v.placed {
		v.placed[i] = false
	}
	end := 0.0
	for range n {
		i := -1
		for j := range v.p.Tasks {
			if v.placed[j] || i >= 0 && key[j] >= key[i] {
				continue
			}
			ready := true
			for _, l := range v.into[j] {
				ready = ready && v.placed[l.From]
			}
			if ready {
				i = j
			}
		}
		if i < 0 {
			return make([]float64, n) // a cycle of lags: take refuses it
		}
		from := 0.0
		for _, l := range v.into[i] {
			from = math.Max(from, v.start[l.From]+l.Minutes)
		}
		v.start[i] = v.profile.take(v.p.Tasks[i], from, v.p.Crew)
		v.placed[i] = true
		end = math.Max(end, v.start[i]+v.p.Tasks[i].Minutes)
	}
	out := append([]float64(nil), v.start...)
	if v.backward {
		for i, t := range v.p.Tasks {
			out[i] = end - out[i] - t.Minutes
		}
	}
	return out
}

// profile is how many pairs of hands work, as steps: busy[k] from at[k] on.
type profile struct {
	at   []float64
	busy []int
}

// cut makes a step at t and returns its place.
func (f *profile) cut(t float64) int {
	k := sort.SearchFloat64s(f.at, t-eps)
	if k < len(f.at) && f.at[k] < t+eps {
		return k
	}
	busy := 0
	if k > 0 {
		busy = f.busy[k-1]
	}
	f.at, f.busy = slices.Insert(f.at, k, t), slices.Insert(f.busy, k, busy)
	return k
}

// take puts a task at the earliest moment from which enough hands are free throughout.
func (f *profile) take(t Task, from float64, crew int) float64 {
	if t.Minutes < eps {
		return from
	}
	k := f.cut(from)
	for start := k; ; start = k {
		for k = start; k < len(f.at) && f.at[k] < f.at[start]+t.Minutes-eps && f.busy[k]+t.Hands <= crew; k++ {
		}
		if k == len(f.at) || f.at[k] >= f.at[start]+t.Minutes-eps {
			from = f.at[start]
			end := f.cut(from + t.Minutes)
			for k = start; k < end; k++ {
				f.busy[k] += t.Hands
			}
			return from
		}
		k++
	}
}
