package planner

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
	"sugarwright/planner/assemble"
	"sugarwright/planner/plan"
	"sugarwright/planner/simplify"
)

// Simplified is a drawing that can be built, with what was changed.
type Simplified struct {
	Before *Result // the drawing as it is
	// The simplified drawing, compiled from SVG like any other; Before when nothing had to change, nil when nothing
	// passes
	After   *Result
	SVG     []byte // the simplified drawing; the given bytes when nothing had to change
	Changes []Numbered
	Last    simplify.Built // why not, when After is nil
}

// Numbered is a change with the number by which it can be refused.
type Numbered struct {
	Number int
	simplify.Change
}

// ErrKeep is a refusal of a change that there is not.
var ErrKeep = errors.New("no change has this number")

// MakeSimpler compiles a drawing, and where it cannot be built as drawn seeks the least change after which it can. Keep
// names changes that are not to be made, by the numbers of the list without them; what is made instead gets numbers
// that follow, which can be refused in turn. Errors as for Compile, and ErrKeep.
func MakeSimpler(file string, data []byte, o Options, keep []int) (*Simplified, error) {
	before, err := Compile(file, data, o)
	if err != nil {
		return nil, err
	}
	if before.Plan.Verdict == plan.AsDrawn {
		if len(keep) > 0 {
			return nil, fmt.Errorf("%w: %d; the drawing passes, nothing is changed", ErrKeep, keep[0])
		}
		return &Simplified{Before: before, After: before, SVG: data}, nil
	}
	out := &Simplified{Before: before}
	if before.Stages.Map == nil || unreadable(before.Stages.Findings) || before.Plan.Verdict == plan.NotBuildable {
		return out, nil
	}
	if err := out.untilKept(o, keep); err != nil {
		return nil, err
	}
	if out.After != nil {
		out.After, err = out.told()
	} else {
		out.Before, err = out.refused()
	}
	return out, err
}

// unreadable tells whether the drawing holds what no simpler drawing mends: then what was understood is not the
// drawing.
func unreadable(found finding.List) bool {
	return slices.ContainsFunc(found.Errors(), func(f finding.Finding) bool { return !f.About().Simpler })
}

// untilKept seeks again until no change is made that the client refuses. Numbers of changes stay what they were when
// they were first named.
func (s *Simplified) untilKept(o Options, keep []int) error {
	refused := map[simplify.Key]bool{}
	known := map[simplify.Key]int{}
	compiled := judged{by: map[string]func() (*Result, error){}}
	for last := 0; ; {
		if err := s.seek(o, refused, &compiled); err != nil {
			return err
		}
		top := last
		for i := range s.Changes {
			c := &s.Changes[i]
			if c.Number = known[c.Keys[0]]; c.Number == 0 {
				top++
				c.Number = top
				known[c.Keys[0]] = top
			}
		}
		again := false
		for _, c := range s.Changes {
			if c.Number > last && c.Number <= top && slices.Contains(keep, c.Number) {
				again = true
				for _, key := range c.Keys {
					refused[key] = true
				}
			}
		}
		if last = top; !again {
			break
		}
	}
	for _, k := range keep {
		if k < 1 || k > len(known) {
			return fmt.Errorf("%w: %d; numbers run from 1 to %d", ErrKeep, k, len(known))
		}
	}
	return nil
}

// judged are simplified drawings that were compiled, by their bytes: two walks often come to the same drawing.
type judged struct {
	lock sync.Mutex
	by   map[string]func() (*Result, error)
}

// compile compiles a drawing once.
func (j *judged) compile(file string, svg []byte, o Options) (*Result, error) {
	j.lock.Lock()
	once, ok := j.by[string(svg)]
	if !ok {
		once = sync.OnceValues(func() (*Result, error) { return Compile(file, svg, o) })
		j.by[string(svg)] = once
	}
	j.lock.Unlock()
	return once()
}

