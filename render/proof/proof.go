// Package proof draws the sheet that the client checks and signs: the piece at true size and enlarged, how pieces may
// look, what was changed and why, colours, count, weight, tolerance.
//
// Guarantees: no words of the trade; the piece's true size is exact; all that was changed is listed.
package proof

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/forecast"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
	"sugarwright/render/words"
)

// Type sizes of the sheet.
const (
	size  = 3.0
	title = 4.0
)

// Pages of the proof.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	p = asMade(p)
	f := s.StartClient(p, t.Text("proof.title")+t.Text("sheet.dash")+page.Clean(p.Artwork.Title))
	faces(f, p)
	dozen(f, p)
	heading(f, t.Text("proof.changed"))
	changes := Changes(p, s)
	for _, c := range p.Colours {
		if c.DE2000 >= seen {
			changes = append(changes, t.Text("proof.shade_off", s.Colour(c)))
		}
	}
	if len(changes) == 0 {
		changes = []string{t.Text("proof.nothing")}
	}
	for _, c := range changes {
		f.Paragraph(c, size, false)
	}
	heading(f, t.Text("proof.colours"))
	swatches(f, p)
	heading(f, t.Text("proof.order"))
	count := p.Piece.Count
	if o := p.Order; o != nil {
		count = o.Made - o.Spare
	}
	f.Paragraph(
		t.Text("proof.count", count, s.Fine(float64(p.Piece.DiameterMM)), s.Fine(float64(p.Piece.LengthMM)),
			s.Exact(float64(p.Piece.MassG)))+"; "+
			t.Text("proof.weight", s.Grams(float64(p.Piece.MassG)*float64(count))),
		size,
		false,
	)
	packed(f, p)
	// An edge may lie off by the forecast's own band and by twice the spread of placing.
	off := 2 * float64(p.Shop.PlacingMM)
	if p.Forecast != nil {
		off += float64(p.Forecast.BandPercent) / 100 * float64(p.Log.DiameterMM)
	}
	off *= float64(p.Piece.DiameterMM) / float64(p.Log.DiameterMM)
	f.Paragraph(t.Text("proof.tolerance", words.Number{Value: float64(p.Shop.TolerancePercent)}, s.Fine(off)), size,
		false)
	f.Paragraph(t.Text("proof.choking"), size, false)
	sign(f)
	return f.Done()
}

// asMade is the plan with its colours as they come out, as far as is known.
func asMade(p *plan.Plan) *plan.Plan {
	out := *p
	out.Colours = append([]plan.Colour(nil), p.Colours...)
	for i, c := range out.Colours {
		if c.Made != "" {
			out.Colours[i].SRGB = c.Made
		}
	}
	return &out
}

// packed lists the packs, where any were asked for, and what they hold beside this picture.
func packed(f *sheet.Flow, p *plan.Plan) {
	if p.Order == nil {
		return
	}
	s, t := f.S, f.S.T()
	for _, x := range p.Order.Packs {
		key := "packs.counted"
		if x.AskedG > 0 {
			key = "packs.weighed"
		}
		f.Paragraph(t.Text(key, x.Number, x.Pieces, s.Exact(float64(x.NetG)), s.Exact(float64(x.AskedG))), size, false)
	}
	if len(p.Order.Designs) > 1 {
		for _, d := range p.Order.Designs {
			f.Paragraph(t.Text("order.design", d.File, d.Share, p.Order.Shares()), size, false)
		}
	}
}

func heading(f *sheet.Flow, text string) {
	f.Room(sheet.Leading*(title+size) + 3)
	f.Y += 2
	f.Paragraph(text, title, true)
}

// faces draws the piece as planned at true size and enlarged; the client's drawing beside it where it was changed.
func faces(f *sheet.Flow, p *plan.Plan) {
	var drawing []plan.Area
	if p.SimplifiedFrom != nil {
		drawing = p.SimplifiedFrom.Picture
	}
	s, t, pg := f.S, f.S.T(), f.Page
	d, piece := float64(p.Log.DiameterMM), float64(p.Piece.DiameterMM)
	planned := forecast.Drawn(p)
	if p.Forecast != nil && len(p.Forecast.Faces) > 0 {
		planned = p.Forecast.Faces[0].Shapes
	}
	large := math.Max(piece, math.Min(72, (f.W()-piece-16)/2))
	x, y := sheet.Margin+piece/2, f.Y+1+large/2
	put := func(x, width float64, shapes []plan.FaceShape, caption string) {
		v := view.View{Centre: page.Point{x, y}, Scale: width / d}
		if shapes == nil {
			for _, a := range drawing {
				pg.Add(page.Path{Rings: v.Place(a.Shape), Fill: a.Fill, Stroke: a.Fill, Width: 0.1})
			}
		}
		forecast.Face(pg, p, s, v, shapes)
		text := page.Text{At: page.Point{x, y + large/2 + 1.6*size}, Size: size, Anchor: "middle", Text: caption}
		if w := page.Width(text); x-w/2 < sheet.Margin {
			text.At[0], text.Anchor = sheet.Margin, "start"
		}
		pg.Write(text)
	}
	put(x, piece, planned, t.Text("proof.true_size"))
	x = sheet.Margin + math.Max(piece, 22) + 6 + large/2
	put(x, large, planned, t.Text("proof.enlarged"))
	if drawing != nil {
		put(x+large+6, large, nil, t.Text("proof.drawn"))
	}
	f.Y = y + large/2 + 2.4*size
}

