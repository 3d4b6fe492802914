package recipe

// Constants are the numbers that fits are judged and found by, each with its unit and where it comes from.
type Constants struct {
	// A part that is no farther off its recipe is made as it stands.
	FineMisfit float64 `unit:"share of the area" source:"judged by eye on parts drawn beside their recipes"`
	// The same for a part whose corners soften and whose ends round.
	CloseMisfit float64 `unit:"share of the area" source:"judged by eye on parts drawn beside their recipes"`
	// The same for a filler that is pressed in.
	PressedMisfit float64 `unit:"share of the area" source:"judged by eye on parts drawn beside their recipes"`
	// A larger disc in the difference is a step, a tooth or a spur.
	LumpMM float64 `unit:"mm" source:"judged by eye: with it the count agrees with a maker's"`
	// The same for large parts.
	LumpShare float64 `unit:"share of the root of the area" source:"judged by eye"`
	// The same for a filler.
	PressedLumpMM float64 `unit:"mm" source:"derived: soft ground closes 3 mm when it is pressed"`
	// A larger filler is not pressed in.
	PressedMM2 float64 `unit:"mm2" source:"common practice, no source"`
	// Of recipes so near to each other the plainest is taken.
	PlainerMisfit float64 `unit:"share of the area" source:"judged by eye"`
	// A bar that is no farther off needs no operation.
	BentHull     float64 `unit:"share of the hull" source:"tuned: what fills more of it is hollow nowhere"`
	EnoughMisfit float64 `unit:"share of the area" source:"judged by eye"`
	// The first step with which sizes are moved.
	ClimbShare float64 `unit:"share of the root of the area" source:"tuned"`
	// How much of the gap climbing closes at most, as a rule.
	HopeShare float64 `unit:"share" source:"tuned"`
	// The same for bent strips, whose ends are hard to see.
	BendHope float64 `unit:"share" source:"tuned"`
	// The same after the first round of steps; after the second two thirds of it.
	LastHope float64 `unit:"share" source:"tuned: with less some that are sought anew are lost"`
	// A strip that is bent along more than one arc is even: its thickness may differ by so much.
	UnevenMisfit float64 `unit:"times the misfit of a part" source:"tuned"`
	// One that is still refused, but off by no more, is sought anew.
	NearerShare float64 `unit:"share of the limit" source:"tuned"`
	// So many of the nearest are then improved.
	Refined int `unit:"recipes" source:"tuned"`
	// A quick fit that is off by no more is measured thoroughly.
	NearShare float64 `unit:"share of the limit" source:"tuned"`
	// From here on a rectangle is a strip.
	StripAspect float64 `unit:"length over thickness" source:"common practice, no source"`
	// A strip is wider no more.
	WidestStrip float64 `unit:"times its thickness" source:"common practice, no source"`
	// A longer bent strip is not sought.
	LongestStrip float64 `unit:"times its thickness" source:"derived: a spiral of three turns has 66, one of six 420"`
	// The spacing of border points of strips.
	Sample float64 `unit:"strip widths" source:"tuned"`
	// How deep a hot sheet can be pressed into a hollow of what it is wrapped round.
	PressMM float64 `unit:"mm" source:"common practice, no source"`
	// A region that fills so much of its hull is convex as far as hands can see.
	StraightFill float64 `unit:"share of the hull" source:"tuned"`
	// How far the middle line of a bent strip may lie off its arcs.
	SpineMM float64 `unit:"mm" source:"set: what pressing into place takes up"`
	// A strip that turns more is not bent on in one laying.
	MostBend float64 `unit:"degrees" source:"common practice, no source: 210 in one laying, more round a closed core"`
	// A thicker strip is not bent along two arcs.
	TwiceMM float64 `unit:"mm" source:"set: the stroke of one letter as large as the picture"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	FineMisfit:    0.08,
	CloseMisfit:   0.12,
	PressedMisfit: 0.20,
	LumpMM:        2,
	LumpShare:     0.06,
	PressedLumpMM: 3,
	PressedMM2:    700,
	PlainerMisfit: 0.02,
	BentHull:      0.985,
	EnoughMisfit:  0.03,
	ClimbShare:    0.06,
	HopeShare:     0.55,
	Refined:       3,
	NearerShare:   1.08,
	NearShare:     1.4,
	BendHope:      0.75,
	LastHope:      0.6,
	UnevenMisfit:  1.3,
	StripAspect:   2.2,
	WidestStrip:   25,
	LongestStrip:  480,
	Sample:        0.12,
	PressMM:       3,
	StraightFill:  0.985,
	SpineMM:       0.8,
	MostBend:      330,
	TwiceMM:       14,
}
