package planner

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
	"sugarwright/planner/simplify"
)

// Simplified is a drawing that can be built, with what was changed.
type Simplified struct {
	Before  *Result // the drawing as it is
	After   *Result // the simplified drawing, compiled from SVG like any other; Before when nothing had to change, nil when nothing passes
	SVG     []byte  // the simplified drawing; the given bytes when nothing had to change
	Changes []simplify.Change
	Last    simplify.Built // why not, when After is nil
}

// MakeSimpler compiles a drawing, and where it cannot be built as drawn seeks the least change after which it can. Refused changes, by key, are
// not made. Errors as for Compile.
func MakeSimpler(file string, data []byte, o Options, refused map[simplify.Key]bool) (*Simplified, error) {
	before, err := Compile(file, data, o)
	if err != nil {
		return nil, err
	}
	out := &Simplified{Before: before}
	if before.Plan.Verdict == AsDrawn {
		out.After, out.SVG = before, data
		return out, nil
	}
	w := before.w
	if w.m == nil || w.unreadable() {
		return out, nil
	}
	var tried []judged
	judge := func(m *partition.Map) (simplify.Built, error) {
		svg := w.drawing(m)
		r, err := Compile(file, svg, o)
		if err != nil {
			return simplify.Built{}, err
		}
		tried = append(tried, judged{m, svg, r})
		return r.built(), nil
	}
	s, err := simplify.Of(w.m, o.Shop, judge, refused)
	if err != nil {
		return out, w.tooMuch(err)
	}
	out.Changes, out.Last = s.Changes, s.Last
	for _, t := range tried {
		if t.m == s.Map && s.Passes {
			out.SVG, out.After = t.svg, t.result
		}
	}
	return out, nil
}

// judged is a map that was compiled.
type judged struct {
	m      *partition.Map
	svg    []byte
	result *Result
}

// unreadable tells whether the drawing holds what the reader does not take: then what was understood is not the drawing.
func (w *work) unreadable() bool {
	for _, f := range w.found {
		switch f.Code {
		case finding.TooThin, finding.GapTooThin, finding.CounterCloses, finding.TooSmall, finding.SliversMoved, finding.TooLong, finding.PoorFit,
			finding.SplitGaveUp, finding.OrderGaveUp, finding.NotProven, finding.NoWindow, finding.JoinHeat:
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
			b.Reason = string(f.Code) + ": " + f.Message
		}
		if f.AtMM != nil {
			b.Places = append(b.Places, geom.TruePoint(*f.AtMM))
		}
		if f.Code == finding.TooLong {
			b.Over = r.w.roll + r.RoundMin - r.w.o.Shop.ClockMin
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

// ChangeText says a change in plain words.
func (r *Result) ChangeText(c simplify.Change) string {
	name := func(i int) string { return r.w.finish(i).Name }
	what := name(c.Colour) + " line"
	if c.Gap {
		what = "gap"
	}
	var b strings.Builder
	switch c.Kind {
	case simplify.Bolder:
		fmt.Fprintf(&b, "%s of %.1f mm made %.1f mm", what, c.Before, c.After)
	case simplify.Larger:
		fmt.Fprintf(&b, "%s dot of %.1f mm made %.1f mm", name(c.Colour), c.Before, c.After)
	case simplify.Dropped:
		fmt.Fprintf(&b, "%s of %.1f mm left out, now %s", what, c.Before, name(c.To))
	case simplify.Merged:
		fmt.Fprintf(&b, "%s becomes %s", name(c.Colour), name(c.To))
	case simplify.Plainer:
		fmt.Fprintf(&b, "outline of %s made plainer", name(c.Colour))
	case simplify.Even:
		b.WriteString("made symmetric")
	}
	if n := len(c.Places); n > 1 {
		fmt.Fprintf(&b, ", in %d places", n)
	}
	return b.String()
}
