//go:build trials

package trials_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/planner"
	"sugarwright/planner/intake"
	"sugarwright/planner/plan"
)

// Random packings of squares in four colours hook into each other every way. Cutting the blocker goes on until an order
// exists (once every part is convex there is one: Guibas & Yao 1983): the search never ends without an order.
func TestPackings(t *testing.T) {
	plans := 0
	for seed := uint64(1); seed <= 16; seed++ {
		r := rand.New(rand.NewPCG(seed, 7))
		n := 3 + int(seed%3)
		side := 130.0 / float64(n)
		var b strings.Builder
		b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">`)
		for i := 0; i < n*n; i++ {
			c := []string{"#d0202a", "#2060c0", "#20a040", "#ffffff"}[r.IntN(4)]
			fmt.Fprintf(&b, `<rect x="%g" y="%g" width="%g" height="%g" fill="%s"/>`, 35+side*float64(i%n),
				35+side*float64(i/n), side, side, c)
		}
		b.WriteString(`</svg>`)
		res, err := planner.Compile("packing", []byte(b.String()), options())
		require.NoError(t, err)
		assert.False(t, res.Stages.Findings.Has(finding.OrderGaveUp), "seed %d: no order", seed)
		assert.False(t, res.Stages.Findings.Has(finding.NotProven), "seed %d: not proven", seed)
		if res.Plan.Verdict == plan.AsDrawn {
			plans++
			checkPlan(t, fmt.Sprint("packing ", seed), res.Plan)
		}
	}
	t.Logf("%d of 16 packings end in a plan", plans)
	assert.GreaterOrEqual(t, plans, 8)
}

// Drawings that nobody can build end in a verdict with places, soon.
func TestHopeless(t *testing.T) {
	wrap := func(s string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + s + `</svg>`
	}
	var many, hair, fine strings.Builder
	for i := 0; i < 400; i++ {
		c := []string{"#d0202a", "#2060c0", "#20a040", "#e0c020", "#804020"}[(i*7+i/20*3)%5]
		fmt.Fprintf(&many, `<rect x="%g" y="%g" width="7" height="7" fill="%s"/>`, 30+7*float64(i%20),
			30+7*float64(i/20), c)
		fmt.Fprintf(&fine, `<rect x="%g" y="%g" width="6.9" height="6.9" fill="%s"/>`, 30+7*float64(i%20),
			30+7*float64(i/20), c)
	}
	for i := 0; i < 60; i++ {
		fmt.Fprintf(&hair, `<path d="M%d 30L%d 170" stroke="#000" stroke-width="0.1"/>`, 40+2*i, 160-2*i)
	}
	for _, c := range []struct {
		name, svg string
		codes     []finding.Code
	}{
		{"400 regions", many.String(), []finding.Code{finding.TooManyAreas}},
		{"400 regions with hair gaps", fine.String(), []finding.Code{finding.TooManyAreas}},
		{"a bundle of hair-fine lines", hair.String(), []finding.Code{finding.TooThin, finding.TooMuch}},
		{"hair-fine lines", hair.String()[:strings.Index(hair.String(), "<path d=\"M60 ")], []finding.Code{finding.TooThin}},
		{"one colour", `<rect width="200" height="200" fill="#ffffff"/>`, []finding.Code{finding.OneColour, finding.NoPaint}},
		{"nothing but ground", ``, []finding.Code{finding.NoPaint, finding.OneColour}},
	} {
		r, err := planner.Compile(c.name, []byte(wrap(c.svg)), options())
		require.NoError(t, err, c.name)
		assert.NotEqual(t, plan.AsDrawn, r.Plan.Verdict, c.name)
		assert.Empty(t, r.Plan.Elements, c.name)
		found := false
		for _, code := range c.codes {
			found = found || r.Stages.Findings.Has(code)
		}
		assert.True(t, found, "%s: %v", c.name, r.Stages.Findings)
	}
	// A subject larger than the picture circle: refused when the page is to be kept, else placed smaller with a note.
	big := wrap(`<circle cx="100" cy="100" r="140" fill="#d0202a"/>`)
	o := options()
	o.Place = intake.Page
	r, err := planner.Compile("big", []byte(big), o)
	require.NoError(t, err)
	assert.NotEqual(t, plan.AsDrawn, r.Plan.Verdict)
	assert.True(t, r.Stages.Findings.Has(finding.BeyondPicture), "%v", r.Stages.Findings)
	r, err = planner.Compile("big", []byte(big), options())
	require.NoError(t, err)
	assert.True(t, r.Stages.Findings.Has(finding.PlacedDrawing) || r.Plan.Verdict != plan.AsDrawn, "%v",
		r.Stages.Findings)
}
