package assemble_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner"
	"sugarwright/planner/assemble"
	"sugarwright/planner/job"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

func compile(t *testing.T, inside string, o planner.Options) *planner.Result {
	white := artwork.RGB{255, 255, 255}
	o.Ground, o.Jacket, o.Faces, o.Order = white, white, 3, size.Order{PieceMM: 15, CutMM: 10}
	if o.Shop == nil {
		o.Shop = shop.Default()
	}
	r, err := planner.Compile("a.svg", sample.SVG(inside), o)
	require.NoError(t, err)
	return r
}

const face = `<circle cx="100" cy="100" r="70" fill="#e0b020"/><circle cx="75" cy="80" r="12" fill="#302010"/><circle cx="125" cy="80" r="12" fill="#302010"/>`

// What the plan holds is what the stages gave: masses close (P5), every part is made and laid, references lead somewhere,
// and a file read back is the same.
func TestPlan(t *testing.T) {
	r := compile(t, face, planner.Options{})
	p := r.Plan
	require.Equal(t, plan.AsDrawn, p.Verdict)
	require.NoError(t, p.Check())
	assert.Len(t, p.Elements, len(r.Stages.Set.Elements))
	mass := 0.0
	for _, e := range p.Elements {
		mass += float64(e.MassG)
	}
	assert.InDelta(t, float64(p.Log.MassG), mass, 0.01*mass)
	colours := 0.0
	for _, c := range p.Colours {
		colours += float64(c.MassG)
	}
	assert.InDelta(t, mass, colours, 1)
	assert.NotNil(t, p.Forecast)
	assert.NotNil(t, p.Rolling)
	data, err := plan.Write(p, nil, nil)
	require.NoError(t, err)
	back, err := plan.Read(data)
	require.NoError(t, err)
	again, err := plan.Write(back, nil, nil)
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again))
}

// With an order there are packs, a balance and a label.
func TestOrder(t *testing.T) {
	s := shop.Default()
	j, err := job.Read(
		[]byte(
			"client = \"an invented bakery\"\nmarket = \"EU\"\nacid = \"citric acid\"\n[[packs]]\nnumber = 20\npieces = 30\n"),
		s,
		job.Day{2026, 1, 1},
	)
	require.NoError(t, err)
	p := compile(t, face, planner.Options{Shop: s, Job: j}).Plan
	assert.NotNil(t, p.Job)
	assert.NotNil(t, p.Order)
	assert.NotNil(t, p.Label)
	require.NoError(t, p.Check())
}

// The verdict follows from whose the findings are.
func TestVerdict(t *testing.T) {
	assert.Equal(
		t,
		plan.Simplify,
		compile(t,
			`<circle cx="100" cy="100" r="60" fill="#e0b020"/><rect x="60" y="99.4" width="80" height="1.2" fill="#a00"/>`,
			planner.Options{}).Plan.Verdict,
	)
	assert.Equal(t, plan.NotBuildable, compile(t, `<g/>`, planner.Options{}).Plan.Verdict)
	cold := shop.Default()
	cold.ClockMin = 5
	p := compile(t, face, planner.Options{Shop: cold}).Plan
	assert.NotEqual(t, plan.AsDrawn, p.Verdict)
	assert.Empty(t, p.Steps)
	assert.NotEmpty(t, p.Findings)
	require.NoError(t, p.Check())
}

// Each stage can be printed, as JSON, the constants first.
func TestList(t *testing.T) {
	list := compile(t, face, planner.Options{}).Stages.List()
	assert.Greater(t, len(list), 8)
	for _, s := range list {
		data, err := s.JSON()
		require.NoError(t, err, s.Name)
		assert.True(t, json.Valid(data), s.Name)
	}
}

// A finding keeps its code, its class, its values and its place.
func TestFinding(t *testing.T) {
	f := assemble.Finding(
		finding.New(finding.TooSmall, finding.Error, 3.4).At([2]float64{1, 2}).From(finding.Source{Line: 3, Column: 4}))
	assert.Equal(t, "too-small", f.Code)
	assert.Equal(t, plan.Point{1, 2}, *f.AtMM)
	assert.Equal(t, 3, f.Source.Line)
	assert.NotEmpty(t, f.Class)
	assert.Len(t, assemble.Areas(sample.Map(t, face)), 5)
}
