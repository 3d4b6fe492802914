// Package gauge draws gauges at actual size: the laid section of each distinct part that a ruler does not measure, and
// the log as laid, nested on as few pages as they need.
//
// Guarantees: one millimetre of sugar is one of paper; each page has a bar of 100 mm; what is larger than a page is cut
// into tiles with crosses to line up.
package gauge

import (
	"fmt"
	"math"
	"sort"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"sugarwright/planner/plan"
	"sugarwright/render/diagram"
	"sugarwright/render/page"
	"sugarwright/render/parts"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// barHeight is the room that the bar takes above the foot; overlap that of tiles; numberSize the type of a gauge's number.
const (
	barHeight  = 12.0
	overlap    = 10.0
	numberSize = 5.2
)

// fewParts that are laid: with so many, what a ruler measures is not worth a second page.
const fewParts = 12

// Pages of the gauges.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	log, each := items(p)
	first := laid(p, s, append([]item{log}, each...))
	if len(first) > 1 { // the pile takes the room that is left; with few parts it has none of its own
		log.spare = len(p.Elements) <= fewParts
		if last := laid(p, s, append(each[:len(each):len(each)], log)); len(last) <= len(first) {
			return last
		}
	}
	return first
}

// laid are the pages with gauges in an order.
func laid(p *plan.Plan, s sheet.Style, list []item) []*page.Page {
	f := s.Start(p, s.T().Text("gauge.title"))
	d := drawing{f: f, s: s}
	d.begin()
	var large []item
	for _, it := range list {
		switch {
		case it.w > f.W() || it.h > d.sheets[0].r.h:
			if !it.spare {
				large = append(large, it)
			}
		case !d.put(it) && !it.spare:
			f.Fresh()
			d.begin()
			d.put(it)
		}
	}
	for _, it := range large {
		d.tiles(it)
	}
	return f.Done()
}

// drawing is the gauges in the making: the pages that have been begun, and what is taken of them.
type drawing struct {
	f      *sheet.Flow
	s      sheet.Style
	sheets []opened
}

// opened is a page with gauges.
type opened struct {
	pg  *page.Page
	top float64
	r   *raster
}

// begin prepares a fresh page: how gauges are used, and the bar above its foot.
func (d *drawing) begin() {
	f, t := d.f, d.s.T()
	if len(d.sheets) == 0 {
		f.Paragraph(t.Text("gauge.intro"), sheet.Lean, false)
		f.Y += 2
	}
	y := f.Foot - 2
	x := float64(sheet.Margin)
	f.Page.Line(page.Point{x, y}, page.Point{x + 100, y}, 0.35)
	for k := range 11 {
		l := 2.0
		if k%10 == 0 {
			l = 4
		}
		f.Page.Line(page.Point{x + 10*float64(k), y - l}, page.Point{x + 10*float64(k), y}, 0.35)
	}
	f.Page.Write(page.Text{At: page.Point{x + 104, y}, Size: sheet.TextSize, Text: t.Text("gauge.bar")})
	f.Foot -= barHeight
	d.sheets = append(d.sheets, opened{f.Page, f.Y, newRaster(f.W(), f.Foot-f.Y)})
}

// put an item on the first page with room for it.
func (d *drawing) put(it item) bool {
	mask := it.mask()
	for _, o := range d.sheets {
		x, y, ok := o.r.place(mask)
		if !ok {
			continue
		}
		at := page.Point{sheet.Margin + x, o.top + y}
		v := view.View{Scale: 1, Turn: it.turn, Centre: page.Point{at[0] + it.label - it.box[0], at[1] + it.box[3]}}
		for _, poly := range it.polys {
			o.pg.Add(page.Path{Rings: v.Place(poly), Stroke: "#000000", Width: it.line})
		}
		if it.name != "" {
			o.pg.Write(page.Text{At: page.Point{at[0] + pad, at[1] + it.h/2 + numberSize/2}, Size: numberSize, Bold: true, Text: it.name})
		}
		return true
	}
	return false
}

// pad is the room left of a gauge's number, and between it and the gauge.
const pad = 1.0

// item is a gauge: its shapes, turned to lie on the longest flat side, with room for its number at the left.
type item struct {
	name  string
	polys []plan.Polygon
	turn  float64
	box   page.Box // of the turned shapes, in their own frame
	label float64  // width that the number takes
	w, h  float64
	line  float64
	spare bool // measured by a ruler too: printed while there is room
}

