package record_test

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/planner/record"
)

func planned(t *testing.T) func(string) (*plan.Plan, error) {
	return func(file string) (*plan.Plan, error) {
		if file != "apple.json" {
			return nil, errors.New("no such plan")
		}
		return golden.Plan(t, "orchard-apple"), nil
	}
}

// A template that is filled in as planned comes back as planned; as it is printed it says nothing.
func TestTemplate(t *testing.T) {
	p := golden.Plan(t, "orchard-apple")
	text := string(record.Template(p, "apple.json", func(plan.Step) string { return "x" }))
	l, err := record.Read([]byte(text), planned(t))
	require.NoError(t, err)
	assert.Empty(t, l.Steps)
	assert.Zero(t, l.LogG)
	filled := regexp.MustCompile(`(?m)^# (\[|[0-9]+ =|log_g|pieces|minute|day|log =)`).ReplaceAllString(text, "$1")
	l, err = record.Read([]byte(filled), planned(t))
	require.NoError(t, err)
	assert.NotEmpty(t, l.Steps)
	for _, s := range l.Steps {
		assert.InDelta(t, s.Planned, s.Minutes, 0.051)
	}
	assert.InDelta(t, float64(p.Log.MassG), l.LogG, 1)
	assert.Equal(t, p.Piece.Count, l.PieceCount)
	assert.Equal(t, "2030-12-05", l.Day)
	assert.Greater(t, l.PulledShare, 0.1)
}

// What is wrong is said with its line.
func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"day = 2030-01-02":                                              "names no plan",
		"plan = \"pear.json\"":                                          "line 1: no such plan",
		"plan = \"apple.json\"\n[minutes]\n999 = 1":                     "line 3: the plan has no step 999",
		"plan = \"apple.json\"\n[minutes]\n1 = -4":                      "line 3: minutes.1 is -4",
		"plan = \"apple.json\"\n[weighed]\nlog_g = 900\npieces_g = 950": "line 4: the pieces weigh 950 g, more than the log",
		"plan = \"apple.json\"\n[weigh]\nlog_g = 900":                   "unknown setting weigh (weighed?)",
		`{"format":"other"}`:                                            "its format is",
		`{"format":`:                                                    "no record",
		`{"format":"sugarwright-record","presses":[{"key":"next","step":1,"at_ms":9},{"key":"next","step":2,"at_ms":3}]}`: "comes after",
		strings.Repeat("#", 2<<20): "more than",
	} {
		_, err := record.Read([]byte(text), planned(t))
		if assert.Error(t, err, text) {
			assert.Contains(t, err.Error(), want)
		}
	}
}

// A step of the bench page took until the next of the same hands was begun, where that was to follow at once (derived).
func TestPresses(t *testing.T) {
	l, err := record.Read([]byte(`{"format":"sugarwright-record","version":1,"day":"2030-01-02","log":2,"steps":[
{"number":1,"do":"pour","pairs":[1,2],"planned_min":0,"minutes":2},
{"number":2,"do":"make","pairs":[1],"planned_min":2,"minutes":1},
{"number":3,"do":"make","pairs":[2],"planned_min":2,"minutes":3},
{"number":4,"do":"lay","pairs":[1],"planned_min":3,"minutes":1},
{"number":5,"do":"lay","pairs":[1],"planned_min":9,"minutes":1}],"presses":[
{"key":"start","step":1,"at_ms":0},{"key":"next","step":1,"at_ms":180000},{"key":"next","step":2,"at_ms":180000},{"key":"next","step":3,"at_ms":270000},{"key":"next","step":4,"at_ms":900000}]}`), planned(t))
	require.NoError(t, err)
	var got []float64
	for _, s := range l.Steps {
		got = append(got, s.Minutes)
	}
	assert.Equal(t, []float64{3, 1.5, 0, 0, 0}, got)
	assert.Equal(t, 2, l.Number)
}
