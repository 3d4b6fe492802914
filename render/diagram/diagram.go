// Package diagram draws the numbered assembly diagram: the section as the picture reads, TOP, the mirrored other end,
// key of colours; and where the parts are put, where that differs from where they will be.
//
// Guarantees: every part has its number, inside it or led to it; no two leaders cross; numbers that find no place stand
// on a further drawing of the same section.
package diagram

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// outsideY is the room for labels above and below the drawing; beside it they need the width of the widest number and a
// gap.
const outsideY = 8.0

// differs is by how much the laid frame must differ from the true one to have a page of its own, millimetres.
const differs = 2

// Pages of the assembly diagram.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("assembly.title"))
	f.Paragraph(
		t.Text("assembly.log", s.Section(float64(p.Log.DiameterMM)), s.Length(float64(p.Log.LengthMM)),
			s.Grams(float64(p.Log.MassG))),
		sheet.TextSize,
		false,
	)
	d := drawing{p: p, s: s, f: f, inks: s.Inks(p), shape: func(e *plan.Element) plan.Polygon { return e.True }}
	left := d.draw(t.Text("assembly.face"), elements(p), float64(p.Log.DiameterMM), float64(p.Log.DiameterMM))
	d.key()
	for len(left) > 0 {
		f.Fresh()
		left = d.draw(t.Text("assembly.more"), left, float64(p.Log.DiameterMM), float64(p.Log.DiameterMM))
	}
	if moves := moved(p); len(moves) > 0 {
		d.laid(moves)
	}
	return f.Done()
}

func elements(p *plan.Plan) []*plan.Element {
	var out []*plan.Element
	for i := range p.Elements {
		out = append(out, &p.Elements[i])
	}
	return out
}

// drawing is one frame of the log on its sheet.
type drawing struct {
	p     *plan.Plan
	s     sheet.Style
	f     *sheet.Flow
	inks  sheet.Inks
	shape func(*plan.Element) plan.Polygon
	view  view.View

	dashed []*plan.Element // drawn where they will be
}

// draw the section of w by h at the largest standard scale that fits, with numbers on the parts in label; it returns
// those for which there was no place.
func (d *drawing) draw(caption string, label []*plan.Element, w, h float64) (left []*plan.Element) {
	pg, f, t := d.f.Page, d.f, d.s.T()
	widest := 0.0
	for _, e := range d.p.Elements {
		widest = math.Max(widest, page.Width(page.Text{Text: fmt.Sprint(e.Number), Size: sheet.NumberSize, Bold: true}))
	}
	k, name := view.Fitting(w, h, f.W()-2*(widest+1.5), f.Foot-f.Y-1.7*sheet.TextSize-2*outsideY)
	scale := page.Text{
		At:     page.Point{pg.W - sheet.Margin, f.Y + 1.3*sheet.TextSize},
		Size:   sheet.TextSize,
		Anchor: "end",
		Text:   t.Text("sheet.scale", name),
	}
	f.Column(sheet.Margin, f.W()-page.Width(scale)-5, caption, sheet.TextSize, false)
	pg.Write(scale)
	d.view = view.View{Centre: page.Point{pg.W / 2, f.Y + outsideY + h*k/2}, Scale: k}
	c := d.view.Centre
	frame := page.Box{c[0] - w*k/2, c[1] - h*k/2, c[0] + w*k/2, c[1] + h*k/2}
	room := page.Box{sheet.Margin, f.Y, pg.W - sheet.Margin, f.Y + h*k + 2*outsideY}
	for _, e := range elements(d.p) {
		d.inks.Draw(pg, e.Colour, d.view.Place(d.shape(e)), d.inside(e), 0.5)
	}
	for _, e := range d.dashed {
		pg.Add(page.Path{Rings: d.view.Place(e.True), Stroke: "#000000", Width: 0.25, Dashed: true})
	}
	taken := []page.Box{d.top(frame)}
	var tags []page.Tag
	for _, e := range label {
		tags = append(tags, page.Tag{Rings: d.view.Place(d.shape(e)), Text: fmt.Sprint(e.Number)})
	}
	for _, i := range pg.Labels(tags, frame, room, sheet.NumberSize, taken) {
		left = append(left, label[i])
	}
	f.Y = room[3]
	return left
}

