package repeats_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/internal/sample"
	"sugarwright/planner/layup"
	"sugarwright/planner/repeats"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/split"
)

var batch = split.Log{LengthMM: 400, Density: func(int) float64 { return 1.3 }}

// slice is n wedges with gaps between them, turned about the middle of the page, in a ring.
func slice(n int) string {
	var b strings.Builder
	b.WriteString(`<circle cx="100" cy="100" r="80" fill="#ffffff" stroke="#e08020" stroke-width="12"/>`)
	for k := range n {
		fmt.Fprintf(&b, `<path d="M0 -14L%g -66L%g -66Z" transform="translate(100 100) rotate(%g)" fill="#e08020"/>`,
			50*math.Tan(math.Pi/float64(n)), -50*math.Tan(math.Pi/float64(n)), 360*float64(k)/float64(n))
	}
	return b.String()
}

// repeated is the cheaper of two splits, before and after.
func repeated(t *testing.T, drawing string) (before, after *set.Set) {
	t.Helper()
	m := sample.Map(t, drawing)
	area := 0.0
	for _, r := range m.Regions {
		area += r.Area
	}
	for _, by := range []func(*partition.Map, *shop.Shop, split.Log) (*set.Set, finding.List, error){split.Of, split.Even} {
		of, found, err := by(m, shop.Default(), batch)
		require.NoError(t, err)
		require.False(t, found.Refuses(), found)
		order, found, err := layup.Proven(of)
		require.NoError(t, err)
		require.False(t, found.Refuses(), found)
		with, again, err := repeats.Of(of, order, shop.Default(), batch)
		require.NoError(t, err)
		require.NoError(t, again.Check(len(with.Elements)))
		require.NoError(t, with.Check(area))
		if after == nil || with.Price < after.Price {
			before, after = of, with
		}
	}
	return before, after
}

// What is turned about a middle is built once, thicker by the root of its lengths, and laid as often (common practice,
// no source): the section of what is drawn out to n lengths is an n-th.
func TestSlices(t *testing.T) {
	for _, n := range []int{8} {
		before, after := repeated(t, slice(n))
		scaled := 0
		for _, b := range after.Blocks {
			if b.Scale > 0 {
				scaled++
				assert.Greater(t, len(b.Elements), 1)
			}
		}
		assert.GreaterOrEqual(t, scaled, 3, "%d wedges", n)
		assert.Zero(t, n%scaled, "%d wedges", n)
		for _, b := range after.Blocks {
			if b.Scale > 0 {
				assert.InDelta(t, math.Sqrt(float64(scaled)), b.Scale, 1e-9)
			}
		}
		assert.Less(t, after.Price, before.Price)
		assert.LessOrEqual(t, after.Distinct(), before.Distinct()+1)
	}
}

// What only looks like a turn is none: a heart is not threefold, nor is a row of bars.
func TestNoTurn(t *testing.T) {
	for name, drawing := range map[string]string{
		"heart": `<path d="M100 160C40 110 30 80 50 60C70 40 95 50 100 75C105 50 130 40 150 60C170 80 160 110 100 160Z" fill="#c02030"/>`,
		// A row may be turned by half, which is no slice.
		"bars": `<path d="M40 60H160V90H40ZM40 110H160V140H40Z" fill="#c02030"/>`,
		"disc": `<circle cx="100" cy="100" r="60" fill="#c02030"/>`,
	} {
		_, after := repeated(t, drawing)
		for _, b := range after.Blocks {
			assert.Zero(t, b.Scale, name)
		}
	}
}
