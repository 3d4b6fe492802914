package work

import (
	"math"

	"sugarwright/planner/plan"
	"sugarwright/planner/set"
)

// Heat of the boil, degrees: as it is poured; when it is cut apart, 0.05 to 0.5 kPa s; while colours are kneaded in; when
// it hangs on the hook without running; when it keeps the form that hands give it. Derived from viscosity. And the
// longest that it may take to the hook, minutes.
const (
	pouredC     = 143
	apartC      = 95
	kneadC      = 90
	kneadedC    = 80
	hookC       = 75
	formC       = 72
	mostCoolMin = 25
	pullLossC   = 1.2 // a minute: a strand of 60 mm in still air, derived
)

// degrees is a heat as a step has it.
func degrees(c float64) *plan.Num { n := plan.Num(c); return &n }

// prepare is the work on the slab before parts are made: the boil is poured, cools, is cut apart; lumps are coloured,
// pulled in loads, kept.
func (s *stepper) prepare() {
	m := s.Shop.Minutes
	to := s.Shop.Slab.Cooling(s.kg(-1), pouredC, []float64{apartC, hookC, formC})
	for i, c := range to {
		s.cool[i] = math.Min(c, mostCoolMin) // what is longer has a finding
	}
	s.poured = s.add(m.Poured(s.kg(-1)), 2, nil, step(plan.Step{Do: plan.DoPour, AtC: degrees(pouredC)}))
	if s.Extras {
		s.chores[s.poured].then = []plan.Step{{Do: plan.DoFlavour, AtC: degrees(pouredC)}}
	}
	turnedIn := s.add(s.cool[0], 1, []int{s.poured}, step(plan.Step{Do: plan.DoTurnIn, AtC: degrees(pouredC), ToC: degrees(apartC)}))
	s.problem.Within(s.poured, turnedIn, 0) // it cools whether anybody is there or not
	lumps := 0
	for _, c := range s.Map.Colours {
		if c.Area > 0 {
			lumps++
		}
	}
	s.divided = s.add(m.Chop*float64(lumps), 2, []int{turnedIn}, step(plan.Step{Do: plan.DoDivide, Lumps: lumps, AtC: degrees(apartC)}))
	s.problem.Within(turnedIn, s.divided, 0)
	n := len(s.Map.Colours)
	s.lumps, s.loadG, s.used = make([][]int, n), make([]float64, n), make([]float64, n)
	for i, c := range s.Map.Colours {
		if c.Area > 0 {
			s.lump(i)
		}
	}
	if keep := s.Windows.KeepC; keep > 0 {
		then := []plan.Step{{Do: plan.DoKeep, AtC: degrees(keep)}}
		if hot, ids := s.warmer(); len(ids) > 0 {
			then = append(then, plan.Step{Do: plan.DoKeep, Parts: ids, AtC: degrees(hot)})
		}
		s.chores[s.divided].then = then
	}
}

// lump is coloured, if it is to be, and pulled, if it is to be: in loads that a pair of hands or the machine can take.
func (s *stepper) lump(colour int) {
	m, kg, id := s.Shop.Minutes, s.kg(colour), set.ColourID(colour)
	ready := s.divided
	if s.Palette.Tinted(colour) {
		ready = s.add(m.Coloured(kg), 1, []int{ready}, step(plan.Step{Do: plan.DoColour, Colour: id, MassG: plan.Num(1000 * kg), AtC: degrees(kneadC), ToC: degrees(kneadedC)}))
	}
	s.lumps[colour], s.loadG[colour] = []int{ready}, math.Inf(1)
	if !s.Palette.Pulled(colour) {
		return
	}
	loads, minutes, hands := m.Pulled(kg)
	s.lumps[colour], s.loadG[colour] = nil, 1000*kg/float64(loads)
	for k := range loads {
		st := plan.Step{Do: plan.DoPull, Colour: id, MassG: plan.Num(s.loadG[colour]), AtC: degrees(hookC), ToC: degrees(math.Max(hookC-pullLossC*minutes, s.Windows.KeepC))}
		if loads > 1 {
			st.Load, st.Loads = k+1, loads
		}
		needs := []int{ready}
		if hands == 0 && s.machine >= 0 { // it takes one load after the other
			needs = append(needs, s.machine)
		}
		pull := s.add(minutes, hands, needs, step(st))
		s.problem.From(s.poured, pull, s.cool[1])
		if k > 0 {
			s.problem.From(s.lumps[colour][k-1], pull, 0)
		}
		if hands == 0 {
			s.machine = pull
		}
		s.lumps[colour] = append(s.lumps[colour], pull)
	}
}

// ready are the steps after which so many grams more of a colour can be formed: of what is pulled in loads, those that
// are made first come from the first, and a part may take several.
func (s *stepper) ready(colour int, grams float64) []int {
	loads := s.lumps[colour]
	load := func(g float64) int { return max(0, min(int(g/s.loadG[colour]), len(loads)-1)) }
	first := load(s.used[colour] + 1e-6)
	s.used[colour] += grams
	return loads[first : load(s.used[colour]-1e-6)+1]
}

// finish adds what follows the last laying: the log is rolled round and drawn down while it is kept round and warm;
// lengths are cut as soon as the first holds, and pieces when the last does.
func (s *stepper) finish() {
	m, log := s.Shop.Minutes, []string{"log"}
	kg := s.kg(-1)
	s.round = s.add(m.Rounded(kg), 2, []int{s.ended[len(s.ended)-1]}, step(plan.Step{Do: plan.DoRound, Parts: log}))
	drawn, sets := m.Drawn(kg, s.StickMM, s.Shop.AirC), math.Min(m.Sets(s.StickMM, s.Shop.AirC), m.Drawn(kg, s.StickMM, s.Shop.AirC))
	s.draw = s.add(drawn, 2, []int{s.round}, chore{Step: plan.Step{Do: plan.DoDraw}, also: []aside{
		{Step: plan.Step{Do: plan.DoKeep, Parts: log}, until: drawn},
		{Step: plan.Step{Do: plan.DoLengths}, from: sets, until: drawn + lastLengthMin, free: true},
	}})
	cut := s.add(s.Pieces/m.CutPieces, 1, nil, step(plan.Step{Do: plan.DoCut}))
	s.problem.After(s.draw, cut, lastLengthMin)
	if s.Packed {
		s.chores[cut].then = []plan.Step{{Do: plan.DoPack}}
	}
}

// lastLengthMin after the last length is drawn it is cut.
const lastLengthMin = 1
