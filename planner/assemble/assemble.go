// Package assemble makes the plan from what the stages found. It is the only place that does, and nothing changes a
// plan afterwards.
//
// Guarantees: masses are density times area times length, and colours and log are their sums (P5); where the drawing
// cannot be planned the lists of elements, lay-up and steps are empty; the plan is as its file holds it, to the last
// digit.
package assemble

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"path/filepath"
	"strings"

	toml "github.com/pelletier/go-toml/v2"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/build"
	"sugarwright/planner/check"
	"sugarwright/planner/flow"
	"sugarwright/planner/job"
	"sugarwright/planner/laying"
	"sugarwright/planner/order"
	"sugarwright/planner/palette"
	"sugarwright/planner/pile"
	"sugarwright/planner/plan"
	"sugarwright/planner/recipe"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
	"sugarwright/planner/windows"
	"sugarwright/planner/work"
)

// Stages are what the stages gave, in their order; those that did not run are nil.
type Stages struct {
	File  string
	Data  []byte
	Shop  *shop.Shop
	Job   *job.Job // nil: none
	Order size.Order

	Artwork    *artwork.Artwork
	DiameterMM float64 // of the log
	Map        *partition.Map
	Palette    *palette.Palette
	Checked    *check.Result
	Set        *set.Set
	Build      *build.Build
	Log        *order.Log
	Windows    *windows.Windows
	Work       *work.Work
	Section    *section.Section
	Holds      *pile.Holds
	Cooling    *pile.Cooling
	Laid       *laying.Laid
	Clock      *plan.Clock
	Proof      *laying.Proof
	GoingHard  []plan.Shortcut
	Forecast   *plan.Forecast
	Smallest   *plan.Smallest
	Findings   finding.List
	Shaped     int // so many findings came before the clock was asked

	Simplified *Simplified // nil where the drawing is the client's own
}

// Simplified is what was changed of the client's drawing.
type Simplified struct {
	From    plan.Original
	Title   string
	Changes []plan.Change
}

// Plan of what the stages gave.
func Plan(s *Stages) (*plan.Plan, error) {
	if s.Log == nil {
		s.Log = order.GuessLog(s.Order, s.Job, s.Shop, s.DiameterMM)
	}
	if s.Palette == nil && s.Map != nil {
		s.Palette = palette.Unmatched(s.Map, s.Shop)
	}
	p := s.head()
	s.colours(p)
	if p.Verdict == plan.AsDrawn && s.Build != nil {
		s.elements(p)
		s.layup(p)
		s.boil(p)
		p.Steps = s.Work.Steps
		p.Clock, p.Forecast, p.GoingHard = s.Clock, s.Forecast, s.GoingHard
		if s.Proof != nil {
			p.Rolling = s.Proof.Rolling
		}
		s.order(p)
	}
	p.Changes = s.reading()
	if x := s.Simplified; x != nil {
		p.SimplifiedFrom, p.Changes, p.Artwork.Title = &x.From, x.Changes, x.Title
	}
	if s.Artwork != nil {
		p.Artwork.Seen = base64.StdEncoding.EncodeToString(s.Artwork.Seen)
	}
	for _, f := range s.Findings.Sorted() {
		if s.Artwork != nil && s.Artwork.Traced { // its lines are those of no file that anybody has
			f.Source = finding.Source{}
		}
		p.Findings = append(p.Findings, Finding(f))
	}
	return plan.Normal(p)
}

// reading is what reading changed of the drawing.
func (s *Stages) reading() (out []plan.Change) {
	if s.Artwork == nil || s.Map == nil {
		return nil
	}
	for i, a := range s.Artwork.Altered {
		c := plan.Change{Number: i + 1, Kind: readingKinds[string(a.Code)+"_"+a.Case], Shape: []plan.Polygon{}}
		if len(a.Values) > 0 && c.Kind != plan.TracedPixels {
			c.Count, _ = a.Values[0].(int)
		}
		for _, at := range a.At {
			c.Places = append(c.Places, plan.PointOf(s.Map.Frame.ToTrue.Point(at)))
		}
		out = append(out, c)
	}
	return out
}

