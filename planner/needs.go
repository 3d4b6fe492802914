package planner

import (
	"fmt"
	"strings"

	"sugarwright/geom/finding"
	"sugarwright/planner/size"
	"sugarwright/planner/work"
)

// Need is what a kitchen lacks for a drawing: hands, a machine, water below the slab, a lighter log.
type Need struct {
	Crew    int     // pairs of hands; 0: those that there are
	Machine bool    // that pulls
	Slab    bool    // cooled with water
	Kg      float64 // of the log; 0: what was asked
}

// needs are the ways in which a drawing that takes too long would be done in time, as the clock's finding names them, those
// of hands first.
func needs(r *Result) (out []Need) {
	for _, f := range r.Stages.Findings.Errors() {
		if f.Code != finding.TooLong || len(f.Values) < 6 {
			return nil // something else stands in the way
		}
		ways, _ := f.Values[5].([]string)
		for _, w := range ways {
			var n Need
			kind, rest, _ := strings.Cut(w, " ")
			switch kind {
			case work.FreeCrew:
				fmt.Sscan(rest, &n.Crew)
			case work.FreeMachine:
				n.Machine = true
			case work.FreeSlab:
				n.Slab = true
			case work.FreeLighter:
				fmt.Sscan(rest, &n.Kg)
			case work.FreeBoth:
				fmt.Sscan(rest, &n.Crew, &n.Kg)
			case work.FreeFitted:
				fmt.Sscan(rest, &n.Crew)
				n.Machine, n.Slab = true, true
			}
			out = append(out, n)
		}
	}
	return out
}

// met are the options of a kitchen that has what is needed.
func (n Need) met(o Options) Options {
	sh := *o.Shop
	if n.Crew > 0 {
		sh.Crew = n.Crew
	}
	if n.Machine {
		sh.Minutes.MachineKg = work.FittedKg
	}
	sh.Slab.Cooled = sh.Slab.Cooled || n.Slab
	o.Shop = &sh
	if n.Kg > 0 {
		o.Order = size.Order{PieceMM: o.Order.PieceMM, CutMM: o.Order.CutMM, LogMM: o.Order.LogMM, WeightG: 1000 * n.Kg}
	}
	return o
}

// inTime is a drawing that takes too long, in the first kitchen in which it is planned; nil where there is none. What the
// kitchen needs stands among its findings.
func inTime(r *Result, o Options) (*Result, *Need, error) {
	for _, n := range needs(r) {
		again, err := Again(r, n.met(o))
		if err != nil || again == nil {
			return nil, nil, err
		}
		if !again.Stages.Findings.Refuses() {
			return again, &n, nil
		}
	}
	return nil, nil, nil
}

// needing says what a kitchen needs for a plan, beside what it has.
func needing(n *Need, o Options) (found finding.List) {
	if n == nil {
		return nil
	}
	if n.Crew > 0 {
		found.Add(finding.New(finding.Needs, finding.Warning, n.Crew, o.Shop.Crew).In("crew"))
	}
	if n.Machine {
		found.Add(finding.New(finding.Needs, finding.Warning).In("machine"))
	}
	if n.Slab {
		found.Add(finding.New(finding.Needs, finding.Warning).In("slab"))
	}
	if n.Kg > 0 {
		found.Add(finding.New(finding.Needs, finding.Warning, n.Kg).In("weight"))
	}
	return found
}
