// Package proof draws the sheet that the client checks and signs: the sweet enlarged beside the client's own drawing, at
// true size from the front, the side and the back, as twelve of them may come out; colours, order, and what was changed.
//
// Guarantees: no words of the trade; the sweet's true size is exact, with a bar to measure; all that was changed is
// listed, and marked on the picture by its number.
package proof

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image/png"
	"math"

	"sugarwright/planner/plan"
	"sugarwright/render/forecast"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
	"sugarwright/render/words"
)

// The grid and the type, millimetres: read in the hand.
const (
	margin  = 16.0
	panel   = "#efe9df" // behind white sugar, so that it is seen as white
	shade   = "#d8d1c5"
	ink     = "#1c1a17"
	faint   = "#6b645a"
	hero    = 94.0
	own     = 38.0 // the client's drawing
	small   = 13.4
	text    = 2.9
	fine    = sheet.ClientSize
	heading = 3.8
	boxH    = 33.0
	column  = 0.303 // of the width
	gutter  = 0.0455
)

// Pages of the proof.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	d := drawing{p: asMade(p), s: s, foot: boxH}
	d.sweet()
	d.sign()
	d.number(0, len(d.pages))
	return d.pages
}

// sweet is all that is to be seen of one drawing's sweets.
func (d *drawing) sweet() {
	d.fresh()
	y := d.top()
	d.left(y)
	d.hero(y)
	y = d.dozen(d.panelH() + 10)
	d.columns(y + 6)
}

// Together is the proof of an order of several drawings, joint as plan.Joint makes it: all sweets side by side, with the
// order and the box to sign, then the pages of each.
func Together(plans []*plan.Plan, joint *plan.Plan, s sheet.Style) []*page.Page {
	all := []*drawing{{p: joint, s: s, foot: boxH}}
	first := all[0]
	first.fresh()
	first.faces(plans, first.top())
	half := 0.46 * first.w()
	l := &list{d: first, x: margin, y: first.panelH() + 8, w: half, foot: first.boxTop() - 3}
	l.order()
	first.lines(margin+first.w()-half, first.panelH()+8+1.2*text, half, text, false, faint, s.T().Text("proof.together")+" "+s.T().Text("proof.choking"))
	first.sign()
	for _, p := range plans {
		d := &drawing{p: asMade(p), s: s, foot: 2 * text}
		d.sweet()
		d.lines(margin, d.boxTop()+text, d.w(), text, true, ink, s.T().Text("proof.sign_first"))
		all = append(all, d)
	}
	var pages []*page.Page
	for _, d := range all {
		pages = append(pages, d.pages...)
	}
	n := 0
	for _, d := range all {
		d.number(n, len(pages))
		n += len(d.pages)
	}
	return pages
}

// mostFaces stand in a row of the joint proof.
const mostFaces = 4

// faces are the sweets of all drawings, enlarged alike, with their names, and at true size below each.
func (d *drawing) faces(plans []*plan.Plan, y float64) {
	cols := min(mostFaces, len(plans))
	rows := (len(plans) + cols - 1) / cols
	wide, high := d.w()/float64(cols), (d.panelH()-y-4)/float64(rows)
	piece := 0.0
	for _, p := range plans {
		piece = math.Max(piece, float64(p.Piece.DiameterMM))
	}
	across := math.Max(1, math.Min(hero, math.Min(wide-8, high-piece-22)))
	for i, p := range plans {
		one := &drawing{p: asMade(p), s: d.s, pg: d.pg}
		x, top := margin+wide*(float64(i%cols)+0.5), y+2+high*float64(i/cols)
		one.face(page.Point{x, top + across/2}, across, 1, one.planned(), shade)
		top += across + 5.5
		name := d.s.T().Text("proof.numbered", i+1, page.Clean(p.Artwork.Title), one.count())
		for _, l := range sheet.Fitted(wide-10, text, 2, name) {
			d.pg.Write(page.Text{At: page.Point{x, top}, Size: text, Bold: true, Anchor: "middle", Fill: ink, Text: l})
			top += 1.5 * text
		}
		one.face(page.Point{x, top + 1 + float64(p.Piece.DiameterMM)/2}, float64(p.Piece.DiameterMM), 1, one.planned(), "")
	}
}

