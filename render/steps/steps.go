// Package steps prints the step list for the wall, in order, with the clock and blanks for what happened; the card for
// when the sugar goes hard; the card for the first cut; and the step list as plain text.
//
// Guarantees: rows are never cut at the foot; numbers stand first.
package steps

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Line is one step in words.
type Line struct {
	Step         plan.Step
	Text, Detail string
	Weighed      bool // its weight is to be written down
}

// Lines are the steps in words.
func Lines(p *plan.Plan, s sheet.Style) []Line {
	t := s.T()
	var out []Line
	for _, st := range p.Steps {
		l := Line{
			Step:    st,
			Text:    page.Clean(t.Say(say.Step(p, st))),
			Weighed: st.Do == plan.DoPour || st.Do == plan.DoMake || st.Do == plan.DoCut,
		}
		var d []string
		if len(st.Parts) > 0 {
			if e := p.Index().Element(st.Parts[0]); e != nil && st.Do == plan.DoMake {
				grams := float64(p.Index().Pieces(e)) * sheet.Made(p, *e)
				d = append(d, s.Size(*e), t.Text("size.long", s.Long(*e)), s.Grams(grams))
			}
		}
		if st.AtC != nil && (st.Do == plan.DoMake || st.Do == plan.DoKeep) {
			d = append(d, s.Heat(float64(*st.AtC), sheet.Guessed(p)))
		}
		if st.Hands > 0 {
			d = append(d, s.Who(st, p.Shop.Crew))
		}
		if st.SlackMin >= 1 && st.Minutes > 0 {
			d = append(d, t.Text("who.wait", words.Number{Value: math.Floor(float64(st.SlackMin))}))
		}
		l.Detail = strings.Join(d, "\u00a0· ")
		out = append(out, l)
	}
	return out
}

// hard is the card for when the sugar goes hard, line by line.
func hard(p *plan.Plan, s sheet.Style) []string {
	t := s.T()
	var out []string
	for _, x := range p.GoingHard {
		out = append(
			out,
			t.Text("hard.before", x.Step, words.Number{Value: math.Floor(float64(x.UntilMin) + 1e-6)},
				say.Shortcut(p, x), words.Number{Value: float64(x.SavesMin), Digits: 1}),
		)
	}
	if len(out) == 0 {
		out = append(out, t.Text("hard.none"))
	}
	return append(out, t.Text("hard.stop"))
}

// Intro says from when minutes count and how far temperatures can be trusted.
func Intro(p *plan.Plan, s sheet.Style) string {
	if sheet.Guessed(p) {
		return s.T().Text("wall.intro", words.P("wall.guess"))
	}
	return s.T().Text("wall.intro", words.P("wall.tested"))
}

// The columns of the list, from the left margin: number, clock, what to do; blanks at the right.
const (
	numberEnd = 15.0
	clockEnd  = 33.0
	doFrom    = 37.0
	blank     = 22.0
	leading   = 1.5 * sheet.TextSize
	doSize    = 5.0 // what to do is read from further away
)

