package forecast_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/flow"
	"sugarwright/planner/forecast"
	"sugarwright/planner/laying"
	"sugarwright/planner/pile"
)

func rope(t testing.TB, l *sample.Log) forecast.Rope {
	k := l.Kitchen(t)
	c, _ := pile.Follow(k)
	g := laying.Log{Kitchen: k, Build: l.Build, Cooling: c}
	laid, _, err := laying.Of(g)
	require.NoError(t, err)
	proof, _, err := laying.Prove(g, laid)
	require.NoError(t, err)
	return forecast.Rope{
		Set:          l.Set,
		Section:      k.Section,
		Cooling:      c,
		Binding:      k.Windows.Binding,
		Laid:         laid,
		Proof:        proof,
		Shop:         l.Shop,
		PieceMM:      15,
		PictureShare: 0.75,
	}
}

// As planned nothing is off; along the rope something is, more where the kitchen differs more, and then parts are lost; the same input gives the
// same faces (P9).
func TestFaces(t *testing.T) {
	l := sample.Halves(t)
	r := rope(t, l)
	calm, found, err := forecast.Of(r, 4)
	require.NoError(t, err)
	assert.Empty(t, found)
	require.Len(t, calm.Faces, 5)
	require.Len(t, calm.Faces[0].Shapes, 4)
	assert.Less(t, float64(calm.NominalWrong), 0.3)
	assert.Greater(t, calm.MeanWrong, calm.NominalWrong)
	assert.Equal(t, flow.Band, float64(calm.BandPercent))
	assert.Greater(t, float64(calm.FinestMM), 10.0)
	again, _, err := forecast.Of(r, 4)
	require.NoError(t, err)
	assert.Equal(t, calm, again)

	wild := *l.Shop
	wild.Spread.PlacingMM, wild.Spread.Oval, wild.Spread.Squeeze = 30, 0.1, 0.1
	r.Shop = &wild
	off, found, err := forecast.Of(r, 4)
	require.NoError(t, err)
	assert.Greater(t, off.WorstWrong, 2*calm.WorstWrong)
	assert.Equal(t, len(off.Lost) > 0, found.Has(finding.LostOnFaces))
	wild.Slip = true
	_, _, err = forecast.Of(r, 1)
	require.NoError(t, err)
}
