// Package bench writes the bench page: the steps one a screen, for a tablet beside the slab.
//
// Guarantees: one file that asks for nothing else; where the work stands, and the clocks, survive a reload where the
// browser keeps anything for the page, and where it does not the step stands in the address.
package bench

import (
	"bytes"
	_ "embed" // for the page
	"encoding/json"
	"fmt"
	"html/template"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
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
	Clock   string
	Start   float64 // minutes from the pour
	Minutes float64
	Picture int // which, or -1
}

// Page of the plan.
func Page(p *plan.Plan, s sheet.Style) ([]byte, error) {
	t := s.T()
	set := pictures.Of(p, s)
	of := map[int]int{}
	var pages []*page.Page
	var drawn []template.HTML
	for i, f := range set.Frames {
		for _, st := range f.Steps {
			of[st.Number] = i
		}
		pg := set.Single(f, wide, high)
		pages = append(pages, pg)
		drawn = append(drawn, template.HTML(svg.Inline(pg))) // made of numbers and escaped text by package svg
	}
	screens := []screen{}
	for _, l := range steps.Lines(p, s) {
		k, ok := of[l.Step.Number]
		if !ok {
			k = -1
		}
		screens = append(
			screens,
			screen{
				l.Step.Number,
				l.Text,
				page.Clean(l.Detail),
				sheet.Clock(float64(l.Step.StartMin)),
				float64(l.Step.StartMin),
				float64(l.Step.Minutes),
				k,
			},
		)
	}
	labels := map[string]string{}
	for _, k := range []string{"next", "back", "undo", "clock", "this_step", "planned", "late", "early", "step", "ready", "done", "keys", "restart", "sure"} {
		labels[k] = t.Raw("bench." + k)
	}
	var cautions []string
	for _, c := range say.Cautions() {
		cautions = append(cautions, t.Say(c))
	}
	data, err := json.Marshal(map[string]any{"key": "sugarwright-" + key(p), "steps": screens, "say": labels})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = layout.Execute(
		&b,
		map[string]any{
			"Lang":     t.Code,
			"Title":    page.Clean(p.Artwork.Title),
			"For":      s.For(p),
			"Say":      labels,
			"Cautions": cautions,
			"Pictures": drawn,
			"Glyphs":   template.HTML(svg.Glyphs(pages)),
			"Data":     template.JS(data),
			"Intro":    steps.Intro(p, s),
		},
	)
	return b.Bytes(), err
}

// key tells plans apart in what the browser keeps: the drawing, the size and the count of steps.
func key(p *plan.Plan) string {
	sum := p.Artwork.SHA256
	return fmt.Sprintf("%s-%.0f-%.0f-%d", sum[:min(12, len(sum))], float64(p.Log.DiameterMM), float64(p.Log.LengthMM),
		len(p.Steps))
}