// drawing is the sheet in the making.
type drawing struct {
	p     *plan.Plan
	s     sheet.Style
	pg    *page.Page
	pages []*page.Page
	foot  float64 // kept for the box to sign, or for where it is
}

// panelH is the height of the grey panel: half of the page, and a little.
func (d *drawing) panelH() float64 { return d.s.Paper.H - 146 }

func (d *drawing) fresh() {
	paper := d.s.Paper
	d.pg = &page.Page{W: paper.W, H: paper.H, Least: fine, Title: page.Clean(d.p.Artwork.Title)}
	if len(d.pages) == 0 {
		d.pg.Add(page.Path{Rings: [][]page.Point{page.Rect(0, 0, paper.W, d.panelH())}, Fill: panel})
	}
	d.pages = append(d.pages, d.pg)
}

// w is the width between the margins.
func (d *drawing) w() float64 { return d.s.Paper.W - 2*margin }

func (d *drawing) write(x, y, size float64, bold bool, fill, words string) {
	d.pg.Write(page.Text{At: page.Point{x, y}, Size: size, Bold: bold, Fill: fill, Text: words})
}

// lines of a text so wide from a baseline down; it returns the baseline after them.
func (d *drawing) lines(x, y, width, size float64, bold bool, fill, words string) float64 {
	for _, l := range page.Wrap(page.Text{Text: page.Clean(words), Size: size, Bold: bold}, width) {
		d.write(x, y, size, bold, fill, l)
		y += 1.55 * size
	}
	return y
}

// top is the head: what this is, the picture's name, for whom; it returns where it ends.
func (d *drawing) top() float64 {
	t, p := d.s.T(), d.p
	y := margin + 3.0
	kind := page.Text{At: page.Point{margin + d.w(), y}, Size: text, Anchor: "end", Fill: faint, Text: t.Text("proof.title")}
	d.pg.Write(kind)
	if k := page.Clean(p.Shop.Kitchen); k != "" {
		d.lines(margin, y, d.w()-page.Width(kind)-6, text, true, faint, k)
	}
	y += 12
	name := page.Clean(p.Artwork.Title)
	size := 10.0
	var title []string
	for _, size = range []float64{10, 7, 5, heading, fine} {
		if title = page.Wrap(page.Text{Text: name, Size: size, Bold: true}, d.w()); float64(len(title))*size <= 11 {
			break
		}
	}
	for i, l := range title {
		d.write(margin, y+1.45*size*float64(i), size, true, ink, l)
	}
	y += 1.45*size*float64(len(title)-1) + 7
	said := ""
	for _, x := range []string{d.client(), d.flavour(), t.Text("proof.sweets", d.count())} {
		if x != "" {
			if said != "" {
				said += " · "
			}
			said += x
		}
	}
	return d.lines(margin, y, d.w(), heading*0.9, false, faint, said) - 2
}

func (d *drawing) client() string {
	if j := d.p.Job; j != nil && j.Client != "" {
		return d.s.T().Text("proof.for", j.Client)
	}
	return ""
}

func (d *drawing) flavour() string {
	if j := d.p.Job; j != nil {
		return j.Flavour
	}
	return ""
}

// count of sweets that the client gets.
func (d *drawing) count() int {
	if o := d.p.Order; o != nil {
		return o.Made - o.Spare
	}
	return d.p.Piece.Count
}

// planned is the face as it is planned to come out.
func (d *drawing) planned() []plan.FaceShape {
	if f := d.p.Forecast; f != nil && len(f.Faces) > 0 {
		return f.Faces[0].Shapes
	}
	return forecast.Drawn(d.p)
}

// face draws shapes as a sweet, with a flat shadow on the panel.
func (d *drawing) face(c page.Point, across float64, side float64, shapes []plan.FaceShape, fill string) {
	if fill != "" {
		off := across * 0.022
		d.pg.Add(page.Path{Rings: [][]page.Point{page.Circle(page.Point{c[0] + off, c[1] + off}, across/2)}, Fill: fill})
	}
	forecast.Face(d.pg, d.p, d.s, view.View{Centre: c, Scale: across / float64(d.p.Log.DiameterMM), Side: side}, shapes)
}

