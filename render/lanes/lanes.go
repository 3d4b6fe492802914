// Package lanes draws the work as lanes of time: a column of minutes, and beside it a lane for each pair of hands.
//
// Guarantees: a step stands in the lanes of those who do it, as long as it takes; joint steps span their lanes; each has
// its number, and one that is too short for a line of text is named together with the next.
package lanes

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
)

// The panel: minutes at the left, then the lanes; millimetres, and millimetres a minute.
const (
	minuteWide = 11.0
	panelGap   = 6.0
	manyHands  = 3 // from so many lanes on there is one panel on a page, else two
	head       = 7.0
	scale      = 16.0
	leastBox   = 1.4 * sheet.TextSize
	leading    = 1.45 * sheet.TextSize
	pad        = 1.0
	doneShows  = 2.0 // minutes of what goes on after the log is round
)

// box is one or more steps in lanes next to each other.
type box struct {
	from, until float64
	first, last int // lanes
	label       string
	numbers     string // of the steps
	makes       bool
}

// Pages of the lanes.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("lane.title"))
	if p.Clock != nil {
		f.Paragraph(t.Say(say.CloseBy(p)), sheet.TextSize, false)
	}
	boxes := merged(boxesOf(p, s), scale)
	end := 0.0
	for _, b := range boxes {
		end = math.Max(end, b.until)
	}
	panels := 2
	if p.Shop.Crew >= manyHands {
		panels = 1
	}
	for from := 0.0; from < end-1e-6; {
		f.Room(60)
		span := math.Floor((f.Foot - f.Y - head - 2) / scale)
		for k := range panels {
			if from < end-1e-6 {
				until := uncut(boxes, math.Min(from+span, math.Ceil(end)))
				width := (f.W() - panelGap*float64(panels-1)) / float64(panels)
				panel(f.Page, s, p, boxes, from, until, sheet.Margin+float64(k)*(width+panelGap), f.Y, width)
				from = until
			}
		}
		if f.Y = f.Foot; from < end-1e-6 {
			f.Fresh()
		}
	}
	return f.Done()
}

// uncut is the latest minute up to one at which no box is cut that is too short for its text on both sides.
func uncut(boxes []box, until float64) float64 {
	for again := true; again; {
		again = false
		for _, b := range boxes {
			if b.from < until-1e-6 && b.until > until+1e-6 && (b.until-b.from)*scale < 2*leastBox+1 {
				until, again = b.from, true
			}
		}
	}
	return until
}

// boxesOf are the steps with hands, and what goes on by itself but for a pair of eyes, up to the log's rolling and a
// little of its drawing.
func boxesOf(p *plan.Plan, s sheet.Style) (out []box) {
	stop := math.Inf(1)
	for _, st := range p.Steps {
		if st.Do == plan.DoRound {
			stop = float64(st.StartMin+st.Minutes) + doneShows
		}
	}
	for _, st := range p.Steps {
		if st.Minutes <= 0 || len(st.Pairs) == 0 || float64(st.StartMin) >= stop {
			continue
		}
		b := box{from: float64(st.StartMin), until: float64(st.StartMin + st.Minutes), makes: st.Do == plan.DoMake || st.Do == plan.DoChop}
		b.numbers = fmt.Sprint(st.Number)
		b.label = b.numbers + " " + label(p, s, st)
		if b.until > stop {
			b.label += s.T().Text("lane.until", sheet.Clock(b.until))
			b.until = stop
		}
		pairs := slices.Sorted(slices.Values(st.Pairs))
		for i := 0; i < len(pairs); { // lanes that lie apart have a box each
			k := i
			for k+1 < len(pairs) && pairs[k+1] == pairs[k]+1 {
				k++
			}
			b.first, b.last = pairs[i]-1, pairs[k]-1
			out = append(out, b)
			i = k + 1
		}
	}
	return out
}

