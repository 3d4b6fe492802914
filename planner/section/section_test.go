package section_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/internal/sample"
	"sugarwright/planner/flow"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
)

// Parts that meet share the points of their border, no edge is longer than a hundredth of the diameter, and what is put back is what was taken.
func TestSection(t *testing.T) {
	l := sample.Halves(t)
	s := section.Log(l.Set, 75)
	assert.Equal(t, 75.0, s.RadiusMM())
	require.Len(t, s.Body.Parts, 4)
	edges := map[[2]int32]int{}
	for i, p := range s.Body.Parts {
		for _, ring := range p.Rings {
			for k, a := range ring {
				b := ring[(k+1)%len(ring)]
				edges[[2]int32{a, b}]++
				assert.LessOrEqual(t, geom.Dist(s.Body.Points[a], s.Body.Points[b]), 0.02+1e-9)
			}
		}
		back := s.Region(p.Rings, s.Body.Points, flow.Outline{A: 1, B: 1})
		assert.InDelta(t, l.Set.Elements[i].True.Area(), back.Area(), 1e-6)
	}
	alone := 0
	for e, n := range edges {
		assert.Equal(t, 1, n)
		if edges[[2]int32{e[1], e[0]}] == 0 {
			alone++
			assert.Greater(t, s.Body.Points[e[0]].Len(), 0.99, "only the rim has no neighbour")
		}
	}
	assert.Greater(t, alone, 100)
	assert.Len(t, s.Blocks, 1)
}

// Corners of blocks that were noded apart lie a hair beside each other or on the neighbour's edge: both take the same points.
func TestNodedApart(t *testing.T) {
	shape := func(p ...geom.TruePoint) geom.Region[geom.TruePoint] { return geom.Region[geom.TruePoint]{p} }
	square := shape(geom.TruePoint{0, 0}, geom.TruePoint{10, 0}, geom.TruePoint{10, 10}, geom.TruePoint{0, 10})
	hair := 4e-4
	upper := shape(geom.TruePoint{10 + hair, 0}, geom.TruePoint{20, 0}, geom.TruePoint{20, 10}, geom.TruePoint{10, 10},
		geom.TruePoint{10 + hair, 5})
	of := &set.Set{Elements: []set.Element{{True: square}, {True: upper}}}
	s := section.Of(of, []int{0, 1}, geom.Circle[geom.TruePoint]{Centre: geom.TruePoint{10, 5}, Radius: 75})
	edges := map[[2]int32]bool{}
	for _, p := range s.Body.Parts {
		for k, a := range p.Rings[0] {
			edges[[2]int32{a, p.Rings[0][(k+1)%len(p.Rings[0])]}] = true
		}
	}
	shared := 0
	for e := range edges {
		if edges[[2]int32{e[1], e[0]}] {
			shared++
		}
	}
	assert.Greater(t, shared, 4, "the border between them is one")
}