// readingKinds by code and case of what reading changed.
var readingKinds = map[string]plan.ChangeKind{
	string(finding.ShadeFlat) + "_":            plan.ShadeFlat,
	string(finding.ShadeFlat) + "_one":         plan.ShadesFlat,
	string(finding.ShadeFlat) + "_more":        plan.ShadesFew,
	string(finding.ShadeFlat) + "_pattern":     plan.PatternFlat,
	string(finding.EffectDropped) + "_":        plan.EffectOut,
	string(finding.EffectDropped) + "_sharp":   plan.BlurSharp,
	string(finding.EffectDropped) + "_faded":   plan.ShineOut,
	string(finding.Traced) + "_":               plan.TracedPixels,
	string(finding.EffectDropped) + "_foreign": plan.ForeignOut,
	string(finding.Traced) + "_photo":          plan.TracedPixels,
	string(finding.TextSet) + "_":              plan.TextSet,
	string(finding.TextSet) + "_lighter":       plan.TextSet,
	string(finding.TextSet) + "_unnamed":       plan.TextSet,
}

// head is what is known of every drawing that was read.
func (s *Stages) head() *plan.Plan {
	sh, num := s.Shop, func(v float64) plan.Num { return plan.Num(v) }
	p := &plan.Plan{
		Format:  plan.Format,
		Version: plan.Version,
		Verdict: s.verdict(),
		Files:   []string{},
		Ground:  set.ColourID(0),
		Artwork: plan.Artwork{
			File:        s.File,
			Title:       s.title(),
			SHA256:      fmt.Sprintf("%x", sha256.Sum256(s.Data)),
			MergeDE2000: num(sh.LikeDE2000),
			ToTrue:      [6]float64{1, 0, 0, -1, 0, 0},
		},
		Shop: plan.Shop{
			Crew:             sh.Crew,
			ThinnestMM:       num(sh.ThinnestMM),
			ThinnestWrapMM:   num(sh.ThinnestWrapMM),
			GroundGapMM:      num(sh.GroundGapMM),
			LeastRodMM:       num(sh.LeastRodMM),
			LeastFit:         num((2 - recipe.Tuned.CloseMisfit) / (2 + recipe.Tuned.CloseMisfit)),
			EndLoss:          num(sh.EndLoss),
			Oval:             num(sh.Oval),
			JoinC:            num(sh.JoinC),
			TgC:              num(sh.TgC),
			ClockMin:         num(sh.ClockMin),
			LeastLumpG:       num(sh.LeastLumpG),
			AllowanceMM:      num(sh.AllowanceMM),
			Reserve:          num(sh.Reserve),
			PlacingMM:        num(sh.Spread.PlacingMM),
			TolerancePercent: num(sh.TolerancePercent),
			LargestMM:        num(sh.LargestMM),
			LargestG:         num(sh.MostG),
			Kitchen:          sh.Kitchen,
		},
		Colours:  []plan.Colour{},
		Elements: []plan.Element{},
		Layup:    []plan.Block{},
		Steps:    []plan.Step{},
		Findings: []plan.Finding{},
		Picture:  Areas(s.Map),
		Failing:  []plan.Polygon{},
		Smallest: s.Smallest,
	}
	if s.Map != nil {
		p.Artwork.ToTrue = s.Map.Frame.ToTrue
	}
	if s.Checked != nil {
		for _, x := range s.Checked.Places {
			p.Failing = append(p.Failing, plan.PolygonOf(x.Shape))
		}
	}
	if j := s.Job; j != nil {
		p.Job = &plan.Job{Client: j.Client, Flavour: j.Flavour, Acid: j.Acid, Market: j.Market}
		if j.Date != (toml.LocalDate{}) {
			p.Job.Date = j.Date.String()
		}
	}
	d := s.Log.DiameterMM
	oval := flow.OutlineAt(flow.Squash(sh.Oval), 0)
	p.Log = plan.Log{DiameterMM: num(d), LengthMM: num(s.Log.LengthMM), PictureDiameterMM: num(s.pictureMM()),
		JacketMM: num(s.jacketMM()), LayWidthMM: num(d * oval.A), LayHeightMM: num(d * oval.B)}
	if s.Work != nil {
		p.Log.MinutesToRoll = num(s.Work.Timing.Roll)
	}
	p.Piece = plan.Piece{
		DiameterMM: num(s.Order.PieceMM),
		LengthMM:   num(s.Order.CutMM),
		Count:      s.Order.Count(s.Log.Log, sh.EndLoss),
		DrawRatio:  num(d / s.Order.PieceMM),
	}
	return p
}