// Pages of the step list.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("wall.title"))
	f.Paragraph(Intro(p, s), sheet.TextSize, false)
	if p.Order != nil && p.Order.Logs > 1 {
		f.Paragraph(t.Text("wall.logs", p.Order.Logs), 5, true)
	}
	if p.Clock != nil {
		f.Paragraph(t.Say(say.CloseBy(p)), 5, true)
		f.Paragraph(t.Say(say.Slower(p.Clock)), sheet.TextSize, false)
	}
	f.Y += 1
	head := func() {
		for i, k := range []string{"wall.began", "wall.weight"} {
			f.Page.Write(
				page.Text{
					At: page.Point{
						f.Page.W - sheet.Margin - blank*float64(1-i) - blank/2,
						f.Y + 1.3*sheet.TextSize,
					},
					Size:   sheet.TextSize,
					Anchor: "middle",
					Text:   t.Text(k),
				},
			)
		}
		f.Y += sheet.Leading * sheet.TextSize
	}
	head()
	width := f.W() - doFrom - 2*blank - 3
	for _, l := range Lines(p, s) {
		text := page.Wrap(page.Text{Text: l.Text, Size: doSize, Bold: true}, width)
		detail := page.Wrap(page.Text{Text: page.Clean(l.Detail), Size: sheet.TextSize}, width)
		if l.Detail == "" {
			detail = nil
		}
		h := math.Max(1.7*sheet.NumberSize, 1.5*doSize*float64(len(text))+leading*float64(len(detail))+3.5)
		if f.Room(h) {
			head()
		}
		f.Rule(0.18)
		base := f.Y + 1.5 + sheet.NumberSize
		f.Page.Write(
			page.Text{
				At:     page.Point{sheet.Margin + numberEnd, base},
				Size:   sheet.NumberSize,
				Bold:   true,
				Anchor: "end",
				Text:   fmt.Sprint(l.Step.Number),
			},
		)
		f.Page.Write(
			page.Text{
				At:     page.Point{sheet.Margin + clockEnd, base},
				Size:   sheet.TextSize,
				Anchor: "end",
				Text:   sheet.Clock(float64(l.Step.StartMin)),
			},
		)
		at := base
		for _, x := range text {
			f.Page.Write(page.Text{At: page.Point{sheet.Margin + doFrom, at}, Size: doSize, Bold: true, Text: x})
			at += 1.5 * doSize
		}
		at -= 1.5*doSize - leading
		for _, x := range detail {
			f.Page.Write(page.Text{At: page.Point{sheet.Margin + doFrom, at}, Size: sheet.TextSize, Text: x})
			at += leading
		}
		right := f.Page.W - sheet.Margin
		f.Page.Line(page.Point{right - 2*blank + 1, base + 1}, page.Point{right - blank - 2, base + 1}, 0.25)
		if l.Weighed {
			f.Page.Line(page.Point{right - blank + 1, base + 1}, page.Point{right, base + 1}, 0.25)
		}
		f.Y += h
	}
	if p.Clock != nil {
		latest(f, p.Clock)
	}
	notes(f)
	return f.Done()
}

// The columns of the milestones, from the left margin.
const (
	plannedEnd = 95.0
	latestEnd  = 135.0
)

// latest are the milestones, planned and at the latest, and the dent by which the clock is corrected on the day.
func latest(f *sheet.Flow, c *plan.Clock) {
	t := f.S.T()
	f.Room(float64(len(c.Milestones)+4)*leading + 12)
	f.Y += 2
	f.Rule(0.5)
	f.Y += 2
	f.Paragraph(t.Text("close.milestones"), sheet.TextSize, true)
	for _, m := range c.Milestones {
		f.Y += leading
		f.Page.Write(page.Text{At: page.Point{sheet.Margin, f.Y}, Size: sheet.TextSize, Text: t.Text("close." + string(m.What))})
		f.Page.Write(page.Text{At: page.Point{sheet.Margin + plannedEnd, f.Y}, Size: sheet.TextSize, Anchor: "end", Text: sheet.Clock(float64(m.AtMin))})
		f.Page.Write(page.Text{At: page.Point{sheet.Margin + latestEnd, f.Y}, Size: sheet.TextSize, Bold: true, Anchor: "end",
			Text: t.Text("close.latest") + " " + sheet.Clock(float64(m.ByMin))})
	}
	f.Y += 2
	f.Paragraph(t.Say(say.Dents(c)), sheet.TextSize, false)
	f.Y += 1
}

// notes are blanks for what happened and for next time.
func notes(f *sheet.Flow) {
	t := f.S.T()
	keys := []string{"n_poured", "n_pieces", "n_loss", "n_round", "n_drawn", "n_air"}
	const row = 11.0
	f.Room(row*float64(len(keys)/2+4) + 12)
	f.Y += 3
	f.Rule(0.5)
	f.Y += 2
	f.Paragraph(t.Text("wall.notes"), sheet.TextSize, true)
	half := f.W() / 2
	for i, k := range keys {
		x := sheet.Margin + half*float64(i%2)
		text := page.Text{At: page.Point{x, f.Y + row - 2}, Size: sheet.TextSize, Text: t.Text("wall." + k)}
		f.Page.Write(text)
		f.Page.Line(page.Point{x + page.Width(text) + 2, f.Y + row - 1}, page.Point{x + half - 4, f.Y + row - 1}, 0.25)
		if i%2 == 1 {
			f.Y += row
		}
	}
	for f.Y+row < f.Foot {
		f.Y += row
		f.Rule(0.25)
	}
}

