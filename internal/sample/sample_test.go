package sample

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The hand-made log is whole: its parts cover the disc, its order is one.
func TestHalves(t *testing.T) {
	l := Halves(t)
	assert.NoError(t, l.Set.Check(math.Pi/4*DiameterMM*DiameterMM*(1+1e-9)))
	assert.NoError(t, l.Build.Check(len(l.Set.Elements)))
	assert.Len(t, l.Set.Elements, 4)
	assert.NoError(t, l.Work(t).Check())
	assert.Len(t, l.Kitchen(t).Section.Body.Parts, 4)
}
