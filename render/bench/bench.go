// Package bench writes the bench page: the steps one a screen, for a tablet beside the slab.
//
// Guarantees: one file that asks for nothing else; each log is a run of its own, with every press and its time, that can
// be saved as a file; where the work stands, and the clocks, survive a reload where the browser keeps anything for the
// page, and where it does not the step stands in the address.
package bench

import (
	"bytes"
	_ "embed" // for the page
	"encoding/json"
	"fmt"
	"html/template"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/parts"
	"sugarwright/render/pictures"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/steps"
	"sugarwright/render/svg"
)

//go:embed bench.html
var source string

var layout = template.Must(template.New("bench").Parse(source))

// A picture's size, millimetres.
const (
	wide = 90.0
	high = 74.0
)

// screen is one step.
type screen struct {
	Number  int
	Text    string
	Detail  string
	Start   float64 // minutes from the pour
	Minutes float64
	Round   bool   // the log is round after it
	Part    string // number of what is made or laid
	Copies  string
	Across  string // its section
	Letter  string // of its colour, and the colour
	Colour  string
	Picture int // which, or -1
	Do      plan.Do
	Pairs   []int
}

// Page of the plan.
func Page(p *plan.Plan, s sheet.Style) ([]byte, error) {
	t := s.T()
	pages, of := drawn(p, s)
	var inline []template.HTML
	for _, pg := range pages {
		inline = append(inline, template.HTML(svg.Inline(pg))) // made of numbers and escaped text by package svg
	}
	screens := []screen{}
	for _, l := range steps.Lines(p, s) {
		x := screen{
			Number: l.Step.Number, Text: l.Text, Detail: page.Clean(l.Detail), Picture: -1,
			Start: float64(l.Step.StartMin), Minutes: float64(l.Step.Minutes), Round: l.Step.Do == plan.DoRound,
			Do: l.Step.Do, Pairs: l.Step.Pairs,
		}
		if k, ok := of[l.Step.Number]; ok {
			x.Picture = k
		}
		x.part(p, s, l.Step)
		screens = append(screens, x)
	}
	labels := map[string]string{}
	for _, k := range []string{"next", "back", "undo", "burn", "aid", "close", "clock", "behind", "ahead", "on", "step", "round", "then", "ready", "start", "done", "keys", "runs", "run", "save", "new", "resume", "remove", "sure", "none", "lost"} {
		labels[k] = t.Raw("bench." + k)
	}
	var cautions []string
	for _, c := range say.Cautions() {
		cautions = append(cautions, t.Say(c))
	}
	data, err := json.Marshal(map[string]any{"key": "sugarwright-" + key(p), "artwork": p.Artwork.SHA256, "steps": screens, "say": labels})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = layout.Execute(&b, map[string]any{
		"Lang":     t.Code,
		"Title":    page.Clean(p.Artwork.Title),
		"For":      s.For(p),
		"Say":      labels,
		"Cautions": cautions,
		"Pictures": inline,
		"Glyphs":   template.HTML(svg.Glyphs(pages)),
		"Data":     template.JS(data),
		"Intro":    steps.Intro(p, s),
	})
	return b.Bytes(), err
}

// drawn are the pictures, and which of them each step shows: its frame, or the section of what it makes.
func drawn(p *plan.Plan, s sheet.Style) (pages []*page.Page, of map[int]int) {
	of = map[int]int{}
	set := pictures.Of(p, s)
	for _, f := range set.Frames {
		for _, st := range f.Steps {
			of[st.Number] = len(pages)
		}
		pages = append(pages, set.Single(f, wide, high))
	}
	for _, e := range parts.Distinct(p) {
		if st := p.Index().Making(e.Number); st != nil {
			of[st.Number] = len(pages)
			pages = append(pages, parts.Single(p, s, e, wide, high))
		}
	}
	return pages, of
}

// part fills in what a step makes, chops or lays.
func (x *screen) part(p *plan.Plan, s sheet.Style, st plan.Step) {
	if len(st.Parts) == 0 || p.Index().IsLog(st.Parts[0]) {
		return
	}
	e := p.Index().Element(st.Parts[0])
	if e == nil {
		x.Part = sheet.Span(p, st.Parts[0])
		return
	}
	x.Part = fmt.Sprint(e.Number)
	c := p.Index().Colour(e.Colour)
	x.Letter, x.Colour = c.Letter, c.SRGB
	if n := p.Index().Pieces(e); n > 1 && st.Do == plan.DoMake {
		x.Copies = s.T().Text("parts.copies", n)
	}
	size, more := s.Across(*e)
	x.Across = size
	if more != "" {
		x.Across += ", " + more
	}
}

// key tells plans apart in what the browser keeps: the drawing, the size and the count of steps.
func key(p *plan.Plan) string {
	sum := p.Artwork.SHA256
	return fmt.Sprintf("%s-%.0f-%.0f-%d", sum[:min(12, len(sum))], float64(p.Log.DiameterMM), float64(p.Log.LengthMM),
		len(p.Steps))
}
