package work_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/work"
)

func count(steps []plan.Step, do plan.Do) (n int) {
	for _, s := range steps {
		if s.Do == do {
			n++
		}
	}
	return n
}

// Each part is made once and laid once, in the order of the build; rolling, drawing and cutting follow; the log is kept while it is drawn.
func TestSteps(t *testing.T) {
	l := sample.Halves(t)
	w := l.Work(t)
	require.NoError(t, w.Check())
	assert.Equal(t, plan.DoPour, w.Steps[0].Do)
	assert.Equal(t, 4, count(w.Steps, plan.DoMake))
	assert.Equal(t, 2, count(w.Steps, plan.DoLay))
	assert.Equal(t, 2, count(w.Steps, plan.DoWrap))
	assert.Equal(t, plan.DoCut, w.Steps[len(w.Steps)-1].Do)
	assert.Less(t, w.Timing.Laid[0], w.Timing.Laid[1])
	assert.Less(t, w.Timing.Laid[3], w.Timing.Roll+1e-9)
	for i := range l.Set.Elements {
		assert.LessOrEqual(t, w.Made[i].Start+w.Made[i].Minutes, w.Laid[i].Start+1e-9)
	}
	for _, s := range w.Steps {
		if s.Do == plan.DoDivide {
			assert.Equal(t, 2, s.Lumps)
		}
		if s.Do == plan.DoLay {
			assert.Equal(t, "log", s.Block)
		}
	}
	w.Steps[0].Number = 7
	assert.Error(t, w.Check())
	w.Steps = w.Steps[:3]
	w.Steps[0].Number = 1
	assert.Error(t, w.Check())
}

// Copies are made in one piece and chopped; acid and packs have their steps; with one pair of hands all takes longer.
func TestCopiesExtrasAndHands(t *testing.T) {
	l := sample.Halves(t)
	two := l.Work(t)
	l.Set.Elements[1].CopyOf, l.Set.Elements[1].Number = 0, 1
	l.Set.Elements[2].Number, l.Set.Elements[3].Number = 2, 3
	task := l.Task(t)
	task.Extras, task.Packed = true, true
	w, found, err := work.Of(task, nil)
	require.NoError(t, err)
	require.False(t, found.Refuses())
	assert.Equal(t, 1, count(w.Steps, plan.DoChop))
	assert.Equal(t, 3, count(w.Steps, plan.DoMake))
	assert.Equal(t, 1, count(w.Steps, plan.DoFlavour))
	assert.Equal(t, 1, count(w.Steps, plan.DoPack))

	l = sample.Halves(t)
	l.Shop.Crew = 1
	assert.Greater(t, l.Work(t).Clock.End, two.Clock.End)
}

// A log that takes longer than the clock allows is refused with the busiest place; so is one with more parts than the crew makes, by a warning.
func TestTooLong(t *testing.T) {
	l := sample.Halves(t)
	l.Shop.ClockMin, l.Shop.MostDistinct = 10, 2
	w, found, err := work.Of(l.Task(t), nil)
	require.NoError(t, err)
	require.NotNil(t, w)
	assert.True(t, found.Has(finding.TooLong))
	assert.True(t, found.Has(finding.TooManyParts))
	at, parts, minutes := work.Busiest(l.Set, l.Shop, func(int) float64 { return 100 })
	assert.Equal(t, 2, parts)
	assert.Greater(t, minutes, 1.0)
	assert.Equal(t, [2]float64(l.Set.Elements[0].Inside()), at)
}

// A day that is just too short: what brings the log within it is named, with minutes that are within it; a day that nothing
// brings it within names nothing. Fewer kilograms take less.
func TestFrees(t *testing.T) {
	l := sample.Halves(t)
	day := func(clock float64) []string {
		l.Shop.ClockMin = clock
		_, found, err := work.Of(l.Task(t), nil)
		require.NoError(t, err)
		if len(found.Errors()) == 0 {
			return nil
		}
		return found.Errors()[0].Values[5].([]string)
	}
	full := l.Work(t).Timing
	ways := day(full.Round - full.Apart - 0.5)
	require.NotEmpty(t, ways)
	for _, w := range ways {
		f := strings.Fields(w)
		minutes, err := strconv.ParseFloat(f[len(f)-1], 64)
		require.NoError(t, err)
		assert.LessOrEqual(t, minutes, math.Ceil(full.Round-full.Apart-0.5), w)
	}
	assert.Contains(t, strings.Join(ways, "; "), work.FreeLighter)
	assert.Empty(t, day(2))
}

