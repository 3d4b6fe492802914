package terminal_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// The reply has what an enquiry needs: how many at least, the price where the shop has figures, and what is still to be told.
func TestReply(t *testing.T) {
	p := golden.Plan(t, "orchard-apple")
	require.Equal(t, plan.AsDrawn, p.Verdict)
	o := *p.Order
	p.Order, p.Job = &o, nil
	reply := func() string { return terminal.Reply(p, words.English()) }
	o.Wanted, o.Logs, o.Price = 0, 1, nil
	assert.Contains(t, reply(), "the smallest about")
	assert.NotContains(t, reply(), "comes to")
	assert.Contains(t, reply(), "tell us how many you want, by when and which flavour.")
	o.Wanted = 30
	p.Job = &plan.Job{Flavour: "pear"}
	assert.Contains(t, reply(), "more than the 30 that you want")
	assert.Contains(t, reply(), "tell us by when.")
	o.Wanted = 1 << 20
	o.Price = &plan.Price{Currency: "EUR", Low: 120.4, High: 159.6}
	p.Job.Date = "2999-01-02"
	assert.Contains(t, reply(), "It comes to between 120 and 160 EUR.")
	assert.NotContains(t, reply(), "tell us")
	o.Price.Low = -1
	assert.NotContains(t, reply(), "comes to")
}
