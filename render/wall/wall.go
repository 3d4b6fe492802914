// Package wall prints the one sheet that hangs at the slab: where each part goes, what is made, how much of each colour,
// who does what when, and a picture of each move.
//
// Guarantees: nothing is smaller than its distance allows: what finds no room goes to a second page, what is made on the
// first and when on the second; the caution in one line on each.
package wall

import (
	"fmt"
	"math"
	"slices"

	"sugarwright/planner/plan"
	"sugarwright/render/diagram"
	"sugarwright/render/lanes"
	"sugarwright/render/page"
	"sugarwright/render/parts"
	"sugarwright/render/pictures"
	"sugarwright/render/sheet"
)

// The grid, millimetres.
const (
	margin   = 10.0
	overhang = 1.0 // how far a letter may reach out of its zone
	gap      = 2.5 // between zones
	barH     = 9.0
	footH    = 4.5
	leftPart = 172.0 / 400 // of the width: the diagram
	between  = 9.0
	feelH    = 6.5
	frameW   = 28.4 // the narrowest
	widest   = 80.0
	tallH    = 41.0 // of a frame, with height to spare
	leastH   = 36.0
	dentsW   = 52.0
	captionH = 5.0
	mostLed  = 30 // numbers outside the diagram, on a sheet with all on it
)

// Pages of the wall sheet: one; two, where one has no room for all or the paper is small; more, where a list of parts or
// a row of frames goes on.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	d := newDrawing(p, s)
	rows := (len(d.frames.Frames) + d.perRow() - 1) / d.perRow()
	if !s.Split && rows <= 2 {
		if d.all(rows) {
			return d.done()
		}
		d = newDrawing(p, s)
	}
	for left := d.parts; len(left) > 0; {
		left = d.what(left)
	}
	for from := 0; from < len(d.frames.Frames); {
		from = d.when(from)
	}
	return d.done()
}

// Frames that are also printed large: those whose parts the wall draws smaller than this, on so many pages at most.
const (
	small     = 6.0
	fewParts  = 12 // laid: up to here none is
	manyParts = 30
	perPage   = 8
	worth     = 3 // a page
)

// Large pictures of the frames whose parts are small on the wall.
func Large(p *plan.Plan, s sheet.Style) []*page.Page {
	n := len(p.Elements)
	if n <= fewParts {
		return nil
	}
	room := perPage
	if n > manyParts {
		room = 2 * perPage
	}
	d := newDrawing(p, s)
	w := d.w / float64(max(1, min(d.perRow(), len(d.frames.Frames))))
	cell := page.Box{0, 0, w - 2, leastH - 6.5 - captionH}
	type drawn struct {
		frame, extent int
	}
	var list []drawn
	for i, f := range d.frames.Frames {
		if x := d.frames.Extent(f, cell); x < small {
			list = append(list, drawn{i, int(1000 * x)})
		}
	}
	slices.SortStableFunc(list, func(a, b drawn) int { return a.extent - b.extent })
	if list = list[:min(len(list), room)]; len(list) < worth {
		return nil
	}
	slices.SortFunc(list, func(a, b drawn) int { return a.frame - b.frame })
	var frames []pictures.Frame
	for _, x := range list {
		frames = append(frames, d.frames.Frames[x.frame])
	}
	return d.frames.Large(p, s, frames)
}

// drawing is the sheet in the making.
type drawing struct {
	p      *plan.Plan
	s      sheet.Style
	scale  float64
	w, h   float64 // of what is inside the margins
	pages  []*page.Page
	pg     *page.Page
	y      float64
	foot   float64 // where zones end
	frames *pictures.Set
	parts  []plan.Element
}

func newDrawing(p *plan.Plan, s sheet.Style) *drawing {
	paper, k := s.Wall()
	return &drawing{p: p, s: s, scale: k, w: paper.W/k - 2*margin, h: paper.H/k - 2*margin, frames: pictures.Of(p, s), parts: parts.Distinct(p)}
}

// perRow is how many frames stand in a row.
func (d *drawing) perRow() int { return int(d.w / frameW) }

// fresh starts a page with its head and its caution.
func (d *drawing) fresh() {
	d.pg = &page.Page{W: d.w + 2*margin, H: d.h + 2*margin, Margin: margin - overhang, Least: sheet.Foot, Title: page.Clean(d.p.Artwork.Title)}
	d.pages = append(d.pages, d.pg)
	d.head()
	d.bar()
	d.foot = margin + d.h - footH - barH - gap
}

