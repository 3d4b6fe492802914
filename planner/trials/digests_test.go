//go:build trials

package trials_test

import (
	"crypto/sha256"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/plan"
)

var digestsOf = flag.String(
	"digests",
	"",
	"write the digests of all public drawings to this file instead of comparing them",
)

// digestFields are the keys of the plan file that a restructured program must still give, by column of the table of
// digests. What only says the same in words is left out.
var digestFields = map[string]map[string][]string{
	"parts": {
		"elements": {
			"id",
			"number",
			"kind",
			"form",
			"bent",
			"colour",
			"block",
			"copies_of",
			"mirrored",
			"true",
			"size",
			"fit",
			"area_mm2",
			"mass_g",
			"label_mm",
		},
	},
	"layup": {"layup": {"block", "parts"}},
	"clock": {
		"steps":      {"number", "do", "parts", "hands", "at_c", "start_min", "minutes", "slack_min", "pairs"},
		"clock":      nil,
		"going_hard": {"before_step", "until_min", "do", "parts", "saves_min", "wrong_mm2"},
	},
	"laid": {
		"elements": {"id", "laid", "laid_in_block", "window_c", "lay_c", "roll_c", "hold_min", "turned", "eta_rel"},
		"rolling": {
			"outline",
			"softest",
			"stiffest",
			"as_drawn",
			"squash",
			"planned",
			"tolerance_percent",
			"grid_cells",
			"steps",
			"proof_cells",
			"proof_steps",
		},
		"forecast": {
			"nominal_wrong_percent",
			"mean_wrong_percent",
			"worst_wrong_percent",
			"finest_mm",
			"finest_piece_mm",
			"lost",
			"band_percent",
		},
	},
	"masses": {"log": nil, "piece": nil, "colours": nil, "boil": nil, "order": nil, "label": nil},
	"found":  {"findings": {"code", "severity", "at_mm", "source"}},
}

// digest of some fields of a plan file.
func digest(t testing.TB, file []byte, column string) string {
	var all map[string]any
	require.NoError(t, json.Unmarshal(file, &all))
	var keys []string
	for k := range digestFields[column] {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	h := sha256.New()
	pick := func(o map[string]any, of []string) map[string]any {
		out := map[string]any{}
		for _, k := range of {
			if v, ok := o[k]; ok {
				out[k] = v
			}
		}
		return out
	}
	for _, k := range keys {
		v, fields := all[k], digestFields[column][k]
		if fields != nil {
			switch x := v.(type) {
			case []any:
				list := []any{}
				for _, o := range x {
					list = append(list, pick(o.(map[string]any), fields))
				}
				v = list
			case map[string]any:
				v = pick(x, fields)
			}
		}
		data, err := json.Marshal(v)
		require.NoError(t, err)
		fmt.Fprintf(h, "%s %s\n", k, data)
	}
	return fmt.Sprintf("%x", h.Sum(nil)[:6])
}

// before is the word that a verdict had before the limits of the shop and of the program got words of their own.
func before(v plan.Verdict) plan.Verdict {
	if v == plan.ShopLimit || v == plan.OurLimit {
		return plan.Simplify
	}
	return v
}

var digestColumns = []string{"parts", "layup", "clock", "laid", "masses", "found"}

// Every public drawing gives the plan that it gave before the program was put into another structure, bit for bit: by
// digests of the plan file.
func TestDigests(t *testing.T) {
	var names []string
	for _, dir := range []string{"reference", "corpora"} {
		more, err := filepath.Glob("../../testdata/" + dir + "/*.svg")
		require.NoError(t, err)
		names = append(names, more...)
	}
	rows := make([]string, len(names))
	var wg sync.WaitGroup
	gate := make(chan bool, 2)
	for i, name := range names {
		wg.Add(1)
		gate <- true
		go func() {
			defer func() { <-gate; wg.Done() }()
			r := once(t, name)
			js := fileOf(t, r.Plan)
			rows[i] = strings.TrimSuffix(filepath.Base(name), ".svg") + "\t" + string(before(r.Plan.Verdict))
			for _, c := range digestColumns {
				rows[i] += "\t" + digest(t, js, c)
			}
		}()
	}
	wg.Wait()
	table := "drawing\tverdict\t" + strings.Join(digestColumns, "\t") + "\n" + strings.Join(rows, "\n") + "\n"
	if *digestsOf != "" {
		require.NoError(t, os.WriteFile(*digestsOf, []byte(table), 0o644))
		return
	}
	want, err := os.ReadFile("../../testdata/results/digests.tsv")
	require.NoError(t, err)
	assert.Equal(t, string(want), table)
}
