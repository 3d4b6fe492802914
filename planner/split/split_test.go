package split_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/internal/sample"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/split"
)

// batch is a log of a usual length.
var batch = split.Log{LengthMM: 400, Density: func(int) float64 { return 1.3 }}

// drawings of a few regions each, with the forms that hands would choose for what they show (common practice, no source),
// as many parts of the subject as that takes, and how many of them are copies.
var drawings = []struct {
	name, drawing string
	base          recipe.Base
	subject       int
	copies        int
}{
	{"a disc is a rod", `<circle cx="100" cy="100" r="40" fill="#c02030"/>`, recipe.Rod, 1, 0},
	{"a bar is a strip", `<rect x="50" y="85" width="100" height="30" fill="#c02030"/>`, recipe.Strip, 1, 0},
	{
		"a ring round a disc is wrapped",
		`<circle cx="100" cy="100" r="60" fill="#2040a0"/><circle cx="100" cy="100" r="40" fill="#c02030"/>`,
		recipe.Sheet,
		2,
		0,
	},
	{
		"two dots are made once",
		`<circle cx="65" cy="100" r="20" fill="#c02030"/><circle cx="135" cy="100" r="20" fill="#c02030"/>`,
		recipe.Rod,
		2,
		1,
	},
	{"a triangle is three-sided", `<path d="M100 50L145 130L55 130Z" fill="#c02030"/>`, recipe.Triangle, 1, 0},
	{
		"a face",
		`<circle cx="100" cy="100" r="70" fill="#e0b020"/><circle cx="75" cy="80" r="10" fill="#302010"/><circle cx="125" cy="80" r="10" fill="#302010"/><rect x="70" y="120" width="60" height="14" fill="#302010"/>`,
		recipe.Rod,
		4,
		1,
	},
}

// Small drawings are split as hands would: parts tile the section, in the forms that they show; what is alike is made once.
func TestSmallDrawings(t *testing.T) {
	for _, c := range drawings {
		m := sample.Map(t, c.drawing)
		s, found, err := split.Of(m, shop.Default(), batch)
		require.NoError(t, err, c.name)
		require.False(t, found.Refuses(), "%s: %v", c.name, found)
		require.NoError(t, s.Check(math.Pi*sample.DiameterMM*sample.DiameterMM/4), c.name)
		area, subject, copies, formed := 0.0, 0, 0, 0
		for _, e := range s.Elements {
			area += e.True.Area()
			if e.Kind == set.Subject {
				subject++
			}
			if e.CopyOf >= 0 {
				copies++
			}
			if e.Kind == set.Subject && e.Fit.Base == c.base {
				formed++
			}
		}
		assert.InDelta(t, math.Pi*sample.DiameterMM*sample.DiameterMM/4, area, 1, c.name)
		assert.GreaterOrEqual(t, subject, c.subject, c.name)
		assert.GreaterOrEqual(t, copies, c.copies, c.name)
		assert.Positive(t, formed, "%s: %v", c.name, s.Elements[0].Fit)
	}
}

// Two images of a shape are congruent, one of them mirrored; a stretched one is not.
func TestCongruent(t *testing.T) {
	type region = geom.Region[geom.TruePoint]
	ell := region{{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 50}, {0, 50}}}
	turned := geom.Map(ell, func(p geom.TruePoint) geom.TruePoint { return geom.TruePoint{100 - p[1], p[0]} })
	_, mirrored, ok := split.Congruent(ell, turned, 0.5)
	assert.True(t, ok)
	assert.False(t, mirrored)
	_, mirrored, ok = split.Congruent(
		ell,
		geom.Region[geom.TruePoint]{
			geom.Map(ell, func(p geom.TruePoint) geom.TruePoint { return geom.TruePoint{-p[0], p[1]} })[0].Reversed(),
		},
		0.5,
	)
	assert.True(t, ok)
	assert.True(t, mirrored)
	_, _, ok = split.Congruent(ell,
		geom.Map(ell, func(p geom.TruePoint) geom.TruePoint { return geom.TruePoint{1.3 * p[0], p[1]} }), 0.5)
	assert.False(t, ok)
}

// Each constant of the search has its unit and its source.
func TestTuned(t *testing.T) {
	assert.NotEmpty(t, split.Tuned)
}

// BenchmarkSplit of a small face.
// Three letters of bold type, the middle one round and so a little taller than the flat ones: each is a block of its own
// (common practice, no source).
func TestLettersAreBlocks(t *testing.T) {
	letters := `<g fill="#c02030" transform="translate(-15 -15) scale(1.15)"><path d="M20 70h18v24h14v-24h18v60h-18v-22h-14v22h-18z"/>` +
		`<path fill-rule="evenodd" d="M82 90a20 21 0 0 1 40 0v20a20 21 0 0 1 -40 0zM96 90a6 6 0 0 1 12 0v20a6 6 0 0 1 -12 0z"/>` +
		`<path d="M134 70h18v24h14v-24h18v60h-18v-22h-14v22h-18z"/></g>`
	of, found, err := split.Of(sample.Map(t, letters), shop.Default(), batch)
	require.NoError(t, err)
	require.False(t, found.Refuses(), "%v", found)
	assert.True(t, of.Boxed)
	assert.GreaterOrEqual(t, len(of.Blocks), 4, "three letters and the log")
}

func BenchmarkSplit(b *testing.B) {
	m := sample.Map(b, drawings[len(drawings)-1].drawing)
	for b.Loop() {
		if _, _, err := split.Of(m, shop.Default(), batch); err != nil {
			b.Fatal(err)
		}
	}
}
