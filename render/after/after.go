// Package after prints what is read when the log is round: the first cut, its faults as pictures with cause and cure;
// blanks for what was weighed and timed; faces as they may come out; and the cautions in full.
//
// Guarantees: every fault is drawn on the plan's own picture; the cautions stand here whole.
package after

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/forecast"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// faults of a first cut, in the order in which they are looked for (common practice, no source).
var faults = []string{"oval", "squash", "shift", "hole", "blur", "crack", "thin", "twist"}

// Pages of what is read after.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t := s.T()
	f := s.Start(p, t.Text("after.title"))
	d := drawing{p: p, s: s, f: f}
	f.Paragraph(t.Text("after.cut"), sheet.Arm, true)
	f.Y += 2
	d.faults()
	d.notes()
	f.Y += 1
	f.Room(40)
	f.Rule(sheet.Bold)
	f.Y += 1.5
	f.Paragraph(t.Text("caution.title"), sheet.Arm, true)
	for _, c := range say.Cautions() {
		f.Room(sheet.Height(t.Say(c), f.W(), sheet.TextSize, false) + 1)
		f.Paragraph(t.Say(c), sheet.TextSize, false)
		f.Y += 0.3
	}
	return f.Done()
}

// drawing is the sheet in the making.
type drawing struct {
	p *plan.Plan
	s sheet.Style
	f *sheet.Flow
}

const face = 18.0 // across

// faults in two columns: the picture, what is seen, why, what next time.
func (d *drawing) faults() {
	f, t := d.f, d.s.T()
	w := (f.W() - 6) / 2
	for i := 0; i < len(faults); i += 2 {
		high := face + 2.5
		var texts [2][][]string
		for k, name := range faults[i : i+2] {
			h := 0.0
			for n, part := range []string{"_see", "_why", "_next"} {
				lines := page.Wrap(page.Text{Text: t.Text("cut." + name + part), Size: sheet.Lean, Bold: n == 0}, w-face-4)
				texts[k] = append(texts[k], lines)
				h += 1.5 * sheet.Lean * float64(len(lines))
			}
			high = math.Max(high, h+2)
		}
		f.Room(high)
		for k, name := range faults[i : i+2] {
			x := sheet.Margin + float64(k)*(w+6)
			d.fault(name, page.Point{x + face/2, f.Y + face/2})
			y := f.Y + 1.25*sheet.Lean
			for n, lines := range texts[k] {
				for _, l := range lines {
					f.Page.Write(page.Text{At: page.Point{x + face + 4, y}, Size: sheet.Lean, Bold: n == 0, Text: l})
					y += 1.5 * sheet.Lean
				}
			}
		}
		f.Y += high
	}
}

// shape of a face on the page.
type shape struct {
	colour string
	rings  [][]page.Point
}

// fault draws the picture as a fault leaves it.
func (d *drawing) fault(name string, c page.Point) {
	pg, k := d.f.Page, face/float64(d.p.Log.DiameterMM)
	r := face / 2
	if name == "oval" {
		r *= 0.96
	}
	outer := func(q page.Point) page.Point { return q }
	inner := func(q page.Point) page.Point { return q }
	switch name {
	case "oval":
		outer = func(q page.Point) page.Point { return page.Point{q[0], c[1] + 0.8*(q[1]-c[1])} }
		inner = outer
	case "squash":
		inner = d.squashed(c, r)
	case "twist":
		sin, cos := math.Sincos(0.6)
		inner = func(q page.Point) page.Point {
			x, y := q[0]-c[0], q[1]-c[1]
			return page.Point{c[0] + cos*x - sin*y, c[1] + sin*x + cos*y}
		}
	}
	shapes := d.shapes(c, 2*r/face*k, inner)
	odd := d.odd(shapes)
	if name == "shift" && odd >= 0 {
		shapes[odd] = moved(shapes[odd], page.Point{0.09 * face, 0.07 * face})
	}
	if name == "thin" && odd >= 0 {
		shapes[odd] = d.thinned(shapes[odd])
	}
	inks := d.s.Inks(d.p)
	rim := page.Circle(c, r)
	for i := range rim {
		rim[i] = outer(rim[i])
	}
	pg.Add(page.Path{Rings: [][]page.Point{rim}, Fill: inks.Fill(d.p.Ground)})
	for _, x := range shapes {
		path := page.Path{Rings: x.rings, Fill: inks.Fill(x.colour), Stroke: inks.Fill(x.colour), Width: 0.1}
		if name == "blur" && x.colour != d.p.Ground {
			path.Width = 1.6
		}
		if d.s.Black && x.colour != d.p.Ground {
			path.Stroke, path.Width = "#000000", math.Max(0.18, path.Width/2)
		}
		pg.Add(path)
	}
	switch name {
	case "hole":
		if odd >= 0 {
			b := view.Box(shapes[odd].rings)
			gap := page.Circle(page.Point{(b[0] + b[2]) / 2, b[1]}, 1.5)
			for i := range gap {
				gap[i][1] = b[1] + 0.35*(gap[i][1]-b[1])
			}
			pg.Add(page.Path{Rings: [][]page.Point{gap}, Fill: "#000000"})
		}
	case "crack":
		for _, a := range []float64{0.4, 2.2, 4.4} {
			pg.Add(page.Path{Rings: [][]page.Point{crack(c, r, a)}, Open: true, Stroke: "#000000", Width: 0.35})
		}
	case "twist":
		pg.Add(page.Path{Rings: [][]page.Point{{{c[0], c[1] - r - 0.2}, {c[0], c[1] - r + 2}}}, Open: true, Stroke: "#000000", Width: sheet.Bold})
	}
	pg.Add(page.Path{Rings: [][]page.Point{rim}, Stroke: "#000000", Width: sheet.Rule})
}

