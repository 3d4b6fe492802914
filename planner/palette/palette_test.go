package palette_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/job"
	"sugarwright/planner/palette"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
)

// invented is a small stock of an invented kitchen.
const invented = `[stock]
"cherry" = { clear = "#b0142a", additive = "E 120", dose_g_per_kg = 1.7, strength = 0.03 }
"leaf" = { clear = "#2f7d32", pulled = "#7fb882" }
"sun" = { pulled = "#f2d060" }
`

const two = `<circle cx="100" cy="100" r="50" fill="#b0162a"/><circle cx="100" cy="100" r="25" fill="#2f7d32"/>`

// of matches a drawing for an order and a shop, both as text.
func of(t *testing.T, drawing, order, kitchen string) (*palette.Palette, error) {
	s, err := shop.Read([]byte(kitchen))
	require.NoError(t, err)
	s.File = "shop.toml"
	var j *job.Job
	if order != "" {
		j, err = job.Read([]byte(order), s, job.Day{2026, 1, 1})
		require.NoError(t, err)
		j.File = "job.toml"
	}
	p, err := palette.Of(sample.Map(t, drawing), s, j, true)
	if err == nil {
		require.NoError(t, p.Check())
	}
	return p, err
}

// shade of the colour nearest to a drawing's own.
func shade(p *palette.Palette, name string) palette.Shade {
	for _, s := range p.Shades {
		if s.Name == name {
			return s
		}
	}
	return palette.Shade{}
}

// Without a stock colours are the drawing's own: the ground is pulled, others clear; with one the nearest of it, or a mix.
func TestMatching(t *testing.T) {
	p, err := of(t, two, "", "")
	require.NoError(t, err)
	assert.True(t, p.Pulled(0))
	assert.Equal(t, plan.ByRule, p.Shades[1].From)
	assert.Less(t, p.Density(0), p.Density(1))

	p, err = of(t, two, "", invented)
	require.NoError(t, err)
	assert.Equal(t, plan.Nearest, shade(p, "cherry").From)
	assert.Equal(t, shop.Clear, shade(p, "leaf").Finish)
	assert.Less(t, shade(p, "cherry").OffDE2000, 3.0)

	p, err = of(t, `<circle cx="100" cy="100" r="50" fill="#efe0a0"/>`, "", invented)
	require.NoError(t, err)
	assert.Equal(t, plan.Mixed, p.Shades[1].From, p.Shades[1].Name)
	assert.Greater(t, len(p.Shades[1].Parts), 1)
}

// The client's wish comes before the maker's mapping, and that before the nearest.
func TestWishesAndMapping(t *testing.T) {
	p, err := of(t, two, "[colours]\n\"#b0162a\" = { as = \"sun\" }\n\"#2f7d32\" = { as = \"#2e7a30\" }\n", invented)
	require.NoError(t, err)
	assert.Equal(t, plan.Wanted, shade(p, "sun").From)
	assert.Zero(t, shade(p, "sun").OffDE2000)
	p, err = of(t, two, "",
		"[colours]\n\"#b0162a\" = { name = \"rose\", finish = \"pulled\", dose_g_per_kg = 0.4 }\n\"#2f7d32\" = { name = \"leaf\", finish = \"clear\", dose_g_per_kg = 0.2 }\n"+invented)
	require.NoError(t, err)
	assert.Equal(t, plan.Mapped, shade(p, "rose").From)
	assert.Equal(t, 0.4, shade(p, "rose").Doses[0].WeighG)
	assert.Equal(t, plan.Mapped, shade(p, "leaf").From)
	assert.Equal(t, 0.2, shade(p, "leaf").DoseGPerK)
	p, err = of(t, two, "[colours]\n\"#b0162a\" = { as = \"#a01020\" }\n", "")
	require.NoError(t, err)
	from := map[plan.ShadeFrom]int{}
	for _, s := range p.Shades {
		from[s.From]++
	}
	assert.Equal(t, 1, from[plan.Wanted])
}

// What no colour comes near to, a wish for a colour that the drawing lacks, a finish that was not measured, and a picture that is all ground are
// faults with their line and what is allowed.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ drawing, order, kitchen, want string }{
		{`<circle cx="100" cy="100" r="50" fill="#2060ff"/>`, "", invented, "shop.toml:1: no colour of the shop comes near #2060ff"},
		{two, "[colours]\n\"#123456\" = { as = \"sun\" }\n", invented, "job.toml:2: colours: the drawing has no #123456; allowed are #ffffff"},
		{two, "[colours]\n\"#b0162a\" = { as = \"#b0162a\", finish = \"clear\" }\n", "[stock]\n\"sun\" = { pulled = \"#f2d060\" }\n\"leaf\" = { pulled = \"#2f7d32\" }\n",
			"no colour of [stock] was measured clear"},
		{`<circle cx="100" cy="100" r="50" fill="#f6f4f0"/>`, "[colours]\n\"#f6f4f0\" = { as = \"#ffffff\" }\n", "", "job.toml:2: nothing of the picture stands out"},
	} {
		_, err := of(t, c.drawing, c.order, c.kitchen)
		assert.ErrorContains(t, err, c.want)
	}
}

