package heat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/element"
	"sugarwright/planner/heat"
)

// Windows for a hold of 5 minutes and Tg 35 C, computed from the closed forms by another hand; printed to a degree or half.
func TestWindows(t *testing.T) {
	for _, c := range []struct {
		name      string
		form      element.Form
		thick     float64
		low, high float64
	}{{"strip 3", element.Strip, 3, 60, 74}, {"strip 5", element.Strip, 5, 60, 72}, {"strip 8", element.Strip, 8, 60, 70},
		{"rod 10", element.Rod, 10, 60, 68}, {"rod 20", element.Rod, 20, 60, 65}, {"rod 30", element.Rod, 30, 60, 64}, {"rod 50", element.Rod, 50, 60, 62.5}} {
		t.Run(c.name, func(t *testing.T) {
			w := heat.Of(c.form, c.thick, 0, 400, 5, 35)
			assert.InDelta(t, c.low, w.Low, 0.7)
			assert.InDelta(t, c.high, w.High, 0.7)
		})
	}
}

func TestHeavyPartsAreTurned(t *testing.T) {
	w := heat.Of(element.Rod, 75, 0, 400, 5, 35)
	assert.True(t, w.Turned)
	assert.Greater(t, w.High, w.Low)
}
