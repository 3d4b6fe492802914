// Package changes draws what was simplified: the drawing as it was and as it can be made, side by side, and one over the other with each change
// outlined and numbered, in one list, most seen first.
//
// Guarantees: every change has its number at its first place; the list is complete, on as many pages as it needs.
package changes

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/diagram"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// Region is a flat area to draw, in the true frame.
type Region struct {
	Shape plan.Polygon
	Fill  string
}

// Pages of the sheet. The plan is the simplified drawing's.
func Pages(p *plan.Plan, before, after []Region, s sheet.Style) []*page.Page {
	name := p.Artwork.File
	if p.SimplifiedFrom != nil {
		name = p.SimplifiedFrom.File
	}
	first := newPage(s, "What was simplified: "+name)
	out := []*page.Page{first}
	w := first.W - 2*sheet.Margin
	r := float64(p.Log.PictureDiameterMM) / 2
	small := (w - 8) / 4
	y := float64(sheet.Margin) + 16 + small
	left, right := page.Point{sheet.Margin + small, y}, page.Point{first.W - sheet.Margin - small, y}
	ground := ""
	if len(p.Colours) > 0 {
		ground = p.Colours[0].SRGB
	}
	picture(first, before, left, small, r, ground)
	picture(first, after, right, small, r, ground)
	caption := func(at page.Point, text string) {
		first.Write(page.Text{At: page.Point{at[0], at[1] + small + 6}, Size: sheet.SmallSize, Anchor: "middle", Text: text})
	}
	caption(left, "as drawn")
	caption(right, "simplified")
	const big = 44
	c := page.Point{first.W / 2, y + small + 12 + big}
	faded := make([]Region, len(after))
	for i, g := range after {
		faded[i] = Region{g.Shape, pale(g.Fill)}
	}
	picture(first, faded, c, big, r, pale(ground))
	for _, ch := range p.Changes {
		for _, poly := range ch.Shape {
			first.Add(page.Path{Rings: diagram.Place(poly, c, big/r, 1), Fill: "#000000", Stroke: "#000000", Width: 0.15})
		}
	}
	numbers(first, p.Changes, c, big/r)
	first.Write(page.Text{At: page.Point{c[0], c[1] + big + 6}, Size: sheet.SmallSize, Anchor: "middle", Text: "black: has another colour now"})
	pg := first
	y = c[1] + big + 14
	for _, ch := range p.Changes {
		text := ch.Text
		if ch.MinutesSaved > 0 {
			text += fmt.Sprintf("; saves about %s", minutes(float64(ch.MinutesSaved)))
		}
		text += fmt.Sprintf(" (%.1f %% of the picture)", 100*float64(ch.AreaMM2)/(math.Pi*r*r))
		lines := page.Wrap(page.Text{Text: text, Size: sheet.SmallSize}, w-12)
		if y+4.8*float64(len(lines)) > pg.H-sheet.Margin-4 {
			pg = newPage(s, "What was simplified, continued: "+name)
			out = append(out, pg)
			y = sheet.Margin + 16
		}
		pg.Write(page.Text{At: page.Point{sheet.Margin + 7, y}, Size: sheet.SmallSize, Bold: true, Anchor: "end", Text: fmt.Sprint(ch.Number)})
		for _, l := range lines {
			pg.Write(page.Text{At: page.Point{sheet.Margin + 11, y}, Size: sheet.SmallSize, Text: l})
			y += 4.8
		}
		y += 0.8
	}
	return out
}

func newPage(s sheet.Style, title string) *page.Page {
	pg := &page.Page{W: s.Paper.W, H: s.Paper.H, Title: title}
	pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 6}, Size: 5, Bold: true, Text: title})
	return pg
}

func minutes(m float64) string {
	if m < 1.5 {
		return "a minute"
	}
	return fmt.Sprintf("%.0f minutes", m)
}

// picture draws the picture circle, radius millimetres in the log and drawn on the page, and the regions inside it.
func picture(pg *page.Page, regions []Region, c page.Point, drawn, radius float64, ground string) {
	const sides = 96
	circle := make([]page.Point, sides)
	for i := range circle {
		a := 2 * math.Pi * float64(i) / sides
		circle[i] = page.Point{c[0] + drawn*math.Cos(a), c[1] + drawn*math.Sin(a)}
	}
	pg.Add(page.Path{Rings: [][]page.Point{circle}, Fill: ground})
	for _, g := range regions {
		if len(g.Shape) > 0 && len(g.Shape[0]) > 0 && math.Hypot(float64(g.Shape[0][0][0]), float64(g.Shape[0][0][1])) > radius+0.5 {
			continue // the jacket, and the ground round the picture
		}
		pg.Add(page.Path{Rings: diagram.Place(g.Shape, c, drawn/radius, 1), Fill: g.Fill})
	}
	pg.Add(page.Path{Rings: [][]page.Point{circle}, Stroke: "#808080", Width: 0.18})
}

// numbers puts each change's number beside its first place, moved outwards until it covers no other.
func numbers(pg *page.Page, changes []plan.Change, c page.Point, k float64) {
	const size = 3.0
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
			pg.Line(at, spot, 0.18)
		}
		ring := make([]page.Point, 24)
		for j := range ring {
			a := 2 * math.Pi * float64(j) / 24
			ring[j] = page.Point{spot[0] + size*math.Cos(a), spot[1] + size*math.Sin(a)}
		}
		pg.Add(page.Path{Rings: [][]page.Point{ring}, Fill: "#ffffff", Stroke: "#000000", Width: 0.3})
		pg.Write(page.Text{At: page.Point{spot[0], spot[1] + 1.3}, Size: 2.6, Bold: true, Anchor: "middle", Text: fmt.Sprint(ch.Number)})
	}
}

// pale is a colour mixed with twice as much white.
func pale(hex string) string {
	var r, g, b int
	if _, err := fmt.Sscanf(hex, "#%02x%02x%02x", &r, &g, &b); err != nil {
		return hex
	}
	mix := func(v int) int { return (v + 2*255) / 3 }
	return fmt.Sprintf("#%02x%02x%02x", mix(r), mix(g), mix(b))
}
