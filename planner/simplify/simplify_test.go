package simplify_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/internal/sample"
	"sugarwright/planner/check"
	"sugarwright/planner/shop"
	"sugarwright/planner/simplify"
)

// willing is a judge to whom every map that is within the limits can be built.
func willing(*partition.Map) (simplify.Built, error) { return simplify.Built{OK: true}, nil }

// What the shop's limits refuse is grown, given up or closed; then the limits hold, and each change has its number,
// places and kind. A drawing within the limits has no change.
func TestLimits(t *testing.T) {
	s := shop.Default()
	for name, drawing := range map[string]string{
		"thin line":  `<circle cx="100" cy="100" r="50" fill="#e0b020"/><rect x="70" y="99" width="60" height="3" fill="#a00000"/>`,
		"dot":        `<circle cx="100" cy="100" r="50" fill="#e0b020"/><circle cx="100" cy="100" r="4" fill="#a00000"/>`,
		"dots":       `<circle cx="100" cy="100" r="60" fill="#e0b020"/><circle cx="80" cy="80" r="5" fill="#a00000"/><circle cx="120" cy="80" r="5" fill="#a00000"/><path d="M60 120L140 122L100 124Z" fill="#2040a0"/><rect x="96" y="30" width="4" height="40" fill="#208040"/>`,
		"rim":        `<circle cx="100" cy="100" r="50" fill="#e0b020"/><circle cx="100" cy="100" r="51" fill="none" stroke="#a00000" stroke-width="2"/><path d="M100 60L103 90L100 92L97 90Z" fill="#a00000"/>`,
		"narrow gap": `<rect x="40" y="60" width="120" height="38" fill="#a00000"/><rect x="40" y="101" width="120" height="38" fill="#a00000"/>`,
		"counter":    `<circle cx="100" cy="100" r="50" fill="#a00000"/><rect x="85" y="98" width="30" height="3" fill="#ffffff"/>`,
	} {
		m := sample.Map(t, drawing)
		before, err := check.Limits(m, s, nil)
		require.NoError(t, err)
		require.NotEmpty(t, before, name)
		r, err := simplify.Of(m, s, willing, nil)
		require.NoError(t, err, name)
		require.NotNil(t, r.Map, name)
		after, err := check.Limits(r.Map, s, nil)
		require.NoError(t, err)
		assert.Empty(t, after, name)
		require.NotEmpty(t, r.Changes, name)
		assert.True(t, r.Passes, name)
		for _, c := range r.Changes {
			assert.NotEmpty(t, c.Places, name)
			assert.NotEmpty(t, c.Keys, name)
			assert.NotEmpty(t, c.Kind.String(), name)
			assert.Positive(t, c.Area, name)
		}
	}
}

// What is refused is not done again; the next best is.
func TestRefused(t *testing.T) {
	s := shop.Default()
	m := sample.Map(t,
		`<circle cx="100" cy="100" r="50" fill="#e0b020"/><circle cx="100" cy="100" r="4" fill="#a00000"/>`)
	first, err := simplify.Of(m, s, willing, nil)
	require.NoError(t, err)
	refused := map[simplify.Key]bool{}
	for _, c := range first.Changes {
		for _, k := range c.Keys {
			refused[k] = true
		}
	}
	next, err := simplify.Of(m, s, willing, refused)
	require.NoError(t, err)
	for _, c := range next.Changes {
		for _, k := range c.Keys {
			assert.False(t, refused[k], "%v", k)
		}
	}
}

// A judge for whom there is too much work gets ever fewer features, least seen first; what is left out is said to save
// minutes. A judge who is never content ends the search.
func TestWork(t *testing.T) {
	s := shop.Default()
	drawing := `<circle cx="100" cy="100" r="75" fill="#e0b020"/>`
	for _, at := range []string{"60,70", "100,60", "140,70", "60,110", "140,110", "100,145"} {
		drawing += `<path transform="translate(` + at + `) scale(.9)" d="M-12 -8h8v-8h8v8h8v8h-8v8h-8v-8h-8z" fill="#a00000"/>`
	}
	m := sample.Map(t, drawing)
	least := simplify.Guess(m)
	require.Greater(t, least, 10.0)
	r, err := simplify.Of(m, s, func(m *partition.Map) (simplify.Built, error) {
		over := simplify.Guess(m) - 0.6*least
		return simplify.Built{OK: over <= 0, Over: over, Places: []geom.TruePoint{{0, 0}}}, nil
	}, nil)
	require.NoError(t, err)
	require.True(t, r.Passes)
	assert.Less(t, simplify.Guess(r.Map), least)
	saves := 0.0
	for _, c := range r.Changes {
		saves += c.Saves
	}
	assert.Positive(t, saves)
	asked := 0
	r, err = simplify.Of(m, s, func(*partition.Map) (simplify.Built, error) {
		asked++
		return simplify.Built{Over: 5, Places: []geom.TruePoint{{0, 0}}}, nil
	}, nil)
	require.NoError(t, err)
	assert.False(t, r.Passes)
	assert.Less(t, asked, 60)
}
