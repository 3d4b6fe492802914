// Package laying computes the shapes in which parts are laid, so that they come true when the log is rolled round, and
// proves it.
//
// Guarantees: laid and true polygons of a part have the same area within 0.1 % (P6); rolled forward on a finer grid
// with half the step, the laid shapes come back to the true ones within the printed tolerance (P7), or a finding says
// so.
package laying

import (
	"errors"
	"math"
	"slices"
	"sync"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/build"
	"sugarwright/planner/flow"
	"sugarwright/planner/pile"
	"sugarwright/planner/plan"
	"sugarwright/planner/recipe"
	"sugarwright/planner/replay"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
)

// The rolling model's grids: what the laid shapes are computed with; what checks them (P7), finer and with half the
// step; and what tells how far off other ways of laying are, of which two digits matter.
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

// Log is what is laid: the parts in their order, and how warm they are.
type Log struct {
	pile.Kitchen
	Build   *build.Build
	Cooling *pile.Cooling
}

// Laid is the shapes in which parts are laid.
type Laid struct {
	Parts  []Part
	Blocks []geom.Region[geom.LaidPoint] // outlines
	Body   flow.Body                     // the section with the parts' stiffness at rolling
	At     []geom.Vec                    // the section's points, run backward
}

// Part is one element as it is laid.
type Part struct {
	Shape   geom.Region[geom.LaidPoint]
	InBlock geom.Region[geom.LaidPoint] // as laid in its block, where that is rolled round by itself
	Fit     recipe.Fit                  // of the shape that hands make: in the block where there is one
}

// method is one of the rolling methods, with the outline that the shop says: its skin sticks to what rolls it, or
// slips.
func (l Log) method(m flow.Method) flow.Method {
	m.Slip = l.Shop.Slip
	return m
}

// Of runs the log backward from round to the oval: the shapes in which parts are laid (P6). A block that is rolled
// round by itself is run backward by itself too, for the shapes in which its own parts are laid into it.
func Of(l Log) (*Laid, finding.List, error) {
	s := l.Section
	out := &Laid{Body: stiff(s, l.Cooling.EtaRel)}
	h := flow.Squash(l.Shop.Oval)
	var err error
	if out.At, err = flow.Backward(&out.Body, h, l.method(inverse)); err != nil {
		return nil, nil, err
	}
	oval := flow.OutlineAt(h, 0)
	for i := range l.Set.Elements {
		shape := s.Region(s.Body.Parts[i].Rings, out.At, oval)
		out.Parts = append(out.Parts, Part{Shape: shape, Fit: l.laidFit(i, shape)})
	}
	for _, rings := range s.Blocks {
		out.Blocks = append(out.Blocks, s.Region(rings, out.At, oval))
	}
	if err := l.inBlocks(out, h); err != nil {
		return nil, nil, err
	}
	found := l.areas(out)
	return out, append(found, l.overlap(out)...), nil
}

// stiff is a section with the stiffness of its parts, over the ground's.
func stiff(s *section.Section, rel []float64) flow.Body {
	b := flow.Body{Points: s.Body.Points, Parts: slices.Clone(s.Body.Parts)}
	for i := range b.Parts {
		b.Parts[i].Stiffness = rel[i]
	}
	return b
}

// inBlocks runs blocks that a wrap closes round backward by themselves.
func (l Log) inBlocks(out *Laid, h float64) error {
	for b := range l.Build.Blocks {
		circle, ok := l.rolledAlone(b)
		if !ok {
			continue
		}
		ids := l.Set.Inside(b)
		s := section.Of(l.Set, ids, circle)
		all := l.Stiffness(l.Cooling.BlockC[b])
		rel := make([]float64, len(ids))
		for k, i := range ids {
			rel[k] = all[i]
		}
		body := stiff(s, rel)
		at, err := flow.Backward(&body, h, l.method(inverse))
		if err != nil {
			return err
		}
		oval := flow.OutlineAt(h, 0)
		for k, i := range ids {
			if l.Set.Elements[i].Block == b { // what lies in a block of this one was laid into that
				out.Parts[i].InBlock = s.Region(s.Body.Parts[k].Rings, at, oval)
				out.Parts[i].Fit = l.laidFit(i, out.Parts[i].InBlock)
			}
		}
	}
	return nil
}

