// Package learn draws from records of logs what a shop's own figures are: how long its hands take for each kind of work, what
// ends and cuts lose, how dense its sugar is.
//
// Guarantees: each figure has a range that holds the true one nine times of ten (TestRanges), by a kitchen's own spread; what the
// records cannot tell stays as it is; a figure that does not fit the others is named and left out.
//
// References: minutes of work as log-normal, a kind's pace as the crew's pace and its own (a linear model with normal priors, solved
// exactly; Gelman et al. 2013, chapters 5 and 14, from memory).
package learn

import (
	"math"
	"slices"

	"sugarwright/planner/plan"
	"sugarwright/planner/record"
)

// Priors of the logarithm of minutes over planned ones: how far crews differ, the kinds of work of one crew, its days, and single
// steps; guessed, no source. 0.35 is half as long again or two thirds.
const (
	crewSD = 0.35
	kindSD = 0.30
	daySD  = 0.10
	stepSD = 0.30
	known  = 6 // steps that stepSD counts for
)

// leastMin is the shortest step, planned, whose minutes tell anything.
const leastMin = 0.2

// ninety is how many standard deviations nine of ten lie within, for normal errors.
const ninety = 1.645

// Kinds of work that have minutes in the shop's file, in the order of a day.
var Kinds = []plan.Do{plan.DoPour, plan.DoColour, plan.DoPull, plan.DoMake, plan.DoChop, plan.DoLay, plan.DoBend, plan.DoWrap, plan.DoRoll, plan.DoTurn, plan.DoRound, plan.DoCut}

// Settings of a kind of work in the shop's file, under [minutes].
var Settings = map[plan.Do][]string{
	plan.DoPour: {"pour", "pour_kg"}, plan.DoColour: {"colour", "colour_kg"}, plan.DoPull: {"pull", "pull_kg"},
	plan.DoMake: {"make_rod", "make_bar", "make_strip", "make_oval", "make_segment", "make_wedge", "make_triangle", "make_flat_rod", "make_leaf", "make_tapered", "make_teardrop", "make_wrap", "make_kg", "make_m", "bow", "cut_edge", "groove", "next_groove"},
	plan.DoChop: {"chop"}, plan.DoLay: {"lay", "lay_kg", "press_in"}, plan.DoBend: {"bend", "bend_far", "bend_twice"},
	plan.DoWrap: {"wrap", "wrap_kg"}, plan.DoRoll: {"roll"}, plan.DoTurn: {"turn", "turn_kg"}, plan.DoRound: {"round", "round_kg"},
	plan.DoCut: {PerMinute},
}

// PerMinute is a setting that falls as minutes rise: pieces cut in one.
const PerMinute = "cut_pieces"

// Pace is how many times the planned minutes a kind of work takes, with the range of nine in ten.
type Pace struct {
	Kind            plan.Do
	Times, Low, Top float64
	Steps, Logs     int
}

// Odd is a step whose minutes do not fit the others, and is left out.
type Odd struct {
	Log            int // of the records
	Step           record.Step
	Times, Typical float64
}

// sample is one step of a record that tells something.
type sample struct {
	log, kind int
	y         float64
	step      record.Step
}

// Paces of each kind of work that the records hold.
func Paces(logs []*record.Log) (paces []Pace, odd []Odd) {
	var all []sample
	for i, l := range logs {
		for _, s := range l.Steps {
			if k := slices.Index(Kinds, s.Do); k >= 0 && s.Minutes > 0 && s.Planned >= leastMin {
				all = append(all, sample{i, k, math.Log(s.Minutes / s.Planned), s})
			}
		}
	}
	all, odd = fitting(all)
	if len(all) == 0 {
		return nil, odd
	}
	mean, sd := fit(all, len(logs))
	for k, kind := range Kinds {
		p := Pace{Kind: kind}
		in := map[int]bool{}
		for _, s := range all {
			if s.kind == k {
				p.Steps++
				in[s.log] = true
			}
		}
		if p.Logs = len(in); p.Steps > 0 {
			p.Times, p.Low, p.Top = math.Exp(mean[k]), math.Exp(mean[k]-ninety*sd[k]), math.Exp(mean[k]+ninety*sd[k])
			paces = append(paces, p)
		}
	}
	return paces, odd
}

