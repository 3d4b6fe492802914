package removal_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/blocking"
	"sugarwright/planner/removal"
)

func bits(of ...int) removal.Bits {
	b := removal.NewBits(70)
	for _, i := range of {
		b.Set(i)
	}
	return b
}

func TestBits(t *testing.T) {
	b := bits(1, 68)
	assert.True(t, b.Has(68))
	assert.False(t, b.Has(67))
	assert.True(t, b.Meets(bits(68)))
	assert.False(t, b.Meets(bits(2)))
	assert.True(t, b.Within(bits(1), bits(68)))
	assert.False(t, b.Within(bits(1), bits(2)))
	assert.Equal(t, bits(1, 68).Key(), b.Key())
	assert.NotEqual(t, bits(1).Key(), b.Key())
	b.Remove(bits(68))
	assert.Equal(t, bits(1), b)
}

// A wrap opens when all that is left lies inside it.
func TestUnwraps(t *testing.T) {
	p := removal.Part{Own: bits(0), Inside: bits(1, 2)}
	assert.True(t, p.Unwraps(bits(0, 1, 2)))
	assert.False(t, p.Unwraps(bits(0, 1, 3)))
	assert.False(t, removal.Part{Own: bits(0)}.Unwraps(bits(0)), "no wrap")
}

// A bent strip is bent off while nothing is in its way and more than half of what it lies on is there.
func TestUnbends(t *testing.T) {
	p := removal.Part{Own: bits(0), Way: bits(5), Core: []int{1, 2, 3, -1}}
	assert.True(t, p.Unbends(bits(0, 1, 2, 3)))
	assert.False(t, p.Unbends(bits(0, 1, 2, 3, 5)), "something is in the way")
	assert.False(t, p.Unbends(bits(0, 1, 2)), "half is not more than half")
	assert.False(t, removal.Part{Own: bits(0)}.Unbends(bits(0, 1)), "no strip")
}

// Directions that any other blocks are blocked; once all are, nothing more is asked.
func TestBlocked(t *testing.T) {
	asked := 0
	at := func(j int) blocking.Mask {
		asked++
		return []blocking.Mask{1, 4, blocking.All, 8}[j]
	}
	assert.Equal(t, blocking.Mask(5), removal.Blocked([]int{0, 1}, at))
	assert.Equal(t, blocking.All, removal.Blocked([]int{2, 3}, at))
	assert.Equal(t, 3, asked)
}
