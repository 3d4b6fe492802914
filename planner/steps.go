package planner

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"sugarwright/planner/build"
	"sugarwright/planner/form"
	"sugarwright/planner/plan"
	"sugarwright/planner/schedule"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/words"
)

// chore is a step before it has a time. Also is done at the same time by one pair of its hands; then is said when it has ended, and takes no time.
type chore struct {
	do    string
	parts []string
	at    *plan.Num
	say   words.Phrase
	also  *chore
	then  []chore
}

// stepper collects the steps of the work: what is prepared, made, laid, finished.
type stepper struct {
	w       *work
	problem schedule.Problem
	jobs    []chore
	hands   []int // by step: the hands that it would have if the crew were large enough
	makes   []int // by element that is no copy: the step that makes it
	made    []int // by element: the step after which it, or its original, is at hand
	laid    []int // by element: the step that lays it
	built   []int // by block: the step that lays its last part
	ended   []int // by block: the step after which it can be laid
	joined  []int // by block: the step that lays it
	copyOf  []int // by block: the block that it is made with, or -1
	round   int
	draw    int
}

func (s *stepper) add(minutes float64, hands int, needs []int, j chore) int {
	s.problem.Tasks = append(s.problem.Tasks, schedule.Task{Minutes: minutes, Hands: min(hands, s.w.o.Shop.Crew), Key: math.Inf(1)})
	s.jobs, s.hands = append(s.jobs, j), append(s.hands, hands)
	k := len(s.jobs) - 1
	for _, n := range needs {
		s.problem.After(n, k, 0)
	}
	return k
}

// busiest is the place of the picture that takes most minutes to make and lay: an area of one colour or, where that is the ground, a block.
func (w *work) busiest() (at [2]float64, parts int, minutes float64) {
	type tally struct {
		at      [2]float64
		area    float64
		parts   int
		minutes float64
	}
	by := map[[2]int]*tally{}
	var order []*tally
	for i, e := range w.set.Elements {
		if e.Kind == set.Jacket || e.Kind == set.Ground {
			continue
		}
		key := [2]int{e.Block, e.Colour}
		t := by[key]
		if t == nil {
			t = &tally{}
			by[key] = t
			order = append(order, t)
		}
		t.parts++
		t.minutes += w.o.Shop.Minutes.Lay
		if e.CopyOf < 0 {
			t.minutes += w.makeMinutes(e.Fit.Form)
		}
		if a := w.set.Elements[i].True.Area(); a > t.area {
			t.area, t.at = a, [2]float64(e.Inside())
		}
	}
	var best tally
	for _, t := range order {
		if t.minutes > best.minutes+1e-9 {
			best = *t
		}
	}
	return best.at, best.parts, best.minutes
}

// prepare is the work on the slab before parts are made; it returns the last step of it.
func (s *stepper) prepare() int {
	w, m := s.w, s.w.o.Shop.Minutes
	pour := s.add(m.Pour, 2, nil, chore{do: "pour", say: words.P("step.pour")})
	colours, pulled := 0, false
	for i, c := range w.m.Colours {
		if c.Area > 0 {
			colours++
			pulled = pulled || w.finish(i).Finish == shop.Pulled
		}
	}
	if j := w.o.Job; j != nil && (j.Acid != "" || j.Flavour != "") || w.o.Shop.AcidPercent > 0 || w.o.Shop.FlavourPercent > 0 {
		s.jobs[pour].then = []chore{{do: "flavour", say: words.P("step.flavour")}}
	}
	start := s.add(m.Colour*math.Ceil(float64(colours)/float64(min(2, w.o.Shop.Crew))), 2, []int{pour},
		chore{do: "divide", say: words.P("step.divide", colours)})
	if pulled {
		start = s.add(m.Pull, 1, []int{start}, chore{do: "pull", say: words.P("step.pull")})
	}
	if w.keepC > 0 {
		at := plan.Num(w.keepC)
		then := []chore{{do: "keep", at: &at, say: words.P("step.keep")}}
		if hot, ids := s.warmer(); len(ids) > 0 {
			at := plan.Num(hot)
			then = append(then, chore{do: "keep", parts: ids, at: &at, say: words.P("step.warmer", partNumbers(ids))})
		}
		s.jobs[start].then = then
	}
	return start
}

// warmerC is how much warmer than the rest a part is laid for its lump to be kept apart.
const warmerC = 2

// warmer lists parts that are laid warmer than what is kept, and the least heat of them.
func (s *stepper) warmer() (hot float64, ids []string) {
	hot = math.Inf(1)
	for i, e := range s.w.set.Elements {
		if c := s.w.parts[i].layC; e.CopyOf < 0 && c > s.w.keepC+warmerC {
			hot = math.Min(hot, c)
			ids = append(ids, s.w.id(i))
		}
	}
	return hot, ids
}

