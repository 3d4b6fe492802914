package say_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/render/say"
	"sugarwright/render/words"
)

// Every fact of every plan is said in every language, with nothing left open.
func TestEverythingIsSaid(t *testing.T) {
	done := map[plan.Do]int{}
	for _, name := range golden.Names(t) {
		p := golden.Plan(t, name)
		for _, code := range words.Codes() {
			table, _ := words.In(code)
			said := func(text string) {
				assert.NotEmpty(t, text, name)
				assert.NotRegexp(t, `[{}]|%!`, text, name)
			}
			speaker := say.In(table)
			for _, st := range p.Steps {
				done[st.Do]++
				said(speaker.Step(p, st))
			}
			for _, s := range p.GoingHard {
				said(speaker.Shortcut(p, s))
			}
			for _, c := range p.Changes {
				said(speaker.Change(p, c))
			}
			for _, f := range p.Findings {
				message, _ := speaker.Finding(p, f)
				said(message)
				if table.Code == "en" {
					assert.Equal(t, f.Message, message, "as the file says it")
				}
			}
			for _, c := range speaker.Cautions() {
				said(c)
			}
			if p.Clock != nil {
				said(table.Say(say.CloseBy(p)))
			}
		}
	}
	for _, do := range []plan.Do{plan.DoMake, plan.DoLay, plan.DoWrap, plan.DoRound, plan.DoDraw, plan.DoCut} {
		assert.Positive(t, done[do], do)
	}
}

// Turns are said as hands know them.
func TestTurned(t *testing.T) {
	en := words.English()
	over, left, right := en.Say(say.Turned(180)), en.Say(say.Turned(90)), en.Say(say.Turned(-90))
	assert.Equal(t, over, en.Say(say.Turned(-180)))
	assert.NotEqual(t, over, left)
	assert.NotEqual(t, left, right)
	assert.Contains(t, left, "90")
	assert.Equal(t, "part 3", en.Say(say.Parts([]string{"p3"})))
	assert.Equal(t, "parts 3, 5 and 6", en.Say(say.Parts([]string{"p3", "p5", "p6"})))
}

// A finding that this program has no words for is said in the file's own sentence; so is one that does not name all that
// its words need.
func TestFindingOfAnother(t *testing.T) {
	p := golden.Plan(t, "orchard-apple")
	for _, code := range words.Codes() {
		table, _ := words.In(code)
		for _, f := range []plan.Finding{
			{Code: "from-later", Message: "a sentence"},
			{Code: "no-schedule", Message: "a sentence"},
			{Code: "nothing-passes", Values: []any{"from-later", 1.0}, Message: "a sentence"},
			{Code: "too-thin", Message: "a sentence"},
		} {
			message, advice, advises := say.Finding(table, p, f)
			assert.Equal(t, "a sentence", table.Say(message), f.Code)
			assert.False(t, advises, advice)
		}
	}
}

// Steps that cannot follow each other, and what would free them, are said from their labels.
func TestNoSchedule(t *testing.T) {
	p := golden.Plan(t, "orchard-apple")
	f := plan.Finding{
		Code:   "no-schedule",
		Values: []any{2.5, []any{"make 3", "lay block1", "pour", "lay log"}, []any{"hands 3", "warm", "without 5"}},
	}
	for _, code := range words.Codes() {
		table, _ := words.In(code)
		message, advice, advises := say.Finding(table, p, f)
		assert.True(t, advises)
		said := table.Say(message) + table.Say(advice)
		assert.NotRegexp(t, `[{}]`, said)
		for _, want := range []string{"3", "1", "5"} {
			assert.Contains(t, said, want)
		}
	}
}

// Every kind of change has its words, in every language.
func TestChanges(t *testing.T) {
	kinds := []plan.ChangeKind{plan.Bolder, plan.LeftOut, plan.Larger, plan.Merged, plan.Plainer, plan.Even}
	for _, code := range words.Codes() {
		table, _ := words.In(code)
		said := map[string]bool{}
		for _, k := range kinds {
			for _, gap := range []bool{false, true} {
				for _, to := range []string{"", "blue"} {
					text := table.Say(
						say.Change(
							plan.Change{
								Kind:     k,
								Gap:      gap,
								Colour:   "red",
								To:       to,
								BeforeMM: 2,
								AfterMM:  4,
								Places:   []plan.Point{{1, 2}},
							},
						),
					)
					assert.NotRegexp(t, `[{}]`, text)
					said[text] = true
				}
			}
		}
		assert.GreaterOrEqual(t, len(said), len(kinds), code)
	}
}