// Colours that come out alike, or far from the drawing's, are said.
func TestFindings(t *testing.T) {
	p, err := of(t,
		`<circle cx="100" cy="100" r="50" fill="#b0162a"/><circle cx="100" cy="100" r="25" fill="#a8203a"/>`, "",
		invented)
	require.NoError(t, err)
	assert.True(t, p.Findings.Has(finding.AlikeColours), p.Findings)
	p, err = of(t, `<circle cx="100" cy="100" r="50" fill="#a02840"/>`, "", "[limits]\nalike_de2000 = 4\n"+invented)
	require.NoError(t, err)
	assert.True(t, p.Findings.Has(finding.ColourOff), p.Findings)
}

// Doses are held against the market's limits (Regulation (EC) 1333/2008, as package law has it): a sweet over one is a fault; what has no limit that we
// know, no market or no dose is noted.
func TestDoses(t *testing.T) {
	red := `<circle cx="100" cy="100" r="50" fill="#b0162a"/>`
	dosed := func(additive, dose, strength string) string {
		return "[stock]\n\"cherry\" = { clear = \"#b0142a\", additive = \"" + additive + "\"" + dose + ", strength = " + strength + " }\n"
	}
	_, err := of(t, red, "market = \"EU\"", dosed("E 124", ", dose_g_per_kg = 5", "0.5"))
	assert.ErrorContains(t, err, "shop.toml:2: the recipe brings")
	p, err := of(t, red, "market = \"EU\"", dosed("E 124", ", dose_g_per_kg = 0.1", "0.5"))
	require.NoError(t, err)
	require.Len(t, p.Doses, 1)
	assert.InDelta(t, 50, float64(p.Doses[0].MgPerKg), 1e-6)
	assert.Less(t, p.Doses[0].PieceMg, p.Doses[0].MgPerKg)
	assert.True(t, p.Strong[1], "50 mg/kg in its own lump is over 20")
	p, err = of(t, red, "", dosed("E 124", ", dose_g_per_kg = 0.01", "0.5"))
	require.NoError(t, err)
	assert.Equal(t, "no_market", p.Findings[len(p.Findings)-1].Case)
	p, err = of(t, red, "market = \"EU\"", "[stock]\n\"cherry\" = { clear = \"#b0142a\", additive = \"E 124\" }\n")
	require.NoError(t, err)
	assert.Equal(t, "no_dose", p.Findings[len(p.Findings)-1].Case)
	assert.Equal(t, float64(shop.Blank), float64(p.Doses[0].MgPerKg))
	p, err = of(t, red, "market = \"EU\"\nacid = \"citric acid\"",
		"[boil]\nacid_percent = 1\n"+dosed("nobody's red", ", dose_g_per_kg = 1", "0.5"))
	require.NoError(t, err)
	assert.Equal(t, "market", p.Findings[len(p.Findings)-1].Case)
	assert.Equal(t, 10000.0, float64(p.Doses[len(p.Doses)-1].MgPerKg))
}

// A drawing that was refused before its colours were matched has its own; a palette with a hole is our fault.
func TestUnmatched(t *testing.T) {
	p := palette.Unmatched(sample.Map(t, two), shop.Default())
	assert.Len(t, p.Shades, 3)
	p.Shades[1].Name = ""
	assert.ErrorContains(t, p.Check(), "internal: ")
	assert.True(t, palette.NearWhite(artwork.RGB{250, 250, 248}))
}

// Two colours of the drawing never share a name: the lighter and the darker of two, numbers for more.
func TestNamesApart(t *testing.T) {
	m := sample.Map(t, `<rect x="40" y="60" width="30" height="80" fill="#e0202a"/><rect x="75" y="60" width="30" height="80" fill="#b81c22"/>`+
		`<rect x="110" y="60" width="10" height="80" fill="#2a5fc0"/><rect x="125" y="60" width="10" height="80" fill="#1d50b8"/><rect x="140" y="60" width="10" height="80" fill="#3a70d0"/>`)
	p, err := palette.Of(m, shop.Default(), nil, true)
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, s := range p.Shades {
		assert.False(t, seen[s.Name], s.Name)
		seen[s.Name] = true
	}
	assert.True(t, seen["light red"] && seen["blue 1"] && seen["blue 3"], "%v", seen)
}
