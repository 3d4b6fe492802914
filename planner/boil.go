package planner

import (
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// boil is the colours' need with extra length and reserve, and the boil that gives them all: finished sugar less its water is sugar and the syrup's solids. The
// water left is the shop's setting, else what its glass transition stands for.
func (w *work) boil(p *plan.Plan) {
	s := w.o.Shop
	more := (w.log.LengthMM + s.AllowanceMM) / w.log.LengthMM * (1 + s.Reserve)
	total := 0.0
	for i := range p.Colours {
		c := &p.Colours[i]
		need := float64(c.MassG) * more
		c.NeedG, c.DoseG = plan.Num(need), plan.Num(need/1000*w.finish(i).DoseGPerK)
		total += need
	}
	water := s.MoisturePercent
	if s.TgFrom != shop.FromMoisture {
		water = sugar.WaterFor(s.SyrupShare, s.TgC)
	}
	solids := total * (1 - water/100)
	sucrose := solids * (1 - s.SyrupShare)
	p.Boil = &plan.Boil{FinishedG: plan.Num(total), SugarG: plan.Num(sucrose), SyrupG: plan.Num(solids * s.SyrupShare / s.SyrupSolids), SyrupSolids: plan.Num(s.SyrupSolids),
		WaterG: plan.Num(sucrose * s.WaterShare), EndC: plan.Num(sugar.EndOfBoil(water)), EndPlusMinus: sugar.BoilUncertain, WaterPercent: plan.Num(water),
		AcidG: plan.Num(total * s.AcidPercent / 100)}
}