// all on one page; false where something has no room.
func (d *drawing) all(rows int) bool {
	d.fresh()
	high := leastH
	lanesH := lanes.Height(d.p.Shop.Crew)
	fixed := func() float64 { return lanesH + 2*gap + feelH + high*float64(rows) + gap }
	if rows == 1 { // frames give way before the rows of the parts
		high = tallH
		if columns, _ := parts.Columns(len(d.parts), 0); float64((len(d.parts)+columns-1)/columns)*parts.Tight+parts.Head > d.foot-d.y-fixed() {
			high = leastH
		}
	}
	whatFoot := d.foot - fixed()
	if _, room := parts.Columns(len(d.parts), whatFoot-d.y); room < len(d.parts) {
		return false
	}
	led, left := d.left(page.Box{margin, d.y, margin + leftPart*d.w, whatFoot})
	if left > 0 || led > mostLed {
		return false
	}
	parts.Draw(d.pg, d.p, d.s, d.parts, page.Box{margin + leftPart*d.w + between, d.y, margin + d.w, whatFoot})
	d.border(whatFoot + gap/2)
	d.y = whatFoot + gap + 1
	d.lanes(lanesH)
	d.row(0, rows, high)
	return true
}

// what is made and where it goes, on a page of its own.
func (d *drawing) what(list []plan.Element) (left []plan.Element) {
	first := len(d.pages) == 0
	d.fresh()
	right := page.Box{margin, d.y, margin + d.w, d.foot - 5}
	if first {
		d.left(page.Box{margin, d.y, margin + leftPart*d.w, d.foot})
		right[0] += leftPart*d.w + between
	}
	return parts.Draw(d.pg, d.p, d.s, list, right)
}

// when it is done, on a page of its own: the lanes, and as many frames as find room; it returns the first that does not.
func (d *drawing) when(from int) int {
	d.fresh()
	d.lanes(1.3 * lanes.Height(d.p.Shop.Crew))
	room := d.foot - d.y - feelH
	fit := max(1, int(room/leastH))
	rows := min(fit, (len(d.frames.Frames)-from+d.perRow()-1)/d.perRow())
	return d.row(from, rows, math.Min(1.6*tallH, room/float64(rows)))
}

// border draws a line between zones.
func (d *drawing) border(y float64) {
	d.pg.Line(page.Point{margin, y}, page.Point{margin + d.w, y}, sheet.Border)
}

// head is the picture's name, and the numbers of the whole work.
func (d *drawing) head() {
	t, s, p := d.s.T(), d.s, d.p
	type fact struct{ label, value string }
	var facts []fact
	if c := p.Clock; c != nil {
		if c.CloseByMin >= c.ClosedMin {
			facts = append(facts, fact{t.Text("wall.close_by"), sheet.Clock(float64(c.CloseByMin))}, fact{t.Text("wall.last_by"), sheet.Clock(float64(c.LastLengthByMin))})
		} else {
			facts = append(facts, fact{t.Text("wall.closed"), sheet.Clock(float64(c.ClosedMin))}, fact{t.Text("wall.drawn"), sheet.Clock(float64(c.DrawnMin))})
		}
	}
	facts = append(facts,
		fact{t.Text("wall.pieces"), fmt.Sprint(p.Piece.Count)},
		fact{t.Text("wall.piece"), "⌀\u00a0" + s.Pair(float64(p.Piece.DiameterMM), float64(p.Piece.LengthMM))},
		fact{t.Text("wall.log"), s.Grams(float64(p.Log.MassG)) + ", " + s.Length(float64(p.Log.LengthMM))})
	x := margin + d.w
	base := margin + 11
	for i := len(facts) - 1; i >= 0; i-- {
		label := page.Text{Size: sheet.Lean, Text: facts[i].label, Fill: "#444444"}
		value := page.Text{Size: sheet.Figure, Bold: true, Text: facts[i].value}
		x -= math.Max(page.Width(label), page.Width(value))
		label.At, value.At = page.Point{x, base - 7.5}, page.Point{x, base}
		d.pg.Write(label)
		d.pg.Write(value)
		x -= 8
	}
	d.y = d.title(x-margin-4) + gap/2
	d.border(d.y)
	d.y += gap
}

