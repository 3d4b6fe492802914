package work

import (
	"math"
	"slices"
	"sort"

	"sugarwright/planner/build"
	"sugarwright/planner/plan"
	"sugarwright/planner/recipe"
	"sugarwright/planner/schedule"
	"sugarwright/planner/set"
	"sugarwright/planner/stand"
)

// chore is a step before it has a time. Also is done at the same time by one pair of its hands; then is said when it
// has ended, and takes no time.
type chore struct {
	plan.Step
	also []aside
	then []plan.Step
}

// aside is what is done while a chore goes on, in minutes from its start: by the last pair of its hands or, where it is
// free, in passing by those who are there.
type aside struct {
	plan.Step
	from, until float64
	free        bool
}

// stepper collects the steps of the work: what is prepared, made, laid, finished.
type stepper struct {
	Task
	problem schedule.Problem
	chores  []chore
	turns   []float64 // by element: minutes for which it is turned each minute; nil when that is not known yet
	hands   []int     // by step: the hands that it would have if the crew were large enough
	makes   []int     // by element that is no copy: the step that makes it
	poured  int
	machine int        // the last step of the machine that pulls, or -1
	cool    [3]float64 // minutes from the pour until lumps are cut apart, can hang on the hook, can be formed
	divided int
	lumps   [][]int   // by colour: the steps after which its loads, one after the other, can be formed
	loadG   []float64 // by colour: grams of a load
	used    []float64 // by colour: grams of the loads that parts have taken
	made    []int     // by element: the step after which it, or its original, is at hand
	laid    []int     // by element: the step that lays it
	built   []int     // by block: the step that lays its last part
	ended   []int     // by block: the step after which it can be laid
	joined  []int     // by block: the step that lays it
	copyOf  []int     // by block: the block that it is made with, or -1
	round   int
	draw    int
}

// steps lists all steps of a task with what they need.
func steps(t Task, turns []float64) *stepper {
	n, blocks := len(t.Set.Elements), len(t.Build.Blocks)
	s := &stepper{
		Task:    t,
		turns:   turns,
		problem: schedule.Problem{Crew: t.Shop.Crew},
		makes:   make([]int, n),
		made:    make([]int, n),
		laid:    make([]int, n),
		built:   make([]int, blocks),
		ended:   make([]int, blocks),
		joined:  make([]int, blocks),
		copyOf:  t.Set.BlockCopies(),
		machine: -1,
	}
	s.prepare()
	s.make()
	for b := range t.Build.Blocks {
		s.lay(b)
	}
	s.finish()
	s.waits()
	return s
}

// add a step that takes minutes and pairs of hands, after the steps that it needs.
func (s *stepper) add(minutes float64, hands int, needs []int, c chore) int {
	s.problem.Tasks = append(s.problem.Tasks,
		schedule.Task{Minutes: minutes, Hands: min(hands, s.Shop.Crew), Key: math.Inf(1)})
	s.chores, s.hands = append(s.chores, c), append(s.hands, hands)
	k := len(s.chores) - 1
	for _, n := range needs {
		s.problem.After(n, k, 0)
	}
	return k
}

// step is a chore with nothing beside it.
func step(st plan.Step) chore { return chore{Step: st} }

// warmerC is how much warmer than the rest a part is laid for its lump to be kept apart.
const warmerC = 2

// warmer lists parts that are laid warmer than what is kept, and the least heat of them.
func (s *stepper) warmer() (hot float64, ids []string) {
	hot = math.Inf(1)
	for i, e := range s.Set.Elements {
		if c := s.Windows.Parts[i].LayC; e.CopyOf < 0 && c > s.Windows.KeepC+warmerC {
			hot = math.Min(hot, c)
			ids = append(ids, s.Set.ID(i))
		}
	}
	return hot, ids
}

// saidBelowMin is the waiting time, in minutes, from which a part's limit is not printed: the work ends before.
const saidBelowMin = 62

