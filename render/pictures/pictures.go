// Package pictures draws one picture for each major step: what lies there in grey, what is added in full, its arrow,
// and what hands need to know; then the log exploded.
//
// Guarantees: each part is added in one picture, by itself or in its block; pictures stand in the order of the work;
// blocks on their own frames, as they lie on the slab, turned when the block is.
//
// References: Agrawala et al. 2003, Designing effective step-by-step assembly instructions (one picture a step, added
// parts set off); Novick and Morse 2000 (a final picture alone is not enough).
package pictures

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
	"sugarwright/render/words"
)

// A picture's cell, millimetres: three in a row; room above the drawing for the arrow, below for numbers.
const (
	columns = 3
	gutter  = 4.0
	arrow   = 9.0
	below   = 8.5
	height  = 34.0
	beside  = 8.0
	leading = 1.5 * sheet.TextSize
)

const (
	there   = "#dcdcdc" // what lies there
	thereBy = "#808080" // its outline
)

// Pages of the step pictures and the exploded view.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	f := s.Start(p, s.T().Text("pictures.title"))
	f.Paragraph(s.T().Text("pictures.intro"), sheet.TextSize, false)
	fr := newFramer(p)
	d := drawing{p: p, s: s, inks: s.Inks(p), fr: fr}
	frames := fr.frames()
	width := (f.W() - (columns-1)*gutter) / columns
	for len(frames) > 0 {
		row := frames[:min(columns, len(frames))]
		frames = frames[len(row):]
		lines := make([][]line, len(row))
		most := 0
		for i, n := range row {
			for _, l := range d.words(n) {
				for _, w := range page.Wrap(page.Text{Text: page.Clean(l.text), Size: sheet.TextSize, Bold: l.bold}, width) {
					lines[i] = append(lines[i], line{w, l.bold})
				}
			}
			most = max(most, len(lines[i]))
		}
		tall := arrow + height + below
		h := tall + leading*float64(most) + 2.5
		f.Room(h)
		if over := f.Y + h - f.Foot; over > 0 { // under a title of many lines pictures are smaller
			tall, h = tall-over, h-over
		}
		for i, n := range row {
			x := sheet.Margin + float64(i)*(width+gutter)
			d.picture(f.Page, n, page.Box{x, f.Y, x + width, f.Y + tall})
			for k, l := range lines[i] {
				f.Page.Write(
					page.Text{
						At:   page.Point{x, f.Y + tall + leading*float64(k) + 1.3*sheet.TextSize},
						Size: sheet.TextSize,
						Bold: l.bold,
						Text: l.text,
					},
				)
			}
		}
		f.Y += h
	}
	d.explode(f)
	return f.Done()
}

// Frame is one picture on a page of its own, for a screen.
type Frame struct {
	Page  *page.Page
	Steps []int // numbers of the steps that it shows
}

// Frames of the steps as single pictures so wide and high, numbers included.
func Frames(p *plan.Plan, s sheet.Style, w, h float64) []Frame {
	fr := newFramer(p)
	d := drawing{p: p, s: s, inks: s.Inks(p), fr: fr}
	var out []Frame
	for _, n := range fr.frames() {
		f := Frame{Page: &page.Page{W: w, H: h, Least: sheet.NumberSize, Title: strings.Join(d.how(n), ", ")}}
		d.picture(f.Page, n, page.Box{0.5, 0.5, w - 0.5, h - 0.5})
		if n.turn != nil {
			f.Steps = append(f.Steps, n.turn.Number)
		}
		for _, st := range n.steps {
			f.Steps = append(f.Steps, st.Number)
		}
		out = append(out, f)
	}
	return out
}

type line struct {
	text string
	bold bool
}

type drawing struct {
	p    *plan.Plan
	s    sheet.Style
	inks sheet.Inks
	fr   *framer
}

// how a frame's part goes in, in words.
func (d *drawing) how(n frame) []string {
	t := d.s.T()
	var out []string
	if n.turn != nil {
		out = append(out, t.Text("pictures.turn_first", say.Block(d.p, n.block), say.Turned(n.now)))
	}
	switch how := n.parts[0].How; how {
	case plan.First:
		out = append(out, t.Text("pictures.first", say.Block(d.p, n.block)))
	default:
		out = append(out, t.Text("pictures."+string(how)))
	}
	return out
}

