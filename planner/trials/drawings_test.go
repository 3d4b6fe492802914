//go:build trials

package trials_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/internal/printed"
	"sugarwright/planner"
	"sugarwright/planner/judge"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

var (
	update = flag.Bool("update", false, "write generated tables")
	all    = flag.Bool("all", false, "the long trials on all drawings and in all ways, as the tables have them")
)

func options() planner.Options {
	white := artwork.RGB{255, 255, 255}
	return planner.Options{
		Shop:   shop.Default(),
		Order:  size.Order{PieceMM: 15, CutMM: 10},
		Ground: white,
		Jacket: white,
	}
}

// unproved leaves out rolling the log forward, for tests that look at splits alone.
func unproved(o planner.Options) planner.Options {
	o.NoProof = true
	return o
}

// withFlatten samples curves with another tolerance.
func withFlatten(o planner.Options, mm float64) planner.Options {
	o.FlattenMM = mm
	return o
}

// fileOf is a plan's file without sentences.
func fileOf(t testing.TB, p *plan.Plan) []byte {
	data, err := plan.Write(p, nil, nil)
	require.NoError(t, err)
	return data
}

func compile(t testing.TB, name string) *planner.Result {
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	o := options()
	o.Faces = 12
	r, err := planner.Compile(filepath.Base(name), data, o)
	require.NoError(t, err, name)
	return r
}

// known are compiled drawings, with a forecast, that several tests look at and none changes.
var known sync.Map

func once(t testing.TB, name string) *planner.Result {
	if r, ok := known.Load(filepath.Base(name)); ok {
		return r.(*planner.Result)
	}
	r := compile(t, name)
	known.Store(filepath.Base(name), r)
	return r
}

type row struct {
	name, codes    string
	verdict        plan.Verdict
	distinct, laid int
	fit            float64
}

// Every drawing ends in a plan whose properties hold, or in a located finding; the table goes to testdata/results.
func TestDrawings(t *testing.T) {
	for _, set := range []struct {
		dir   string
		plans int // at least, of the drawings in it
		laid  int // with parts and an order, though the clock may not allow them in a log of the usual size
	}{{"reference", 33, 33}, {"corpora", 10, 19}} {
		names, err := filepath.Glob("../../testdata/" + set.dir + "/*.svg")
		require.NoError(t, err)
		require.NotEmpty(t, names)
		rows := make([]row, len(names))
		var wg sync.WaitGroup
		gate := make(chan bool, 2)
		for i, name := range names {
			wg.Add(1)
			gate <- true
			go func() {
				defer func() { <-gate; wg.Done() }()
				rows[i] = judged(t, strings.TrimSuffix(filepath.Base(name), ".svg"), once(t, name))
			}()
		}
		wg.Wait()
		var b strings.Builder
		b.WriteString(
			"| drawing | verdict | parts made | parts laid | mean fit | why not |\n|---|---|---|---|---|---|\n")
		plans, parted := 0, 0
		for _, r := range rows {
			if r.verdict == plan.AsDrawn || r.codes == "too-long " {
				parted++
			}
			if r.verdict == plan.AsDrawn {
				plans++
				fmt.Fprintf(&b, "| %s | %s | %d | %d | %.2f | |\n", r.name, r.verdict, r.distinct, r.laid, r.fit)
			} else {
				fmt.Fprintf(&b, "| %s | %s | | | | %s |\n", r.name, r.verdict, r.codes)
			}
		}
		fmt.Fprintf(&b, "\n%d of %d end in a proven plan; %d have parts that hands make and an order that holds, the rest of them too many for the clock.\n",
			plans, len(rows), parted)
		assert.GreaterOrEqual(t, plans, set.plans, set.dir)
		assert.GreaterOrEqual(t, parted, set.laid, set.dir)
		t.Logf("%s: %d of %d plans", set.dir, plans, len(rows))
		if *update {
			table(t, "drawings-"+set.dir, b.String())
		}
	}
}

// checkPlan holds a plan to what was promised of every plan.
func checkPlan(t testing.TB, name string, p *plan.Plan) {
	for _, fault := range judge.Of(p) {
		assert.Fail(t, fault, name)
	}
}

// judged checks a result against the properties and sums it up.
func judged(t *testing.T, name string, r *planner.Result) row {
	out := row{name: name, verdict: r.Plan.Verdict, distinct: r.Plan.Index().Distinct(), laid: len(r.Plan.Elements)}
	if r.Plan.Verdict != plan.AsDrawn {
		codes := map[string]bool{}
		for _, f := range r.Stages.Findings {
			if f.Severity == finding.Error && !codes[string(f.Code)] {
				codes[string(f.Code)] = true
				out.codes += string(f.Code) + " "
				assert.True(t,
					f.AtMM != nil || f.Source.Line > 0 || f.Code == finding.TooLong || f.Code == finding.JoinHeat,
					"%s: %s has no place", name, f.Code)
			}
		}
		assert.NotEmpty(t, out.codes, name)
		assert.Empty(t, r.Plan.Elements, name)
		return out
	}
	n := 0.0
	for _, e := range r.Plan.Elements {
		if e.Kind == "subject" {
			out.fit += float64(e.Fit)
			n++
		}
	}
	out.fit /= max(n, 1)
	checkPlan(t, name, r.Plan)
	for i, s := range printed.Styles(t) {
		printed.CheckSets(t, fmt.Sprintf("%s, style %d", name, i), r.Plan, s)
	}
	return out
}

// table writes a generated table of testdata/results.
func table(t *testing.T, name, text string) {
	require.NoError(t, os.WriteFile(filepath.Join("../../testdata/results", name+".md"), []byte(text), 0o644))
}