// inside is a point of a part on the page.
func (d *drawing) inside(e *plan.Element) page.Point { return d.view.At(e.Label) }

// top marks the top of the log, and returns the box that the mark takes.
func (d *drawing) top(frame page.Box) page.Box {
	pg := d.f.Page
	x, y := (frame[0]+frame[2])/2, frame[1]-0.5
	word := page.Text{At: page.Point{x + 3.4, y - 1}, Size: sheet.TextSize, Bold: true, Text: d.s.T().Text("sheet.top")}
	width := page.Width(word) + 7
	word.At[0] = x - width/2 + 7
	tip := x - width/2 + 3
	pg.Add(page.Path{Rings: [][]page.Point{{{tip, y}, {tip - 2.6, y - 5}, {tip + 2.6, y - 5}}}, Fill: "#000000"})
	pg.Write(word)
	const apart = 7 // so that no number is read with the word
	return page.Box{x - width/2 - apart, y - 7, x + width/2 + apart, y}
}

// otherScale of the stick's other end, where the picture is mirrored, beside the key: 1:10.
const otherScale = 0.1

// key draws the colours and the other end below the section, or on a page of their own.
func (d *drawing) key() {
	f, p := d.f, d.p
	radius := float64(p.Log.DiameterMM) / 2 * otherScale
	caption := page.Text{Size: sheet.TextSize, Anchor: "middle", Text: d.s.T().Text("assembly.other")}
	half := math.Max(radius, page.Width(caption)/2)
	width := f.W() - 2*half - 6
	if need := math.Max(d.s.KeyHeight(p, width), 2*radius+1.7*sheet.TextSize) + 1; f.Y+need > f.Foot {
		f.Fresh()
	}
	c := page.Point{f.Page.W - sheet.Margin - half, f.Y + 1 + radius}
	v := view.View{Centre: c, Scale: otherScale, Side: -1}
	for _, e := range p.Elements {
		rings := v.Place(e.True)
		f.Page.Add(page.Path{Rings: rings, Fill: d.inks.Fill(e.Colour)})
		f.Page.Add(page.Path{Rings: rings, Stroke: "#000000", Width: 0.18})
	}
	caption.At = page.Point{c[0], c[1] + radius + 1.4*sheet.TextSize}
	f.Page.Write(caption)
	for from := 0; ; {
		from += d.s.Key(f.Page, p, from, sheet.Margin, f.Y+1, width, f.Foot)
		if from >= len(p.Colours) {
			break
		}
		f.Fresh()
		width = f.W()
	}
}

// move is how much further than where it will be a part is put.
type move struct {
	e      *plan.Element
	dx, dy float64
	wider  float64
	higher float64
	far    float64 // the farthest of its border
}

// moved are the parts that are put elsewhere than where they will be, or in another shape, by more than differs; those
// most first.
func moved(p *plan.Plan) []move {
	var out []move
	for i := range p.Elements {
		e := &p.Elements[i]
		if len(e.Laid) == 0 || len(e.True) == 0 {
			continue
		}
		a, b := middle(e.True), middle(e.Laid)
		was, is := view.Bounds(0, e.True), view.Bounds(0, e.Laid)
		m := move{
			e:      e,
			dx:     b[0] - a[0],
			dy:     b[1] - a[1],
			wider:  is[2] - is[0] - was[2] + was[0],
			higher: is[3] - is[1] - was[3] + was[1],
		}
		for _, q := range e.Laid[0] {
			m.far = math.Max(m.far, toRing(q, e.True[0]))
		}
		if m.far > differs {
			out = append(out, m)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].far > out[j].far+0.05 })
	return out
}

