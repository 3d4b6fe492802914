package say

import (
	"slices"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/render/words"
)

// mostSaid is how many changes an offer names; the rest are counted.
const mostSaid = 4

// outlineMM is how narrow, and outlineLong how many times as long, what is left out is to be called an outline.
const (
	outlineMM   = 5.2
	outlineLong = 14
)

// Offer says to a client what an offer is, a sentence each: what was changed, most seen first, and what it takes.
func Offer(p *plan.Plan) (out []words.Phrase) {
	read := Reading(p)
	said, more := map[string]bool{}, 0
	for _, c := range p.Changes {
		if c.Kind.Reading() {
			continue
		}
		s := told(c)
		if key := s.Key + c.Colour; len(said) < mostSaid && !said[key] {
			said[key] = true
			out = append(out, s)
		} else if !said[key] {
			more++
		}
	}
	switch {
	case more == 1:
		out = append(out, words.P("offer.more_one"))
	case more > 1:
		out = append(out, words.P("offer.more", more))
	}
	if len(out) == 0 && len(read) == 0 {
		out = append(out, words.P("offer.exactly"))
	}
	out = append(out, read...)
	for _, f := range p.Findings {
		if f.Code == string(finding.Needs) {
			out = append(out, words.Phrase{Key: "offer.needs_" + f.Case, Args: f.Values})
		}
	}
	return out
}

// Reading says to a client what was changed while the drawing was read, each kind once.
func Reading(p *plan.Plan) (out []words.Phrase) {
	for _, c := range p.Changes {
		if !c.Kind.Reading() {
			continue
		}
		k := "offer.flat"
		switch c.Kind {
		case plan.TracedPixels:
			k = "offer.traced"
		case plan.TextSet:
			k = "offer.set"
		}
		if !slices.ContainsFunc(out, func(y words.Phrase) bool { return y.Key == k }) {
			out = append(out, words.P(k))
		}
	}
	return out
}

// told says a change to a client: the thing, and what happens to it.
func told(c plan.Change) words.Phrase {
	what, to, n := words.Name(c.Colour), words.Name(c.To), len(c.Places)
	number := func(key string) words.Phrase {
		if n == 1 {
			return words.P("offer."+key+"_one", what)
		}
		return words.P("offer."+key, what, n)
	}
	switch {
	case c.Kind == plan.Bolder && c.Gap:
		return words.P("offer.gap_opened")
	case c.Kind == plan.LeftOut && c.Gap:
		return words.P("offer.gap_closed")
	case c.Kind == plan.LeftOut && c.BeforeMM < outlineMM && c.AreaMM2 > outlineLong*c.BeforeMM*c.BeforeMM:
		return words.P("offer.outline", what)
	case c.Kind == plan.LeftOut:
		return number("left")
	case c.Kind == plan.Bolder:
		return number("bolder")
	case c.Kind == plan.Larger:
		return number("larger")
	case c.Kind == plan.Merged:
		return words.P("offer.merged", what, to)
	case c.Kind == plan.Plainer && !c.Gap:
		return words.P("offer.plainer", what)
	case c.Kind == plan.Plainer:
		return words.P("offer.gap_plainer")
	}
	return words.P("offer.even")
}
