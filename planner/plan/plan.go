// Package plan is the interface to sheets, to other programs and to checks by others: everything that may be shown, as plain data.
//
// Guarantees: keys are stable (added, never renamed); numbers have at most four decimals; the same plan gives the same bytes (P9).
package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
)

// Num is a number written with at most four decimals and never as -0.
type Num float64

// MarshalJSON writes the number in plain decimals.
func (n Num) MarshalJSON() ([]byte, error) {
	v := math.Round(float64(n)*1e4)/1e4 + 0
	return strconv.AppendFloat(nil, v, 'f', -1, 64), nil
}

// Point, Ring and Polygon as in the plan file: outer ring counter-clockwise first, holes clockwise.
type (
	Point   [2]Num
	Ring    []Point
	Polygon []Ring
)

// Plan is the plan file.
type Plan struct {
	Format   string    `json:"format"`
	Version  int       `json:"version"`
	Artwork  Artwork   `json:"artwork"`
	Verdict  string    `json:"verdict"`
	Files    []string  `json:"files"`
	Ground   string    `json:"ground"`
	Shop     Shop      `json:"shop"`
	Log      Log       `json:"log"`
	Piece    Piece     `json:"piece"`
	Colours  []Colour  `json:"colours"`
	Elements []Element `json:"elements"`
	Layup    []Block   `json:"layup"`
	Steps    []Step    `json:"steps"`
	Findings []Finding `json:"findings"`
	Cautions []string  `json:"cautions"`

	SimplifiedFrom *Original `json:"simplified_from,omitempty"` // the client's drawing, where the artwork is a simplified version of it
	Changes        []Change  `json:"changes,omitempty"`
}

// Original is the drawing that was simplified.
type Original struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

// Change is one numbered change of a simplified drawing; like places are one change.
type Change struct {
	Number       int       `json:"number"`
	Kind         string    `json:"kind"`
	Text         string    `json:"text"`
	Places       []Point   `json:"places_mm"`
	BeforeMM     Num       `json:"before_mm"` // mean width or diameter in the log; 0 where it means nothing
	AfterMM      Num       `json:"after_mm"`
	AreaMM2      Num       `json:"area_mm2"`      // that has another colour now
	Seen         Num       `json:"seen"`          // the area weighted by how much the eye sees it
	MinutesSaved Num       `json:"minutes_saved"` // of work, guessed
	Shape        []Polygon `json:"shape"`
}

// Artwork is the file that was planned.
type Artwork struct {
	File        string     `json:"file"`
	SHA256      string     `json:"sha256"`
	ToTrue      [6]float64 `json:"to_true"`
	MergeDE2000 Num        `json:"merge_de2000"`
}

// Shop is the settings that the plan used.
type Shop struct {
	Crew           int `json:"crew"`
	ThinnestMM     Num `json:"thinnest_mm"`
	ThinnestWrapMM Num `json:"thinnest_wrap_mm"`
	GroundGapMM    Num `json:"ground_gap_mm"`
	LeastRodMM     Num `json:"least_rod_mm"`
	LeastFit       Num `json:"least_fit"`
	EndLoss        Num `json:"end_loss"`
	Oval           Num `json:"oval"`
	JoinC          Num `json:"join_c"`
	TgC            Num `json:"tg_c"`
	ClockMin       Num `json:"clock_min"`
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

// Colour of sugar.
type Colour struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	SRGB    string `json:"srgb"`
	Finish  string `json:"finish"`
	Density Num    `json:"density_g_cm3"`
	MassG   Num    `json:"mass_g"`
	Letter  string `json:"letter"`
}

// Element is one part.
type Element struct {
	ID       string         `json:"id"`
	Number   int            `json:"number"`
	Kind     string         `json:"kind"`
	Form     string         `json:"form"`
	Bent     bool           `json:"bent,omitempty"`
	Colour   string         `json:"colour"`
	Block    string         `json:"block"`
	CopiesOf *string        `json:"copies_of"`
	Mirrored bool           `json:"mirrored"`
	True     Polygon        `json:"true"`
	Laid     Polygon        `json:"laid"`
	Size     map[string]Num `json:"size"`
	Fit      Num            `json:"fit"`
	AreaMM2  Num            `json:"area_mm2"`
	MassG    Num            `json:"mass_g"`
	WindowC  [2]Num         `json:"window_c"`
	LayC     Num            `json:"lay_c"`
	EtaRel   Num            `json:"eta_rel"`
	Label    Point          `json:"label_mm"`
}

// Block of the lay-up.
type Block struct {
	Block string `json:"block"`
	Parts []Part `json:"parts"`
}

// Part is one move.
type Part struct {
	Part      string `json:"part"`
	How       string `json:"how"`
	Direction *Point `json:"direction"`
	TurnDeg   Num    `json:"turn_deg"`
}

// Step of the work.
type Step struct {
	Number   int      `json:"number"`
	Do       string   `json:"do"`
	Parts    []string `json:"parts"`
	Hands    int      `json:"hands"`
	AtC      *Num     `json:"at_c"`
	StartMin Num      `json:"start_min"`
	Minutes  Num      `json:"minutes"`
	Text     string   `json:"text"`
}

// Finding as in package finding.
type Finding struct {
	Code       string  `json:"code"`
	Severity   string  `json:"severity"`
	Message    string  `json:"message"`
	Suggestion string  `json:"suggestion"`
	Element    *string `json:"element"`
	AtMM       *Point  `json:"at_mm"`
	Source     *Source `json:"source"`
}

// Source is a place in the artwork file.
type Source struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	ID     string `json:"id"`
}

// JSON is the plan file's bytes.
func (p *Plan) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	err := e.Encode(p)
	return b.Bytes(), err
}

// Cautions stand on every working sheet. They defer to food law and trained practice.
var Cautions = []string{
	"Hot sugar sticks and goes on burning, also inside when the skin has set. No temperature here means safe to touch.",
	"Burn: cool running water for 20 minutes, do not pull off what sticks, get help. The batch can wait.",
	"Gloves at the slab; none near turning rollers or pulling machines. Stop the machine before freeing sugar.",
	"Water and alcohol flavour spit on hot sugar; no flame near. Two people lift the log.",
	"Choking: hard sweets are not for small children. Declare allergens. Keep colours within the limits of your food law.",
	"Local food law and trained practice decide.",
}
