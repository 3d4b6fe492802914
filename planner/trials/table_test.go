//go:build trials

package trials_test

import (
	"fmt"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/plan"
)

// TestTable goes through every planned public drawing as it is laid on the table, by what its plan file says: turns, each with its
// weight and hands; moves one after the other that neither stand free nor name a prop; what is made before its sugar is ready is
// the judge's. The table goes to testdata/results.
func TestTable(t *testing.T) {
	var rows []string
	var turnsOf []int
	short, plans := 0, 0
	for _, dir := range []string{"reference", "corpora"} {
		names, err := filepath.Glob("../../testdata/" + dir + "/*.svg")
		require.NoError(t, err)
		for _, name := range names {
			p := once(t, name).Plan
			if p.Verdict != plan.AsDrawn {
				continue
			}
			plans++
			turns, run, longest, props, tack := 0, 0, 0, 0, 0
			began := map[string]bool{}
			for _, s := range p.Steps {
				switch s.Do {
				case plan.DoTurn:
					turns++
					assert.True(t, began[s.Parts[0]], "%s: step %d turns what has not begun", name, s.Number)
					assert.Greater(t, float64(s.MassG), 0.0, "%s: step %d", name, s.Number)
					assert.True(t, s.Hands == 2 || s.MassG <= 8000, "%s: one pair turns %.0f g", name, float64(s.MassG))
				case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll:
					began[s.Block] = true
					if run++; s.Stands == "" || s.Stands == "propped" {
						run = 0
					} else {
						tack++
					}
					if s.Stands == "propped" || s.Stands == "held" {
						props++
					}
					longest = max(longest, run)
				}
			}
			turnsOf = append(turnsOf, turns)
			if longest <= 2 {
				short++
			}
			assert.LessOrEqual(t, turns, 5, name)
			c := p.Clock
			rows = append(rows, fmt.Sprintf("| %s | %d | %d | %d | %d | %.0f | %.0f | %.0f | %.0f | %v |", strings.TrimSuffix(filepath.Base(name), ".svg"), turns, longest, tack, props,
				float64(c.ClosedMin), float64(c.CloseByMin), float64(c.DrawnMin), float64(c.LastLengthByMin), c.Slower.Holds))
		}
	}
	sort.Ints(turnsOf)
	assert.LessOrEqual(t, turnsOf[len(turnsOf)/2], 2, "turns in the median")
	assert.GreaterOrEqual(t, float64(short), 0.72*float64(plans), "plans with at most two moves on tack one after the other") // 34 of 47
	text := "| drawing | turns | longest run on tack | moves on tack | moves with a prop | closed | close by | last length | by | a quarter slower holds |\n|---|---|---|---|---|---|---|---|---|---|\n" +
		strings.Join(rows, "\n") + fmt.Sprintf("\n\n%d plans; turns %d at the most, %d in the median; at most two moves on tack one after the other in %d.\n",
		plans, turnsOf[len(turnsOf)-1], turnsOf[len(turnsOf)/2], short)
	t.Log(text[strings.LastIndex(text, "\n\n"):])
	if *update {
		table(t, "table", text)
	}
}
