// Package changes draws what was simplified: the drawing as it was and as it can be made, side by side, and one over
// the other with each change outlined and numbered, in one list, most seen first.
//
// Guarantees: every change has its number at its first place; the list is complete, on as many pages as it needs.
package changes

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
	"sugarwright/render/words"
)

// Pages of the sheet; none where the plan is not of a simplified drawing.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	if p.SimplifiedFrom == nil {
		return nil
	}
	before, after := p.SimplifiedFrom.Picture, p.Picture
	t := s.T()
	f := s.StartClient(p, t.Text("changes.title")+t.Text("sheet.dash")+page.Clean(p.Artwork.Title))
	first := f.Page
	w := f.W()
	r := float64(p.Log.PictureDiameterMM) / 2
	small := (w - 8) / 4
	y := f.Y + small
	left, right := page.Point{sheet.Margin + small, y}, page.Point{first.W - sheet.Margin - small, y}
	ground := ""
	if len(p.Colours) > 0 {
		ground = p.Colours[0].SRGB
	}
	picture(first, before, left, small, r, ground)
	picture(first, after, right, small, r, ground)
	caption := func(at page.Point, text string) {
		first.Write(page.Text{At: page.Point{at[0], at[1] + small + 6}, Size: size, Anchor: "middle", Text: text})
	}
	caption(left, t.Text("changes.drawn"))
	caption(right, t.Text("changes.simplified"))
	const big = 44
	c := page.Point{first.W / 2, y + small + 12 + big}
	faded := make([]plan.Area, len(after))
	for i, g := range after {
		faded[i] = plan.Area{Shape: g.Shape, Fill: pale(g.Fill)}
	}
	picture(first, faded, c, big, r, pale(ground))
	for _, ch := range p.Changes {
		for _, poly := range ch.Shape {
			first.Add(
				page.Path{
					Rings:  view.View{Centre: c, Scale: big / r}.Place(poly),
					Fill:   "#000000",
					Stroke: "#000000",
					Width:  0.15,
				},
			)
		}
	}
	numbers(first, p.Changes, c, big/r)
	first.Write(
		page.Text{At: page.Point{c[0], c[1] + big + 6}, Size: size, Anchor: "middle", Text: t.Text("changes.black")})
	f.Y = c[1] + big + 10
	for _, ch := range p.Changes {
		text := t.Say(say.Change(ch))
		switch m := float64(ch.MinutesSaved); {
		case m >= 1.5:
			text += "; " + t.Text("changes.saves", words.Number{Value: m})
		case m > 0:
			text += "; " + t.Text("changes.saves_one")
		}
		if !ch.Kind.Reading() {
			text += " (" + t.Text("changes.share",
				words.Number{Value: 100 * float64(ch.AreaMM2) / (math.Pi * r * r), Digits: 1}) + ")"
		}
		f.Room(sheet.Height(text, w-12, size, false))
		f.Page.Write(
			page.Text{
				At:     page.Point{sheet.Margin + 7, f.Y + 1.3*size},
				Size:   size,
				Bold:   true,
				Anchor: "end",
				Text:   fmt.Sprint(ch.Number),
			},
		)
		f.Column(sheet.Margin+11, w-12, text, size, false)
	}
	return f.Done()
}

// size of the type.
const size = 3.0

// picture draws the picture circle, radius millimetres in the log and drawn on the page, and the regions inside it.
func picture(pg *page.Page, regions []plan.Area, c page.Point, drawn, radius float64, ground string) {
	circle := page.Circle(c, drawn)
	pg.Add(page.Path{Rings: [][]page.Point{circle}, Fill: ground})
	for _, g := range regions {
		if len(g.Shape) > 0 && len(g.Shape[0]) > 0 &&
			math.Hypot(float64(g.Shape[0][0][0]), float64(g.Shape[0][0][1])) > radius+0.5 {
			continue // the jacket, and the ground round the picture
		}
		pg.Add(page.Path{Rings: view.View{Centre: c, Scale: drawn / radius}.Place(g.Shape), Fill: g.Fill})
	}
	pg.Add(page.Path{Rings: [][]page.Point{circle}, Stroke: "#808080", Width: 0.18})
}

// numbers puts each change's number beside its first place, moved outwards until it covers no other.
func numbers(pg *page.Page, changes []plan.Change, c page.Point, k float64) {
	var put []page.Point
	for _, ch := range changes {
		if len(ch.Places) == 0 {
			continue
		}
		at := page.Point{c[0] + k*float64(ch.Places[0][0]), c[1] - k*float64(ch.Places[0][1])}
		spot, ok := sheet.Spot(at, put, 2.2*size)
		if !ok {
			continue
		}
		put = append(put, spot)
		if math.Hypot(spot[0]-at[0], spot[1]-at[1]) > 0.5 {
			pg.Add(page.Path{Rings: [][]page.Point{{at, spot}}, Open: true, Stroke: "#000000", Width: 0.18})
		}
		pg.Add(
			page.Path{Rings: [][]page.Point{page.Circle(spot, size)}, Fill: "#ffffff", Stroke: "#000000", Width: 0.3})
		pg.Write(
			page.Text{
				At:     page.Point{spot[0], spot[1] + 1.3},
				Size:   sheet.ClientSize,
				Bold:   true,
				Anchor: "middle",
				Text:   fmt.Sprint(ch.Number),
			},
		)
	}
}

// pale is a colour mixed with twice as much white.
func pale(hex string) string {
	c, ok := page.RGB(hex)
	if !ok {
		return hex
	}
	mix := func(v uint8) int { return (int(v) + 2*255) / 3 }
	return fmt.Sprintf("#%02x%02x%02x", mix(c.R), mix(c.G), mix(c.B))
}