// hero is the face enlarged, with the number of each change beside it.
func (d *drawing) hero(y float64) {
	room := d.panelH() - y - 10
	across := math.Min(hero, math.Min(room, d.w()-62))
	if piece := float64(d.p.Piece.DiameterMM); across < 1.5*piece {
		across = math.Min(1.5*piece, room)
	}
	c := page.Point{margin + d.w() - across/2 - 3, y + room/2}
	d.face(c, across, 1, d.planned(), shade)
	caption := d.s.T().Text("proof.enlarged", across/float64(d.p.Piece.DiameterMM))
	d.pg.Write(page.Text{At: page.Point{c[0], d.panelH() - 5}, Size: text, Anchor: "middle", Fill: faint, Text: caption})
	d.marks(c, across)
}

// marks are the numbers of the changes round the picture, each led to its place.
func (d *drawing) marks(c page.Point, across float64) {
	k := across / float64(d.p.Log.DiameterMM)
	r := across/2 + 5
	var taken []float64
	const step = 0.17 // radians between two
	for _, ch := range d.p.Changes {
		if len(ch.Places) == 0 || ch.Kind == plan.TracedPixels { // that is all of it
			continue
		}
		at := page.Point{c[0] + k*float64(ch.Places[0][0]), c[1] - k*float64(ch.Places[0][1])}
		want := math.Atan2(at[1]-c[1], at[0]-c[0])
		angle := want
		for n := 0; n < 36; n++ {
			angle = want + step*float64((n+1)/2)*float64(1-2*(n%2))
			free := true
			for _, t := range taken {
				free = free && math.Abs(math.Remainder(t-angle, 2*math.Pi)) > step*0.99
			}
			if free {
				break
			}
		}
		taken = append(taken, angle)
		sin, cos := math.Sincos(angle)
		spot := page.Point{c[0] + r*cos, c[1] + r*sin}
		d.pg.Add(page.Path{Rings: [][]page.Point{{at, spot}}, Open: true, Stroke: "#ffffff", Width: 0.7})
		d.pg.Add(page.Path{Rings: [][]page.Point{{at, spot}}, Open: true, Stroke: ink, Width: 0.22})
		d.pg.Add(page.Path{Rings: [][]page.Point{page.Circle(at, 0.7)}, Fill: ink, Stroke: "#ffffff", Width: 0.2})
		d.disc(spot, ch.Number)
	}
}

// disc is a change's number, white on black.
func (d *drawing) disc(c page.Point, n int) {
	d.pg.Add(page.Path{Rings: [][]page.Point{page.Circle(c, 2.7)}, Fill: ink})
	d.pg.Write(page.Text{At: page.Point{c[0], c[1] + fine/2}, Size: fine, Bold: true, Anchor: "middle", Fill: "#ffffff", Text: fmt.Sprint(n)})
}

// left is the client's drawing, and the sweet at true size: front, side, back.
func (d *drawing) left(y float64) {
	t, s, p := d.s.T(), d.s, d.p
	room := d.panelH() - y
	piece, long := float64(p.Piece.DiameterMM), float64(p.Piece.LengthMM)
	across := math.Min(own, room-piece-34)
	if across > 12 {
		d.drawing(page.Point{margin + across/2, y + 4 + across/2}, across)
		d.write(margin, y+4+across+5, text, false, faint, t.Text("proof.drawn"))
	}
	foot := d.panelH() - 6
	y = foot - 15 - piece/2
	x := margin + piece/2
	d.face(page.Point{x, y}, piece, 1, d.planned(), "")
	x += piece/2 + 4
	jacket := p.Elements[len(p.Elements)-1].Colour
	side := [][]page.Point{page.Rect(x, y-piece/2, long, piece)}
	inks := s.Inks(p)
	d.pg.Add(page.Path{Rings: side, Fill: inks.Fill(d.outermost(jacket)), Stroke: "#000000", Width: sheet.Rule})
	x += long + 4 + piece/2
	if x+piece/2 < margin+62 {
		d.face(page.Point{x, y}, piece, -1, d.planned(), "")
	}
	y += piece/2 + 4.5
	y = d.lines(margin, y, 58, fine, false, faint, t.Text("proof.true_size"))
	const bar = 20.0
	d.pg.Add(page.Path{Rings: [][]page.Point{{{margin, y}, {margin + bar, y}}, {{margin, y - 1}, {margin, y + 1}}, {{margin + bar, y - 1}, {margin + bar, y + 1}}}, Open: true, Stroke: ink, Width: 0.3})
	d.write(margin+bar+2.5, y+fine/2, fine, false, faint, t.Text("proof.bar", short(s.Fine(bar))))
}

