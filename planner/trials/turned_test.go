//go:build trials

package trials_test

import (
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/planner"
	"sugarwright/planner/check"
	"sugarwright/planner/intake"
	"sugarwright/planner/layup"
	"sugarwright/planner/order"
	"sugarwright/planner/palette"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/split"
	"sugarwright/planner/windows"
	"sugarwright/planner/work"
)

// parted takes a drawing from its file to the clock, by the stages that decide of which parts it is made and in which
// order, and leaves out the heat of the pile and the rolling.
func parted(data []byte, o planner.Options) (of *set.Set, found finding.List, err error) {
	art, found, err := artwork.Parse(data)
	if err != nil {
		return nil, found, err
	}
	run := func(more finding.List, e error) bool {
		found.Add(more...)
		err = e
		return err != nil || found.Refuses()
	}
	mm, more, err := intake.Diameter(o.Order, o.Job, o.Shop)
	if run(more, err) {
		return nil, found, err
	}
	m, more, err := intake.Section(art, mm, o.Shop,
		intake.Settings{Place: o.Place, Ground: o.Ground, Jacket: o.Jacket, FlattenMM: o.FlattenMM})
	if run(more, err) {
		return nil, found, err
	}
	shades, err := palette.Of(m, o.Shop, o.Job, true)
	if err != nil || run(shades.Findings, nil) {
		return nil, found, err
	}
	checked, err := check.Of(m, o.Shop)
	if err != nil || run(checked.Findings, nil) {
		return nil, found, err
	}
	log, more, err := order.LogOf(o.Order, o.Job, o.Shop, m, shades)
	if run(more, err) {
		return nil, found, err
	}
	of, more, err = split.Of(m, o.Shop, split.Log{LengthMM: log.LengthMM, Density: shades.Density})
	if run(more, err) {
		return of, found, err
	}
	built, more, err := layup.Proven(of)
	if run(more, err) {
		return of, found, err
	}
	heat, more := windows.Of(of, o.Shop, log.LengthMM)
	if run(more, heat.Check()) {
		return of, found, err
	}
	_, more, err = work.Of(work.Task{Set: of, Build: built, Windows: heat, Map: m, Palette: shades, Shop: o.Shop, LengthMM: log.LengthMM, StickMM: 15, Pieces: 3000}, nil)
	run(more, err)
	return of, found, err
}

// counts are the numbers of parts made and laid, and the forms: what must not depend on how a drawing lies on its page.
func counts(of *set.Set, found finding.List) string {
	if found.Refuses() {
		return string(found.Errors()[0].Code)
	}
	forms := map[string]int{}
	made := map[int]bool{}
	for _, e := range of.Elements {
		forms[e.Fit.Base.String()]++
		made[e.Number] = true
	}
	var names []string
	for f, n := range forms {
		names = append(names, fmt.Sprintf("%d %s", n, f))
	}
	sort.Strings(names)
	return fmt.Sprintf("%d made, %d laid: %s", len(made), len(of.Elements), strings.Join(names, ", "))
}

// Turning a drawing by sixteen angles, mirroring it and sampling its curves otherwise: for each reference drawing of
// difficulty 1 to 3, the share of these in which counts and forms stay as they are goes to testdata/results.
func TestTurned(t *testing.T) {
	type job struct {
		name, transform string
		flatten         float64
	}
	var jobs []job
	var names []string
	step := 9
	if *all {
		step = 1
	}
	for _, m := range records(t) {
		if m.Verdict != plan.AsDrawn || m.Difficulty > 3 {
			continue
		}
		names = append(names, m.Name)
		for k := 1; k <= 16; k += step {
			jobs = append(jobs, job{m.Name, fmt.Sprintf("rotate(%g 100 100)", 22.5*float64(k)), 0})
		}
		jobs = append(jobs, job{m.Name, "translate(200 0) scale(-1 1)", 0}, job{m.Name, "", intake.FlattenMM / 3})
	}
	got := make([]string, len(jobs))
	var wg sync.WaitGroup
	gate := make(chan bool, 2)
	for i, j := range jobs {
		wg.Add(1)
		gate <- true
		go func() {
			defer func() { <-gate; wg.Done() }()
			data, err := os.ReadFile(filepath.Join("../../testdata/reference", j.name+".svg"))
			if !assert.NoError(t, err) {
				return
			}
			s := string(data)
			if j.transform != "" {
				open := strings.Index(s[strings.Index(s, "<svg"):], ">") + strings.Index(s, "<svg") + 1
				end := strings.LastIndex(s, "</svg>")
				s = s[:open] + `<g transform="` + j.transform + `">` + s[open:end] + "</g>" + s[end:]
			}
			o := options()
			if j.flatten > 0 {
				o = withFlatten(o, j.flatten)
			}
			of, found, err := parted([]byte(s), o)
			if assert.NoError(t, err, j.name) {
				got[i] = counts(of, found)
			}
		}()
	}
	wg.Wait()
	var b strings.Builder
	fmt.Fprintf(&b, "| drawing | of %d alike | the others |\n|---|---|---|\n", len(jobs)/len(names))
	alike, steady, tried := 0, 0, 0
	for _, name := range names {
		tally := map[string]int{}
		for i, j := range jobs {
			if j.name == name {
				tally[got[i]]++
				tried++
			}
		}
		var kinds []string
		for k := range tally {
			kinds = append(kinds, k)
		}
		sort.Slice(kinds, func(i, j int) bool {
			return tally[kinds[i]] > tally[kinds[j]] || tally[kinds[i]] == tally[kinds[j]] && kinds[i] < kinds[j]
		})
		var others []string
		for _, k := range kinds[1:] {
			others = append(others, fmt.Sprintf("%d times %s", tally[k], k))
		}
		alike += tally[kinds[0]]
		if len(kinds) == 1 {
			steady++
		}
		fmt.Fprintf(&b, "| %s | %d, %s | %s |\n", name, tally[kinds[0]], kinds[0], strings.Join(others, "; "))
	}
	fmt.Fprintf(&b,
		"\n%d of %d drawings keep counts and forms in all; %d of %d trials are like most of their drawing.\n",
		steady, len(names), alike, tried)
	t.Logf("%d of %d steady, %d of %d trials", steady, len(names), alike, tried)
	require.NotEmpty(t, names)
	assert.GreaterOrEqual(t, steady, 15)
	assert.GreaterOrEqual(t, float64(alike), 0.8*float64(tried))
	if *update && *all {
		table(t, "turned", b.String())
	}
}
