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
				said(table.Say(say.Spare(p.Clock)))
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
