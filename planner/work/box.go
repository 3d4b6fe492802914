package work

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/planner/plan"
	"sugarwright/planner/sugar"
)

// What keeps its shape in the warm place: a round part flattens by a twentieth in a quarter of viscosity over weight and
// diameter, derived; a flat one takes 1.6 times as long. What waits for less than a minute stays in the hand.
const (
	holdsShare = 0.25
	holdsFlat  = 1.6
	waitsMin   = 1
)

// box says for each part that waits where it lies, in the order in which parts are wanted, for how long, and how long it
// keeps its shape: what waits for longer is turned each minute, or lies in a groove.
func (s *stepper) box(steps []plan.Step) {
	if s.Windows.KeepC == 0 {
		return
	}
	wanted := map[string]float64{} // by the part that is made: when the first of it is laid
	lasts := map[string]float64{}  // and the last
	at := map[string]float64{}
	for _, st := range steps {
		switch st.Do {
		case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll:
			at[st.Parts[0]] = float64(st.StartMin)
			for _, c := range st.Covers {
				at[c] = float64(st.StartMin)
			}
		}
	}
	made := map[string]int{}
	for i := range s.Set.Elements {
		id, o := s.Set.ID(i), s.Set.ID(s.Set.Origin(i))
		made[s.Set.ID(i)] = i
		if t, ok := at[id]; ok {
			if w, is := wanted[o]; !is || t < w {
				wanted[o] = t
			}
			lasts[o] = math.Max(lasts[o], t)
		}
	}
	var waiting []int
	for k, st := range steps {
		if st.Do == plan.DoMake && lasts[st.Parts[0]]-float64(st.StartMin+st.Minutes) >= waitsMin {
			waiting = append(waiting, k)
		}
	}
	slices.SortStableFunc(waiting, func(a, b int) int {
		return cmp.Compare(wanted[steps[a].Parts[0]], wanted[steps[b].Parts[0]])
	})
	for n, k := range waiting {
		st := &steps[k]
		st.Place = n + 1
		st.WaitMin = plan.Num(lasts[st.Parts[0]] - float64(st.StartMin+st.Minutes))
		fit := s.Set.Elements[made[st.Parts[0]]].Fit
		log, err := sugar.LogEta(s.Windows.KeepC, s.Shop.TgC)
		if err != nil {
			continue
		}
		holds := holdsShare * math.Pow(10, log) / (sugar.Density.Value * 9.81 * fit.Thick() / 1000) / 60
		if fit.Flat() {
			holds *= holdsFlat
		}
		st.HoldsMin = plan.Num(math.Min(holds, saidBelowMin))
		st.TurnIt = st.TurnIt || float64(st.WaitMin) > holds
	}
}
