package planner

import (
	"fmt"
	"math"
	"sync"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/build"
	"sugarwright/planner/flow"
	"sugarwright/planner/form"
	"sugarwright/planner/plan"
	"sugarwright/planner/replay"
	"sugarwright/planner/set"
)

// The rolling model's grids: what the laid shapes are computed with; what checks them (P7), finer and with half the step; and what tells how far
// off other ways of laying are, of which two digits matter.
var (
	inverse = flow.Method{Cells: 48, Steps: 4}
	proof   = flow.Method{Cells: 64, Steps: 8}
	other   = flow.Method{Cells: 48, Steps: 2}
)

// Shares of the diameter: what the return may lack (P7), and below what difference the simple squash is as good.
const (
	returnShare = 0.005
	squashShare = 0.002
)

// method with the shop's outline.
func (w *work) method(m flow.Method) flow.Method {
	m.Slip = w.o.Shop.Slip
	return m
}

// layShapes runs the log backward from round to the oval: the shapes in which parts are laid (P6). A block that is rolled round by itself is
// run backward by itself too, for the shapes in which its own parts are laid into it.
func (w *work) layShapes() error {
	all := make([]int, len(w.set.Elements))
	for i := range all {
		all[i] = i
	}
	s := sectionOf(w.set, all, geom.TruePoint{}, w.log.DiameterMM/2)
	full := make([][][]int32, len(all))
	for i, e := range w.set.Elements {
		full[i] = s.tracers(e.Full)
	}
	outlines := make([][][]int32, len(w.set.Blocks))
	for b, blk := range w.set.Blocks {
		outlines[b] = s.tracers(blk.Outline)
	}
	w.holds(s)
	w.cool(s)
	for i := range s.body.Parts {
		s.body.Parts[i].Stiffness = w.parts[i].etaRel
	}
	h := flow.Squash(w.o.Shop.Oval)
	at, err := flow.Backward(&s.body, h, w.method(inverse))
	if err != nil {
		return err
	}
	oval := flow.OutlineAt(h, 0)
	for i, e := range w.set.Elements {
		w.laid = append(w.laid, s.region(s.body.Parts[i].Rings, at, oval))
		w.parts[i].fit = laidFit(e, s.region(full[i], at, oval))
	}
	for _, rings := range outlines {
		w.laidBlocks = append(w.laidBlocks, s.region(rings, at, oval))
	}
	w.section, w.laidAt = s, at
	if err := w.inBlocks(h); err != nil {
		return err
	}
	w.areas()
	w.fits()
	w.laidOverlap()
	w.summary = w.clockOf()
	if w.o.unproved {
		return nil
	}
	return w.returns(h)
}

// inBlocks runs blocks that a wrap closes round backward by themselves.
func (w *work) inBlocks(h float64) error {
	for b := range w.build.Blocks {
		circle, ok := w.rolledAlone(b)
		if !ok {
			continue
		}
		ids := w.inside(b)
		s := sectionOf(w.set, ids, circle.Centre, circle.Radius)
		rel := w.stiffness(w.blockC[b])
		full := make([][][]int32, len(ids))
		for k, i := range ids {
			s.body.Parts[k].Stiffness = rel[i]
			full[k] = s.tracers(w.set.Elements[i].Full)
		}
		at, err := flow.Backward(&s.body, h, w.method(inverse))
		if err != nil {
			return err
		}
		oval := flow.OutlineAt(h, 0)
		for k, i := range ids {
			if w.set.Elements[i].Block == b { // what lies in a block of this one was laid into that
				w.parts[i].inBlock = s.region(s.body.Parts[k].Rings, at, oval)
				w.parts[i].fit = laidFit(w.set.Elements[i], s.region(full[k], at, oval))
			}
		}
	}
	return nil
}

// roundShare of its smallest circle is what a block covers that rolls by itself; tuned: a block with flat sides does not.
const roundShare = 0.95

// rolledAlone tells whether a block is closed by a wrap and round, and its circle.
func (w *work) rolledAlone(b int) (geom.Circle[geom.TruePoint], bool) {
	blk, entries := w.set.Blocks[b], w.build.Blocks[b]
	if b == len(w.set.Blocks)-1 || blk.Roll || entries[len(entries)-1].Move != build.Wrap {
		return geom.Circle[geom.TruePoint]{}, false
	}
	area := blk.Outline[0].Area()
	c := geom.Circle[geom.TruePoint]{Centre: geom.MomentsOf(blk.Outline.Filled()).Centroid, Radius: math.Sqrt(area / math.Pi)}
	r := geom.SmallestCircle(blk.Outline[0]).Radius
	return c, area > roundShare*math.Pi*r*r
}

