package simplify_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/internal/sample"
	"sugarwright/planner/check"
	"sugarwright/planner/shop"
	"sugarwright/planner/simplify"
)

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
		r, err := simplify.New(m, s, nil).Draw(simplify.Near)
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
	first, err := simplify.New(m, s, nil).Draw(simplify.Near)
	require.NoError(t, err)
	refused := map[simplify.Key]bool{}
	for _, c := range first.Changes {
		for _, k := range c.Keys {
			refused[k] = true
		}
	}
	next, err := simplify.New(m, s, refused).Draw(simplify.Near)
	require.NoError(t, err)
	for _, c := range next.Changes {
		for _, k := range c.Keys {
			assert.False(t, refused[k], "%v", k)
		}
	}
}

// A drawing for sweets has less work in it than the drawing, a bold one less still; what is left out is said to save minutes.
// A pair of dots in a face stays whatever else goes.
func TestStyles(t *testing.T) {
	s := shop.Default()
	drawing := `<circle cx="100" cy="100" r="75" fill="#e0b020"/><circle cx="75" cy="90" r="9" fill="#202020"/><circle cx="125" cy="90" r="9" fill="#202020"/>`
	for i, at := range []string{"60,60", "100,50", "140,60", "60,125", "140,125", "100,150", "100,120"} {
		drawing += fmt.Sprintf(`<path transform="translate(%s) scale(.%d)" d="M-12 -8h8v-8h8v8h8v8h-8v8h-8v-8h-8z" fill="#a00000"/>`, at, 60+5*i)
	}
	m := sample.Map(t, drawing)
	e := simplify.New(m, s, nil)
	least := simplify.Guess(m)
	require.Greater(t, least, 10.0)
	var last *simplify.Result
	for _, style := range []simplify.Style{simplify.Sweets, simplify.Bold} {
		r, err := e.Draw(style)
		require.NoError(t, err)
		require.True(t, r.Passes)
		assert.Less(t, simplify.Guess(r.Map), least)
		least = simplify.Guess(r.Map)
		saves := 0.0
		for _, c := range r.Changes {
			saves += c.Saves
		}
		assert.Positive(t, saves)
		eyes := 0
		for _, region := range r.Map.Regions {
			if r.Map.Colours[region.Colour].RGB == (artwork.RGB{0x20, 0x20, 0x20}) {
				eyes++
			}
		}
		assert.Equal(t, 2, eyes)
		last = r
	}
	plainer, ok, err := e.Plainer(last, nil, 0, 0)
	require.NoError(t, err)
	require.True(t, ok)
	assert.Less(t, simplify.Guess(plainer.Map), least)
}

// A part that hands do not make takes the form that is near it.
func TestForm(t *testing.T) {
	s := shop.Default()
	m := sample.Map(t, `<circle cx="100" cy="100" r="75" fill="#e0b020"/><path d="M85 91C95 88 105 88 115 91L116 108C105 112 95 113 85 109Z" fill="#a00000"/>`)
	red := slices.IndexFunc(m.Colours, func(c partition.Colour) bool { return c.RGB == artwork.RGB{0xa0, 0, 0} })
	e := simplify.New(m, s, nil)
	r, err := e.Draw(simplify.Near)
	require.NoError(t, err)
	require.Empty(t, r.Changes)
	var part partition.Region
	for _, region := range m.Regions {
		if region.Colour == red {
			part = region
		}
	}
	box := part.Shape.Bound()
	form := geom.Ring[geom.TruePoint]{geom.TruePoint(box.Min), {box.Max[0], box.Min[1]}, geom.TruePoint(box.Max), {box.Min[0], box.Max[1]}}
	r, ok, err := e.Plainer(r, []simplify.Failed{{Colour: red, Shape: part.Shape, Form: form}}, 0, 0)
	require.NoError(t, err)
	require.True(t, ok)
	require.Len(t, r.Changes, 1)
	assert.Equal(t, simplify.Plainer, r.Changes[0].Kind)
	for _, region := range r.Map.Regions {
		if region.Colour == red {
			assert.InDelta(t, form.Area(), region.Area, 1)
		}
	}
}

