// Package diagram draws the numbered assembly diagram: the section as the picture reads, TOP, key of colours, and the mirrored other end.
//
// Guarantees: every part has its number, inside it where the number fits, else led outside; leaders are sorted by angle and do not cross.
package diagram

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// Pages of the assembly diagram.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	pg := &page.Page{W: s.Paper.W, H: s.Paper.H, Title: "Assembly: " + p.Artwork.File, Hatches: sheet.Hatches(p)}
	pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 6}, Size: 5, Bold: true, Text: "Assembly: " + p.Artwork.File})
	pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 14}, Size: sheet.TextSize,
		Text: fmt.Sprintf("Log %s across, %s long, %s", s.MM(float64(p.Log.DiameterMM)), s.MM(float64(p.Log.LengthMM)), s.Grams(float64(p.Log.MassG)))})
	pg.Write(page.Text{At: page.Point{sheet.Margin, sheet.Margin + 20}, Size: sheet.SmallSize, Text: "Seen on the picture face"})
	// The largest standard scale that leaves room for numbers outside, key and cautions (ISO 5455: 1:1, 1:2, 1:5).
	foot := sheet.Cautions(pg, p.Cautions, 2.6)
	const outside = 2 * 2.1 * sheet.NumberSize
	room := math.Min(pg.W-2*sheet.Margin, pg.H-2*sheet.Margin-foot-22-s.KeyHeight(p)) - outside
	scale, name := 0.2, "1:5"
	for _, c := range []struct {
		k float64
		n string
	}{{1, "1:1"}, {0.5, "1:2"}} {
		if float64(p.Log.DiameterMM)*c.k <= room {
			scale, name = c.k, c.n
			break
		}
	}
	r := float64(p.Log.DiameterMM) / 2 * scale
	centre := page.Point{pg.W / 2, sheet.Margin + 22 + outside/2 + r}
	pg.Write(page.Text{At: page.Point{pg.W - sheet.Margin, sheet.Margin + 14}, Size: sheet.TextSize, Anchor: "end", Text: "scale " + name})
	top := page.Point{centre[0], centre[1] - r}
	pg.Add(page.Path{Rings: [][]page.Point{{{top[0], top[1] - 2}, {top[0] - 3, top[1] - 7}, {top[0] + 3, top[1] - 7}}}, Fill: "#000000"})
	pg.Write(page.Text{At: page.Point{top[0], top[1] - 8}, Size: sheet.TextSize, Bold: true, Anchor: "middle", Text: "TOP"})
	section(pg, p, centre, scale, 1)
	numbers(pg, p, centre, scale, r)
	y := centre[1] + r + outside/2
	small := 0.12
	mr := float64(p.Log.DiameterMM) / 2 * small
	mc := page.Point{pg.W - sheet.Margin - mr - 4, y + mr + 4}
	section(pg, p, mc, small, -1)
	pg.Write(page.Text{At: page.Point{mc[0], mc[1] + mr + 5}, Size: sheet.SmallSize, Anchor: "middle", Text: "other end"})
	narrow := *pg
	narrow.W = pg.W - 2*mr - 8
	narrow.Items = nil
	s.Key(&narrow, p, y)
	pg.Items = append(pg.Items, narrow.Items...)
	return []*page.Page{pg}
}

// section draws all parts; side -1 mirrors.
func section(pg *page.Page, p *plan.Plan, c page.Point, k, side float64) {
	colour := map[string]plan.Colour{}
	for _, x := range p.Colours {
		colour[x.ID] = x
	}
	for _, e := range p.Elements {
		rings := Place(e.True, c, k, side)
		pg.Add(page.Path{Rings: rings, Fill: colour[e.Colour].SRGB})
		if e.Colour != p.Ground && k > 0.15 {
			pg.Add(page.Path{Rings: rings, Fill: "hatch:" + e.Colour})
		}
		pg.Add(page.Path{Rings: rings, Stroke: "#000000", Width: map[bool]float64{true: 0.5, false: 0.18}[k > 0.15]})
	}
}

