// Package pour prints what is read before the pour: what is boiled, how the slab is cut apart, what goes into each lump,
// and by when what must be done.
//
// Guarantees: the lumps, largest first, are cut off before their colour is put in, and with it sum to the finished sugar
// of the boil; areas on the map are as their weights, each cut straight through all that is left; no dose is printed
// that the shop has not entered.
package pour

import (
	"fmt"
	"math"
	"slices"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// drawing is the sheet in the making.
type drawing struct {
	p     *plan.Plan
	s     sheet.Style
	f     *sheet.Flow
	inks  sheet.Inks
	lumps []Lump
}

// Pages of what is read before the pour.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	d := drawing{p: p, s: s, f: s.Start(p, s.T().Text("pour.title")), inks: s.Inks(p), lumps: Map(p, aspect)}
	f, t := d.f, s.T()
	if p.Boil != nil {
		half := f.W()/2 - 4
		foot := d.boil(page.Box{sheet.Margin, f.Y, sheet.Margin + half, f.Foot})
		f.Y = math.Max(foot, d.slab(page.Box{sheet.Margin + half + 8, f.Y, sheet.Margin + f.W(), f.Y + half/aspect + 16})) + 3
	}
	f.Paragraph(t.Text("pour.fold"), sheet.TextSize, true)
	f.Y++
	d.heading("pour.lumps")
	for i := range d.lumps {
		d.lump(i)
	}
	f.Y += 1
	f.Paragraph(t.Text("pour.reserve", words.Number{Value: 100 * float64(p.Shop.Reserve)}, s.Length(float64(p.Shop.AllowanceMM))), sheet.Lean, false)
	d.clock()
	d.hard()
	return f.Done()
}

// heading starts a part of the sheet.
func (d *drawing) heading(key string) {
	f := d.f
	f.Room(24)
	f.Y += 2
	f.Rule(sheet.Bold)
	f.Y += 1.5
	f.Paragraph(d.s.T().Text(key), sheet.Arm, true)
	f.Y++
}

// boil is the recipe to tick off, in figures that are read beside the pot; it returns where it ends.
func (d *drawing) boil(box page.Box) float64 {
	b, s, t, pg := d.p.Boil, d.s, d.s.T(), d.f.Page
	y := box[1] + 1.5*sheet.TextSize
	pg.Write(page.Text{At: page.Point{box[0], y}, Size: sheet.TextSize, Bold: true, Text: t.Text("pour.boil")})
	y += 2
	line := func(figure, word string) {
		y += 9
		pg.Add(page.Path{Rings: [][]page.Point{page.Rect(box[0], y-5.2, 5.2, 5.2)}, Stroke: "#000000", Width: sheet.Bold})
		fig := page.Text{At: page.Point{box[0] + 38, y}, Size: sheet.Figure, Bold: true, Anchor: "end", Text: figure}
		if page.Width(fig) > 31 {
			fig.Size = sheet.Arm
		}
		pg.Write(fig)
		for i, l := range sheet.Fitted(box[2]-box[0]-41, sheet.TextSize, 1, word) {
			if i > 0 {
				y += 1.5 * sheet.TextSize
			}
			pg.Write(page.Text{At: page.Point{box[0] + 41, y}, Size: sheet.TextSize, Text: l})
		}
	}
	line(s.Grams(float64(b.SugarG)), t.Text("pour.sugar"))
	line(s.Grams(float64(b.SyrupG)), t.Text("pour.syrup", words.Number{Value: 100 * float64(b.SyrupSolids)}))
	line(s.Grams(float64(b.WaterG)), t.Text("pour.water"))
	line(s.Degrees(float64(b.EndC)), t.Text("pour.end", words.Number{Value: s.Kelvins(float64(b.EndPlusMinus))}))
	dosed := func(v plan.Num, name string) {
		figure := "........"
		if v > 0 {
			figure = s.Exact(float64(v))
		} else {
			name += ", " + t.Text("pour.recipe")
		}
		line(figure, name)
	}
	acid, flavour := t.Text("pour.acid"), t.Text("pour.flavour")
	if j := d.p.Job; j != nil && j.Acid != "" {
		acid = page.Clean(j.Acid)
	}
	if j := d.p.Job; j != nil && j.Flavour != "" {
		flavour += ": " + page.Clean(j.Flavour)
	}
	dosed(b.AcidG, acid)
	dosed(b.FlavourG, flavour)
	line("........", t.Text("pour.poured"))
	if o := d.p.Order; o != nil && o.Logs > 1 {
		for _, l := range page.Wrap(page.Text{Text: t.Text("wall.logs", o.Logs), Size: sheet.TextSize, Bold: true}, box[2]-box[0]) {
			y += 6
			pg.Write(page.Text{At: page.Point{box[0], y}, Size: sheet.TextSize, Bold: true, Text: l})
		}
	}
	return y + 2
}

// seen is the CIEDE2000 difference from which anyone sees one, by analogy with print.
const seen = 3.5

