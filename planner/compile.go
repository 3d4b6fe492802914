// Package planner turns an artwork into a proven build plan, stage by stage.
//
// Guarantees: a plan that is not proven is never returned as one (P1 to P10 in DEVELOPERS.md); every stage's result is checked.
package planner

import (
	"errors"
	"fmt"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/build"
	"sugarwright/planner/check"
	"sugarwright/planner/job"
	"sugarwright/planner/layup"
	"sugarwright/planner/plan"
	"sugarwright/planner/replay"
	"sugarwright/planner/schedule"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
	"sugarwright/planner/split"
)

// Place says how the drawing is put into the picture circle.
type Place string

// Auto takes the page's inscribed circle when all paint lies in it, else the smallest circle round the drawing.
const (
	Auto    Place = ""
	Page    Place = "page"
	Drawing Place = "drawing"
)

// Options are the flags of plan and check.
type Options struct {
	Shop           *shop.Shop
	Order          size.Order
	Job            *job.Job // nil: none
	Place          Place
	Ground, Jacket artwork.RGB
	Faces          int     // how many faces along the rope are foreseen; 0: no forecast
	flattenMM      float64 // 0: FlattenMM; tests sample curves otherwise
	simpler        bool    // a simplified drawing, which may lack colours that the client has wishes for
	unproved       bool    // tests that look at splits alone do without rolling forward
}

// Verdicts.
const (
	AsDrawn      = "as-drawn"
	Simplify     = "simplify"
	NotBuildable = "not-buildable"
)

// FlattenMM keeps flattened curves so near to the curve that two samplings of one arc are congruent.
const FlattenMM = 0.015

// SliverMM is the sliver rule's width (METHODS 2).
const SliverMM = 0.02

// SpeckMM2 is the area below which a cell is nobody's part: a fiftieth of a square millimetre on the piece at a draw of 10; tuned.
const SpeckMM2 = 2

// guessDensity is the mean of pulled and clear sugar at the usual shares, g/cm3, until the section is known; tuned.
const guessDensity = 1.3

// maxReplays bounds how often an order is sought again after the replay rejected a move.
const maxReplays = 40

// Compile runs the whole pipeline. The error is for input that cannot be read, or our own fault; everything else is in the plan.
func Compile(file string, data []byte, o Options) (*Result, error) {
	w := &work{file: file, data: data, o: o}
	// Read: painted outlines with colour and place.
	if err := w.read(); err != nil {
		return nil, err
	}
	// Size the log from the order, so that widths are those in the log.
	if err := w.sizeLog(); err != nil {
		return nil, err
	}
	// Partition: regions of one colour that share borders (P1).
	if err := w.partition(); err != nil || w.refused() {
		return w.end(err)
	}
	// Match: each colour of the drawing to the shop's.
	if err := w.match(); err != nil {
		return nil, err
	}
	// Doses: what the shop's recipe brings to the sweets, beside the market's limits.
	var err error
	if w.dosed, w.strong, err = w.doses(); err != nil {
		return nil, err
	}
	// Check the drawing against the shop's limits.
	if err := w.check(); err != nil || w.refused() {
		return w.end(err)
	}
	// Split into elements that hands make (P1, P2, P3).
	if err := w.split(); err != nil || w.refused() {
		return w.end(err)
	}
	// Lay up and prove the order by replay (P4).
	if err := w.layup(); err != nil || w.refused() {
		return w.end(err)
	}
	// Schedule: windows, hands, clock (P8).
	if err := w.schedule(); err != nil || w.refused() {
		return w.end(err)
	}
	// Lay: stiffness at rolling, the log run backward from round to the oval (P6), forward again as proof (P7).
	if err := w.layShapes(); err != nil || w.refused() || w.o.Faces == 0 {
		return w.end(err)
	}
	// Forecast: the faces that come out, with the shop's spread; and what may be left out when the sugar goes hard.
	w.hurry(w.stepper)
	err = w.foresee(w.o.Faces)
	return w.end(err)
}

// end of the work: an error, or all that is known.
func (w *work) end(err error) (*Result, error) {
	if err != nil {
		return nil, err
	}
	return w.result(), nil
}

