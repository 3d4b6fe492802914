// Package steps prints the step list: what to do, with which parts, when, how warm, how large.
//
// Guarantees: rows are never cut at the foot; numbers stand first; the cautions are on every page.
package steps

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// line is one step in words.
type line struct {
	number, clock, text, detail string
}

func lines(p *plan.Plan, s sheet.Style) []line {
	byID := map[string]plan.Element{}
	for _, e := range p.Elements {
		byID[e.ID] = e
	}
	var out []line
	for _, st := range p.Steps {
		l := line{number: fmt.Sprint(st.Number), clock: clock(float64(st.StartMin)), text: st.Text}
		var d []string
		if len(st.Parts) > 0 {
			if e, ok := byID[st.Parts[0]]; ok && st.Do == "make" {
				length := float64(e.Size["part_length_mm"])
				if m, ok := e.Size["made_length_mm"]; ok {
					length = float64(m)
				}
				grams := 0.0
				for _, o := range p.Elements {
					if o.Number == e.Number {
						grams += float64(o.MassG)
					}
				}
				d = append(d, s.Size(e), s.MM(math.Round(length/5)*5)+" long", s.Grams(grams))
			}
		}
		if st.AtC != nil && (st.Do == "make" || st.Do == "keep") {
			d = append(d, s.Heat(float64(*st.AtC), sheet.Guessed(p)))
		}
		if st.Hands > 0 {
			d = append(d, who(st, p.Shop.Crew))
		}
		if st.SlackMin >= 1 && st.Minutes > 0 {
			d = append(d, fmt.Sprintf("may wait %.0f min", math.Floor(float64(st.SlackMin))))
		}
		l.detail = strings.Join(d, "\u00a0· ")
		out = append(out, l)
	}
	return out
}

// who works on a step: pairs of hands by letter.
func who(st plan.Step, crew int) string {
	if crew == 1 {
		return "1 person"
	}
	if st.Hands >= crew {
		return "all"
	}
	var out []string
	for _, k := range st.Pairs {
		out = append(out, string(rune('A'+k-1)))
	}
	return "person\u00a0" + strings.Join(out, " and ")
}

// hard is the card for when the sugar goes hard, line by line.
func hard(p *plan.Plan) []string {
	var out []string
	for _, x := range p.GoingHard {
		out = append(out, fmt.Sprintf("Before step %d (minute %.0f): %s; saves %.1f minutes.", x.Step, math.Floor(float64(x.UntilMin)+1e-6), x.Text, float64(x.SavesMin)))
	}
	if len(out) == 0 {
		out = append(out, "No part can be left out or merged without losing the picture.")
	}
	return append(out, "At any step: stop laying, close with the wraps, roll round, draw. A log that has set cannot be saved.")
}

// hardTitle heads the card.
const hardTitle = "If it is going hard"

