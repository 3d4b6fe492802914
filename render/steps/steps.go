// Package steps says the steps in order, with the clock, in words: for the bench page, and as plain text.
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

// Intro says from when minutes count and how far temperatures can be trusted.
func Intro(p *plan.Plan, s sheet.Style) string {
	if sheet.Guessed(p) {
		return s.T().Text("wall.intro", words.P("wall.guess"))
	}
	return s.T().Text("wall.intro", words.P("wall.tested"))
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
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", t.Say(say.CloseBy(p)), t.Say(say.Slower(p)), t.Text("close.milestones"))
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
	for _, c := range say.Hard(p) {
		b.WriteString("  " + t.Say(c) + "\n")
	}
	fmt.Fprintf(&b, "\n%s\n\n", Intro(p, s))
	for _, c := range say.Cautions() {
		b.WriteString(t.Say(c) + "\n")
	}
	return []byte(strings.ReplaceAll(b.String(), "\u00a0", " "))
}
