package planner

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// boil is the colours' need with extra length and reserve, each at least a lump that can be mixed, and the boil that gives them all: finished sugar less its water is
// sugar and the syrup's solids; the rest of the water goes off as steam. The water left is the shop's setting, else what its glass transition stands for.
func (w *work) boil(p *plan.Plan) {
	s := w.o.Shop
	longer := s.AllowanceMM / w.log.LengthMM
	total, slab := 0.0, 0.0
	for i := range p.Colours {
		c := &p.Colours[i]
		parts := float64(c.MassG) * (1 + longer)
		need := math.Max(parts*(1+s.Reserve), s.LeastLumpG)
		c.NeedG, c.TrimG, c.SpareG = plan.Num(need), plan.Num(float64(c.MassG)*longer), plan.Num(need-parts*(1+s.Reserve))
		c.DoseG = plan.Num(need / 1000 * w.finish(i).DoseGPerK)
		for k := range c.Mix {
			c.Mix[k].Grams = plan.Num(float64(c.Mix[k].Share) * need)
		}
		total += need
		slab += need * 1000 / s.ClearDensity / s.SlabMM
	}
	water := s.MoisturePercent
	if s.TgFrom != shop.FromMoisture {
		water = sugar.WaterFor(s.SyrupShare, s.TgC)
	}
	solids := total * (1 - water/100)
	sucrose, syrup := solids*(1-s.SyrupShare), solids*s.SyrupShare/s.SyrupSolids
	wet := sucrose * s.WaterShare
	p.Boil = &plan.Boil{FinishedG: plan.Num(total), SugarG: plan.Num(sucrose), SyrupG: plan.Num(syrup), SyrupSolids: plan.Num(s.SyrupSolids),
		WaterG: plan.Num(wet), EndC: plan.Num(sugar.EndOfBoil(water)), EndPlusMinus: sugar.BoilUncertain, WaterPercent: plan.Num(water), SteamG: plan.Num(sucrose + syrup + wet - total),
		SlabMM: plan.Num(s.SlabMM), SlabMM2: plan.Num(slab), AcidG: plan.Num(total * s.AcidPercent / 100), FlavourG: plan.Num(total * s.FlavourPercent / 100)}
}
