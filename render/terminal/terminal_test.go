package terminal_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

// A finding is file:line:column: severity: message [code].
func TestFinding(t *testing.T) {
	p := golden.Plan(t, "citrus-8-thin")
	for _, f := range p.Findings {
		f.Source = &plan.Source{Line: 7, Column: 3}
		line := terminal.Finding(words.English(), p, "a.svg", f)
		assert.Regexp(t, `^a\.svg:7:3: [A-Za-z]+: .+ \[[a-z-]+\]$`, line)
		assert.Contains(t, line, "["+f.Code+"]")
	}
	assert.NotEmpty(t, p.Findings)
}

// What is said of a plan: its parts and minutes to the maker; to the client no minutes, and nothing of the trade.
func TestLines(t *testing.T) {
	for _, name := range golden.Names(t) {
		p := golden.Plan(t, name)
		for _, s := range printed.Styles(t) {
			cost := terminal.Cost(p, s)
			assert.NotRegexp(t, `[{}]|%!`, cost, name)
			assert.NotEmpty(t, cost, name)
			reply := strings.ToLower(terminal.Reply(p, s.T()))
			assert.NotRegexp(t, `[{}]|%!|minute|jacket|lay-up|mantel`, reply, name)
			assert.Contains(t, terminal.Planned(p, s.T(), "a.svg", "out"), "a.svg")
			assert.Contains(t, terminal.Verdict(p, s.T(), "a.svg"), "a.svg")
			assert.Equal(t, len(p.Changes), strings.Count(terminal.Changes(p, s.T()), "\n"), name)
		}
	}
}

// What a shop's settings come to, measured or not.
func TestShop(t *testing.T) {
	for _, s := range printed.Styles(t) {
		plain := terminal.Shop(plan.ShopFacts{TgC: 35, DefaultTgC: 35, TgPlusMinus: 10, TgFrom: plan.FromMoisture,
			Windows: []plan.ShopWindow{
				{Form: "rod", ThickMM: 12, LowC: 55, HighC: 70},
				{Form: "strip", ThickMM: 5, LowC: 70, HighC: 60},
			}}, s.T())
		assert.NotRegexp(t, `[{}]|%!`, plain)
		tested := terminal.Shop(
			plan.ShopFacts{
				TgC:        33,
				DefaultTgC: 35,
				TgFrom:     plan.FromLumpTest,
				Lump:       &plan.LumpTest{HeightMM: 20, DiameterMM: 40, Minutes: 10, AtC: 70, PaS: 1e5},
				OvalTest:   &plan.OvalTest{WidthMM: 160, HeightMM: 140},
			},
			s.T(),
		)
		assert.NotRegexp(t, `[{}]|%!`, tested)
		assert.NotEqual(t, plain, tested)
	}
}
