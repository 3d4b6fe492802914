package sheets_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/render/order"
	"sugarwright/render/sheet"
)

// An order's names, lists and numbers as long as its files allow can still be read.
func TestLongOrdersCanBeRead(t *testing.T) {
	long := strings.Repeat("W", 39)
	p := golden.Plan(t, "harbour-flag")
	p.Job = &plan.Job{
		Client:  strings.Repeat("W", 60),
		Flavour: strings.Repeat("m", 60),
		Acid:    strings.Repeat("g", 60),
		Date:    "2999-12-31",
		Market:  "EU",
	}
	p.Order.Packs, p.Label.Allergens, p.Label.MayContain = nil, nil, nil
	for i := range 20 {
		p.Order.Packs = append(
			p.Order.Packs,
			plan.Pack{
				Number: 1 + i,
				Pieces: 12,
				Own:    12,
				AskedG: plan.Num(10.5 + float64(i)),
				NetG:   plan.Num(11 + float64(i)),
			},
		)
		p.Label.Allergens, p.Label.MayContain = append(p.Label.Allergens, long), append(p.Label.MayContain, long)
		p.Label.Ingredients = append(p.Label.Ingredients,
			plan.Ingredient{Key: "colour", Name: long, Grams: plan.Num(20 - i)})
		p.Order.Doses = append(
			p.Order.Doses,
			plan.Dose{
				Colour:   "c1",
				Additive: long,
				MgPerKg:  1234,
				PieceMg:  123,
				Limit:    300,
				Rule:     "group",
				Source:   "a source",
				Date:     "2026-11",
			},
		)
	}
	for i := range p.Colours {
		p.Colours[i].Name = long[:37] + strconv.Itoa(10+i)
	}
	p.Order.Price.Currency = "WWWWWWWW"
	p.Order.Designs = []plan.Design{{File: long + ".svg", Share: 2}, {File: "two.svg", Share: 1}}
	for i, s := range styles(t) {
		for _, x := range all(p, s) {
			for k, pg := range x.Pages {
				assert.NoError(t, pg.Check(), "style %d, %s, page %d", i, x.Name, k+1)
			}
		}
	}
}

// What the order sheet prints adds up: read from the page, each line is the last less what goes off, in grams and in
// ounces.
func TestPrintedLedgerAddsUp(t *testing.T) {
	number := func(text string) float64 {
		text = strings.TrimRight(text, "\u00a0gozlb ")
		if text == "" {
			return 0
		}
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		if strings.HasPrefix(text, "+") { // is put in
			return -v
		}
		return v
	}
	for name, p := range plans(t) {
		for _, s := range []sheet.Style{{Paper: sheet.Papers["a4"]}, {Paper: sheet.Papers["letter"], US: true}} {
			var figures []string
			for _, it := range order.Pages(p, s)[0].Items {
				if it.Text != nil && it.Text.Anchor == "end" && it.Text.Size == sheet.Lean && !it.Text.Bold {
					figures = append(figures, it.Text.Text)
				}
			}
			for len(figures) > 0 && !strings.HasSuffix(figures[0], "\u00a0g") && !strings.HasSuffix(figures[0], "\u00a0oz") && figures[0] != "" {
				figures = figures[1:] // digest of the head
			}
			rows := len(p.Order.Ledger)
			require.GreaterOrEqual(t, len(figures), 2*rows, name)
			for i := 1; i < rows; i++ {
				assert.InDelta(t, number(figures[2*i-1])-number(figures[2*i]), number(figures[2*i+1]), 1e-6,
					"%s: line %d", name, i)
			}
		}
	}
}
