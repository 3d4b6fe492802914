// Package forecast draws the faces as they will come out: the drawing, the face as planned, and faces along the rope with the shop's spread.
//
// Guarantees: all faces are sections seen on the picture face, TOP up, at one scale each row; what the forecast cannot see below is said on
// the sheet.
package forecast

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/diagram"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// columns of the small faces.
const columns = 4

// Pages of the forecast; ok is false when the plan has none.
func Pages(p *plan.Plan, s sheet.Style) ([]*page.Page, bool) {
	if p.Forecast == nil || len(p.Forecast.Faces) == 0 {
		return nil, false
	}
	pg := &page.Page{W: s.Paper.W, H: s.Paper.H, Title: "Forecast: " + p.Artwork.File}
	pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 6}, Size: 5, Bold: true, Text: "Forecast: " + p.Artwork.File})
	foot := pg.H - sheet.Margin - sheet.Cautions(pg, p.Cautions, 2.6)
	y := sheet.Margin + 12.0
	for _, l := range Summary(p, s) {
		for _, t := range page.Wrap(page.Text{Text: l, Size: sheet.SmallSize}, pg.W-2*sheet.Margin) {
			pg.Write(page.Text{At: page.Point{sheet.Margin, y}, Size: sheet.SmallSize, Text: t})
			y += 5
		}
	}
	rows := math.Ceil(float64(len(p.Forecast.Faces)-1) / columns)
	const label = 6.0
	cell := (pg.W - 2*sheet.Margin) / columns
	large := 2 * cell
	if room := (foot - y - (rows+1)*label) / (rows + 2); room < cell { // the two large ones are twice as high
		cell, large = room, 2*room
	}
	d := float64(p.Log.DiameterMM)
	draw := func(centre page.Point, width float64, text string, shapes []plan.FaceShape) {
		k := (width - 3) / d
		face(pg, p, centre, k, shapes)
		pg.Write(page.Text{At: page.Point{centre[0], centre[1] + width/2 + 3}, Size: sheet.SmallSize, Anchor: "middle", Text: text})
	}
	var drawn []plan.FaceShape
	for _, e := range p.Elements {
		drawn = append(drawn, plan.FaceShape{Colour: e.Colour, Shape: e.True})
	}
	f := p.Forecast.Faces
	draw(page.Point{pg.W/2 - large/2, y + large/2}, large, "as drawn", drawn)
	draw(page.Point{pg.W/2 + large/2, y + large/2}, large, fmt.Sprintf("%s: %.1f %% off", f[0].Name, float64(f[0].Wrong)), f[0].Shapes)
	y += large + label
	left := pg.W/2 - cell*columns/2
	for i, x := range f[1:] {
		c := page.Point{left + cell*(float64(i%columns)+0.5), y + float64(i/columns)*(cell+label) + cell/2}
		draw(c, cell, fmt.Sprintf("%s: %.1f %%", x.Name, float64(x.Wrong)), x.Shapes)
	}
	return []*page.Page{pg}, true
}

// face draws parts, each with a hair of its own colour round it so that no seam shows, and the rim.
func face(pg *page.Page, p *plan.Plan, c page.Point, k float64, shapes []plan.FaceShape) {
	fill := map[string]string{}
	for _, x := range p.Colours {
		fill[x.ID] = x.SRGB
	}
	for _, x := range shapes {
		pg.Add(page.Path{Rings: diagram.Place(x.Shape, c, k, 1), Fill: fill[x.Colour], Stroke: fill[x.Colour], Width: 0.2})
	}
	var rim []page.Point
	for i := 0; i < 72; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 72)
		rim = append(rim, page.Point{c[0] + k*float64(p.Log.DiameterMM)/2*cos, c[1] + k*float64(p.Log.DiameterMM)/2*sin})
	}
	pg.Add(page.Path{Rings: [][]page.Point{rim}, Stroke: "#000000", Width: 0.25})
}

// lost names the parts that are lost on some face, by number, copies once.
func lost(p *plan.Plan) string {
	number := map[string]int{}
	for _, e := range p.Elements {
		number[e.ID] = e.Number
	}
	var out []string
	seen := map[int]bool{}
	for _, id := range p.Forecast.Lost {
		if n := number[id]; !seen[n] {
			seen[n] = true
			out = append(out, fmt.Sprint(n))
		}
	}
	if len(out) == 1 {
		return "part " + out[0]
	}
	return "parts " + strings.Join(out, ", ")
}

// Summary is the forecast in words.
func Summary(p *plan.Plan, s sheet.Style) []string {
	f := p.Forecast
	out := []string{fmt.Sprintf("Of the picture's area in the wrong colour: as planned %.1f %%, along the rope %.1f %% on the mean, %.1f %% at worst. Small faces stand for places along the rope.",
		float64(f.NominalWrong), float64(f.MeanWrong), float64(f.WorstWrong))}
	switch {
	case f.FinestMM > 0 && len(f.Lost) == 0:
		out = append(out, fmt.Sprintf("Every part comes out in its place on every face; the finest is %s in the log, %.1f mm in a piece.", s.MM(float64(f.FinestMM)), float64(f.FinestPiece)))
	case f.FinestMM > 0:
		out = append(out, fmt.Sprintf("Parts from %s thick in the log, %.1f mm in a piece, come out in their places on every face; not so on every face: %s.", s.MM(float64(f.FinestMM)), float64(f.FinestPiece), lost(p)))
	default:
		out = append(out, "On some face every part is out of its place.")
	}
	if r := p.Rolling; r != nil {
		out = append(out, fmt.Sprintf("Laid as drawn the picture would come out off by up to %.1f %% of the diameter, laid by the simple squash %.1f %%, as planned %.2f %%.",
			float64(r.AsDrawn.Worst), float64(r.Squash.Worst), float64(r.Planned.Worst)))
	}
	return append(out, fmt.Sprintf("No forecast is truer than %.1f %% of the diameter (%s in the log): real hands and rollers differ.", float64(f.BandPercent), s.MM(float64(f.BandPercent)/100*float64(p.Log.DiameterMM))))
}