// seen is the CIEDE2000 difference from which anyone sees one, by analogy with print.
const seen = 3.5

// swatches lists the colours as they come out, in two columns, so that the sheet stays on one page while it can.
func swatches(f *sheet.Flow, p *plan.Plan) {
	const columns, box = 2, 5.0
	inks, column := f.S.Inks(p), f.W()/2
	for i := 0; i < len(p.Colours); i += columns {
		row := p.Colours[i:min(i+columns, len(p.Colours))]
		h := box + 1.4
		words := make([]string, len(row))
		for k, c := range row {
			words[k] = f.S.T().Text("proof."+string(c.Finish), f.S.Colour(c))
			h = math.Max(h, sheet.Height(words[k], column-box-5, size, false))
		}
		f.Room(h)
		y := f.Y
		for k, c := range row {
			x := sheet.Margin + column*float64(k)
			sq := [][]page.Point{page.Rect(x, y+0.6, box, box)}
			if f.S.Black {
				inks.Draw(f.Page, c.ID, sq, page.Point{x + box/2, y + 0.6 + box/2}, 0.18)
			} else {
				f.Page.Add(page.Path{Rings: sq, Fill: c.SRGB, Stroke: "#000000", Width: 0.18})
			}
			f.Y = y + 0.6
			f.Column(x+box+3, column-box-5, words[k], size, false)
		}
		f.Y = y + h
	}
}

// dozen draws the forecast's faces along the rope, at true size while they fit.
func dozen(f *sheet.Flow, p *plan.Plan) {
	if p.Forecast == nil || len(p.Forecast.Faces) < 2 {
		return
	}
	heading(f, f.S.T().Text("proof.forecast"))
	faces := p.Forecast.Faces[1:]
	const columns = 6
	w := f.W() / columns
	wide := math.Min(float64(p.Piece.DiameterMM)*1.6, w-3)
	for i, x := range faces {
		if i%columns == 0 {
			if i > 0 {
				f.Y += wide + 2.5
			}
			f.Room(wide + 3)
		}
		c := page.Point{sheet.Margin + w*(float64(i%columns)+0.5), f.Y + 1 + wide/2}
		forecast.Face(f.Page, p, f.S, view.View{Centre: c, Scale: wide / float64(p.Log.DiameterMM)}, x.Shapes)
	}
	f.Y += wide + 3
	f.Paragraph(f.S.T().Text("proof.forecast_note"), size, false)
}

// Changes are what was changed and why, in the client's words, sizes as on the piece.
func Changes(p *plan.Plan, s sheet.Style) []string {
	t := s.T()
	k := float64(p.Piece.DiameterMM) / float64(p.Log.DiameterMM)
	var out []string
	for _, c := range p.Changes {
		name := words.Name(c.Colour)
		before, after := s.Fine(float64(c.BeforeMM)*k), s.Fine(float64(c.AfterMM)*k)
		var said words.Phrase
		switch c.Kind {
		case plan.Bolder:
			if said = words.P("proof.bolder", name, before, after); c.Gap {
				said = words.P("proof.gap_opened", before, after)
			}
		case plan.Larger:
			said = words.P("proof.larger", name, before, after)
		case plan.LeftOut:
			if said = words.P("proof.dropped", name, before); c.Gap {
				said = words.P("proof.gap_closed", before)
			}
		case plan.Merged:
			if said = words.P("proof.merged", name, words.Name(c.To)); c.To == c.Colour {
				said = words.P("proof.shade", name)
			}
		case plan.Plainer:
			if said = words.P("proof.plainer", name); c.Gap {
				said = words.P("proof.gap_plainer")
			}
		default:
			said = words.P("proof.even")
		}
		if n := len(c.Places); n > 1 {
			said = said.And(words.P("change.places", n))
		}
		out = append(out, t.Say(said))
	}
	return out
}

// sign is the line to sign, with the date.
func sign(f *sheet.Flow) {
	t := f.S.T()
	f.Room(30)
	f.Y += 3
	f.Paragraph(t.Text("proof.sign"), size, true)
	y := f.Y + 12
	half := f.W()/2 - 4
	for i, k := range []string{"proof.date", "proof.name"} {
		x := sheet.Margin + float64(i)*(half+8)
		f.Page.Line(page.Point{x, y}, page.Point{x + half, y}, 0.25)
		f.Page.Write(page.Text{At: page.Point{x, y + 1.5*size}, Size: size, Text: t.Text(k)})
	}
	f.Y = y + 2.5*size
}
