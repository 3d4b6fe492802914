package simplify

// Constants are the numbers that the search is set by, each with its unit and where it comes from.
type Constants struct {
	// What one change may count as before anything else has been sought.
	MostSeen float64 `unit:"share of the subject" source:"tuned"`
	// Guessed work against the clock.
	GuessPerMin float64 `unit:"guessed min per min" source:"tuned: of 79 drawings, those planned within 40 minutes stand at 31 and less"`
	// What every log takes beside its parts.
	EveryLogMin float64 `unit:"min" source:"tuned"`
	// Work taken out between two questions to the judge.
	LeastSaved float64 `unit:"guessed min" source:"tuned: less asks the judge too often, more takes out too much"`
	// Bound of the steps to a drawing for sweets, and of those near a part that failed, before it is tried again.
	MostTaken, MostTakenNear int `unit:"steps" source:"tuned"`
	// A drawing whose mirror image differs by less is symmetric.
	EvenFrom float64 `unit:"share of the subject" source:"tuned: less is a hand's tolerance"`
	// A drawing whose mirror image differs by more is not made symmetric.
	EvenTo float64 `unit:"share of the subject" source:"tuned: more is meant"`
	// Guessed minutes of making a part.
	MakeMin float64 `unit:"min" source:"tuned on the shop's own figures"`
	// Guessed minutes of laying a part.
	LayMin float64 `unit:"min" source:"tuned on the shop's own figures"`
	// What is round an island must be cut to let it in.
	IslandMin float64 `unit:"min" source:"tuned"`
	// A half turn of concave border is one more part.
	BayMin float64 `unit:"min" source:"tuned"`
	// A feature near a failed place costs this share of what it would.
	NearFailed float64 `unit:"share" source:"tuned"`
	// The eye holds on to a dot that stands by itself on another colour.
	Island float64 `unit:"times" source:"tuned"`
	// The eye holds on to the outline against the ground.
	Silhouette float64 `unit:"times" source:"tuned"`
	// The eye holds on to areas from this size on.
	LargeShare float64 `unit:"share of the subject" source:"tuned"`
	// A colour that gives way to one so like it is merged, not left out.
	MergedBelow float64 `unit:"share of CIEDE2000 50" source:"tuned: CIEDE2000 of 12"`
	// A limb is narrower than the root of its area times this (short-cut rule, Singh and others 1999).
	LimbRoot float64 `unit:"times" source:"tuned"`
	// A limb is no larger share of its region.
	LimbShare float64 `unit:"share of the region" source:"tuned"`
	// Bound of the pairs of corners that are looked at.
	MostCorners int `unit:"corners" source:"set"`
	// What remains of a decision's places is decided by itself so many times.
	MostRests int `unit:"places" source:"tuned"`
	// And only while it is so small beside them.
	RestShare float64 `unit:"share" source:"tuned"`
	// Areas and widths of one group differ by no more.
	Alike float64 `unit:"share" source:"tuned: a hand's tolerance"`
	// A thickened line gets so much over the limit.
	SpareMM float64 `unit:"mm" source:"derived: the next reading rounds anew"`
	// How far beside a border the neighbour is looked up.
	OutsideMM float64 `unit:"mm" source:"derived: more than the grid's rounding"`
	// Bound of one walk towards the limits.
	MostRounds int `unit:"rounds" source:"set"`
	// Within this distance of the subject's outline a change is seen more.
	NearMM float64 `unit:"mm" source:"tuned"`
	// What is narrower is a line.
	LineMM float64 `unit:"mm" source:"set: a line and a half of the thinnest"`
	// And longer than so many of its widths.
	LineLong float64 `unit:"times" source:"set"`
	// A region so much of which is narrow is a line.
	LineShare float64 `unit:"share of the region" source:"tuned"`
	// Lines round areas are an outline from this length on.
	OutlineLong float64 `unit:"roots of the subject's area" source:"tuned"`
	// With less area than this beside the lines, the lines are the drawing.
	LeastFills float64 `unit:"share of the subject" source:"tuned"`
	// A part is as prominent as it can be from this size on.
	FullShare float64 `unit:"share of the subject" source:"fitted to graded pairs, planner/likeness"`
	// What is missed when the most prominent part is gone.
	MissedShare float64 `unit:"share of the subject" source:"tuned"`
	// A pair of islands more prominent than this is not taken out for work.
	SacredFrom float64 `unit:"prominence" source:"tuned"`
	// Twins differ by no more.
	TwinShare float64 `unit:"share" source:"tuned"`
	// Bound of the points noded for one drawing.
	MostPoints int `unit:"points" source:"set: about ten seconds"`
	// A point in an opening costs as much as so many that are noded.
	OpenCosts int `unit:"points" source:"measured"`
	// An eye is as round as this, and the white round a pupil no larger than that.
	EyeRound float64 `unit:"share of a disc's" source:"set"`
	EyeShare float64 `unit:"share of the subject" source:"set"`
	// A nose lies no farther from the middle between the eyes.
	Midway float64 `unit:"share of their distance" source:"set"`
	// An eye grows to no more than this, and keeps its colour to this difference.
	EyeGrows float64 `unit:"times" source:"set"`
	EyeDE    float64 `unit:"CIEDE2000" source:"set"`
	// And less of one larger than this.
	FormShare float64 `unit:"share of the subject" source:"tuned"`
	// A form covers no more of what lies beside it.
	MostCovered float64 `unit:"share of the region" source:"tuned"`
	// A bay of the ground so small closes where hands could not fill it.
	BayShare float64 `unit:"share of the subject" source:"tuned"`
	// Areas of one set are within this factor.
	SetFactor float64 `unit:"times" source:"tuned"`
	// And their roundness differs by less.
	SetRound float64 `unit:"share of a disc's" source:"tuned"`
	// What is the only one of its colour is missed so much more.
	OnlyOne float64 `unit:"times" source:"tuned"`
	// Of so many spots in a set half may go, when all of them are no larger part of what they lie in.
	ManySpots  int     `unit:"spots" source:"set"`
	SpotsShare float64 `unit:"share of the part round them" source:"tuned"`
	// A spot so near to another's mirror image goes with it.
	MirrorMM float64 `unit:"mm" source:"tuned: a hand's tolerance"`
	// What is left where lines met is no part up to this size.
	CrumbMM2 float64 `unit:"mm2" source:"tuned"`
	// A stem or a string has so much ground beside it.
	StrokeFree float64 `unit:"share of its border" source:"set"`
	// And is as long.
	StringLong float64 `unit:"roots of the subject's area" source:"tuned"`
	// Nor up to this share of the outline that it is left of.
	CrumbShare float64 `unit:"share of the outline" source:"tuned"`
	// A part's form changes no more of it.
	MostForm float64 `unit:"share of the part" source:"tuned"`
	// Forms that change less in all mend nothing.
	LeastFormMM2 float64 `unit:"mm2" source:"tuned"`
	// A line that reaches beyond the subject is no larger.
	WhiskerShare float64 `unit:"share of the subject" source:"tuned"`
	// Of two drawings whose losses of parts differ by more, the one that keeps more of them is better.
	PartsTell float64 `unit:"loss of parts" source:"tuned"`
	// Kinds of parts of a drawing for sweets, and of a bold one.
	SweetsKinds, BoldKinds int `unit:"kinds" source:"set: 15 and 6, less the jacket and what cuts add"`
	// Share of what fits the clock that a drawing for sweets may take, a plain one, and a bold one.
	SweetsWork, PlainWork, BoldWork float64 `unit:"share" source:"tuned: of 142 drawings, half are put together at the first, three in four at the second, nearly all at the third"`
	// With more guessed work a drawing is not tried twice.
	Hopeless float64 `unit:"guessed min" source:"tuned: of 142 drawings, 38 of 41 with more were not put together, and no other was in time"`
	// A smaller change is nobody's: a later one painted over it.
	LeastChangeMM2 float64 `unit:"mm2" source:"tuned"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	MostSeen:       0.4,
	GuessPerMin:    1.3,
	EveryLogMin:    16,
	LeastSaved:     3,
	MostTaken:      40,
	MostTakenNear:  14,
	EvenFrom:       0.002,
	EvenTo:         0.05,
	MakeMin:        1.2,
	LayMin:         0.6,
	IslandMin:      1.0,
	BayMin:         0.8,
	NearFailed:     0.6,
	Island:         1.5,
	Silhouette:     2.0,
	LargeShare:     0.15,
	MergedBelow:    0.25,
	LimbRoot:       2.2,
	LimbShare:      0.34,
	MostCorners:    150,
	MostRests:      3,
	RestShare:      0.4,
	Alike:          0.06,
	SpareMM:        0.08,
	OutsideMM:      0.03,
	MostRounds:     14,
	NearMM:         6,
	LineMM:         5.2,
	LineLong:       3,
	LineShare:      0.25,
	OutlineLong:    1.2,
	LeastFills:     0.3,
	FullShare:      0.004,
	MissedShare:    0.05,
	SacredFrom:     0.35,
	TwinShare:      0.35,
	WhiskerShare:   0.05,
	SetFactor:      3.5,
	MostPoints:     1_200_000,
	OpenCosts:      25,
	EyeRound:       0.7,
	EyeShare:       0.15,
	Midway:         0.2,
	EyeGrows:       4,
	EyeDE:          22,
	FormShare:      0.03,
	MostCovered:    0.3,
	BayShare:       0.02,
	SetRound:       0.25,
	OnlyOne:        1.5,
	ManySpots:      5,
	SpotsShare:     0.25,
	MirrorMM:       3,
	CrumbMM2:       70,
	CrumbShare:     0.1,
	StrokeFree:     0.8,
	StringLong:     0.35,
	MostForm:       0.5,
	LeastFormMM2:   1,
	PartsTell:      0.2,
	SweetsKinds:    13,
	BoldKinds:      6,
	SweetsWork:     0.75,
	PlainWork:      0.55,
	Hopeless:       36,
	BoldWork:       0.35,
	LeastChangeMM2: 0.05,
}
