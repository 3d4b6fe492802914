// Package parts prints the list of distinct parts in the order of laying: number, section drawn, colour, size, form,
// copies, and the grams to make.
//
// Guarantees: each distinct part has one row; a row that does not fit is left for the next page, not made smaller.
package parts

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// Rows of the table, millimetres.
const (
	tallest  = 19.0
	Tight    = 10.2 // the shortest
	oneUpTo  = 11   // rows in one column
	Head     = 9.0  // of the table
	apart    = 8.0
	leastDim = 5.0 // to which a section is raised
)

// Distinct parts in the order of laying, which is that of their numbers.
func Distinct(p *plan.Plan) []plan.Element {
	seen := map[int]bool{}
	var out []plan.Element
	for _, e := range p.Elements {
		if !seen[e.Number] {
			seen[e.Number] = true
			out = append(out, e)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Number < out[j].Number })
	return out
}

// Columns that so many rows stand in, and how many rows find room in a height.
func Columns(rows int, height float64) (columns, room int) {
	columns = 1
	if rows > oneUpTo {
		columns = 2
	}
	return columns, columns * int((height-Head)/Tight) // none where the height is too little
}

// table is where the rows go.
type table struct {
	pg    *page.Page
	p     *plan.Plan
	s     sheet.Style
	inks  sheet.Inks
	scale float64 // of all sections
	tight bool    // rows of two lines
}

// Draw as many of the parts as find room in a box; it returns those that did not.
func Draw(pg *page.Page, p *plan.Plan, s sheet.Style, parts []plan.Element, box page.Box) (left []plan.Element) {
	t := s.T()
	columns, room := Columns(len(parts), box[3]-box[1])
	room = max(columns, room) // so that a list always goes on
	head(pg, p, s, box)
	n := min(len(parts), room)
	rows := (n + columns - 1) / columns
	width := (box[2] - box[0] - apart*float64(columns-1)) / float64(columns)
	high := math.Min(tallest, (box[3]-box[1]-Head)/float64(max(1, rows)))
	d := table{pg: pg, p: p, s: s, inks: s.Inks(p), tight: columns > 1}
	d.scale = d.common(parts, width, high)
	for i, e := range parts[:n] {
		x, y := box[0]+float64(i/rows)*(width+apart), box[1]+Head+high*float64(i%rows)
		if i%rows > 0 {
			pg.Line(page.Point{x, y}, page.Point{x + width, y}, sheet.Rule)
		} else {
			pg.Line(page.Point{x, y}, page.Point{x + width, y}, sheet.Bold)
		}
		d.row(e, page.Box{x, y, x + width, y + high})
	}
	if n < len(parts) {
		pg.Write(page.Text{At: page.Point{box[2], box[3] + 4}, Size: sheet.Lean, Anchor: "end", Text: t.Text("parts.more", len(parts)-n)})
	}
	return parts[n:]
}

// head says what holds for all rows.
func head(pg *page.Page, p *plan.Plan, s sheet.Style, box page.Box) {
	t := s.T()
	title := page.Text{At: page.Point{box[0], box[1] + 5.5}, Size: sheet.Arm, Bold: true, Text: t.Text("parts.title")}
	pg.Write(title)
	unit := "parts.unit_mm"
	if s.US {
		unit = "parts.unit_in"
	}
	long := float64(p.Log.LengthMM + p.Shop.AllowanceMM)
	width := box[2] - box[0] - page.Width(title) - 4
	for _, l := range sheet.Fitted(width, sheet.Lean, 1, t.Text(unit, s.Length(long)), s.Length(long)) {
		pg.Write(page.Text{At: page.Point{box[2], box[1] + 5.5}, Size: sheet.Lean, Anchor: "end", Fill: "#444444", Text: l})
	}
}

// common is the scale of all sections but the sheets', which are drawn flat.
func (d *table) common(parts []plan.Element, width, high float64) float64 {
	k := 1.0
	w, h := d.section(width, high)
	for _, e := range parts {
		if e.Form == plan.Wrap {
			continue
		}
		b := view.Bounds(0, Section(d.p, e))
		k = math.Min(k, math.Min(w/(b[2]-b[0]), h/(b[3]-b[1])))
	}
	return k
}

// section is the room for a drawn section.
func (d *table) section(width, high float64) (w, h float64) {
	if d.tight {
		return 14, high - 1.5
	}
	return 28, high - 3
}