// outermost is the colour of the wrap that closes last.
func (d *drawing) outermost(last string) string {
	if log := d.p.Index().Log(); log != nil && len(log.Parts) > 0 {
		if e := d.p.Index().Element(log.Parts[len(log.Parts)-1].Part); e != nil {
			return e.Colour
		}
	}
	return last
}

// drawing is the client's own, as it was read, its paint as large as a square allows.
func (d *drawing) drawing(c page.Point, across float64) {
	areas, seen := d.p.Picture, d.p.Artwork.Seen
	if d.p.SimplifiedFrom != nil {
		areas, seen = d.p.SimplifiedFrom.Picture, d.p.SimplifiedFrom.Seen
	}
	if d.sent(seen, c, across) {
		return
	}
	ground := d.p.Index().Colour(d.p.Ground).SRGB
	var paint []plan.Polygon
	for _, a := range areas {
		if a.Fill != ground {
			paint = append(paint, a.Shape)
		}
	}
	if len(paint) == 0 {
		return
	}
	b := view.Bounds(0, paint...)
	const round = 1.2 // of the paint, that is shown
	k := across / (round * math.Max(b[2]-b[0], b[3]-b[1]))
	v := view.View{Centre: page.Point{c[0] - k*(b[0]+b[2])/2, c[1] + k*(b[1]+b[3])/2}, Scale: k}
	box := page.Rect(c[0]-across/2, c[1]-across/2, across, across)
	d.pg.Add(page.Path{Rings: [][]page.Point{box}, Fill: ground})
	for _, a := range areas {
		in := view.Bounds(0, a.Shape)
		if a.Fill == ground && (in[0] < b[0] || in[1] < b[1] || in[2] > b[2] || in[3] > b[3]) {
			continue // what lies round it
		}
		d.pg.Add(page.Path{Rings: v.Place(a.Shape), Fill: a.Fill, Stroke: a.Fill, Width: 0.08})
	}
}

// sent shows what the client sent where that is pixels or has shades; it tells whether it is.
func (d *drawing) sent(seen string, c page.Point, across float64) bool {
	data, err := base64.StdEncoding.DecodeString(seen)
	if err != nil || len(data) == 0 {
		return false
	}
	size, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil || size.Width > mostSent || size.Height > mostSent {
		return false
	}
	k := across / float64(max(size.Width, size.Height)) / 2
	w, h := k*float64(size.Width), k*float64(size.Height)
	d.pg.Show(page.Picture{At: page.Box{c[0] - w, c[1] - h, c[0] + w, c[1] + h}, PNG: data})
	return true
}

// mostSent is how many pixels wide or high a picture in a plan may be.
const mostSent = 1000

// dozen draws the forecast's faces along the rope in a row; it returns where they end.
func (d *drawing) dozen(y float64) float64 {
	f := d.p.Forecast
	if f == nil || len(f.Faces) < 2 {
		return y - 6
	}
	t := d.s.T()
	title := page.Text{At: page.Point{margin, y}, Size: heading, Bold: true, Fill: ink, Text: t.Text("proof.forecast")}
	d.pg.Write(title)
	note := page.Text{At: page.Point{margin + d.w(), y}, Size: fine, Anchor: "end", Fill: faint, Text: t.Text("proof.forecast_note")}
	if note.Start() > margin+page.Width(title)+3 {
		d.pg.Write(note)
	}
	faces := f.Faces[1:]
	faces = faces[:min(12, len(faces))]
	step := d.w() / float64(len(faces))
	across := math.Min(small, step-1.2)
	for i, x := range faces {
		c := page.Point{margin + step*(float64(i)+0.5), y + 4 + across/2}
		d.face(c, across, 1, x.Shapes, "")
	}
	return y + 4 + across
}

