package planner

import (
	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/simplify"
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

// TextOf is a change in words.
func TextOf(s *Simplified, c simplify.Change) string { return s.text(c) }
