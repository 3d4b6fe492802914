package learn

import (
	"math"

	"sugarwright/planner/record"
)

// Priors of what is weighed: how far a kitchen's clear and pulled sugar may be from the settings, in shares of the density, and its
// loss at ends and cuts, in shares of the log; and how far one log strays from its kitchen's; guessed, no source.
const (
	clearSD  = 0.02
	pulledSD = 0.14
	pieceSD  = 0.035
	lossSD   = 0.07
	logLoss  = 0.035
)

// What is weighed may be so many times what was planned before it is taken for a slip, like ounces for grams.
const (
	leastTimes = 0.6
	mostTimes  = 1.6
)

// Figure of the shop's file, as it is and as the records have it, with the range of nine in ten.
type Figure struct {
	Old, New, Low, Top float64
	Logs               int
}

// Weighed is what the weights tell; nil where they tell nothing.
type Weighed struct {
	Clear, Pulled, EndLoss *Figure
	Odd                    []OddWeight
}

// OddWeight is a weight that is left out: too far from what was planned.
type OddWeight struct {
	Log            int
	Key            string
	Value, Planned float64
}

// Weights of logs: what a piece weighs tells the two densities, by the share of each in it; what the pieces weigh of the log
// tells the loss. One log alone moves mostly what is least known, the pulled sugar.
func Weights(logs []*record.Log, clear, pulled, endLoss float64) (out Weighed) {
	// Normal equations of the two shares by which the densities are off.
	a11, a22, a12, b1, b2 := 1/(clearSD*clearSD), 1/(pulledSD*pulledSD), 0.0, 0.0, 0.0
	weighed := 0
	loss, weight, lost := endLoss/(lossSD*lossSD), 1/(lossSD*lossSD), 0
	for i, l := range logs {
		bad := false
		check := func(key string, value, planned float64) {
			if value > 0 && planned > 0 && (value < leastTimes*planned || value > mostTimes*planned) {
				out.Odd = append(out.Odd, OddWeight{i, key, value, planned})
				bad = true
			}
		}
		check("log_g", l.LogG, l.PlannedLogG)
		piece := 0.0
		if l.PieceCount > 0 && l.PiecesG > 0 {
			piece = l.PiecesG / float64(l.PieceCount)
			check("pieces_g", l.PiecesG, float64(l.PieceCount)*l.PlannedPieceG)
		}
		if bad {
			continue
		}
		if piece > 0 && l.PlannedPieceG > 0 {
			c, p, y := 1-l.PulledShare, l.PulledShare, piece/l.PlannedPieceG-1
			w := 1 / (pieceSD * pieceSD)
			a11, a12, a22 = a11+w*c*c, a12+w*c*p, a22+w*p*p
			b1, b2 = b1+w*c*y, b2+w*p*y
			weighed++
		}
		if l.LogG > 0 && l.PiecesG > 0 && l.PiecesG < l.LogG {
			w := 1 / (logLoss * logLoss)
			loss, weight = loss+w*(1-l.PiecesG/l.LogG), weight+w
			lost++
		}
	}
	if weighed > 0 {
		det := a11*a22 - a12*a12
		figure := func(old, off, variance float64) *Figure {
			sd := math.Sqrt(variance)
			return &Figure{old, old * (1 + off), old * (1 + off - ninety*sd), old * (1 + off + ninety*sd), weighed}
		}
		out.Clear = figure(clear, (a22*b1-a12*b2)/det, a22/det)
		out.Pulled = figure(pulled, (a11*b2-a12*b1)/det, a11/det)
	}
	if lost > 0 {
		m, sd := loss/weight, math.Sqrt(1/weight)
		out.EndLoss = &Figure{endLoss, m, math.Max(0, m-ninety*sd), m + ninety*sd, lost}
	}
	return out
}
