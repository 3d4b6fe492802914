package planner

import (
	"crypto/sha256"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	toml "github.com/pelletier/go-toml/v2"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/build"
	"sugarwright/planner/flow"
	"sugarwright/planner/form"
	"sugarwright/planner/heat"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/planner/words"
)

// partInfo is what is known of an element beside its shape.
type partInfo struct {
	window  heat.Window
	layC    float64
	holdMin float64 // it must hold its shape by itself
	rollC   float64 // its mean heat when the log is rolled
	etaRel  float64 // its stiffness then, over the ground's
	fit     form.Fit
	inBlock geom.Region[geom.LaidPoint] // as laid in its block, where that is rolled round by itself
}

// finish of a colour: its name, clear or pulled.
func (w *work) finish(c int) shop.Colour { return w.shade(c).Colour }

// shade of a colour as it was matched; the drawing's own where the work ended before that.
func (w *work) shade(c int) shade {
	if c < len(w.shades) {
		return w.shades[c]
	}
	return byRule(c, w.m.Colours[c].RGB, "")
}

func (w *work) density(c int) float64 {
	if w.finish(c).Finish == shop.Pulled {
		return w.o.Shop.PulledDensity
	}
	return w.o.Shop.ClearDensity
}

// schedule settles length, windows and the clock.
func (w *work) schedule() error {
	if err := w.length(); err != nil {
		return err
	}
	w.lumps()
	w.windows()
	if w.refused() { // without a window nothing can be put on the clock
		return nil
	}
	if n := w.set.Distinct() - 1; n > w.o.Shop.MostDistinct { // the jacket is made in any case
		w.found.Add(finding.Finding{Code: finding.TooManyParts, Severity: finding.Warning, Message: fmt.Sprintf("%d distinct parts are more than the %d that a crew makes in time", n, w.o.Shop.MostDistinct)})
	}
	return w.clock()
}

// rounding keeps a log that is just as large as allowed from being too large.
const rounding = 1e-6

// length of the log follows from the order and from what a millimetre of it weighs.
func (w *work) length() error {
	s := w.o.Shop
	perMM := 0.0
	for _, r := range w.m.Regions {
		perMM += r.Area * w.density(r.Colour) / 1000
	}
	o, err := w.perLog(w.log.DiameterMM, perMM)
	if err != nil {
		return err
	}
	w.log.LengthMM = o.Length(w.log.DiameterMM, perMM, s.EndLoss, s.LengthMM)
	if g := w.log.LengthMM * perMM; g > s.MostG*(1+rounding) {
		w.found.Add(finding.Finding{Code: finding.OverLargest, Severity: finding.Warning, Message: fmt.Sprintf("a log of %.0f g is larger than the shop's largest, %.0f g", g, s.MostG),
			Suggestion: "order less in one log; of --pieces, or an order's file, several logs are made"})
	} else if s.LeastLumpG > g {
		return settings.Faults{{File: s.File, Line: s.Lines.Lump, Text: fmt.Sprintf("the least lump that can be mixed, shop.least_lump_g %g g, is more than the whole log of %.0f g; allowed is a log of that weight or more", s.LeastLumpG, g)}}
	}
	if w.log.LengthMM < 2*w.log.DiameterMM-0.5 {
		w.found.Add(finding.Finding{Code: finding.LongFace, Severity: finding.Warning,
			Message: fmt.Sprintf("the log is %.0f mm long and %.0f mm thick: shorter than twice its thickness, it is hard to draw out", w.log.LengthMM, w.log.DiameterMM)})
	}
	return nil
}

// lumps warns of colours of which less is needed than can be mixed.
func (w *work) lumps() {
	mass := make([]float64, len(w.m.Colours))
	at := make([]geom.TruePoint, len(mass))
	for _, r := range w.m.Regions {
		if mass[r.Colour] == 0 {
			e := set.Element{True: r.Shape}
			at[r.Colour] = e.Inside()
		}
		mass[r.Colour] += r.Area * w.density(r.Colour) * w.log.LengthMM / 1000
	}
	for i, m := range mass {
		if m > 0 && m < w.o.Shop.LeastLumpG {
			p := [2]float64(at[i])
			f := finding.Finding{Code: finding.SmallLump, Severity: finding.Warning, AtMM: &p,
				Message:    fmt.Sprintf("%.0f g of %s in this log, less than the %.0f g that can be mixed: so much is mixed, the rest is left over", m, w.finish(i).Name, w.o.Shop.LeastLumpG),
				Suggestion: "order a longer log, or use the colour more"}
			if k, off := w.likest(i, mass); k >= 0 {
				f.Suggestion += fmt.Sprintf(", or make it %s too (CIEDE2000 %.0f off)", w.finish(k).Name, off)
			}
			w.found.Add(f)
		}
	}
}

// likest is the colour of the drawing that another is most like, of those of which a lump can be mixed; -1 when there is none.
func (w *work) likest(i int, mass []float64) (best int, off float64) {
	best, off = -1, math.Inf(1)
	for k, m := range mass {
		if d := partition.DE2000(w.m.Colours[i].RGB, w.m.Colours[k].RGB); k != i && m >= w.o.Shop.LeastLumpG && d < off {
			best, off = k, d
		}
	}
	return best, off
}