// words beside a picture: step and how; what it is; size; grams, heat, who; when.
func (d *drawing) words(n frame) []line {
	t, st := d.s.T(), n.steps[0]
	var numbers words.All
	if n.turn != nil {
		numbers = append(numbers, n.turn.Number)
	}
	for _, x := range n.steps {
		numbers = append(numbers, x.Number)
	}
	head := t.Text("pictures.step", numbers[0])
	if len(numbers) > 1 {
		head = t.Text("pictures.steps", numbers)
	}
	out := []line{{head + t.Text("sheet.dash") + strings.Join(d.how(n), ", "), true}}
	minutes := 0.0
	for _, x := range n.steps {
		minutes += float64(x.Minutes)
	}
	if e := d.fr.x.Element(n.parts[0].Part); e != nil {
		what := d.s.Form(*e) + ", " + d.s.Colour(d.fr.x.Colour(e.Colour))
		if len(n.parts) > 1 {
			what = t.Text("pictures.times", len(n.parts)) + " " + what
		}
		grams := 0.0
		for _, x := range n.parts {
			grams += sheet.Made(d.p, *d.fr.x.Element(x.Part))
		}
		out = append(out, line{what, false}, line{d.s.Size(*e), false},
			line{d.s.Grams(grams) + ", " + d.s.Heat(float64(e.LayC), sheet.Guessed(d.p)), false})
		switch m := d.mirrored(n); {
		case m == len(n.parts):
			out = append(out, line{t.Text("pictures.end_for_end"), false})
		case m > 0:
			out = append(out, line{t.Text("parts.turned", m), false})
		}
	} else {
		out = append(out, line{t.Say(say.Block(d.p, n.parts[0].Part)), false})
	}
	return append(
		out,
		line{
			t.Text("pictures.at", sheet.Clock(float64(st.StartMin)), sheet.Clock(minutes), d.s.Who(st, d.p.Shop.Crew)),
			false,
		},
	)
}

// mirrored counts a frame's parts that go in end for end.
func (d *drawing) mirrored(n frame) (m int) {
	for _, x := range n.parts {
		if e := d.fr.x.Element(x.Part); e != nil && e.Mirrored {
			m++
		}
	}
	return m
}

// picture draws one frame in a cell.
func (d *drawing) picture(pg *page.Page, n frame, cell page.Box) {
	b := d.bounds(n)
	room := page.Box{cell[0] + beside, cell[1] + arrow, cell[2] - beside, cell[3] - below}
	k := math.Min((room[2]-room[0])/(b[2]-b[0]), (room[3]-room[1])/(b[3]-b[1]))
	centre := page.Point{(room[0]+room[2])/2 - k*(b[0]+b[2])/2, (room[1]+room[3])/2 + k*(b[1]+b[3])/2}
	v := view.View{Centre: centre, Scale: k, Turn: n.turned}
	for _, s := range n.there {
		rings := v.Place(s.poly)
		pg.Add(page.Path{Rings: rings, Fill: there, Stroke: thereBy, Width: 0.18})
	}
	var tags []page.Tag
	box := page.Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	numbered := map[int]bool{}
	for _, s := range n.added {
		rings := v.Place(s.poly)
		d.inks.Draw(pg, s.e.Colour, rings, page.Pole(rings), 0.7)
		o := view.Box(rings)
		box = page.Box{math.Min(box[0], o[0]), math.Min(box[1], o[1]), math.Max(box[2], o[2]), math.Max(box[3], o[3])}
		if len(n.added) <= 4 || !numbered[s.e.Number] {
			tags = append(tags, page.Tag{Rings: rings, Text: fmt.Sprint(s.e.Number)})
		}
		numbered[s.e.Number] = true
	}
	frame := page.Box{centre[0] + k*b[0], centre[1] - k*b[3], centre[0] + k*b[2], centre[1] - k*b[1]}
	var taken []page.Box
	at := 0
	for _, x := range n.parts {
		shapes := d.fr.shapes(x.Part, n.block)
		rings := [][]page.Point{}
		for range shapes {
			rings = append(rings, v.Place(n.added[at].poly)...)
			at++
		}
		taken = append(taken, d.arrow(pg, x, rings, v, frame, cell)...)
	}
	if n.turn != nil {
		taken = append(taken, turnSign(pg, page.Point{cell[0] + 5.5, cell[1] + 5.5}, n.now))
	}
	if d.fr.x.Block(n.parts[0].Part) != nil { // a block's number, not those of its parts
		tags = tags[:0]
	}
	// Arrows come from above: numbers stand beside and below.
	pg.Labels(tags, frame, page.Box{cell[0], frame[1], cell[2], cell[3]}, sheet.NumberSize, taken)
}

