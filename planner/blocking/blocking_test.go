package blocking_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/blocking"
)

func rect(x, y, w, h float64) geom.Region[geom.TruePoint] {
	return geom.Region[geom.TruePoint]{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}}
}

// free tells whether part i leaves along d past part j.
func free(t *blocking.Table, i, j int, d geom.Vec) bool {
	for k, o := range t.Dirs {
		if o.Dot(d) > 0.9999 {
			return t.At(i, j)>>k&1 == 0
		}
	}
	return false
}

// A bar in a channel leaves upward only; what is blocked one way is blocked the other way for the other part.
//
//	|U|bar|U|
//	|U+---+U|
//	+-------+
func TestChannel(t *testing.T) {
	channel := geom.Region[geom.TruePoint]{{{0, 0}, {30, 0}, {30, 20}, {20, 20}, {20, 10}, {10, 10}, {10, 20}, {0, 20}}}
	table := blocking.Of([]geom.Region[geom.TruePoint]{channel, rect(10, 10, 10, 10)})
	up, right := geom.Vec{0, 1}, geom.Vec{1, 0}
	assert.True(t, free(table, 1, 0, up))
	assert.False(t, free(table, 1, 0, right))
	assert.False(t, free(table, 1, 0, geom.Vec{0, -1}))
	assert.True(t, free(table, 0, 1, geom.Vec{0, -1}), "the channel leaves downward")
	for k := range blocking.Count / 2 {
		opposite := (k + blocking.Count/2) % blocking.Count
		assert.Equal(t, table.At(1, 0)>>k&1, table.At(0, 1)>>opposite&1, "direction %d", k)
	}
	assert.NotZero(t, table.Touched(1, 0)&table.At(1, 0))
	assert.Equal(t, table.At(1, 0), table.At(1, 0)&table.Touched(1, 0), "two scan lines are one and more")
}

// Parts side by side block each other one way; those that miss each other by more than two scan lines do not.
func TestSideBySide(t *testing.T) {
	table := blocking.Of([]geom.Region[geom.TruePoint]{rect(0, 0, 10, 10), rect(10, 0, 10, 10), rect(10, 10, 10, 10)})
	right := geom.Vec{1, 0}
	assert.False(t, free(table, 0, 1, right))
	assert.True(t, free(table, 1, 0, right))
	assert.True(t, free(table, 0, 2, right), "it passes below")
	same := blocking.Along([]geom.Region[geom.TruePoint]{rect(0, 0, 10, 10)}, table.Dirs)
	assert.Equal(t, table.Dirs, same.Dirs)
	empty := blocking.Along([]geom.Region[geom.TruePoint]{{}}, table.Dirs)
	assert.Zero(t, empty.At(0, 0))
}
