package symmetry

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// A smaller moment is noise.
	SlightMoment float64 `unit:"share of its largest value" source:"tuned"`
	// The least length of an edge that shows a direction.
	StraightMM float64 `unit:"mm" source:"tuned"`
	// So much of the border must lie along, or square to, one direction.
	AlongShare float64 `unit:"share of the border" source:"tuned"`
	// How far a moved border may lie from the drawing's own.
	ToleranceMM float64 `unit:"mm" source:"common practice, no source: drawings are symmetric to a tenth of a millimetre or not at all"`
	// How far apart the points of a border are that are tested.
	SampleMM float64 `unit:"mm" source:"tuned: a corner alone may land on any border by chance"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	SlightMoment: 0.01,
	StraightMM:   4.0,
	AlongShare:   0.2,
	ToleranceMM:  0.15,
	SampleMM:     3,
}
