package forecast

import (
	"fmt"
	"math"
	"slices"
	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/flow"
	"sugarwright/planner/laying"
	"sugarwright/planner/pile"
	"sugarwright/planner/plan"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// keptShare of a part must be in its place on a face, or the part counts as lost there; tuned: half of a line is still
// seen as the line.
const keptShare = 0.5

// Rope is what is drawn out into faces: the laid log, its proof, and the piece that it becomes.
type Rope struct {
	Set          *set.Set
	Section      *section.Section
	Cooling      *pile.Cooling
	Binding      int // the element whose heat stands for the log's
	Laid         *laying.Laid
	Proof        *laying.Proof
	Shop         *shop.Shop
	PieceMM      float64
	PictureShare float64 // the picture circle over the log
}

// Of rolls the laid log round: the face as planned, and some along the rope with the shop's spread.
func Of(r Rope, faces int) (*plan.Forecast, finding.List, error) {
	l := r.log()
	first := l.Nominal(r.Proof.At)
	rope, err := l.Along(faces)
	if err != nil {
		return nil, nil, err
	}
	out := &plan.Forecast{NominalWrong: plan.Num(100 * first.Wrong), BandPercent: flow.Band, Lost: []string{}}
	out.Faces = append(out.Faces, r.face(first))
	least := slices.Clone(first.Kept)
	for _, f := range rope {
		out.Faces = append(out.Faces, r.face(f))
		out.MeanWrong += plan.Num(100 * f.Wrong / float64(len(rope)))
		out.WorstWrong = max(out.WorstWrong, plan.Num(100*f.Wrong))
		for i, v := range f.Kept {
			least[i] = math.Min(least[i], v)
		}
	}
	return out, r.lost(out, least), nil
}

// log is the laid log as its faces are computed.
func (r Rope) log() *Log {
	s, radius := r.Shop, r.Section.RadiusMM()
	l := &Log{
		True:         r.Section.Body.Points,
		Laid:         r.Laid.At,
		Parts:        r.Laid.Body.Parts,
		RadiusMM:     radius,
		Squash:       flow.Squash(s.Oval),
		PerK:         perK(r.Cooling.RollC[r.Binding], s.TgC),
		PictureShare: r.PictureShare,
		Slip:         s.Slip,
		Placing:      s.Spread.PlacingMM,
		HeatC:        s.Spread.HeatC,
		Oval:         s.Spread.Oval,
		Squeeze:      s.Spread.Squeeze,
	}
	for _, e := range r.Set.Elements {
		l.Colour = append(l.Colour, e.Colour)
	}
	return l
}

// lost lists the parts that are not in their places on some face, and how fine the parts are that always are. least is,
// by part, the least share of it that is in its place on any face.
func (r Rope) lost(out *plan.Forecast, least []float64) (found finding.List) {
	finest, thickest := math.Inf(1), 0.0
	var at [2]float64
	for i, e := range r.Set.Elements {
		if e.Kind == set.Jacket || e.Kind == set.Ground {
			continue
		}
		if least[i] < keptShare {
			out.Lost = append(out.Lost, r.Set.ID(i))
			thickest = math.Max(thickest, r.Laid.Parts[i].Fit.Thick())
			at = [2]float64(e.Inside())
		}
	}
	for i, e := range r.Set.Elements {
		if thick := r.Laid.Parts[i].Fit.Thick(); thick > thickest && e.Kind == set.Subject {
			finest = math.Min(finest, thick)
		}
	}
	if !math.IsInf(finest, 1) {
		out.FinestMM, out.FinestPiece = plan.Num(finest), plan.Num(finest*r.PieceMM/(2*r.Section.RadiusMM()))
	}
	if len(out.Lost) > 0 {
		found.Add(finding.New(finding.LostOnFaces, finding.Warning, len(out.Lost), len(r.Set.Elements)).At(at))
	}
	return found
}

// perK is decades of viscosity lost a kelvin.
func perK(c, tg float64) float64 {
	a, err := sugar.LogEta(c, tg)
	b, err2 := sugar.LogEta(c+1, tg)
	if err != nil || err2 != nil {
		return 0
	}
	return a - b
}

// face is a face as shapes for a picture.
func (r Rope) face(f *Face) plan.Face {
	out := plan.Face{Wrong: plan.Num(100 * f.Wrong)}
	for i, e := range r.Set.Elements {
		shape := r.Section.Region(r.Section.Body.Parts[i].Rings, f.Points, flow.Outline{A: 1, B: 1})
		thin := make(geom.Region[geom.LaidPoint], len(shape))
		for k := range shape {
			thin[k] = geom.Thinned(shape[k], faceMM)
		}
		out.Shapes = append(out.Shapes,
			plan.FaceShape{Colour: fmt.Sprintf("c%d", e.Colour), Shape: plan.PolygonOf(thin)})
	}
	return out
}

// faceMM is how far a drawn face may leave the computed one, in the log; on paper it is at most a tenth of that.
const faceMM = 0.25
