// Package forecast draws faces as they may come out along the rope, with the shop's spread.
//
// Guarantees: all faces are sections seen on the picture face, TOP up, at one scale.
package forecast

import (
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// Picture is the faces along the rope, four in a row, on a page of their own; ok is false when the plan has none.
func Picture(p *plan.Plan, s sheet.Style) (pg *page.Page, ok bool) {
	if p.Forecast == nil || len(p.Forecast.Faces) < 2 {
		return nil, false
	}
	const columns, cell = 4, 30.0
	faces := p.Forecast.Faces[1:]
	rows := (len(faces) + columns - 1) / columns
	pg = &page.Page{W: columns * cell, H: cell * float64(rows), Title: page.Clean(p.Artwork.Title)}
	for i, x := range faces {
		c := page.Point{cell * (float64(i%columns) + 0.5), cell * (float64(i/columns) + 0.5)}
		Face(pg, p, s, view.View{Centre: c, Scale: (cell - 4) / float64(p.Log.DiameterMM)}, x.Shapes)
	}
	return pg, true
}

// Drawn is the face as drawn.
func Drawn(p *plan.Plan) []plan.FaceShape {
	var out []plan.FaceShape
	for _, e := range p.Elements {
		out = append(out, plan.FaceShape{Colour: e.Colour, Shape: e.True})
	}
	return out
}

// Face draws shapes on the ground, each with a hair of its own colour round it so that no seam shows, and the rim.
func Face(pg *page.Page, p *plan.Plan, s sheet.Style, v view.View, shapes []plan.FaceShape) {
	inks := s.Inks(p)
	face := [][]page.Point{page.Circle(v.Centre, v.Scale*float64(p.Log.DiameterMM)/2)}
	pg.Add(page.Path{Rings: face, Fill: inks.Fill(p.Ground)}) // below all seams of the ground
	for _, x := range shapes {
		rings := v.Place(x.Shape)
		pg.Add(page.Path{Rings: rings, Fill: inks.Fill(x.Colour), Stroke: inks.Fill(x.Colour), Width: 0.1})
		if h, ok := inks.Hatch(x.Colour); ok && s.Black && len(rings) > 0 {
			pg.Hatch(rings, h, v.Centre, "#000000")
		}
	}
	pg.Add(
		page.Path{
			Rings:  face,
			Stroke: "#000000",
			Width:  0.25,
		},
	)
}
