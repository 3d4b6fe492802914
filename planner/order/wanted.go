package order

import (
	"math"

	"sugarwright/planner/job"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// GuessDensity is the mean of pulled and clear sugar at the usual shares, g/cm3, until the section is known; tuned.
const GuessDensity = 1.3

// Wanted is an order counted out.
type Wanted struct {
	Packs  []Pack
	Pieces int // of this drawing; 0: nothing asked
	Logs   int
	LessG  float64 // what one log would weigh, where the shop's least is more; 0: it is not
}

// PerLog is the order of one log: as called for, or what the order's file and the shop's least and largest log make of
// it. gramsPerMM is the mass of a millimetre of a log so wide, in grams; pieces are known no better than that. The
// error is of type settings.Faults.
func PerLog(o size.Order, j *job.Job, s *shop.Shop, diameterMM, gramsPerMM float64) (size.Order, Wanted, error) {
	want := Wanted{Logs: 1, Pieces: o.Pieces}
	asked := j != nil && j.Asked()
	if !asked && o.Pieces == 0 || o.PieceMM == 0 {
		return o, want, nil
	}
	r := diameterMM / o.PieceMM
	pieceG := gramsPerMM / r / r * o.CutMM
	if asked {
		var err error
		if want.Packs, want.Pieces, err = Packs(j, pieceG); err != nil {
			return o, want, err
		}
	}
	count := want.Pieces
	if asked { // bad faces are found when the packs are filled
		count = int(math.Ceil(float64(count) * (1 + s.SparePercent/100)))
	}
	gross := pieceG / (1 - s.EndLoss)
	most := s.MostG
	if asked && j.MostLogG > 0 {
		most = math.Min(most, j.MostLogG)
	}
	want.Logs, o.Pieces = Logs(count, gross, most)
	if g := float64(o.Pieces) * gross; asked && g < s.LeastG {
		o.Pieces, o.WeightG, want.LessG = 0, s.LeastG, g
	}
	return o, want, nil
}
