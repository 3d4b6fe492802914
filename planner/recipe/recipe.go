// Package recipe knows how hands make a part: a base bar, and at most one operation on it. Nothing else names a form.
//
// Guarantees: a recipe's printed sizes alone draw its section; the section's area is the closed form of its sizes, and
// a fit has the part's own area, so that size times length times density is the part's weight. No size lies between 0
// and 1 mm.
//
// References: the bars, the operations and their limits are common practice, no source; areas are schoolbook.
package recipe

import (
	"math"

	"sugarwright/geom"
)

// Base is the bar that a part is made from, a prism as long as the log.
type Base int

// The bars, the plainest first. Sheet is closed round what is inside it.
const (
	Rod Base = iota
	Bar
	Strip
	Oval
	HalfMoon
	Wedge
	Triangle
	FlatRod
	Leaf
	Tapered
	Drop
	Sheet
	Bases // their number
)

func (b Base) String() string {
	return [...]string{"rod", "bar", "strip", "oval", "segment", "wedge", "triangle", "flat-rod", "leaf", "tapered-strip",
		"teardrop", "wrap", "?"}[b]
}

// Op is what is done to the bar.
type Op int

// The operations, the plainest first.
const (
	Plain   Op = iota
	Bow        // one side pressed onto a round, or rolled round; perhaps the side across from it too
	Cut        // one edge cut off lengthwise
	Groove     // one groove pressed with a rod
	Grooves    // two or three equal ones in a row
	Bend       // bent along one arc
	BendTwice
	Follow // an even strip bent along what it lies on, in more arcs than two
	Ops    // their number
)

func (o Op) String() string {
	return [...]string{"none", "bow", "cut", "groove", "grooves", "bend", "bend-twice", "follow", "?"}[o]
}

// Recipe is a bar and an operation, with the sizes that are printed, in millimetres and degrees.
type Recipe struct {
	Base Base
	// By base: rod diameter; bar, strip width, thickness, slant of both edges; oval long, short; half-moon flat, high; wedge foot, top, height,
	// slant; triangle base, height, apex from the left end; rod with a flat diameter, height; leaf length, two backs;
	// tapered strip width, thickness in the middle and at both ends; drop diameter, length; sheet width, thickness.
	Size [4]float64
	Op   Op
	// By operation: bow rise of a side and of the one across, hollow below 0; cut width along the side, depth along the
	// next; groove rod, depth, where along the side, and for a row their number and pitch, and the same for a row in the
	// side across; bevels of a bent strip's ends.
	Done [10]float64
	Side int // of the bar, counter-clockwise from its foot, that is worked; for a cut the corner at its end
	Arcs []Arc
}

// Arc is a piece of the middle line of a bent strip: straight where it does not turn.
type Arc struct {
	LengthMM float64
	TurnDeg  float64 // to the left, walking on
}

// sizes are the names of a bar's sizes.
var sizes = [Bases][]string{
	Rod:      {"diameter_mm"},
	Bar:      {"width_mm", "thickness_mm", "slant_mm"},
	Strip:    {"width_mm", "thickness_mm", "slant_mm"},
	Oval:     {"long_mm", "short_mm"},
	HalfMoon: {"chord_mm", "height_mm"},
	Wedge:    {"base_mm", "top_mm", "height_mm", "slant_mm"},
	Triangle: {"base_mm", "height_mm", "apex_mm"},
	FlatRod:  {"diameter_mm", "height_mm"},
	Leaf:     {"chord_mm", "height_mm", "height_2_mm"},
	Tapered:  {"width_mm", "thickness_mm", "end_mm", "end_2_mm"},
	Drop:     {"diameter_mm", "length_mm"},
	Sheet:    {"width_mm", "thickness_mm"},
}

// done are the names of an operation's sizes.
var done = [Ops][]string{
	Bow:    {"bow_mm", "bow_2_mm"},
	Cut:    {"cut_width_mm", "cut_depth_mm"},
	Groove: {"groove_mm", "groove_depth_mm", "groove_at_mm"},
	Grooves: {"groove_mm", "groove_depth_mm", "groove_at_mm", "grooves", "groove_pitch_mm", "across_mm", "across_depth_mm",
		"across_at_mm", "across", "across_pitch_mm"},
	// How much longer a bent strip's left side is than its middle at the start, and at the end: its edges are bevelled.
	Bend:      {"bevel_mm", "bevel_2_mm"},
	BendTwice: {"bevel_mm", "bevel_2_mm"},
	Follow:    {"bevel_mm", "bevel_2_mm"},
}

