// Package say turns the facts of a plan into phrases: its steps, changes, findings, and what a person is told beside
// them.
//
// Guarantees: a phrase is said from the plan alone, so a plan file that was read back says the same; every language has
// words for each.
package say

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sugarwright/geom/finding"

	"sugarwright/planner/plan"
	"sugarwright/render/words"
)

// Step of the work.
func Step(p *plan.Plan, st plan.Step) words.Phrase {
	alone := ""
	if p.Shop.Crew == 1 {
		alone = "_alone"
	}
	switch st.Do {
	case plan.DoDivide:
		return words.P("step.divide", st.Lumps)
	case plan.DoColour, plan.DoPull:
		return lump(p, st)
	case plan.DoKeep:
		return keep(st, alone)
	case plan.DoMake:
		return making(p, st)
	case plan.DoChop:
		if e := p.Index().Element(st.Parts[0]); e != nil {
			return words.P("step.chop", e.Number, len(st.Parts))
		}
		b := p.Index().Block(st.Parts[0])
		if b.Scale > 0 {
			return words.P("step.draw_out", Block(p, b.Block), words.Number{Value: float64(b.Scale)}, len(st.Parts))
		}
		return words.P("step.long_block", Block(p, b.Block), len(st.Parts))
	case plan.DoTurn:
		out := words.P("step.turn", Block(p, st.Parts[0]), turn("turn", st.TurnDeg))
		if st.Hands > 1 {
			out = out.And(words.P("step.turn_two"))
		}
		return out
	case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll:
		return laying(p, st)
	case plan.DoRound:
		return words.P("step.round" + alone)
	case plan.DoDraw:
		return words.P("step.draw", words.Number{Value: float64(p.Piece.DiameterMM)})
	case plan.DoCut:
		return words.P("step.cut", words.Number{Value: float64(p.Piece.LengthMM)})
	}
	return words.P("step." + string(st.Do))
}

// lump is coloured, or pulled: all at once, or in loads.
func lump(p *plan.Plan, st plan.Step) words.Phrase {
	name := words.Name(p.Index().Colour(st.Colour).Name)
	key := "step." + string(st.Do)
	if st.Do == plan.DoPull && st.Hands == 0 {
		key += "_machine"
	}
	out := words.P(key, name)
	if st.Loads > 1 {
		out = out.And(words.P("step.load", st.Load, st.Loads))
	}
	return out
}

// keep is what is kept warm: everything, parts that are laid warmer than the rest, or the log.
func keep(st plan.Step, alone string) words.Phrase {
	switch {
	case len(st.Parts) == 0:
		return words.P("step.keep")
	case st.Parts[0] == "log":
		return words.P("step.keep_log" + alone)
	}
	return words.P("step.warmer", Parts(st.Parts))
}

func making(p *plan.Plan, st plan.Step) words.Phrase {
	out := words.P("step.make", Part(p, st.Parts[0]))
	if e := p.Index().Element(st.Parts[0]); e != nil {
		if n := p.Index().Pieces(e); n > 1 {
			out = out.And(words.P("step.long_enough", n))
		}
	}
	if st.Place > 0 {
		out = out.And(words.P("step.place", st.Place))
	}
	if st.TurnIt {
		out = out.And(words.P("step.turn_it"))
	}
	if st.WithinMin != nil {
		out = out.And(words.P("step.within", words.Number{Value: math.Max(1, math.Floor(float64(*st.WithinMin)))}))
	}
	return out
}

func laying(p *plan.Plan, st plan.Step) words.Phrase {
	what := Part(p, st.Parts[0])
	out := words.P("step."+string(st.Do), what)
	if st.How == plan.First {
		out = words.P("step.first", Block(p, st.Block), what)
	} else if was := laidBefore(p, st); was != "" && was != st.Block {
		out = out.And(words.P("step.to", Block(p, st.Block)))
	}
	if e := p.Index().Element(st.Parts[0]); e != nil && e.Mirrored {
		out = out.And(words.P("step.end_for_end"))
	}
	if st.Stands != "" {
		out = out.And(words.P("step.stands_" + string(st.Stands)))
	}
	return out
}

// laidBefore is the block to which the last part before a step went.
func laidBefore(p *plan.Plan, st plan.Step) (block string) {
	for _, o := range p.Steps {
		if o.Number >= st.Number {
			break
		}
		if o.Block != "" {
			block = o.Block
		}
	}
	return block
}

