package split

import (
	"math"
	"sugarwright/geom/partition"
	"sugarwright/planner/cuts"
	"sugarwright/planner/recipe"
	"sugarwright/planner/symmetry"
)

// Constants are the numbers that the split is set by, each with its unit and where it comes from. The first two dozen
// are the objective: what a set of parts costs, in minutes, beside the shop's own minutes of making and laying.
type Constants struct {
	// What a slip of ground costs, at most.
	SlightPenalty float64 `unit:"min" source:"tuned"`
	// A part that is refused in the end is dearer than any cut.
	NoRecipe float64 `unit:"min" source:"tuned"`
	// Each part laid is one more seam.
	LaidOverhead float64 `unit:"min" source:"tuned"`
	// Each distinct part is one more thing to find and to get wrong.
	DistinctOverhead float64 `unit:"min" source:"tuned"`
	// Cells that are no one part.
	NoPart float64 `unit:"min" source:"set: more than any split costs"`
	// Below this difference two prices are equal.
	TieMinutes float64 `unit:"min" source:"derived: what another sampling of the outlines moves a price by"`
	// What one blocked part costs while parts are still cut.
	BlockedMinutes float64 `unit:"min" source:"set: more than any cut costs"`
	// A joined part may be so much dearer before it is cut anew.
	RecutMinutes float64 `unit:"min" source:"tuned"`
	// How far an edge may lie off a line and still be a piece of it.
	OnLineMM float64 `unit:"mm" source:"derived: noding moves a line's pieces by less"`
	// Two parts within this Hausdorff distance are copies.
	CongruentMM float64 `unit:"mm" source:"design, section 5"`
	// Near-equal parts within this distance are made equal.
	EqualShare float64 `unit:"share of the root of the area" source:"common practice, no source: the areas then differ by less than 3 %"`
	// The same bound for large parts.
	EqualMM float64 `unit:"mm" source:"common practice, no source"`
	// Ground gives way when it is pressed, so many times as far.
	GiveWay float64 `unit:"times" source:"tuned"`
	// What making parts equal may move in all: with more the plan is not as drawn.
	EqualBudget float64 `unit:"share of the picture" source:"design, section 5"`
	// A region with holes that fills so much of its hull is built apart, as a block.
	RoundEnough float64 `unit:"share of the hull" source:"tuned"`
	// Figures in a row are built as blocks with square edges: so many at most, straight along or square to the row for so
	// much of their border by edges so long, each as high as so much of it; where that costs no more than so many times what
	// it costs otherwise, since blocks are laid more easily.
	MostBoxes     int     `unit:"figures" source:"set"`
	StraightMM    float64 `unit:"mm" source:"tuned"`
	StraightRad   float64 `unit:"rad" source:"tuned: more than curves made straight differ by"`
	StraightShare float64 `unit:"share of the border" source:"tuned"`
	RowShare      float64 `unit:"share of the row's height" source:"tuned"`
	BoxedWorth    float64 `unit:"times the price" source:"tuned"`
	// Ground along a box's edge that is thinner is left to what lies outside.
	SliverMM float64 `unit:"mm" source:"tuned: round letters reach one part in sixty farther than flat ones"`
	// A hull corner so near to the smallest circle touches it.
	TouchMM float64 `unit:"mm" source:"tuned"`
	// A circle that lies so far off the log's middle leaves an uneven ring.
	OffMM float64 `unit:"mm" source:"derived: pressing a soft sheet takes up less"`
	// A line that runs along a finished block may shave off so much.
	ShredMM2 float64 `unit:"mm2" source:"derived: blocks are noded apart, to the grid's rounding"`
	// Where an outline turns more is a corner, else a point of a curve.
	CornerRad float64 `unit:"rad" source:"derived: curves flattened to a hundredth of a millimetre turn less from 1 mm of radius on"`
	// A cut that ends so near to a point of a curve ends there.
	SamePointMM float64 `unit:"mm" source:"tuned: what is nearer leaves a sliver"`
	// A point so near to a border counts as on it.
	OnBorderMM float64 `unit:"mm" source:"derived: noding merges two steps of the grid"`
	// Bound of the exhaustive search in one block.
	MostSets int `unit:"sets of cells" source:"tuned: enough for a letter, too few for a snowflake"`
	// Bound of the exhaustive search in all blocks of a drawing.
	MostSetsInAll int `unit:"sets of cells" source:"tuned"`
	// Bound of its walk.
	MostSteps int `unit:"steps" source:"tuned"`
	// A pocket so deep surely holds on to something.
	DeepMM float64 `unit:"mm" source:"tuned"`
	// A shallower pocket gives.
	LeastDeepMM float64 `unit:"mm" source:"tuned"`
	// How often parts that cannot be made get cuts of their own.
	RepairRounds int `unit:"rounds" source:"tuned"`
	// More bad parts than so many are not mended.
	MostBad int `unit:"parts" source:"tuned: the most that were ever mended were nine"`
	// With more bad parts all is not split anew.
	MostAnew int `unit:"parts" source:"tuned: it takes seconds and hardly ever helps then"`
	// A domain that priced so many gets no more rounds.
	MostRepaired int `unit:"sets of cells" source:"tuned"`
	// A domain of so many cells gets no more rounds.
	MostRepairedCells int `unit:"cells" source:"tuned: with more the search takes seconds and has not yet repaired anything"`
	// How often all parts are cut anew.
	PolishRounds int `unit:"rounds" source:"tuned: the third hardly ever gains"`
	// A domain that priced so many is not.
	MostPolished int `unit:"sets of cells" source:"tuned"`
	// How often blocked cells are cut again; once every cell is convex an order exists (Guibas and Yao 1983).
	FreeRounds int `unit:"rounds" source:"tuned: most drawings need none"`
	// Shapes whose signatures are so near stand for each other in the search.
	SameShare float64 `unit:"share of the size" source:"tuned: copies in drawings differ by so much"`
	// Bound of the merges priced in one domain.
	MergeNodes int `unit:"merges" source:"tuned: drawings for hands need hundreds"`
	// The same bound for the corners of what is priced, each shape's squared: what pricing costs at worst.
	MostCorners int `unit:"corners squared" source:"set: twice what the largest of the open drawings takes"`
	// From so many cells on merging is tried only where cutting from above has failed.
	ManyAtoms int `unit:"cells" source:"tuned: it hardly ever finds anything cheaper there, and takes long"`
	// Bound of the lines of a domain.
	MostLines int `unit:"lines" source:"tuned"`
	// The same bound where orbits are large.
	MostOrbits int `unit:"orbits" source:"tuned"`
	// Signatures that differ by less are one class in the search; copies are then verified point by point.
	LikeShare float64 `unit:"share" source:"tuned"`
	// Classes are looked up in bins of the logarithm of their size, so wide.
	ClassBin float64 `unit:"ln mm" source:"tuned"`
	// A strip that turns more is rolled up, not bent on.
	RollTurn float64 `unit:"rad" source:"tuned"`
	// Both sheets of a roll are no more uneven.
	RollUneven float64 `unit:"share" source:"tuned"`
	// One sheet of a roll may be so many times as thick as the other.
	RollWidth float64 `unit:"times" source:"tuned"`
	// A strip that turns less holds on to nothing inside it.
	OpenTurn float64 `unit:"rad" source:"tuned"`
	// Keeps a part off the limit of the thinnest.
	OpenSpare float64 `unit:"share" source:"derived: more than the flattening of the opening's arcs"`
	// A smaller cell is no part by itself.
	TinyMM2 float64 `unit:"mm2" source:"tuned: 14 square units of a 200-unit drawing"`
	// Less ground beside the closing wrap is taken up by it.
	LeastSpacerMM2 float64 `unit:"mm2" source:"tuned: 60 square units of a 200-unit drawing"`

	Cuts     cuts.Constants
	Symmetry symmetry.Constants
	Recipes  recipe.Constants
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	SlightPenalty:     12.0,
	NoRecipe:          30.0,
	LaidOverhead:      0.5,
	DistinctOverhead:  0.5,
	NoPart:            1000.0,
	TieMinutes:        0.04,
	BlockedMinutes:    6,
	RecutMinutes:      12,
	OnLineMM:          0.005,
	CongruentMM:       0.02,
	EqualShare:        0.015,
	EqualMM:           0.6,
	GiveWay:           3.0,
	EqualBudget:       0.005,
	RoundEnough:       0.93,
	MostBoxes:         8,
	StraightMM:        5,
	StraightRad:       0.002,
	StraightShare:     0.3,
	RowShare:          0.5,
	BoxedWorth:        1.1,
	SliverMM:          1.2,
	TouchMM:           0.3,
	OffMM:             0.75,
	ShredMM2:          0.01,
	CornerRad:         0.3,
	SamePointMM:       0.05,
	OnBorderMM:        2 * partition.Unit,
	MostSets:          400,
	MostSetsInAll:     1500,
	MostSteps:         200_000,
	DeepMM:            0.4,
	LeastDeepMM:       0.02,
	RepairRounds:      6,
	MostBad:           10,
	MostAnew:          3,
	MostRepaired:      4000,
	MostRepairedCells: 320,
	PolishRounds:      2,
	MostPolished:      2500,
	FreeRounds:        6,
	SameShare:         0.003,
	MergeNodes:        30_000,
	MostCorners:       400_000_000,
	ManyAtoms:         90,
	MostLines:         80,
	MostOrbits:        8,
	LikeShare:         0.012,
	ClassBin:          0.02,
	RollTurn:          2.4 * math.Pi,
	RollUneven:        0.35,
	RollWidth:         4.0,
	OpenTurn:          1.1 * math.Pi,
	OpenSpare:         0.01,
	TinyMM2:           4.4,
	LeastSpacerMM2:    19,

	Cuts: cuts.Tuned, Symmetry: symmetry.Tuned, Recipes: recipe.Tuned,
}