// title in the largest type in which it fits; its lines grow downwards. It returns where it ends.
func (d *drawing) title(width float64) float64 {
	name := page.Clean(d.p.Artwork.Title)
	size, lines := sheet.Title, []string(nil)
	for _, size = range []float64{sheet.Title, sheet.Glance, sheet.Arm, sheet.Lean} {
		if lines = page.Wrap(page.Text{Text: name, Size: size, Bold: true}, width); float64(len(lines))*1.4*size <= 15 {
			break
		}
	}
	y := margin + 1.2*size
	if len(lines) == 1 {
		y = margin + 11
	}
	for i, l := range lines {
		d.pg.Write(page.Text{At: page.Point{margin, y + 1.4*size*float64(i)}, Size: size, Bold: true, Text: l})
	}
	return math.Max(margin+12.5, y+1.4*size*float64(len(lines)-1)+0.4*size)
}

// bar is the caution, white on black, and below it the foot.
func (d *drawing) bar() {
	t := d.s.T()
	y := margin + d.h - footH - barH
	d.pg.Add(page.Path{Rings: [][]page.Point{page.Rect(margin, y, d.w, barH)}, Fill: "#000000"})
	hot := page.Text{At: page.Point{margin + 4, y + barH/2 + sheet.Arm/2}, Size: sheet.Arm, Bold: true, Fill: "#ffffff", Text: t.Text("wall.hot")}
	d.pg.Write(hot)
	lines := sheet.Fitted(d.w-page.Width(hot)-14, 3, 2, t.Text("wall.burn"))
	for i, l := range lines {
		base := y + barH/2 + 1.5 + 4*(float64(i)-float64(len(lines)-1)/2)
		d.pg.Write(page.Text{At: page.Point{margin + d.w - 4, base}, Size: 3, Anchor: "end", Fill: "#ffffff", Text: l})
	}
}

// done numbers the pages and prints them at their size.
func (d *drawing) done() []*page.Page {
	t := d.s.T()
	out := make([]*page.Page, len(d.pages))
	for i, pg := range d.pages {
		base := margin + d.h - 0.3
		n := page.Text{At: page.Point{margin + d.w, base}, Size: sheet.Foot, Anchor: "end", Text: t.Text("wall.page", i+1, len(d.pages))}
		pg.Write(n)
		signs := t.Text("wall.signs")
		of := d.s.For(d.p)
		if d.scale != 1 {
			signs = t.Text("wall.smaller", int(math.Round(100*d.scale))) + " · " + signs
		}
		width := d.w - page.Width(n) - 6
		for _, l := range sheet.Fitted(width, sheet.Foot, 1, of+" · "+signs, signs)[:1] {
			pg.Write(page.Text{At: page.Point{margin, base}, Size: sheet.Foot, Text: l})
		}
		out[i] = pg
		if d.scale != 1 {
			out[i] = pg.Scaled(d.scale)
		}
	}
	return out
}

// lanes with what a dent in the closed log says beside them.
func (d *drawing) lanes(high float64) {
	box := page.Box{margin, d.y, margin + d.w - dentsW - 5, d.y + high}
	lanes.Draw(d.pg, d.p, d.s, box)
	d.dents(page.Box{margin + d.w - dentsW, d.y, margin + d.w, d.y + high})
	d.border(d.y + high + gap/2)
	d.y += high + gap + 0.5
}

// left half: the diagram, the colours and the boil; it returns what the diagram could not number inside.
func (d *drawing) left(box page.Box) (led, left int) {
	t := d.s.T()
	h := d.coloursHeight(box[2] - box[0])
	d.pg.Write(page.Text{At: page.Point{box[0], box[1] + 5.5}, Size: sheet.Arm, Bold: true, Text: t.Text("wall.where")})
	d.pg.Write(page.Text{At: page.Point{box[2], box[1] + 5.5}, Size: sheet.Lean, Anchor: "end", Fill: "#444444", Text: t.Text("wall.seen")})
	led, left = diagram.Draw(d.pg, d.p, d.s, page.Box{box[0], box[1] + 8, box[2], box[3] - h - 1})
	d.colours(page.Box{box[0], box[3] - h, box[2], box[3]})
	return led, left
}
