// Package artwork reads a client's SVG into painted outlines with their colours and places in the file.
//
// Guarantees: what cannot be honoured is a located finding, never silently dropped; nothing outside the file is opened; size, depth,
// expansions and segments are bounded (see the Max constants); the same bytes give the same artwork.
//
// References: W3C, Scalable Vector Graphics 2 and its implementation notes; W3C, CSS Values and Units.
package artwork

import (
	"fmt"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// Bounds of what is read. Each is far above any drawing that could be made in sugar, and low enough that reading ends within seconds.
const (
	MaxBytes    = 16 << 20
	MaxDepth    = 200
	MaxNodes    = 200_000   // elements, those repeated by use counted each time
	MaxSegments = 1_000_000 // path segments, those repeated counted each time
	MaxDashes   = 100_000
)

// RGB is an 8-bit sRGB colour.
type RGB [3]uint8

// Hex is the colour as #rrggbb.
func (c RGB) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]) }

// Rule tells what of an outline is inside.
type Rule int

// The two fill rules of SVG.
const (
	NonZero Rule = iota
	EvenOdd
)

// Inside applies the rule to a winding number.
func (r Rule) Inside(w int32) bool {
	if r == EvenOdd {
		return w&1 != 0
	}
	return w != 0
}

// Outline is a path in its own user space, its matrix to the artwork frame, and how it is filled or stroked.
type Outline struct {
	Path   Path
	Matrix geom.Affine
	Rule   Rule
	Stroke *Stroke // nil: the fill
}

// Layer is one coat of paint, in painting order.
type Layer struct {
	Outline int
	RGB     RGB
	Alpha   float64
	Clips   []int // all of them must hold
	Source  finding.Source
}

// Clip holds where any of its shapes holds.
type Clip struct{ Shapes []ClipShape }

// ClipShape is one outline inside all of its own clips.
type ClipShape struct {
	Outline int
	Clips   []int
}

// View is the viewport in artwork user units, and the inscribed circle's frame.
type View struct{ X, Y, W, H float64 }

// Artwork is what an SVG paints.
type Artwork struct {
	View     View // the viewBox
	Outlines []Outline
	Layers   []Layer
	Clips    []Clip
	layersOf [][]int
}

// LayersOf lists the layers that paint an outline.
func (a *Artwork) LayersOf(outline int) []int { return a.layersOf[outline] }

func (a *Artwork) index() {
	a.layersOf = make([][]int, len(a.Outlines))
	for i, l := range a.Layers {
		a.layersOf[l.Outline] = append(a.layersOf[l.Outline], i)
	}
}

// Seen is the colour that the eye meets where the outlines told by inside hold: layers, topmost first, over the ground.
func (a *Artwork) Seen(inside func(outline int) bool, layers []int, ground RGB) (RGB, finding.Source) {
	var acc [3]float64
	var src finding.Source
	left := 1.0
	for _, i := range layers {
		l := &a.Layers[i]
		if !inside(l.Outline) || !a.clipped(inside, l.Clips) {
			continue
		}
		if src.Line == 0 || left > 0.5 && l.Alpha > 0.5 {
			src = l.Source
		}
		for k := range acc {
			acc[k] += left * l.Alpha * float64(l.RGB[k])
		}
		if left *= 1 - l.Alpha; left < 0.002 { // below half a step of 8 bits
			left = 0
			break
		}
	}
	var out RGB
	for k := range acc {
		out[k] = uint8(acc[k] + left*float64(ground[k]) + 0.5)
	}
	return out, src
}

func (a *Artwork) clipped(inside func(int) bool, clips []int) bool {
	for _, c := range clips {
		held := false
		for _, s := range a.Clips[c].Shapes {
			if inside(s.Outline) && a.clipped(inside, s.Clips) {
				held = true
				break
			}
		}
		if !held {
			return false
		}
	}
	return true
}

// Flat is the outline in the true frame with curves within tol millimetres. A stroke comes as pieces that the non-zero rule unites.
func (o *Outline) Flat(to geom.ToTrue, tol float64) []geom.Ring[geom.TruePoint] {
	m := geom.Affine(to).Times(o.Matrix)
	scale := m.Scale()
	if scale == 0 {
		return nil
	}
	lines := o.Path.flat(tol / scale)
	if o.Stroke != nil {
		lines = o.Stroke.pieces(o.Path, tol/scale)
	}
	out := make([]geom.Ring[geom.TruePoint], 0, len(lines))
	for _, l := range lines {
		if o.Stroke == nil && len(l.pts) < 3 {
			continue
		}
		r := make(geom.Ring[geom.TruePoint], len(l.pts))
		for i, p := range l.pts {
			x, y := m.Apply(p[0], p[1])
			r[i] = geom.TruePoint{x, y}
		}
		out = append(out, r)
	}
	return out
}