// Part names an element with its form and its colour, or a block.
func Part(p *plan.Plan, id string) words.Phrase {
	e := p.Index().Element(id)
	if e == nil {
		return Block(p, id)
	}
	word := Form(e.Form, e.Bent)
	if p.Index().RolledUp(e.Block) {
		word = words.P("form.sheet")
	}
	return words.P("part.named", e.Number, word, words.Name(p.Index().Colour(e.Colour).Name))
}

// Form in the kitchen's words.
func Form(f plan.Form, bent bool) words.Phrase {
	if bent {
		return words.P("form.bent")
	}
	return words.P("form." + string(f))
}

// Block names a block, or the log.
func Block(p *plan.Plan, name string) words.Phrase {
	if p.Index().IsLog(name) {
		return words.P("part.log")
	}
	return words.P("part.block", strings.TrimPrefix(name, "block"))
}

// Parts says "part 3" or "parts 3, 5 and 6" of ids.
func Parts(ids []string) words.Phrase {
	var out words.All
	for _, id := range ids {
		out = append(out, strings.TrimPrefix(id, "p"))
	}
	if len(out) == 1 {
		return words.P("part.one", out)
	}
	return words.P("part.several", out)
}

// Turned says how far something is turned, in few words.
func Turned(deg float64) words.Phrase { return turn("pictures", plan.Num(deg)) }

func turn(section string, deg plan.Num) words.Phrase {
	switch d := float64(deg); {
	case math.Abs(math.Abs(d)-180) < 1:
		return words.P(section + ".over")
	case d > 0:
		return words.P(section+".left", words.Number{Value: d})
	default:
		return words.P(section+".right", words.Number{Value: -d})
	}
}

// Shortcut is what may be left out or made as one when it is going hard.
func Shortcut(p *plan.Plan, s plan.Shortcut) words.Phrase {
	x := p.Index()
	e, n := x.Element(s.Parts[0]), x.Element(s.Parts[1])
	name := func(e *plan.Element) words.Name { return words.Name(x.Colour(e.Colour).Name) }
	if s.Do == plan.Merge {
		return words.P("hard.merge", e.Number, n.Number, name(e), Form(s.Form, s.Bent))
	}
	return words.P("hard.leave_out", e.Number, name(e), n.Number, name(n), Form(s.Form, s.Bent))
}

// Hard is what may be left out when the sugar goes hard, by when, and what then holds at any time.
func Hard(p *plan.Plan) (out []words.Phrase) {
	for _, x := range p.GoingHard {
		out = append(out, words.P("hard.before", x.Step, words.Number{Value: math.Floor(float64(x.UntilMin) + 1e-6)},
			Shortcut(p, x), words.Number{Value: float64(x.SavesMin), Digits: 1}))
	}
	if len(out) == 0 {
		out = append(out, words.P("hard.none"))
	}
	return append(out, words.P("hard.stop"))
}

// Change that was made to the client's drawing, in the shop's words.
func Change(c plan.Change) words.Phrase {
	what, to := words.Name(c.Colour), words.Name(c.To)
	before, after := words.Number{
		Value:  float64(c.BeforeMM),
		Digits: 1,
	}, words.Number{
		Value:  float64(c.AfterMM),
		Digits: 1,
	}
	var out words.Phrase
	switch {
	case c.Kind == plan.Bolder && c.Gap:
		out = words.P("change.gap_opened", before, after)
	case c.Kind == plan.Bolder:
		out = words.P("change.bolder", what, before, after)
	case c.Kind == plan.Larger:
		out = words.P("change.larger", what, before, after)
	case c.Kind == plan.LeftOut && c.Gap:
		out = words.P("change.gap_closed", before, to)
	case c.Kind == plan.LeftOut && to == what:
		out = words.P("change.dropped_beside", what, before)
	case c.Kind == plan.LeftOut:
		out = words.P("change.dropped", what, before, to)
	case c.Kind == plan.Merged && to == what:
		out = words.P("change.shade", what)
	case c.Kind == plan.Merged:
		out = words.P("change.merged", what, to)
	case c.Kind == plan.Plainer && c.Gap:
		out = words.P("change.gap_plainer")
	case c.Kind == plan.Plainer:
		out = words.P("change.plainer", what)
	case c.Kind == plan.Even:
		out = words.P("change.even")
	default: // what reading did
		out = words.P("change."+readKey(c), c.Count)
	}
	if n := len(c.Places); n > 1 && !c.Kind.Reading() {
		out = out.And(words.P("change.places", n))
	}
	return out
}

