// Package marked draws the artwork's section with numbered marks where findings have a place, worst first, the worst on
// the first page.
package marked

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// most marks on a page; what is left is counted.
const most = 14

// worst is how many places a client is shown of a drawing that nothing can be made of.
const worst = 3

// apart is how far from each other they lie, as a share of the picture's diameter.
const apart = 0.1

// Worst is a plan that names only the places in which its drawing falls short most, three at most.
func Worst(p *plan.Plan) *plan.Plan {
	var found []plan.Finding
	for _, f := range p.Findings {
		if f.AtMM != nil && string(f.Severity) == finding.Error.String() {
			found = append(found, f)
		}
	}
	short := func(f plan.Finding) float64 { // share of what is needed
		if len(f.Values) < 2 {
			return 0
		}
		is, ok := f.Values[0].(float64)
		need, also := f.Values[1].(float64)
		if !ok || !also || need <= 0 || is > need {
			return 0
		}
		return is / need
	}
	slices.SortStableFunc(found, func(a, b plan.Finding) int { return cmp.Compare(short(a), short(b)) })
	out := *p
	out.Findings = nil
	for _, f := range found {
		near := slices.ContainsFunc(out.Findings, func(o plan.Finding) bool {
			return math.Hypot(float64(f.AtMM[0]-o.AtMM[0]), float64(f.AtMM[1]-o.AtMM[1])) < apart*float64(p.Log.PictureDiameterMM)
		})
		if !near && len(out.Findings) < worst {
			out.Findings = append(out.Findings, f)
		}
	}
	return &out
}

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
