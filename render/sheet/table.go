package sheet

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/words"
)

// Whole prints masses that must add up: whole grams, or tenths of an ounce. It rounds what it is given; differences are
// to be taken of what Rounded gives.
func (s Style) Whole(v float64) string {
	if s.US {
		return s.T().Number(s.Rounded(v), 1) + "\u00a0oz"
	}
	return s.T().Number(s.Rounded(v), 0) + "\u00a0g"
}

// Rounded is a mass in grams or ounces as Whole prints it.
func (s Style) Rounded(v float64) float64 {
	if s.US {
		return math.Round(v/ounce*10) / 10
	}
	return math.Round(v)
}

// Money prints an amount, or a blank to fill in where it is not known.
func (s Style) Money(v plan.Num, p *plan.Price) string {
	if v < 0 {
		return "........"
	}
	digits := p.Decimals
	if v > 0 && v < 10 { // in whole units too little would be left of it
		digits = max(digits, 2)
	}
	out := s.T().Number(float64(v), digits)
	if p.Currency != "" {
		out += "\u00a0" + p.Currency
	}
	return out
}

// hashDigits of the artwork's digest are printed: enough to tell drawings of a shop apart.
const hashDigits = 10

// For says what a sheet belongs to: the order's name, day and flavour, and the artwork's digest.
func (s Style) For(p *plan.Plan) string {
	hash := p.Artwork.SHA256[:min(hashDigits, len(p.Artwork.SHA256))]
	out := s.T().Say(words.P("sheet.artwork", hash))
	if j := p.Job; j != nil {
		for _, x := range []string{j.Flavour, j.Date, j.Client} {
			if x != "" {
				out = x + ", " + out
			}
		}
	}
	return page.Clean(out)
}