// work carries the stages' results to the plan.
type work struct {
	file    string
	data    []byte
	o       Options
	found   finding.List
	art     *artwork.Artwork
	log     size.Log
	m       *partition.Map
	shades  []shade // by colour of the map
	dosed   []plan.Dose
	strong  []bool // colours whose sugar by itself is over a limit
	want    wanted
	checked *check.Result
	set     *set.Set
	build   *build.Build

	// of the schedule
	parts     []partInfo
	binding   int // the element whose window sets the heat of laying
	keepC     float64
	stepper   *stepper
	scheduled *schedule.Result
	time      timing
	steps     []plan.Step

	// of laying
	section    *section
	laidAt     []geom.Vec // the section's points, run backward
	proved     []geom.Vec // and forward again, finer
	laid       []geom.Region[geom.LaidPoint]
	laidBlocks []geom.Region[geom.LaidPoint]
	blockC     [][]float64 // by block: heats of all parts when it is finished
	stiffAt    float64     // minute at which the ground gets too stiff to work; between stiffLow and stiffHigh
	stiffLow   float64
	stiffHigh  float64
	rolling    *plan.Rolling
	summary    *plan.Clock
	forecast   *plan.Forecast

	shortcuts []plan.Shortcut // for when the sugar goes hard
}

func (w *work) refused() bool { return w.found.Worst() == finding.Error }

func (w *work) read() error {
	art, found, err := artwork.Parse(w.data)
	w.art, w.found = art, found
	return err
}

func (w *work) sizeLog() error {
	s := w.o.Shop
	full := math.Pi / 4 * s.LargestMM * s.LargestMM * guessDensity / 1000
	o, err := w.perLog(s.LargestMM, full)
	if err != nil { // judged again when the piece's mass is known
		o = w.o.Order
	}
	d, err := o.Diameter(s.LargestMM, guessDensity, s.EndLoss)
	w.log.DiameterMM = d
	if d > s.LargestMM+1e-9 {
		w.found.Add(finding.Finding{Code: finding.OverLargest, Severity: finding.Warning, Message: fmt.Sprintf("a log of %.0f mm is larger than the shop's largest, %.0f mm", d, s.LargestMM),
			Suggestion: "its weight, its wraps and its cooling are beyond what the shop's minutes were taken for"})
	}
	return err
}

// frame of the section at the log's diameter, for a given transform.
func (w *work) frame(to geom.ToTrue) partition.Frame {
	s := w.o.Shop
	r := w.log.DiameterMM / 2
	flatten := FlattenMM
	if w.o.flattenMM > 0 {
		flatten = w.o.flattenMM
	}
	return partition.Frame{ToTrue: to, LogRadius: r, JacketRadius: r - s.JacketMM, PictureRadius: r * s.PictureShare,
		Ground: w.o.Ground, Jacket: w.o.Jacket, LikeDE2000: s.LikeDE2000, SliverMM: SliverMM, SpeckMM2: SpeckMM2, FlattenMM: flatten}
}

// touchMM keeps a drawing that is scaled to the picture circle off the circle's own polygon.
const touchMM = 0.05

func (w *work) partition() error {
	f := w.frame(geom.ToTrue{})
	if f.JacketRadius <= f.PictureRadius {
		s := w.o.Shop
		return fmt.Errorf("%w: %.0f mm across, more than %.0f are needed; order more, or give --log", ErrSize, w.log.DiameterMM, 2*s.JacketMM/(1-s.PictureShare))
	}
	v := w.art.Page.View
	page := geom.Circle[geom.ArtworkPoint]{Centre: geom.ArtworkPoint{v.X + v.W/2, v.Y + v.H/2}, Radius: math.Min(v.W, v.H) / 2}
	f.ToTrue, f.KeepWholeCanvas, f.SpeckMM2 = partition.Whole(w.art, f.PictureRadius), true, 0
	all, _, err := partition.Of(w.art, f)
	if err != nil {
		return w.tooMuch(err)
	}
	pts := all.Subject()
	if len(pts) == 0 {
		code, msg := finding.NoPaint, "nothing is painted"
		if w.art.Painted() {
			code, msg = finding.OneColour, "everything painted has the colour of the ground"
		}
		if w.found.Worst() < finding.Error {
			w.found.Add(finding.Finding{Code: code, Severity: finding.Error, Message: msg, Suggestion: "check the colours, or name another --ground"})
		}
	} else {
		m, found, err := partition.Of(w.art, w.frame(w.place(f, page, pts)))
		if err != nil {
			return w.tooMuch(err)
		}
		w.m = m
		w.found = append(w.found, found...)
	}
	return nil
}