func clock(m float64) string {
	s := int(math.Round(m * 60))
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// feel says how far temperatures can be trusted.
func feel(p *plan.Plan) string {
	if sheet.Guessed(p) {
		return "Heat is a guess (?): it bends, does not crack, holds a minute."
	}
	return "Heat is from your own lump test: it bends, does not crack, holds a minute."
}

// Pages of the step list.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	const row, wide = 6.4, 34.0
	var out []*page.Page
	var pg *page.Page
	y, foot := 0.0, 0.0
	fresh := func() {
		pg = &page.Page{W: s.Paper.W, H: s.Paper.H, Title: "Steps: " + p.Artwork.File}
		pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 6}, Size: 5, Bold: true, Text: "Steps: " + p.Artwork.File})
		pg.Write(page.Text{At: page.Point{pg.W - sheet.Margin, sheet.Margin + 6}, Size: sheet.TextSize, Anchor: "end", Text: fmt.Sprintf("page %d", len(out)+1)})
		pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 13}, Size: sheet.SmallSize, Text: "Minutes from the pour. " + feel(p)})
		foot = pg.H - sheet.Margin - sheet.Cautions(pg, p.Cautions, 2.6)
		y = sheet.Margin + 18
		out = append(out, pg)
	}
	fresh()
	paragraph := func(size float64, bold bool, words string) {
		for _, t := range page.Wrap(page.Text{Text: words, Size: size, Bold: bold}, pg.W-2*sheet.Margin) {
			if y+1.5*size > foot {
				fresh()
			}
			pg.Write(page.Text{At: page.Point{sheet.Margin, y + size}, Size: size, Bold: bold, Text: t})
			y += 1.6 * size
		}
		y += 0.4 * size
	}
	if p.Clock != nil {
		paragraph(sheet.TextSize, false, p.Clock.Spare())
	}
	for _, l := range lines(p, s) {
		text := page.Wrap(page.Text{Text: l.text, Size: sheet.TextSize, Bold: true}, pg.W-2*sheet.Margin-wide)
		detail := page.Wrap(page.Text{Text: l.detail, Size: sheet.SmallSize}, pg.W-2*sheet.Margin-wide)
		h := row*float64(len(text)) + 5*float64(len(detail)) + 2
		if y+h > foot {
			fresh()
		}
		pg.Line(page.Point{sheet.Margin, y}, page.Point{pg.W - sheet.Margin, y}, 0.18)
		pg.Write(page.Text{At: page.Point{sheet.Margin + 13, y + 1.5 + sheet.NumberSize}, Size: sheet.NumberSize, Bold: true, Anchor: "end", Text: l.number})
		pg.Write(page.Text{At: page.Point{sheet.Margin + wide - 3, y + 1.5 + sheet.NumberSize}, Size: sheet.TextSize, Anchor: "end", Text: l.clock})
		at := y + row
		for _, t := range text {
			pg.Write(page.Text{At: page.Point{sheet.Margin + wide, at}, Size: sheet.TextSize, Bold: true, Text: t})
			at += row
		}
		at -= row - 5
		for _, t := range detail {
			pg.Write(page.Text{At: page.Point{sheet.Margin + wide, at}, Size: sheet.SmallSize, Text: t})
			at += 5
		}
		y += h
	}
	card := hard(p)
	if y+12+8*float64(len(card)) > foot { // the card stays together where it can
		fresh()
	}
	pg.Line(page.Point{sheet.Margin, y}, page.Point{pg.W - sheet.Margin, y}, 0.5)
	y += 3
	paragraph(5, true, hardTitle)
	for _, c := range card {
		paragraph(sheet.TextSize, false, c)
	}
	return out
}

// Text is the step list as plain text.
func Text(p *plan.Plan, s sheet.Style) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "Steps: %s\n", p.Artwork.File)
	fmt.Fprintf(&b, "Log %s across, %s long, %s; %d pieces of %s x %s\n\n", s.MM(float64(p.Log.DiameterMM)), s.MM(float64(p.Log.LengthMM)),
		s.Grams(float64(p.Log.MassG)), p.Piece.Count, s.MM(float64(p.Piece.DiameterMM)), s.MM(float64(p.Piece.LengthMM)))
	b.WriteString("Colours\n")
	for _, c := range p.Colours {
		fmt.Fprintf(&b, "  %s  %-12s %-7s %s\n", c.Letter, c.Name, c.Finish, s.Grams(float64(c.MassG)))
	}
	if p.Clock != nil {
		fmt.Fprintf(&b, "\n%s\n", p.Clock.Spare())
	}
	b.WriteString("\n No  clock  step\n")
	for _, l := range lines(p, s) {
		fmt.Fprintf(&b, "%3s  %5s  %s\n            %s\n", l.number, l.clock, l.text, l.detail)
	}
	fmt.Fprintf(&b, "\n%s\n", hardTitle)
	for _, c := range hard(p) {
		b.WriteString("  " + c + "\n")
	}
	fmt.Fprintf(&b, "\n%s\n\n", feel(p))
	for _, c := range p.Cautions {
		b.WriteString(c + "\n")
	}
	return []byte(strings.ReplaceAll(b.String(), "\u00a0", " "))
}
