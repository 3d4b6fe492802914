package planner

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/simplify"
	"sugarwright/planner/words"
)

// Simplified is a drawing that can be built, with what was changed.
type Simplified struct {
	Before  *Result // the drawing as it is
	After   *Result // the simplified drawing, compiled from SVG like any other; Before when nothing had to change, nil when nothing passes
	SVG     []byte  // the simplified drawing; the given bytes when nothing had to change
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

// MakeSimpler compiles a drawing, and where it cannot be built as drawn seeks the least change after which it can. Keep names changes that are not
// to be made, by the numbers of the list without them; what is made instead gets numbers that follow, which can be refused in turn. Errors as for
// Compile, and ErrKeep.
func MakeSimpler(file string, data []byte, o Options, keep []int) (*Simplified, error) {
	before, err := Compile(file, data, o)
	if err != nil {
		return nil, err
	}
	if before.Plan.Verdict == AsDrawn {
		if len(keep) > 0 {
			return nil, fmt.Errorf("%w: %d; the drawing passes, nothing is changed", ErrKeep, keep[0])
		}
		return &Simplified{Before: before, After: before, SVG: data}, nil
	}
	out := &Simplified{Before: before}
	if before.w.m == nil || before.w.unreadable() || before.Plan.Verdict == NotBuildable {
		return out, nil
	}
	refused := map[simplify.Key]bool{}
	known := map[simplify.Key]int{}
	for last := 0; ; {
		if err := out.seek(o, refused); err != nil {
			return nil, err
		}
		top := last
		for i := range out.Changes {
			c := &out.Changes[i]
			if c.Number = known[c.Keys[0]]; c.Number == 0 {
				top++
				c.Number = top
				known[c.Keys[0]] = top
			}
		}
		again := false
		for _, k := range keep {
			if k > last && k <= top {
				for _, c := range out.Changes {
					if c.Number == k {
						again = true
						for _, key := range c.Keys {
							refused[key] = true
						}
					}
				}
			}
		}
		if last = top; !again {
			break
		}
	}
	for _, k := range keep {
		if k < 1 || k > len(known) {
			return nil, fmt.Errorf("%w: %d; numbers run from 1 to %d", ErrKeep, k, len(known))
		}
	}
	if out.After != nil {
		out.attach()
		return out, nil
	}
	f := finding.Finding{Code: finding.NothingPasses, Severity: finding.Error, Message: "no change that was tried makes this a drawing that can be built; what stands in the way most: " + out.Last.Reason,
		Suggestion: "draw one subject that fills the circle, in three or four flat colours and at most ten areas, with no line thinner than a fifteenth of the width"}
	if len(out.Last.Places) > 0 {
		at := [2]float64(out.Last.Places[0])
		f.AtMM = &at
	}
	before.note(f)
	before.Plan.Verdict = NotBuildable
	return out, nil
}

// judged is a map that was compiled.
type judged struct {
	m      *partition.Map
	svg    []byte
	result *Result
}

// seek runs the simplifier; its judge compiles the simplified drawing from SVG, as a user would.
func (s *Simplified) seek(o Options, refused map[simplify.Key]bool) error {
	w := s.Before.w
	o.simpler = true
	var tried []judged
	var lock sync.Mutex
	judge := func(m *partition.Map) (simplify.Built, error) {
		svg := w.drawing(m)
		r, err := Compile(SimplerName(w.file), svg, o)
		if err != nil { // our own fault with this version; another may do
			return simplify.Built{Code: finding.Internal, Reason: err.Error()}, nil
		}
		lock.Lock()
		defer lock.Unlock()
		tried = append(tried, judged{m, svg, r})
		return r.built(), nil
	}
	found, err := simplify.Of(w.m, o.Shop, judge, refused)
	if err != nil {
		return err
	}
	s.Changes, s.SVG, s.After, s.Last = nil, nil, nil, found.Last
	for _, c := range found.Changes {
		s.Changes = append(s.Changes, Numbered{Change: c})
	}
	for _, t := range tried {
		if t.m == found.Map && found.Passes {
			s.SVG, s.After = t.svg, t.result
		}
	}
	return nil
}

// SimplerName is the file name of a drawing's simplified version.
func SimplerName(file string) string {
	return strings.TrimSuffix(strings.TrimSuffix(file, ".svgz"), ".svg") + "-simpler.svg"
}

// unreadable tells whether the drawing holds what the reader does not take: then what was understood is not the drawing.
func (w *work) unreadable() bool {
	for _, f := range w.found {
		switch f.Code {
		case finding.TooThin, finding.GapTooThin, finding.CounterCloses, finding.TooSmall, finding.SliversMoved, finding.TooLong, finding.PoorFit,
			finding.SplitGaveUp, finding.OrderGaveUp, finding.NotProven, finding.NoWindow, finding.JoinHeat,
			finding.NoSchedule, finding.ScheduleGave, finding.GoesHard, finding.NoReturn:
		default:
			if f.Severity == finding.Error {
				return true
			}
		}
	}
	return false
}

// built sums up a compile for the simplifier.
func (r *Result) built() simplify.Built {
	b := simplify.Built{OK: r.Plan.Verdict == AsDrawn}
	for _, f := range r.Findings {
		if f.Severity != finding.Error {
			continue
		}
		if b.Reason == "" {
			b.Code, b.Reason = f.Code, f.Message
		}
		if f.AtMM != nil {
			b.Places = append(b.Places, geom.TruePoint(*f.AtMM))
		}
		if f.Code == finding.TooLong {
			b.Over = r.w.time.roll + r.RoundMin - r.w.o.Shop.ClockMin
		}
	}
	return b
}

// drawing is a map as SVG in the artwork's own frame. Where the picture circle is not the page's, the page becomes the square round it, so that the
// drawing is placed alike when it is read again.
func (w *work) drawing(m *partition.Map) []byte {
	page := w.art.Page
	v := page.View
	c := m.Frame.ToTrue.Artwork(geom.TruePoint{})
	r := m.Frame.PictureRadius / m.Frame.ToTrue[0]
	if math.Hypot(c[0]-v.X-v.W/2, c[1]-v.Y-v.H/2) > 1e-6*r || math.Abs(r-math.Min(v.W, v.H)/2) > 1e-6*r {
		page = artwork.Page{}
		page.View.X, page.View.Y, page.View.W, page.View.H = c[0]-r, c[1]-r, 2*r, 2*r
	}
	return flat.Write(page, m)
}

// attach puts the changes into the simplified drawing's plan, with the findings that go with them: one note a change, a warning for each colour whose area changes by more than
// a tenth.
func (s *Simplified) attach() {
	p := s.After.Plan
	before := s.Before.Plan
	p.Artwork.Title = before.Artwork.Title
	p.SimplifiedFrom = &plan.Original{File: before.Artwork.File, SHA256: before.Artwork.SHA256}
	for _, c := range s.Changes {
		out := plan.Change{Number: c.Number, Kind: c.Kind.String(), Say: s.say(c.Change), Text: words.English().Say(s.say(c.Change)), Gap: c.Gap, BeforeMM: plan.Num(c.Before), AfterMM: plan.Num(c.After),
			AreaMM2: plan.Num(c.Area), Seen: plan.Num(c.Seen), MinutesSaved: plan.Num(c.Saves)}
		if c.Kind != simplify.Even && !c.Gap {
			out.Colour = s.Before.w.finish(c.Colour).Name
		}
		if c.Kind == simplify.Dropped || c.Kind == simplify.Merged {
			out.To = s.Before.w.finish(c.To).Name
		}
		for _, at := range c.Places {
			out.Places = append(out.Places, plan.Point{plan.Num(at[0]), plan.Num(at[1])})
		}
		for _, r := range c.Shape {
			out.Shape = append(out.Shape, polygon(r))
		}
		p.Changes = append(p.Changes, out)
		at := [2]float64(c.Places[0])
		s.After.note(finding.Finding{Code: finding.Simplified, Severity: finding.Note, AtMM: &at, Message: fmt.Sprintf("change %d: %s", c.Number, out.Text)})
	}
	for _, share := range s.shares() {
		s.After.note(share)
	}
}

// note adds a finding after the compile.
func (r *Result) note(f finding.Finding) {
	r.Findings.Add(f)
	r.Findings = r.Findings.Sorted()
	r.Plan.Findings = nil
	for _, f := range r.Findings {
		r.Plan.Findings = append(r.Plan.Findings, planFinding(f))
	}
}

// colourShare is how much of its area a colour may gain or lose without a finding.
const colourShare = 0.1

// shares warns of colours whose area changed.
func (s *Simplified) shares() finding.List {
	before, after := s.Before.w.m, s.After.w.m
	area := map[artwork.RGB]float64{}
	for _, r := range after.Regions {
		if !r.Jacket {
			area[after.Colours[r.Colour].RGB] += r.Area
		}
	}
	var out finding.List
	for i, c := range before.Colours {
		was, at := 0.0, geom.TruePoint{}
		largest := 0.0
		for _, r := range before.Regions {
			if !r.Jacket && r.Colour == i {
				was += r.Area
				if r.Area > largest {
					e := set.Element{True: r.Shape}
					largest, at = r.Area, e.Inside()
				}
			}
		}
		now := area[c.RGB]
		if was > 0 && math.Abs(now-was) > colourShare*was {
			p := [2]float64(at)
			out.Add(finding.Finding{Code: finding.ColourShare, Severity: finding.Warning, AtMM: &p, Message: fmt.Sprintf("%s had %.0f square mm of the picture and has %.0f (%+.0f %%)",
				s.Before.w.finish(i).Name, was, now, 100*(now/was-1))})
		}
	}
	return out
}

// say a change in plain words.
func (s *Simplified) say(c simplify.Change) words.Phrase {
	name := func(i int) words.Name { return words.Name(s.Before.w.finish(i).Name) }
	what, before, after := name(c.Colour), words.Number{Value: c.Before, Digits: 1}, words.Number{Value: c.After, Digits: 1}
	var out words.Phrase
	switch c.Kind {
	case simplify.Bolder:
		out = words.P("change.bolder", what, before, after)
		if c.Gap {
			out = words.P("change.gap_opened", before, after)
		}
	case simplify.Larger:
		out = words.P("change.larger", what, before, after)
	case simplify.Dropped:
		switch to := name(c.To); {
		case c.Gap:
			out = words.P("change.gap_closed", before, to)
		case to == what:
			out = words.P("change.dropped_beside", what, before)
		default:
			out = words.P("change.dropped", what, before, to)
		}
	case simplify.Merged:
		if out = words.P("change.merged", what, name(c.To)); name(c.To) == what {
			out = words.P("change.shade", what)
		}
	case simplify.Plainer:
		if out = words.P("change.plainer", what); c.Gap {
			out = words.P("change.gap_plainer")
		}
	case simplify.Even:
		out = words.P("change.even")
	}
	if n := len(c.Places); n > 1 {
		out = out.And(words.P("change.places", n))
	}
	return out
}