// least a picture's drawing is of the complete block's, so that pictures of one block are alike to the eye.
const least = 0.4

// bounds of what a picture shows, turned as the block lies: what is there and what is added, no less than a share of
// the complete block.
func (d *drawing) bounds(n frame) page.Box {
	of := func(lists ...[]shape) page.Box {
		var polys []plan.Polygon
		for _, l := range lists {
			for _, s := range l {
				polys = append(polys, s.poly)
			}
		}
		return view.Bounds(n.turned, polys...)
	}
	b, whole := of(n.there, n.added), of(n.whole)
	for k := range 2 {
		if more := (least*(whole[k+2]-whole[k]) - b[k+2] + b[k]) / 2; more > 0 {
			b[k], b[k+2] = b[k]-more, b[k+2]+more
		}
	}
	return b
}

// arrow shows how a part goes in, and returns what it takes.
func (d *drawing) arrow(
	pg *page.Page,
	x plan.Part,
	rings [][]page.Point,
	v view.View,
	frame, cell page.Box,
) []page.Box {
	const length = 9.0
	switch {
	case x.How == plan.First || len(rings) == 0:
		return nil
	case x.How == plan.WrapOn || x.How == plan.RollInto:
		b := view.Box(rings)
		c := page.Point{(b[0] + b[2]) / 2, (b[1] + b[3]) / 2}
		r := math.Max(b[2]-b[0], b[3]-b[1])/2 + 2.5
		return round(pg, c, r, 150, 30)
	}
	// From above, or the way the part comes: the tip is where the way back leaves the part.
	dir := page.Point{0, 1}
	if x.Direction != nil {
		q := v.Along(*x.Direction)
		if n := math.Hypot(q[0], q[1]); n > 1e-9 {
			dir = page.Point{q[0] / n, q[1] / n}
		}
	} else if b := view.Box(rings); x.How == plan.Bend {
		q := page.Point{(frame[0]+frame[2])/2 - (b[0]+b[2])/2, (frame[1]+frame[3])/2 - (b[1]+b[3])/2}
		if n := math.Hypot(q[0], q[1]); n > 0.5 {
			dir = page.Point{q[0] / n, q[1] / n}
		}
	}
	tip := page.Pole(rings)
	for page.Inside(rings, tip) {
		tip = page.Point{tip[0] - dir[0]*0.25, tip[1] - dir[1]*0.25}
	}
	tip = page.Point{tip[0] - dir[0]*0.8, tip[1] - dir[1]*0.8}
	tail := page.Point{tip[0] - dir[0]*length, tip[1] - dir[1]*length}
	for k := range 2 { // inside the cell
		tail[k] = math.Max(cell[k]+1, math.Min(cell[k+2]-1, tail[k]))
		tip[k] = math.Max(cell[k]+1, math.Min(cell[k+2]-1, tip[k]))
	}
	shaft := []page.Point{tail, tip}
	if x.How == plan.Bend { // bowed
		side := page.Point{-dir[1], dir[0]}
		shaft = shaft[:0]
		for i := 0; i <= 8; i++ {
			u := float64(i) / 8
			bow := 2.5 * 4 * u * (1 - u)
			q := page.Point{tail[0] + (tip[0]-tail[0])*u + side[0]*bow, tail[1] + (tip[1]-tail[1])*u + side[1]*bow}
			for k := range 2 {
				q[k] = math.Max(cell[k]+0.7, math.Min(cell[k+2]-0.7, q[k]))
			}
			shaft = append(shaft, q)
		}
	}
	return headed(pg, shaft)
}

