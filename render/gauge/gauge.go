// Package gauge draws gauges at actual size: the laid section of each distinct part, and the log as laid.
//
// Guarantees: one millimetre of sugar is one of paper; each page has a bar of 100 mm; what is larger than a page is cut
// into tiles with crosses to lay on each other.
package gauge

import (
	"fmt"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/parts"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// barHeight is the room that the bar takes above the foot; gap that between gauges.
const (
	barHeight = 13.0
	gap       = 6.0
	overlap   = 10.0 // of tiles
)

// Pages of the gauges.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("gauge.title"))
	d := drawing{p: p, f: f, s: s}
	d.begin()
	f.Paragraph(t.Text("gauge.intro")+" "+t.Text("gauge.rings"), sheet.TextSize, false)
	for _, e := range parts.Made(p) {
		if e.Form != plan.Wrap {
			d.part(e)
		}
	}
	d.log(p)
	return f.Done()
}

type drawing struct {
	p    *plan.Plan
	f    *sheet.Flow
	s    sheet.Style
	x, h float64 // where the next gauge goes in the row, and the row's height so far
}

// begin prepares a fresh page: the bar above its foot.
func (d *drawing) begin() {
	f := d.f
	y := f.Foot - 4
	x := (f.Page.W - 100) / 2
	f.Page.Line(page.Point{x, y}, page.Point{x + 100, y}, 0.35)
	for k := range 11 {
		l := 2.0
		if k%10 == 0 {
			l = 4
		}
		f.Page.Line(page.Point{x + 10*float64(k), y - l}, page.Point{x + 10*float64(k), y}, 0.35)
	}
	f.Page.Write(
		page.Text{
			At:     page.Point{f.Page.W / 2, y - 4},
			Size:   sheet.TextSize,
			Anchor: "middle",
			Text:   d.s.T().Text("gauge.bar"),
		},
	)
	f.Foot -= barHeight
	d.x, d.h = 0, 0
}

func (d *drawing) fresh() {
	d.f.Fresh()
	d.begin()
}

// part puts one gauge into the row, its number beside it.
func (d *drawing) part(e plan.Element) {
	f := d.f
	b := view.Bounds(0, parts.Section(d.p, e))
	w, h := b[2]-b[0], b[3]-b[1]
	label := page.Text{Size: sheet.NumberSize, Bold: true, Text: fmt.Sprint(e.Number)}
	lw := page.Width(label)
	if w+lw+2 > f.W() || h > f.Foot-d.top() {
		d.tiles(fmt.Sprint(e.Number), []plan.Polygon{parts.Section(d.p, e)})
		return
	}
	if d.x+w+lw+2 > f.W() { // the next row
		f.Y += d.h + gap
		d.x, d.h = 0, 0
	}
	if f.Y+math.Max(h, sheet.NumberSize) > f.Foot {
		d.fresh()
	}
	x := sheet.Margin + d.x + lw + 2
	v := view.View{Scale: 1, Centre: page.Point{x - b[0], f.Y + b[3]}}
	f.Page.Add(page.Path{Rings: v.Place(parts.Section(d.p, e)), Stroke: "#000000", Width: 0.35})
	label.At = page.Point{sheet.Margin + d.x, f.Y + math.Max(h, sheet.NumberSize)/2 + sheet.NumberSize/2}
	f.Page.Write(label)
	d.x += lw + 2 + w + gap
	d.h = math.Max(d.h, math.Max(h, sheet.NumberSize))
}

// top is where the drawing starts on a fresh page, about: below a head of one line.
func (d *drawing) top() float64 { return sheet.Margin + 11 }

// log draws all parts as laid: on one page, or in tiles.
func (d *drawing) log(p *plan.Plan) {
	var all []plan.Polygon
	for _, e := range p.Elements {
		all = append(all, e.Laid)
	}
	d.tiles(d.s.T().Text("gauge.log"), all)
}

