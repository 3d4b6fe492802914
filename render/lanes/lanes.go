// Package lanes draws the work along an axis of minutes, from the pour until the log is round: a lane for each pair of
// hands, joint steps across the lanes of those who do them.
//
// Guarantees: a step is as long as it takes, in the lanes of those who do it; a part that is made has its colour, and its
// number where it has room; laying is black; idle time is grey; a step of no minutes is not drawn.
package lanes

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
)

// Of the lanes' room, millimetres.
const (
	nameW   = 35.0
	axisH   = 7.5
	leastH  = 6.4 // of a lane: a number and its plate
	touches = 0.02
	// Between two ticks of the axis
	leastTick = 1.6
)

// Height of the lanes of a crew.
func Height(crew int) float64 { return axisH + math.Max(22, leastH*float64(crew)) }

// bar is a step, or several that follow one another, in lanes next to each other.
type bar struct {
	from, until float64
	first, last int
	step        plan.Step
	parts       []string // numbers that are laid
	laying      bool
}

// Draw the lanes in a box.
func Draw(pg *page.Page, p *plan.Plan, s sheet.Style, box page.Box) {
	t, crew := s.T(), p.Shop.Crew
	bars := barsOf(p)
	end := 0.0
	for _, b := range bars {
		end = math.Max(end, b.until)
	}
	left, lane := box[0]+nameW, (box[3]-box[1]-axisH)/float64(crew)
	k := (box[2] - left) / math.Max(1, end)
	x := func(m float64) float64 { return left + k*m }
	y := func(n int) float64 { return box[1] + axisH + lane*float64(n) }
	pg.Write(page.Text{At: page.Point{box[0], box[1] + 5}, Size: sheet.Arm, Bold: true, Text: t.Text("lane.minutes")})
	step := 1.0 // minutes between ticks, more where the work takes hours
	for ; k*step < leastTick; step *= 5 {
	}
	for m := 0.0; m <= end; m += step {
		l := 1.2
		if math.Mod(m, 5*step) == 0 {
			l = 2.6
			pg.Write(page.Text{At: page.Point{x(m), box[1] + 4}, Size: sheet.Lean, Bold: true, Anchor: "middle", Text: fmt.Sprint(int(m))})
		}
		pg.Line(page.Point{x(m), box[1] + axisH - l}, page.Point{x(m), box[1] + axisH}, sheet.Rule)
	}
	for n := range crew {
		if crew > 1 {
			sheet.Person(pg, n, page.Point{box[0] + 3.2, y(n) + lane/2}, 2.6)
		}
		for i, l := range sheet.Fitted(nameW-9, sheet.Lean, 1, name(t.Text, n, crew)) {
			pg.Write(page.Text{At: page.Point{box[0] + 8, y(n) + lane/2 + sheet.Lean/2 + 4*float64(i)}, Size: sheet.Lean, Text: l})
		}
		pg.Add(page.Path{Rings: [][]page.Point{page.Rect(left, y(n), k*end, lane)}, Fill: sheet.Idle})
	}
	d := drawing{pg: pg, p: p, s: s, inks: s.Inks(p)}
	for _, b := range bars {
		d.bar(b, page.Box{x(b.from), y(b.first), x(b.until), y(b.last + 1)})
	}
}

// name of a pair of hands.
func name(text func(string, ...any) string, n, crew int) string {
	switch {
	case crew == 1 || n == 0:
		return text("lane.maker")
	case crew == 2:
		return text("lane.assistant")
	}
	return text("lane.helper", n)
}

// barsOf the plan, until the log is round: one a step and run of lanes; what one lays without a pause is one bar.
func barsOf(p *plan.Plan) (out []bar) {
	for _, st := range p.Steps {
		if st.Do == plan.DoDraw || st.Do == plan.DoLengths || st.Do == plan.DoCut || st.Do == plan.DoPack || st.Minutes <= 0 || len(st.Pairs) == 0 {
			continue
		}
		if st.Do == plan.DoKeep {
			continue
		}
		b := bar{from: float64(st.StartMin), until: float64(st.StartMin + st.Minutes), step: st}
		switch st.Do {
		case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll:
			b.laying, b.parts = true, []string{numbers(p, st.Parts[0])}
		case plan.DoTurn:
			b.laying = true
		}
		pairs := slices.Sorted(slices.Values(st.Pairs))
		for i := 0; i < len(pairs); { // lanes that lie apart have a bar each
			k := i
			for k+1 < len(pairs) && pairs[k+1] == pairs[k]+1 {
				k++
			}
			b.first, b.last = pairs[i]-1, pairs[k]-1
			out = append(out, b)
			i = k + 1
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].first != out[j].first {
			return out[i].first < out[j].first
		}
		return out[i].from < out[j].from
	})
	return joined(out)
}

// Making is for how many minutes of hands the lanes show parts being made.
func Making(p *plan.Plan) (minutes float64) {
	for _, b := range barsOf(p) {
		if b.step.Do == plan.DoMake {
			minutes += (b.until - b.from) * float64(b.last-b.first+1)
		}
	}
	return minutes
}

