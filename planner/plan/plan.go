// Package plan is what a plan file holds: every fact that a sheet shows, as plain data and words of fixed lists. It
// holds no sentence; sentences are chosen where a sheet or a line for the terminal is written.
//
// Guarantees: keys are stable (added, never renamed); numbers have at most four decimals; the same plan gives the same
// bytes (P9); a file that was read back passed its schema and Check, so no reference in it leads nowhere.
package plan

import (
	"strconv"
)

// Drawing is the name of the drawing that the client gave.
func (p *Plan) Drawing() string {
	if p.SimplifiedFrom != nil {
		return p.SimplifiedFrom.File
	}
	return p.Artwork.File
}

// Num is a number written with at most four decimals and never as -0.
type Num float64

// MarshalJSON writes the number in plain decimals.
func (n Num) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, n.rounded(), 'f', -1, 64), nil
}

// Point, Ring and Polygon as in the plan file: outer ring counter-clockwise first, holes clockwise.
type (
	Point   [2]Num
	Ring    []Point
	Polygon []Ring
)

// Plan is the plan file.
type Plan struct {
	Format  string   `json:"format"`
	Version int      `json:"version"`
	Artwork Artwork  `json:"artwork"`
	Verdict Verdict  `json:"verdict"`
	Files   []string `json:"files"`
	// SHA-256 of each of the files but this one, by name: a folder in which they are others is mixed
	Digests  map[string]string `json:"digests,omitempty"`
	Ground   string            `json:"ground"`
	Shop     Shop              `json:"shop"`
	Log      Log               `json:"log"`
	Piece    Piece             `json:"piece"`
	Colours  []Colour          `json:"colours"`
	Elements []Element         `json:"elements"`
	Layup    []Block           `json:"layup"`
	Steps    []Step            `json:"steps"`
	Findings []Finding         `json:"findings"`
	Cautions []string          `json:"cautions"`

	Job       *Job       `json:"job,omitempty"`        // what the client wants, from the order's file
	Order     *Order     `json:"order,omitempty"`      // logs, packs, and where every gram goes
	Label     *Label     `json:"label,omitempty"`      // what follows from the recipe for the packs' label
	Boil      *Boil      `json:"boil,omitempty"`       // of one log, that gives every colour, with reserve
	Rolling   *Rolling   `json:"rolling,omitempty"`    // what laying off-true buys
	Clock     *Clock     `json:"clock,omitempty"`      // how good the schedule is, and how much time is to spare
	GoingHard []Shortcut `json:"going_hard,omitempty"` // what may still be left out or merged when the sugar goes hard
	Forecast  *Forecast  `json:"forecast,omitempty"`   // how the faces will come out

	// The client's drawing, where the artwork is a simplified version of it
	SimplifiedFrom *Original `json:"simplified_from,omitempty"`
	Changes        []Change  `json:"changes,omitempty"`

	Picture []Area    `json:"picture"` // the flat areas as they were read, in the true frame
	Failing []Polygon `json:"failing"` // what is too thin or too small, in the order of the check's findings

	Smallest *Smallest `json:"smallest,omitempty"` // the least log that carries this drawing, where it was understood

	index *Index
}

// Format and Version of the file.
const (
	Format  = "sugarwright-plan"
	Version = 2
)

// Smallest is the least log that carries a drawing.
type Smallest struct {
	DiameterMM Num `json:"diameter_mm"`
	MassG      Num `json:"mass_g"`
}

// Area is a flat area of one fill, in the true frame.
type Area struct {
	Shape Polygon `json:"shape"`
	Fill  string  `json:"srgb"`
}

// Rolling is what the rolling model says: how far from their true places the picture's borders come out, laid as drawn,
// by the simple squash, and as planned (the last on a finer grid with half the step: P7). Stiffness is over the
// ground's.
type Rolling struct {
	Outline          string `json:"outline"` // stick or slip
	Softest          Num    `json:"softest"`
	Stiffest         Num    `json:"stiffest"`
	AsDrawn          Off    `json:"as_drawn"`
	Squash           Off    `json:"squash"`
	Planned          Off    `json:"planned"`
	TolerancePercent Num    `json:"tolerance_percent"`
	GridCells        int    `json:"grid_cells"`
	Steps            int    `json:"steps"`
	ProofCells       int    `json:"proof_cells"`
	ProofSteps       int    `json:"proof_steps"`
	BandPercent      Num    `json:"band_percent"` // nobody rolls truer
}

