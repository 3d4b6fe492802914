package planner

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
	"sugarwright/planner/assemble"
	"sugarwright/planner/likeness"
	"sugarwright/planner/plan"
	"sugarwright/planner/simplify"
)

// Simplified is what can be made of a drawing: itself, or offers of what is like it.
type Simplified struct {
	Before *Result         // the drawing as it is
	Offers []Offer         // nearest to the drawing first, each with a proven plan; none where nothing passes, or nothing has to change
	Last   finding.Finding // what stands in the way most, where there is no offer
	// The offer that was asked for
	After   *Result // Before when nothing had to change, nil when nothing passes
	SVG     []byte  // the given bytes when nothing had to change
	Changes []Numbered
}

// Offer is a drawing that can be made, and what it takes.
type Offer struct {
	Kind    OfferKind
	Need    *Need // what the kitchen needs for it; nil: what it has
	Plan    *Result
	SVG     []byte
	Changes []Numbered
	Loss    likeness.Loss
}

// OfferKind tells offers apart.
type OfferKind string

// Offers, nearest to the drawing first.
const (
	Drawn  OfferKind = "as-drawn" // in a kitchen with more hands, or a lighter log
	Near   OfferKind = "near"
	Sweets OfferKind = "for-sweets"
	Bold   OfferKind = "bold"
)

// Numbered is a change with the number by which it can be refused.
type Numbered struct {
	Number int
	simplify.Change
}

// Wanted is what is asked of a simplifier.
type Wanted struct {
	Keep  []int               // changes that are not to be made, by the numbers of the offer's list without them
	Offer int                 // the offer that is wanted, from 1; 0: the first
	Said  func(Progress, int) // told how far the work is; nil: nobody is
}

// Progress is what a simplifier does: it draws, or plans the offer of a number.
type Progress string

// Steps of the work.
const (
	Drawing  Progress = "drawing"
	Planning Progress = "planning"
)

// ErrKeep is a refusal of a change that there is not.
var ErrKeep = errors.New("no change has this number")

// ErrOffer is a wish for an offer that there is not.
var ErrOffer = errors.New("no offer has this number")

// MakeSimpler compiles a drawing, and where it cannot be built as drawn seeks what can: the same in a kitchen with what it
// needs, and drawings like it. Numbers of changes stay what they are when some are refused; what is made instead gets
// numbers that follow. Errors as for Compile, ErrKeep and ErrOffer.
func MakeSimpler(file string, data []byte, o Options, w Wanted) (*Simplified, error) {
	before, err := Compile(file, data, o)
	if err != nil {
		return nil, err
	}
	out := &Simplified{Before: before}
	if before.Plan.Verdict == plan.AsDrawn {
		if len(w.Keep) > 0 {
			return nil, fmt.Errorf("%w: %d; the drawing passes, nothing is changed", ErrKeep, w.Keep[0])
		}
		out.After, out.SVG = before, data
		return out, nil
	}
	if before.Stages.Map == nil || unreadable(before.Stages.Findings) || before.Plan.Verdict == plan.NotBuildable {
		return out, nil
	}
	s := &offers{before: before, o: o, w: w, data: data, last: built(before), named: map[int]int{}}

	if out.Offers, err = s.all(); err != nil {
		return nil, err
	}
	switch n := max(w.Offer, 1); {
	case len(out.Offers) == 0:
		out.Last = s.last.why
		out.Before, err = s.refused()
	case n > len(out.Offers):
		return nil, fmt.Errorf("%w: %d; numbers run from 1 to %d", ErrOffer, n, len(out.Offers))
	default:
		x := out.Offers[n-1]
		out.After, out.SVG, out.Changes = x.Plan, x.SVG, x.Changes
	}
	return out, err
}

// unreadable tells whether the drawing holds what no simpler drawing mends: then what was understood is not the
// drawing.
func unreadable(found finding.List) bool {
	return slices.ContainsFunc(found.Errors(), func(f finding.Finding) bool { return !f.About().Simpler })
}

// offers seeks what can be made of a drawing.
type offers struct {
	before *Result
	o      Options
	w      Wanted
	data   []byte
	last   verdict
	plans  int
	like   *likeness.Drawing
	named  map[int]int // by number of the offer, how many changes were named
}

