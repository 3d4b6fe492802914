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
		if st.AtC != nil && st.Do == "make" {
			d = append(d, s.Heat(float64(*st.AtC)))
		}
		d = append(d, fmt.Sprintf("%d %s", st.Hands, map[bool]string{true: "person", false: "people"}[st.Hands == 1]))
		l.detail = strings.Join(d, " · ")
		out = append(out, l)
	}
	return out
}

func clock(m float64) string {
	s := int(math.Round(m * 60))
	return fmt.Sprintf("%d:%02d", s/60, s%60)
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
		pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 13}, Size: sheet.SmallSize,
			Text: "Minutes from the pour. Heat is a guess (?): it bends, does not crack, holds."})
		foot = pg.H - sheet.Margin - sheet.Cautions(pg, p.Cautions, 2.6)
		y = sheet.Margin + 18
		out = append(out, pg)
	}
	fresh()
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
	b.WriteString("\n No  clock  step\n")
	for _, l := range lines(p, s) {
		fmt.Fprintf(&b, "%3s  %5s  %s\n            %s\n", l.number, l.clock, l.text, l.detail)
	}
	b.WriteString("\nHeat is a guess marked ?: the part bends, does not crack, holds a minute.\n\n")
	for _, c := range p.Cautions {
		b.WriteString(c + "\n")
	}
	return []byte(b.String())
}
