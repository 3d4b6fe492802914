package planner

import (
	"fmt"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/flow"
	"sugarwright/planner/simplify"
	"sugarwright/planner/words"
)

// BuildOf is the order of a plan and the polygons of its parts, for tests that change it.
func BuildOf(r *Result) (*build.Build, func(build.Part) geom.Region[geom.TruePoint]) {
	return r.w.build, r.w.shape
}

// SplitOf is the search's own account of a split: whether it is proved, and how far from the bound it may be at most.
func SplitOf(r *Result) (proved bool, gap float64) { return r.w.set.Proved, r.w.set.Gap() }

// PriceOf is what a split costs, and the bound below which no way to make parts of the same cells can cost.
func PriceOf(r *Result) (price, bound float64) { return r.w.set.Price, r.w.set.Bound }

// WithFlatten samples curves with another tolerance.
func WithFlatten(o Options, mm float64) Options {
	o.flattenMM = mm
	return o
}

// Unproved leaves out rolling the log forward, for tests that look at splits alone.
func Unproved(o Options) Options {
	o.unproved = true
	return o
}

// TextOf is a change in words.
func TextOf(s *Simplified, c simplify.Change) string { return words.English().Say(s.say(c)) }

// Laying is a compiled plan whose last stages can be run again.
type Laying struct{ w *work }

// NewLaying compiles.
func NewLaying(file string, data []byte, o Options) (*Laying, error) {
	r, err := Compile(file, data, o)
	if err != nil {
		return nil, err
	}
	if r.w.forecast == nil {
		return nil, fmt.Errorf("%s: no plan: %v", file, r.Findings)
	}
	return &Laying{r.w}, nil
}

// again is a copy of the work as it was before the clock.
func (l *Laying) again() *work {
	w := *l.w
	w.found, w.steps, w.laid, w.laidBlocks, w.shortcuts = nil, nil, nil, nil, nil
	w.parts = append([]partInfo(nil), w.parts...)
	return &w
}

// Elements of the plan.
func (l *Laying) Elements() int { return len(l.w.set.Elements) }

// Clock, Heat, Backward, Lay, Nominal, Dozen and Hard run one stage again: the schedule; the pile's heat; the log backward; laying with the
// fits, the replay and the three rollings forward; the nominal face; twelve faces; the card for when it goes hard.
func (l *Laying) Clock() error { return l.again().clock() }

// Heat follows the pile.
func (l *Laying) Heat() error { l.again().cool(l.w.section); return nil }

// Backward runs the log backward.
func (l *Laying) Backward() error {
	_, err := flow.Backward(&l.w.section.body, flow.Squash(l.w.o.Shop.Oval), inverse)
	return err
}

// Lay is all of laying.
func (l *Laying) Lay() error { return l.again().layShapes() }

// Nominal rolls the laid log forward and judges its face.
func (l *Laying) Nominal() error {
	at, err := flow.Forward(&flow.Body{Points: l.w.laidAt, Parts: l.w.section.body.Parts}, flow.Squash(l.w.o.Shop.Oval), inverse)
	w := l.again()
	w.proved = at
	if err != nil {
		return err
	}
	return w.foresee(0)
}

// Dozen is twelve faces along the rope.
func (l *Laying) Dozen() error { return l.again().foresee(12) }

// Hard is the card.
func (l *Laying) Hard() error { w := l.again(); w.steps = l.w.steps; w.hurry(l.w.stepper); return nil }