// make adds a step for each distinct part, that of least heat first, and the chopping of copies. Wraps are rolled out
// just before they close.
func (s *stepper) make() {
	m := s.Shop.Minutes
	pieces := s.Set.Pieces()
	apart := make([]bool, len(pieces)) // some copy is laid by itself, not chopped with its block
	for _, e := range s.Set.Elements {
		if e.CopyOf >= 0 {
			apart[e.CopyOf] = apart[e.CopyOf] || s.copyOf[e.Block] < 0
		}
	}
	for _, i := range s.makingOrder() {
		e, part := s.Set.Elements[i], s.Windows.Parts[i]
		at := plan.Num(part.LayC)
		st := plan.Step{
			Do:     plan.DoMake,
			Parts:  []string{s.Set.ID(i)},
			AtC:    &at,
			TurnIt: part.Window.Turned || s.isTurned(i),
		}
		if limit := s.mayWait(i); limit < saidBelowMin {
			within := plan.Num(limit)
			st.WithinMin = &within
		}
		// What is drawn out with its block is made as thick and as heavy as all its lengths.
		thick := math.Pow(max(1, s.Set.Blocks[e.Block].Scale), 2)
		k := s.add(m.Make(e.Fit.Recipe, thick*s.grams(i), s.LengthMM, pieces[i]), 1,
			s.ready(e.Colour, thick*s.grams(i)*float64(pieces[i])), step(st))
		if !s.Palette.Pulled(e.Colour) {
			s.problem.From(s.poured, k, s.cool[2])
		}
		if !e.Fit.Closed() {
			s.problem.Tasks[k].Key = part.Window.High
		}
		s.makes[i], s.made[i] = k, k
		if n := pieces[i]; n > 1 && apart[i] {
			s.made[i] = s.add(m.Chop*float64(n), 1, []int{k},
				step(plan.Step{Do: plan.DoChop, Parts: s.chopped(i), AtC: &at}))
		}
	}
	for i, e := range s.Set.Elements {
		if e.CopyOf >= 0 {
			s.made[i] = s.made[e.CopyOf]
		}
	}
}

// chopped are the parts that are chopped from one bar: those of blocks that are drawn out with another come from there.
func (s *stepper) chopped(i int) (ids []string) {
	for k, e := range s.Set.Elements {
		if s.Set.Origin(k) == i && (s.copyOf[e.Block] < 0 || s.Set.Blocks[e.Block].Scale == 0) {
			ids = append(ids, s.Set.ID(k))
		}
	}
	return ids
}

// makingOrder lists the distinct parts: wraps last, else the part whose band ends lowest first.
func (s *stepper) makingOrder() []int {
	var order []int
	for i, e := range s.Set.Elements {
		if e.CopyOf < 0 {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := s.Set.Elements[order[a]], s.Set.Elements[order[b]]
		if x.Fit.Closed() != y.Fit.Closed() {
			return y.Fit.Closed()
		}
		return s.Windows.Parts[order[a]].Window.High < s.Windows.Parts[order[b]].Window.High-0.05
	})
	return order
}

// isTurned tells whether an element or one of its copies was found to need turning.
func (s *stepper) isTurned(i int) bool {
	for j, m := range s.turns {
		if m > 0 && s.Set.Origin(j) == i {
			return true
		}
	}
	return false
}

