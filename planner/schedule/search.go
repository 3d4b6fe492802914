package schedule

import (
	"math"
	"slices"
	"sort"
)

// search is the state of one Solve.
type search struct {
	p        *Problem
	tails    []float64
	atLeast  float64
	shortest float64 // end of the shortest schedule found
	best     *Result // the one that costs least
	cost     float64
	swaps    int // of the best: pairs made in an order that the keys do not want
	nodes    int
	cut      bool   // the search was not complete
	cycle    *Cycle // the tightest that closed a branch
	by       []int  // scratch of delayed: the task that last pushed a task
	queue    []int
}

// swapMin is what a pair of tasks in an order that their keys do not want may cost in minutes of the end; tuned: a minute for twenty pairs.
const swapMin = 0.05

// take keeps a schedule that costs less: its end, and what its order costs.
func (s *search) take(start []float64) {
	for _, l := range s.p.Lags {
		if start[l.To]-start[l.From] < l.Minutes-eps {
			return
		}
	}
	end := 0.0
	for i, t := range s.p.Tasks {
		end = math.Max(end, start[i]+t.Minutes)
	}
	s.shortest = math.Min(s.shortest, end)
	if s.best != nil && end > s.cost-eps {
		return
	}
	n := swaps(s.p, start)
	if cost := end + swapMin*float64(n); s.best == nil || cost < s.cost-eps {
		s.best, s.cost, s.swaps = &Result{Start: append([]float64(nil), start...), End: end}, cost, n
	}
}

// swaps counts pairs of keyed tasks that start in the order that the keys do not want.
func swaps(p *Problem, start []float64) int {
	n := 0
	for i, a := range p.Tasks {
		for j, b := range p.Tasks {
			if wrong(a, b, start[i], start[j]) {
				n++
			}
		}
	}
	return n
}

// tries is how many changed orders place looks at, forward and backward; 40 tasks take some 20 ms.
const tries = 120

// place puts the tasks serially in the order given, then in seeded changes of it, from the start and, to keep what must not wait near to
// what it waits for, from the end.
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
			seed = seed*6364136223846793005 + 1442695040888963407 // Knuth's constants for a 64-bit congruential generator
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

// reorder takes pairs of keyed tasks of the best schedule that start in the wrong order, one after the other, and places all again with the one
// put just before the other, until none of that helps.
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
	v := &serial{p: p, backward: backward, into: make([][]Lag, len(p.Tasks)), start: make([]float64, len(p.Tasks)), placed: make([]bool, len(p.Tasks))}
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

// run takes, again and again, the task of least key whose lags are ready, and starts it as early as lags and crew allow.
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

// branch searches the tree of conflicts: all tasks start as early as their lags allow; at the first moment at which too many hands are
// needed, every least set of tasks is delayed until one of those that stay has ended.
func (s *search) branch(heads []float64) {
	s.by = make([]int, len(s.p.Tasks))
	out := make([][]Lag, len(s.p.Tasks))
	for _, l := range s.p.Lags {
		out[l.From] = append(out[l.From], l)
	}
	s.descend(heads, out)
}

// late tells whether a branch with these earliest starts cannot lead to anything shorter.
func (s *search) late(start []float64) bool {
	for i, t := range s.p.Tasks {
		if start[i]+t.Minutes+s.tails[i] > s.shortest-eps {
			return true
		}
	}
	return false
}

func (s *search) spent() bool { return s.nodes*len(s.p.Tasks) >= maxWork }

func (s *search) done() bool {
	return s.spent() || s.shortest < s.atLeast+eps
}

func (s *search) descend(start []float64, out [][]Lag) {
	if s.nodes++; s.spent() {
		s.cut = true
		return
	}
	c := s.conflict(start)
	if c == nil {
		s.take(start)
		return
	}
	s.kept(c, 0, nil, s.p.Crew, func(keep, delay []int) {
		for _, k := range keep {
			if s.done() {
				s.cut = s.cut || s.spent()
				return
			}
			next, added, ok := s.delayed(start, out, k, delay)
			if ok && !s.late(next) {
				s.descend(next, out)
			}
			for _, k := range added {
				out[k] = out[k][:len(out[k])-1]
			}
		}
	})
}

// conflict lists the tasks at work at the first moment that needs more hands than there are, those first that should stay.
func (s *search) conflict(start []float64) []int {
	order := make([]int, len(start))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return start[order[a]] < start[order[b]] })
	var active []int
	for k, i := range order {
		t := start[i]
		live := active[:0]
		for _, j := range active {
			if start[j]+s.p.Tasks[j].Minutes > t+eps {
				live = append(live, j)
			}
		}
		active = live
		if s.p.Tasks[i].Minutes > eps {
			active = append(active, i)
		}
		if k+1 < len(order) && start[order[k+1]] < t+eps {
			continue
		}
		busy := 0
		for _, j := range active {
			busy += s.p.Tasks[j].Hands
		}
		if busy > s.p.Crew {
			sort.SliceStable(active, func(a, b int) bool {
				x, y := active[a], active[b]
				if (start[x] < t-eps) != (start[y] < t-eps) {
					return start[x] < t-eps
				}
				return s.tails[x]+s.p.Tasks[x].Minutes > s.tails[y]+s.p.Tasks[y].Minutes+eps
			})
			return active
		}
	}
	return nil
}

