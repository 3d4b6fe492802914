// Package printed reads printed pages, for tests of the sheets: the styles they are printed in, the plans, the words.
package printed

import (
	"strings"
	"testing"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Styles are one of each kind: A4, Letter in US units, German, and black.
func Styles(t testing.TB) []sheet.Style {
	t.Helper()
	de, ok := words.In("de")
	if !ok {
		t.Fatal("no German")
	}
	return []sheet.Style{
		{Paper: sheet.Papers["a4"]},
		{Paper: sheet.Papers["letter"], US: true},
		{Paper: sheet.Papers["a4"], Words: de},
		{Paper: sheet.Papers["letter"], Black: true},
	}
}

// Plans of drawings that are planned as drawn, by name.
func Plans(t testing.TB) map[string]*plan.Plan {
	t.Helper()
	out := map[string]*plan.Plan{}
	for _, name := range golden.Names(t) {
		if p := golden.Plan(t, name); p.Verdict == plan.AsDrawn {
			out[name] = p
		}
	}
	if len(out) < 5 {
		t.Fatal("fewer than five plans")
	}
	return out
}

// EachPlan draws a sheet of every plan in every style; each must have pages that can be read.
func EachPlan(t *testing.T, pages func(*plan.Plan, sheet.Style) []*page.Page, check func(name string, p *plan.Plan, s sheet.Style, text string)) {
	t.Helper()
	for name, p := range Plans(t) {
		for i, s := range Styles(t) {
			drawn := pages(p, s)
			if len(drawn) == 0 {
				t.Errorf("%s, style %d: no page", name, i)
			}
			for k, pg := range drawn {
				if err := pg.Check(); err != nil {
					t.Errorf("%s, style %d, page %d: %v", name, i, k+1, err)
				}
			}
			check(name, p, s, Text(drawn))
		}
	}
}

// Texts on the pages, in the order of drawing.
func Texts(pages []*page.Page) []string {
	var out []string
	for _, pg := range pages {
		for _, it := range pg.Items {
			if it.Text != nil {
				out = append(out, it.Text.Text)
			}
		}
	}
	return out
}

// Text of the pages, a line for each.
func Text(pages []*page.Page) string { return strings.Join(Texts(pages), "\n") }

// Has tells whether one of the lines is a text.
func Has(lines, text string) bool {
	for _, l := range strings.Split(lines, "\n") {
		if l == text {
			return true
		}
	}
	return false
}
