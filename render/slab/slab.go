// Package slab draws the poured sugar as a map: the area of each colour in proportion, in the order of cutting apart,
// with what is pulled and where acid and flavour go.
//
// Guarantees: areas are as the lumps' weights, which sum to what is poured and folded into all of it; each cut is
// straight and goes through all that is left.
package slab

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Lump of the slab, in shares of its width and height, y down.
type Lump struct {
	Colour     plan.Colour
	X, Y, W, H float64
}

// Map cuts the slab apart: each time the largest lump left, straight through all that is left, across its longer side.
func Map(p *plan.Plan, aspect float64) []Lump {
	order := append([]plan.Colour(nil), p.Colours...)
	sort.SliceStable(order, func(i, j int) bool { return order[i].CutG > order[j].CutG })
	left := 0.0
	for _, c := range order {
		left += float64(c.CutG)
	}
	var out []Lump
	x, y, w, h := 0.0, 0.0, 1.0, 1.0
	for _, c := range order {
		l := Lump{c, x, y, w, h}
		share := float64(c.CutG) / left
		if w*aspect >= h {
			l.W *= share
			x, w = x+l.W, w-l.W
		} else {
			l.H *= share
			y, h = y+l.H, h-l.H
		}
		left -= float64(c.CutG)
		out = append(out, l)
	}
	return out
}

// aspect of the slab, width over height; a marble slab is longer than wide.
const aspect = 1.5

// Pages of the map.
func Pages(p *plan.Plan, s sheet.Style) []*page.Page {
	t, b := s.T(), p.Boil
	f := s.Start(p, t.Text("slab.title"))
	h := math.Sqrt(float64(b.SlabMM2) / aspect)
	f.Paragraph(
		t.Text("slab.size", s.Length(h*aspect), s.Length(h), s.Section(float64(b.SlabMM)), s.Grams(float64(b.CookedG))),
		sheet.TextSize, false)
	f.Paragraph(extras(p, s), sheet.TextSize, true)
	lumps := Map(p, aspect)
	inks := s.Inks(p)
	// Room at the right and below for the numbers of small lumps, which are cut last, from the far corner.
	const room = 24.0
	width := f.W() - room
	height := width / aspect
	list := sheet.Leading*sheet.NumberSize + 5 + 12
	for _, l := range lumps {
		list += rowHeight(f, l.Colour)
	}
	if h := f.Foot - f.Y - 2 - list; h < height && h > leastHeight { // the list on the same page
		height, width = h, h*aspect
	}
	f.Room(height + 14)
	frame := page.Box{sheet.Margin, f.Y + 2, sheet.Margin + width, f.Y + 2 + height}
	tags := make([]page.Tag, len(lumps))
	for i, l := range lumps {
		rings := [][]page.Point{page.Rect(frame[0]+l.X*width, frame[1]+l.Y*height, l.W*width, l.H*height)}
		inks.Draw(f.Page, l.Colour.ID, rings, page.Point{frame[0] + (l.X+l.W/2)*width, frame[1] + (l.Y+l.H/2)*height},
			0.7)
		tags[i] = page.Tag{Rings: rings, Text: fmt.Sprintf("%d %s", i+1, l.Colour.Letter)}
	}
	f.Page.Labels(tags, frame, page.Box{frame[0], frame[1], frame[2] + room, frame[3] + 12}, sheet.NumberSize, nil)
	f.Y = frame[3] + 12
	f.Heading(t.Text("slab.order"))
	for i, l := range lumps {
		row(f, i+1, l.Colour, inks)
	}
	return f.Done()
}

// leastHeight of the map, millimetres: below it numbers are too large for their lumps.
const leastHeight = 60

const textFrom = 34.0

// text of a lump's row.
func text(s sheet.Style, c plan.Colour) string {
	dose := ""
	if c.DoseG > 0 && len(c.Mix) < 2 { // those of a mix stand on the colours' sheet
		dose = s.T().Text("slab.dose", s.Exact(float64(c.DoseG)))
	}
	return fmt.Sprintf("%s, %s: %s%s", s.Grams(float64(c.CutG)), s.Colour(c), s.T().Text(work(c)), dose)
}

// work on a lump after it is cut off.
func work(c plan.Colour) string {
	if c.Finish == plan.Pulled && c.Coloured {
		return "slab.both"
	}
	return "slab." + string(c.Finish)
}

func rowHeight(f *sheet.Flow, c plan.Colour) float64 {
	return max(9, sheet.Height(text(f.S, c), f.W()-textFrom, sheet.TextSize, false)+2)
}

// row of the list: number, letter, what it weighs, and what is done with it.
func row(f *sheet.Flow, n int, c plan.Colour, inks sheet.Inks) {
	h := rowHeight(f, c)
	f.Room(h)
	y := f.Y
	f.Page.Write(
		page.Text{
			At:     page.Point{sheet.Margin + 9, y + 6.5},
			Size:   sheet.NumberSize,
			Bold:   true,
			Anchor: "end",
			Text:   fmt.Sprint(n),
		},
	)
	inks.Swatch(f.Page, c.ID, sheet.Margin+12, y+0.5, 7)
	f.Y = y + 0.5
	f.Column(sheet.Margin+textFrom, f.W()-textFrom, text(f.S, c), sheet.TextSize, false)
	f.Y = max(f.Y, y+h)
}

// extras says where acid and flavour go.
func extras(p *plan.Plan, s sheet.Style) string {
	t := s.T()
	acid, flavour := t.Text("slab.acid"), t.Text("slab.flavour")
	if p.Job != nil && p.Job.Acid != "" {
		acid = p.Job.Acid
	}
	if p.Job != nil && p.Job.Flavour != "" {
		flavour = t.Text("slab.flavour_of", p.Job.Flavour)
	}
	dose := func(name string, grams plan.Num) words.Phrase {
		if grams > 0 {
			return words.P("slab.dosed", name, s.Exact(float64(grams)))
		}
		return words.P("slab.blank", name)
	}
	return t.Text("slab.extras", dose(acid, p.Boil.AcidG), dose(flavour, p.Boil.FlavourG))
}