// Place puts a polygon of the plan on the sheet: y down, scaled, about c.
func Place(poly plan.Polygon, c page.Point, k, side float64) [][]page.Point {
	out := make([][]page.Point, len(poly))
	for i, ring := range poly {
		for _, q := range ring {
			out[i] = append(out[i], page.Point{c[0] + side*k*float64(q[0]), c[1] - k*float64(q[1])})
		}
	}
	return out
}

// tag is a number that waits for its place.
type tag struct {
	at    page.Point // in the part
	text  string
	angle float64
}

// numbers writes each part's number inside it where its box fits clear of all leaders, else outside with a leader.
func numbers(pg *page.Page, p *plan.Plan, c page.Point, k, r float64) {
	type inner struct {
		rings [][]page.Point
		text  string
		w     float64
		at    page.Point
	}
	var in []inner
	var out []tag
	for _, e := range p.Elements {
		rings := Place(e.True, c, k, 1)
		text := fmt.Sprint(e.Number)
		w := page.Width(page.Text{Text: text, Size: sheet.NumberSize, Bold: true})
		if at, ok := spot(rings, w/2+0.8, sheet.NumberSize/2+0.8); ok {
			in = append(in, inner{rings, text, w, at})
			continue
		}
		at := page.Point{c[0] + k*float64(e.Label[0]), c[1] - k*float64(e.Label[1])}
		if q, ok := spot(rings, 0.6, 0.6); ok {
			at = q
		}
		out = append(out, tag{at: at, text: text, angle: math.Atan2(c[1]-at[1], at[0]-c[0])})
	}
	leaders := lead(pg, out, c, r)
	for _, l := range in {
		// A leader is one more border that the number keeps off.
		if at, ok := spot(append(l.rings[:len(l.rings):len(l.rings)], leaders...), l.w/2+0.8, sheet.NumberSize/2+0.8); ok {
			l.at = at
		}
		disc(pg, l.at, l.w, l.text)
	}
}

// disc writes a number on a white ground so that hatches do not hide it.
func disc(pg *page.Page, at page.Point, w float64, text string) {
	hw, hh := w/2+0.7, sheet.NumberSize/2+0.7
	box := []page.Point{{at[0] - hw, at[1] - hh}, {at[0] + hw, at[1] - hh}, {at[0] + hw, at[1] + hh}, {at[0] - hw, at[1] + hh}}
	pg.Add(page.Path{Rings: [][]page.Point{box}, Fill: "#ffffff"})
	pg.Write(page.Text{At: page.Point{at[0], at[1] + sheet.NumberSize/2}, Size: sheet.NumberSize, Bold: true, Anchor: "middle", Text: text})
}

// spot is where a box of half width hw and half height hh lies deepest inside a region; ok is false when it fits nowhere.
func spot(rings [][]page.Point, hw, hh float64) (page.Point, bool) {
	lo, hi := page.Point{math.Inf(1), math.Inf(1)}, page.Point{math.Inf(-1), math.Inf(-1)}
	for _, q := range rings[0] {
		lo = page.Point{math.Min(lo[0], q[0]), math.Min(lo[1], q[1])}
		hi = page.Point{math.Max(hi[0], q[0]), math.Max(hi[1], q[1])}
	}
	aspect := hh / hw
	best, depth := page.Point{}, hh
	found := false
	const n = 41
	for i := 0; i < n; i++ {
		for j := 0; j < n; j++ {
			q := page.Point{lo[0] + (hi[0]-lo[0])*(float64(j)+0.5)/n, lo[1] + (hi[1]-lo[1])*(float64(i)+0.5)/n}
			if !inside(rings, q) {
				continue
			}
			if d := boxDepth(rings, q, aspect); d > depth+1e-6 {
				best, depth, found = q, d, true
			}
		}
	}
	return best, found
}

