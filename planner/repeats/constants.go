package repeats

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// Of so many lengths at least is a block drawn, and of so many at most.
	LeastFold int `unit:"lengths" source:"derived: two lengths of a sector save no laying"`
	MostFold  int `unit:"lengths" source:"common practice, no source"`
	// How far a part may lie from where the turn puts it.
	OffMM float64 `unit:"mm" source:"tuned: parts that are made equal differ by less"`
	// Parts that share a border so long are joined to one block.
	SeamMM float64 `unit:"mm" source:"tuned"`
	// Of so many parts a block is made at most.
	MostParts int `unit:"parts" source:"tuned: more are hardly ever alike"`
	// What a block weighs before it is drawn out.
	LeastG float64 `unit:"g" source:"common practice, no source: less is drawn out of shape"`
	MostG  float64 `unit:"g" source:"set: two people draw more than twice as much when they draw the log"`
	// How thick it is then, at least.
	LeastMM float64 `unit:"mm" source:"common practice, no source"`
	// How many times as long its section is as it is wide, at most.
	Aspect float64 `unit:"times" source:"common practice, no source: what is flatter curls when it is drawn"`
	// What its section fills of its hull, at least.
	Solid float64 `unit:"share" source:"set: a fin is drawn out of shape"`
	// A block must save so much to be worth a place on the table.
	SavesMin float64 `unit:"min" source:"set"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	LeastFold: 3,
	MostFold:  12,
	OffMM:     0.5,
	SeamMM:    2,
	MostParts: 6,
	LeastG:    300,
	MostG:     6000,
	LeastMM:   25,
	Aspect:    2.5,
	Solid:     0.85,
	SavesMin:  0.25,
}