// lostShare is the share of the subject that may fail before nothing of the picture is left; boldest is the width, as a share of what is
// needed, from which lines can still be drawn bolder and the picture known again (a line made twice as wide). Both tuned.
const (
	lostShare = 0.85
	boldest   = 0.45
)

// verdict from the findings: what fails may be redrawn, unless nothing would be left.
func (w *work) verdict() string {
	if w.found.Worst() < finding.Error {
		return AsDrawn
	}
	if w.found.Has(finding.NoPaint) || w.found.Has(finding.OneColour) || w.found.Has(finding.ImageInArtwork) {
		return NotBuildable
	}
	// Nothing would be left, and to make it all bold enough would change it beyond knowing.
	if c := w.checked; c != nil && c.Subject > 0 && c.LostArea > lostShare*c.Subject && c.Finest < boldest {
		return NotBuildable
	}
	return Simplify
}

// plan is everything as plain data. When the verdict is not as-drawn, elements, lay-up and steps stay empty.
func (w *work) plan() *plan.Plan {
	s := w.o.Shop
	p := &plan.Plan{Format: "sugarwright-plan", Version: 1, Verdict: w.verdict(), Files: []string{}, Ground: "c0",
		Artwork: plan.Artwork{File: w.file, Title: w.title(), SHA256: fmt.Sprintf("%x", sha256.Sum256(w.data)), MergeDE2000: plan.Num(s.LikeDE2000), ToTrue: [6]float64{1, 0, 0, -1, 0, 0}},
		Shop: plan.Shop{Crew: s.Crew, ThinnestMM: plan.Num(s.ThinnestMM), ThinnestWrapMM: plan.Num(s.ThinnestWrapMM), GroundGapMM: plan.Num(s.GroundGapMM),
			LeastRodMM: plan.Num(s.LeastRodMM), LeastFit: plan.Num(s.LeastFit), EndLoss: plan.Num(s.EndLoss), Oval: plan.Num(s.Oval), JoinC: plan.Num(s.JoinC),
			TgC: plan.Num(s.TgC), ClockMin: plan.Num(s.ClockMin), LeastLumpG: plan.Num(s.LeastLumpG), AllowanceMM: plan.Num(s.AllowanceMM), Reserve: plan.Num(s.Reserve), PlacingMM: plan.Num(s.Spread.PlacingMM),
			TolerancePercent: plan.Num(s.TolerancePercent)},
		Colours: []plan.Colour{}, Elements: []plan.Element{}, Layup: []plan.Block{}, Steps: []plan.Step{}, Findings: []plan.Finding{}, Cautions: []string{},
	}
	if w.m != nil {
		p.Artwork.ToTrue = w.m.Frame.ToTrue
	}
	if j := w.o.Job; j != nil {
		p.Job = &plan.Job{Client: j.Client, Flavour: j.Flavour, Acid: j.Acid, Market: j.Market}
		if j.Date != (toml.LocalDate{}) {
			p.Job.Date = j.Date.String()
		}
	}
	if w.log.LengthMM == 0 {
		perMM := math.Pi / 4 * w.log.DiameterMM * w.log.DiameterMM * guessDensity / 1000
		o, err := w.perLog(w.log.DiameterMM, perMM)
		if err != nil { // of an order that is judged when the drawing can be built
			o = w.o.Order
		}
		w.log.LengthMM = o.Length(w.log.DiameterMM, perMM, s.EndLoss, s.LengthMM)
	}
	oval := flow.OutlineAt(flow.Squash(s.Oval), 0)
	ratio := w.log.DiameterMM / w.o.Order.PieceMM
	p.Log = plan.Log{DiameterMM: plan.Num(w.log.DiameterMM), LengthMM: plan.Num(w.log.LengthMM), PictureDiameterMM: plan.Num(w.log.DiameterMM * s.PictureShare),
		JacketMM: plan.Num(s.JacketMM), LayWidthMM: plan.Num(w.log.DiameterMM * oval.A), LayHeightMM: plan.Num(w.log.DiameterMM * oval.B), MinutesToRoll: plan.Num(w.time.roll)}
	p.Piece = plan.Piece{DiameterMM: plan.Num(w.o.Order.PieceMM), LengthMM: plan.Num(w.o.Order.CutMM), Count: w.o.Order.Count(w.log, s.EndLoss), DrawRatio: plan.Num(ratio)}
	w.masses(p, ratio)
	if p.Verdict == AsDrawn && w.build != nil {
		w.elements(p)
		w.layupOf(p)
		w.boil(p)
		p.Steps = w.steps
		p.Rolling, p.Clock, p.Forecast, p.GoingHard = w.rolling, w.summary, w.forecast, w.shortcuts
		w.orderOf(p)
	}
	for _, c := range plan.Cautions() {
		p.Cautions = append(p.Cautions, words.English().Say(c))
	}
	for _, f := range w.found.Sorted() {
		p.Findings = append(p.Findings, planFinding(f))
	}
	return p
}

