package layup

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// A move comes from above by at least so much; from the side within so much of level.
	FromAboveSin float64 `unit:"sine" source:"common practice, no source: 15 degrees"`
	SideSin      float64 `unit:"sine" source:"common practice, no source: 15 degrees"`
	// What is slid in from the side is no larger: 1.5 kg of a usual log.
	SideMM2 float64 `unit:"mm2" source:"set"`
	// No part ends so far below the foot of what lies there; nor so far, where that lies above much of its width.
	BelowMM    float64 `unit:"mm" source:"set"`
	UnderMM    float64 `unit:"mm" source:"set"`
	UnderShare float64 `unit:"share of its width" source:"set"`
	// Under an overhang goes only what is small: 200 g of a usual log.
	OverhangShare float64 `unit:"share of its width" source:"set"`
	OverhangMM2   float64 `unit:"mm2" source:"set"`
	// A strip is bent on where no more of it lies under what is there.
	BentUnder float64 `unit:"share of its width" source:"set"`
	// One that turns farther is folded up.
	FoldRad float64 `unit:"rad" source:"derived: beyond half round its ends come from below"`
	// A beginning has a foot within so much of its lowest point, so broad, and is no higher.
	FootMM     float64 `unit:"mm" source:"set"`
	FootShare  float64 `unit:"share of its width" source:"set"`
	FootWideMM float64 `unit:"mm" source:"set"`
	FootHigh   float64 `unit:"times the foot" source:"set"`
	// Or it is half as wide at so much of its height, and no higher: it lies in a cradle.
	BluntMM   float64 `unit:"mm" source:"set"`
	BluntRise float64 `unit:"share of its width" source:"derived: a rod is half as wide there"`
	BluntHigh float64 `unit:"times its width" source:"set"`
	// The turns that are tried: even ones, and those that lay a straight border at least so long on the table.
	EvenTurns  int     `unit:"turns" source:"set"`
	LevelTurns int     `unit:"turns" source:"set"`
	LevelMM    float64 `unit:"mm" source:"set"`
	MostStarts int     `unit:"ways in which the finished block may lie" source:"tuned: orders that are compared"`
	TurnCost   float64 `unit:"cost" source:"set: a turn of the pile against a prop, and against the haste of tack"`
	PropCost   float64 `unit:"cost" source:"set"`
	TackCost   float64 `unit:"cost" source:"set"`
	// Each move on tack after more of them than tack holds
	LongTackCost float64 `unit:"cost" source:"set"`
	WrapTurns    int     `unit:"turns" source:"tuned: ways in which what goes into a wrap may lie before"`
	// Tack holds so many moves one after the other, then a prop is sought.
	MostSticks int `unit:"moves" source:"set: a move takes half a minute, tack holds for one"`
	// Bounds of the search in one block.
	MostStates  int `unit:"sets of parts" source:"tuned"`
	MostAsked   int `unit:"balances, each the square of its parts" source:"tuned: some seconds"`
	MostTakings int `unit:"ways" source:"tuned"`
	// What bent strips lie on goes after them.
	KeepScore float64 `unit:"score" source:"tuned"`
	// How often an order is sought again after the replay rejected a move.
	MostReplays int `unit:"replays" source:"set: drawings need one or two"`
	// Scores of taking a piece away: the highest goes first, so it is laid last.
	WrapScore float64 `unit:"score" source:"tuned"`
	BendScore float64 `unit:"score" source:"tuned"`
	LayScore  float64 `unit:"score" source:"tuned"`
	// What a turn of the block takes off the score, and one more for so many degrees; what a rest takes off that stands
	// on tack, or with a prop; and what lies under others.
	TurnScore  float64 `unit:"score" source:"tuned"`
	TurnDeg    float64 `unit:"deg" source:"tuned"`
	TackScore  float64 `unit:"score" source:"tuned"`
	PropScore  float64 `unit:"score" source:"tuned"`
	CoverScore float64 `unit:"score" source:"tuned"`
	// A direction so far from what blocks is as good as any.
	ClearDeg float64 `unit:"deg" source:"tuned"`
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
	FromAboveSin:  0.26,
	SideSin:       0.26,
	SideMM2:       2900,
	BelowMM:       3,
	UnderMM:       1.5,
	UnderShare:    0.3,
	OverhangShare: 0.5,
	OverhangMM2:   390,
	BentUnder:     0.2,
	FoldRad:       2.8,
	FootMM:        1,
	FootShare:     0.35,
	FootWideMM:    15,
	FootHigh:      3,
	BluntMM:       4,
	BluntRise:     0.07,
	BluntHigh:     1.6,
	EvenTurns:     16,
	LevelTurns:    12,
	LevelMM:       8,
	MostStarts:    3,
	TurnCost:      1,
	PropCost:      0.4,
	TackCost:      0.5,
	LongTackCost:  3,
	WrapTurns:     4,
	MostSticks:    2,
	MostStates:    400,
	MostAsked:     120_000,
	MostTakings:   24,
	KeepScore:     6,
	MostReplays:   3,

	WrapScore: 100, BendScore: 2, LayScore: 0, TurnScore: 4, TurnDeg: 180, TackScore: 5, PropScore: 4, CoverScore: 3, ClearDeg: 30,
	LateJacket: 8, LateWrap: 6, LateHalfMoon: 3, LateSpacer: 2, LateRound: 1, LateOther: 0.5,
}