// mostPlans bounds the drawings that are planned in one search.
const mostPlans = 9

// all are the offers, nearest to the drawing first: the drawing itself where only hands, minutes or weight stand in the way;
// else the least change; and what is drawn for sweets, in ever fewer kinds. An offer that an earlier one equals is left out.
func (s *offers) all() (out []Offer, err error) {
	again, need, err := inTime(s.before, s.o)
	if err != nil {
		return nil, err
	}
	if again != nil {
		st := *again.Stages
		st.Findings = append(slices.Clone(st.Findings), needing(need, s.o)...)
		if again.Plan, err = assemble.Plan(&st); err != nil {
			return nil, err
		}
		out = append(out, Offer{Kind: Drawn, Need: need, Plan: &Result{again.Plan, &st}, SVG: s.data})
	}
	styles := []OfferKind{Near, Sweets, Bold}
	if again != nil {
		styles = styles[1:] // no width is refused
	}
	s.like = likeness.New(s.before.Stages.Map)
	for _, kind := range styles {
		x, err := s.drawn(kind, styleOf[kind], 1+len(out))
		if err == nil && x == nil && kind == Sweets {
			x, err = s.drawn(kind, simplify.Bare, 1+len(out))
		}
		if err != nil {
			return nil, err
		}
		if x != nil && !slices.ContainsFunc(out, func(y Offer) bool { return y.beats(*x) }) {
			out = append(out, *x)
		}
	}
	return out, s.numbers(out)
}

// beats tells whether an offer is at least as good as another in all that is compared.
func (x Offer) beats(y Offer) bool {
	kinds := func(o Offer) int { return o.Plan.Plan.Index().Distinct() }
	return x.Loss.S <= y.Loss.S+0.05 && kinds(x) <= kinds(y) && (x.Need == nil || y.Need != nil)
}

var styleOf = map[OfferKind]simplify.Style{Near: simplify.Near, Sweets: simplify.Sweets, Bold: simplify.Bold}

// drawn is an offer of a kind, until no change is made that the client refuses; nil where there is none.
func (s *offers) drawn(kind OfferKind, style simplify.Style, number int) (*Offer, error) {
	refused := map[simplify.Key]bool{}
	known := map[simplify.Key]int{}
	for last := 0; ; {
		x, err := s.planned(kind, style, number, refused)
		if err != nil || x == nil {
			return nil, err
		}
		top := last
		for i := range x.Changes {
			c := &x.Changes[i]
			if c.Number = known[c.Keys[0]]; c.Number == 0 {
				top++
				c.Number = top
				known[c.Keys[0]] = top
			}
		}
		again := false
		if number == max(1, s.w.Offer) {
			for _, c := range x.Changes {
				if c.Number > last && c.Number <= top && slices.Contains(s.w.Keep, c.Number) {
					again = true
					for _, key := range c.Keys {
						refused[key] = true
					}
				}
			}
		}
		if last = top; again {
			continue
		}
		s.named[number] = last
		return x, s.told(x)
	}
}

// numbers tells whether each change that is refused is one of the wanted offer's.
func (s *offers) numbers(out []Offer) error {
	n := max(1, s.w.Offer)
	if n > len(out) {
		return nil // said elsewhere
	}
	for _, k := range s.w.Keep {
		if k < 1 || k > s.named[n] {
			return fmt.Errorf("%w: %d; numbers run from 1 to %d", ErrKeep, k, s.named[n])
		}
	}
	return nil
}