// joined makes one bar of what the same hands lay without a pause.
func joined(bars []bar) (out []bar) {
	for _, b := range bars {
		if n := len(out) - 1; n >= 0 && b.laying && out[n].laying && out[n].first == b.first && out[n].last == b.last && b.from-out[n].until < touches {
			out[n].until = b.until
			for _, x := range b.parts {
				if !slices.Contains(out[n].parts, x) {
					out[n].parts = append(out[n].parts, x)
				}
			}
			continue
		}
		out = append(out, b)
	}
	return out
}

// numbers of a part, or of what is in a block.
func numbers(p *plan.Plan, id string) string {
	if e := p.Index().Element(id); e != nil {
		return fmt.Sprint(e.Number)
	}
	return sheet.Span(p, id)
}

// drawing draws bars.
type drawing struct {
	pg   *page.Page
	p    *plan.Plan
	s    sheet.Style
	inks sheet.Inks
}

// bar in its box: what is made in its colour, laying black, all else white with its word.
func (d *drawing) bar(b bar, box page.Box) {
	rings := [][]page.Point{page.Rect(box[0], box[1], box[2]-box[0], box[3]-box[1])}
	mid := page.Point{(box[0] + box[2]) / 2, (box[1] + box[3]) / 2}
	edge := func() { d.pg.Add(page.Path{Rings: rings, Stroke: "#000000", Width: sheet.Outline}) }
	t := d.s.T()
	switch {
	case b.laying:
		d.pg.Add(page.Path{Rings: rings, Fill: "#000000", Stroke: "#ffffff", Width: sheet.Context})
		d.words(box, "#ffffff", d.laid(b)...)
	case b.step.Do == plan.DoMake:
		e := d.p.Index().Element(b.step.Parts[0])
		d.inks.Draw(d.pg, e.Colour, rings, mid, sheet.Outline)
		d.plate(box, fmt.Sprint(e.Number), e.Colour)
	case b.step.Do == plan.DoChop:
		d.pg.Add(page.Path{Rings: rings, Fill: "#ffffff"})
		edge()
		d.pg.Line(page.Point{mid[0], box[1] + 1}, page.Point{mid[0], box[3] - 1}, sheet.Border)
	case b.step.Do == plan.DoColour || b.step.Do == plan.DoPull:
		d.pg.Add(page.Path{Rings: rings, Fill: "#ffffff"})
		edge()
		letter := d.p.Index().Colour(b.step.Colour).Letter
		word := t.Text("do." + string(b.step.Do))
		d.words(box, "#000000", word+" "+letter, letter)
	default:
		d.pg.Add(page.Path{Rings: rings, Fill: "#ffffff"})
		edge()
		key := "do." + string(b.step.Do)
		if b.step.Do == plan.DoRound {
			key = "lane.round"
		}
		d.words(box, "#000000", t.Text(key))
	}
}

// laid says which parts a bar lays: each, else the first and last, else that it lays.
func (d *drawing) laid(b bar) []string {
	t := d.s.T()
	word := t.Text("lane.lay")
	if b.step.Do == plan.DoWrap && len(b.parts) == 1 {
		word = t.Text("lane.wrap")
	}
	if len(b.parts) == 0 {
		return []string{t.Text("lane.turn")}
	}
	all := strings.Join(b.parts, " ")
	out := []string{word + " " + all}
	if len(b.parts) == 1 {
		return append(out, all)
	}
	return append(out, all, t.Text("lane.to", word, b.parts[0], b.parts[len(b.parts)-1]), word)
}

// words writes the first of some texts that stands in a box, on one line or two; none where none does.
func (d *drawing) words(box page.Box, ink string, texts ...string) {
	for _, size := range []float64{sheet.Near, sheet.Lean} {
		for _, text := range texts {
			lines := page.Wrap(page.Text{Text: text, Size: size, Bold: true}, box[2]-box[0]-1)
			high := 1.45 * size * float64(len(lines))
			if high > box[3]-box[1] || len(lines) > 2 || strings.Join(lines, " ") != text {
				continue
			}
			y := (box[1]+box[3])/2 - high/2 + 1.22*size
			for i, l := range lines {
				d.pg.Write(page.Text{At: page.Point{(box[0] + box[2]) / 2, y + 1.45*size*float64(i)}, Size: size, Bold: true, Anchor: "middle", Fill: ink, Text: l})
			}
			return
		}
	}
}

// plate writes a number on white, where it has room.
func (d *drawing) plate(box page.Box, number, colour string) {
	t := page.Text{Size: sheet.Near, Bold: true, Anchor: "middle", Text: number}
	w := page.Width(t) + 1
	if w > box[2]-box[0]-0.4 {
		return
	}
	c := page.Point{(box[0] + box[2]) / 2, (box[1] + box[3]) / 2}
	if _, ok := d.inks.Hatch(colour); ok {
		d.pg.Add(page.Path{Rings: [][]page.Point{page.Rect(c[0]-w/2, c[1]-0.75*t.Size, w, 1.5*t.Size)}, Fill: "#ffffff"})
	}
	t.At = page.Point{c[0], c[1] + t.Size/2}
	d.pg.Write(t)
}