// Minutes follow kilograms: nothing from the pour to the last length takes less of a heavier log, and pulling is in loads;
// every step but sorting and packing has its heat.
func TestKilograms(t *testing.T) {
	l := sample.Halves(t)
	minutes := func(length float64) map[plan.Do]float64 {
		task := l.Task(t)
		task.LengthMM = length
		w, _, err := work.Of(task, nil)
		require.NoError(t, err)
		out := map[plan.Do]float64{}
		for _, s := range w.Steps {
			out[s.Do] += float64(s.Minutes)
			if s.Do != plan.DoCut && s.Do != plan.DoPack && s.Do != plan.DoRound && s.Do != plan.DoDraw && s.Do != plan.DoKeep && s.Do != plan.DoLengths {
				assert.NotNil(t, s.AtC, s.Do)
			}
		}
		return out
	}
	light, heavy := minutes(200), minutes(600)
	for do, m := range light {
		assert.GreaterOrEqual(t, heavy[do], m-1e-9, do)
	}
	for _, do := range []plan.Do{plan.DoPour, plan.DoColour, plan.DoPull, plan.DoMake, plan.DoWrap, plan.DoRound, plan.DoDraw} {
		assert.Greater(t, heavy[do], light[do], do)
	}
}

// Lengths are cut while the next are drawn, and the last a minute after.
func TestLengths(t *testing.T) {
	w := sample.Halves(t).Work(t)
	var draw, lengths plan.Step
	for _, s := range w.Steps {
		switch s.Do {
		case plan.DoDraw:
			draw = s
		case plan.DoLengths:
			lengths = s
		}
	}
	assert.Greater(t, lengths.StartMin, draw.StartMin)
	assert.Less(t, lengths.StartMin, draw.StartMin+draw.Minutes)
	assert.InDelta(t, float64(draw.StartMin+draw.Minutes)+1, float64(lengths.StartMin+lengths.Minutes), 1e-6)
}

// In the cold, parts cannot wait until they are laid: the steps that cannot follow each other are named, and what would free them.
func TestForbidden(t *testing.T) {
	l := sample.Halves(t)
	l.Shop.WarmC, l.Shop.AirC, l.Shop.AirW = 0, -60, 9000
	l.Set.Elements[1].CopyOf, l.Set.Elements[1].Number = 0, 1
	w, found, err := work.Of(l.Task(t), nil)
	require.NoError(t, err)
	assert.Nil(t, w)
	require.True(t, found.Has(finding.NoSchedule))
	f := found.Errors()[0]
	require.Len(t, f.Values, 3)
	assert.NotEmpty(t, f.Values[1])
	assert.Contains(t, f.Values[2], work.FreeWarm)
	assert.NotNil(t, f.AtMM)
}

// A part that is found to need turning has it in its step; where turning takes minutes the second round puts them on the clock.
func TestSecondRound(t *testing.T) {
	l := sample.Halves(t)
	w := l.Work(t)
	turned := []float64{0, 6, 0, 0}
	again, found, err := w.Turned(turned)
	require.NoError(t, err)
	assert.Empty(t, found)
	assert.Equal(t, w.Clock, again.Clock, "turning in passing takes no time")
	says := 0
	for i, s := range again.Steps {
		if s.TurnIt && !w.Steps[i].TurnIt {
			says++
			assert.Equal(t, []string{"p2"}, s.Parts)
		}
	}
	assert.Equal(t, 1, says)

	l.Shop.Minutes.TurnPart = 4 // more than the wait for the white
	w = l.Work(t)
	again, _, err = w.Turned(turned)
	require.NoError(t, err)
	assert.Greater(t, again.Timing.Roll, w.Timing.Roll+0.5)
}

// A block that is built with another has no steps of its own: those of the first cover its parts.
func TestBlockMadeWithAnother(t *testing.T) {
	l := sample.Pair(t)
	w := l.Work(t)
	require.NoError(t, w.Check())
	var covered []string
	for _, s := range w.Steps {
		assert.NotEqual(t, "block2", s.Block)
		covered = append(covered, s.Covers...)
	}
	assert.Equal(t, []string{"p1.2", "p2.2"}, covered)
	assert.Equal(t, w.Timing.Done[0], w.Timing.Done[1])
	assert.Equal(t, set.Subject, l.Set.Elements[0].Kind)
}

// Half of a log never closes later, and one more pair of hands never closes it later.
func TestNeverLater(t *testing.T) {
	l := sample.Halves(t)
	closes := func(length float64, crew int) float64 {
		l.Shop.Crew = crew
		task := l.Task(t)
		task.LengthMM, task.Pieces = length, 7.5*length
		w, _, err := work.Of(task, nil)
		require.NoError(t, err)
		return w.Timing.Roll
	}
	for _, length := range []float64{200, 300, 400, 600} {
		for crew := 1; crew <= 3; crew++ {
			assert.LessOrEqual(t, closes(length/2, crew), closes(length, crew)+1e-6, "%g mm, %d", length, crew)
			assert.LessOrEqual(t, closes(length, crew+1), closes(length, crew)+1e-6, "%g mm, %d", length, crew)
		}
	}
}
