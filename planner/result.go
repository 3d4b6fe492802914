package planner

import (
	"encoding/json"
	"errors"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
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
	Failing  []plan.Polygon // what is too thin or too small, in the order of the check
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
	if w.checked != nil {
		for _, p := range w.checked.Places {
			r.Failing = append(r.Failing, polygon(p.Shape))
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
