//go:build trials

package trials_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/planner"
	"sugarwright/planner/plan"
)

// Where the search finds no parts at the thickness that follows from an order, it looks at others, and says so; a thickness that
// was asked for stays. The daisy is such a drawing at about four kilograms, by chance of the search.
func TestOtherThickness(t *testing.T) {
	data, err := os.ReadFile("../../examples/meadow-daisy/artwork.svg")
	require.NoError(t, err)
	others := 0
	for _, grams := range []float64{3900, 4100, 4300, 4500} {
		o := unproved(options())
		o.Shop.Crew, o.Order.WeightG = 3, grams
		r, err := planner.Compile("daisy.svg", data, o)
		require.NoError(t, err)
		assert.Equal(t, plan.AsDrawn, r.Plan.Verdict, grams)
		for _, f := range r.Stages.Findings {
			if f.Code == finding.OtherThickness {
				others++
				assert.InDelta(t, f.Values[0].(float64), float64(r.Plan.Log.DiameterMM), 0.51)
				o.Order.LogMM = f.Values[1].(float64)
				asked, err := planner.Compile("daisy.svg", data, o)
				require.NoError(t, err)
				assert.Equal(t, plan.OurLimit, asked.Plan.Verdict)
			}
		}
	}
	assert.Positive(t, others)
}