// Off is a distance in percent of the log's diameter.
type Off struct {
	RMS   Num `json:"rms_percent"`
	Worst Num `json:"worst_percent"`
}

// Clock is how good the schedule is. The binding part is the one whose window sets the heat at which all is laid.
type Clock struct {
	EndMin     Num  `json:"end_min"` // of the last step
	AtLeastMin Num  `json:"at_least_min"`
	Proved     bool `json:"proved"`
	GapPercent Num  `json:"gap_percent"`
	RoundMin   Num  `json:"round_min"` // the log is round
	DrawnMin   Num  `json:"drawn_min"` // the last length is drawn
	// The ground is too stiff to work; -1 when it stays workable as long as it is watched
	StiffMin    Num    `json:"stiff_min"`
	MarginMin   Num    `json:"margin_min"`       // from drawn to stiff
	MarginRange [2]Num `json:"margin_range_min"` // by what lamp, table and air may be off
	// The log is closed; from its first part on; at the latest, and the last length with it, in surroundings that are as
	// much cooler than the shop says as they may be
	ClosedMin       Num         `json:"closed_min"`
	OpenMin         Num         `json:"open_min"`
	CloseByMin      Num         `json:"close_by_min"`
	LastLengthByMin Num         `json:"last_length_by_min"`
	DoubtC          Num         `json:"doubt_c"`
	Dents           []Dent      `json:"dents"`
	Milestones      []Milestone `json:"milestones"`
	Slower          Slower      `json:"slower"`
	KeepC           Num         `json:"keep_c"` // at which what waits is kept; 0 when there is no warm place
	Binding         string      `json:"binding"`
	BindingC        [2]Num      `json:"binding_window_c"`
	TgC             Num         `json:"tg_c"`
	TgFrom          TgFrom      `json:"tg_from"`
	TgPlusMinus     Num         `json:"tg_plus_minus_c"`
}

// Dent is how far a peg of 20 mm under a kilogram sinks into the closed log in ten seconds, and for how long the log can
// then still be worked.
type Dent struct {
	DentMM  Num `json:"dent_mm"`
	Minutes Num `json:"minutes"`
}

// Milestone is when something is planned to be done, and at the latest.
type Milestone struct {
	What  MilestoneKey `json:"what"`
	AtMin Num          `json:"at_min"`
	ByMin Num          `json:"by_min"`
}

// Slower is what becomes of the plan if every step takes so much longer: whether each part is still laid while it can be,
// and if not, which step comes too late first, and by how much.
type Slower struct {
	Percent Num  `json:"percent"`
	Holds   bool `json:"holds"`
	Step    int  `json:"step,omitempty"`
	LateMin Num  `json:"late_min,omitempty"`
}

// Shortcut is a part that may be left out, its neighbour taking its place, or made as one with it, as long as it has
// not been made.
type Shortcut struct {
	Step     int        `json:"before_step"`
	UntilMin Num        `json:"until_min"`
	Do       ShortcutDo `json:"do"`
	Parts    []string   `json:"parts"` // what is left out or joined, and what takes its place
	Form     Form       `json:"form"`  // of the two as one
	Bent     bool       `json:"bent,omitempty"`
	SavesMin Num        `json:"saves_min"`
	WrongMM2 Num        `json:"wrong_mm2"` // area in another colour than drawn
	Text     string     `json:"text"`      // in English, put in when the file is written
}

// Forecast is how the faces come out: nominal, and some along the rope with the shop's spread.
type Forecast struct {
	NominalWrong Num `json:"nominal_wrong_percent"` // of the picture's area in the wrong colour
	MeanWrong    Num `json:"mean_wrong_percent"`
	WorstWrong   Num `json:"worst_wrong_percent"`
	// In the log: parts this thick and thicker come out in their places on every face
	FinestMM    Num      `json:"finest_mm"`
	FinestPiece Num      `json:"finest_piece_mm"`
	Lost        []string `json:"lost"` // parts less than half of which is in its place on some face
	BandPercent Num      `json:"band_percent"`
	Faces       []Face   `json:"faces"` // the first as planned, the rest along the rope
}

