package slab_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/sheet"
	"sugarwright/render/slab"
)

// Each lump is on the map with its weight.
func TestPages(t *testing.T) {
	printed.EachPlan(t, slab.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		area := 0.0
		for _, l := range slab.Map(p, 1.5) {
			assert.Contains(t, text, s.Grams(float64(l.Colour.CutG)), name)
			area += l.W * l.H
		}
		assert.InDelta(t, 1, area, 1e-9, name)
	})
}