// boxDepth is the half height of the largest box of an aspect about q that keeps off the border: the border's distance with x scaled.
func boxDepth(rings [][]page.Point, q page.Point, aspect float64) float64 {
	d := math.Inf(1)
	for _, r := range rings {
		for i := range r {
			a, b := r[i], r[(i+1)%len(r)]
			ax, ay, bx, by := (a[0]-q[0])*aspect, a[1]-q[1], (b[0]-q[0])*aspect, b[1]-q[1]
			// distance in the larger of the two coordinates, sampled at ends and where the segment passes nearest
			for _, t := range []float64{0, 0.25, 0.5, 0.75, 1} {
				d = math.Min(d, math.Max(math.Abs(ax+(bx-ax)*t), math.Abs(ay+(by-ay)*t)))
			}
			l := (bx-ax)*(bx-ax) + (by-ay)*(by-ay)
			if l > 0 {
				t := math.Max(0, math.Min(1, -(ax*(bx-ax)+ay*(by-ay))/l))
				d = math.Min(d, math.Max(math.Abs(ax+(bx-ax)*t), math.Abs(ay+(by-ay)*t)))
			}
		}
	}
	return d
}

func inside(rings [][]page.Point, p page.Point) bool {
	in := false
	for _, r := range rings {
		for i, j := 0, len(r)-1; i < len(r); j, i = i, i+1 {
			a, b := r[i], r[j]
			if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1])+a[0] {
				in = !in
			}
		}
	}
	return in
}

// lead puts tags on a ring round the drawing, in the order of their angle, spread so that they do not meet. It returns the leaders as
// rings of two points.
func lead(pg *page.Page, tags []tag, c page.Point, r float64) (leaders [][]page.Point) {
	tags = append(tags, tag{angle: math.Pi / 2}) // TOP stands there
	sort.SliceStable(tags, func(i, j int) bool { return tags[i].angle < tags[j].angle })
	ring := r + sheet.NumberSize*1.1
	gap := sheet.NumberSize * 1.7 / ring
	n := len(tags)
	at := make([]float64, n)
	for i := range tags {
		at[i] = tags[i].angle
	}
	for round := 0; round < 200; round++ {
		moved := false
		for i := range tags {
			if tags[i].text == "" {
				at[i] = math.Pi / 2
			}
		}
		for i := 0; i+1 < n; i++ {
			if d := gap - (at[i+1] - at[i]); d > 1e-6 {
				at[i], at[i+1], moved = at[i]-d/2, at[i+1]+d/2, true
			}
		}
		if n > 1 {
			if d := gap - (at[0] + 2*math.Pi - at[n-1]); d > 1e-6 && float64(n)*gap < 2*math.Pi {
				at[n-1], at[0], moved = at[n-1]-d/2, at[0]+d/2, true
			}
		}
		if !moved {
			break
		}
	}
	for i, t := range tags {
		if t.text == "" {
			continue
		}
		q := page.Point{c[0] + ring*math.Cos(at[i]), c[1] - ring*math.Sin(at[i])}
		e := page.Point{c[0] + (r+1)*math.Cos(at[i]), c[1] - (r+1)*math.Sin(at[i])}
		leaders = append(leaders, []page.Point{t.at, e})
		pg.Line(t.at, e, 0.7)
		pg.Add(page.Path{Rings: [][]page.Point{{t.at, e}}, Open: true, Stroke: "#ffffff", Width: 0.25})
		dot := make([]page.Point, 8)
		for k := range dot {
			a := math.Pi / 4 * float64(k)
			dot[k] = page.Point{t.at[0] + 0.8*math.Cos(a), t.at[1] + 0.8*math.Sin(a)}
		}
		pg.Add(page.Path{Rings: [][]page.Point{dot}, Fill: "#000000", Stroke: "#ffffff", Width: 0.25})
		pg.Write(page.Text{At: page.Point{q[0], q[1] + sheet.NumberSize/2}, Size: sheet.NumberSize, Bold: true, Anchor: "middle", Text: t.text})
	}
	return leaders
}