// roundShare of its smallest circle is what a block covers that rolls by itself; tuned: a block with flat sides does
// not.
const roundShare = 0.95

// rolledAlone tells whether a block is closed by a wrap and round, and its circle.
func (l Log) rolledAlone(b int) (geom.Circle[geom.TruePoint], bool) {
	blk, entries := l.Set.Blocks[b], l.Build.Blocks[b]
	if b == len(l.Set.Blocks)-1 || blk.Roll || entries[len(entries)-1].Move != build.Wrap {
		return geom.Circle[geom.TruePoint]{}, false
	}
	area := blk.Outline[0].Area()
	c := geom.Circle[geom.TruePoint]{
		Centre: geom.MomentsOf(blk.Outline.Filled()).Centroid,
		Radius: math.Sqrt(area / math.Pi),
	}
	r := geom.SmallestCircle(blk.Outline[0]).Radius
	return c, area > roundShare*math.Pi*r*r
}

// worseLaid is by how much farther from its recipe a part may be as it is laid, for the recipe to take its sizes from
// there: a share of its area.
const worseLaid = 0.02

// laidFit gives an element's recipe the sizes of the laid polygon. Copies are one size: that of the true polygon, which
// all of them have; and so has a rod, which is no oval because it will be squashed.
func (l Log) laidFit(i int, laid geom.Region[geom.LaidPoint]) recipe.Fit {
	e := l.Set.Elements[i]
	if e.Fit.Base == recipe.Rod || l.Set.Copies()[l.Set.Origin(i)] > 0 {
		return e.Fit
	}
	if f := recipe.Sized(laid, e.Fit, e.Kind != set.Subject, l.Shop.Least()); f.Class < recipe.Refused && f.Misfit < e.Fit.Misfit+worseLaid {
		return f
	}
	return e.Fit
}

// areaShare is by how much a laid part's area may differ from its true one (P6).
const areaShare = 1e-3

// areas refuses laid shapes of another area than the true ones (P6).
func (l Log) areas(out *Laid) (found finding.List) {
	for i, e := range l.Set.Elements {
		for _, laid := range []geom.Region[geom.LaidPoint]{out.Parts[i].Shape, out.Parts[i].InBlock} {
			if area := e.True.Area(); len(laid) > 0 && math.Abs(laid.Area()-area) > areaShare*area {
				found.Add(finding.New(finding.NoReturn, finding.Error, area, laid.Area()).In("area").At(e.Inside()))
			}
		}
	}
	return found
}

// Overlaps in the oval are sought up to mostOverlapMM, in steps.
const (
	mostOverlapMM = 4.0
	overlapStepMM = 0.5
)

// overlap replays the order in the laid frame, where it must stand and hold too, and says what still overlaps after the
// give.
func (l Log) overlap(out *Laid) (found finding.List) {
	shapes := func(p build.Part) geom.Region[geom.LaidPoint] {
		if p.Element >= 0 {
			return out.Parts[p.Element].Shape
		}
		return out.Blocks[p.Block]
	}
	give, fault := replay.LaidGive, replay.Reaches(l.Build, shapes, replay.LaidGive)
	for ; fault != nil && give < mostOverlapMM; fault = replay.Reaches(l.Build, shapes, give) {
		give += overlapStepMM
	}
	if fault == nil {
		fault = replay.Prove(l.Build, shapes, give)
	}
	switch {
	case fault != nil:
		at := geom.MomentsOf(l.Set.Shape(fault.Part)).Centroid
		found.Add(finding.New(finding.LaidOverlap, finding.Error, mostOverlapMM).In("not_proved").At(at))
	case give > replay.LaidGive:
		found.Add(finding.New(finding.LaidOverlap, finding.Note, give))
	}
	return found
}

