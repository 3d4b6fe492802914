package layup

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// How much a move may rise.
	MostRise float64 `unit:"share of its length" source:"design, section 5: hands lay from above"`
	// What bent strips lie on goes after all else.
	KeepScore float64 `unit:"score" source:"derived: more than any two takings differ by, some 110"`
	// How often an order is sought again after the replay rejected a move.
	MostReplays int `unit:"replays" source:"set: drawings need one or two"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	MostRise:    0.25,
	KeepScore:   1000,
	MostReplays: 40,
}
