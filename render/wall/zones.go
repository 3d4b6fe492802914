package wall

import (
	"math"
	"slices"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/pictures"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// boilLine is the height of a line about the boil.
const boilLine = 5.0

// strip is how the colours are set: columns of cells, the height of a row, type and square.
type strip struct {
	columns      int
	figure       float64
	square       float64
	most         int // colours
	cell, height float64
}

// strips that are tried, the largest type first; the last takes any number.
var strips = []strip{
	{columns: 4, figure: sheet.Figure, square: 11, most: 4},
	{columns: 6, figure: sheet.Arm, square: 9.5, most: 6},
	{columns: 5, figure: 3.4, square: 8, most: math.MaxInt},
	{columns: 4, figure: 3.4, square: 8, most: math.MaxInt},
}

// strip in which each colour's grams have room.
func (d *drawing) strip(width float64) (st strip) {
	for _, st = range strips {
		if st.columns >= 6 {
			st.columns = min(st.columns, max(4, len(d.p.Colours)))
		}
		st.cell = width / float64(st.columns)
		fits := len(d.p.Colours) <= st.most
		for _, c := range d.p.Colours {
			grams := page.Width(page.Text{Text: d.s.Grams(float64(c.CutG)), Size: st.figure, Bold: true})
			fits = fits && grams < st.cell-st.square-4
		}
		if fits {
			break
		}
	}
	for _, c := range d.p.Colours {
		lines := d.name(c, st)
		st.height = math.Max(st.height, math.Max(st.square, 1.45*st.figure+1.4*sheet.Lean*float64(len(lines)))+2)
	}
	return st
}

// name of a colour in lines of a cell.
func (d *drawing) name(c plan.Colour, st strip) []string {
	text := d.s.Plain(c)
	if c.Finish == plan.Pulled {
		text += ", " + d.s.T().Text("colour.pulled")
	}
	return page.Wrap(page.Text{Text: text, Size: sheet.Lean}, st.cell-st.square-3.5)
}

// boil in lines.
func (d *drawing) boil(width float64) []string {
	b, s, t := d.p.Boil, d.s, d.s.T()
	if b == nil {
		return nil
	}
	text := t.Text("wall.boil", s.Grams(float64(b.SugarG)), s.Grams(float64(b.SyrupG)), s.Grams(float64(b.WaterG)),
		s.Degrees(float64(b.EndC)), words.Number{Value: s.Kelvins(float64(b.EndPlusMinus))}, s.Grams(float64(b.CookedG)))
	if o := d.p.Order; o != nil && o.Logs > 1 {
		text += ". " + t.Text("wall.logs", o.Logs)
	}
	return page.Wrap(page.Text{Text: text, Size: sheet.Lean}, width)
}

func (d *drawing) coloursHeight(width float64) float64 {
	st := d.strip(width)
	rows := (len(d.p.Colours) + st.columns - 1) / st.columns
	return 2 + st.height*float64(rows) + boilLine*float64(len(d.boil(width)))
}

// colours to cut off by weight, and the boil.
func (d *drawing) colours(box page.Box) {
	st := d.strip(box[2] - box[0])
	inks := d.s.Inks(d.p)
	d.pg.Line(page.Point{box[0], box[1]}, page.Point{box[2], box[1]}, sheet.Bold)
	y := box[1] + 2
	for i, c := range d.p.Colours {
		x := box[0] + st.cell*float64(i%st.columns)
		if i > 0 && i%st.columns == 0 {
			y += st.height
		}
		inks.Square(d.pg, c.ID, x, y, st.square, 0.42*st.square)
		d.pg.Write(page.Text{At: page.Point{x + st.square + 2, y + 1.1*st.figure}, Size: st.figure, Bold: true, Text: d.s.Grams(float64(c.CutG))})
		for k, l := range d.name(c, st) {
			d.pg.Write(page.Text{At: page.Point{x + st.square + 2, y + 1.45*st.figure + 1.1*sheet.Lean + 1.4*sheet.Lean*float64(k)}, Size: sheet.Lean, Text: l})
		}
	}
	y += st.height
	for i, l := range d.boil(box[2] - box[0]) {
		d.pg.Write(page.Text{At: page.Point{box[0], y + 3.2 + boilLine*float64(i)}, Size: sheet.Lean, Text: l})
	}
}

// dentSize is the type of the dents' rows.
const dentSize = 3.2

// dents say on the day how many minutes are left; in a kitchen that is too cold, that it is.
func (d *drawing) dents(box page.Box) {
	c, t := d.p.Clock, d.s.T()
	if c == nil {
		return
	}
	y := box[1] + 4
	para := func(text string, bold bool) {
		for _, l := range page.Wrap(page.Text{Text: text, Size: sheet.Lean, Bold: bold}, box[2]-box[0]) {
			d.pg.Write(page.Text{At: page.Point{box[0], y}, Size: sheet.Lean, Bold: bold, Text: l})
			y += 1.5 * sheet.Lean
		}
	}
	if c.CloseByMin < c.ClosedMin {
		para(t.Text("wall.late", words.Number{Value: d.s.Kelvins(float64(c.DoubtC))}, words.Number{Value: math.Floor(float64(c.LastLengthByMin))}), true)
		return
	}
	para(t.Text("wall.dent"), false)
	for i, x := range c.Dents {
		at := page.Point{box[0] + float64(i%2)*(box[2]-box[0])/2, y + 0.8 + 1.5*dentSize*float64(i/2)}
		text := t.Text("wall.dent_row", words.Number{Value: float64(x.DentMM), Digits: say.DentDigits(x)}, words.Number{Value: math.Floor(float64(x.Minutes))})
		d.pg.Write(page.Text{At: at, Size: dentSize, Bold: true, Text: text})
	}
}

// row draws frames from one on, in so many rows; it returns the first that has no room.
func (d *drawing) row(from, rows int, high float64) int {
	d.feel()
	list := d.frames.Frames[from:]
	if len(list) == 0 || rows < 1 {
		return from
	}
	each := (len(list) + rows - 1) / rows
	each = min(each, d.perRow())
	w := math.Min(widest, d.w/float64(each))
	n := min(len(list), each*rows)
	for i, f := range list[:n] {
		x, y := margin+w*float64(i%each), d.y+high*float64(i/each)
		d.frame(f, page.Box{x, y, x + w, y + high})
		rule := sheet.Context
		if i > 0 && f.Steps[0].Block != list[i-1].Steps[0].Block {
			rule = sheet.Border // another block, often of other hands: the clock may go back
		}
		if i%each > 0 || rule > sheet.Context {
			d.pg.Line(page.Point{x, y + 1}, page.Point{x, y + high - 1}, rule)
		}
	}
	return from + n
}

// feel is the heading of the frames: how the sugar feels when it is laid, and how hot it is.
func (d *drawing) feel() {
	t := d.s.T()
	title := page.Text{At: page.Point{margin, d.y + 4.2}, Size: sheet.Arm, Bold: true, Text: t.Text("wall.laying")}
	d.pg.Write(title)
	most, others := d.s.Band(d.p)
	text := t.Text("wall.feel", most)
	long := text
	for _, o := range others {
		long += " · " + t.Text("wall.heat", o.Parts, o.Band)
	}
	lines := sheet.Fitted(d.w-page.Width(title)-8, sheet.Lean, 1, long, text)
	d.pg.Write(page.Text{At: page.Point{margin + d.w, d.y + 4.2}, Size: sheet.Lean, Anchor: "end", Text: lines[0]})
	d.y += feelH
}

// frame of one move: when, who, the picture, and in a few words what it does not show.
func (d *drawing) frame(f pictures.Frame, box page.Box) {
	t, p := d.s.T(), d.p
	first := f.Steps[0]
	base := box[1] + 5
	clock := page.Text{At: page.Point{box[0] + 2, base}, Size: sheet.Near, Bold: true, Text: sheet.Clock(float64(first.StartMin))}
	d.pg.Write(clock)
	x := box[2] - 1
	if p.Shop.Crew > 1 {
		pairs := slices.Sorted(slices.Values(first.Pairs))
		for i := len(pairs) - 1; i >= 0; i-- {
			x -= 2.3
			sheet.Person(d.pg, pairs[i]-1, page.Point{x, base - sheet.Near/2}, 2.2)
			x -= 2.3
		}
	}
	caption := f.Caption
	if c := p.Clock; c != nil && c.CloseByMin >= c.ClosedMin {
		by := page.Text{Size: sheet.Lean, Text: t.Text("wall.by", words.Number{Value: math.Floor(float64(first.StartMin + first.SlackMin + c.CloseByMin - c.ClosedMin))})}
		if by.At = (page.Point{clock.At[0] + page.Width(clock) + 1.5, base}); by.At[0]+page.Width(by) < x-0.5 {
			d.pg.Write(by)
		} else {
			caption = append([]string{by.Text}, caption...)
		}
	}
	lines := d.said(caption, box[2]-box[0]-3, 2)
	foot := box[3] - 1.5*sheet.Lean*float64(len(lines)) - 0.8
	for i, l := range lines {
		d.pg.Write(page.Text{At: page.Point{(box[0] + box[2]) / 2, foot + 1.2*sheet.Lean + 1.45*sheet.Lean*float64(i)}, Size: sheet.Lean, Anchor: "middle", Text: l})
	}
	d.frames.Draw(d.pg, f, page.Box{box[0] + 1, box[1] + 6.2, box[2] - 1, foot}, sheet.Arm)
}

// said is as much of a caption as stands in so many lines.
func (d *drawing) said(caption []string, width float64, lines int) []string {
	var texts []string
	for n := len(caption); n > 0; n-- {
		text := caption[0]
		for _, c := range caption[1:n] {
			text += " · " + c
		}
		texts = append(texts, text)
	}
	if len(texts) == 0 {
		return nil
	}
	return sheet.Fitted(width, sheet.Lean, lines, texts...)
}
