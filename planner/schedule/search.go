package schedule

import (
	"math"
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
	tried    int    // sets of a conflict that were looked at, and lags that were added
	cut      bool   // the search was not complete
	cycle    *Cycle // the tightest that closed a branch
	by       []int  // scratch of delayed: the task that last pushed a task
	queue    []int
}

// swapMin is what a pair of tasks in an order that their keys do not want may cost in minutes of the end; tuned: a
// minute for twenty pairs.
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

// branch searches the tree of conflicts: all tasks start as early as their lags allow; at the first moment at which too
// many hands are needed, every least set of tasks is delayed until one of those that stay has ended.
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

func (s *search) spent() bool { return s.nodes*len(s.p.Tasks) >= maxWork || s.tried >= maxTried }

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

// conflict lists the tasks at work at the first moment that needs more hands than there are, those first that should
// stay.
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
	if s.tried++; s.done() {
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

// delayed adds lags from the end of task k to the starts of others and pushes what follows; ok is false when that
// closes a cycle. The tasks whose list of lags grew are returned, so that the caller takes them off again.
func (s *search) delayed(start []float64, out [][]Lag, k int, delay []int) (next []float64, added []int, ok bool) {
	s.tried += len(start)
	next = append([]float64(nil), start...)
	for _, j := range delay {
		out[k] = append(out[k], Lag{From: k, To: j, Minutes: s.p.Tasks[k].Minutes})
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
	lags := append(p.inOrder(r), p.Lags...)
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
