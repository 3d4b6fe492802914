package recipe

import "math"

// Minutes are the shop's times of making a bar: by its kind, and more a kilogram and a metre of it; and of what is done
// to it.
type Minutes struct {
	Rod, Bar, Strip, Oval, HalfMoon, Wedge, Triangle, FlatRod, Leaf, Tapered, Drop, Sheet float64
	Kg, Metre                                                                             float64
	Bow, Cut, Groove, NextGroove, Bend, BendFar, BendTwice                                float64
}

// Make is the minutes of making n copies as one bar, each of so many grams and so long, and of what is done to it.
func (m Minutes) Make(r Recipe, grams, lengthMM float64, n int) float64 {
	base := [Bases]float64{Rod: m.Rod, Bar: m.Bar, Strip: m.Strip, Oval: m.Oval, HalfMoon: m.HalfMoon, Wedge: m.Wedge,
		Triangle: m.Triangle, FlatRod: m.FlatRod, Leaf: m.Leaf, Tapered: m.Tapered, Drop: m.Drop, Sheet: m.Sheet}[r.Base]
	return base + float64(n)*m.Each(grams, lengthMM) + m.Work(r)
}

// Each is what every copy adds.
func (m Minutes) Each(grams, lengthMM float64) float64 { return (m.Kg*grams + m.Metre*lengthMM) / 1000 }

// Work is the minutes of the operation by itself, done before the bar is chopped; bending is done when a strip is laid.
func (m Minutes) Work(r Recipe) float64 {
	switch r.Op {
	case Bow:
		return m.Bow
	case Cut:
		return m.Cut
	case Groove:
		return m.Groove
	case Grooves:
		return m.Groove + m.NextGroove*(r.Done[3]+r.Done[8]-1)
	}
	return 0
}

// Bending is the minutes of bending a strip when it is laid.
func (m Minutes) Bending(r Recipe) float64 {
	switch {
	case r.Op == BendTwice || r.Op == Follow:
		return m.BendTwice
	case r.Op == Bend && r.Turn() > math.Pi/2:
		return m.BendFar
	case r.Op == Bend:
		return m.Bend
	}
	return 0
}

// Radius of the tightest arc of a bent strip's middle, or of what a sheet closes round; 0 for straight parts,
// millimetres.
func (r Recipe) Radius() float64 {
	if r.Closed() {
		return r.Size[0] / (2 * math.Pi)
	}
	out := 0.0
	for _, a := range r.Arcs {
		if t := math.Abs(a.TurnDeg) * math.Pi / 180; t > 0.05 && (out == 0 || a.LengthMM/t < out) {
			out = a.LengthMM / t
		}
	}
	return out
}