// Check holds the laid shapes to the set: one to each element and each block.
func (l *Laid) Check(of *set.Set) error {
	if len(l.Parts) != len(of.Elements) || len(l.Blocks) != len(of.Blocks) {
		return finding.Impossible("%d parts and %d blocks are laid, of %d and %d", len(l.Parts), len(l.Blocks),
			len(of.Elements), len(of.Blocks))
	}
	for i, p := range l.Parts {
		if len(p.Shape) != len(of.Elements[i].True) {
			return finding.Impossible("element %d has %d rings, laid %d", i, len(of.Elements[i].True), len(p.Shape))
		}
	}
	return nil
}

// Proof is what rolling the laid log forward again comes to.
type Proof struct {
	Rolling *plan.Rolling
	At      []geom.Vec // where the section's points come to
}

// Prove rolls the log forward three times: as planned, on a finer grid with half the step (P7); laid by the simple
// squash; laid as drawn. It says what laying off-true buys.
func Prove(l Log, laid *Laid) (*Proof, finding.List, error) {
	s, h := l.Section, flow.Squash(l.Shop.Oval)
	m, fine, rough := l.method(inverse), l.method(proof), l.method(other)
	outline := "stick"
	if m.Slip {
		outline = "slip"
	}
	r := &plan.Rolling{
		Outline:          outline,
		GridCells:        m.Cells,
		Steps:            m.Steps,
		ProofCells:       fine.Cells,
		ProofSteps:       fine.Steps,
		TolerancePercent: 100 * returnShare,
		BandPercent:      flow.Band,
		Softest:          plan.Num(math.Inf(1)),
	}
	for _, p := range laid.Body.Parts {
		r.Stiffest, r.Softest = max(r.Stiffest, plan.Num(p.Stiffness)), min(r.Softest, plan.Num(p.Stiffness))
	}
	out := &Proof{Rolling: r}
	cases := []struct {
		points []geom.Vec
		method flow.Method
		out    *plan.Off
	}{{laid.At, fine, &r.Planned}, {s.Body.Points, rough, &r.Squash}, {asDrawn(s, flow.OutlineAt(h, 0)), rough, &r.AsDrawn}}
	errs := make([]error, len(cases))
	var wait sync.WaitGroup
	for i, c := range cases {
		wait.Go(func() {
			got, err := flow.Forward(&flow.Body{Points: c.points, Parts: laid.Body.Parts}, h, c.method)
			if errs[i] = err; err == nil {
				*c.out = l.off(got)
				if i == 0 {
					out.At = got
				}
			}
		})
	}
	wait.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, nil, err
	}
	var found finding.List
	if r.Planned.Worst > 100*returnShare {
		found.Add(finding.New(finding.NoReturn, finding.Warning, float64(r.Planned.Worst)).In("far"))
	}
	if l.Shop.Oval < 1 && r.Squash.Worst-r.Planned.Worst < 100*squashShare {
		found.Add(
			finding.New(finding.SquashAsGood, finding.Note, float64(r.Squash.Worst), float64(r.Planned.Worst),
				float64(r.AsDrawn.Worst)),
		)
	}
	return out, found, nil
}

// rim is a share of the log's radius: a point that lies outside the oval when the picture is laid as drawn is moved in
// to there.
const rim = 0.995

// asDrawn is the section put undistorted into the oval.
func asDrawn(s *section.Section, oval flow.Outline) []geom.Vec {
	out := make([]geom.Vec, len(s.Body.Points))
	for i, p := range s.Body.Points {
		q := geom.Vec{p[0] / oval.A, p[1] / oval.B}
		if l := q.Len(); l > rim {
			q = geom.Vec{q[0] * rim / l, q[1] * rim / l}
		}
		out[i] = q
	}
	return out
}

// off is how far the picture's borders come from their true places, in percent of the diameter; where the outline slips
// the whole may turn, and the best turn is taken off first.
func (l Log) off(got []geom.Vec) plan.Off {
	var ids []int32
	seen := map[int32]bool{}
	for i, e := range l.Set.Elements {
		if e.Kind != set.Subject {
			continue
		}
		for _, ring := range l.Section.Body.Parts[i].Rings {
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
	points := l.Section.Body.Points
	sin, cos := 0.0, 1.0
	if l.Shop.Slip {
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