// readKey is the key of what reading changed: for one, or for several.
func readKey(c plan.Change) string {
	if c.Count == 1 {
		return string(c.Kind) + "_one"
	}
	return string(c.Kind)
}

// CloseBy says by when the log must be closed and its last length drawn, and what that presumes.
func CloseBy(p *plan.Plan) words.Phrase {
	c := p.Clock
	whole := func(m plan.Num) words.Number { return words.Number{Value: math.Floor(float64(m))} }
	if c.CloseByMin < c.ClosedMin {
		return words.P("close.late", whole(c.ClosedMin), whole(c.DrawnMin), whole(c.LastLengthByMin), words.Number{Value: float64(c.DoubtC)})
	}
	return words.P("close.by", whole(c.CloseByMin), whole(c.ClosedMin), whole(c.LastLengthByMin), words.Number{Value: float64(c.DoubtC)})
}

// Dents says for how long a closed log can still be worked, by how far a peg sinks into it.
func Dents(c *plan.Clock) words.Phrase {
	out := words.P("close.dent")
	for i, d := range c.Dents {
		key := "close.dent_next"
		if i == 0 {
			key = "close.dent_first"
		}
		out = out.And(words.P(key, words.Number{Value: float64(d.DentMM), Digits: DentDigits(d)}, words.Number{Value: math.Floor(float64(d.Minutes))}))
	}
	return out.And(words.P("close.dent_end"))
}

// DentDigits are the decimals of a dent.
func DentDigits(d plan.Dent) int {
	if v := float64(d.DentMM); v != math.Floor(v) {
		return 1
	}
	return 0
}

// Slower says whether the plan holds if every step takes longer, and if not, what comes too late.
func Slower(p *plan.Plan) words.Phrase {
	c := p.Clock
	percent := words.Number{Value: float64(c.Slower.Percent)}
	if c.Slower.Holds {
		return words.P("close.holds", percent)
	}
	var late words.Phrase
	for _, st := range p.Steps {
		if st.Number == c.Slower.Step {
			late = doing(p, st)
		}
	}
	return words.P("close.breaks", percent, late, words.Number{Value: math.Max(1, math.Ceil(float64(c.Slower.LateMin)))})
}

// doing is a step in a word or two.
func doing(p *plan.Plan, st plan.Step) words.Phrase {
	if len(st.Parts) == 0 {
		return words.P("do." + string(st.Do))
	}
	what := Block(p, st.Parts[0])
	if e := p.Index().Element(st.Parts[0]); e != nil {
		what = words.P("part.one", strconv.Itoa(e.Number))
	}
	return words.P("do."+string(st.Do)+"_part", what)
}

// Cautions stand on every working sheet, in this order; they defer to food law and trained practice.
func Cautions() []words.Phrase {
	var out []words.Phrase
	for _, k := range []string{"sticks", "burn", "gloves", "spit", "eaten", "law"} {
		out = append(out, words.P("caution."+k))
	}
	return out
}

// Finding is what a finding says, and what it advises; ok is false where it advises nothing.
func Finding(t *words.Table, p *plan.Plan, f plan.Finding) (message, advice words.Phrase, advises bool) {
	key := f.Code
	if f.Case != "" {
		key += "_" + f.Case
	}
	args := f.Values
	if !fits(t, key, f) { // of a newer program: its own sentences, as the file has them
		return words.P("part.plain", f.Message), words.P("part.plain", f.Suggestion), f.Suggestion != ""
	}
	switch f.Code {
	case string(finding.NoSchedule):
		args = []any{f.Values[0], labels(f.Values[1]), frees(f.Values[2])}
	case string(finding.TooLong):
		args = append(slices.Clone(f.Values[:5]), frees(f.Values[5]))
	case string(finding.GoesHard):
		if n := len(f.Values); n > 3 {
			if _, isList := f.Values[3].([]any); isList {
				args = append(slices.Clone(f.Values[:3]), frees(f.Values[3]))
			}
		}
	case string(finding.NothingPasses):
		if len(f.Values) > 0 && f.Case != "kept" {
			args = []any{words.Phrase{Key: "finding." + text(f.Values[0]), Args: f.Values[1:]}}
		}
	case string(finding.Simplified):
		args = []any{f.Values[0], change(p, f.Values[0])}
	}
	advice = words.Phrase{Key: "advice." + key, Args: args}
	return words.Phrase{Key: "finding." + key, Args: args}, advice, t.Has(advice.Key)
}

