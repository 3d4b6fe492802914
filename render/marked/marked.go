// Package marked draws the artwork's section with numbered marks where findings have a place, worst first, the worst on
// the first page.
package marked

import (
	"fmt"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// most marks on a page; what is left is counted.
const most = 14

// Pages of the marked picture; the areas that are too thin or too small are drawn in black and white stripes, so that
// they stand out on any colour. ok is false when no finding has a place.
func Pages(p *plan.Plan, s sheet.Style) ([]*page.Page, bool) {
	var found []plan.Finding
	for _, f := range p.Findings {
		if f.AtMM != nil {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		return nil, false
	}
	t := s.T()
	sh := s.StartClient(
		p,
		t.Text("marked.title")+t.Text("sheet.dash")+page.Clean(p.Artwork.Title)+", "+t.Text(
			"terminal."+string(p.Verdict)),
	)
	pg := sh.Page
	v := view.View{Centre: page.Point{pg.W / 2, sh.Y + 58}, Scale: 55 / (float64(p.Log.DiameterMM) / 2)}
	for _, g := range p.Picture {
		pg.Add(page.Path{Rings: v.Place(g.Shape), Fill: g.Fill, Stroke: "#808080", Width: 0.13})
	}
	for _, f := range p.Failing {
		rings := v.Place(f)
		pg.Add(page.Path{Rings: rings, Stroke: "#ffffff", Width: 0.9})
		pg.Add(page.Path{Rings: rings, Stroke: "#000000", Width: 0.5, Dashed: true})
	}
	sh.Y = v.Centre[1] + 62
	const size, text = 3.2, 3.0
	var put []page.Point
	for i, f := range found {
		if i == most {
			sh.Paragraph(t.Text("marked.more", len(found)-most), text, false)
			break
		}
		at := v.At(*f.AtMM)
		if spot, ok := sheet.Spot(at, put, 2.1*size); ok && spot != at {
			pg.Add(page.Path{Rings: [][]page.Point{{at, spot}}, Open: true, Stroke: "#000000", Width: sheet.Rule})
			at = spot
		}
		put = append(put, at)
		pg.Add(page.Path{Rings: [][]page.Point{page.Circle(at, size)}, Fill: "#ffffff", Stroke: "#000000", Width: 0.5})
		pg.Write(
			page.Text{
				At:     page.Point{at[0], at[1] + 1.6},
				Size:   3.2,
				Bold:   true,
				Anchor: "middle",
				Text:   fmt.Sprint(i + 1),
			},
		)
		message, advice, advises := say.Finding(t, p, f)
		words := t.Text("marked."+string(f.Severity)) + ": " + t.Say(message)
		if advises {
			words += "; " + t.Say(advice)
		}
		sh.Room(sheet.Height(words, sh.W()-12, text, false))
		sh.Page.Write(
			page.Text{
				At:     page.Point{sheet.Margin + 7, sh.Y + 1.3*text},
				Size:   text,
				Bold:   true,
				Anchor: "end",
				Text:   fmt.Sprint(i + 1),
			},
		)
		sh.Column(sheet.Margin+11, sh.W()-12, words, text, false)
		sh.Y++
	}
	return sh.Done(), true
}
