package windows_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/heat"
	"sugarwright/planner/plan"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/windows"
)

// P8: every part is laid inside its own band; the closing wraps go on warmer, by no more than parts that join may differ by.
func TestPartsAreLaidInTheirBands(t *testing.T) {
	l := sample.Halves(t)
	w, found := windows.Of(l.Set, l.Shop, sample.LengthMM)
	require.NoError(t, w.Check())
	assert.True(t, found.Has(finding.WindowGuess), "no lump test was made")
	coolest, warmest := 1e9, 0.0
	for i, p := range w.Parts {
		coolest, warmest = min(coolest, p.LayC), max(warmest, p.LayC)
		if l.Set.Elements[i].Kind == set.Ground {
			assert.Greater(t, p.LayC, w.Parts[0].LayC)
		}
	}
	assert.LessOrEqual(t, warmest-coolest, l.Shop.JoinC)
	w.Parts[0].LayC = 20
	assert.Error(t, w.Check())
}

// A warm place that is too cold, a band of the shop's own in which nothing holds, and parts too unlike are said.
func TestFindings(t *testing.T) {
	l := sample.Halves(t)
	with := func(change func(s *shop.Shop)) finding.List {
		s := *l.Shop
		change(&s)
		_, found := windows.Of(l.Set, &s, sample.LengthMM)
		return found
	}
	assert.True(t, with(func(s *shop.Shop) { s.WarmC = 40 }).Has(finding.WarmTooCold))
	assert.True(t, with(func(s *shop.Shop) { s.LayFromC, s.LayToC = 75, 76 }).Has(finding.NoWindow))
}

// With a warm place as warm as the parts they wait for good; without one a thin sheet waits less than a thick rod.
func TestWaits(t *testing.T) {
	l := sample.Halves(t)
	l.Shop.WarmC = 0
	w := l.Windows(t)
	band := heat.Window{Low: 60, High: 66}
	thin, thick := w.Waits(true, 4, band), w.Waits(false, 40, band)
	assert.Greater(t, thin, 0.0)
	assert.Greater(t, thick, 4*thin)
	l.Shop.WarmC = 80
	assert.Greater(t, l.Windows(t).Waits(true, 4, band), 1e6)
}

// A bent strip and a wrap need to be softer than a straight strip as thick: they are bent.
func TestBending(t *testing.T) {
	w := sample.Halves(t).Windows(t)
	of := func(r recipe.Recipe) float64 {
		r.Size = [4]float64{60, 20}
		return w.Holding(set.Element{Fit: recipe.Fit{Recipe: r}}, 5).Low
	}
	straight := of(recipe.Recipe{Base: recipe.Strip})
	assert.Greater(t, of(recipe.Recipe{Base: recipe.Strip, Op: recipe.Bend, Arcs: []recipe.Arc{{LengthMM: 60, TurnDeg: 170}}}), straight)
	assert.GreaterOrEqual(t, of(recipe.Recipe{Base: recipe.Sheet}), straight)
}

// What a shop's settings come to: without tests guesses, with them what they measured.
func TestFacts(t *testing.T) {
	f := windows.Facts(shop.Default())
	assert.Nil(t, f.Lump)
	assert.Nil(t, f.OvalTest)
	assert.Equal(t, plan.FromDefault, f.TgFrom)
	assert.Len(t, f.Windows, 7)
	assert.Greater(t, f.PoursC, f.WorkableC)
	s, err := shop.Read([]byte("[tests.lump]\nheight_mm = 47.5\ndiameter_mm = 50\nminutes = 1\nat_c = 65\n" +
		"[tests.oval]\nwidth_mm = 158\nheight_mm = 142\n"))
	require.NoError(t, err)
	f = windows.Facts(s)
	require.NotNil(t, f.Lump)
	require.NotNil(t, f.OvalTest)
	assert.InDelta(t, 142.0/158, f.Oval, 1e-3)
	assert.Equal(t, plan.FromLumpTest, f.TgFrom)
}
