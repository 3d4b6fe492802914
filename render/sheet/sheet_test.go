package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// plain spaces, so that a figure can be compared.
func plain(s string) string { return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(s) }

// Figures for hands: rounded as they can be measured, in both systems (1 in = 25.4 mm, 1 lb = 453.592 g: NIST Handbook
// 44, appendix C).
func TestUnits(t *testing.T) {
	styles := printed.Styles(t)
	mm, us, de := styles[0], styles[1], styles[2]
	assert.Equal(t, "12.5 mm", plain(mm.MM(12.4)))
	assert.Equal(t, "12,5 mm", plain(de.MM(12.4)))
	assert.Contains(t, plain(us.MM(25.4)), "1 in")
	assert.Equal(t, "395 mm", plain(mm.Length(393)))
	assert.Equal(t, "455 g", plain(mm.Grams(453.6)))
	assert.Equal(t, "12 g", plain(mm.Grams(12.2)))
	assert.Contains(t, plain(mm.Grams(12345)), "kg")
	assert.Contains(t, plain(us.Grams(453.6)), "1 lb")
	assert.Equal(t, "7:30", sheet.Clock(7.5))
	assert.Contains(t, plain(us.Degrees(100)), "212")
	assert.InDelta(t, 18, us.Kelvins(10), 1e-9)
	assert.InDelta(t, 10, mm.Kelvins(10), 1e-9)
}

// Colours that touch have other hatches.
func TestInks(t *testing.T) {
	for name, p := range printed.Plans(t) {
		s := printed.Styles(t)[3]
		k := s.Inks(p)
		for a, with := range p.Index().Touching() {
			for b := range with {
				ha, okA := k.Hatch(a)
				hb, okB := k.Hatch(b)
				assert.False(t, okA && okB && ha == hb, "%s: %s and %s", name, a, b)
			}
		}
	}
}

// A sheet starts a page when a text does not fit, and each page has its number and the cautions.
func TestFlow(t *testing.T) {
	p := printed.Plans(t)["orchard-apple"]
	s := printed.Styles(t)[0]
	f := s.Start(p, "x")
	for range 120 {
		f.Paragraph("one line of a list", sheet.TextSize, false)
	}
	pages := f.Done()
	assert.Greater(t, len(pages), 1)
	first := printed.Texts(pages[1:2])
	for i, pg := range pages {
		assert.NoError(t, pg.Check())
		assert.Contains(t, printed.Text(pages[i:i+1]), s.T().Text("sheet.page", i+1, len(pages)))
	}
	assert.Contains(t, strings.ToLower(strings.Join(first, " ")), "burn")
	assert.Greater(t, sheet.Height(strings.Repeat("word ", 80), 60, 3, false), 3*sheet.Height("word", 60, 3, false))
	at, ok := sheet.Spot(page.Point{50, 50}, []page.Point{{50, 50}}, 7)
	assert.True(t, ok)
	assert.NotEqual(t, page.Point{50, 50}, at)
	assert.True(t, sheet.Guessed(&plan.Plan{}))
}

// Heat is a band of 5 degrees with a mark while it is a guess, two degrees either way once it was measured; masses that
// add up are whole; doses are weighed finer; a price that is not known is a blank.
func TestMoreUnits(t *testing.T) {
	styles := printed.Styles(t)
	mm, us, de := styles[0], styles[1], styles[2]
	assert.Equal(t, "60-65 C?", plain(mm.Heat(62, true)))
	assert.Equal(t, "60-64 C", plain(mm.Heat(62, false)))
	assert.Equal(t, "140-149 F?", plain(us.Heat(62, true)))
	assert.Equal(t, "65 C?", plain(mm.Limit(61, 62, true)), "not below the band of the heat itself")
	assert.Equal(t, "70 C", plain(mm.Limit(70, 62, false)))
	assert.Equal(t, "0.25 g", plain(mm.Exact(0.25)))
	assert.Equal(t, "12,3 g", plain(de.Exact(12.34)))
	assert.Equal(t, "0.44 oz", plain(us.Exact(12.34)))
	assert.Equal(t, "2.0 g", plain(us.Exact(2)))
	assert.Equal(t, "454 g", plain(mm.Whole(453.6)))
	assert.Equal(t, "16.0 oz", plain(us.Whole(453.6)))
	assert.Equal(t, 16.0, us.Rounded(453.6))
	assert.Equal(t, "........", mm.Money(-1, &plan.Price{Currency: "EUR", Decimals: 2}))
	assert.Equal(t, "4.50 EUR", plain(mm.Money(4.5, &plan.Price{Currency: "EUR", Decimals: 2})))
	assert.Equal(t, "1.5 mm", plain(mm.Fine(1.5)))
	assert.Equal(t, "0.059 in", plain(us.Fine(1.5)))
	assert.Equal(t, "37 mm", plain(mm.Section(37.2)))
	assert.NotEqual(t, mm.Who(plan.Step{Hands: 1, Pairs: []int{1}}, 2), mm.Who(plan.Step{Hands: 2}, 2))
	assert.Contains(t, mm.Who(plan.Step{Hands: 1, Pairs: []int{2}}, 3), "B")
	assert.Equal(t, mm.T().Text("who.alone"), mm.Who(plan.Step{Hands: 1}, 1))
}

// Each form has its size in kitchen words, with the figures that hands need.
func TestSizes(t *testing.T) {
	s := printed.Styles(t)[0]
	sizes := map[string]plan.Num{
		"diameter_mm":  31,
		"width_mm":     32,
		"height_mm":    33,
		"thickness_mm": 5,
		"base_mm":      35,
		"top_mm":       0,
		"chord_mm":     36,
		"length_mm":    37,
		"long_mm":      38,
		"short_mm":     39,
	}
	for form, want := range map[plan.Form][]string{plan.Rod: {"31"}, plan.Strip: {"5", "32"}, plan.Wrap: {"5", "32"}, plan.Bar: {"32", "5"}, plan.Oval: {"38", "39"}, plan.Triangle: {"35", "33"}, plan.FlatRod: {"31", "33"}, plan.Leaf: {"36"},
		plan.Tapered: {"32", "5"},
		plan.Wedge:   {"35", "33"}, plan.Segment: {"36", "33"}, plan.Teardrop: {"31", "37"}} {
		text := s.Size(plan.Element{Form: form, Size: sizes})
		for _, w := range want {
			assert.Contains(t, text, w, form)
		}
		assert.NotEmpty(t, s.Form(plan.Element{Form: form}))
	}
	e := plan.Element{MassG: 100, Size: map[string]plan.Num{"part_length_mm": 420, "made_length_mm": 840}}
	assert.InDelta(t, 105, sheet.Made(&plan.Plan{Log: plan.Log{LengthMM: 400}}, e), 1e-9)
	assert.Equal(t, "840 mm", plain(s.Long(e)))
	f := s.StartClient(printed.Plans(t)["orchard-apple"], "For you")
	f.Paragraph("A head", 3, true)
	f.Rule(0.3)
	for _, pg := range f.Done() {
		assert.NoError(t, pg.Check())
	}
}
