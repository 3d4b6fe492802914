package planner

import (
	"fmt"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/flow"
	"sugarwright/planner/forecast"
	"sugarwright/planner/form"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/sugar"
)

// keptShare of a part must be in its place on a face, or the part counts as lost there; tuned: half of a line is still seen as the line.
const keptShare = 0.5

// foresee rolls the laid log round: the nominal face, and some along the rope with the shop's spread.
func (w *work) foresee(faces int) error {
	s := w.o.Shop
	l := &forecast.Log{True: w.section.body.Points, Laid: w.laidAt, Parts: w.section.body.Parts, RadiusMM: w.log.DiameterMM / 2, Squash: flow.Squash(s.Oval),
		PerK: perK(w.parts[w.binding].rollC, s.TgC), PictureShare: s.PictureShare, Slip: s.Slip,
		Placing: s.Spread.PlacingMM, HeatC: s.Spread.HeatC, Oval: s.Spread.Oval, Squeeze: s.Spread.Squeeze}
	for _, e := range w.set.Elements {
		l.Colour = append(l.Colour, e.Colour)
	}
	first := l.Nominal(w.proved)
	rope, err := l.Along(faces)
	if err != nil {
		return err
	}
	out := &plan.Forecast{NominalWrong: plan.Num(100 * first.Wrong), BandPercent: forecast.Band, Lost: []string{}}
	out.Faces = append(out.Faces, w.facing("as planned", first))
	least := make([]float64, len(l.Parts))
	for i := range least {
		least[i] = first.Kept[i]
	}
	for k, f := range rope {
		out.Faces = append(out.Faces, w.facing(fmt.Sprint(k+1), f))
		out.MeanWrong += plan.Num(100 * f.Wrong / float64(len(rope)))
		out.WorstWrong = max(out.WorstWrong, plan.Num(100*f.Wrong))
		for i, v := range f.Kept {
			least[i] = math.Min(least[i], v)
		}
	}
	finest, lost := math.Inf(1), 0.0
	var at [2]float64
	for i, e := range w.set.Elements {
		if e.Kind == set.Jacket || e.Kind == set.Ground {
			continue
		}
		thick := form.Thick(w.parts[i].fit)
		if least[i] < keptShare {
			out.Lost = append(out.Lost, w.id(i))
			lost = math.Max(lost, thick)
			at = [2]float64(e.Inside())
		}
	}
	for i, e := range w.set.Elements {
		if thick := form.Thick(w.parts[i].fit); thick > lost && e.Kind == set.Subject {
			finest = math.Min(finest, thick)
		}
	}
	if !math.IsInf(finest, 1) {
		out.FinestMM, out.FinestPiece = plan.Num(finest), plan.Num(finest*w.o.Order.PieceMM/w.log.DiameterMM)
	}
	if len(out.Lost) > 0 {
		w.found.Add(finding.Finding{Code: finding.LostOnFaces, Severity: finding.Warning, AtMM: &at,
			Message:    fmt.Sprintf("on some faces along the rope %d of %d parts are less than half in their places", len(out.Lost), len(w.set.Elements)),
			Suggestion: "see forecast.svg; draw fine parts bolder, or place more carefully ([spread] in the shop file says how much logs differ)"})
	}
	w.forecast = out
	return nil
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

// facing is a face as shapes for a picture.
func (w *work) facing(name string, f *forecast.Face) plan.Face {
	out := plan.Face{Name: name, Wrong: plan.Num(100 * f.Wrong)}
	for i, e := range w.set.Elements {
		r := w.section.region(w.section.body.Parts[i].Rings, f.Points, flow.Outline{A: 1, B: 1})
		thin := make(geom.Region[geom.LaidPoint], len(r))
		for k := range r {
			thin[k] = geom.Thinned(r[k], faceMM)
		}
		out.Shapes = append(out.Shapes, plan.FaceShape{Colour: fmt.Sprintf("c%d", e.Colour), Shape: polygon(thin)})
	}
	return out
}

// faceMM is how far a drawn face may leave the computed one, in the log; on paper it is at most a tenth of that.
const faceMM = 0.25