// Cards are what to do when it is going hard, what the first cut shows, and the cautions in full.
func Cards(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("hard.title"))
	for _, l := range hard(p, s) {
		f.Room(sheet.Height(l, f.W(), 5, true) + 4)
		f.Y += 2
		f.Paragraph(l, 5, true)
		f.Y += 2
		f.Rule(0.18)
	}
	f.Y += 2
	f.Heading(t.Text("cut.title"))
	const columns = 3
	width := (f.W() - 2*4) / columns
	row := func(cells [columns]string, bold bool) {
		most := 0.0
		for i, c := range cells {
			most = math.Max(most,
				leading*float64(len(page.Wrap(page.Text{Text: c, Size: sheet.TextSize, Bold: bold || i == 0}, width))))
		}
		f.Room(most + 4)
		for i, c := range cells {
			for k, l := range page.Wrap(page.Text{Text: c, Size: sheet.TextSize, Bold: bold || i == 0}, width) {
				f.Page.Write(
					page.Text{
						At: page.Point{
							sheet.Margin + float64(i)*(width+4),
							f.Y + 1 + 1.3*sheet.TextSize + leading*float64(k),
						},
						Size: sheet.TextSize,
						Bold: bold || i == 0,
						Text: l,
					},
				)
			}
		}
		f.Y += most + 3
		f.Rule(0.18)
		f.Y += 1
	}
	row([columns]string{t.Text("cut.see"), t.Text("cut.why"), t.Text("cut.next")}, true)
	for _, k := range []string{"cut.oval", "cut.squash", "cut.shift", "cut.hole", "cut.blur", "cut.crack", "cut.thin", "cut.twist"} {
		row([columns]string{t.Text(k + "_see"), t.Text(k + "_why"), t.Text(k + "_next")}, false)
	}
	f.Y += 2
	f.Heading(t.Text("caution.title"))
	for _, c := range say.Cautions() {
		f.Room(sheet.Height(t.Say(c), f.W(), sheet.TextSize, false) + 1)
		f.Paragraph(t.Say(c), sheet.TextSize, false)
		f.Y++
	}
	return f.Done()
}

// Text is the step list as plain text.
func Text(p *plan.Plan, s sheet.Style) []byte {
	t := s.T()
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s%s\n%s\n", t.Text("wall.title"), t.Text("sheet.dash"), p.Artwork.Title, s.For(p))
	fmt.Fprintf(
		&b,
		"%s; %s\n\n%s\n",
		t.Text("assembly.log", s.Section(float64(p.Log.DiameterMM)), s.Length(float64(p.Log.LengthMM)),
			s.Grams(float64(p.Log.MassG))),
		t.Text("proof.count", p.Piece.Count, s.Fine(float64(p.Piece.DiameterMM)), s.Fine(float64(p.Piece.LengthMM)),
			s.Exact(float64(p.Piece.MassG))),
		t.Text("proof.colours"),
	)
	for _, c := range p.Colours {
		fmt.Fprintf(&b, "  %s  %-12s %-7s %s\n", c.Letter, t.Name(c.Name), t.Text("colour."+string(c.Finish)),
			s.Grams(float64(c.MassG)))
	}
	if p.Order != nil && p.Order.Logs > 1 {
		fmt.Fprintf(&b, "\n%s\n", t.Text("wall.logs", p.Order.Logs))
	}
	if p.Clock != nil {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", t.Say(say.CloseBy(p)), t.Say(say.Slower(p.Clock)), t.Text("close.milestones"))
		for _, m := range p.Clock.Milestones {
			fmt.Fprintf(&b, "  %5s  %s %5s  %s\n", sheet.Clock(float64(m.AtMin)), t.Text("close.latest"), sheet.Clock(float64(m.ByMin)), t.Text("close."+string(m.What)))
		}
		fmt.Fprintf(&b, "%s\n", t.Say(say.Dents(p.Clock)))
	}
	b.WriteString("\n")
	for _, l := range Lines(p, s) {
		fmt.Fprintf(&b, "%3d  %5s  %s\n", l.Step.Number, sheet.Clock(float64(l.Step.StartMin)), l.Text)
		if l.Detail != "" {
			fmt.Fprintf(&b, "            %s\n", l.Detail)
		}
	}
	fmt.Fprintf(&b, "\n%s\n", t.Text("hard.title"))
	for _, c := range hard(p, s) {
		b.WriteString("  " + c + "\n")
	}
	fmt.Fprintf(&b, "\n%s\n\n", Intro(p, s))
	for _, c := range say.Cautions() {
		b.WriteString(t.Say(c) + "\n")
	}
	return []byte(strings.ReplaceAll(b.String(), "\u00a0", " "))
}
