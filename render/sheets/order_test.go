package sheets_test

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/planner"
	"sugarwright/planner/job"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
	"sugarwright/render/order"
	"sugarwright/render/proof"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
	"sugarwright/render/slab"
)

// orderedPlan is a plan with an order and a shop, as text.
func orderedPlan(t testing.TB, name string, order, shopText []byte) *plan.Plan {
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	sh, err := shop.Read(shopText)
	require.NoError(t, err)
	j, err := job.Read(order, sh, job.Day{2026, 1, 1})
	require.NoError(t, err)
	white := artwork.RGB{255, 255, 255}
	res, err := planner.Compile("artwork.svg", data, planner.Options{Shop: sh, Job: j, Order: size.Order{}.Completed(j), Ground: white, Jacket: white, Faces: 2})
	require.NoError(t, err)
	require.Equal(t, planner.AsDrawn, res.Plan.Verdict)
	return res.Plan
}

// The sheets of an order can be read: as the example has it, and with names, lists and numbers as long as the files allow.
func TestOrderedSheetsCanBeRead(t *testing.T) {
	read := func(name string) []byte {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		return data
	}
	long := strings.Repeat("W", 39)
	var stock, allergens strings.Builder
	for i := range 39 {
		fmt.Fprintf(&stock, "%q = { clear = \"#%02x%02x%02x\", pulled = \"#%02x%02x%02x\", additive = %q, dose_g_per_kg = 0.9, strength = 0.01 }\n", fmt.Sprintf("%s%d", long[:37], i), 40+5*i, 20+3*i, 250-6*i, 90+4*i, 90+4*i, 250-3*i, long)
		if i < 20 {
			fmt.Fprintf(&allergens, "%q, ", long)
		}
	}
	stock.WriteString("\"red\" = { clear = \"#c8202c\" }\n\"brown\" = { clear = \"#6b4423\" }\n")
	first := strings.SplitN(stock.String(), "\n", 2)[1] // forty in all
	var packs strings.Builder
	for i := range 20 {
		fmt.Fprintf(&packs, "[[packs]]\nnumber = %d\ngrams = %d.5\n", 1+i, 10+i)
	}
	many := orderedPlan(t, "../../examples/orchard-apple/artwork.svg", []byte("client = \""+strings.Repeat("W", 60)+"\"\nflavour = \""+strings.Repeat("m", 60)+"\"\nacid = \""+strings.Repeat("g", 60)+"\"\ndate = 2999-12-31\nmarket = \"EU\"\n"+packs.String()),
		[]byte("[boil]\nacid_percent = 5\nflavour_percent = 5\n[stock]\n"+first+"[price]\ncurrency = \"WWWWWWWW\"\nhour = 10000\n[label]\ndusting = \""+long+"\"\nallergens = ["+allergens.String()+"]\nmay_contain = ["+allergens.String()+"]\n"))
	for name, p := range map[string]*plan.Plan{"harbour-flag": orderedPlan(t, "../../examples/harbour-flag/artwork.svg", read("../../examples/harbour-flag/job.toml"), read("../../examples/harbour-flag/shop.toml")), "long": many} {
		for i, s := range styles(t) {
			for _, x := range append(sheets.Working(p, s), sheets.Sheet{Name: "proof", Pages: proof.Pages(p, s, nil)}) {
				for k, pg := range x.Pages {
					assert.NoError(t, pg.Check(), "%s, style %d, %s, page %d", name, i, x.Name, k+1)
				}
			}
		}
	}
}

// What the order sheet prints adds up: read from the page, each line is the last less what goes off, in grams and in ounces.
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
	for name, p := range plans() {
		for _, s := range []sheet.Style{{Paper: sheet.Papers["a4"]}, {Paper: sheet.Papers["letter"], US: true}} {
			var figures []string
			for _, it := range order.Pages(p, s)[0].Items {
				if it.Text != nil && it.Text.Anchor == "end" && it.Text.Size == sheet.TextSize && !it.Text.Bold {
					figures = append(figures, it.Text.Text)
				}
			}
			for len(figures) > 0 && !strings.HasSuffix(figures[0], "\u00a0g") && !strings.HasSuffix(figures[0], "\u00a0oz") && figures[0] != "" {
				figures = figures[1:] // digest of the head
			}
			rows := len(p.Order.Ledger)
			require.GreaterOrEqual(t, len(figures), 2*rows, name)
			for i := 1; i < rows; i++ {
				assert.InDelta(t, number(figures[2*i-1])-number(figures[2*i]), number(figures[2*i+1]), 1e-6, "%s: line %d", name, i)
			}
		}
	}
}

// The slab's map: areas as the weights, lumps tile the slab, and each cut goes through all that is left.
func TestSlabMap(t *testing.T) {
	for name, p := range plans() {
		total, covered := 0.0, 0.0
		for _, c := range p.Colours {
			total += float64(c.CutG)
		}
		assert.InDelta(t, float64(p.Boil.CookedG+p.Boil.AcidG+p.Boil.FlavourG), total, 0.01, "%s: the lumps are what is on the slab", name)
		x, y := 0.0, 0.0
		for i, l := range slab.Map(p, 1.5) {
			assert.InDelta(t, float64(l.Colour.CutG)/total, l.W*l.H, 1e-9, "%s: lump %d", name, i+1)
			assert.InDelta(t, x, l.X, 1e-9)
			assert.InDelta(t, y, l.Y, 1e-9)
			last := i == len(p.Colours)-1
			assert.True(t, last || math.Abs(l.X+l.W-1) < 1e-9 != (math.Abs(l.Y+l.H-1) < 1e-9), "%s: lump %d is cut off through all that is left", name, i+1)
			if math.Abs(l.Y+l.H-1) < 1e-9 {
				x += l.W
			} else {
				y += l.H
			}
			covered += l.W * l.H
		}
		assert.InDelta(t, 1, covered, 1e-9, name)
	}
}
