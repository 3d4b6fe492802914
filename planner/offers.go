package planner

import (
	"fmt"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/assemble"
	"sugarwright/planner/likeness"
	"sugarwright/planner/plan"
	"sugarwright/planner/simplify"
)

// offers seeks what can be made of a drawing.
type offers struct {
	before *Result
	o      Options
	w      Wanted
	data   []byte
	last   verdict
	plans  int
	like   *likeness.Drawing
	engine simplify.Engine
	named  map[int]int // by number of the offer, how many changes were named
	read   int         // changes that reading made
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
	s.engine = simplify.New(s.before.Stages.Map, s.o.Shop, nil)
	for _, kind := range styles {
		var x *Offer
		for _, w := range ways[kind] {
			if x, err = s.drawn(kind, w, 1+len(out)); err != nil {
				return nil, err
			}
			if x != nil {
				break
			}
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

// way is how an offer is drawn, and how often it is made plainer where that could not be put together.
type way struct {
	style   simplify.Style
	plainer int
}

// ways to an offer of a kind; the next is tried where one leads to none.
var ways = map[OfferKind][]way{
	Near:   {{simplify.Near, 3}},
	Sweets: {{simplify.Sweets, 1}, {simplify.Plain, 2}, {simplify.Other, 2}},
	Bold:   {{simplify.Bold, 1}},
}

// drawn is an offer of a kind, until no change is made that the client refuses; nil where there is none.
func (s *offers) drawn(kind OfferKind, w way, number int) (*Offer, error) {
	refused := map[simplify.Key]bool{}
	known := map[simplify.Key]int{}
	for last := s.read; ; {
		x, err := s.planned(kind, w, number, refused)
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
func (s *offers) planned(kind OfferKind, w way, number int, refused map[simplify.Key]bool) (*Offer, error) {
	st := s.before.Stages
	s.said(Drawing, number)
	e := s.engine
	if len(refused) > 0 {
		e = simplify.New(st.Map, s.o.Shop, refused)
	}
	r, err := e.Draw(w.style)
	if err != nil || !r.Passes || kind != Near && len(r.Changes) == 0 {
		return nil, err
	}
	left := 0 // parts that hands do not make
	plainer := w.plainer
	if number > 1 {
		plainer = 0 // there is an offer already
	}
	for tries := 0; ; tries++ {
		if simplify.Hopeless(r.Map, 2) {
			return nil, nil
		}
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
			v.ok = x.Plan != nil && (kind == Near || !x.Need.Machine && !x.Need.Slab) // what is redrawn is drawn for the kitchen as it stands
		}
		if v.ok {
			most := mostLoss[kind]
			if x.Loss = s.like.Of(r.Map); x.Loss.S > most.s || x.Loss.Parts > most.parts || x.Loss.Lines > most.lines || !e.KeepsEyes(r.Map) { // not the thing any more
				s.last.why = finding.New(finding.NothingPasses, finding.Error).In("limits")
				return nil, nil
			}
			for _, c := range r.Changes {
				x.Changes = append(x.Changes, Numbered{Change: c})
			}
			return x, nil
		}
		if v.why.Code != finding.NoPaint { // that is ours
			s.last = v
		}
		still := failed(c)
		kinds := kindsOf(still)
		if tries == plainer || kinds > mostFailed || kinds > fewFailed && simplify.Hopeless(r.Map, 1) || tries > 1 && kinds >= left {
			return nil, nil // it does not get better
		}
		left = kinds
		more := false
		if r, more, err = e.Plainer(r, still, v.over, tries); err != nil || !more {
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

// kindsOf counts parts, those alike once.
func kindsOf(all []simplify.Failed) (n int) {
	for i, f := range all {
		if !slices.ContainsFunc(all[:i], f.Alike) {
			n++
		}
	}
	return n
}

// mostLoss is how much an offer may lose in all, in its parts, and of lines kept in part: what is only cut a client does not accept beyond 6; what is
// redrawn in plain shapes scores higher for the same grade, and is held to its parts (see planner/likeness).
var mostLoss = map[OfferKind]struct{ s, parts, lines float64 }{Near: {6, 2.1, 1}, Sweets: {8.5, 1.9, 0.75}, Bold: {6.5, 1.7, 0.75}}

// mostFailed kinds of parts, and a drawing is not made plainer: too much would change.
const mostFailed = 5

// fewFailed kinds of parts, and a drawing is made plainer whatever is in it.
const fewFailed = 2

func (s *offers) said(p Progress, number int) {
	if s.w.Said != nil {
		s.w.Said(p, number)
	}
}

// told makes an offer's plan one that tells what was changed: one note a change, a warning for each colour whose area changes
// by more than a tenth, and what the kitchen needs.
func (s *offers) told(x *Offer) error {
	before := s.before.Plan
	st := *x.Plan.Stages
	from := plan.Original{File: before.Artwork.File, SHA256: before.Artwork.SHA256, Picture: before.Picture, Seen: before.Artwork.Seen}
	st.Simplified = &assemble.Simplified{From: from, Title: before.Artwork.Title}
	st.Findings = slices.Clone(st.Findings)
	st.Simplified.Changes = slices.Clone(before.Changes)
	for _, f := range s.before.Stages.Findings {
		if f.About().Reading {
			f.Source = finding.Source{} // of the file before
			st.Findings.Add(f)
		}
	}
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