// Face is one section as it comes out: shapes by colour in drawing order.
type Face struct {
	Wrong  Num         `json:"wrong_percent"`
	Shapes []FaceShape `json:"shapes"`
}

// FaceShape is one part of a face.
type FaceShape struct {
	Colour string  `json:"colour"`
	Shape  Polygon `json:"shape"`
}

// Original is the drawing that was simplified.
type Original struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`

	Picture []Area `json:"picture"`        // its flat areas
	Seen    string `json:"seen,omitempty"` // as in the artwork
}

// Change is one numbered change of a simplified drawing; like places are one change.
type Change struct {
	Number       int        `json:"number"`
	Kind         ChangeKind `json:"kind"`
	Text         string     `json:"text"`   // in English, put in when the file is written
	Colour       string     `json:"colour"` // name of what is changed; "" where it is a gap or the whole
	To           string     `json:"to"`     // name of the colour that takes its place, if one does
	Gap          bool       `json:"gap"`    // between shapes
	Places       []Point    `json:"places_mm"`
	BeforeMM     Num        `json:"before_mm"` // mean width or diameter in the log; 0 where it means nothing
	AfterMM      Num        `json:"after_mm"`
	AreaMM2      Num        `json:"area_mm2"`        // that has another colour now
	Seen         Num        `json:"seen"`            // the area weighted by how much the eye sees it
	MinutesSaved Num        `json:"minutes_saved"`   // of work, guessed
	Count        int        `json:"count,omitempty"` // of flat colours, or of shapes, where reading changed them; else 0
	Shape        []Polygon  `json:"shape"`
}

// Artwork is the file that was planned.
type Artwork struct {
	File        string     `json:"file"`
	Title       string     `json:"title"` // the drawing's own, else its file's name
	SHA256      string     `json:"sha256"`
	ToTrue      [6]float64 `json:"to_true"`
	MergeDE2000 Num        `json:"merge_de2000"`
	Seen        string     `json:"seen,omitempty"` // what was sent, where it was not flat paint: a small PNG in base64
}

// Shop is the settings that the plan used.
type Shop struct {
	Crew             int    `json:"crew"`
	ThinnestMM       Num    `json:"thinnest_mm"`
	ThinnestWrapMM   Num    `json:"thinnest_wrap_mm"`
	GroundGapMM      Num    `json:"ground_gap_mm"`
	LeastRodMM       Num    `json:"least_rod_mm"`
	LeastFit         Num    `json:"least_fit"`
	EndLoss          Num    `json:"end_loss"`
	Oval             Num    `json:"oval"`
	JoinC            Num    `json:"join_c"`
	TgC              Num    `json:"tg_c"`
	ClockMin         Num    `json:"clock_min"`
	LeastLumpG       Num    `json:"least_lump_g"`
	AllowanceMM      Num    `json:"end_allowance_mm"`
	Reserve          Num    `json:"reserve"`
	PlacingMM        Num    `json:"placing_mm"` // spread of placing a part, one standard deviation
	TolerancePercent Num    `json:"tolerance_percent"`
	LargestMM        Num    `json:"largest_log_mm"`
	LargestG         Num    `json:"largest_log_g"`
	Kitchen          string `json:"kitchen,omitempty"` // its name
}

// Log is the assembled cylinder.
type Log struct {
	DiameterMM        Num `json:"diameter_mm"`
	LengthMM          Num `json:"length_mm"`
	PictureDiameterMM Num `json:"picture_diameter_mm"`
	JacketMM          Num `json:"jacket_mm"`
	LayWidthMM        Num `json:"lay_width_mm"`
	LayHeightMM       Num `json:"lay_height_mm"`
	MinutesToRoll     Num `json:"minutes_to_roll"`
	MassG             Num `json:"mass_g"`
}

// Piece is what the log becomes.
type Piece struct {
	DiameterMM Num `json:"diameter_mm"`
	LengthMM   Num `json:"length_mm"`
	MassG      Num `json:"mass_g"`
	Count      int `json:"count"`
	DrawRatio  Num `json:"draw_ratio"`
}

// Boil is what is boiled. Solids balance: sugar and the syrup's solids are the cooked sugar without its water.
type Boil struct {
	FinishedG    Num `json:"finished_g"` // with what is folded in
	FoldedG      Num `json:"folded_g"`   // acid, flavour and colour, put in after the boil
	CookedG      Num `json:"cooked_g"`   // poured
	SugarG       Num `json:"sugar_g"`
	SyrupG       Num `json:"syrup_g"`
	SyrupSolids  Num `json:"syrup_solids"`
	WaterG       Num `json:"water_g"`
	EndC         Num `json:"end_c"`
	EndPlusMinus Num `json:"end_plus_minus_c"`
	WaterPercent Num `json:"water_percent"` // left in the finished sugar
	SteamG       Num `json:"steam_g"`       // boiled off
	SlabMM       Num `json:"slab_mm"`       // thickness of the poured sugar
	SlabMM2      Num `json:"slab_mm2"`      // its area
	AcidG        Num `json:"acid_g,omitempty"`
	FlavourG     Num `json:"flavour_g,omitempty"`
}

// Colour of sugar.
type Colour struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	SRGB    string `json:"srgb"`
	Finish  Finish `json:"finish"`
	Density Num    `json:"density_g_cm3"`
	MassG   Num    `json:"mass_g"`
	Letter  string `json:"letter"`
	NeedG   Num    `json:"need_g"` // to be weighed off: with the parts' extra length, and the reserve
	CutG    Num    `json:"cut_g"`  // of it off the slab, before its colour is put in
	// Of that, more than the parts need: the least lump that can be mixed is larger
	SpareG Num `json:"spare_g"`
	TrimG  Num `json:"trim_g"`           // of that, what is trimmed off the parts' ends
	DoseG  Num `json:"dose_g,omitempty"` // of colour for that, as the shop's recipe says

	Coloured bool      `json:"coloured"` // colour is put in: it is no plain white
	From     ShadeFrom `json:"from"`
	Mix      []MixPart `json:"mix"`           // of the shop's own colours; empty where it has entered none
	Made     string    `json:"made_srgb"`     // how it comes out, as far as is known
	DE2000   Num       `json:"off_de2000"`    // from what was wanted
	Guess    bool      `json:"made_is_guess"` // a shade in it was not measured in this finish
}

// MixPart is one colour of a mix.
type MixPart struct {
	Name  string `json:"name"`
	Share Num    `json:"share"`
	Grams Num    `json:"grams"`
	DoseG Num    `json:"dose_g,omitempty"` // of colour for that
}

// Element is one part.
type Element struct {
	ID     string `json:"id"`
	Number int    `json:"number"`
	Kind   Kind   `json:"kind"`
	Form   Form   `json:"form"`
	Bent   bool   `json:"bent,omitempty"`
	// What is done to the bar, and the pieces of a bent strip's middle line, straight where they do not turn
	Operation Operation      `json:"operation"`
	Arcs      []Arc          `json:"arcs,omitempty"`
	Colour    string         `json:"colour"`
	Block     string         `json:"block"`
	CopiesOf  *string        `json:"copies_of"`
	Mirrored  bool           `json:"mirrored"`
	True      Polygon        `json:"true"`
	Laid      Polygon        `json:"laid"`
	Size      map[string]Num `json:"size"`
	Fit       Num            `json:"fit"`            // intersection over union of the part, as it must be once the log is round, and its recipe
	Misfit    Num            `json:"misfit_percent"` // the symmetric difference, of the part's area
	Lump      Num            `json:"lump_mm"`        // the largest disc in the symmetric difference
	Class     FitClass       `json:"class"`
	AreaMM2   Num            `json:"area_mm2"`
	MassG     Num            `json:"mass_g"`
	WindowC   [2]Num         `json:"window_c"`
	LayC      Num            `json:"lay_c"`
	RollC     Num            `json:"roll_c"`   // its mean heat when the log is rolled
	HoldMin   Num            `json:"hold_min"` // until neighbours or a wrap support it
	Turned    bool           `json:"turned"`   // it must be turned each minute until then
	// As laid in its block, where that is rolled round by itself; size and fit speak of it then
	InBlock Polygon `json:"laid_in_block,omitempty"`
	EtaRel  Num     `json:"eta_rel"`
	Label   Point   `json:"label_mm"`
}

// Arc is a piece of a bent strip's middle line.
type Arc struct {
	LengthMM Num `json:"length_mm"`
	TurnDeg  Num `json:"turn_deg"` // to the left
}

// Block of the lay-up.
type Block struct {
	Block string `json:"block"`
	Parts []Part `json:"parts"`
	// How many times as thick it is built as it is laid, where it is drawn out to several lengths: sizes of its parts are
	// those of the thick ones
	Scale Num `json:"scale,omitempty"`
	// How far its first part, and so the block, is turned from how it is drawn when it is begun, degrees counter-clockwise
	StartDeg Num `json:"start_deg,omitempty"`
}

// Part is one move.
type Part struct {
	Part      string `json:"part"`
	How       How    `json:"how"`
	Direction *Point `json:"direction"`
	TurnDeg   Num    `json:"turn_deg"`
	Stands    Stands `json:"stands"` // how all that is there stands then
}

// Step of the work. A step of an element or a block names it in Parts; which figures it has beside that depends on what
// it does.
type Step struct {
	Number   int      `json:"number"`
	Do       Do       `json:"do"`
	Parts    []string `json:"parts"`
	Hands    int      `json:"hands"`
	AtC      *Num     `json:"at_c"`
	ToC      *Num     `json:"to_c,omitempty"` // its heat at the end, where that is another
	StartMin Num      `json:"start_min"`
	Minutes  Num      `json:"minutes"`
	SlackMin Num      `json:"slack_min"` // how much later it may start before the end moves
	Pairs    []int    `json:"pairs"`     // which pairs of hands, from 1
	Text     string   `json:"text"`      // in English, put in when the file is written

	Block     string `json:"block,omitempty"`    // in which a part is laid
	How       How    `json:"how,omitempty"`      // the move of its lay-up entry
	TurnDeg   Num    `json:"turn_deg,omitempty"` // of a turn
	Stands    Stands `json:"stands,omitempty"`   // how all that is there stands then, where it is not free
	Lumps     int    `json:"lumps,omitempty"`    // cut apart by a divide
	Colour    string `json:"colour,omitempty"`   // of a lump that is coloured or pulled
	Load      int    `json:"load,omitempty"`     // of what is pulled in loads: which, and how many there are
	Loads     int    `json:"loads,omitempty"`
	MassG     Num    `json:"mass_g,omitempty"`     // of what is coloured, pulled, turned
	WithinMin *Num   `json:"within_min,omitempty"` // what is made must be laid within so many minutes
	TurnIt    bool   `json:"turn_it,omitempty"`    // what is made must be turned each minute until it is held
	// Where what is made waits in the warm place, by the order in which it is wanted, from 1; for how many minutes; and
	// how long it keeps its shape there without being turned
	Place    int `json:"place,omitempty"`
	WaitMin  Num `json:"wait_min,omitempty"`
	HoldsMin Num `json:"holds_min,omitempty"`
	// The parts of blocks that are built with this one: their entries of the lay-up have no step of their own
	Covers []string `json:"covers,omitempty"`
}

// Finding as in package finding.
type Finding struct {
	Code       string   `json:"code"`
	Severity   Severity `json:"severity"`
	Case       string   `json:"case,omitempty"` // which wording of the code
	Class      Class    `json:"class"`          // whose it is: drawing, order, shop or program
	Values     []any    `json:"values"`         // what the wording names: numbers, strings, lists of strings
	Message    string   `json:"message"`        // in English, put in when the file is written
	Suggestion string   `json:"suggestion"`
	Element    *string  `json:"element"`
	AtMM       *Point   `json:"at_mm"`
	Source     *Source  `json:"source"`
}

// Source is a place in the artwork file.
type Source struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	ID     string `json:"id"`
}
