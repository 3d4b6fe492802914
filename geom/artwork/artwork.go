// Package artwork reads a client's SVG into painted outlines with their colours and places in the file.
//
// Guarantees: what cannot be honoured is a located finding, never silently dropped; nothing outside the file is opened;
// size, depth, expansions and segments are bounded (bounds.go); the same bytes give the same artwork.
//
// References: W3C, Scalable Vector Graphics 2 and its implementation notes; W3C, CSS Values and Units; W3C, CSS Masking
// 1; W3C, Compositing and Blending 1.
package artwork

import (
	"fmt"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/finding"
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
	Source finding.Source
}

// Layer is one coat of paint. It shows where its outline and all its clips hold.
type Layer struct {
	Outline int
	RGB     RGB
	Alpha   float64
	Clips   []int
	Group   int    // of its picture
	Shade   *Shade // nil: RGB and Alpha hold everywhere
	Source  finding.Source
}

// Group is layers that are put together first and then laid on what is below as one.
type Group struct {
	Parent int
	Alpha  float64
	Blend  Blend
	Masks  []int // pictures whose lightness the group is multiplied by
}

// Picture is coats of paint in painting order, and their groups; group 0 is all of it.
type Picture struct {
	Layers []Layer
	Groups []Group
	kind   pictureKind
}

// View is a rectangle in user units.
type View struct{ X, Y, W, H float64 }

// Page is how the root element shows its user units.
type Page struct {
	View          View    // the viewBox
	Port          View    // the part of the plane that shows, in user units: the viewBox widened to the page's shape
	Width, Height float64 // of the page in px; 0 where the file leaves it open
	Aspect        string  // preserveAspectRatio where it is not the usual one
}

// Pixels is the matrix from user units to a picture of w x h pixels.
func (p Page) Pixels(w, h float64) geom.Affine {
	if p.Width <= 0 || p.Height <= 0 {
		return fitBox(p.View, View{0, 0, w, h}, p.Aspect)
	}
	m := fitBox(p.View, View{0, 0, p.Width, p.Height}, p.Aspect)
	return geom.Affine{w / p.Width, 0, 0, h / p.Height, 0, 0}.Times(m)
}

// centre of what the page shows.
func (p Page) centre() geom.ArtworkPoint {
	return geom.ArtworkPoint{p.View.X + p.View.W/2, p.View.Y + p.View.H/2}
}

// Artwork is what an SVG paints. Pictures[0] is the page; the others are its clip paths and masks.
type Artwork struct {
	Title    string // the root's own, at most mostTitle letters; "" when it has none
	Page     Page
	Outlines []Outline
	Pictures []Picture
	Traced   bool   // the file is no SVG: lines and columns are those of Flat
	Flat     []byte // the drawing as SVG that was made of what is none, or that has shades; nil: the file is one
	Seen     []byte // what was sent, where that is not flat paint: a small PNG; nil: the paint says it
	Altered  []Altered
}

// Altered is what reading changed of what the client drew.
type Altered struct {
	Code   finding.Code
	Case   string              // its wording
	At     []geom.ArtworkPoint // at least one
	Source finding.Source
	Values []any
}

// Finding says a change, under its number, from 1.
func (a Altered) Finding(number int) finding.Finding {
	return finding.New(a.Code, finding.Warning, append([]any{number}, a.Values...)...).In(a.Case).From(a.Source)
}

// Painted tells whether anything is painted at all.
func (a *Artwork) Painted() bool { return len(a.Pictures[0].Layers) > 0 }

// Bounds is a box round all that the page's layers paint inside the port, from their control points; ok is false when
// there is none.
func (a *Artwork) Bounds() (View, bool) {
	b := emptyBox()
	for _, l := range a.Pictures[0].Layers {
		o := &a.Outlines[l.Outline]
		reach := 0.0
		if o.Stroke != nil {
			reach = o.Stroke.reach() * stretch(o.Matrix)
		}
		for _, s := range o.Path {
			for _, p := range s.pts {
				x, y := o.Matrix.Apply(p[0], p[1])
				b.add(x-reach, y-reach)
				b.add(x+reach, y+reach)
			}
		}
	}
	p := a.Page.Port
	b.lo = pt{math.Max(b.lo[0], p.X), math.Max(b.lo[1], p.Y)}
	b.hi = pt{math.Min(b.hi[0], p.X+p.W), math.Min(b.hi[1], p.Y+p.H)}
	return b.view(), b.hi[0] > b.lo[0] && b.hi[1] > b.lo[1]
}

// box grows round points.
type box struct{ lo, hi pt }

func emptyBox() box {
	return box{pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}}
}

func (b *box) add(x, y float64) {
	b.lo = pt{math.Min(b.lo[0], x), math.Min(b.lo[1], y)}
	b.hi = pt{math.Max(b.hi[0], x), math.Max(b.hi[1], y)}
}

func (b *box) view() View { return View{b.lo[0], b.lo[1], b.hi[0] - b.lo[0], b.hi[1] - b.lo[1]} }

// stretch is the largest factor by which a matrix lengthens.
func stretch(m geom.Affine) float64 {
	s := m[0]*m[0] + m[1]*m[1] + m[2]*m[2] + m[3]*m[3]
	d := m.Det()
	return math.Sqrt((s + math.Sqrt(math.Max(0, s*s-4*d*d))) / 2)
}

// Shaded tells whether any paint differs from place to place.
func (a *Artwork) Shaded() bool {
	for _, p := range a.Pictures {
		for _, l := range p.Layers {
			if l.Shade != nil {
				return true
			}
		}
	}
	return false
}
