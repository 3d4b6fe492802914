package planner

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/geom/finding"
	"sugarwright/planner/check"
	"sugarwright/planner/forecast"
	"sugarwright/planner/words"
)

// Words prints lengths and masses for people.
type Words interface {
	MM(float64) string
	Grams(float64) string
}

// Cost is what a plan costs, in lines: parts, minutes, people, minutes to spare, size, and the smallest order that carries the drawing.
func Cost(r *Result, s Words) string {
	p := r.Plan
	var b strings.Builder
	if p.Verdict == AsDrawn {
		round := float64(p.Log.MinutesToRoll) + r.RoundMin
		fmt.Fprintf(&b, "parts made %d, laid %d; %d pairs of hands; round %.0f minutes after the pour, %.0f allowed\n", r.Distinct, len(p.Elements), p.Shop.Crew, round, float64(p.Shop.ClockMin))
		if c := p.Clock; c != nil {
			fmt.Fprintf(&b, "%s Schedule %s.\n", words.English().Say(c.Spare()), map[bool]string{true: "proved the shortest", false: fmt.Sprintf("at most %.0f %% longer than the shortest", math.Ceil(float64(c.GapPercent)))}[c.Proved])
		}
		if o := p.Rolling; o != nil {
			fmt.Fprintf(&b, "the picture would come out off by up to %.1f %% of the log laid as drawn, %.1f %% by the simple squash, %.2f %% as planned; nobody rolls truer than %.1f %%\n",
				float64(o.AsDrawn.Worst), float64(o.Squash.Worst), float64(o.Planned.Worst), forecast.Band)
		}
	}
	fmt.Fprintf(&b, "log %s across, %s long, %s: %d pieces\n", s.MM(float64(p.Log.DiameterMM)), s.MM(float64(p.Log.LengthMM)), s.Grams(float64(p.Log.MassG)), p.Piece.Count)
	if o := p.Order; o != nil && o.Wanted > 0 {
		fmt.Fprintf(&b, "order: %d pieces wanted, logs of this size %d, %d pieces made\n", o.Wanted, o.Logs, o.Made)
	}
	if o := p.Order; o != nil && o.Price != nil && o.Price.Low >= 0 {
		fmt.Fprintf(&b, "price by the shop's own figures: %.2f to %.2f %s\n", float64(o.Price.Low), float64(o.Price.High), o.Price.Currency)
	}
	switch d, g, ok := r.SmallestOrder(); {
	case ok && (d > r.w.o.Shop.LargestMM || g > r.w.o.Shop.MostG):
		fmt.Fprintf(&b, "the smallest log that would carry this drawing, %s across and %s, is larger than the shop's largest\n", s.MM(d), s.Grams(g))
	case ok:
		fmt.Fprintf(&b, "smallest order that carries this drawing: a log of %s, %s\n", s.MM(d), s.Grams(g))
	}
	return strings.ReplaceAll(b.String(), "\u00a0", " ")
}

// SmallestOrder is the least log, twice as long as wide, in which the drawing's finest place is still as thick as it must be every colour is a lump that
// can be mixed, and the shop draws so little: its diameter in millimetres and its mass in grams. ok is false when the drawing was not understood.
func (r *Result) SmallestOrder() (diameter, grams float64, ok bool) { return r.w.smallestOrder() }

func (w *work) smallestOrder() (diameter, grams float64, ok bool) {
	if w.m == nil || w.checked == nil {
		return 0, 0, false
	}
	finest := w.checked.Finest
	if math.IsInf(finest, 1) {
		var err error
		if finest, err = check.Finest(w.m, w.o.Shop); err != nil {
			return 0, 0, false
		}
	}
	diameter = math.Ceil(w.log.DiameterMM / finest)
	perMM, least := 0.0, math.Inf(1) // grams a millimetre of this log; the scarcest colour's
	byColour := map[int]float64{}
	for _, g := range w.m.Regions {
		m := g.Area * w.density(g.Colour) / 1000
		perMM += m
		byColour[g.Colour] += m
	}
	for _, m := range byColour {
		least = math.Min(least, m)
	}
	k := diameter / w.log.DiameterMM
	grams = perMM * k * k * 2 * diameter
	if need := w.o.Shop.LeastLumpG * perMM / least; need > grams { // every colour at least a lump: a longer log
		grams = need
	}
	if least := w.o.Shop.LeastG; grams < least { // the shop draws no smaller one
		diameter, grams = math.Min(math.Max(diameter, w.o.Shop.LargestMM), math.Ceil(diameter*math.Cbrt(least/grams))), least
	}
	return diameter, grams, true
}