// planned draws in a kind's style and plans that, plainer where it cannot be put together; nil where nothing passes.
func (s *offers) planned(kind OfferKind, style simplify.Style, number int, refused map[simplify.Key]bool) (*Offer, error) {
	st := s.before.Stages
	s.said(Drawing, number)
	e := simplify.New(st.Map, s.o.Shop, refused)
	r, err := e.Draw(style)
	if err != nil || !r.Passes || kind != Near && len(r.Changes) == 0 {
		return nil, err
	}
	left := 0 // parts that hands do not make
	most := mostPlainer
	if number > 1 {
		most = 0 // there is an offer already
	}
	for tries := 0; ; tries++ {
		svg, c, v := s.data, s.before, built(s.before)
		if len(r.Changes) > 0 {
			if s.plans++; s.plans > mostPlans {
				return nil, nil
			}
			s.said(Planning, number)
			svg = drawing(st.Artwork.Page, r.Map)
			if c, err = Compile(SimplerName(st.File), svg, s.o); err != nil {
				s.last = verdict{why: finding.New(finding.Internal, finding.Error, err.Error())}
				return nil, nil // our own fault with this version; another may do
			}
			v = built(c)
		}
		x := &Offer{Kind: kind, Plan: c, SVG: svg}
		if !v.ok && v.over > 0 {
			if x.Plan, x.Need, err = inTime(c, s.o); err != nil {
				return nil, err
			}
			v.ok = x.Plan != nil
		}
		if v.ok {
			if x.Loss = s.like.Of(c.Stages.Map); x.Loss.S > mostLoss[kind] || !e.KeepsEyes(c.Stages.Map) { // not the thing any more
				s.last.why = finding.New(finding.NothingPasses, finding.Error).In("limits")
				return nil, nil
			}
			for _, c := range r.Changes {
				x.Changes = append(x.Changes, Numbered{Change: c})
			}
			return x, nil
		}
		s.last = v
		still := failed(c)
		if tries == most || len(still) > mostFailed || tries > 1 && len(still) >= left { // it does not get better
			return nil, nil
		}
		left = len(still)
		more := false
		if r, more, err = e.Plainer(r, still, tries); err != nil || !more {
			return nil, err
		}
	}
}

// failed are the parts of a drawing that hands do not make.
func failed(r *Result) (out []simplify.Failed) {
	if r.Stages.Set == nil {
		return nil
	}
	for _, i := range r.Stages.Set.Refused {
		e := r.Stages.Set.Elements[i]
		f := simplify.Failed{Colour: e.Colour, Shape: e.True}
		if e.Fit.Found {
			f.Form = e.Fit.Placed()
		}
		out = append(out, f)
	}
	return out
}

// mostLoss is how much an offer may lose: what is only cut a client does not accept beyond 6; what is redrawn in plain shapes
// scores higher for the same grade (see planner/likeness).
var mostLoss = map[OfferKind]float64{Near: 6, Sweets: 7.5, Bold: 7.5}

// mostPlainer bounds how often one drawing is made plainer where it could not be put together.
const mostPlainer = 3

// mostFailed parts, and a drawing is not made plainer: too much would change.
const mostFailed = 5

func (s *offers) said(p Progress, number int) {
	if s.w.Said != nil {
		s.w.Said(p, number)
	}
}

// SimplerName is the file name of a drawing's simplified version.
func SimplerName(file string) string {
	return strings.TrimSuffix(strings.TrimSuffix(file, ".svgz"), ".svg") + "-simpler.svg"
}

// verdict sums up a compile for the simplifier.
type verdict struct {
	ok     bool
	over   float64          // minutes over the clock; 0 when that is not what fails
	places []geom.TruePoint // where it fails
	why    finding.Finding  // what fails most
}

func built(r *Result) verdict {
	b := verdict{ok: r.Plan.Verdict == plan.AsDrawn}
	for _, f := range r.Stages.Findings.Errors() {
		if b.why.Code == "" {
			b.why = f
		}
		if f.AtMM != nil {
			b.places = append(b.places, geom.TruePoint(*f.AtMM))
		}
		if f.Code == finding.TooLong {
			sh := r.Stages.Shop
			b.over = r.Stages.Work.Timing.Round - r.Stages.Work.Timing.Apart - sh.ClockMin
		}
	}
	return b
}

