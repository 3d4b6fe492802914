// Package size solves the log from the order, and names each part's dimensions as hands need them.
//
// Guarantees: the log is at most the largest allowed and at least twice as long as wide unless its diameter is given;
// masses are density times area times length.
//
// References: none needed; volumes and ratios are schoolbook.
package size

import (
	"errors"
	"math"

	"sugarwright/planner/job"
)

// Order is what the client wants; zero means not given. Millimetres and grams.
type Order struct {
	PieceMM, CutMM, LengthMM, LogMM float64
	WeightG                         float64
	Pieces                          int
}

// Sizes of a piece that nobody asked otherwise for, millimetres; common practice, no source (15 to 20 across, 10 long).
const (
	pieceMM = 15
	cutMM   = 10
)

// Completed takes from the order's file what was not given: the piece, and how it is cut.
func (o Order) Completed(j *job.Job) Order {
	first := func(to *float64, more ...float64) {
		for _, v := range more {
			if *to == 0 {
				*to = v
			}
		}
	}
	if j != nil {
		first(&o.PieceMM, j.PieceMM)
		first(&o.CutMM, j.CutMM)
	}
	first(&o.PieceMM, pieceMM)
	first(&o.CutMM, cutMM)
	return o
}

// Log is the solved size.
type Log struct{ DiameterMM, LengthMM float64 }

// ErrOrder is more than one of length, weight and pieces.
var ErrOrder = errors.New("give one of length, weight and pieces")

// Diameter is settled before the drawing is scaled: grams per cubic centimetre are the mean of the section. Length
// follows by Length.
func (o Order) Diameter(largest, density, endLoss float64) (float64, error) {
	n := 0
	for _, given := range []bool{o.LengthMM > 0, o.WeightG > 0, o.Pieces > 0} {
		if given {
			n++
		}
	}
	if n > 1 {
		return 0, ErrOrder
	}
	d := largest
	switch {
	case o.LogMM > 0:
		return o.LogMM, nil
	case o.LengthMM > 0:
		d = o.LengthMM / 2
	case o.WeightG > 0: // W = rho pi/4 D^2 2D
		d = math.Cbrt(o.WeightG * 1000 * 2 / (math.Pi * density))
	case o.Pieces > 0: // N cut = (1 - loss) 2D (D/d)^2
		d = math.Cbrt(float64(o.Pieces) * o.CutMM * o.PieceMM * o.PieceMM / (2 * (1 - endLoss)))
	}
	return math.Min(d, largest), nil
}

// Length of a log of this diameter; gramsPerMM is the mass of a millimetre of it, standard the length when nothing was
// ordered.
func (o Order) Length(diameter, gramsPerMM, endLoss, standard float64) float64 {
	switch {
	case o.LengthMM > 0:
		return o.LengthMM
	case o.WeightG > 0:
		return o.WeightG / gramsPerMM
	case o.Pieces > 0:
		r := diameter / o.PieceMM
		return float64(o.Pieces) * o.CutMM / ((1 - endLoss) * r * r)
	}
	return standard
}

// Count of pieces from a log after loss: floor((1 - loss) length ratio^2 / cut).
func (o Order) Count(l Log, endLoss float64) int {
	r := l.DiameterMM / o.PieceMM
	return int(math.Floor((1-endLoss)*l.LengthMM*r*r/o.CutMM + 1e-9))
}