// partNumbers says "part 3" or "parts 3, 5 and 6".
func partNumbers(ids []string) words.Phrase {
	var out words.All
	for _, id := range ids {
		out = append(out, strings.TrimPrefix(id, "p"))
	}
	if len(out) == 1 {
		return words.P("part.one", out)
	}
	return words.P("part.several", out)
}

// make adds a step for each distinct part, that of least heat first, and the chopping of copies. Wraps are rolled out just before they close.
func (s *stepper) make(start int) {
	w, m := s.w, s.w.o.Shop.Minutes
	copies := make([]int, len(w.set.Elements))
	apart := make([]bool, len(w.set.Elements)) // some copy is laid by itself, not chopped with its block
	var order []int
	for i, e := range w.set.Elements {
		if e.CopyOf < 0 {
			order = append(order, i)
			continue
		}
		copies[e.CopyOf]++
		apart[e.CopyOf] = apart[e.CopyOf] || s.copyOf[e.Block] < 0
	}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := w.set.Elements[order[a]], w.set.Elements[order[b]]
		if (x.Fit.Form == form.Wrap) != (y.Fit.Form == form.Wrap) {
			return y.Fit.Form == form.Wrap
		}
		return w.parts[order[a]].window.High < w.parts[order[b]].window.High-0.05
	})
	for _, i := range order {
		e := w.set.Elements[i]
		at := plan.Num(w.parts[i].layC)
		say := words.P("step.make", w.say(build.Part{Element: i, Block: -1}))
		if n := copies[i]; n > 0 {
			say = say.And(words.P("step.long_enough", n+1))
		}
		if w.parts[i].window.Turned {
			say = say.And(words.P("step.turn_it"))
		}
		if limit := s.mayWait(i); limit < watchMin {
			say = say.And(words.P("step.within", words.Number{Value: math.Max(1, math.Floor(limit))}))
		}
		k := s.add(w.makeMinutes(e.Fit.Form), 1, []int{start}, chore{do: "make", parts: []string{w.id(i)}, at: &at, say: say})
		if e.Fit.Form != form.Wrap {
			s.problem.Tasks[k].Key = w.parts[i].window.High
		}
		s.makes[i], s.made[i] = k, k
		if n := copies[i]; n > 0 && apart[i] {
			s.made[i] = s.add(m.Chop*float64(n+1), 1, []int{k}, chore{do: "chop", parts: w.copyIDs(i), say: words.P("step.chop", e.Number, n+1)})
		}
	}
	for i, e := range w.set.Elements {
		if e.CopyOf >= 0 {
			s.made[i] = s.made[e.CopyOf]
		}
	}
}

// copyIDs are the ids of a part and all its copies.
func (w *work) copyIDs(i int) []string {
	ids := []string{w.id(i)}
	for j, c := range w.set.Elements {
		if c.CopyOf == i {
			ids = append(ids, w.id(j))
		}
	}
	return ids
}

// lay adds the steps of one block. A block that is made with an earlier one takes no time of its own; its steps stand for the record.
func (s *stepper) lay(b, start int) {
	w, m := s.w, s.w.o.Shop.Minutes
	last, share := start, 1.0
	var with []words.Phrase
	if a := s.copyOf[b]; a >= 0 {
		last, share = s.ended[a], 0
		with = append(with, words.P("step.done_with", w.blockWords(a)))
	}
	for _, e := range w.build.Blocks[b] {
		if e.Turn != 0 {
			last = s.add(share*m.Turn, 1, []int{last}, chore{do: "turn", parts: []string{w.set.Name(b)},
				say: words.Phrase{Key: "step.turn", Args: []any{w.blockWords(b), turnWords(e.Turn)}, Then: with}})
		}
		needs := []int{last}
		minutes, hands, j := w.move(b, e)
		j.say.Then = append(j.say.Then, with...)
		if e.Element >= 0 {
			needs = append(needs, s.made[e.Element])
			t := plan.Num(w.parts[e.Element].layC)
			j.at = &t
		} else {
			needs = append(needs, s.ended[e.Block])
		}
		last = s.add(share*minutes, hands, needs, j)
		if e.Element >= 0 {
			s.laid[e.Element] = last
		} else {
			s.joined[e.Block] = last
		}
	}
	s.built[b] = last
	ids := []string{w.set.Name(b)}
	for c, a := range s.copyOf {
		if a == b {
			ids = append(ids, w.set.Name(c))
		}
	}
	if n := len(ids); n > 1 {
		last = s.add(m.Chop*float64(n), 1, []int{last}, chore{do: "chop", parts: ids, say: words.P("step.draw_out", w.blockWords(b), n)})
	}
	s.ended[b] = last
}