// inside lists the elements of a block and of the blocks in it.
func (w *work) inside(b int) []int {
	out := append([]int(nil), w.set.Blocks[b].Elements...)
	for _, c := range w.set.Blocks[b].Blocks {
		out = append(out, w.inside(c)...)
	}
	return out
}

// laidFit measures the laid polygon by the element's form. Where that form cannot be measured any more the true sizes stand, with no better a
// fit than any other form has; a bent strip's stand as they are, since its measure follows a middle line that is not always found again.
func laidFit(e set.Element, laid geom.Region[geom.LaidPoint]) form.Fit {
	out, best := e.Fit, 0.0
	for _, f := range form.FitAll(laid) {
		if f.Form == e.Fit.Form {
			return f
		}
		best = math.Max(best, f.IoU)
	}
	if out.Form != form.Bent && out.Form != form.Wrap {
		out.IoU = math.Min(out.IoU, best)
	}
	return out
}

// areaShare is by how much a laid part's area may differ from its true one (P6).
const areaShare = 1e-3

// areas refuses laid shapes of another area than the true ones (P6).
func (w *work) areas() {
	for i, e := range w.set.Elements {
		for _, laid := range []geom.Region[geom.LaidPoint]{w.laid[i], w.parts[i].inBlock} {
			if area := e.True.Area(); len(laid) > 0 && math.Abs(laid.Area()-area) > areaShare*area {
				at := [2]float64(e.Inside())
				w.found.Add(finding.Finding{Code: finding.NoReturn, Severity: finding.Error, AtMM: &at,
					Message:    fmt.Sprintf("run backward to the oval a part of %.0f square mm has %.1f", area, laid.Area()),
					Suggestion: "this is a limit of the rolling model, not a fault of the drawing; lay in a cradle (oval = 1 in the shop file)"})
			}
		}
	}
}

// fits refuses parts that are no form any more once they are squashed.
func (w *work) fits() {
	for i, e := range w.set.Elements {
		if fit := w.parts[i].fit; e.Kind == set.Subject && fit.IoU < w.o.Shop.LeastFit {
			at := [2]float64(e.Inside())
			w.found.Add(finding.Finding{Code: finding.PoorFit, Severity: finding.Error, AtMM: &at,
				Message:    fmt.Sprintf("squashed to the oval, a part is no longer near a form that hands make (fit %.2f, %.2f needed)", fit.IoU, w.o.Shop.LeastFit),
				Suggestion: "this is a limit of the program's cuts, not a fault of the drawing; plainer outlines here would help it"})
		}
	}
}

// laidOverlap replays the order in the laid frame and prints what still overlaps after the give.
func (w *work) laidOverlap() {
	shapes := func(p build.Part) geom.Region[geom.LaidPoint] {
		if p.Element >= 0 {
			return w.laid[p.Element]
		}
		return w.laidBlocks[p.Block]
	}
	const most = 4.0
	give, fault := replay.LaidGive, replay.Prove(w.build, shapes, replay.LaidGive)
	for ; fault != nil && give < most; fault = replay.Prove(w.build, shapes, give) {
		give += 0.5
	}
	switch {
	case fault != nil:
		at := [2]float64(geom.MomentsOf(w.shape(fault.Part)).Centroid)
		w.found.Add(finding.Finding{Code: finding.LaidOverlap, Severity: finding.Warning, AtMM: &at,
			Message:    fmt.Sprintf("in the oval the order is not proved: a part here passes another with more than %.1f mm of overlap", most),
			Suggestion: "lay in a rounder pile, or a cradle (log.oval in the shop file)"})
	case give > replay.LaidGive:
		w.found.Add(finding.Finding{Code: finding.LaidOverlap, Severity: finding.Note,
			Message: fmt.Sprintf("in the oval some parts pass each other with up to %.1f mm of overlap: press them past", give)})
	}
}