// regions of a colour in a map.
func regions(m *partition.Map, rgb artwork.RGB) (out []partition.Region) {
	for _, r := range m.Regions {
		if !r.Jacket && m.Colours[r.Colour].RGB == rgb {
			out = append(out, r)
		}
	}
	return out
}

// An outline goes all round, and the stem that was drawn with the same pen stays (common practice, no source: cherries without
// stems are balls).
func TestStem(t *testing.T) {
	dark := artwork.RGB{0x30, 0x30, 0x30}
	m := sample.Map(t, `<g fill="#d02020" stroke="#303030" stroke-width="3"><circle cx="70" cy="130" r="38"/><circle cx="135" cy="135" r="34"/></g>
		<path d="M70 92C80 60 100 45 130 32M135 101C138 75 135 55 130 32" fill="none" stroke="#303030" stroke-width="4"/><path d="M120 20h50v25h-50z" fill="#20a040" stroke="#303030" stroke-width="3"/>`)
	e := simplify.New(m, shop.Default(), nil)
	for _, style := range []simplify.Style{simplify.Sweets, simplify.Other} {
		r, err := e.Draw(style)
		require.NoError(t, err)
		stems := 0.0
		for _, s := range regions(r.Map, dark) {
			stems += s.Area
		}
		round := false // is the outline there?
		for _, s := range regions(r.Map, dark) {
			round = round || s.Shape.Contains(m.Frame.ToTrue.Point(geom.ArtworkPoint{32, 130}))
		}
		if r.Passes && !round {
			assert.Greater(t, stems, 100.0)
			return
		}
	}
	t.Error("no drawing without its outline")
}

// Of many spots some stay, spread as all were; what lies under a pair of eyes stays too, and a whisker goes with its end outside.
func TestFaceAndSpots(t *testing.T) {
	drawing := `<circle cx="100" cy="100" r="75" fill="#e0b020"/><circle cx="75" cy="90" r="8" fill="#202020"/><circle cx="125" cy="90" r="8" fill="#202020"/>
		<circle cx="100" cy="118" r="6" fill="#d04060"/><path d="M150 120l45 8v6l-46-6z" fill="#f8f0d0"/>`
	for i := range 9 {
		drawing += fmt.Sprintf(`<circle cx="%d" cy="%d" r="5" fill="#306030"/>`, 60+10*i, 150-i%2*10)
	}
	m := sample.Map(t, drawing)
	e := simplify.New(m, shop.Default(), nil)
	r, err := e.Draw(simplify.Sweets)
	require.NoError(t, err)
	require.True(t, r.Passes)
	assert.True(t, e.KeepsEyes(r.Map))
	assert.Empty(t, regions(r.Map, artwork.RGB{0xf8, 0xf0, 0xd0}), "whisker")
	face := regions(r.Map, artwork.RGB{0xe0, 0xb0, 0x20})[0].Shape
	for _, p := range face[0] {
		assert.LessOrEqual(t, geom.Dist(p, m.Frame.ToTrue.Point(geom.ArtworkPoint{100, 100})), 75*m.Frame.ToTrue[0]+0.3, "a stub of the whisker")
	}
	spots := regions(r.Map, artwork.RGB{0x30, 0x60, 0x30})
	assert.GreaterOrEqual(t, len(spots), 3)
	assert.Less(t, len(spots), 10)
	r, ok, err := e.Plainer(r, nil, 40, 0) // as much as can go
	require.NoError(t, err)
	require.True(t, ok)
	assert.Less(t, len(regions(r.Map, artwork.RGB{0x30, 0x60, 0x30})), len(spots))
	assert.Len(t, regions(r.Map, artwork.RGB{0xd0, 0x40, 0x60}), 1, "nose")
	// Eyes that run together are lost.
	joined := sample.Map(t, `<circle cx="100" cy="100" r="75" fill="#e0b020"/><path d="M67 82h66v16H67z" fill="#202020"/>`)
	assert.False(t, e.KeepsEyes(joined))
}