// headed draws a line with a head at its end, white below so that it shows on anything.
func headed(pg *page.Page, line []page.Point) []page.Box {
	tip, before := line[len(line)-1], line[len(line)-2]
	n := math.Hypot(tip[0]-before[0], tip[1]-before[1])
	if n < 0.05 {
		return nil
	}
	ux, uy := (tip[0]-before[0])/n, (tip[1]-before[1])/n
	const long, half = 3.2, 1.7
	base := page.Point{tip[0] - ux*long, tip[1] - uy*long}
	head := []page.Point{tip, {base[0] - uy*half, base[1] + ux*half}, {base[0] + uy*half, base[1] - ux*half}}
	shaft := append(append([]page.Point(nil), line[:len(line)-1]...), base)
	pg.Add(page.Path{Rings: [][]page.Point{shaft}, Open: true, Stroke: "#ffffff", Width: 2})
	pg.Add(page.Path{Rings: [][]page.Point{head}, Fill: "#ffffff", Stroke: "#ffffff", Width: 0.8})
	pg.Add(page.Path{Rings: [][]page.Point{shaft}, Open: true, Stroke: "#000000", Width: 1})
	pg.Add(page.Path{Rings: [][]page.Point{head}, Fill: "#000000"})
	return []page.Box{view.Box([][]page.Point{line, head})}
}

// round draws an arrow on a circle, from one angle to another (degrees, y up).
func round(pg *page.Page, c page.Point, r, from, to float64) []page.Box {
	var line []page.Point
	for i := 0; i <= 24; i++ {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/24) * math.Pi / 180)
		line = append(line, page.Point{c[0] + r*cos, c[1] - r*sin})
	}
	return headed(pg, line)
}

// turnSign is a round arrow the way a block is turned.
func turnSign(pg *page.Page, c page.Point, deg float64) page.Box {
	if deg > 0 {
		round(pg, c, 4, -20, 250)
	} else {
		round(pg, c, 4, 200, -70)
	}
	return page.Box{c[0] - 5.5, c[1] - 5.5, c[0] + 5.5, c[1] + 5.5}
}

// explode draws the log's parts apart; numbers that find no place stand on a further drawing.
func (d *drawing) explode(f *sheet.Flow) {
	t := d.s.T()
	shapes := d.fr.exploded()
	label := shapes
	for len(label) > 0 {
		f.Fresh()
		f.Paragraph(t.Text("pictures.exploded")+". "+t.Text("pictures.exploded_intro"), sheet.TextSize, false)
		b := bounds(shapes)
		const sides = 16.0
		room := page.Box{sheet.Margin, f.Y, f.Page.W - sheet.Margin, f.Foot}
		k := math.Min((room[2]-room[0]-2*sides)/(b[2]-b[0]), (room[3]-room[1]-2*below)/(b[3]-b[1]))
		k = math.Min(k, 1)
		v := view.View{Scale: k, Centre: page.Point{(room[0]+room[2])/2 - k*(b[0]+b[2])/2, room[1] + below + k*b[3]}}
		for _, s := range shapes {
			rings := v.Place(s.poly)
			d.inks.Draw(f.Page, s.e.Colour, rings, page.Pole(rings), 0.35)
		}
		var tags []page.Tag
		for _, s := range label {
			tags = append(tags, page.Tag{Rings: v.Place(s.poly), Text: fmt.Sprint(s.e.Number)})
		}
		frame := page.Box{v.Centre[0] + k*b[0], v.Centre[1] - k*b[3], v.Centre[0] + k*b[2], v.Centre[1] - k*b[1]}
		var left []shape
		for _, i := range f.Page.Labels(tags, frame, room, sheet.NumberSize, nil) {
			left = append(left, label[i])
		}
		if len(left) == len(label) {
			break
		}
		label = left
	}
}