// label is what a step does, in a word and a number.
func label(p *plan.Plan, s sheet.Style, st plan.Step) string {
	t := s.T()
	what := ""
	if len(st.Parts) > 0 {
		if e := p.Index().Element(st.Parts[0]); e != nil {
			what = fmt.Sprint(e.Number)
		} else if st.Parts[0] != "log" {
			what = t.Say(say.Block(p, st.Parts[0]))
		} else {
			what = t.Text("part.log")
		}
	}
	switch st.Do {
	case plan.DoMake, plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll, plan.DoTurn, plan.DoChop, plan.DoRound:
		return t.Text("lane."+string(st.Do), what)
	case plan.DoKeep:
		return t.Text("do.keep_part", what)
	case plan.DoColour, plan.DoPull:
		out := t.Text("do."+string(st.Do)) + " " + p.Index().Colour(st.Colour).Letter
		if st.Loads > 1 {
			out += fmt.Sprintf(" %d/%d", st.Load, st.Loads)
		}
		return out
	}
	return t.Text("do." + string(st.Do))
}

// merged joins boxes that are too short for their text with what follows in the same lanes, or what goes before.
func merged(boxes []box, scale float64) (out []box) {
	sort.SliceStable(boxes, func(i, j int) bool {
		a, b := boxes[i], boxes[j]
		if a.first != b.first {
			return a.first < b.first
		}
		return a.from < b.from-1e-9
	})
	for _, b := range boxes {
		if n := len(out) - 1; n >= 0 && out[n].first == b.first && out[n].last == b.last && b.from-out[n].until < 0.05 &&
			((out[n].until-out[n].from)*scale < leastBox || (b.until-b.from)*scale < leastBox) {
			out[n].until = b.until
			out[n].label += ", " + b.label
			out[n].numbers += ", " + b.numbers
			out[n].makes = out[n].makes && b.makes
			continue
		}
		out = append(out, b)
	}
	return out
}

// panel draws the lanes from one minute to another.
func panel(pg *page.Page, s sheet.Style, p *plan.Plan, boxes []box, from, until, x, y, width float64) {
	crew := p.Shop.Crew
	lane := (width - minuteWide) / float64(crew)
	at := func(m float64) float64 { return y + head + scale*(m-from) }
	left := func(k int) float64 { return x + minuteWide + lane*float64(k) }
	for k := range crew {
		name := s.T().Text("lane.person", string(rune('A'+k)))
		pg.Write(page.Text{At: page.Point{left(k) + lane/2, y + head - 2}, Size: sheet.TextSize, Bold: true, Anchor: "middle", Text: name})
	}
	for m := math.Ceil(from - 1e-6); m <= until+1e-6; m++ {
		pg.Line(page.Point{x + minuteWide - 1.5, at(m)}, page.Point{x + width, at(m)}, 0.1)
		if scale*(until-m) > leastBox {
			pg.Write(page.Text{At: page.Point{x + minuteWide - 2.5, at(m) + 1.15*sheet.TextSize}, Size: sheet.TextSize, Anchor: "end", Text: fmt.Sprint(int(m))})
		}
	}
	for _, b := range boxes {
		top, foot := math.Max(b.from, from), math.Min(b.until, until)
		if foot-top < 1e-6 {
			continue
		}
		bx, w, h := left(b.first), lane*float64(b.last-b.first+1), scale*(foot-top)
		fill := "#ffffff"
		if b.makes {
			fill = "#e8e8e8"
		}
		pg.Add(page.Path{Rings: [][]page.Point{page.Rect(bx, at(top), w, h)}, Fill: fill, Stroke: "#000000", Width: 0.3})
		if h < leastBox {
			continue // the rest of a box that is cut by the panel's foot: its other piece is named
		}
		text, room := b.label, 1+int((h-leastBox)/leading)
		if cut := foot - top; cut < (b.until-b.from)/2 { // most of it is on another panel
			text = "(" + b.numbers + ")"
		}
		wrap := func(text string) []string {
			return page.Wrap(page.Text{Text: page.Clean(text), Size: sheet.TextSize, Bold: true}, w-2*pad)
		}
		lines := wrap(text)
		if len(lines) > room {
			lines = wrap(b.numbers)
		}
		lines = lines[:min(len(lines), room)]
		for i, l := range lines {
			pg.Write(page.Text{At: page.Point{bx + pad, at(top) + 1.15*sheet.TextSize + leading*float64(i)}, Size: sheet.TextSize, Bold: true, Text: l})
		}
	}
}
