package planner

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
)

// ErrSize is a log that cannot hold picture and jacket.
var ErrSize = errors.New("the log is too small for picture and jacket")

// Area is a flat area of the section, for pictures.
type Area struct {
	Shape plan.Polygon
	Fill  string
}

// Result is the plan and what the command needs beside it.
type Result struct {
	Plan     *plan.Plan
	Findings finding.List
	Regions  []Area
	Distinct int
	RoundMin float64
	w        *work
}

func (w *work) result() *Result {
	r := &Result{Plan: w.plan(), Findings: w.found.Sorted(), RoundMin: w.o.Shop.Minutes.Round, w: w}
	if w.m != nil {
		for _, g := range w.m.Regions {
			r.Regions = append(r.Regions, Area{polygon(g.Shape), w.m.Colours[g.Colour].RGB.Hex()})
		}
	}
	if w.set != nil {
		r.Distinct = w.set.Distinct()
	}
	return r
}

// Stage is one stage's result as JSON.
type Stage struct {
	Name string
	JSON []byte
}

// Stages lists the results of the stages that ran.
func (r *Result) Stages() []Stage {
	var out []Stage
	add := func(name string, v any) {
		if data, err := json.Marshal(v); err == nil {
			out = append(out, Stage{name, append(data, '\n')})
		}
	}
	add("artwork", r.w.art)
	if r.w.m != nil {
		add("regions", r.w.m)
	}
	if r.w.set != nil {
		add("elements", r.w.set)
	}
	if r.w.build != nil {
		add("layup", r.w.build)
	}
	add("steps", r.w.steps)
	return out
}

// Flat draws the artwork's regions in its own frame and colours, as SVG.
func Flat(data []byte, ground artwork.RGB, sh *shop.Shop) ([]byte, finding.List, error) {
	art, found, err := artwork.Parse(data)
	if err != nil {
		return nil, nil, err
	}
	v := art.View
	c := geom.Circle[geom.ArtworkPoint]{Centre: geom.ArtworkPoint{v.X + v.W/2, v.Y + v.H/2}, Radius: math.Hypot(v.W, v.H) / 2}
	f := partition.Frame{ToTrue: around(c, 150), LogRadius: 200, JacketRadius: 190, PictureRadius: 150, Ground: ground, Jacket: ground,
		LikeDE2000: 0, SliverMM: SliverMM / 2, FlattenMM: FlattenMM, KeepWholeCanvas: true}
	m, fs, err := partition.Of(art, f)
	if err != nil {
		if partition.IsTooMuch(err) {
			return nil, nil, &artwork.SyntaxError{Text: err.Error()}
		}
		return nil, nil, err
	}
	num := func(x float64) string {
		t := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.5f", x), "0"), ".")
		if t == "-0" {
			return "0"
		}
		return t
	}
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"%s %s %s %s\">\n", num(v.X), num(v.Y), num(v.W), num(v.H))
	for _, r := range m.Regions {
		if r.Colour == 0 && r.Source.Line == 0 {
			continue
		}
		fmt.Fprintf(&b, "<path fill=\"%s\" fill-rule=\"evenodd\" d=\"", m.Colours[r.Colour].RGB.Hex())
		for _, ring := range r.Shape {
			for i, p := range ring {
				q := f.ToTrue.Artwork(p)
				b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + num(q[0]) + " " + num(q[1]))
			}
			b.WriteString("Z")
		}
		b.WriteString("\"/>\n")
	}
	b.WriteString("</svg>\n")
	return []byte(b.String()), append(found, fs...), nil
}
