package windows

import (
	"math"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/planner/recipe"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// poursPaS is the viscosity at which sugar pours, Pa s.
const poursPaS = 1e3

// Facts are what a shop's settings come to: its own tests, the heat at which its sugar can be worked, and the bands of
// common parts.
func Facts(s *shop.Shop) plan.ShopFacts {
	def := shop.Default()
	workable := sugar.Workable(s.TgC)
	f := plan.ShopFacts{
		TgC:         s.TgC,
		DefaultTgC:  def.TgC,
		TgPlusMinus: s.TgPlusMinus,
		TgFrom:      plan.TgFrom(s.TgFrom),
		Oval:        s.Oval,
		DefaultOval: def.Oval,
		WorkableC:   workable,
		WorkablePaS: math.Pow(10, finding.Must(sugar.LogEta(workable, s.TgC))),
		PoursC:      sugar.TempOf(poursPaS, s.TgC),
		PoursPaS:    poursPaS,
	}
	if s.TgFrom == shop.FromTest {
		l := s.Tests.Lump
		f.Lump = &plan.LumpTest{
			HeightMM:   l.HeightMM,
			DiameterMM: l.DiameterMM,
			Minutes:    l.Minutes,
			AtC:        l.AtC,
			PaS:        l.Viscosity(),
		}
	}
	if o := s.Tests.Oval; o.WidthMM > 0 {
		f.OvalTest = &plan.OvalTest{WidthMM: o.WidthMM, HeightMM: o.HeightMM}
	}
	limits := Limits(s, s.HoldMin, s.LengthMM)
	for _, c := range []struct {
		base    recipe.Base
		thickMM float64
	}{{recipe.Strip, 3}, {recipe.Strip, 5}, {recipe.Strip, 8}, {recipe.Rod, 10}, {recipe.Rod, 20}, {recipe.Rod, 30},
		{recipe.Rod, 50}} {
		w := limits.Of(recipe.Recipe{Base: c.base}.Flat(), c.thickMM, 0)
		f.Windows = append(
			f.Windows,
			plan.ShopWindow{
				Form:    plan.Form(c.base.String()),
				ThickMM: c.thickMM,
				LowC:    w.Low,
				HighC:   w.High,
				Turned:  w.Turned,
			},
		)
	}
	return f
}
