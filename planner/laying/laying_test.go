package laying_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/build"
	"sugarwright/planner/laying"
	"sugarwright/planner/pile"
)

func log(t testing.TB, l *sample.Log) laying.Log {
	k := l.Kitchen(t)
	c, _ := pile.Follow(k)
	return laying.Log{Kitchen: k, Build: l.Build, Cooling: c}
}

// P6 and P7: laid parts keep their areas, cover the oval, and rolled forward they come back; the simple squash, and the drawing itself, come less near.
func TestLaidAndBack(t *testing.T) {
	l := sample.Halves(t)
	g := log(t, l)
	laid, found, err := laying.Of(g)
	require.NoError(t, err)
	assert.False(t, found.Refuses())
	require.NoError(t, laid.Check(l.Set))
	for i, p := range laid.Parts {
		assert.InEpsilon(t, l.Set.Elements[i].True.Area(), p.Shape.Area(), 1e-3)
	}
	proof, _, err := laying.Prove(g, laid)
	require.NoError(t, err)
	r := proof.Rolling
	assert.Less(t, float64(r.Planned.Worst), 0.1)
	assert.Less(t, r.Planned.Worst, r.Squash.Worst)
	assert.Less(t, r.Planned.Worst, r.AsDrawn.Worst)
	laid.Parts = laid.Parts[1:]
	assert.Error(t, laid.Check(l.Set))
}

// In a cradle nothing is squashed; where the skin slips the picture may turn as a whole.
func TestCradleAndSlip(t *testing.T) {
	l := sample.Halves(t)
	l.Shop.Oval = 1
	g := log(t, l)
	laid, _, err := laying.Of(g)
	require.NoError(t, err)
	cradle, _, err := laying.Prove(g, laid)
	require.NoError(t, err)
	assert.InDelta(t, 0, float64(cradle.Rolling.AsDrawn.Worst), 1e-6)
	l.Shop.Oval, l.Shop.Slip = 0.9, true
	g = log(t, l)
	laid, _, err = laying.Of(g)
	require.NoError(t, err)
	proof, _, err := laying.Prove(g, laid)
	require.NoError(t, err)
	assert.Equal(t, "slip", proof.Rolling.Outline)
	assert.LessOrEqual(t, float64(proof.Rolling.Planned.Worst), 0.5)
}

// An order that does not hold in the oval is a finding.
func TestFindings(t *testing.T) {
	l := sample.Halves(t)
	l.Build.Blocks[0][1].Direction = geom.Vec{1, 0} // through the first half
	_, found, err := laying.Of(log(t, l))
	require.NoError(t, err)
	assert.True(t, found.Has(finding.LaidOverlap))
}

// A block that a wrap closes round is laid into its own oval.
func TestRolledAlone(t *testing.T) {
	l := sample.Ringed(t)
	laid, _, err := laying.Of(log(t, l))
	require.NoError(t, err)
	in := 0
	for i, p := range laid.Parts {
		if len(p.InBlock) > 0 {
			in++
			assert.InEpsilon(t, l.Set.Elements[i].True.Area(), p.InBlock.Area(), 1e-3)
		}
	}
	assert.Equal(t, 2, in)
	assert.Equal(t, build.Wrap, l.Build.Blocks[0][1].Move)
}