// boxTop is where the box to sign starts.
func (d *drawing) boxTop() float64 { return d.s.Paper.H - margin - 3 - d.foot }

// sign is the box to say yes or what to change, on the last page.
func (d *drawing) sign() {
	t, y := d.s.T(), d.boxTop()
	d.pg.Add(page.Path{Rings: [][]page.Point{page.Rect(margin, y, d.w(), boxH)}, Stroke: ink, Width: sheet.Bold})
	half := d.w() / 2
	for i, key := range []string{"proof.yes", "proof.change"} {
		x := margin + 5 + half*float64(i)
		d.pg.Add(page.Path{Rings: [][]page.Point{page.Rect(x, y+4, 4.6, 4.6)}, Stroke: ink, Width: sheet.Bold})
		d.lines(x+7, y+7.8, half-14, heading*0.85, true, ink, t.Text(key))
	}
	x, base := margin+5, y+boxH-6.5
	for i, key := range []string{"proof.name", "proof.signature", "proof.day"} {
		w := []float64{0.38, 0.33, 0.17}[i] * d.w()
		d.pg.Line(page.Point{x, base}, page.Point{x + w, base}, sheet.Outline)
		d.write(x, base+4, fine, false, faint, t.Text(key))
		x += w + 0.033*d.w()
	}
}

// number the pages, which follow so many of all.
func (d *drawing) number(before, all int) {
	t := d.s.T()
	for i, pg := range d.pages {
		y := d.s.Paper.H - margin + 3
		n := page.Text{At: page.Point{margin + d.w(), y}, Size: fine, Anchor: "end", Fill: faint, Text: t.Text("sheet.page", before+i+1, all)}
		pg.Write(n)
		hash := d.p.Artwork.SHA256
		of := t.Text("sheet.artwork", hash[:min(10, len(hash))])
		for _, l := range sheet.Fitted(d.w()-page.Width(n)-6, fine, 1, t.Text("proof.foot", of), of)[:1] {
			pg.Write(page.Text{At: page.Point{margin, y}, Size: fine, Fill: faint, Text: l})
		}
	}
}

// asMade is the plan with its colours as they come out, as far as is known.
func asMade(p *plan.Plan) *plan.Plan {
	out := *p
	out.Colours = append([]plan.Colour(nil), p.Colours...)
	for i, c := range out.Colours {
		if c.Made != "" {
			out.Colours[i].SRGB = c.Made
		}
	}
	return &out
}

// Changes are what was changed and why, in the client's words, sizes as on the piece.
func Changes(p *plan.Plan, s sheet.Style) []string {
	t := s.T()
	k := float64(p.Piece.DiameterMM) / float64(p.Log.DiameterMM)
	var out []string
	for _, c := range p.Changes {
		name := words.Name(c.Colour)
		before, after := s.Fine(float64(c.BeforeMM)*k), s.Fine(float64(c.AfterMM)*k)
		var said words.Phrase
		switch c.Kind {
		case plan.Bolder:
			if said = words.P("proof.bolder", name, before, after); c.Gap {
				said = words.P("proof.gap_opened", before, after)
			}
		case plan.Larger:
			said = words.P("proof.larger", name, before, after)
		case plan.LeftOut:
			if said = words.P("proof.dropped", name, before); c.Gap {
				said = words.P("proof.gap_closed", before)
			}
		case plan.Merged:
			if said = words.P("proof.merged", name, words.Name(c.To)); c.To == c.Colour {
				said = words.P("proof.shade", name)
			}
		case plan.Plainer:
			if said = words.P("proof.plainer", name); c.Gap {
				said = words.P("proof.gap_plainer")
			}
		case plan.Even:
			said = words.P("proof.even")
		default: // what reading did
			said = say.Change(c)
		}
		if n := len(c.Places); n > 1 && !c.Kind.Reading() {
			said = said.And(words.P("change.places", n))
		}
		out = append(out, t.Say(said))
	}
	return out
}
