// Package pictures draws one picture for each major step, as it lies on the slab: what lies there in grey, what is added
// in its colour with its number, and an arrow the way it goes; and the log taken apart.
//
// Guarantees: each part is added in one picture, by itself, with its copies, or in its block; pictures stand block by
// block in the order of building, as they lie, turned when the block is.
//
// References: Agrawala et al. 2003, Designing effective step-by-step assembly instructions (one picture a step, added
// parts set off); Novick and Morse 2000 (a final picture alone is not enough).
package pictures

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// Of a picture's cell, millimetres and shares.
const (
	longest  = 7.5 // an arrow
	share    = 5.0 // of the cell's width it is at most one part
	smallest = 6.0 // a part is at least one part of what is shown
	window   = 4.6 // times the part, where it would be less
	pad      = 1.5
	captionH = 1.5 * sheet.Lean
)

// Set is the pictures of a plan.
type Set struct {
	Frames []Frame
	d      *drawing
}

// Frame is one picture: the steps that it shows, from when, who does them, and what hands need to know beside it.
type Frame struct {
	Steps   []plan.Step // a turn first, where there is one
	Parts   []string    // numbers of what is added
	Caption []string    // in words, what matters most first
	frame   frame
}

// Of a plan.
func Of(p *plan.Plan, s sheet.Style) *Set {
	fr := newFramer(p)
	out := &Set{d: &drawing{p: p, s: s, inks: s.Inks(p), fr: fr}}
	for _, n := range fr.frames() {
		f := Frame{frame: n, Caption: out.d.caption(n)}
		if n.turn != nil {
			f.Steps = append(f.Steps, *n.turn)
		}
		f.Steps = append(f.Steps, n.steps...)
		for _, x := range n.parts {
			if name := out.d.named(x.Part); !slices.Contains(f.Parts, name) {
				f.Parts = append(f.Parts, name)
			}
		}
		out.Frames = append(out.Frames, f)
	}
	return out
}

// drawing draws frames.
type drawing struct {
	p    *plan.Plan
	s    sheet.Style
	inks sheet.Inks
	fr   *framer
}

// named is a part by its number, a block by those in it.
func (d *drawing) named(part string) string {
	if e := d.fr.x.Element(part); e != nil {
		return fmt.Sprint(e.Number)
	}
	return sheet.Span(d.p, part)
}

// caption says what the picture cannot: a turn before, that it starts a block, bending and wrapping, copies of a block,
// what holds it.
func (d *drawing) caption(n frame) (out []string) {
	t, x := d.s.T(), d.fr.x
	if n.turn != nil {
		out = append(out, t.Text("frame.turn", say.Turned(n.now)))
	}
	if len(n.there) == 0 && !x.IsLog(n.block) {
		out = append(out, t.Text("frame.start", sheet.Span(d.p, n.block)))
	}
	switch how := n.parts[len(n.parts)-1].How; how {
	case plan.Bend, plan.FoldUp, plan.WrapOn, plan.RollInto:
		out = append(out, t.Text("frame."+string(how)))
	}
	if b := x.Block(n.block); b != nil && n.parts[len(n.parts)-1].Part == b.Parts[len(b.Parts)-1].Part {
		if pieces := d.chopped(n.block); pieces > 1 {
			out = append(out, t.Text("frame.chop", pieces))
		}
	}
	if m := d.mirrored(n); m > 0 {
		out = append(out, t.Text("frame.mirrored"))
	}
	switch n.steps[len(n.steps)-1].Stands {
	case plan.Propped:
		out = append(out, t.Text("frame.propped"))
	case plan.Tacked, plan.Held:
		out = append(out, t.Text("frame.tacked"))
	}
	return out
}

