package heat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/heat"
	"sugarwright/planner/sugar"
)

// Windows for a hold of 5 minutes, a bend of 3 seconds and Tg 35 C, computed from the closed forms by another hand;
// printed to a degree or half.
func TestWindows(t *testing.T) {
	for _, c := range []struct {
		name      string
		flat      bool
		thick     float64
		radius    float64
		low, high float64
	}{{"strip 3", true, 3, 0, 60, 74}, {"strip 5", true, 5, 0, 60, 72}, {"strip 8", true, 8, 0, 60, 70},
		{"strip 12 bent to 50", true, 12, 50, 61, 69}, {"strip 20 bent to 50", true, 20, 50, 65, 67},
		{"rod 10", false, 10, 0, 60, 68}, {"rod 20", false, 20, 0, 60, 65}, {"rod 30", false, 30, 0, 60, 64}, {"rod 50", false, 50, 0, 60, 62.5}} {
		t.Run(c.name, func(t *testing.T) {
			w := heat.Limits{TgC: 35, HoldMin: 5, LengthMM: 400, BendS: 3}.Of(c.flat, c.thick, c.radius)
			assert.InDelta(t, c.low, w.Low, 0.7)
			if !w.Turned { // the high ends are those of parts left alone
				assert.InDelta(t, c.high, w.High, 0.7)
			}
		})
	}
}

func TestHeavyPartsAreTurned(t *testing.T) {
	w := heat.Limits{TgC: 35, HoldMin: 5, LengthMM: 400, BendS: 3}.Of(false, 75, 0)
	assert.True(t, w.Turned)
	assert.Greater(t, w.High, w.Low)
}

// A log of 150 mm turned each minute holds to 64 C; left alone for ten it holds at no heat at which it can be worked
// (computed: 57.5 C).
func TestTheLogMustBeTurned(t *testing.T) {
	turned := heat.Limits{TgC: 35, HoldMin: 1, LengthMM: 400}.Of(false, 150, 0)
	assert.InDelta(t, 60, turned.Low, 0.7)
	assert.InDelta(t, 64, turned.High, 0.7)
	assert.InDelta(t, 60, sugar.Workable(35), 0.3)
	still := heat.Limits{TgC: 35, HoldMin: 10, LengthMM: 400}.Of(false, 150, 0)
	assert.True(t, still.Turned)
}

// A shop's own band cuts the window, to nothing if need be.
func TestOwnBand(t *testing.T) {
	l := heat.Limits{TgC: 35, HoldMin: 5, LengthMM: 400, FromC: 62, ToC: 66}
	w := l.Of(false, 10, 0)
	assert.Equal(t, 62.0, w.Low)
	assert.Equal(t, 66.0, w.High)
	l.FromC, l.ToC = 68, 70
	w = l.Of(false, 75, 0)
	assert.Less(t, w.High, w.Low)
}