// seek runs the simplifier; its judge compiles the simplified drawing from SVG, as a user would.
func (s *Simplified) seek(o Options, refused map[simplify.Key]bool, known *judged) error {
	st := s.Before.Stages
	o.simpler = true
	compile := func(m *partition.Map) ([]byte, *Result, error) {
		svg := drawing(st.Artwork.Page, m)
		r, err := known.compile(SimplerName(st.File), svg, o)
		return svg, r, err
	}
	judge := func(m *partition.Map) (simplify.Built, error) {
		_, r, err := compile(m)
		if err != nil { // our own fault with this version; another may do
			return simplify.Built{Why: finding.New(finding.Internal, finding.Error, err.Error())}, nil
		}
		return built(r), nil
	}
	found, err := simplify.Of(st.Map, o.Shop, judge, refused)
	if err != nil {
		return err
	}
	s.Changes, s.SVG, s.After, s.Last = nil, nil, nil, found.Last
	for _, c := range found.Changes {
		s.Changes = append(s.Changes, Numbered{Change: c})
	}
	if found.Passes {
		s.SVG, s.After, err = compile(found.Map)
	}
	return err
}

// SimplerName is the file name of a drawing's simplified version.
func SimplerName(file string) string {
	return strings.TrimSuffix(strings.TrimSuffix(file, ".svgz"), ".svg") + "-simpler.svg"
}

// built sums up a compile for the simplifier.
func built(r *Result) simplify.Built {
	b := simplify.Built{OK: r.Plan.Verdict == plan.AsDrawn}
	for _, f := range r.Stages.Findings.Errors() {
		if b.Why.Code == "" {
			b.Why = f
		}
		if f.AtMM != nil {
			b.Places = append(b.Places, geom.TruePoint(*f.AtMM))
		}
		if f.Code == finding.TooLong {
			sh := r.Stages.Shop
			b.Over = r.Stages.Work.Timing.Round - r.Stages.Work.Timing.Apart - sh.ClockMin
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
	return flat.Write(page, m)
}

// refused is the plan of the drawing as it is, with the finding that nothing passes and what stands in the way most.
func (s *Simplified) refused() (*Result, error) {
	f := finding.New(finding.NothingPasses, finding.Error).In("limits")
	if why := s.Last.Why; why.Code != "" {
		f = finding.New(finding.NothingPasses, finding.Error, append([]any{why.Wording()}, why.Values...)...)
	}
	if len(s.Last.Places) > 0 {
		f = f.At(s.Last.Places[0])
	}
	st := *s.Before.Stages
	st.Findings = append(slices.Clone(st.Findings), f)
	p, err := assemble.Plan(&st)
	return &Result{p, &st}, err
}

// told is the plan of the simplified drawing that tells what was changed: one note a change, a warning for each colour
// whose area changes by more than a tenth.
func (s *Simplified) told() (*Result, error) {
	before := s.Before.Plan
	st := *s.After.Stages
	from := plan.Original{File: before.Artwork.File, SHA256: before.Artwork.SHA256, Picture: before.Picture}
	st.Simplified = &assemble.Simplified{From: from, Title: before.Artwork.Title}
	st.Findings = slices.Clone(st.Findings)
	for _, c := range s.Changes {
		st.Simplified.Changes = append(st.Simplified.Changes, s.fact(c))
		st.Findings.Add(finding.New(finding.Simplified, finding.Note, c.Number).At(c.Places[0]))
	}
	st.Findings.Add(s.shares()...)
	p, err := assemble.Plan(&st)
	return &Result{p, &st}, err
}

// fact is a change as the plan holds it.
func (s *Simplified) fact(c Numbered) plan.Change {
	num := func(v float64) plan.Num { return plan.Num(v) }
	names := s.Before.Stages.Palette.Shades
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
func (s *Simplified) shares() (found finding.List) {
	before, after := s.Before.Stages.Map, s.After.Stages.Map
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
			name := s.Before.Stages.Palette.Shades[i].Name
			found.Add(finding.New(finding.ColourShare, finding.Warning, name, was, now, 100*(now/was-1)).At(at))
		}
	}
	return found
}