// row of one part.
func (d *table) row(e plan.Element, box page.Box) {
	number, figure, square := sheet.Glance, sheet.Figure, 7.6
	numberEnd, text := 11.0, 52.0
	if d.tight {
		number, figure, square = sheet.Glance, sheet.Arm, 6.0
		numberEnd, text = 10.5, 35.0
	}
	mid := (box[1] + box[3]) / 2
	d.pg.Write(page.Text{At: page.Point{box[0] + numberEnd, mid + number/2}, Size: number, Bold: true, Anchor: "end", Text: fmt.Sprint(e.Number)})
	w, h := d.section(box[2]-box[0], box[3]-box[1])
	d.drawn(e, page.Point{box[0] + numberEnd + 2 + w/2, mid}, w, h)
	d.inks.Square(d.pg, e.Colour, box[0]+text-square-2, mid-square/2, square, 0.5*square)
	copies, _, _ := Copies(d.p, e)
	if d.tight {
		d.twoLines(e, copies, page.Box{box[0] + text, box[1], box[2], box[3]}, figure)
		return
	}
	base := mid + figure/2
	x := d.size(e, page.Point{box[0] + text, base}, figure)
	right := d.grams(e, page.Point{box[2], base}, figure)
	from := math.Max(x+3, box[0]+97)
	if copies > 1 {
		of := page.Text{At: page.Point{from, mid + sheet.Arm/2}, Size: sheet.Arm, Bold: true, Text: d.s.T().Text("parts.copies", copies)}
		d.pg.Write(of)
		from += page.Width(of) + 3
	}
	from = math.Max(from, box[0]+111)
	lines := d.words(e, "", right-4-from, int((box[3]-box[1]-1.5)/(1.55*sheet.Lean)))
	y := mid + sheet.Lean/2 - 1.55*sheet.Lean*float64(len(lines)-1)/2
	for i, l := range lines {
		d.pg.Write(page.Text{At: page.Point{from, y + 1.55*sheet.Lean*float64(i)}, Size: sheet.Lean, Text: l})
	}
}

// twoLines writes a row of two columns: size and grams above, copies and words below.
func (d *table) twoLines(e plan.Element, copies int, box page.Box, figure float64) {
	size, more := d.s.Across(e)
	grams := page.Text{Size: figure, Bold: true, Text: d.s.Grams(d.all(e))}
	end := box[2] - page.Width(grams)
	width := page.Width(page.Text{Text: size, Size: figure, Bold: true}) + 3 + page.Width(page.Text{Text: more, Size: sheet.Lean})
	beside := box[0]+width < end-1
	first := more
	if beside {
		first = ""
	}
	of := page.Text{Size: sheet.Lean, Bold: true, Text: d.s.T().Text("parts.copies", copies)}
	left := box[0]
	if copies > 1 {
		left += page.Width(of) + 2
	}
	const below, line = 4.3, 1.4 * sheet.Lean
	room := box[3] - box[1] - figure - below - 2.4 // for more than one line of words
	lines := d.words(e, first, box[2]-left, 1+int(room/line))
	base := box[1] + figure + (box[3]-box[1]-figure-below-line*float64(len(lines)-1))/2
	d.grams(e, page.Point{box[2], base}, figure)
	d.pg.Write(page.Text{At: page.Point{box[0], base}, Size: figure, Bold: true, Text: size})
	if beside && more != "" {
		d.pg.Write(page.Text{At: page.Point{box[0] + width - page.Width(page.Text{Text: more, Size: sheet.Lean}) - 1, base}, Size: sheet.Lean, Text: more})
	}
	if copies > 1 {
		of.At = page.Point{box[0], base + below}
		d.pg.Write(of)
	}
	for i, l := range lines {
		d.pg.Write(page.Text{At: page.Point{left, base + below + line*float64(i)}, Size: sheet.Lean, Text: l})
	}
}

// size writes the section's size, and returns where it ends.
func (d *table) size(e plan.Element, at page.Point, figure float64) float64 {
	size, more := d.s.Across(e)
	t := page.Text{At: at, Size: figure, Bold: true, Text: size}
	d.pg.Write(t)
	x := at[0] + page.Width(t)
	if more != "" {
		t = page.Text{At: page.Point{x + 2, at[1]}, Size: sheet.Lean, Text: more}
		d.pg.Write(t)
		x = t.At[0] + page.Width(t)
	}
	return x
}

// all grams of a part and its copies.
func (d *table) all(e plan.Element) float64 {
	_, _, g := Copies(d.p, e)
	return g
}

// grams to make, copies and all; it returns where they start.
func (d *table) grams(e plan.Element, end page.Point, figure float64) float64 {
	t := page.Text{At: end, Size: figure, Bold: true, Anchor: "end", Text: d.s.Grams(d.all(e))}
	d.pg.Write(t)
	return math.Min(t.Start(), end[0]-19)
}

