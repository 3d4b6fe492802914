package judge_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/judge"
	"sugarwright/planner/plan"
)

// Every plan that is kept is as promised.
func TestGolden(t *testing.T) {
	for _, name := range golden.Names(t) {
		if p := golden.Plan(t, name); p.Verdict == plan.AsDrawn {
			assert.Empty(t, judge.Of(p), name)
		}
	}
}

// P7 from the file alone: rolled forward on another grid the laid shapes come back, and are not the simple squash.
func TestReturn(t *testing.T) {
	planned, squash, err := judge.Return(golden.Plan(t, "orchard-apple"))
	require.NoError(t, err)
	assert.Less(t, planned, 0.1, "percent of the diameter")
	assert.Greater(t, squash, 2*planned)
}

// Each property that is spoilt in a plan is named.
func TestSpoilt(t *testing.T) {
	for property, spoil := range map[string]func(p *plan.Plan){
		"(P1)":              func(p *plan.Plan) { p.Elements[0].True[0][0][0] += 1; p.Elements[0].True[0][0][1] += 1 },
		"cover":             func(p *plan.Plan) { p.Elements = p.Elements[1:] },
		"same side (P1)":    func(p *plan.Plan) { p.Elements[1].True = p.Elements[0].True },
		"weighs":            func(p *plan.Plan) { p.Elements[0].MassG += 1 },
		"parts of c1 weigh": func(p *plan.Plan) { p.Colours[1].MassG += 1 },
		"the log":           func(p *plan.Plan) { p.Log.MassG += 1 },
		"laid parts cover":  func(p *plan.Plan) { scale(p.Elements[0].Laid, 1.01) },
		"laid edges":        func(p *plan.Plan) { subject(p).Laid[0][0][0] += 0.01; subject(p).Laid[0][0][1] += 0.01 },
		"its printed size":  func(p *plan.Plan) { halved(subject(p).Size) },
		"band is":           func(p *plan.Plan) { p.Elements[0].LayC = 90 },
		"times as stiff":    func(p *plan.Plan) { p.Elements[0].EtaRel = 100 },
		"the return is":     func(p *plan.Plan) { p.Rolling.Planned.Worst = 1 },
		"mean square":       func(p *plan.Plan) { p.Rolling.Planned.RMS = 1 },
		"its bound":         func(p *plan.Plan) { p.Clock.AtLeastMin = p.Clock.EndMin + 1 },
		"hands at minute":   func(p *plan.Plan) { p.Steps[0].Hands = 4 },
		"names":             func(p *plan.Plan) { p.Steps[0].Pairs = nil },
		"after the end":     func(p *plan.Plan) { p.Steps[0].SlackMin = 999 },
		"not in order":      cutFirst,
		"lay-up entries": func(p *plan.Plan) {
			p.Steps = slices.DeleteFunc(p.Steps, func(s plan.Step) bool { return s.Do == plan.DoLay })
		},
		"distinct parts": func(p *plan.Plan) {
			p.Steps = slices.DeleteFunc(p.Steps, func(s plan.Step) bool { return s.Do == plan.DoMake })
		},
		"turns":           func(p *plan.Plan) { p.Layup[0].Parts[1].TurnDeg = 45 },
		"(P4)":            func(p *plan.Plan) { turnedRound(p) },
		"is laid 0 times": func(p *plan.Plan) { b := &p.Layup[0]; b.Parts = b.Parts[:len(b.Parts)-1] },
		"with the error":  func(p *plan.Plan) { p.Findings[0].Severity = "error" },
		"rolling ends":    func(p *plan.Plan) { p.Clock.RoundMin += 1 },
	} {
		p := golden.Plan(t, "harbour-flag")
		spoil(p)
		q, err := plan.Normal(p)
		require.NoError(t, err)
		faults := judge.Of(q)
		found := slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, property) })
		assert.True(t, found, "%s: %v", property, faults)
	}
}

func cutFirst(p *plan.Plan) {
	for i := range p.Steps {
		if p.Steps[i].Do == plan.DoCut {
			p.Steps[i].StartMin = 0
		}
	}
}

func scale(p plan.Polygon, k plan.Num) {
	for _, r := range p {
		for i := range r {
			r[i][0], r[i][1] = k*r[i][0], k*r[i][1]
		}
	}
}

func subject(p *plan.Plan) *plan.Element {
	for i := range p.Elements {
		if p.Elements[i].Kind == plan.Subject {
			return &p.Elements[i]
		}
	}
	return nil
}

// turnedRound lets the last part that is slid in come from the other side.
func turnedRound(p *plan.Plan) {
	for b := range p.Layup {
		for i := range p.Layup[b].Parts {
			if d := p.Layup[b].Parts[i].Direction; d != nil {
				d[0], d[1] = -d[0], -d[1]
			}
		}
	}
}

func halved(sizes map[string]plan.Num) {
	for k := range sizes {
		sizes[k] /= 2
	}
}
