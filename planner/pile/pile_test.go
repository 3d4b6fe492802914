package pile_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/pile"
	"sugarwright/planner/sugar"
	"sugarwright/planner/work"
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
	k, r := l.Kitchen(t), l.Work(t)
	c, _ := pile.Follow(k)
	clock, found := pile.Clock(k, c, r)
	assert.Empty(t, found)
	assert.InDelta(t, k.Timing.Round, float64(clock.RoundMin), 1e-9)
	assert.LessOrEqual(t, clock.MarginRange[0], clock.MarginRange[1])
	assert.Equal(t, "p", clock.Binding[:1])
	// One minute to close by, and one for the last length, as much later than planned as the coolest surroundings leave.
	spare := math.Min(c.EarliestMin, k.Timing.Drawn+20) - k.Timing.Drawn
	assert.InDelta(t, k.Timing.Roll+spare, float64(clock.CloseByMin), 1e-6)
	assert.InDelta(t, k.Timing.Drawn+spare, float64(clock.LastLengthByMin), 1e-6)
	assert.GreaterOrEqual(t, len(clock.Milestones), 6)
	for i, m := range clock.Milestones {
		assert.GreaterOrEqual(t, m.ByMin, m.AtMin, m.What)
		if i > 0 && m.What != "colours-kneaded" && m.What != "off-the-hook" && m.What != "first-part-laid" { // the white may come after
			assert.GreaterOrEqual(t, m.AtMin, clock.Milestones[i-1].AtMin, m.What)
		}
	}
	assert.InDelta(t, 25, float64(clock.Slower.Percent), 0)

	early := *c
	early.StiffMin, early.EarliestMin = k.Timing.Drawn-5, k.Timing.Drawn-8
	_, found = pile.Clock(k, &early, r)
	require.True(t, found.Has(finding.GoesHard))
	assert.Contains(t, []string{"before_drawn", "nothing_frees"}, found[0].Case)
	assert.InDelta(t, 8, found[0].Values[1], 1e-6)
	early.StiffMin = k.Timing.Roll
	_, found = pile.Clock(k, &early, r)
	assert.Equal(t, "before_round", found[0].Case)
	assert.True(t, found.Refuses())
	early.RollC = []float64{40, 60, 60, 60}
	_, found = pile.Clock(k, &early, r)
	assert.Equal(t, "part", found[0].Case)
	assert.Equal(t, 1, found[0].Values[0])
	early.StiffMin, early.EarliestMin, early.RollC = math.Inf(1), c.EarliestMin, c.RollC
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

// Dents of 1.3, 2.5, 4.6 and 8.3 mm are 2, 4, 6 and 8 K above the heat at which the log is too stiff, whose dent is 0.65 mm (the
// design's derived table: a decade of viscosity is about 7 K there); and minutes are those of an exponential.
func TestDents(t *testing.T) {
	l := sample.Halves(t)
	k := l.Kitchen(t)
	stiff := sugar.Workable(l.Shop.TgC)
	assert.InDelta(t, 0, pile.DentC(0.65, l.Shop.TgC)-stiff, 0.1)
	for above, mm := range map[float64]float64{2: 1.3, 4: 2.5, 6: 4.6, 8: 8.3} {
		assert.InDelta(t, above, pile.DentC(mm, l.Shop.TgC)-stiff, 0.35, mm)
	}
	// 46 minutes to the e-th part, 5 K below the limit: 1 mm is 1.3 K above it.
	rows := k.Dents(&pile.Cooling{ToC: stiff - 5, Tau: 46})
	require.Len(t, rows, 5)
	assert.InDelta(t, 46*math.Log((pile.DentC(1, l.Shop.TgC)-stiff+5)/5), float64(rows[0].Minutes), 1e-6)
	for i, r := range rows {
		assert.True(t, i == 0 || r.Minutes >= rows[i-1].Minutes)
		assert.LessOrEqual(t, float64(r.Minutes), 60.0)
	}
}

// One per cent more sugar moves the minute to close by less than one.
func TestCloseByIsSteady(t *testing.T) {
	l := sample.Halves(t)
	by := func(length float64) float64 {
		task := l.Task(t)
		task.LengthMM, task.Pieces = length, 7.5*length
		w, _, err := work.Of(task, nil)
		require.NoError(t, err)
		k := l.Kitchen(t)
		k.Timing = w.Timing
		c, _ := pile.Follow(k)
		clock, _ := pile.Clock(k, c, w)
		return float64(clock.CloseByMin)
	}
	for _, length := range []float64{250, 400, 550} {
		assert.InDelta(t, by(length), by(1.01*length), 1, "%g mm", length)
	}
}