// shapes of the face as planned, each point moved by a map.
func (d *drawing) shapes(c page.Point, k float64, to func(page.Point) page.Point) []shape {
	v := view.View{Centre: c, Scale: k}
	var out []shape
	for _, x := range forecast.Drawn(d.p) {
		rings := v.Place(x.Shape)
		for _, r := range rings {
			for i := range r {
				r[i] = to(r[i])
			}
		}
		out = append(out, shape{x.Colour, rings})
	}
	return out
}

// squashed flattens what is inside a circle, and keeps the circle: along each chord from the left to the right things
// move as far as the middle lets them.
func (d *drawing) squashed(c page.Point, r float64) func(page.Point) page.Point {
	return func(q page.Point) page.Point {
		x, y := (q[0]-c[0])/r, (q[1]-c[1])/r
		n := x*x + y*y
		s := 0.26 * math.Max(0, 1-n)
		return page.Point{c[0] + r*x*(1+s), c[1] + r*y*(1-s)}
	}
}

// odd is the part that shows a fault best: the largest that is neither of the ground's colour nor the whole; -1 where
// there is none.
func (d *drawing) odd(shapes []shape) int {
	best, size := -1, 0.0
	for i, x := range shapes {
		b := view.Box(x.rings)
		if a := (b[2] - b[0]) * (b[3] - b[1]); x.colour != d.p.Ground && a > size && a < 0.5*face*face {
			best, size = i, a
		}
	}
	return best
}

func moved(x shape, by page.Point) shape {
	for _, r := range x.rings {
		for i := range r {
			r[i] = page.Point{r[i][0] + by[0], r[i][1] + by[1]}
		}
	}
	return x
}

// thinned shrinks a part across, on the ground's colour.
func (d *drawing) thinned(x shape) shape {
	b := view.Box(x.rings)
	mid := (b[0] + b[2]) / 2
	for _, r := range x.rings {
		for i := range r {
			r[i][0] = mid + 0.55*(r[i][0]-mid)
		}
	}
	return x
}

// crack runs inwards from the rim at an angle, to and fro.
func crack(c page.Point, r, angle float64) []page.Point {
	var out []page.Point
	for i := range 5 {
		a := angle + 0.12*float64(i%2*2-1)
		sin, cos := math.Sincos(a)
		at := r * (1 - 0.14*float64(i))
		out = append(out, page.Point{c[0] + at*cos, c[1] + at*sin})
	}
	return out
}

// notes are blanks for the day, with four faces of the forecast beside them.
func (d *drawing) notes() {
	f, t, p := d.f, d.s.T(), d.p
	const row, columns = 7.4, 2
	keys := []string{"n_poured", "n_round", "n_pieces", "n_drawn", "n_loss", "n_air"}
	var faces []plan.Face
	if p.Forecast != nil && len(p.Forecast.Faces) > 1 {
		faces = p.Forecast.Faces[1:]
		faces = faces[:min(4, len(faces))]
	}
	right := 0.0
	if len(faces) > 0 {
		right = 2*face + 6
	}
	rows := float64(len(keys)/columns) + math.Ceil(float64(len(p.Colours))/3)
	high := math.Max(row*rows+9, 2*face+12)
	f.Room(high)
	f.Rule(sheet.Bold)
	f.Y += 1.5
	y := f.Y
	f.Paragraph(t.Text("after.notes"), sheet.Arm, true)
	width := f.W() - right
	blank := func(x, y, w float64, text string) {
		tx := page.Text{At: page.Point{x, y + row - 2}, Size: sheet.Lean, Text: text}
		f.Page.Write(tx)
		f.Page.Line(page.Point{x + page.Width(tx) + 1.5, y + row - 1.2}, page.Point{x + w - 4, y + row - 1.2}, sheet.Rule)
	}
	at := f.Y
	for i, k := range keys {
		blank(sheet.Margin+width/columns*float64(i%columns), at+row*float64(i/columns), width/columns, t.Text("wall."+k))
	}
	at += row * float64(len(keys)/columns)
	for i, c := range p.Colours {
		blank(sheet.Margin+width/3*float64(i%3), at+row*float64(i/3), width/3, c.Letter+", "+t.Text("wall.weight"))
	}
	at += row * math.Ceil(float64(len(p.Colours))/3)
	for ; at+row < y+high-1; at += row {
		f.Page.Line(page.Point{sheet.Margin, at + row - 1.2}, page.Point{sheet.Margin + width - 4, at + row - 1.2}, sheet.Rule)
	}
	for i, x := range faces {
		c := page.Point{sheet.Margin + f.W() - right + 2 + face/2 + float64(i%2)*(face+3), y + 9 + face/2 + float64(i/2)*(face+2)}
		forecast.Face(f.Page, p, d.s, view.View{Centre: c, Scale: face / float64(p.Log.DiameterMM)}, x.Shapes)
	}
	if len(faces) > 0 {
		for i, l := range page.Wrap(page.Text{Text: t.Text("after.faces"), Size: sheet.Lean}, right-2) {
			f.Page.Write(page.Text{At: page.Point{sheet.Margin + f.W() - right + 2, y + 3.2 + 4*float64(i)}, Size: sheet.Lean, Text: l})
		}
	}
	f.Y = y + high
}
