package pile_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/pile"
)

// P8: parts cool between laying and rolling, in a warm kitchen less; all have a stiffness; the ground's mean is 1.
func TestFollow(t *testing.T) {
	l := sample.Halves(t)
	k := l.Kitchen(t)
	c, found := pile.Follow(k)
	require.NoError(t, c.Check())
	assert.False(t, found.Refuses())
	require.Len(t, c.RollC, 4)
	assert.LessOrEqual(t, c.EarliestMin, c.StiffMin)
	assert.GreaterOrEqual(t, c.LatestMin, c.StiffMin)
	assert.InDelta(t, 1, c.EtaRel[2], 1e-3, "the wrap is all of the ground inside the jacket")

	l.Shop.LampC, l.Shop.TableC, l.Shop.AirC = 20, 20, 20
	cold, _ := pile.Follow(l.Kitchen(t))
	for i := range c.RollC {
		assert.LessOrEqual(t, cold.RollC[i], c.RollC[i])
	}
	assert.Less(t, cold.RollC[0], c.RollC[0])
	assert.Less(t, cold.StiffMin, c.StiffMin)
	k = l.Kitchen(t)
	strict := *l.Shop
	strict.JoinC = 0.5
	k.Shop = &strict
	_, found = pile.Follow(k)
	assert.True(t, found.Has(finding.JoinCold))

	c.EtaRel[0] = math.NaN()
	assert.Error(t, c.Check())
}

// The clock says how long the log stays workable; a log that is hard before it is rolled, round or drawn is said.
func TestClock(t *testing.T) {
	l := sample.Halves(t)
	k, r := l.Kitchen(t), l.Work(t).Clock
	c, _ := pile.Follow(k)
	clock, found := pile.Clock(k, c, r)
	assert.Empty(t, found)
	assert.InDelta(t, k.Timing.Round, float64(clock.RoundMin), 1e-9)
	assert.LessOrEqual(t, clock.MarginRange[0], clock.MarginRange[1])
	assert.Equal(t, "p", clock.Binding[:1])

	early := *c
	early.StiffMin = k.Timing.Drawn - 5
	_, found = pile.Clock(k, &early, r)
	require.True(t, found.Has(finding.GoesHard))
	assert.Equal(t, "before_drawn", found[0].Case)
	early.StiffMin = k.Timing.Roll
	_, found = pile.Clock(k, &early, r)
	assert.Equal(t, "before_round", found[0].Case)
	assert.True(t, found.Refuses())
	early.RollC = []float64{40, 60, 60, 60}
	_, found = pile.Clock(k, &early, r)
	assert.Equal(t, "part", found[0].Case)
	assert.Equal(t, 1, found[0].Values[0])
	early.StiffMin, early.RollC = math.Inf(1), c.RollC
	clock, _ = pile.Clock(k, &early, r)
	assert.Equal(t, -1.0, float64(clock.StiffMin))
}

// A part must hold its shape until its neighbours cover most of it: the first half longer than the second. One that cannot is turned.
func TestHolds(t *testing.T) {
	l := sample.Halves(t)
	k := l.Kitchen(t)
	h := pile.HoldsOf(k)
	require.Len(t, h.Min, 4)
	assert.Greater(t, h.Min[0], h.Min[1])
	assert.False(t, h.Any() && h.Turned[1] > 0)
	for i := range k.Timing.Laid {
		if i > 0 {
			k.Timing.Laid[i] += 200
		}
	}
	k.Timing.Roll += 200
	h = pile.HoldsOf(k)
	assert.Greater(t, h.Min[0], 150.0)
	assert.True(t, h.Any() || k.Windows.Parts[0].Window.Turned, "nothing holds for hours")
}

// Parts in a block meet those outside it when the block is joined.
func TestBlocksMeetWhenJoined(t *testing.T) {
	l := sample.Pair(t)
	k := l.Kitchen(t)
	h := pile.HoldsOf(k)
	require.Len(t, h.Min, 6)
	c, _ := pile.Follow(k)
	require.NoError(t, c.Check())
	assert.NotNil(t, c.BlockC[0])
}