// tiles draws polygons on as many pages as they need, with crosses where pages overlap.
func (d *drawing) tiles(title string, polys []plan.Polygon) {
	f, t := d.f, d.s.T()
	d.fresh()
	caption := func(text string) {
		f.Paragraph(text, sheet.TextSize, true)
		f.Y += 1
	}
	b := view.Bounds(0, polys...)
	w, h := b[2]-b[0], b[3]-b[1]
	roomW, roomH := f.W(), f.Foot-f.Y-2*sheet.Leading*sheet.TextSize-2
	if w <= roomW && h <= roomH {
		caption(title)
		v := view.View{Scale: 1, Centre: page.Point{f.Page.W/2 - (b[0]+b[2])/2, f.Y + b[3]}}
		for _, poly := range polys {
			f.Page.Add(page.Path{Rings: v.Place(poly), Stroke: "#000000", Width: 0.35})
		}
		f.Y += h + gap
		d.x, d.h = 0, 0
		return
	}
	stepW, stepH := roomW-overlap, roomH-overlap
	columns := int(math.Max(1, math.Ceil((w-overlap)/stepW)))
	rows := int(math.Max(1, math.Ceil((h-overlap)/stepH)))
	for r := range rows {
		for c := range columns {
			if r+c > 0 {
				d.fresh()
			}
			caption(title + ", " + t.Text("gauge.tile", r+1, c+1) + ". " + t.Text("gauge.register"))
			window := page.Box{sheet.Margin, f.Y, sheet.Margin + roomW, f.Y + roomH}
			v := view.View{
				Scale:  1,
				Centre: page.Point{window[0] - b[0] - stepW*float64(c), window[1] + b[3] - stepH*float64(r)},
			}
			for _, poly := range polys {
				for _, ring := range v.Place(poly) {
					if lines := clipped(ring, window); len(lines) > 0 {
						f.Page.Add(page.Path{Rings: lines, Open: true, Stroke: "#000000", Width: 0.35})
					}
				}
			}
			f.Page.Add(
				page.Path{
					Rings:  [][]page.Point{page.Rect(window[0], window[1], roomW, roomH)},
					Stroke: "#000000",
					Width:  0.13,
				},
			)
			d.crosses(window, c > 0, c < columns-1, r > 0, r < rows-1)
			f.Y = window[3] + gap
		}
	}
	d.x, d.h = 0, f.Foot // nothing more on this page
}

// crosses stand in the middle of each overlap, at thirds of its length: at the same place of the sugar on both sheets.
func (d *drawing) crosses(w page.Box, left, right, up, down bool) {
	cross := func(x, y float64) {
		d.f.Page.Line(page.Point{x - 3, y}, page.Point{x + 3, y}, 0.25)
		d.f.Page.Line(page.Point{x, y - 3}, page.Point{x, y + 3}, 0.25)
	}
	for k := 1.0; k <= 2; k++ {
		x, y := w[0]+(w[2]-w[0])*k/3, w[1]+(w[3]-w[1])*k/3
		if left {
			cross(w[0]+overlap/2, y)
		}
		if right {
			cross(w[2]-overlap/2, y)
		}
		if up {
			cross(x, w[1]+overlap/2)
		}
		if down {
			cross(x, w[3]-overlap/2)
		}
	}
}

// clipped are the lines of a ring inside a window.
func clipped(ring []page.Point, w page.Box) [][]page.Point {
	var out [][]page.Point
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		lo, hi := 0.0, 1.0
		for k := range 2 {
			dk := b[k] - a[k]
			if dk == 0 {
				if a[k] < w[k] || a[k] > w[k+2] {
					hi = -1
				}
				continue
			}
			u, v := (w[k]-a[k])/dk, (w[k+2]-a[k])/dk
			lo, hi = math.Max(lo, math.Min(u, v)), math.Min(hi, math.Max(u, v))
		}
		if lo >= hi {
			continue
		}
		p := page.Point{a[0] + (b[0]-a[0])*lo, a[1] + (b[1]-a[1])*lo}
		q := page.Point{a[0] + (b[0]-a[0])*hi, a[1] + (b[1]-a[1])*hi}
		if n := len(out); n > 0 && out[n-1][len(out[n-1])-1] == p {
			out[n-1] = append(out[n-1], q)
		} else {
			out = append(out, []page.Point{p, q})
		}
	}
	return out
}