// tooMuch turns a bound of the partition into a finding; other errors stay what they are.
func (w *work) tooMuch(err error) error {
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		w.found.Add(much.Finding())
		return nil
	}
	return err
}

// place decides between page and drawing.
func (w *work) place(f partition.Frame, page geom.Circle[geom.ArtworkPoint], pts []geom.TruePoint) geom.ToTrue {
	c := geom.SmallestCircle(pts)
	drawing := geom.Circle[geom.ArtworkPoint]{Centre: f.ToTrue.Artwork(c.Centre), Radius: c.Radius / f.ToTrue[0]}
	inside := true
	for _, p := range pts {
		inside = inside && geom.Dist(f.ToTrue.Artwork(p), page.Centre) <= page.Radius*1.0005
	}
	say := func(code finding.Code, sev finding.Severity, msg, advice string) {
		if !w.found.Has(code) {
			w.found.Add(finding.Finding{Code: code, Severity: sev, Message: msg, Suggestion: advice})
		}
	}
	switch {
	case w.o.Place == Page && !inside:
		say(finding.BeyondPicture, finding.Error, "paint reaches beyond the circle inscribed in the page", "use --place drawing, or draw inside the circle")
		return partition.Around(page, f.PictureRadius)
	case w.o.Place == Page || w.o.Place == Auto && inside:
		return partition.Around(page, f.PictureRadius)
	case w.o.Place == Auto:
		say(finding.PlacedDrawing, finding.Note, "paint reaches beyond the circle inscribed in the page, so the smallest circle round the drawing is the picture circle", "")
	}
	return partition.Around(drawing, f.PictureRadius-touchMM)
}

func (w *work) check() error {
	r, err := check.Of(w.m, w.o.Shop)
	if err != nil {
		return err
	}
	w.checked = r
	w.found = append(w.found, r.Findings...)
	if r.Finest < 1 && r.Finest > 0 {
		d := w.log.DiameterMM / r.Finest
		w.found.Add(finding.Finding{Code: finding.SmallestOrder, Severity: finding.Note,
			Message: fmt.Sprintf("the finest part would need a log of about %.0f mm", math.Ceil(d/5)*5)})
	}
	return nil
}

func (w *work) split() error {
	set, found, err := split.Of(w.m, w.o.Shop)
	if err != nil {
		return w.tooMuch(err)
	}
	w.set = set
	w.found = append(w.found, found...)
	if w.refused() { // the set may lack what no part could be made of
		return nil
	}
	area := 0.0
	for _, r := range w.m.Regions {
		area += r.Area
	}
	return set.Check(area)
}

// shape of a part in the true frame.
func (w *work) shape(p build.Part) geom.Region[geom.TruePoint] {
	if p.Element >= 0 {
		return w.set.Elements[p.Element].True
	}
	return w.set.Blocks[p.Block].Outline
}

// layup seeks an order and has it proved; a move that the replay rejects is not tried again.
func (w *work) layup() error {
	refused := layup.Refused{}
	var fault *replay.Fault
	for i := 0; i < maxReplays; i++ {
		b, found := layup.Of(w.set, refused)
		if len(found) > 0 {
			w.found = append(w.found, found...)
			return nil
		}
		if err := b.Check(len(w.set.Elements)); err != nil {
			return err
		}
		if fault = replay.Prove(b, w.shape, replay.TrueGive); fault == nil {
			w.build = b
			return nil
		}
		refused.Add(fault.Part, fault.Direction)
	}
	f := finding.Finding{Code: finding.NotProven, Severity: finding.Error, Message: "no order that was found could be proven: " + fault.Text,
		Suggestion: "this is a limit of the program, not a fault of the drawing"}
	at := geom.MomentsOf(w.shape(fault.Part)).Centroid
	f.AtMM = (*[2]float64)(&at)
	w.found.Add(f)
	return nil
}
