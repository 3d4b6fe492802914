// Package flow is the rolling model: what becomes of the inside of a log when its outline is rolled from the oval in
// which it was laid to round, and, run backward, how it must be laid to come out true.
//
// Guarantees: creeping plane flow of parts of different stiffness, of which only ratios count; the even squash is
// exact, areas stay (the velocity is that of a stream function); points that parts share stay shared, so that what
// tiles the disc tiles the oval (P6). Nothing depends on the number of cores (P9).
//
// References: Stokes flow as least dissipation; weighted splines on the disc; layered material at borders. Checked
// against the exact flow of a disc in a disc, of layers, and of ellipses (Eshelby 1959; Bilby, Eshelby and Kundu 1975).
package flow

import (
	"math"
	"sugarwright/geom/finding"

	"sugarwright/geom"
)

// Part is one part of a body: rings of indices into its points, outer first, and its stiffness, of which only ratios
// count.
type Part struct {
	Rings     [][]int32
	Stiffness float64
}

// Body is a section in disc coordinates: a point is its place over the half axes of the outline, so that a round
// section and all its even squashes are the same body.
type Body struct {
	Points []geom.Vec
	Parts  []Part
}

// Method is how finely a flow is computed: cells a side of the disc, midpoint steps, and whether the outline slips
// along what rolls it or sticks to it.
type Method struct {
	Cells, Steps int
	Slip         bool
}

// ErrSingular is a body whose flow could not be solved.
var ErrSingular = finding.Impossible("the rolling model has no solution")

// MaxContrast bounds stiffness over the ground's, both ways: beyond it the flow changes little more and the method is
// not to be trusted.
const MaxContrast = 30

// Clamped is a stiffness ratio within the bounds.
func Clamped(ratio float64) float64 {
	return math.Max(1/float64(MaxContrast), math.Min(MaxContrast, ratio))
}

// Squash is half the logarithm of width over height of an oval of flatness q (height over width).
func Squash(q float64) float64 { return -math.Log(q) / 2 }

// OutlineAt is the ellipse on the way from the oval (s = 0) to round (s = 1), for a log that is squashed by h.
func OutlineAt(h, s float64) Outline {
	a := math.Exp(h * (1 - s))
	return Outline{A: a, B: 1 / a, E: -h}
}

// Forward is where the points are when the oval has been rolled round; Backward where those of a round body must be
// laid.
func Forward(b *Body, h float64, m Method) ([]geom.Vec, error) { return run(b, h, 0, 1, m) }

// Backward is the inverse of Forward: the same steps from round to the oval.
func Backward(b *Body, h float64, m Method) ([]geom.Vec, error) { return run(b, h, 1, 0, m) }

// Even tells whether all parts are as stiff: then the flow is the even squash.
func (b *Body) Even() bool {
	for _, p := range b.Parts {
		if p.Stiffness != b.Parts[0].Stiffness {
			return false
		}
	}
	return true
}

func run(b *Body, h, from, to float64, m Method) ([]geom.Vec, error) {
	points := append([]geom.Vec(nil), b.Points...)
	if b.Even() || h == 0 {
		return points, nil
	}
	g := newGrid(m.Cells, m.Slip)
	ds := (to - from) / float64(m.Steps)
	half := make([]geom.Vec, len(points))
	for k := 0; k < m.Steps; k++ {
		s := from + float64(k)*ds
		f, err := fieldAt(g, b, points, OutlineAt(h, s))
		if err != nil {
			return nil, err
		}
		for i, p := range points {
			half[i] = geom.Add(p, f.drift(p), ds/2)
		}
		if f, err = fieldAt(g, b, half, OutlineAt(h, s+ds/2)); err != nil {
			return nil, err
		}
		for i, p := range points {
			points[i] = geom.Add(p, f.drift(half[i]), ds)
		}
	}
	return points, nil
}

func fieldAt(g *grid, b *Body, points []geom.Vec, o Outline) (*Field, error) {
	f := g.solve(materialOf(g, b, points, o), o)
	if f == nil {
		return nil, ErrSingular
	}
	return f, nil
}

// Rate is the flow of a body at one moment.
func Rate(b *Body, o Outline, m Method) (*Field, error) {
	return fieldAt(newGrid(m.Cells, m.Slip), b, b.Points, o)
}

// Band, in percent of the diameter: no face is claimed to come out truer than this. Real rollers depart from the
// model's even squash by 0.2 to 0.7 % (root mean square, computed).
const Band = 0.5