// Reply is a few plain sentences for the client; s may be nil.
func Reply(r *Result, s *Simplified) string {
	var b strings.Builder
	p := r.Plan
	has := func(c finding.Code) bool { return r.Findings.Has(c) }
	b.WriteString("For the client:\n")
	switch {
	case p.Verdict == AsDrawn:
		fmt.Fprintf(&b, "  Your drawing can be made as it is. One batch gives about %d sweets of %.0f mm.\n", p.Piece.Count, float64(p.Piece.DiameterMM))
		if o := p.Order; o != nil && o.Logs > 1 {
			fmt.Fprintf(&b, "  For your order we make %d batches, %d sweets in all.\n", o.Logs, o.Made-o.Spare)
		}
	case has(finding.ImageInArtwork):
		b.WriteString("  A photo cannot be built from sugar: every part is laid by hand. Please send a drawing of a few flat colours with clear edges, as an SVG file,\n" +
			"  with no photo in it; an outline of the main subject and three or four colours are best.\n")
	case has(finding.TextInArtwork):
		b.WriteString("  The lettering in your file depends on a typeface that we may not have. Please turn the letters into shapes before saving,\n" +
			"  and keep to one or two large letters: longer words cannot be read in a sweet.\n")
	case has(finding.NoPaint) || has(finding.OneColour):
		b.WriteString("  We cannot see a picture in your file: nothing in it stands out from the background. Please send it with flat colours.\n")
	case s != nil && s.After == nil && s.Last.Reason != "" || p.Verdict == NotBuildable:
		b.WriteString("  Your drawing cannot be made in sugar: " + mainReason(r, s) + ".\n" +
			"  What works: one subject that fills the circle, three or four flat colours, no more than ten areas, no line thinner than a fifteenth of the width.\n")
	default:
		b.WriteString("  Your drawing needs a few changes before it can be made in sugar: " + mainReason(r, s) + ".\n  We can send you a version with as few changes as possible.\n")
	}
	return b.String()
}

// mainReason is what matters most, in the client's words, at the size of a sweet.
func mainReason(r *Result, s *Simplified) string {
	p := r.Plan
	ratio := float64(p.Piece.DrawRatio)
	counts := map[finding.Code]int{}
	most, n := finding.Code(""), 0
	for _, f := range r.Findings {
		if f.Severity == finding.Error {
			if counts[f.Code]++; counts[f.Code] > n {
				most, n = f.Code, counts[f.Code]
			}
		}
	}
	if s != nil && s.Last.Code != "" {
		most = s.Last.Code
	}
	switch most {
	case finding.TooThin, finding.TooSmall:
		return fmt.Sprintf("some lines or dots are finer than sugar can hold; in a sweet of %.0f mm nothing may be thinner than %.1f mm", float64(p.Piece.DiameterMM), float64(p.Shop.ThinnestMM)/ratio)
	case finding.GapTooThin, finding.CounterCloses:
		return fmt.Sprintf("some gaps are so narrow that they close; in a sweet of %.0f mm they must be at least %.1f mm wide", float64(p.Piece.DiameterMM), float64(p.Shop.GroundGapMM)/ratio)
	case finding.TooLong, finding.TooManyParts, finding.NoSchedule, finding.ScheduleGave, finding.GoesHard:
		return "it has more parts than can be put together before the sugar is hard"
	case finding.SplitGaveUp, finding.OrderGaveUp, finding.NotProven, finding.PoorFit:
		return "its shapes cannot be put together by hand as they are; fewer and plainer shapes would help"
	case finding.NoWindow, finding.JoinHeat:
		return "parts of it cannot be kept warm enough to join and cool enough to hold their shape at once; smaller and plainer areas would help"
	case finding.SliversMoved:
		return "it has many tiny pieces"
	}
	return "parts of it could not be understood; see the list"
}