// title of the drawing: its own, else its file's name.
func (w *work) title() string {
	if w.art != nil && w.art.Title != "" {
		return w.art.Title
	}
	return strings.TrimSuffix(w.file, filepath.Ext(w.file))
}

func planFinding(f finding.Finding) plan.Finding {
	out := plan.Finding{Code: string(f.Code), Severity: f.Severity.String(), Message: f.Message, Suggestion: f.Suggestion}
	if f.AtMM != nil {
		out.AtMM = &plan.Point{plan.Num(f.AtMM[0]), plan.Num(f.AtMM[1])}
	}
	if f.Source.Line > 0 {
		out.Source = &plan.Source{Line: f.Source.Line, Column: f.Source.Column, ID: f.Source.ID}
	}
	return out
}

// masses fills the colour budget (P5).
func (w *work) masses(p *plan.Plan, ratio float64) {
	if w.m == nil {
		return
	}
	area := make([]float64, len(w.m.Colours))
	for _, r := range w.m.Regions {
		area[r.Colour] += r.Area
	}
	total := 0.0
	for i, c := range w.m.Colours {
		f := w.finish(i)
		mass := area[i] * w.density(i) * w.log.LengthMM / 1000
		total += mass
		sh := w.shade(i)
		p.Colours = append(p.Colours, plan.Colour{ID: colourID(i), Name: f.Name, SRGB: c.RGB.Hex(), Finish: string(f.Finish),
			Density: plan.Num(w.density(i)), MassG: plan.Num(mass), Letter: letter(i), From: sh.from, Mix: append([]plan.MixPart{}, sh.parts...), Made: sh.made.Hex(), DE2000: plan.Num(sh.off), Guess: sh.guess, Coloured: sh.DoseGPerK > 0 || !nearWhite(sh.made)})
	}
	p.Log.MassG = plan.Num(total)
	p.Piece.MassG = plan.Num(total / w.log.LengthMM / ratio / ratio * w.o.Order.CutMM)
}

// colourID is the id of a colour in the plan.
func colourID(i int) string { return fmt.Sprintf("c%d", i) }

// letter of a colour on the sheets.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

func polygon[P geom.Frame](r geom.Region[P]) plan.Polygon {
	out := make(plan.Polygon, len(r))
	for i, ring := range r {
		out[i] = make(plan.Ring, len(ring))
		for j, p := range ring {
			out[i][j] = plan.Point{plan.Num(p[0]), plan.Num(p[1])}
		}
	}
	return out
}

func (w *work) elements(p *plan.Plan) {
	s := w.o.Shop
	copies := map[int]int{}
	for _, e := range w.set.Elements {
		if e.CopyOf >= 0 {
			copies[e.CopyOf]++
		}
	}
	for i, e := range w.set.Elements {
		info := w.parts[i]
		src := i
		if e.CopyOf >= 0 {
			src = e.CopyOf
		}
		area := e.True.Area()
		at := e.Inside()
		out := plan.Element{ID: w.id(i), Number: e.Number, Kind: e.Kind.String(), Form: e.Fit.Form.String(), Bent: e.Fit.Form == form.Bent,
			Colour: fmt.Sprintf("c%d", e.Colour), Block: w.set.Name(e.Block), Mirrored: e.Mirror, True: polygon(e.True), Laid: polygon(w.laid[i]),
			Size: map[string]plan.Num{}, Fit: plan.Num(info.fit.IoU), AreaMM2: plan.Num(area), MassG: plan.Num(area * w.density(e.Colour) * w.log.LengthMM / 1000),
			WindowC: [2]plan.Num{plan.Num(info.window.Low), plan.Num(info.window.High)}, LayC: plan.Num(info.layC), EtaRel: plan.Num(info.etaRel), RollC: plan.Num(info.rollC), HoldMin: plan.Num(info.holdMin), Turned: info.window.Turned, InBlock: polygon(info.inBlock), Label: plan.Point{plan.Num(at[0]), plan.Num(at[1])}}
		if e.CopyOf >= 0 {
			id := w.id(e.CopyOf)
			out.CopiesOf = &id
		}
		for k, v := range form.Size(w.parts[src].fit) {
			out.Size[k] = plan.Num(v)
		}
		out.Size["part_length_mm"] = plan.Num(w.log.LengthMM + s.AllowanceMM)
		if n := copies[src]; n > 0 {
			out.Size["made_length_mm"] = plan.Num(float64(n+1) * (w.log.LengthMM + s.AllowanceMM))
		}
		p.Elements = append(p.Elements, out)
	}
}

func (w *work) layupOf(p *plan.Plan) {
	for b, entries := range w.build.Blocks {
		out := plan.Block{Block: w.set.Name(b)}
		for _, e := range entries {
			part := plan.Part{Part: w.partID(e.Part), How: e.Move.String(), TurnDeg: plan.Num(e.Turn)}
			if e.Move == build.Lay {
				part.Direction = &plan.Point{plan.Num(e.Direction[0]), plan.Num(e.Direction[1])}
			}
			out.Parts = append(out.Parts, part)
		}
		p.Layup = append(p.Layup, out)
	}
}
