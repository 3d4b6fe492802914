package assemble

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/planner/sugar"
)

// boil is the colours' need with extra length and reserve, each at least a lump that can be mixed, and the boil that
// gives them all: finished sugar less what is folded in (acid, flavour, colour) is cooked; that less its water is sugar
// and the syrup's solids; the rest of the water goes off as steam.
func (s *Stages) boil(p *plan.Plan) {
	sh := s.Shop
	longer := sh.AllowanceMM / s.Log.LengthMM
	total, slab, folded := 0.0, 0.0, 0.0
	for i := range p.Colours {
		c := &p.Colours[i]
		parts := float64(c.MassG) * (1 + longer)
		need := math.Max(parts*(1+sh.Reserve), sh.LeastLumpG)
		c.NeedG, c.TrimG, c.SpareG = plan.Num(need), plan.Num(
			float64(c.MassG)*longer), plan.Num(need-parts*(1+sh.Reserve))
		dose := need / 1000 * s.Palette.Shades[i].DoseGPerK
		c.DoseG, c.CutG = plan.Num(dose), plan.Num(need-dose)
		folded += dose
		for k := range c.Mix {
			m := &c.Mix[k]
			m.Grams = plan.Num(float64(m.Share) * need)
			if x, ok := sh.Named(m.Name); ok && len(c.Mix) > 1 {
				m.DoseG = plan.Num(float64(m.Grams) / 1000 * x.DoseGPerK)
			}
		}
		total += need
		slab += (need - dose) * 1000 / sh.ClearDensity / sh.SlabMM
	}
	water := sh.WaterPercent()
	acid, flavour := total*sh.AcidPercent/100, total*sh.FlavourPercent/100
	folded += acid + flavour
	cooked := total - folded
	solids := cooked * (1 - water/100)
	sucrose, syrup := solids*(1-sh.SyrupShare), solids*sh.SyrupShare/sh.SyrupSolids
	wet := sucrose * sh.WaterShare
	p.Boil = &plan.Boil{
		FinishedG:    plan.Num(total),
		FoldedG:      plan.Num(folded),
		CookedG:      plan.Num(cooked),
		SugarG:       plan.Num(sucrose),
		SyrupG:       plan.Num(syrup),
		SyrupSolids:  plan.Num(sh.SyrupSolids),
		WaterG:       plan.Num(wet),
		EndC:         plan.Num(sh.EndOfBoil()),
		EndPlusMinus: sugar.BoilUncertain,
		WaterPercent: plan.Num(water),
		SteamG:       plan.Num(sucrose + syrup + wet - cooked),
		SlabMM:       plan.Num(sh.SlabMM),
		SlabMM2:      plan.Num(slab),
		AcidG:        plan.Num(acid),
		FlavourG:     plan.Num(flavour),
	}
}
