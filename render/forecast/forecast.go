// Package forecast draws the faces as they will come out: the drawing, the face as planned, and faces along the rope
// with the shop's spread.
//
// Guarantees: all faces are sections seen on the picture face, TOP up, at one scale each row; what the forecast cannot
// see below is said on the sheet.
package forecast

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
	"sugarwright/render/words"
)

// columns of the small faces.
const columns = 4

// leastCell is the width of a face along the rope at which what is written below it has room, millimetres.
const leastCell = 18

// Pages of the forecast; ok is false when the plan has none.
func Pages(p *plan.Plan, s sheet.Style) ([]*page.Page, bool) {
	if p.Forecast == nil || len(p.Forecast.Faces) == 0 {
		return nil, false
	}
	t := s.T()
	f := s.Start(p, t.Text("forecast.title"))
	for _, l := range Summary(p, s) {
		f.Paragraph(l, sheet.TextSize, false)
	}
	pg, y := f.Page, f.Y
	rows := math.Ceil(float64(len(p.Forecast.Faces)-1) / columns)
	const label = 8.0
	cell := f.W() / columns
	large := 2 * cell
	room := (f.Foot - y - (rows+1)*label) / (rows + 2) // the two large ones are twice as high
	if room < cell {
		cell, large = room, 2*room
	}
	if room < leastCell { // a long title: the faces along the rope go to a page of their own
		large = math.Min(2*f.W()/columns, f.Foot-y-label)
	}
	draw := func(centre page.Point, width float64, text string, shapes []plan.FaceShape) {
		Face(pg, p, s, view.View{Centre: centre, Scale: (width - 3) / float64(p.Log.DiameterMM)}, shapes)
		pg.Write(
			page.Text{
				At:     page.Point{centre[0], centre[1] + width/2 + 4.5},
				Size:   sheet.TextSize,
				Anchor: "middle",
				Text:   text,
			},
		)
	}
	first := p.Forecast.Faces[0]
	apart := math.Max(large, 84)
	draw(page.Point{pg.W/2 - apart/2, y + large/2}, large, t.Text("forecast.drawn"), Drawn(p))
	draw(page.Point{pg.W/2 + apart/2, y + large/2}, large,
		t.Text("forecast.planned", words.Number{Value: float64(first.Wrong), Digits: 1}), first.Shapes)
	y += large + label
	if room < leastCell {
		f.Fresh()
		pg, y = f.Page, f.Y
		cell = math.Min(f.W()/columns, (f.Foot-y)/rows-label)
	}
	left := pg.W/2 - cell*columns/2
	for i, x := range p.Forecast.Faces[1:] {
		c := page.Point{left + cell*(float64(i%columns)+0.5), y + float64(i/columns)*(cell+label) + cell/2}
		draw(c, cell, t.Text("forecast.along", words.Number{Value: float64(x.Wrong), Digits: 1}), x.Shapes)
	}
	return f.Done(), true
}

// Drawn is the face as drawn.
func Drawn(p *plan.Plan) []plan.FaceShape {
	var out []plan.FaceShape
	for _, e := range p.Elements {
		out = append(out, plan.FaceShape{Colour: e.Colour, Shape: e.True})
	}
	return out
}

// Face draws shapes, each with a hair of its own colour round it so that no seam shows, and the rim.
func Face(pg *page.Page, p *plan.Plan, s sheet.Style, v view.View, shapes []plan.FaceShape) {
	inks := s.Inks(p)
	for _, x := range shapes {
		rings := v.Place(x.Shape)
		pg.Add(page.Path{Rings: rings, Fill: inks.Fill(x.Colour), Stroke: inks.Fill(x.Colour), Width: 0.1})
		if h, ok := inks.Hatch(x.Colour); ok && s.Black && len(rings) > 0 {
			pg.Hatch(rings, h, v.Centre, "#000000")
		}
	}
	pg.Add(
		page.Path{
			Rings:  [][]page.Point{page.Circle(v.Centre, v.Scale*float64(p.Log.DiameterMM)/2)},
			Stroke: "#000000",
			Width:  0.25,
		},
	)
}

// lost names the parts that are lost on some face, by number, copies once.
func lost(p *plan.Plan) words.Phrase {
	var out words.All
	seen := map[int]bool{}
	for _, id := range p.Forecast.Lost {
		if n := p.Index().Element(id).Number; !seen[n] {
			seen[n] = true
			out = append(out, fmt.Sprint(n))
		}
	}
	if len(out) == 1 {
		return words.P("part.one", out)
	}
	return words.P("part.several", out)
}

// Summary is the forecast in words.
func Summary(p *plan.Plan, s sheet.Style) []string {
	f, t := p.Forecast, s.T()
	one := func(v plan.Num) words.Number { return words.Number{Value: float64(v), Digits: 1} }
	out := []string{t.Text("forecast.wrong", one(f.NominalWrong), one(f.MeanWrong), one(f.WorstWrong))}
	switch {
	case f.FinestMM > 0 && len(f.Lost) == 0:
		out = append(out, t.Text("forecast.finest_all", s.MM(float64(f.FinestMM)), one(f.FinestPiece)))
	case f.FinestMM > 0:
		out = append(out, t.Text("forecast.finest", s.MM(float64(f.FinestMM)), one(f.FinestPiece), lost(p)))
	default:
		out = append(out, t.Text("forecast.none"))
	}
	if r := p.Rolling; r != nil {
		out = append(
			out,
			t.Text("forecast.off", one(r.AsDrawn.Worst), one(r.Squash.Worst),
				words.Number{Value: float64(r.Planned.Worst), Digits: 2}),
		)
	}
	return append(out,
		t.Text("forecast.band", one(f.BandPercent), s.MM(float64(f.BandPercent)/100*float64(p.Log.DiameterMM))))
}
