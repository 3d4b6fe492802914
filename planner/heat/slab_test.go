package heat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/heat"
)

// Minutes from the pour to 95, 75 and 70 C on 0.7 m2 at 22 C, beside a layered one-dimensional run of the same sheet
// (sugar in 16 layers, slab in 6; from the design): within a quarter or a minute and a half.
func TestSlab(t *testing.T) {
	for _, c := range []struct {
		stone  string
		cooled bool
		kg     float64
		want   [3]float64
	}{
		{"steel", false, 3, [3]float64{1.9, 5.1, 6.2}},
		{"steel", false, 4, [3]float64{1.9, 5.2, 6.5}},
		{"steel", false, 6, [3]float64{1.9, 5.8, 7.3}},
		{"steel", false, 9, [3]float64{2.7, 8.9, 11.9}},
		{"steel", true, 4, [3]float64{1.6, 3.8, 4.6}},
		{"steel", true, 13, [3]float64{4.6, 9.1, 10.4}},
		{"marble", false, 9, [3]float64{3.2, 8.1, 9.8}},
		{"granite", false, 4, [3]float64{2.2, 6.1, 7.4}},
	} {
		s := heat.Slab{AreaM2: 0.7, StartC: 22, Stone: c.stone, Cooled: c.cooled}
		got := s.Cooling(c.kg, 143, []float64{95, 75, 70})
		for i, w := range c.want {
			assert.InDelta(t, w, got[i], max(1.5, w/4), "%s %v, %g kg: %v", c.stone, c.cooled, c.kg, got)
		}
		t.Logf("%s %v %g kg: %.1f %.1f %.1f for %v", c.stone, c.cooled, c.kg, got[0], got[1], got[2], c.want)
	}
}

// More sugar, a smaller or a warmer slab take longer; water less.
func TestSlabIsMonotone(t *testing.T) {
	at := func(s heat.Slab, kg float64) float64 { return s.Cooling(kg, 143, []float64{75})[0] }
	s := heat.Slab{AreaM2: 0.7, StartC: 22, Stone: "steel"}
	was := 0.0
	for _, kg := range []float64{2, 4, 6, 9, 11, 13} {
		now := at(s, kg)
		assert.GreaterOrEqual(t, now, was, "%g kg", kg)
		was = now
	}
	small, warm, cooled := s, s, s
	small.AreaM2, warm.StartC, cooled.Cooled = 0.4, 45, true
	assert.Greater(t, at(small, 9), at(s, 9))
	assert.Greater(t, at(warm, 9), at(s, 9))
	assert.Less(t, at(cooled, 9), at(s, 9))
}