// words of a row: form and what is done to it, how long it is made, how it is chopped, turned; what does not fit is left
// to the gauge.
func (d *table) words(e plan.Element, first string, width float64, lines int) []string {
	t := d.s.T()
	_, mirrored, _ := Copies(d.p, e)
	var made []string
	pieces, thick := d.p.Index().Pieces(&e), d.p.Index().Scale(&e) > 1
	switch {
	case thick:
		made = append(made, t.Text("parts.thick", sheet.Span(d.p, e.Block)))
	case pieces > 1:
		made = append(made, t.Text("parts.chop", d.s.Long(e), pieces))
	}
	if mirrored > 0 {
		made = append(made, t.Text("parts.turned", mirrored))
	}
	if e.Turned {
		made = append(made, t.Text("parts.turn"))
	}
	join := func(parts ...string) (out string) {
		for _, x := range parts {
			switch {
			case x == "":
			case out == "":
				out = x
			default:
				out += "\u00a0· " + x
			}
		}
		return out
	}
	more := join(made...)
	gauge := t.Text("parts.gauge")
	form := d.s.Form(e)
	shape := d.s.Shape(e)
	if e.Form == plan.Wrap {
		form, shape = t.Text("parts.wrap"), t.Text("parts.wrap")
	}
	if shape == form {
		gauge = ""
	}
	return sheet.Fitted(width, sheet.Lean, lines, join(first, shape, more), join(first, form, gauge, more), join(first, form, more), join(first, more), join(made[:min(1, len(made))]...))
}

// drawn is a part's section, round a point.
func (d *table) drawn(e plan.Element, c page.Point, w, h float64) {
	if e.Form == plan.Wrap { // flat, as it is pressed out
		thick := math.Max(1.4, math.Min(h, d.scale*float64(e.Size["thickness_mm"])))
		d.inks.Draw(d.pg, e.Colour, [][]page.Point{page.Rect(c[0]-w/2, c[1]-thick/2, w, thick)}, c, sheet.Outline)
		return
	}
	poly := Section(d.p, e)
	b := view.Bounds(0, poly)
	wide, high := b[2]-b[0], b[3]-b[1]
	k := math.Max(d.scale, leastDim/math.Max(wide, high))
	k = math.Min(k, math.Min(w/wide, h/high))
	v := view.View{Scale: k, Centre: page.Point{c[0] - k*(b[0]+b[2])/2, c[1] + k*(b[1]+b[3])/2}}
	rings := v.Place(poly)
	d.inks.Draw(d.pg, e.Colour, rings, page.Pole(rings), sheet.Outline)
}

// Single is a part's section on a page of its own, as it is made, with its width and its height, for a screen.
func Single(p *plan.Plan, s sheet.Style, e plan.Element, w, h float64) *page.Page {
	pg := &page.Page{W: w, H: h, Least: sheet.NumberSize}
	poly := Section(p, e)
	if e.Form == plan.Wrap { // flat, as it is pressed out
		x, y := e.Size["width_mm"], e.Size["thickness_mm"]
		poly = plan.Polygon{{{0, 0}, {x, 0}, {x, y}, {0, y}}}
	}
	b := view.Bounds(0, poly)
	const side, below = 24.0, 12.0
	k := math.Min((w-2*side)/(b[2]-b[0]), (h-below-6)/(b[3]-b[1]))
	c := page.Point{w / 2, 3 + (h-below-6)/2}
	v := view.View{Scale: k, Centre: page.Point{c[0] - k*(b[0]+b[2])/2, c[1] + k*(b[1]+b[3])/2}}
	rings := v.Place(poly)
	s.Inks(p).Draw(pg, e.Colour, rings, page.Pole(rings), sheet.Bold)
	o := view.Box(rings)
	dimension := func(a, z page.Point, text page.Text) {
		pg.Add(page.Path{Rings: [][]page.Point{{a, z}}, Open: true, Stroke: "#000000", Width: sheet.Outline})
		pg.Write(text)
	}
	y, x := o[3]+2, o[2]+2
	dimension(page.Point{o[0], y}, page.Point{o[2], y}, page.Text{At: page.Point{(o[0] + o[2]) / 2, y + 1.3*sheet.NumberSize}, Size: sheet.NumberSize, Bold: true, Anchor: "middle", Text: s.Section(b[2] - b[0])})
	dimension(page.Point{x, o[1]}, page.Point{x, o[3]}, page.Text{At: page.Point{x + 1.5, (o[1]+o[3])/2 + sheet.NumberSize/2}, Size: sheet.NumberSize, Bold: true, Text: s.Section(b[3] - b[1])})
	return pg
}

// Copies of a part: how many in all, how many of them mirrored, and the grams of all.
func Copies(p *plan.Plan, e plan.Element) (n, mirrored int, grams float64) {
	for _, o := range p.Index().Alike(e.Number) {
		n++
		if o.Mirrored != e.Mirrored {
			mirrored++
		}
	}
	return n, mirrored, float64(p.Index().Pieces(&e)) * sheet.Made(p, e)
}

// Section of a part as hands make it: laid, in its block where that is rolled round by itself, and as thick as it is
// built there.
func Section(p *plan.Plan, e plan.Element) plan.Polygon {
	poly, k := e.Laid, plan.Num(p.Index().Scale(&e))
	if len(e.InBlock) > 0 {
		poly = e.InBlock
	}
	if k == 1 {
		return poly
	}
	out := make(plan.Polygon, len(poly))
	for i, ring := range poly {
		for _, q := range ring {
			out[i] = append(out[i], plan.Point{k * q[0], k * q[1]})
		}
	}
	return out
}