// drawing is a map as SVG in the artwork's own frame. Where the picture circle is not the page's, the page becomes the
// square round it, so that the drawing is placed alike when it is read again.
func drawing(page artwork.Page, m *partition.Map) []byte {
	v := page.View
	c := m.Frame.ToTrue.Artwork(geom.TruePoint{})
	r := m.Frame.PictureRadius / m.Frame.ToTrue[0]
	if math.Hypot(c[0]-v.X-v.W/2, c[1]-v.Y-v.H/2) > 1e-6*r || math.Abs(r-math.Min(v.W, v.H)/2) > 1e-6*r {
		page = artwork.Page{}
		page.View.X, page.View.Y, page.View.W, page.View.H = c[0]-r, c[1]-r, 2*r, 2*r
	}
	return flat.Layers(page, m)
}

// refused is the plan of the drawing as it is, with the finding that nothing passes and what stands in the way most.
func (s *offers) refused() (*Result, error) {
	f := finding.New(finding.NothingPasses, finding.Error).In("limits")
	if why := s.last.why; why.Code != "" {
		f = finding.New(finding.NothingPasses, finding.Error, append([]any{why.Wording()}, why.Values...)...)
	}
	if len(s.last.places) > 0 {
		f = f.At(s.last.places[0])
	}
	st := *s.before.Stages
	st.Findings = append(slices.Clone(st.Findings), f)
	p, err := assemble.Plan(&st)
	return &Result{p, &st}, err
}

// told makes an offer's plan one that tells what was changed: one note a change, a warning for each colour whose area changes
// by more than a tenth, and what the kitchen needs.
func (s *offers) told(x *Offer) error {
	before := s.before.Plan
	st := *x.Plan.Stages
	from := plan.Original{File: before.Artwork.File, SHA256: before.Artwork.SHA256, Picture: before.Picture}
	st.Simplified = &assemble.Simplified{From: from, Title: before.Artwork.Title}
	st.Findings = slices.Clone(st.Findings)
	for _, c := range x.Changes {
		st.Simplified.Changes = append(st.Simplified.Changes, s.fact(c))
		st.Findings.Add(finding.New(finding.Simplified, finding.Note, c.Number).At(c.Places[0]))
	}
	st.Findings.Add(s.shares(st.Map)...)
	st.Findings.Add(needing(x.Need, s.o)...)
	p, err := assemble.Plan(&st)
	x.Plan = &Result{p, &st}
	return err
}

// fact is a change as the plan holds it.
func (s *offers) fact(c Numbered) plan.Change {
	num := func(v float64) plan.Num { return plan.Num(v) }
	names := s.before.Stages.Palette.Shades
	out := plan.Change{
		Number:       c.Number,
		Kind:         plan.ChangeKind(c.Kind.String()),
		Gap:          c.Gap,
		BeforeMM:     num(c.Before),
		AfterMM:      num(c.After),
		AreaMM2:      num(c.Area),
		Seen:         num(c.Seen),
		MinutesSaved: num(c.Saves),
	}
	if c.Kind != simplify.Even && !c.Gap {
		out.Colour = names[c.Colour].Name
	}
	if c.Kind == simplify.Dropped || c.Kind == simplify.Merged {
		out.To = names[c.To].Name
	}
	for _, at := range c.Places {
		out.Places = append(out.Places, plan.PointOf(at))
	}
	for _, r := range c.Shape {
		out.Shape = append(out.Shape, plan.PolygonOf(r))
	}
	return out
}

// colourShare is how much of its area a colour may gain or lose without a finding.
const colourShare = 0.1

// shares warns of colours whose area changed.
func (s *offers) shares(after *partition.Map) (found finding.List) {
	before := s.before.Stages.Map
	area := map[artwork.RGB]float64{}
	for _, r := range after.Regions {
		if !r.Jacket {
			area[after.Colours[r.Colour].RGB] += r.Area
		}
	}
	for i, c := range before.Colours {
		was, at := 0.0, geom.TruePoint{}
		largest := 0.0
		for _, r := range before.Regions {
			if !r.Jacket && r.Colour == i {
				was += r.Area
				if r.Area > largest {
					largest, at = r.Area, geom.Inside(r.Shape)
				}
			}
		}
		now := area[c.RGB]
		if was > 0 && math.Abs(now-was) > colourShare*was {
			name := s.before.Stages.Palette.Shades[i].Name
			found.Add(finding.New(finding.ColourShare, finding.Warning, name, was, now, 100*(now/was-1)).At(at))
		}
	}
	return found
}
