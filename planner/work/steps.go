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
	also *plan.Step
	then []plan.Step
}

// Heat of the boil on the slab, degrees: as it is poured; when it is cut apart and coloured, 0.05 to 0.5 kPa s; when it hangs
// on the hook without running; derived from viscosity. And the longest that it may take to the hook.
const (
	pouredC     = 143
	apartC      = 95
	hookC       = 75
	mostCoolMin = 25
)

// stepper collects the steps of the work: what is prepared, made, laid, finished.
type stepper struct {
	Task
	problem schedule.Problem
	chores  []chore
	turns   []float64 // by element: minutes for which it is turned each minute; nil when that is not known yet
	hands   []int     // by step: the hands that it would have if the crew were large enough
	makes   []int     // by element that is no copy: the step that makes it
	cool    []float64 // minutes from the pour until lumps are cut apart, and pulled
	divided int
	ready   func(colour int) int // the step after which a lump can be formed
	made    []int                // by element: the step after which it, or its original, is at hand
	laid    []int                // by element: the step that lays it
	built   []int                // by block: the step that lays its last part
	ended   []int                // by block: the step after which it can be laid
	joined  []int                // by block: the step that lays it
	copyOf  []int                // by block: the block that it is made with, or -1
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
	}
	s.cool = t.Shop.Slab.Cooling(t.kg(-1), pouredC, []float64{apartC, hookC})
	for i, c := range s.cool {
		s.cool[i] = math.Min(c, mostCoolMin) // what is longer has a finding
	}
	start := s.prepare()
	s.make()
	for b := range t.Build.Blocks {
		s.lay(b, start)
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

// prepare is the work on the slab before parts are made; it returns the last step of it.
func (s *stepper) prepare() int {
	m := s.Shop.Minutes
	pour := s.add(m.Poured(s.kg(-1)), 2, nil, step(plan.Step{Do: plan.DoPour}))
	turnedIn := s.add(s.cool[0], 1, []int{pour}, step(plan.Step{Do: plan.DoTurnIn}))
	colours, colouring, pulled := 0, 0.0, 0.0
	for i, c := range s.Map.Colours {
		if c.Area > 0 {
			colours++
			colouring += m.Coloured(s.kg(i))
			if s.Palette.Pulled(i) {
				pulled += s.kg(i)
			}
		}
	}
	if s.Extras {
		s.chores[pour].then = []plan.Step{{Do: plan.DoFlavour}}
	}
	minutes := colouring / float64(min(2, s.Shop.Crew))
	apart, hook := plan.Num(apartC), plan.Num(hookC)
	s.divided = s.add(minutes, 2, []int{turnedIn}, step(plan.Step{Do: plan.DoDivide, Lumps: colours, AtC: &apart}))
	start := s.divided
	if pulled > 0 {
		minutes, hands := m.Pulled(pulled, s.Shop.Crew)
		start = s.add(minutes, hands, []int{s.divided}, step(plan.Step{Do: plan.DoPull, AtC: &hook}))
		s.problem.After(pour, start, s.cool[1])
	}
	s.ready = func(colour int) int {
		if s.Palette.Pulled(colour) {
			return start
		}
		return s.divided
	}
	if keep := s.Windows.KeepC; keep > 0 {
		at := plan.Num(keep)
		then := []plan.Step{{Do: plan.DoKeep, AtC: &at}}
		if hot, ids := s.warmer(); len(ids) > 0 {
			at := plan.Num(hot)
			then = append(then, plan.Step{Do: plan.DoKeep, Parts: ids, AtC: &at})
		}
		s.chores[start].then = then
	}
	return start
}

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
		k := s.add(m.Make(e.Fit.Recipe, thick*s.grams(i), s.LengthMM, pieces[i]), 1, []int{s.ready(e.Colour)}, step(st))
		if !e.Fit.Closed() {
			s.problem.Tasks[k].Key = part.Window.High
		}
		s.makes[i], s.made[i] = k, k
		if n := pieces[i]; n > 1 && apart[i] {
			s.made[i] = s.add(m.Chop*float64(n), 1, []int{k},
				step(plan.Step{Do: plan.DoChop, Parts: s.chopped(i)}))
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
func (s *stepper) lay(b, start int) {
	m, name := s.Shop.Minutes, s.Set.Name(b)
	if a := s.copyOf[b]; a >= 0 {
		s.cover(b, a)
		return
	}
	last := start
	for _, e := range s.Build.Blocks[b] {
		if e.Turn != 0 && e.Move != build.First {
			turn := plan.Step{Do: plan.DoTurn, Parts: []string{name}, TurnDeg: plan.Num(e.Turn)}
			last = s.add(m.Turn, 1, []int{last}, step(turn))
		}
		needs := []int{last}
		minutes, hands, st := s.move(e)
		if st.Block = name; e.Stands != stand.Free {
			st.Stands = plan.Stands(e.Stands.String())
		}
		if e.Element >= 0 {
			needs = append(needs, s.made[e.Element])
			t := plan.Num(s.Windows.Parts[e.Element].LayC)
			st.AtC = &t
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
		last = s.add(minutes, hands, []int{last}, step(plan.Step{Do: plan.DoChop, Parts: ids}))
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

// move is the minutes, the hands and the step of one lay-up entry.
func (s *stepper) move(e build.Entry) (minutes float64, hands int, st plan.Step) {
	m := s.Shop.Minutes
	st = plan.Step{Do: plan.DoLay, Parts: []string{PartID(s.Set, e.Part)}, How: plan.How(e.Move.String())}
	switch e.Move {
	case build.Bend:
		st.Do = plan.DoBend
		return s.placing(e.Part), 1, st
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
	return s.placing(e.Part), 1, st
}

// placing is the minutes of putting a part, or a block, in its place.
func (s *stepper) placing(p build.Part) float64 {
	m := s.Shop.Minutes
	if p.Element >= 0 {
		return m.Place(s.Set.Elements[p.Element].Fit, s.grams(p.Element))
	}
	grams := 0.0
	for _, i := range s.Set.Inside(p.Block) {
		grams += s.grams(i)
	}
	return m.Place(recipe.Fit{}, grams)
}

// PartID is the id of what one entry of a lay-up lays.
func PartID(of *set.Set, p build.Part) string {
	if p.Element >= 0 {
		return of.ID(p.Element)
	}
	return of.Name(p.Block)
}

// finish adds what follows the last laying: rolling round, drawing down while the log is kept round and warm, cutting.
func (s *stepper) finish() {
	m := s.Shop.Minutes
	log := []string{"log"}
	s.round = s.add(m.Rounded(s.kg(-1)), 2, []int{s.ended[len(s.ended)-1]}, step(plan.Step{Do: plan.DoRound, Parts: log}))
	s.draw = s.add(m.Drawn(s.kg(-1), s.StickMM, s.Shop.AirC), 2, []int{s.round},
		chore{Step: plan.Step{Do: plan.DoDraw}, also: &plan.Step{Do: plan.DoKeep, Parts: log}})
	cut := s.add(s.Pieces/m.CutPieces, 1, []int{s.draw}, step(plan.Step{Do: plan.DoCut}))
	if s.Packed {
		s.chores[cut].then = []plan.Step{{Do: plan.DoPack}}
	}
}