// lump is a row: its number on the map, colour, grams, name and where it is cut; what goes into it.
func (d *drawing) lump(i int) {
	l, f, s, t := d.lumps[i], d.f, d.s, d.s.T()
	c := l.Colour
	high := math.Sqrt(float64(d.p.Boil.SlabMM2) / aspect)
	where := t.Text("pour.rest")
	if i < len(d.lumps)-1 {
		key := "pour.top"
		if l.Across {
			key = "pour.left"
		}
		where = t.Text(key, d.distance(l, high))
	}
	const text = 58.0
	width := f.W() - text
	head := s.Colour(c) + ": " + t.Text(work(c)) + "\u00a0· " + where
	body := d.goesIn(c)
	h := sheet.Height(head, width, sheet.TextSize, true) + 1
	if body != "" {
		h += sheet.Height(body, width, sheet.Lean, false)
	}
	h = math.Max(h, 9)
	f.Room(h)
	y := f.Y
	size := sheet.Figure
	if i >= 9 {
		size = sheet.TextSize
	}
	f.Page.Write(page.Text{At: page.Point{sheet.Margin + 7, y + 6}, Size: size, Bold: true, Anchor: "end", Text: fmt.Sprint(i + 1)})
	d.inks.Square(f.Page, c.ID, sheet.Margin+9.5, y+0.3, 7.2, 3.2)
	if c.Made != c.SRGB && c.Made != "" && !s.Black { // how it comes out, beside the drawing's
		f.Page.Add(page.Path{Rings: [][]page.Point{page.Rect(sheet.Margin+16.7, y+0.3, 3.6, 7.2)}, Fill: c.Made, Stroke: "#000000", Width: sheet.Outline})
	}
	f.Page.Write(page.Text{At: page.Point{sheet.Margin + text - 4, y + 6}, Size: sheet.Figure, Bold: true, Anchor: "end", Text: s.Grams(float64(c.CutG))})
	f.Column(sheet.Margin+text, width, head, sheet.TextSize, true)
	if body != "" {
		f.Column(sheet.Margin+text, width, body, sheet.Lean, false)
	}
	f.Y = math.Max(f.Y+1, y+h)
}

// work on a lump after it is cut off.
func work(c plan.Colour) string {
	if c.Finish == plan.Pulled && c.Coloured {
		return "slab.both"
	}
	return "slab." + string(c.Finish)
}

// goesIn says the dose of a lump's colour, the mix that it is, and how far it comes out from what was asked.
func (d *drawing) goesIn(c plan.Colour) string {
	s, t := d.s, d.s.T()
	var out []string
	if c.DoseG > 0 && len(c.Mix) < 2 {
		out = append(out, t.Text("colours.dose", s.Exact(float64(c.DoseG))))
	}
	if len(c.Mix) > 1 {
		var parts words.All
		for _, m := range c.Mix {
			part := words.P("colours.part", words.Number{Value: 100 * float64(m.Share)}, words.Name(m.Name))
			if m.DoseG > 0 {
				part = part.And(words.P("colours.part_dose", s.Exact(float64(m.DoseG))))
			}
			parts = append(parts, part)
		}
		out = append(out, t.Text("colours.mix", parts))
	}
	if c.SpareG >= 0.5 {
		out = append(out, t.Text("colours.small", s.Grams(float64(d.p.Shop.LeastLumpG)), s.Grams(float64(c.SpareG))))
	}
	if c.DE2000 >= seen {
		out = append(out, t.Text("colours.off", words.Number{Value: float64(c.DE2000)}))
	}
	if c.Guess {
		out = append(out, t.Text("colours.guess", t.Text("colour."+string(c.Finish))))
	}
	said := ""
	for i, x := range out {
		if i > 0 {
			said += ". "
		}
		said += x
	}
	return said
}

// clock is what must be done by when, in two columns, and what holds if it all goes slower.
func (d *drawing) clock() {
	c, f, t := d.p.Clock, d.f, d.s.T()
	if c == nil {
		return
	}
	d.heading("pour.clock")
	rows := (len(c.Milestones) + 1) / 2
	f.Room(6*float64(rows) + 12)
	half := f.W()/2 - 5
	for i, m := range c.Milestones {
		x, y := sheet.Margin+float64(i/rows)*(half+10), f.Y+5.4*float64(i%rows)+4
		f.Page.Write(page.Text{At: page.Point{x, y}, Size: sheet.Lean, Text: t.Text("close." + string(m.What))})
		f.Page.Write(page.Text{At: page.Point{x + half - 25, y}, Size: sheet.Lean, Anchor: "end", Text: sheet.Clock(float64(m.AtMin))})
		f.Page.Write(page.Text{At: page.Point{x + half, y}, Size: sheet.Lean, Bold: true, Anchor: "end", Text: t.Text("wall.by", sheet.Clock(float64(m.ByMin)))})
		f.Page.Line(page.Point{x, y + 1.6}, page.Point{x + half, y + 1.6}, sheet.Context)
	}
	f.Y += 5.4*float64(rows) + 1
	f.Paragraph(t.Say(say.CloseBy(d.p))+" "+t.Say(say.Slower(d.p)), sheet.Lean, false)
}

// hard is what may be left out when the sugar goes hard: what saves most, as far as the page has room.
func (d *drawing) hard() {
	f, t, p := d.f, d.s.T(), *d.p
	if len(p.GoingHard) == 0 {
		return
	}
	d.heading("pour.late")
	height := func() (h float64) {
		for _, l := range say.Hard(&p) {
			h += sheet.Height(t.Say(l), f.W(), sheet.Lean, false)
		}
		return h
	}
	for p.GoingHard = slices.Clone(p.GoingHard); len(p.GoingHard) > 1 && f.Y+height() > f.Foot; {
		least := 0
		for i, x := range p.GoingHard {
			if x.SavesMin < p.GoingHard[least].SavesMin {
				least = i
			}
		}
		p.GoingHard = slices.Delete(p.GoingHard, least, least+1)
	}
	for _, l := range say.Hard(&p) {
		f.Paragraph(t.Say(l), sheet.Lean, false)
	}
}