// Printed names the sizes: what a sheet prints, and what draws the section.
func (r Recipe) Printed() map[string]float64 {
	out := map[string]float64{}
	for i, k := range sizes[r.Base] {
		out[k] = r.Size[i]
	}
	for i, k := range done[r.Op] {
		out[k] = r.Done[i]
	}
	if done[r.Op] != nil && !r.Bent() {
		out["side"] = float64(r.Side)
	}
	return out
}

// Of is the recipe with these printed sizes; the names are those of Printed.
func Of(base Base, op Op, printed map[string]float64, arcs []Arc) Recipe {
	r := Recipe{Base: base, Op: op, Side: int(printed["side"]), Arcs: arcs}
	for i, k := range sizes[base] {
		r.Size[i] = printed[k]
	}
	for i, k := range done[op] {
		r.Done[i] = printed[k]
	}
	return r
}

// Bent tells whether a strip is bent when it is laid.
func (r Recipe) Bent() bool { return r.Op == Bend || r.Op == BendTwice || r.Op == Follow }

// Closed tells whether a sheet closes round what is inside it.
func (r Recipe) Closed() bool { return r.Base == Sheet }

// Flat tells whether a part is as thin as a sheet, and droops as one.
func (r Recipe) Flat() bool { return r.Base == Strip || r.Base == Tapered || r.Base == Sheet }

// Thick is the thickness that decides how a part holds its heat and its shape, millimetres.
func (r Recipe) Thick() float64 {
	s := r.Size
	switch r.Base {
	case Bar, Oval, HalfMoon, FlatRod, Strip, Sheet, Tapered:
		return min(s[0], s[1])
	case Wedge:
		return min(s[0], s[2])
	case Triangle:
		return min(s[0], s[1])
	case Leaf:
		return s[1] + s[2]
	}
	return s[0]
}

// Turn of a bent strip from end to end, radians, without sign; of two arcs the sum.
func (r Recipe) Turn() float64 {
	sum := 0.0
	for _, a := range r.Arcs {
		sum += math.Abs(a.TurnDeg)
	}
	return sum * math.Pi / 180
}

// Area of the section, square millimetres, in closed form.
func (r Recipe) Area() float64 {
	s := r.Size
	switch {
	case r.Base == Oval:
		return math.Pi / 4 * s[0] * s[1]
	case r.Base == Sheet || r.Base == Strip && r.Bent():
		return s[0] * s[1]
	case r.Base == Tapered:
		return s[0] * (s[2] + 2*s[1] + s[3]) / 4
	}
	p, ok := r.path(nil)
	if !ok {
		return 0
	}
	return pathArea(p)
}

// Sized is the recipe made larger or smaller as a whole.
func (r Recipe) Sized(k float64) Recipe {
	for i := range r.Size {
		r.Size[i] *= k
	}
	for i := range r.Done {
		if r.Op != Grooves || i%5 != 3 { // their number
			r.Done[i] *= k
		}
	}
	arcs := append([]Arc(nil), r.Arcs...)
	for i := range arcs {
		arcs[i].LengthMM *= k
	}
	r.Arcs = arcs
	return r
}

// Section draws the part from its printed sizes, counter-clockwise, its foot on the x axis. A closed sheet is drawn
// flat.
func (r Recipe) Section() geom.Ring[geom.TruePoint] {
	var out []geom.Vec
	switch {
	case r.Bent():
		out = r.bent(nil)
	case r.Base == Oval:
		out = ellipse(nil, r.Size[0], r.Size[1])
	default:
		p, ok := r.path(nil)
		if !ok {
			return nil
		}
		out = draw(nil, p)
	}
	ring := make(geom.Ring[geom.TruePoint], len(out))
	for i, v := range out {
		ring[i] = geom.TruePoint(v)
	}
	return ring
}