// middle of a polygon's outer ring (centroid).
func middle(p plan.Polygon) [2]float64 {
	var sx, sy, sa float64
	r := p[0]
	for i, a := range r {
		b := r[(i+1)%len(r)]
		w := float64(a[0]*b[1] - b[0]*a[1])
		sx, sy, sa = sx+w*float64(a[0]+b[0]), sy+w*float64(a[1]+b[1]), sa+w
	}
	if sa == 0 {
		return [2]float64{float64(r[0][0]), float64(r[0][1])}
	}
	return [2]float64{sx / 3 / sa, sy / 3 / sa}
}

// toRing is the distance of a point from a ring.
func toRing(q plan.Point, ring plan.Ring) float64 {
	d := math.Inf(1)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		dx, dy := float64(b[0]-a[0]), float64(b[1]-a[1])
		px, py := float64(q[0]-a[0]), float64(q[1]-a[1])
		u := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			u = math.Max(0, math.Min(1, (px*dx+py*dy)/l))
		}
		d = math.Min(d, math.Hypot(px-u*dx, py-u*dy))
	}
	return d
}

// laid draws where the parts are put, where they will be dashed over it, and says what is moved most.
func (d *drawing) laid(moves []move) {
	p, s, f, t := d.p, d.s, d.f, d.s.T()
	f.Fresh()
	w, h := float64(p.Log.LayWidthMM), float64(p.Log.LayHeightMM)
	d.shape = func(e *plan.Element) plan.Polygon { return e.Laid }
	f.Paragraph(t.Text("assembly.laid")+". "+t.Text("assembly.oval", s.Section(w), s.Section(h)), sheet.TextSize, true)
	f.Paragraph(t.Text("assembly.laid_why"), sheet.TextSize, false)
	var moved []string
	for _, m := range moves {
		d.dashed = append(d.dashed, m.e)
		if words := d.words(m); words != "" {
			moved = append(moved, t.Text("assembly.moved", m.e.Number, words))
		}
	}
	across := float64(p.Log.DiameterMM) // what is dashed is as large as the round log
	label := d.draw(t.Text("assembly.face"), elements(p), math.Max(w, across), math.Max(h, across))
	for n := len(moved); n > 0; n-- { // as many as there is room for
		text := t.Text("assembly.most") + " " + strings.Join(moved[:n], "; ")
		if n < len(moved) {
			text += "; " + t.Text("assembly.more_moved", len(moved)-n)
		}
		if f.Y+sheet.Height(text, f.W(), sheet.TextSize, false) <= f.Foot || n == 1 {
			f.Paragraph(text, sheet.TextSize, false)
			break
		}
	}
	for len(label) > 0 {
		f.Fresh()
		label = d.draw(t.Text("assembly.more"), label, math.Max(w, across), math.Max(h, across))
	}
}

// words say a move, where it is to be seen.
func (d *drawing) words(m move) string {
	t := d.s.T()
	const seen = 0.75
	var out []string
	switch {
	case m.dx <= -seen:
		out = append(out, t.Text("assembly.moved_left", d.s.Section(-m.dx)))
	case m.dx >= seen:
		out = append(out, t.Text("assembly.moved_right", d.s.Section(m.dx)))
	}
	switch {
	case m.dy >= seen:
		out = append(out, t.Text("assembly.moved_up", d.s.Section(m.dy)))
	case m.dy <= -seen:
		out = append(out, t.Text("assembly.moved_down", d.s.Section(-m.dy)))
	}
	switch {
	case m.wider >= seen:
		out = append(out, t.Text("assembly.wider", d.s.Section(m.wider)))
	case m.wider <= -seen:
		out = append(out, t.Text("assembly.narrower", d.s.Section(-m.wider)))
	}
	switch {
	case m.higher >= seen:
		out = append(out, t.Text("assembly.taller", d.s.Section(m.higher)))
	case m.higher <= -seen:
		out = append(out, t.Text("assembly.flatter", d.s.Section(-m.higher)))
	}
	return strings.Join(out, ", ")
}