// Areas are a map's regions as flat areas.
func Areas(m *partition.Map) []plan.Area {
	out := []plan.Area{}
	if m != nil {
		for _, r := range m.Regions {
			out = append(out, plan.Area{Shape: plan.PolygonOf(r.Shape), Fill: m.Colours[r.Colour].RGB.Hex()})
		}
	}
	return out
}

// title of the drawing: its own, else its file's name.
func (s *Stages) title() string {
	if s.Artwork != nil && s.Artwork.Title != "" {
		return s.Artwork.Title
	}
	return strings.TrimSuffix(s.File, filepath.Ext(s.File))
}

// Finding as the plan holds it.
func Finding(f finding.Finding) plan.Finding {
	out := plan.Finding{
		Code:     string(f.Code),
		Case:     f.Case,
		Class:    plan.Class(f.About().Class),
		Severity: plan.Severity(f.Severity.String()),
		Values:   []any{},
	}
	for _, v := range f.Values {
		if x, ok := v.(float64); ok {
			v = plan.Num(x)
		}
		out.Values = append(out.Values, v)
	}
	if f.AtMM != nil {
		at := plan.PointOf(*f.AtMM)
		out.AtMM = &at
	}
	if f.Source.Line > 0 {
		out.Source = &plan.Source{Line: f.Source.Line, Column: f.Source.Column, ID: f.Source.ID}
	}
	return out
}

// lostShare is the share of the subject that may fail before nothing of the picture is left; boldest is the width, as a
// share of what is needed, from which lines can still be drawn bolder and the picture known again (a line made twice as
// wide). Both tuned.
const (
	lostShare = 0.85
	boldest   = 0.45
)

// verdict from the findings: whose they are decides it, by the table of codes. What fails of the drawing may be
// redrawn, unless nothing would be left of it.
func (s *Stages) verdict() plan.Verdict {
	errs := s.Findings.Errors()
	if len(errs) == 0 {
		return plan.AsDrawn
	}
	classes := map[finding.Class]bool{}
	for _, f := range errs {
		if f.About().Hopeless {
			return plan.NotBuildable
		}
		classes[f.About().Class] = true
	}
	// Nothing would be left, and to make it all bold enough would change it beyond knowing.
	if s.Map != nil && len(s.Map.Regions) > check.MostAreas {
		return plan.NotBuildable
	}
	if c := s.Checked; c != nil && c.Subject > 0 && c.LostArea > lostShare*c.Subject && c.Finest < boldest {
		return plan.NotBuildable
	}
	switch {
	case classes[finding.Drawing]:
		return plan.Simplify
	case classes[finding.Program]:
		return plan.OurLimit
	}
	return plan.ShopLimit
}

// pictureMM is the picture circle's diameter.
func (s *Stages) pictureMM() float64 {
	if s.Map == nil {
		return s.Log.DiameterMM * s.Shop.Fill
	}
	return 2 * s.Map.Frame.PictureRadius
}

// jacketMM is the jacket's thickness; 0 where the last sheet of ground is all the jacket there is.
func (s *Stages) jacketMM() float64 {
	if s.Map == nil {
		return 0
	}
	return s.Map.Frame.LogRadius - s.Map.Frame.JacketRadius
}