// oddSD is how many standard deviations off the others a step must lie to be left out.
const oddSD = 3

// fewSteps of a kind say little of what is usual: the other kinds' steps stand for them, with the spread between kinds.
const fewSteps = 4

// fitting parts the steps that fit the others of their kind from those that do not: typing errors, a break for the telephone.
func fitting(all []sample) (fit []sample, odd []Odd) {
	var every []float64
	byKind := make([][]float64, len(Kinds))
	for _, s := range all {
		every = append(every, s.y)
		byKind[s.kind] = append(byKind[s.kind], s.y)
	}
	usual := median(every)
	middle := make([]float64, len(Kinds))
	for k, ys := range byKind {
		if middle[k] = usual; len(ys) >= fewSteps {
			middle[k] = median(ys)
		}
	}
	var off []float64
	for _, s := range all {
		off = append(off, math.Abs(s.y-middle[s.kind]))
	}
	spread := math.Max(stepSD/2, 1.4826*median(off)) // the standard deviation, of normal errors
	for _, s := range all {
		sd := spread
		if len(byKind[s.kind]) < fewSteps {
			sd = math.Hypot(spread, kindSD)
		}
		if math.Abs(s.y-middle[s.kind]) > oddSD*sd {
			odd = append(odd, Odd{s.log, s.step, math.Exp(s.y), math.Exp(middle[s.kind])})
			continue
		}
		fit = append(fit, s)
	}
	return fit, odd
}

func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	v = slices.Clone(v)
	slices.Sort(v)
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

// fit is the logarithm of each kind's pace and its standard deviation: crew, kind and day by their priors, single steps by a spread
// that is found with them.
func fit(all []sample, logs int) (mean, sd []float64) {
	n := 1 + len(Kinds) + logs
	spread := stepSD
	groups := map[[2]int]bool{}
	for _, s := range all {
		groups[[2]int{s.log, s.kind}] = true
	}
	var u []float64
	var cov [][]float64
	for range 8 {
		a, b := make([][]float64, n), make([]float64, n)
		for i := range a {
			a[i] = make([]float64, n)
			prior := crewSD
			switch {
			case i > len(Kinds):
				prior = daySD
			case i > 0:
				prior = kindSD
			}
			a[i][i] = 1 / (prior * prior)
		}
		w := 1 / (spread * spread)
		for _, s := range all {
			in := []int{0, 1 + s.kind, 1 + len(Kinds) + s.log}
			for _, i := range in {
				b[i] += w * s.y
				for _, j := range in {
					a[i][j] += w
				}
			}
		}
		cov = inverse(a)
		u = make([]float64, n)
		for i := range u {
			for j := range b {
				u[i] += cov[i][j] * b[j]
			}
		}
		sum := known * stepSD * stepSD
		for _, s := range all {
			r := s.y - u[0] - u[1+s.kind] - u[1+len(Kinds)+s.log]
			sum += r * r
		}
		spread = math.Sqrt(sum / math.Max(known, known+float64(len(all)-len(groups))))
	}
	for k := range Kinds {
		i := 1 + k
		mean = append(mean, u[0]+u[i])
		sd = append(sd, math.Sqrt(cov[0][0]+cov[i][i]+2*cov[0][i]))
	}
	return mean, sd
}

// inverse of a symmetric positive definite matrix, by Gauss and Jordan.
func inverse(a [][]float64) [][]float64 {
	n := len(a)
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
		out[i][i] = 1
	}
	for i := range n {
		k := 1 / a[i][i]
		for j := range n {
			a[i][j] *= k
			out[i][j] *= k
		}
		for r := range n {
			if f := a[r][i]; r != i && f != 0 {
				for j := range n {
					a[r][j] -= f * a[i][j]
					out[r][j] -= f * out[i][j]
				}
			}
		}
	}
	return out
}
