package layup_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/internal/sample"
	"sugarwright/planner/build"
	"sugarwright/planner/layup"
	"sugarwright/planner/replay"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/split"
)

// A log put together by hand is ordered, and the order stands by the replay, which shares no code with it; the wraps come
// last.
func TestHandMade(t *testing.T) {
	for _, l := range []*sample.Log{sample.Ringed(t)} {
		b, found, err := layup.Proven(l.Set)
		require.NoError(t, err)
		require.False(t, found.Refuses(), found)
		require.Len(t, b.Blocks, len(l.Set.Blocks))
		for i, entries := range b.Blocks {
			assert.Len(t, entries, len(l.Set.Blocks[i].Elements)+len(l.Set.Blocks[i].Blocks))
			assert.Equal(t, build.First, entries[0].Move)
		}
		last := b.Blocks[len(b.Blocks)-1]
		assert.Equal(t, build.Wrap, last[len(last)-1].Move)
		assert.Nil(t, replay.Prove(b, l.Set.Shape, replay.TrueGive))
	}
}

// A disc in halves: what may not come from one side comes from another, and when nothing may, that is said.
func TestRefused(t *testing.T) {
	l := sample.Halves(t)
	b, found := layup.Of(l.Set, layup.Refused{})
	require.False(t, found.Refuses())
	e := b.Blocks[0][1]
	refused := layup.Refused{}
	refused.Add(e.Part, e.Direction)
	again, found := layup.Of(l.Set, refused)
	require.False(t, found.Refuses())
	if n := again.Blocks[0][1]; n.Part == e.Part {
		assert.NotEqual(t, e.Direction, n.Direction)
	}
	for range 400 {
		again, found = layup.Of(l.Set, refused)
		if found.Refuses() {
			break
		}
		for _, x := range again.Blocks[0] {
			if x.Move == build.Lay {
				refused.Add(x.Part, x.Direction)
			}
		}
	}
	assert.True(t, found.Refuses(), "every way was refused")
}

// batch is a log of a usual length.
var batch = split.Log{LengthMM: 400, Density: func(int) float64 { return 1.3 }}

// Drawings with parts in pockets, wedges round a middle and islands are ordered; the replay agrees.
func TestSmallDrawings(t *testing.T) {
	for name, drawing := range map[string]string{
		"bar in a block": `<rect x="55" y="55" width="90" height="90" fill="#c02030"/><rect x="85" y="85" width="30" height="30" fill="#2040a0"/>`,
		"cross":          `<path d="M85 40h30v45h45v30h-45v45h-30v-45h-45v-30h45z" fill="#c02030"/>`,
		"quarters":       `<path d="M100 100V45A55 55 0 0 1 155 100Z" fill="#c02030"/><path d="M100 100H155A55 55 0 0 1 100 155Z" fill="#2040a0"/><path d="M100 100V155A55 55 0 0 1 45 100Z" fill="#c02030"/><path d="M100 100H45A55 55 0 0 1 100 45Z" fill="#2040a0"/>`,
		"dots":           `<circle cx="70" cy="80" r="16" fill="#c02030"/><circle cx="130" cy="80" r="16" fill="#c02030"/><circle cx="100" cy="130" r="16" fill="#2040a0"/>`,
	} {
		s, found, err := split.Of(sample.Map(t, drawing), shop.Default(), batch)
		require.NoError(t, err, name)
		require.False(t, found.Refuses(), "%s: %v", name, found)
		b, found, err := layup.Proven(s)
		require.NoError(t, err, name)
		require.False(t, found.Refuses(), "%s: %v", name, found)
		assert.Nil(t, replay.Prove(b, s.Shape, replay.TrueGive), name)
		for _, entries := range b.Blocks {
			for _, e := range entries {
				if e.Move == build.Lay {
					assert.InDelta(t, 1, e.Direction.Len(), 1e-6)
				}
				assert.NotEqual(t, e.Part.Element < 0, e.Part.Block < 0, "an element or a block")
			}
		}
	}
}

// BenchmarkLayup of four quarters.
func BenchmarkLayup(b *testing.B) {
	s, _, err := split.Of(
		sample.Map(b,
			`<circle cx="70" cy="80" r="16" fill="#c02030"/><circle cx="130" cy="80" r="16" fill="#2040a0"/>`),
		shop.Default(),
		batch,
	)
	require.NoError(b, err)
	for b.Loop() {
		layup.Of(s, layup.Refused{})
	}
}

// Blocks are put in the order in which they are done, and each part stays where it was laid; what is in order stays as it is.
func TestInOrder(t *testing.T) {
	ring := func(x float64) geom.Region[geom.TruePoint] {
		return geom.Region[geom.TruePoint]{{{x, 0}, {x + 1, 0}, {x + 1, 1}, {x, 1}}}
	}
	s := &set.Set{Blocks: []set.Block{{Elements: []int{0}}, {Elements: []int{1}}, {Elements: []int{2}, Blocks: []int{0, 1}}}}
	for i := range 3 {
		s.Elements = append(s.Elements, set.Element{Block: i, CopyOf: -1, True: ring(float64(i))})
	}
	b := &build.Build{Blocks: [][]build.Entry{
		{{Part: build.Part{Element: 0}}}, {{Part: build.Part{Element: 1}}},
		{{Part: build.Part{Element: 2}}, {Part: build.Part{Element: -1, Block: 0}}, {Part: build.Part{Element: -1, Block: 1}}},
	}}
	_, _, changed := layup.InOrder(s, b, []float64{1, 2, 3})
	assert.False(t, changed)
	after, order, changed := layup.InOrder(s, b, []float64{2, 1, 3})
	require.True(t, changed)
	require.Len(t, after.Blocks, 3)
	assert.Equal(t, ring(1), after.Elements[after.Blocks[0].Elements[0]].True, "the block that is done first is the first")
	assert.Equal(t, 1, after.Elements[after.Blocks[0].Elements[0]].Number)
	assert.Equal(t, []int{1, 0}, after.Blocks[2].Blocks)
	assert.Equal(t, 1, order.Blocks[2][1].Block)
	assert.Equal(t, 0, order.Blocks[2][2].Block)
	for i, e := range after.Elements {
		assert.Contains(t, after.Blocks[e.Block].Elements, i)
	}
}