// fits tells whether a table has a finding's words, and the finding all that they name.
func fits(t *words.Table, key string, f plan.Finding) bool {
	n := len(f.Values)
	switch {
	case f.Code == string(finding.NoSchedule) && n < 3, f.Code == string(finding.TooLong) && n < 6:
		return false
	case f.Code == string(finding.NothingPasses) && n > 0 && f.Case != "kept":
		n = 1 // the rest is what the one that stands in the way names
		if !t.Fits("finding."+text(f.Values[0]), len(f.Values)-1) {
			return false
		}
	case f.Code == string(finding.Simplified) && n > 0:
		n = 2
	}
	return t.Fits("finding."+key, n) && (!t.Has("advice."+key) || t.Fits("advice."+key, n))
}

// change of a number; the number itself where the plan does not list it.
func change(p *plan.Plan, number any) any {
	n, _ := number.(float64)
	for _, c := range p.Changes {
		if c.Number == int(n) {
			return Change(c)
		}
	}
	return number
}

func text(v any) string {
	s, _ := v.(string)
	return s
}

// labels are steps as a finding names them: "make 3", "lay block1", "pour".
func labels(v any) words.Phrase {
	list, _ := v.([]any)
	var out []words.Phrase
	for _, x := range list {
		do, what, _ := strings.Cut(text(x), " ")
		switch _, err := strconv.Atoi(what); {
		case what == "":
			out = append(out, words.P("do."+do))
		case err == nil:
			out = append(out, words.P("do."+do+"_part", words.P("part.one", what)))
		case what == "log":
			out = append(out, words.P("do."+do+"_part", words.P("part.log")))
		default:
			out = append(out, words.P("do."+do+"_part", words.P("part.block", strings.TrimPrefix(what, "block"))))
		}
	}
	return joined("do.then", out)
}

// frees are ways out as a finding names them: "hands 3", "warm", "without 5".
func frees(v any) words.Phrase {
	list, _ := v.([]any)
	var out []words.Phrase
	for _, x := range list {
		f := strings.Fields(text(x))
		var args []any
		for _, a := range f[1:] {
			_, digits, _ := strings.Cut(a, ".")
			if v, err := strconv.ParseFloat(a, 64); err == nil {
				args = append(args, words.Number{Value: v, Digits: len(digits)})
			} else {
				args = append(args, a)
			}
		}
		out = append(out, words.Phrase{Key: "free." + f[0], Args: args})
	}
	return joined("free.either", out)
}

// joined says phrases one after the other, by a key that has places for two.
func joined(key string, list []words.Phrase) words.Phrase {
	if len(list) == 0 {
		return words.P("free.nothing")
	}
	out := list[0]
	for _, p := range list[1:] {
		out = words.P(key, out, p)
	}
	return out
}

// In is a speaker of one language, for the plan file.
func In(t *words.Table) plan.Speaker { return speaker{t} }

type speaker struct{ t *words.Table }

func (s speaker) Step(p *plan.Plan, st plan.Step) string        { return s.t.Say(Step(p, st)) }
func (s speaker) Shortcut(p *plan.Plan, x plan.Shortcut) string { return s.t.Say(Shortcut(p, x)) }
func (s speaker) Change(_ *plan.Plan, c plan.Change) string     { return s.t.Say(Change(c)) }
func (s speaker) Finding(p *plan.Plan, f plan.Finding) (a, b string) {
	message, advice, advises := Finding(s.t, p, f)
	if advises {
		b = s.t.Say(advice)
	}
	return s.t.Say(message), b
}

func (s speaker) Cautions() []string {
	var out []string
	for _, c := range Cautions() {
		out = append(out, s.t.Say(c))
	}
	return out
}
