package cuts

import "math"

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// Bound of the candidates of one region; groups of equal score stay together.
	PerRegion int `unit:"cuts" source:"tuned"`
	// The least turn of a corner.
	CornerTurn float64 `unit:"rad" source:"derived: more than a flattened arc of 3 mm thinned to 0.05 mm turns"`
	// A chord's end so near to a corner is moved onto it.
	SnapMM float64 `unit:"mm" source:"tuned: 3 of 200 units at a 112.5 mm picture"`
	// Below this difference two cuts are equally good.
	TieScore float64 `unit:"score" source:"tuned"`
	// Cuts that run so near to each other count as one.
	BesideMM float64 `unit:"mm" source:"tuned"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	PerRegion:  14,
	CornerTurn: 25 * math.Pi / 180,
	SnapMM:     1.7,
	TieScore:   0.002,
	BesideMM:   0.8,
}