// kept calls with every largest set of tasks of a conflict that the hands can do at once, and the rest.
func (s *search) kept(c []int, from int, keep []int, free int, call func(keep, delay []int)) {
	if s.done() {
		return
	}
	if from == len(c) {
		delay := make([]int, 0, len(c))
		k := 0
		for _, i := range c {
			if k < len(keep) && keep[k] == i {
				k++
			} else {
				if s.p.Tasks[i].Hands <= free {
					return // not a largest set
				}
				delay = append(delay, i)
			}
		}
		call(keep, delay)
		return
	}
	if h := s.p.Tasks[c[from]].Hands; h <= free {
		s.kept(c, from+1, append(keep[:len(keep):len(keep)], c[from]), free-h, call)
	}
	s.kept(c, from+1, keep, free, call)
}

// delayed adds lags from the end of task k to the starts of others and pushes what follows; ok is false when that closes a cycle. The
// tasks whose list of lags grew are returned, so that the caller takes them off again.
func (s *search) delayed(start []float64, out [][]Lag, k int, delay []int) (next []float64, added []int, ok bool) {
	next = append([]float64(nil), start...)
	for _, j := range delay {
		out[k] = append(out[k], Lag{k, j, s.p.Tasks[k].Minutes})
		added = append(added, k)
		v := next[k] + s.p.Tasks[k].Minutes
		if v <= next[j]+eps {
			continue
		}
		next[j] = v
		s.by[j] = k
		s.queue = append(s.queue[:0], j)
		for q := 0; q < len(s.queue); q++ {
			i := s.queue[q]
			for _, l := range out[i] {
				if v := next[i] + l.Minutes; v > next[l.To]+eps {
					if l.To == k {
						s.closes(i, k, v-next[k])
						return next, added, false
					}
					next[l.To] = v
					s.by[l.To] = i
					s.queue = append(s.queue, l.To)
				}
			}
		}
	}
	return next, added, true
}

// closes keeps the cycle that closed a branch, if it is the one that lacks least.
func (s *search) closes(last, k int, over float64) {
	if s.cycle != nil && s.cycle.Over <= over+eps {
		return
	}
	c := &Cycle{Over: over, Hands: true}
	for i, n := last, 0; i != k && n <= len(s.by); i, n = s.by[i], n+1 {
		c.Tasks = append(c.Tasks, i)
	}
	c.Tasks = append(c.Tasks, k)
	for i, j := 0, len(c.Tasks)-1; i < j; i, j = i+1, j-1 {
		c.Tasks[i], c.Tasks[j] = c.Tasks[j], c.Tasks[i]
	}
	s.cycle = c
}

// hands gives every task its pairs of hands: the first that are free.
func hands(p *Problem, start []float64) [][]int {
	order := make([]int, len(start))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return start[order[a]] < start[order[b]]-eps })
	until := make([]float64, p.Crew)
	out := make([][]int, len(start))
	for _, i := range order {
		t := p.Tasks[i]
		if t.Minutes < eps {
			continue
		}
		for h := 0; h < p.Crew && len(out[i]) < t.Hands; h++ {
			if until[h] < start[i]+1e-6 {
				out[i] = append(out[i], h)
				until[h] = start[i] + t.Minutes
			}
		}
	}
	return out
}

// slack is the latest start of every task, hands in their order, less its start.
func slack(p *Problem, r *Result) []float64 {
	lags := append([]Lag(nil), p.Lags...)
	for i, a := range r.Pairs {
		for j, b := range r.Pairs {
			if i != j && r.Start[j] > r.Start[i]+p.Tasks[i].Minutes-1e-6 && p.Tasks[i].Minutes > eps && meet(a, b) {
				lags = append(lags, Lag{i, j, p.Tasks[i].Minutes})
			}
		}
	}
	latest := make([]float64, len(p.Tasks))
	for i, t := range p.Tasks {
		latest[i] = r.End - t.Minutes
	}
	for again, round := true, 0; again && round <= len(p.Tasks); round++ {
		again = false
		for _, l := range lags {
			if v := latest[l.To] - l.Minutes; v < latest[l.From]-eps {
				latest[l.From], again = v, true
			}
		}
	}
	for i := range latest {
		latest[i] = math.Max(0, latest[i]-r.Start[i])
	}
	return latest
}

func meet(a, b []int) bool {
	for _, x := range a {
		for _, y := range b {
			if x == y {
				return true
			}
		}
	}
	return false
}
