package sugar_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/sugar"
)

// WLF with universal constants (Williams, Landel & Ferry; Berk, Food Process Engineering and Technology), rows by T - Tg, derived.
func TestLogEta(t *testing.T) {
	for _, c := range []struct{ d, want float64 }{{0, 12}, {5, 10.459364}, {10, 9.168831}, {20, 7.128492}, {30, 5.588235}, {40, 4.384279}, {50, 3.417323}, {60, 2.623656}, {80, 1.398176}} {
		got, err := sugar.LogEta(35+c.d, 35)
		assert.NoError(t, err)
		assert.InDelta(t, c.want, got, 1e-6)
	}
	got, _ := sugar.LogEta(60, 35)
	assert.InDelta(t, 6.308, got, 1e-3)
}

func TestLogEtaRefusesOutside(t *testing.T) {
	for _, c := range []float64{34, 136} {
		_, err := sugar.LogEta(c, 35)
		assert.ErrorIs(t, err, sugar.ErrRange)
	}
}

func TestTempOfIsTheInverse(t *testing.T) {
	assert.InDelta(t, 55, sugar.TempOf(1.345e7, 35), 0.01)
	assert.InDelta(t, 75, sugar.TempOf(2.4226e4, 35), 0.01)
}
