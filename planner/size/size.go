// Package size solves the log from the order, and names each part's dimensions as hands need them.
//
// Guarantees: the log is at most the largest allowed and at least twice as long as wide unless its diameter is given; masses are
// density times area times length.
//
// References: none needed; volumes and ratios are schoolbook.
package size

import (
	"errors"
	"math"

	"sugarwright/planner/element"
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

// Diameter is settled before the drawing is scaled: grams per cubic centimetre are the mean of the section. Length follows by Length.
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

// Length of a log of this diameter; gramsPerMM is the mass of a millimetre of it, standard the length when nothing was ordered.
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

// Of names the dimensions of a fit.
func Of(f element.Fit) map[string]float64 {
	switch f.Form {
	case element.Rod:
		return map[string]float64{"diameter_mm": f.A}
	case element.Strip, element.Bent, element.Wrap:
		return map[string]float64{"thickness_mm": f.A, "width_mm": f.B}
	case element.BlockForm:
		return map[string]float64{"width_mm": f.A, "height_mm": f.B}
	case element.Wedge:
		return map[string]float64{"base_mm": f.A, "height_mm": f.B, "top_mm": f.C, "apex_mm": f.D}
	case element.Segment:
		return map[string]float64{"chord_mm": f.A, "height_mm": f.B}
	}
	return map[string]float64{"diameter_mm": f.A, "length_mm": f.B}
}

// Thick is the thickness that decides how a fit holds its heat and its shape.
func Thick(f element.Fit) float64 {
	switch f.Form {
	case element.BlockForm, element.Segment:
		return f.B
	case element.Wedge:
		return math.Min(f.A, f.B)
	}
	return f.A
}
