// Package order counts an order: from packs to pieces and logs, and from the boil down to the packs.
//
// Guarantees: every gram of the boil is in the packs or named as a loss or a leftover; printed in whole grams the
// balance still adds up; each log is within the shop's least and largest where the order says how much is wanted; no
// leftover of one colour over the least lump is without a use.
//
// References: none needed; schoolbook sums.
package order

import (
	"math"

	"sugarwright/planner/job"
)

// Pack is a number of equal packs: pieces of all designs in each, this drawing's share of them, and what a pack weighs
// net.
type Pack struct {
	Number, Pieces int
	Own            float64 // of this drawing in a pack: on the mean, where packs are filled by weight
	AskedG, NetG   float64
}

// rounding keeps sums of decimals from spilling over a whole number.
const rounding = 1e-9

// Packs are an order's packs, and how many pieces of this drawing they take in all, for pieces of so many grams, or of the
// mix's where those are known: packs of several drawings come out alike whichever is planned. The error is of type
// settings.Faults.
func Packs(j *job.Job, pieceG float64) (packs []Pack, pieces int, err error) {
	if j.MixG > 0 {
		pieceG = j.MixG
	}
	own := float64(j.Own) / float64(j.All)
	whole := func(x float64) int { return int(math.Ceil(x - rounding)) }
	if len(j.Packs) == 0 {
		return nil, whole((float64(j.Pieces) + j.Grams/pieceG) * own), nil
	}
	for _, p := range j.Packs {
		x := Pack{Number: p.Number, Pieces: p.Pieces, AskedG: p.Grams}
		if p.Grams > 0 {
			if p.Grams < pieceG {
				return nil, 0, j.Fault(p.Line,
					"a pack of %g g is less than one piece of %.1f g; allowed is %.0f g or more", p.Grams, pieceG,
					math.Ceil(pieceG))
			}
			x.Pieces = whole(p.Grams / pieceG)
		}
		x.Own = float64(x.Pieces) * own
		x.NetG = float64(x.Pieces) * pieceG
		pieces += whole(float64(x.Number) * x.Own)
		packs = append(packs, x)
	}
	return packs, pieces, nil
}

// Logs are the fewest equal logs, none over the largest, that give so many pieces; grossG is the log's mass for one
// good piece. Each gives at least so many.
func Logs(pieces int, grossG, largestG float64) (logs, each int) {
	logs = max(1, int(math.Ceil(float64(pieces)*grossG/largestG-rounding)))
	for logs < pieces && math.Ceil(float64(pieces)/float64(logs))*grossG > largestG {
		logs++ // whole pieces of each log spill over
	}
	return logs, (pieces + logs - 1) / logs
}

// Chain is what one log goes through, grams.
type Chain struct {
	SugarG, SyrupG, WaterG float64
	FinishedG              float64
	FoldedG                float64 // acid, flavour and colour: of the finished sugar, put in after the boil
	SpareG, SticksG, TrimG float64
	LogG                   float64
	EndLoss                float64
	PieceG                 float64
	Count                  int // good pieces of a log
	Logs, Packed           int // pieces packed of all logs
}

// Balance is one line of the ledger: what goes off, and what is left.
type Balance struct {
	Key         string
	OffG, LeftG float64
}

// Ledger is what all logs go through, from the pan to the packs.
func (c Chain) Ledger() []Balance {
	n := float64(c.Logs)
	pieces := float64(c.Count) * c.PieceG
	good := (1 - c.EndLoss) * c.LogG
	packed := float64(c.Packed) * c.PieceG
	left := n * (c.SugarG + c.SyrupG + c.WaterG)
	out := []Balance{{"pan", 0, left}}
	for _, x := range []Balance{
		{"steam", 0, n * (c.FinishedG - c.FoldedG)},
		{"folded", 0, n * c.FinishedG},
		{"sticks", 0, n * (c.FinishedG - c.SticksG)},
		{"spare", 0, n * (c.FinishedG - c.SticksG - c.SpareG)},
		{"trim", 0, n * c.LogG},
		{"ends", 0, n * good},
		{"bits", 0, n * pieces},
		{"extra", 0, packed},
	} {
		x.OffG, left = left-x.LeftG, x.LeftG
		out = append(out, x)
	}
	return out
}

// WholeGrams rounds what is left on each line; what goes off is the difference, so that the printed lines add up.
func WholeGrams(ledger []Balance) []Balance {
	out := make([]Balance, len(ledger))
	last := 0.0
	for i, b := range ledger {
		b.LeftG = math.Round(b.LeftG)
		if b.OffG = last - b.LeftG; i == 0 {
			b.OffG = 0
		}
		last = b.LeftG
		out[i] = b
	}
	return out
}

// Colour is what is left of one colour when a log's parts are made: the spare of its lump and the trimmed ends of its
// parts.
type Colour struct {
	ID            string
	LeftG         float64
	DensityGCm3   float64
	Jacket        bool    // it is the jacket's own
	Strong        bool    // over a limit by itself: it is not sold alone
	StripeMM      float64 // thickness of a stripe
	MostMM        float64 // widest that stripes may be
	LogLengthMM   float64
	PieceVolumeMM float64 // of a piece, cubic millimetres
}

// Uses of a leftover.
const (
	Sweets = "sweets" // drawn as plain sticks of its colour
	Stripe = "stripe" // pressed into the jacket before it is wrapped on
	Jacket = "jacket" // worked into the jacket, whose colour it has
	Cover  = "cover"  // kept covered: it makes no stripe, or may not be sold by itself
)

// Left is a leftover and its use: sweets made of it, or the width of the stripe.
type Left struct {
	ID      string
	Grams   float64
	Use     string
	Sweets  int
	WidthMM float64
}

// Use of a leftover: from the least lump on plain sticks; below it a stripe as thick as the thinnest sheet, where it
// comes out at least as wide as thick and no wider than the jacket has room for.
func (c Colour) Use(leastLumpG float64) Left {
	out := Left{ID: c.ID, Grams: c.LeftG, Use: Cover}
	sweets := c.LeftG * 1000 / (c.DensityGCm3 * c.PieceVolumeMM)
	width := c.LeftG * 1000 / (c.DensityGCm3 * c.StripeMM * c.LogLengthMM)
	switch {
	case c.Strong:
	case c.LeftG >= leastLumpG && sweets >= 1:
		out.Use, out.Sweets = Sweets, int(sweets)
	case c.Jacket:
		out.Use = Jacket
	case width >= c.StripeMM && width <= c.MostMM:
		out.Use, out.WidthMM = Stripe, width
	}
	return out
}