// lay adds the steps of one block. A block that is built with an earlier one has none: the steps of that one cover it.
func (s *stepper) lay(b int) {
	m, name := s.Shop.Minutes, s.Set.Name(b)
	if a := s.copyOf[b]; a >= 0 {
		s.cover(b, a)
		return
	}
	last, there := s.divided, 0.0
	for _, e := range s.Build.Blocks[b] {
		if e.Turn != 0 && e.Move != build.First {
			turn := plan.Step{Do: plan.DoTurn, Parts: []string{name}, TurnDeg: plan.Num(e.Turn), MassG: plan.Num(there), AtC: s.heatOf(s.Build.Blocks[b][0].Part)}
			minutes, hands := m.Turned(there / 1000)
			last = s.add(minutes, hands, []int{last}, step(turn))
		}
		there += s.weight(e.Part)
		needs := []int{last}
		minutes, hands, st := s.move(e)
		st.AtC = s.heatOf(e.Part)
		if st.Block = name; e.Stands != stand.Free {
			st.Stands = plan.Stands(e.Stands.String())
		}
		if e.Element >= 0 {
			needs = append(needs, s.made[e.Element])
			if s.turns != nil {
				minutes += m.TurnPart * math.Floor(s.turns[e.Element])
			}
		} else {
			needs = append(needs, s.ended[e.Block])
		}
		last = s.add(minutes, hands, needs, step(st))
		if e.Element >= 0 {
			s.laid[e.Element] = last
		} else {
			s.joined[e.Block] = last
		}
	}
	s.built[b] = last
	ids := []string{name}
	for c, a := range s.copyOf {
		if a == b {
			ids = append(ids, s.Set.Name(c))
		}
	}
	if n := len(ids); n > 1 {
		minutes, hands := m.Chop*float64(n), 1
		if s.Set.Blocks[b].Scale > 0 {
			minutes, hands = minutes+m.DrawnOut(n), 2
		}
		last = s.add(minutes, hands, []int{last}, step(plan.Step{Do: plan.DoChop, Parts: ids, AtC: s.heatOf(build.Part{Element: -1, Block: b})}))
	}
	s.ended[b] = last
}

// cover has the steps of block a stand for those of b, which is built with it.
func (s *stepper) cover(b, a int) {
	s.built[b], s.ended[b] = s.built[a], s.ended[a]
	left := slices.Clone(s.Set.Blocks[b].Elements)
	for _, o := range s.Set.Blocks[a].Elements {
		k := slices.IndexFunc(left, func(e int) bool { return s.Set.Origin(e) == s.Set.Origin(o) })
		e := left[k]
		left = slices.Delete(left, k, k+1)
		s.laid[e] = s.laid[o]
		st := &s.chores[s.laid[o]].Step
		st.Covers = append(st.Covers, s.Set.ID(e))
	}
}

// heatOf is the heat at which a part, or the parts of a block, are laid.
func (s *stepper) heatOf(p build.Part) *plan.Num {
	if p.Element >= 0 {
		return degrees(s.Windows.Parts[p.Element].LayC)
	}
	return degrees(s.Windows.Parts[s.Set.Inside(p.Block)[0]].LayC)
}

// twoLayKg is from when two lay a part together; set, no source.
const twoLayKg = 2.5

// move is the minutes, the hands and the step of one lay-up entry.
func (s *stepper) move(e build.Entry) (minutes float64, hands int, st plan.Step) {
	m := s.Shop.Minutes
	hands = 1
	if s.weight(e.Part) > 1000*twoLayKg {
		hands = 2
	}
	st = plan.Step{Do: plan.DoLay, Parts: []string{PartID(s.Set, e.Part)}, How: plan.How(e.Move.String())}
	switch e.Move {
	case build.Bend:
		st.Do = plan.DoBend
		return s.placing(e.Part), hands, st
	case build.Fold:
		st.Do = plan.DoFold
		return s.placing(e.Part) + m.Turn, 2, st
	case build.Wrap:
		st.Do = plan.DoWrap
		return s.placing(e.Part), 2, st
	case build.Roll:
		st.Do = plan.DoRoll
		return m.Roll, 2, st
	}
	return s.placing(e.Part), hands, st
}

// placing is the minutes of putting a part, or a block, in its place.
func (s *stepper) placing(p build.Part) float64 {
	var f recipe.Fit
	if p.Element >= 0 {
		f = s.Set.Elements[p.Element].Fit
	}
	return s.Shop.Minutes.Place(f, s.weight(p))
}

// weight of a part, or of all parts of a block, grams.
func (s *stepper) weight(p build.Part) (grams float64) {
	if p.Element >= 0 {
		return s.grams(p.Element)
	}
	for _, i := range s.Set.Inside(p.Block) {
		grams += s.grams(i)
	}
	return grams
}

// PartID is the id of what one entry of a lay-up lays.
func PartID(of *set.Set, p build.Part) string {
	if p.Element >= 0 {
		return of.ID(p.Element)
	}
	return of.Name(p.Block)
}
