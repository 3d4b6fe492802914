// Package marked draws the artwork's section with numbered marks where findings have a place, worst first, on one page.
package marked

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/diagram"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// Region is a flat area to draw beneath the marks, in the true frame.
type Region struct {
	Shape plan.Polygon
	Fill  string
}

// most marks on a page; what is left is counted.
const most = 14

// Pages of the marked picture; failing are the areas that are too thin or too small, drawn in black and white stripes so that they stand out on any colour. ok is false when no finding has a place.
func Pages(p *plan.Plan, regions []Region, failing []plan.Polygon, s sheet.Style) ([]*page.Page, bool) {
	var found []plan.Finding
	for _, f := range p.Findings {
		if f.AtMM != nil {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		return nil, false
	}
	pg := &page.Page{W: s.Paper.W, H: s.Paper.H, Title: "Marked: " + p.Artwork.File}
	pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 6}, Size: 5, Bold: true, Text: "Marked: " + p.Artwork.File + " — " + p.Verdict})
	r := float64(p.Log.DiameterMM) / 2
	k := 55 / r
	c := page.Point{pg.W / 2, sheet.Margin + 12 + 58}
	for _, g := range regions {
		pg.Add(page.Path{Rings: diagram.Place(g.Shape, c, k, 1), Fill: g.Fill, Stroke: "#808080", Width: 0.13})
	}
	for _, f := range failing {
		rings := diagram.Place(f, c, k, 1)
		pg.Add(page.Path{Rings: rings, Stroke: "#ffffff", Width: 0.9})
		pg.Add(page.Path{Rings: rings, Stroke: "#000000", Width: 0.5, Dashed: true})
	}
	y := c[1] + 66
	const size = 3.2
	var put []page.Point
	for i, f := range found {
		if i == most {
			pg.Write(page.Text{At: page.Point{sheet.Margin, y}, Size: sheet.SmallSize, Text: fmt.Sprintf("and %d more", len(found)-most)})
			break
		}
		at := page.Point{c[0] + k*float64(f.AtMM[0]), c[1] - k*float64(f.AtMM[1])}
		if spot, ok := sheet.Spot(at, put, 2.1*size); ok && spot != at {
			pg.Line(at, spot, 0.25)
			at = spot
		}
		put = append(put, at)
		ring := make([]page.Point, 24)
		for j := range ring {
			a := 2 * math.Pi * float64(j) / 24
			ring[j] = page.Point{at[0] + size*math.Cos(a), at[1] + size*math.Sin(a)}
		}
		pg.Add(page.Path{Rings: [][]page.Point{ring}, Fill: "#ffffff", Stroke: "#000000", Width: 0.5})
		pg.Write(page.Text{At: page.Point{at[0], at[1] + 1.6}, Size: 3.2, Bold: true, Anchor: "middle", Text: fmt.Sprint(i + 1)})
		pg.Write(page.Text{At: page.Point{sheet.Margin + 7, y}, Size: sheet.TextSize, Bold: true, Anchor: "end", Text: fmt.Sprint(i + 1)})
		text := f.Severity + ": " + f.Message
		if f.Suggestion != "" {
			text += "; " + f.Suggestion
		}
		for _, l := range page.Wrap(page.Text{Text: text, Size: sheet.SmallSize}, pg.W-2*sheet.Margin-12) {
			pg.Write(page.Text{At: page.Point{sheet.Margin + 11, y}, Size: sheet.SmallSize, Text: l})
			y += 4.8
		}
		y += 1.2
	}
	return []*page.Page{pg}, true
}
