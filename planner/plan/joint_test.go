package plan_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/plan"
)

// Two drawings in one order: pieces, grams and money add up, a blank price stays blank, what both hold is named once, and
// colours of one name are told apart by the drawing's number (derived).
func TestJoint(t *testing.T) {
	one := func(file, colour string, made, own int, low plan.Num) *plan.Plan {
		p := &plan.Plan{
			Artwork: plan.Artwork{File: file, Title: file, SHA256: "ab"},
			Colours: []plan.Colour{{ID: "c1", Letter: "A", Name: colour, SRGB: "#ffffff", NeedG: 100}},
			Piece:   plan.Piece{MassG: 2},
			Order: &plan.Order{
				Logs: 2, Made: made, Wanted: own, Spare: made - own,
				Ledger:  []plan.Balance{{Key: "pan", Left: 5000}, {Key: "extra", Off: 10, Left: plan.Num(2 * own)}},
				Packs:   []plan.Pack{{Number: 10, Pieces: 30, Own: plan.Num(own) / 10, NetG: 60}},
				Designs: []plan.Design{{File: "in/One.svg", Share: 2}, {File: "two.svg", Share: 1}},
				Left:    []plan.Left{{Colour: "c1", Grams: 5}},
				Price:   &plan.Price{Currency: "EUR", Low: low, High: 90, Lines: []plan.Cost{{Key: "work", Amount: low}}},
			},
			Label: &plan.Label{
				Ingredients: []plan.Ingredient{{Key: "sugar", Grams: 3000}, {Key: "colour", Name: file, Grams: 1}},
				Allergens:   []string{"milk"},
			},
		}
		return p
	}
	j := plan.Joint([]*plan.Plan{one("one.svg", "white", 220, 200, 50), one("two.svg", "white", 110, 100, -1)})
	o := j.Order
	assert.True(t, o.Joint())
	assert.Equal(t, 4, o.Logs)
	assert.Equal(t, []int{330, 300, 30}, []int{o.Made, o.Wanted, o.Spare})
	assert.Equal(t, plan.Num(10000), o.Ledger[0].Left)
	assert.Equal(t, plan.Num(600), o.Ledger[1].Left, "as many grams as pieces packed")
	assert.Equal(t, plan.Pack{Number: 10, Pieces: 30, Own: 30, NetG: 60, Of: []plan.Num{20, 10}}, o.Packs[0])
	assert.Equal(t, 2, o.Designs[0].Share)
	assert.Equal(t, plan.Num(-1), o.Price.Low)
	assert.Equal(t, plan.Num(180), o.Price.High)
	assert.Equal(t, plan.Num(-1), o.Price.Lines[0].Amount)
	assert.Equal(t, []plan.Shared{{Name: "white", SRGB: "#ffffff", Grams: 400, Of: []int{1, 2}}}, o.Shared)
	assert.Equal(t, "1A", j.Colours[0].Letter)
	assert.Equal(t, "2A", j.Index().Colour(o.Left[1].Colour).Letter)
	assert.Len(t, j.Label.Ingredients, 3)
	assert.Equal(t, plan.Num(6000), j.Label.Ingredients[0].Grams)
	assert.Equal(t, []string{"milk"}, j.Label.Allergens)
}
