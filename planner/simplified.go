package planner

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
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
	if before, err = plainShades(file, data, o, before); err != nil {
		return nil, err
	}
	out := &Simplified{Before: before}
	if a := before.Stages.Artwork; a != nil && a.Flat != nil {
		data = a.Flat // what is written is a drawing
	}
	read := before.Plan.Changes // those are made first
	if i := slices.IndexFunc(w.Keep, func(n int) bool { return n <= len(read) }); i >= 0 {
		out.Before, err = withFinding(before, finding.New(finding.NothingPasses, finding.Error, w.Keep[i]).In("kept"))
		return out, err
	}
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
	s := &offers{before: before, o: o, w: w, data: data, last: built(before), named: map[int]int{}, read: len(read)}

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

// SimplerName is the file name of a drawing's simplified version.
func SimplerName(file string) string {
	return strings.TrimSuffix(file, filepath.Ext(file)) + "-simpler.svg"
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
	return withFinding(s.before, f)
}

// withFinding is a result with one more finding.
func withFinding(r *Result, f finding.Finding) (*Result, error) {
	st := *r.Stages
	st.Findings = append(slices.Clone(st.Findings), f)
	p, err := assemble.Plan(&st)
	return &Result{p, &st}, err
}

// plainShades is the drawing with one flat colour a shade, where it has shades in several and cannot be built so: as a kitchen
// would draw it, and as redrawing goes on from.
func plainShades(file string, data []byte, o Options, r *Result) (*Result, error) {
	several := slices.ContainsFunc(r.Plan.Changes, func(c plan.Change) bool { return c.Kind == plan.ShadeFlat || c.Kind == plan.ShadesFew })
	if r.Plan.Verdict == plan.AsDrawn || o.Shades > 0 || !several {
		return r, nil
	}
	o.Shades = 1
	return Compile(file, data, o)
}