// finish adds what follows the last laying: rolling round, drawing down while the log is kept round and warm, cutting.
func (s *stepper) finish() {
	m, o := s.w.o.Shop.Minutes, s.w.o.Order
	log := []string{"log"}
	keep := &chore{do: "keep", parts: log, say: words.P("step.keep_log")}
	round := words.P("step.round")
	if s.w.o.Shop.Crew == 1 {
		keep.say, round = words.P("step.keep_log_alone"), words.P("step.round_alone")
	}
	s.round = s.add(m.Round, 2, []int{s.ended[len(s.ended)-1]}, chore{do: "round", parts: log, say: round})
	s.draw = s.add(m.Draw, 2, []int{s.round}, chore{do: "draw", say: words.P("step.draw", words.Number{Value: o.PieceMM}), also: keep})
	cut := s.add(m.Cut, 1, []int{s.draw}, chore{do: "cut", say: words.P("step.cut", words.Number{Value: o.CutMM})})
	if n := len(s.w.want.packs); n > 0 {
		s.jobs[cut].then = []chore{{do: "pack", say: words.P("step.pack")}}
	}
}

// formWords of the kitchen.
var formWords = map[form.Form]words.Phrase{form.Rod: words.P("form.rod"), form.Strip: words.P("form.strip"), form.Bent: words.P("form.bent"),
	form.Block: words.P("form.block"), form.Wedge: words.P("form.wedge"), form.Segment: words.P("form.segment"), form.Teardrop: words.P("form.teardrop"),
	form.Wrap: words.P("form.wrap")}

// id of an element in the plan.
func (w *work) id(e int) string {
	el := w.set.Elements[e]
	if el.CopyOf < 0 {
		return fmt.Sprintf("p%d", el.Number)
	}
	n := 2
	for i := el.CopyOf + 1; i < e; i++ {
		if w.set.Elements[i].CopyOf == el.CopyOf {
			n++
		}
	}
	return fmt.Sprintf("p%d.%d", el.Number, n)
}

func (w *work) partID(p build.Part) string {
	if p.Element >= 0 {
		return w.id(p.Element)
	}
	return w.set.Name(p.Block)
}

// say names a part for a person.
func (w *work) say(p build.Part) words.Phrase {
	if p.Element < 0 {
		return words.P("part.block", strings.TrimPrefix(w.set.Name(p.Block), "block"))
	}
	e := w.set.Elements[p.Element]
	word := formWords[e.Fit.Form]
	if w.set.Blocks[e.Block].Roll {
		word = words.P("form.sheet")
	}
	return words.P("part.named", e.Number, word, words.Name(w.finish(e.Colour).Name))
}

func (w *work) blockWords(b int) words.Phrase {
	if b == len(w.build.Blocks)-1 {
		return words.P("part.log")
	}
	return words.P("part.block", b+1)
}

func turnWords(deg float64) words.Phrase {
	switch {
	case math.Abs(math.Abs(deg)-180) < 1:
		return words.P("turn.over")
	case deg > 0:
		return words.P("turn.left", words.Number{Value: deg})
	}
	return words.P("turn.right", words.Number{Value: -deg})
}

func (w *work) makeMinutes(f form.Form) float64 {
	m := w.o.Shop.Minutes
	return [...]float64{m.MakeRod, m.MakeStrip, m.MakeStrip, m.MakeBlock, m.MakeWedge, m.MakeSegment, m.MakeTeardrop, m.MakeWrap}[f]
}

// move is the minutes, the hands and the words of one lay-up entry.
func (w *work) move(b int, e build.Entry) (minutes float64, hands int, j chore) {
	m := w.o.Shop.Minutes
	j = chore{do: "lay", parts: []string{w.partID(e.Part)}}
	minutes, hands = m.Lay, 1
	what := w.say(e.Part)
	switch e.Move {
	case build.First:
		j.say = words.P("step.first", w.blockWords(b), what)
	case build.Bend:
		j.do, minutes = "bend", m.Bend
		j.say = words.P("step.bend", what)
	case build.Wrap:
		j.do, minutes, hands = "wrap", m.Wrap, 2
		j.say = words.P("step.wrap", what)
	case build.Roll:
		j.do, minutes, hands = "roll", m.Roll, 2
		j.say = words.P("step.roll", what)
	default:
		j.say = words.P("step.lay", what)
	}
	if e.Element >= 0 && w.set.Elements[e.Element].Mirror {
		j.say = j.say.And(words.P("step.end_for_end"))
	}
	return minutes, hands, j
}
