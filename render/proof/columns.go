package proof

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// list is a column that goes on to the next page where it is full.
type list struct {
	d        *drawing
	x, y, w  float64
	foot     float64
	restarts int
}

// room for so much, on the next page where there is none.
func (l *list) room(h float64) {
	if l.y+h <= l.foot {
		return
	}
	if l.restarts++; l.restarts >= len(l.d.pages) {
		l.d.fresh()
	}
	l.d.pg = l.d.pages[l.restarts]
	l.y = margin + 8
	l.foot = l.d.boxTop() - 3
}

// columns are the colours, the order, and what was changed.
func (d *drawing) columns(y float64) {
	t := d.s.T()
	w := column * d.w()
	first := d.pg
	for i, key := range []string{"proof.colours", "proof.order", "proof.changed"} {
		d.pg = first
		x := margin + float64(i)*(w+gutter*d.w())
		d.pg.Line(page.Point{x, y}, page.Point{x + w, y}, sheet.Outline)
		l := &list{d: d, x: x, y: y + 6.5, w: w, foot: d.boxTop() - 3}
		d.write(x, l.y, heading, true, ink, t.Text(key))
		l.y += 3
		switch i {
		case 0:
			l.colours()
		case 1:
			l.order()
		case 2:
			l.changes()
		}
	}
	d.pg = d.pages[len(d.pages)-1]
}

// seen is the CIEDE2000 difference from which anyone sees one, by analogy with print.
const seen = 3.5

// colours as they come out, in plain words.
func (l *list) colours() {
	d, s, t := l.d, l.d.s, l.d.s.T()
	inks := s.Inks(d.p)
	high, tight := 8.4, 1.0
	if n := len(d.p.Colours); n > 4 {
		high, tight = 7.2, 0.88
	}
	for _, c := range d.p.Colours {
		kind := t.Text("proof." + string(c.Finish))
		if c.DE2000 >= seen {
			kind += "; " + t.Text("proof.nearest")
		}
		name := page.Wrap(page.Text{Text: s.Plain(c), Size: text, Bold: true}, l.w-11)
		below := page.Wrap(page.Text{Text: kind, Size: fine}, l.w-11)
		h := math.Max(high, tight*(1.45*text*float64(len(name))+1.5*fine*float64(len(below)))+0.9)
		l.room(h)
		r := 2.9
		disc := [][]page.Point{page.Circle(page.Point{l.x + r, l.y + r + 0.6}, r)}
		if s.Black {
			inks.Draw(d.pg, c.ID, disc, page.Point{l.x + r, l.y + r}, sheet.Context)
		} else {
			d.pg.Add(page.Path{Rings: disc, Fill: c.SRGB, Stroke: faint, Width: sheet.Context})
		}
		y := l.y + 1.1*text
		for _, n := range name {
			d.write(l.x+9, y, text, true, ink, n)
			y += 1.45 * tight * text
		}
		for _, b := range below {
			d.write(l.x+9, y, fine, false, faint, b)
			y += 1.5 * tight * fine
		}
		l.y += h
	}
}

// order in rows: facts only.
func (l *list) order() {
	d, s, t, p := l.d, l.d.s, l.d.s.T(), l.d.p
	row := func(key, value string) {
		lines := page.Wrap(page.Text{Text: page.Clean(value), Size: text, Bold: true}, l.w-3-page.Width(page.Text{Text: t.Text(key), Size: text}))
		h := 1.6*text*float64(len(lines)) + 1.6
		l.room(h)
		d.write(l.x, l.y+1.2*text, text, false, faint, t.Text(key))
		for i, x := range lines {
			d.pg.Write(page.Text{At: page.Point{l.x + l.w, l.y + 1.2*text + 1.6*text*float64(i)}, Size: text, Bold: true, Anchor: "end", Fill: ink, Text: x})
		}
		l.y += h
		d.pg.Line(page.Point{l.x, l.y - 0.6}, page.Point{l.x + l.w, l.y - 0.6}, 0.1)
	}
	row("proof.count", fmt.Sprint(d.count()))
	row("proof.size", "⌀\u00a0"+short(s.Fine(float64(p.Piece.DiameterMM)))+" ×\u00a0"+short(s.Fine(float64(p.Piece.LengthMM))))
	each := "proof.each"
	if p.Label == nil || !p.Label.Weighed {
		each = "proof.about"
	}
	row("proof.weight", t.Text(each, short(s.Exact(float64(p.Piece.MassG))), s.Grams(float64(p.Piece.MassG)*float64(d.count()))))
	if f := d.flavour(); f != "" {
		row("proof.flavour", f)
	}
	if j := p.Job; j != nil && j.Date != "" {
		row("proof.date", j.Date)
	}
	if p.Order == nil {
		return
	}
	for _, x := range p.Order.Packs {
		what := t.Text("proof.sweets", x.Pieces)
		if x.AskedG > 0 {
			what = short(s.Exact(float64(x.AskedG)))
		}
		row("proof.packs", t.Text("proof.pack", x.Number, what))
	}
	if len(p.Order.Designs) > 1 {
		for _, x := range p.Order.Designs {
			h := sheet.Height(t.Text("order.design", x.File, x.Share, p.Order.Shares()), l.w, fine, false)
			l.room(h)
			d.lines(l.x, l.y+1.2*fine, l.w, fine, false, faint, t.Text("order.design", x.File, x.Share, p.Order.Shares()))
			l.y += h
		}
	}
}

// short is a figure without a nought after its point.
func short(figure string) string {
	for _, nought := range []string{".0\u00a0", ",0\u00a0"} {
		figure = strings.Replace(figure, nought, "\u00a0", 1)
	}
	return figure
}

// changes by their numbers in the picture, then what may differ.
func (l *list) changes() {
	d, s, t, p := l.d, l.d.s, l.d.s.T(), l.d.p
	l.y += 1.5
	said := Changes(p, s)
	if len(said) == 0 {
		l.y = d.lines(l.x, l.y+text, l.w, text, false, ink, t.Text("proof.nothing"))
	}
	for i, c := range said {
		h := 1.55*fine*float64(len(page.Wrap(page.Text{Text: page.Clean(c), Size: fine}, l.w-8))) + 2.4
		h = math.Max(h, 6.4)
		l.room(h)
		d.disc(page.Point{l.x + 2.7, l.y + 2.5}, p.Changes[i].Number)
		d.lines(l.x+8, l.y+2.5+fine/2, l.w-8, fine, false, ink, c)
		l.y += h
	}
	// An edge may lie off by the forecast's own band and by twice the spread of placing.
	off := 2 * float64(p.Shop.PlacingMM)
	if p.Forecast != nil {
		off += float64(p.Forecast.BandPercent) / 100 * float64(p.Log.DiameterMM)
	}
	off *= float64(p.Piece.DiameterMM) / float64(p.Log.DiameterMM)
	more := t.Text("proof.tolerance", words.Number{Value: float64(p.Shop.TolerancePercent)}, s.Fine(off)) + " " + t.Text("proof.choking")
	l.room(1.55*fine*float64(len(page.Wrap(page.Text{Text: more, Size: fine}, l.w))) + 1)
	l.y += 2
	l.y = d.lines(l.x, l.y+fine, l.w, fine, false, faint, more)
}
