// Package page lays out one sheet in millimetres, origin at the top left, y down; it knows no plan.
//
// Guarantees: shapes and texts are kept in drawing order and mean the same to every back end: areas are filled by the
// non-zero rule, hatches are lines, texts are glyphs of the embedded face at places computed here.
package page

import (
	"image/color"
	"math"
	"strconv"
	"strings"
)

// Point on the sheet, millimetres.
type Point [2]float64

// Box is a rectangle along the axes: left, top, right, bottom.
type Box [4]float64

// Overlaps tells whether two boxes have an area in common.
func (b Box) Overlaps(o Box) bool { return b[0] < o[2] && o[0] < b[2] && b[1] < o[3] && o[1] < b[3] }

// Contains tells whether a point lies in the box.
func (b Box) Contains(q Point) bool {
	return q[0] >= b[0] && q[0] <= b[2] && q[1] >= b[1] && q[1] <= b[3]
}

// RGB of a colour written like #c02030; false where it is none.
func RGB(hex string) (color.RGBA, bool) {
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}, err == nil && len(hex) == 7 && hex[0] == '#'
}

// Path is one or more rings, or open lines. Fill and Stroke are "" for none, or #rrggbb; Width is in millimetres.
type Path struct {
	Rings  [][]Point
	Open   bool
	Fill   string
	Stroke string
	Width  float64
	Dashed bool
	Leader bool // leads from a part to its label
	Rule   bool // parts texts from one another
}

// Text is one line; Size is the height of capitals in millimetres; Anchor is start, middle or end.
type Text struct {
	At     Point
	Size   float64
	Text   string
	Anchor string
	Bold   bool
	Fill   string
	Within [][]Point // the part that it must stand in, if it must
}

// Picture is one of pixels, as a PNG file, that fills its box.
type Picture struct {
	At  Box
	PNG []byte
}

// Item is a path, a text or a picture.
type Item struct {
	Path    *Path
	Text    *Text
	Picture *Picture
}

// Page is one sheet. Nothing is drawn in its margin, and no text is smaller than Least.
type Page struct {
	W, H, Margin, Least float64
	Title               string
	Items               []Item
}

// Add puts a path on the sheet.
func (p *Page) Add(path Path) { p.Items = append(p.Items, Item{Path: &path}) }

// Write puts a line of text on the sheet.
func (p *Page) Write(t Text) {
	if t.Anchor == "" {
		t.Anchor = "start"
	}
	if t.Fill == "" {
		t.Fill = "#000000"
	}
	p.Items = append(p.Items, Item{Text: &t})
}

// Show puts a picture on the sheet.
func (p *Page) Show(x Picture) { p.Items = append(p.Items, Item{Picture: &x}) }

// Scaled is a sheet so many times as large, all on it with it.
func (p *Page) Scaled(k float64) *Page {
	rings := func(in [][]Point) [][]Point {
		out := make([][]Point, len(in))
		for i, r := range in {
			for _, q := range r {
				out[i] = append(out[i], Point{k * q[0], k * q[1]})
			}
		}
		return out
	}
	out := &Page{W: k * p.W, H: k * p.H, Margin: k * p.Margin, Least: k * p.Least, Title: p.Title}
	for _, it := range p.Items {
		if it.Path != nil {
			path := *it.Path
			path.Rings, path.Width = rings(path.Rings), k*path.Width
			out.Add(path)
			continue
		}
		if it.Picture != nil {
			x := *it.Picture
			for i := range x.At {
				x.At[i] *= k
			}
			out.Show(x)
			continue
		}
		t := *it.Text
		t.At, t.Size = Point{k * t.At[0], k * t.At[1]}, k*t.Size
		if t.Within != nil {
			t.Within = rings(t.Within)
		}
		out.Write(t)
	}
	return out
}

// Line is a straight black stroke, that no text crosses.
func (p *Page) Line(a, b Point, width float64) {
	p.Add(Path{Rings: [][]Point{{a, b}}, Open: true, Stroke: "#000000", Width: width, Rule: true})
}

// Rect is the ring of a rectangle.
func Rect(x, y, w, h float64) []Point {
	return []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// Circle is the ring of a circle, with sides enough for its size.
func Circle(c Point, r float64) []Point {
	n := int(math.Max(12, math.Min(180, 4*math.Ceil(math.Sqrt(r/0.01)/4*2))))
	out := make([]Point, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Point{c[0] + r*cos, c[1] + r*sin}
	}
	return out
}

// Hatch is a pattern of lines of its own angle (degrees) and spacing (millimetres), crossed or not.
type Hatch struct {
	Angle, Spacing float64
	Cross          bool
}

// Hatch draws the pattern inside rings; a line goes through at.
func (p *Page) Hatch(rings [][]Point, h Hatch, at Point, colour string) {
	lines := hatchLines(rings, h.Angle, h.Spacing, at)
	if h.Cross {
		lines = append(lines, hatchLines(rings, h.Angle+90, h.Spacing, at)...)
	}
	if len(lines) > 0 {
		p.Add(Path{Rings: lines, Open: true, Stroke: colour, Width: 0.3})
	}
}

// mostHatchLines bounds the lines of one hatch.
const mostHatchLines = 2000

// hatchLines cuts parallel lines with the rings, by even and odd crossings.
func hatchLines(rings [][]Point, angle, spacing float64, at Point) [][]Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	along := func(p Point) float64 { return (p[0]-at[0])*cos + (p[1]-at[1])*sin }
	across := func(p Point) float64 { return -(p[0]-at[0])*sin + (p[1]-at[1])*cos }
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		for _, q := range r {
			lo, hi = math.Min(lo, across(q)), math.Max(hi, across(q))
		}
	}
	first, last := math.Ceil(lo/spacing), math.Floor(hi/spacing)
	if !(last-first < mostHatchLines) {
		return nil
	}
	var out [][]Point
	var cuts []float64
	for k := first; k <= last; k++ {
		d := k * spacing
		cuts = cuts[:0]
		for _, r := range rings {
			for i, a := range r {
				b := r[(i+1)%len(r)]
				u, v := across(a)-d, across(b)-d
				if (u > 0) != (v > 0) {
					cuts = append(cuts, along(a)+(along(b)-along(a))*u/(u-v))
				}
			}
		}
		sortFloats(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > 0.2 {
				out = append(
					out,
					[]Point{
						{at[0] + cuts[i]*cos - d*sin, at[1] + cuts[i]*sin + d*cos},
						{at[0] + cuts[i+1]*cos - d*sin, at[1] + cuts[i+1]*sin + d*cos},
					},
				)
			}
		}
	}
	return out
}

// Dash is the length of a dash and of the gap after it.
var Dash = [2]float64{2, 1.5}
