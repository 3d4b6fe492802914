package layup

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// How much a move may rise.
	MostRise float64 `unit:"share of its length" source:"design, section 5: hands lay from above"`
	// What bent strips lie on goes after all else.
	KeepScore float64 `unit:"score" source:"derived: more than any two takings differ by, some 110"`
	// How often an order is sought again after the replay rejected a move.
	MostReplays int `unit:"replays" source:"set: drawings need one or two"`
	// Scores of taking a piece away: the highest goes first, so it is laid last.
	WrapScore float64 `unit:"score" source:"tuned"`
	BendScore float64 `unit:"score" source:"tuned"`
	LayScore  float64 `unit:"score" source:"tuned"`
	// What a turn of the block takes off the score, and one more for so many degrees.
	TurnScore float64 `unit:"score" source:"tuned"`
	TurnDeg   float64 `unit:"deg" source:"tuned"`
	// A direction so far from what blocks is as good as any.
	ClearDeg float64 `unit:"deg" source:"tuned"`
	// Keeps a move off the limit of rising.
	RiseSpare float64 `unit:"share of its length" source:"derived: more than the replay's rounding"`
	// What is added for what is laid late.
	LateJacket   float64 `unit:"score" source:"common practice, no source: the outermost wrap is last"`
	LateWrap     float64 `unit:"score" source:"common practice, no source: wraps close what is laid"`
	LateHalfMoon float64 `unit:"score" source:"tuned"`
	LateSpacer   float64 `unit:"score" source:"tuned"`
	LateRound    float64 `unit:"score" source:"tuned"`
	LateOther    float64 `unit:"score" source:"tuned"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	MostRise:    0.25,
	KeepScore:   1000,
	MostReplays: 40,

	WrapScore: 100, BendScore: 12, LayScore: 10, TurnScore: 11, TurnDeg: 900, ClearDeg: 30, RiseSpare: 0.02,
	LateJacket: 8, LateWrap: 6, LateHalfMoon: 3, LateSpacer: 2, LateRound: 1, LateOther: 0.5,
}