// chopped is into how many a finished block is chopped.
func (d *drawing) chopped(block string) int {
	for _, st := range d.p.Steps {
		if st.Do == plan.DoChop && len(st.Parts) > 0 && st.Parts[0] == block {
			return len(st.Parts)
		}
	}
	return 1
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

// Draw a frame's picture in a cell, its numbers so large.
func (set *Set) Draw(pg *page.Page, f Frame, cell page.Box, size float64) {
	set.d.picture(pg, f.frame, cell, size)
}

// added is a part on the page.
type added struct {
	rings [][]page.Point
	text  string
}

// picture draws one frame in a cell.
func (d *drawing) picture(pg *page.Page, n frame, cell page.Box, size float64) {
	arrow, room := arrowIn(cell), d.room(n, cell)
	v, pile := d.fitted(n, room)
	for _, s := range n.there {
		d.lying(pg, v.Place(s.poly), cell)
	}
	var parts []added
	at := 0
	var taken []page.Box
	shown := map[string]bool{}
	for _, x := range n.parts {
		all := added{text: d.named(x.Part)}
		for range d.fr.shapes(x.Part, n.block) {
			s := n.added[at]
			rings := v.Place(s.poly)
			d.inks.Draw(pg, s.e.Colour, rings, page.Pole(rings), sheet.Bold)
			all.rings = append(all.rings, rings...)
			at++
		}
		parts = append(parts, all)
	}
	at = 0
	for i, x := range n.parts {
		taken = append(taken, d.arrow(pg, x, n, parts[i].rings, pile, cell, arrow)...)
	}
	if n.turn != nil {
		taken = append(taken, turnSign(pg, page.Point{cell[0] + 3.8, cell[1] + 3.8}, n.now))
	}
	labels := newLabels(pg, cell, size, taken, parts, v, n)
	for _, a := range parts {
		if !shown[a.text] || len(parts) <= 2 {
			labels.put(a, d.bare(n, a.text))
		}
		shown[a.text] = true
	}
}

// arrowIn is how long an arrow is in a cell.
func arrowIn(cell page.Box) float64 { return math.Min(longest, (cell[2]-cell[0])/share) }

// room of a cell for pile and addition, less that of the arrows on the sides that they come from.
func (d *drawing) room(n frame, cell page.Box) page.Box {
	arrow := arrowIn(cell)
	room := page.Box{cell[0] + pad, cell[1] + pad, cell[2] - pad, cell[3] - pad}
	for _, x := range n.parts {
		if dir, ok := d.direction(x, n); ok {
			if dir[1] > 0.4 {
				room[1] = cell[1] + arrow + 2
			}
			if dir[1] < -0.4 {
				room[3] = cell[3] - arrow - 2
			}
			if dir[0] > 0.4 {
				room[0] = cell[0] + arrow + 2
			}
			if dir[0] < -0.4 {
				room[2] = cell[2] - arrow - 2
			}
		}
	}
	return room
}

// bare tells whether a part stands on white in itself.
func (d *drawing) bare(n frame, text string) bool {
	for _, s := range n.added {
		if fmt.Sprint(s.e.Number) == text {
			_, hatched := d.inks.Hatch(s.e.Colour)
			return !hatched
		}
	}
	return false
}

// fitted is the view in which pile and addition fill a room; where the addition would be too small in it, what lies
// round it.
func (d *drawing) fitted(n frame, room page.Box) (view.View, page.Box) {
	of := func(lists ...[]shape) page.Box {
		var polys []plan.Polygon
		for _, l := range lists {
			for _, s := range l {
				polys = append(polys, s.poly)
			}
		}
		return view.Bounds(n.turned, polys...)
	}
	b, part := of(n.there, n.added), of(n.added)
	extent := func(b page.Box) float64 { return math.Max(b[2]-b[0], b[3]-b[1]) }
	if extent(part) < extent(b)/smallest {
		r := window * extent(part) / 2
		c := page.Point{(part[0] + part[2]) / 2, (part[1] + part[3]) / 2}
		b = page.Box{c[0] - r, c[1] - r, c[0] + r, c[1] + r}
	}
	k := math.Min((room[2]-room[0])/(b[2]-b[0]), (room[3]-room[1])/(b[3]-b[1]))
	c := page.Point{(room[0]+room[2])/2 - k*(b[0]+b[2])/2, (room[1]+room[3])/2 + k*(b[1]+b[3])/2}
	return view.View{Centre: c, Scale: k, Turn: n.turned}, page.Box{c[0] + k*b[0], c[1] - k*b[3], c[0] + k*b[2], c[1] - k*b[1]}
}

// lying draws what lies there, as far as the cell shows it.
func (d *drawing) lying(pg *page.Page, rings [][]page.Point, cell page.Box) {
	bound := orb.Bound{Min: orb.Point{cell[0], cell[1]}, Max: orb.Point{cell[2], cell[3]}}
	var poly orb.Polygon
	var fill, lines [][]page.Point
	for _, r := range rings {
		r = append(r, r[0])
		lines = append(lines, page.Clipped(r, cell)...)
		ring := make(orb.Ring, len(r))
		for i, q := range r {
			ring[i] = orb.Point(q)
		}
		poly = append(poly, ring)
	}
	for _, ring := range clip.Polygon(bound, poly) {
		piece := make([]page.Point, 0, len(ring))
		for _, q := range ring {
			piece = append(piece, page.Point(q))
		}
		if len(piece) > 3 {
			fill = append(fill, piece[:len(piece)-1])
		}
	}
	if len(fill) > 0 {
		pg.Add(page.Path{Rings: fill, Fill: sheet.There})
	}
	if len(lines) > 0 {
		pg.Add(page.Path{Rings: lines, Open: true, Stroke: sheet.ThereBy, Width: sheet.Context})
	}
}

// direction in which a part comes, on the page; ok is false where it comes from nowhere: the first, and what is wrapped
// or rolled.
func (d *drawing) direction(x plan.Part, n frame) (page.Point, bool) {
	switch {
	case x.How == plan.First, x.How == plan.WrapOn, x.How == plan.RollInto:
		return page.Point{}, false
	case x.Direction != nil:
		q := view.View{Scale: 1, Turn: n.turned}.At(*x.Direction)
		if l := math.Hypot(q[0], q[1]); l > 1e-9 {
			return page.Point{q[0] / l, q[1] / l}, true
		}
	}
	return page.Point{0, 1}, true
}

// arrow shows how a part goes in, and returns what it takes.
func (d *drawing) arrow(pg *page.Page, x plan.Part, n frame, rings [][]page.Point, pile, cell page.Box, length float64) []page.Box {
	if x.How == plan.WrapOn || x.How == plan.RollInto {
		b := view.Box(rings)
		c := page.Point{(b[0] + b[2]) / 2, (b[1] + b[3]) / 2}
		r := math.Min(math.Min(cell[2]-cell[0], cell[3]-cell[1])/2-2, math.Max(b[2]-b[0], b[3]-b[1])/2-1)
		return round(pg, c, r, 130, 50)
	}
	dir, ok := d.direction(x, n)
	if !ok || len(rings) == 0 {
		return nil
	}
	if b := view.Box(rings); x.Direction == nil && x.How == plan.Bend { // towards the pile
		q := page.Point{(pile[0]+pile[2])/2 - (b[0]+b[2])/2, (pile[1]+pile[3])/2 - (b[1]+b[3])/2}
		if l := math.Hypot(q[0], q[1]); l > 0.5 {
			dir = page.Point{q[0] / l, q[1] / l}
		}
	}
	tip := page.Pole(rings)
	for page.Inside(rings, tip) {
		tip = page.Point{tip[0] - dir[0]*0.25, tip[1] - dir[1]*0.25}
	}
	tip = page.Point{tip[0] - dir[0]*0.8, tip[1] - dir[1]*0.8}
	tail := page.Point{tip[0] - dir[0]*length, tip[1] - dir[1]*length}
	for k := range 2 { // inside the cell
		tail[k] = math.Max(cell[k]+0.7, math.Min(cell[k+2]-0.7, tail[k]))
		tip[k] = math.Max(cell[k]+0.7, math.Min(cell[k+2]-0.7, tip[k]))
	}
	shaft := []page.Point{tail, tip}
	if x.How == plan.Bend { // bowed
		side := page.Point{-dir[1], dir[0]}
		shaft = shaft[:0]
		for i := 0; i <= 8; i++ {
			u := float64(i) / 8
			bow := 0.28 * length * 4 * u * (1 - u)
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
	const long, half = 3, 1.6
	base := page.Point{tip[0] - ux*long, tip[1] - uy*long}
	head := []page.Point{tip, {base[0] - uy*half, base[1] + ux*half}, {base[0] + uy*half, base[1] - ux*half}}
	shaft := append(append([]page.Point(nil), line[:len(line)-1]...), base)
	pg.Add(page.Path{Rings: [][]page.Point{shaft}, Open: true, Stroke: "#ffffff", Width: 2})
	pg.Add(page.Path{Rings: [][]page.Point{head}, Fill: "#ffffff", Stroke: "#ffffff", Width: 0.8})
	pg.Add(page.Path{Rings: [][]page.Point{shaft}, Open: true, Stroke: "#000000", Width: sheet.Border})
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
		round(pg, c, 2.6, -20, 250)
	} else {
		round(pg, c, 2.6, 200, -70)
	}
	return page.Box{c[0] - 4, c[1] - 4, c[0] + 4, c[1] + 4}
}

// Single is a frame's picture on a page of its own, for a screen.
func (set *Set) Single(f Frame, w, h float64) *page.Page {
	pg := &page.Page{W: w, H: h, Least: sheet.NumberSize}
	set.Draw(pg, f, page.Box{0.5, 0.5, w - 0.5, h - 0.5}, sheet.NumberSize)
	return pg
}

// Large are frames so many on a page, for those whose parts are drawn small elsewhere.
func (set *Set) Large(p *plan.Plan, s sheet.Style, frames []Frame) []*page.Page {
	if len(frames) == 0 {
		return nil
	}
	columns, rows := 2, 4
	switch n := len(frames); {
	case n <= 2:
		columns, rows = 1, n
	case n <= 6:
		rows = (n + 1) / 2
	}
	f := s.Start(p, s.T().Text("pictures.title"))
	w, h := f.W()/float64(columns), math.Min(120, (f.Foot-f.Y)/float64(rows))
	for i, x := range frames {
		k := i % (columns * rows)
		if i > 0 && k == 0 {
			f.Fresh()
		}
		left, top := sheet.Margin+w*float64(k%columns), f.Y+h*float64(k/columns)
		f.Page.Write(page.Text{At: page.Point{left + 2, top + 7}, Size: sheet.Arm, Bold: true, Text: sheet.Clock(float64(x.Steps[0].StartMin))})
		set.Draw(f.Page, x, page.Box{left + 2, top + 8, left + w - 2, top + h - 2}, sheet.Glance)
		if k%columns > 0 {
			f.Page.Line(page.Point{left, top + 1}, page.Point{left, top + h - 1}, sheet.Context)
		}
		if k >= columns {
			f.Page.Line(page.Point{left, top}, page.Point{left + w, top}, sheet.Context)
		}
	}
	return f.Done()
}

// Extent of what a frame adds, as it is drawn in a cell: the larger of width and height, millimetres.
func (set *Set) Extent(f Frame, cell page.Box) float64 {
	n := f.frame
	v, _ := set.d.fitted(n, set.d.room(n, cell))
	least := math.Inf(1)
	for _, x := range n.parts {
		var rings [][]page.Point
		for _, a := range set.d.fr.shapes(x.Part, n.block) {
			rings = append(rings, v.Place(a.poly)...)
		}
		b := view.Box(rings)
		least = math.Min(least, math.Max(b[2]-b[0], b[3]-b[1]))
	}
	return least
}

// Exploded is the log taken apart, each part moved back the way it is laid, on a page of its own.
func Exploded(p *plan.Plan, s sheet.Style, w, h float64) *page.Page {
	fr := newFramer(p)
	shapes, inks := fr.exploded(), s.Inks(p)
	const side = 12.0
	pg := &page.Page{W: w, H: h, Least: sheet.Arm, Title: page.Clean(p.Artwork.Title)}
	b := bounds(shapes)
	k := math.Min((w-2*side)/(b[2]-b[0]), (h-2*side)/(b[3]-b[1]))
	v := view.View{Scale: k, Centre: page.Point{w/2 - k*(b[0]+b[2])/2, h/2 + k*(b[1]+b[3])/2}}
	var tags []page.Tag
	for _, x := range shapes {
		rings := v.Place(x.poly)
		inks.Draw(pg, x.e.Colour, rings, page.Pole(rings), sheet.Outline)
		_, hatched := inks.Hatch(x.e.Colour)
		tags = append(tags, page.Tag{Rings: rings, Text: fmt.Sprint(x.e.Number), Bare: !hatched})
	}
	frame := page.Box{v.Centre[0] + k*b[0], v.Centre[1] - k*b[3], v.Centre[0] + k*b[2], v.Centre[1] - k*b[1]}
	pg.Labels(tags, page.PortsRound(frame, page.Box{0, 0, w, h}, sheet.Arm, page.Widest(tags, sheet.Arm), nil), sheet.Arm)
	return pg
}
