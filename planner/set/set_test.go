package set_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/sample"
	"sugarwright/planner/build"
	"sugarwright/planner/set"
)

// P1 and the structure: a set that lacks area, or whose parts lie in no block or in two, is refused.
func TestCheck(t *testing.T) {
	area := math.Pi / 4 * sample.DiameterMM * sample.DiameterMM
	assert.NoError(t, sample.Halves(t).Set.Check(area))
	assert.ErrorContains(t, sample.Halves(t).Set.Check(1.01*area), "internal: elements cover")
	for name, spoil := range map[string]func(s *set.Set){
		"lost":         func(s *set.Set) { s.Blocks[0].Elements = s.Blocks[0].Elements[1:] },
		"twice":        func(s *set.Set) { s.Blocks[0].Elements = append(s.Blocks[0].Elements, 0) },
		"turned round": func(s *set.Set) { s.Elements[0].True[0] = s.Elements[0].True[0].Reversed() },
		"loose block":  func(s *set.Set) { s.Blocks = append([]set.Block{{}}, s.Blocks...) },
	} {
		s := sample.Halves(t).Set
		spoil(s)
		assert.Error(t, s.Check(area), name)
	}
}

// Names: parts by number, copies after them, blocks by their place, the log last.
func TestNames(t *testing.T) {
	s := sample.Pair(t).Set
	var ids []string
	for i := range s.Elements {
		ids = append(ids, s.ID(i))
	}
	assert.Equal(t, []string{"p1", "p2", "p1.2", "p2.2", "p3", "p4"}, ids)
	assert.Equal(t, []string{"p1", "p1.2"}, s.AlikeIDs(0))
	assert.Equal(t, []int{1, 1, 0, 0, 0, 0}, s.Copies())
	assert.Equal(t, "block2", s.Name(1))
	assert.Equal(t, "log", s.Name(2))
	assert.Equal(t, 4, s.Distinct())
	assert.Equal(t, 0, s.Origin(2))
	assert.Equal(t, []int{4, 5, 0, 1, 2, 3}, s.Inside(2))
	assert.Equal(t, 2, s.Holder(0))
	assert.Equal(t, 2, s.Holder(2))
	assert.Equal(t, []int{-1, 0, -1}, s.BlockCopies())
	assert.InDelta(t, 2*24*0.5625, s.Thickness(0), 0.1, "a disc of radius 24 user units")
	assert.Equal(t, s.Elements[1].True, s.Shape(build.Part{Element: 1, Block: -1}))
	assert.Equal(t, s.Blocks[0].Outline, s.Shape(build.Part{Element: -1, Block: 0}))
	assert.Equal(t, "spacer", set.Spacer.String())
	assert.True(t, s.Elements[0].True.Contains(s.Elements[0].Inside()))
}

// Blocks of the same parts put together otherwise are not made together.
func TestBlocksThatDiffer(t *testing.T) {
	s := sample.Pair(t).Set
	s.Elements[3].CopyOf = -1
	assert.Equal(t, []int{-1, -1, -1}, s.BlockCopies())
	s = sample.Pair(t).Set
	for i := range s.Elements[3].True[0] {
		s.Elements[3].True[0][i][0] += 3
	}
	assert.Equal(t, []int{-1, -1, -1}, s.BlockCopies())
}

// The gap is nothing when proved, else how much cheaper the cheapest could be.
func TestGap(t *testing.T) {
	assert.Zero(t, (&set.Set{Proved: true, Price: 10, Bound: 2}).Gap())
	assert.InDelta(t, 0.8, (&set.Set{Price: 10, Bound: 2}).Gap(), 1e-9)
}