// items of a plan: the pile as it lies before it is wrapped, and parts by their size, those that a ruler measures last.
func items(p *plan.Plan) (pile item, out []item) {
	var log []plan.Polygon
	inner, _ := diagram.Parts(p)
	for _, e := range inner {
		log = append(log, e.Laid)
	}
	for _, e := range parts.Distinct(p) {
		if e.Form == plan.Wrap {
			continue
		}
		it := newItem(fmt.Sprint(e.Number), flat(parts.Section(p, e)), parts.Section(p, e))
		it.spare = e.Operation == plan.NoOperation && (e.Form == plan.Rod || (e.Form == plan.Strip || e.Form == plan.Bar) && math.Abs(float64(e.Size["slant_mm"])) < 1.5)
		out = append(out, it)
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].spare != out[j].spare {
			return !out[i].spare
		}
		return out[i].w*out[i].h > out[j].w*out[j].h
	})
	pile = newItem("", 0, log...)
	pile.line = 0.25
	return pile, out
}

func newItem(name string, turn float64, polys ...plan.Polygon) item {
	it := item{name: name, turn: turn, polys: polys, box: view.Bounds(turn, polys...), line: 0.5}
	if name != "" {
		it.label = page.Width(page.Text{Text: name, Size: numberSize, Bold: true}) + 2*pad
	}
	it.w = it.box[2] - it.box[0] + it.label
	it.h = it.box[3] - it.box[1]
	if name != "" && it.h < numberSize+1 { // as high as its number
		more := (numberSize + 1 - it.h) / 2
		it.box[1], it.box[3] = it.box[1]-more, it.box[3]+more
		it.h = numberSize + 1
	}
	return it
}

// flat is by how much a section is turned to lie on its longest flat side, degrees.
func flat(poly plan.Polygon) float64 {
	longest, turn := 0.0, 0.0
	ring := poly[0]
	inside := make(orb.Ring, 0, len(ring)+1)
	for _, q := range ring {
		inside = append(inside, orb.Point{float64(q[0]), float64(q[1])})
	}
	inside = append(inside, inside[0])
	c, _ := planar.CentroidArea(inside)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		dx, dy := float64(b[0]-a[0]), float64(b[1]-a[1])
		if l := math.Hypot(dx, dy); l > longest+1e-9 {
			longest, turn = l, -math.Atan2(dy, dx)*180/math.Pi
			if (c[0]-float64(a[0]))*-dy+(c[1]-float64(a[1]))*dx < 0 { // it lies on this side, not under it
				turn += 180
			}
		}
	}
	return turn
}

// tiles draws an item on as many pages as it needs, with crosses where pages overlap.
func (d *drawing) tiles(it item) {
	f, t := d.f, d.s.T()
	name := it.name
	if name == "" {
		name = t.Text("gauge.log")
	}
	b := it.box
	w, h := b[2]-b[0], b[3]-b[1]
	f.Fresh()
	d.begin()
	roomW, roomH := f.W(), f.Foot-f.Y-2*sheet.Leading*sheet.TextSize-2
	stepW, stepH := roomW-overlap, roomH-overlap
	columns := int(math.Max(1, math.Ceil((w-overlap)/stepW)))
	rows := int(math.Max(1, math.Ceil((h-overlap)/stepH)))
	for r := range rows {
		for c := range columns {
			if r+c > 0 {
				f.Fresh()
				d.begin()
			}
			f.Paragraph(name+", "+t.Text("gauge.tile", r+1, c+1)+". "+t.Text("gauge.register"), sheet.TextSize, true)
			f.Y++
			window := page.Box{sheet.Margin, f.Y, sheet.Margin + roomW, f.Y + roomH}
			v := view.View{Scale: 1, Turn: it.turn, Centre: page.Point{window[0] - b[0] - stepW*float64(c), window[1] + b[3] - stepH*float64(r)}}
			for _, poly := range it.polys {
				for _, ring := range v.Place(poly) {
					if lines := page.Clipped(append(ring, ring[0]), window); len(lines) > 0 {
						f.Page.Add(page.Path{Rings: lines, Open: true, Stroke: "#000000", Width: 0.35})
					}
				}
			}
			f.Page.Add(page.Path{Rings: [][]page.Point{page.Rect(window[0], window[1], roomW, roomH)}, Stroke: "#000000", Width: 0.13})
			d.crosses(window, c > 0, c < columns-1, r > 0, r < rows-1)
			d.sheets[len(d.sheets)-1].r.fill()
		}
	}
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