// returns rolls the log forward three times: as planned, on a finer grid with half the step (P7); laid by the simple squash; laid as drawn. It
// says what laying off-true buys.
func (w *work) returns(h float64) error {
	s := w.section
	m, fine, rough := w.method(inverse), w.method(proof), w.method(other)
	r := &plan.Rolling{Outline: map[bool]string{false: "stick", true: "slip"}[m.Slip], GridCells: m.Cells, Steps: m.Steps, ProofCells: fine.Cells, ProofSteps: fine.Steps,
		TolerancePercent: 100 * returnShare, Softest: plan.Num(math.Inf(1))}
	for _, p := range s.body.Parts {
		r.Stiffest, r.Softest = max(r.Stiffest, plan.Num(p.Stiffness)), min(r.Softest, plan.Num(p.Stiffness))
	}
	cases := []struct {
		points []geom.Vec
		method flow.Method
		out    *plan.Off
	}{{w.laidAt, fine, &r.Planned}, {s.body.Points, rough, &r.Squash}, {s.asDrawn(flow.OutlineAt(h, 0)), rough, &r.AsDrawn}}
	errs := make([]error, len(cases))
	var wait sync.WaitGroup
	for i, c := range cases {
		wait.Go(func() {
			got, err := flow.Forward(&flow.Body{Points: c.points, Parts: s.body.Parts}, h, c.method)
			if errs[i] = err; err == nil {
				*c.out = w.off(got)
				if i == 0 {
					w.proved = got
				}
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	w.rolling = r
	if r.Planned.Worst > 100*returnShare {
		w.found.Add(finding.Finding{Code: finding.NoReturn, Severity: finding.Warning,
			Message:    fmt.Sprintf("rolled forward on a finer grid the picture comes back to %.2f %% of the diameter only; the laid shapes are not to be trusted to more", float64(r.Planned.Worst)),
			Suggestion: "this is a limit of the rolling model; lay in a cradle (oval = 1 in the shop file)"})
	}
	if w.o.Shop.Oval < 1 && r.Squash.Worst-r.Planned.Worst < 100*squashShare {
		w.found.Add(finding.Finding{Code: finding.SquashAsGood, Severity: finding.Note,
			Message: fmt.Sprintf("parts are so alike in stiffness that the simple squash to the oval is as good: it puts the picture off by at most %.2f %% of the diameter, the computed shapes by %.2f %%; laid as drawn it would be off by %.2f %%",
				float64(r.Squash.Worst), float64(r.Planned.Worst), float64(r.AsDrawn.Worst))})
	}
	return nil
}

// rim is the share of the radius at which what does not fit into the oval is put.
const rim = 0.995

// asDrawn is the section put undistorted into the oval.
func (s *section) asDrawn(oval flow.Outline) []geom.Vec {
	out := make([]geom.Vec, len(s.body.Points))
	for i, p := range s.body.Points {
		q := geom.Vec{p[0] / oval.A, p[1] / oval.B}
		if l := q.Len(); l > rim {
			q = geom.Vec{q[0] * rim / l, q[1] * rim / l}
		}
		out[i] = q
	}
	return out
}

// off is how far the picture's borders come from their true places, in percent of the diameter; where the outline slips the whole may turn,
// and the best turn is taken off first.
func (w *work) off(got []geom.Vec) plan.Off {
	var ids []int32
	seen := map[int32]bool{}
	for i, e := range w.set.Elements {
		if e.Kind != set.Subject {
			continue
		}
		for _, ring := range w.section.body.Parts[i].Rings {
			for _, k := range ring {
				if !seen[k] {
					seen[k] = true
					ids = append(ids, k)
				}
			}
		}
	}
	if len(ids) == 0 {
		return plan.Off{}
	}
	points := w.section.body.Points
	sin, cos := 0.0, 1.0
	if w.o.Shop.Slip {
		a, b := 0.0, 0.0
		for _, k := range ids {
			a += got[k].Cross(points[k])
			b += got[k].Dot(points[k])
		}
		sin, cos = math.Sincos(math.Atan2(a, b))
	}
	sum, worst := 0.0, 0.0
	for _, k := range ids {
		p := geom.Vec{got[k][0]*cos - got[k][1]*sin, got[k][0]*sin + got[k][1]*cos}
		d := geom.Dist(p, points[k]) / 2
		sum += d * d
		worst = math.Max(worst, d)
	}
	return plan.Off{RMS: plan.Num(100 * math.Sqrt(sum/float64(len(ids)))), Worst: plan.Num(100 * worst)}
}
