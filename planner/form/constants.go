package form

import "math"

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// A longer strip is not sought.
	LongestStrip float64 `unit:"times its thickness" source:"derived: a spiral of three turns has 66, one of six 420"`
	// The spacing of border points.
	Sample float64 `unit:"strip widths" source:"tuned"`
	// How deep a hot sheet can be pressed into a hollow of what it is wrapped round.
	PressMM float64 `unit:"mm" source:"common practice, no source"`
	// How far an outline may move for a quick fit.
	CoarseShare float64 `unit:"share of the root of the area" source:"tuned: prices are then a hundredth worse"`
	// The first step with which a form's sizes are moved.
	ClimbShare float64 `unit:"share of the root of the area" source:"tuned"`
	// From here on a rectangle is a strip, not a block.
	StripAspect float64 `unit:"length over thickness" source:"common practice, no source"`
	// A region that fills so much of its hull is convex as far as hands can see.
	StraightFill float64 `unit:"share of the hull" source:"tuned"`
	// Tips of a half-moon so thin are pressed away.
	SlipShare float64 `unit:"share of the height" source:"tuned"`
	// A half-moon that is higher is not flat.
	FlatShare float64 `unit:"share of the chord" source:"tuned"`
	// The least turn of a concave corner that counts.
	NotchTurn float64 `unit:"rad" source:"tuned"`
	// From this turn on it counts once.
	FullNotch float64 `unit:"rad" source:"tuned"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	LongestStrip: 480,
	Sample:       0.12,
	PressMM:      3,
	CoarseShare:  0.006,
	ClimbShare:   0.06,
	StripAspect:  2.2,
	StraightFill: 0.985,
	SlipShare:    0.08,
	FlatShare:    0.2,
	NotchTurn:    30 * math.Pi / 180,
	FullNotch:    60 * math.Pi / 180,
}
