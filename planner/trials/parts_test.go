//go:build trials

package trials_test

import (
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
)

// Every part of every public plan has a recipe within its limits. The table counts classes and recipes; the picture
// shows the forty parts that are farthest from theirs, the recipe in green over the part's outline.
func TestParts(t *testing.T) {
	type part struct {
		name string
		set.Element
	}
	var b strings.Builder
	b.WriteString("| drawings | plans | parts | plain | close | pressed in | refused | mean misfit, % | worst, % |\n|---|---|---|---|---|---|---|---|---|\n")
	var worst []part
	used := map[string]int{}
	for _, dir := range []string{"reference", "corpora"} {
		names, err := filepath.Glob("../../testdata/" + dir + "/*.svg")
		require.NoError(t, err)
		plans, parts, sum, most := 0, 0, 0.0, 0.0
		var class [recipe.Refused + 1]int
		for _, name := range names {
			r := once(t, name)
			if len(r.Plan.Elements) == 0 {
				continue
			}
			plans++
			for _, e := range r.Stages.Set.Elements {
				if e.CopyOf >= 0 || e.Kind == set.Ground || e.Kind == set.Jacket {
					continue
				}
				parts++
				class[e.Fit.Class]++
				sum, most = sum+e.Fit.Misfit, max(most, e.Fit.Misfit)
				used[fmt.Sprintf("%s, %s", e.Fit.Base, e.Fit.Op)]++
				worst = append(worst, part{strings.TrimSuffix(filepath.Base(name), ".svg"), e})
			}
		}
		fmt.Fprintf(&b, "| %s | %d | %d | %d | %d | %d | %d | %.1f | %.1f |\n", dir, plans, parts, class[recipe.Fine], class[recipe.Close],
			class[recipe.Pressed], class[recipe.Refused], 100*sum/float64(parts), 100*most)
		assert.Zero(t, class[recipe.Refused], dir)
		assert.LessOrEqual(t, most, 0.2, dir)
	}
	var how []string
	for k := range used {
		how = append(how, k)
	}
	sort.Slice(how, func(i, j int) bool {
		return used[how[i]] > used[how[j]] || used[how[i]] == used[how[j]] && how[i] < how[j]
	})
	b.WriteString("\nRecipes: ")
	for i, k := range how {
		how[i] = fmt.Sprintf("%s %d", k, used[k])
	}
	b.WriteString(strings.Join(how, "; ") + ".\n\nThe forty farthest from their recipes: ")
	sort.SliceStable(worst, func(i, j int) bool { return worst[i].Fit.Misfit > worst[j].Fit.Misfit })
	worst = worst[:min(40, len(worst))]
	var said []string
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="1200" height="750" font-size="9" font-family="sans-serif"><rect width="100%" height="100%" fill="#fff"/>`
	for i, p := range worst {
		said = append(said, fmt.Sprintf("%s %d %.1f", p.name, p.Number, 100*p.Fit.Misfit))
		box := p.True.Bound()
		k := 100 / max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
		x, y := float64(i%8*150)+75, float64(i/8*150)+88
		draw := func(ring geom.Ring[geom.TruePoint], style string) {
			d := "M"
			for _, q := range ring {
				d += fmt.Sprintf("%.1f %.1f ", x+k*(q[0]-(box.Min[0]+box.Max[0])/2), y-k*(q[1]-(box.Min[1]+box.Max[1])/2))
			}
			svg += fmt.Sprintf(`<path d="%sZ" %s/>`, d, style)
		}
		for _, ring := range p.True {
			draw(geom.Thinned(ring, 0.1), `fill="none" stroke="#000"`)
		}
		if !p.Fit.Closed() { // a sheet takes the outline of what it is closed round
			draw(p.Fit.Placed(), `fill="#2a2" fill-opacity="0.35"`)
		}
		svg += fmt.Sprintf(`<text x="%.0f" y="%.0f" text-anchor="middle">%s %d</text><text x="%.0f" y="%.0f" text-anchor="middle">%s, %s: %.1f %%, %.1f mm</text>`,
			x, y-74, p.name, p.Number, x, y-62, p.Fit.Base, p.Fit.Op, 100*p.Fit.Misfit, p.Fit.Lump)
	}
	b.WriteString(strings.Join(said, "; ") + " (%). They are drawn in parts.svg.\n")
	if *update {
		table(t, "parts", b.String())
		require.NoError(t, os.WriteFile("../../testdata/results/parts.svg", []byte(svg+"</svg>\n"), 0o644))
	}
}
