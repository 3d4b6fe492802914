package artwork

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// pictureKind tells what a picture is for.
type pictureKind uint8

const (
	shown       pictureKind = iota
	byLightness             // a mask: lightness times alpha is what is let through
	byLinear                // the same with lightness in linear light
	byAlpha                 // a mask of mask-type alpha, or a clip path
)

// coat is paint as it adds up: colour times alpha, and alpha, in 0..1.
type coat struct {
	c [3]float64
	a float64
}

// Eye sees what an artwork paints, cell by cell. It is not safe for use by several goroutines.
type Eye struct {
	art     *Artwork
	owner   [][2]int32 // by outline: its picture and layer
	active  [][]int32  // by picture: the layers whose outline holds in this cell
	touched []int32    // pictures with active layers
	through []float64  // by picture: what the mask lets through in this cell; below 0: not yet known
	stack   []open
	here    pt   // where shades are looked at
	shaded  bool // a shade was met in the last look
}

// open is a group being put together.
type open struct {
	group int
	coat
}

// NewEye prepares an artwork to be seen.
func NewEye(art *Artwork) *Eye {
	e := &Eye{
		art:     art,
		owner:   make([][2]int32, len(art.Outlines)),
		active:  make([][]int32, len(art.Pictures)),
		through: make([]float64, len(art.Pictures)),
	}
	for p := range art.Pictures {
		e.through[p] = -1
		for l := range art.Pictures[p].Layers {
			e.owner[art.Pictures[p].Layers[l].Outline] = [2]int32{int32(p), int32(l)}
		}
	}
	return e
}

// See is the colour that meets the eye where just these outlines hold, over the ground, and the place in the file of
// the paint that is seen most; its line is 0 where nothing is painted.
func (e *Eye) See(outlines []int32, ground RGB) (RGB, finding.Source) {
	return e.SeeAt(outlines, e.art.Page.centre(), ground)
}

// Shaded tells whether what was seen last differs from place to place.
func (e *Eye) Shaded() bool { return e.shaded }

// SeeAt is what See gives, at a place: shades differ.
func (e *Eye) SeeAt(outlines []int32, at geom.ArtworkPoint, ground RGB) (RGB, finding.Source) {
	c, src := e.look(outlines, at)
	var out RGB
	for k := range out {
		out[k] = uint8(math.Max(0, math.Min(255, 255*c.c[k]+(1-c.a)*float64(ground[k])+0.5)))
	}
	return out, src
}

// look is the paint at a place where just these outlines hold.
func (e *Eye) look(outlines []int32, at geom.ArtworkPoint) (coat, finding.Source) {
	e.here, e.shaded = pt(at), false
	for _, o := range outlines {
		w := e.owner[o]
		if len(e.active[w[0]]) == 0 {
			e.touched = append(e.touched, w[0])
		}
		e.active[w[0]] = append(e.active[w[0]], w[1])
	}
	c, src := e.paint(0)
	for _, p := range e.touched {
		e.active[p] = e.active[p][:0]
		e.through[p] = -1
	}
	e.touched = e.touched[:0]
	return c, src
}

// lets is what picture p, as a mask or clip, lets through in this cell: 0 to 1.
func (e *Eye) lets(p int) float64 {
	if len(e.active[p]) == 0 {
		return 0
	}
	if e.through[p] < 0 {
		e.through[p] = 0 // a mask that refers to itself lets nothing through
		c, _ := e.paint(p)
		switch v := c.c; e.art.Pictures[p].kind {
		case byAlpha:
			e.through[p] = c.a
		case byLinear:
			e.through[p] = c.a * (0.2125*toLinear(v[0]/math.Max(c.a, 1e-9)) + 0.7154*toLinear(v[1]/math.Max(c.a, 1e-9)) + 0.0721*toLinear(v[2]/math.Max(c.a, 1e-9)))
		default: // W3C, CSS Masking 1: luminance coefficients
			e.through[p] = 0.2125*v[0] + 0.7154*v[1] + 0.0721*v[2]
		}
	}
	return e.through[p]
}

func toLinear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// covers is the alpha of a layer in this cell, before its shade's.
func (e *Eye) covers(l *Layer) float64 {
	a := l.Alpha
	for _, c := range l.Clips {
		if a *= e.lets(c); a == 0 {
			break
		}
	}
	return a
}

// paint puts a picture's active layers together, bottom to top, group by group.
func (e *Eye) paint(picture int) (coat, finding.Source) {
	p := &e.art.Pictures[picture]
	layers := e.active[picture]
	slices.Sort(layers)
	// What lies under an opaque layer of no group is not seen.
	for i := len(layers) - 1; i >= 0; i-- {
		if l := &p.Layers[layers[i]]; l.Group == 0 && l.Shade == nil && e.covers(l) >= 1 {
			layers = layers[i:]
			break
		}
	}
	base := len(e.stack)
	e.stack = append(e.stack, open{})
	var src finding.Source
	for _, i := range layers {
		l := &p.Layers[i]
		a := e.covers(l)
		if a == 0 {
			continue
		}
		e.turnTo(p, base, l.Group)
		s := coat{}
		if l.Shade != nil {
			e.shaded = true
			c := l.Shade.at(e.here)
			a *= c.a
			s.c = c.c
		} else {
			for k := range s.c {
				s.c[k] = float64(l.RGB[k]) / 255
			}
		}
		if src.Line == 0 || a > 0.5 {
			src = l.Source
		}
		s.a = a
		for k := range s.c {
			s.c[k] *= a
		}
		top := &e.stack[len(e.stack)-1]
		top.coat = over(top.coat, s, Normal)
	}
	e.turnTo(p, base, 0)
	out := e.stack[base].coat
	e.stack = e.stack[:base]
	return out, src
}

// turnTo closes the open groups that do not hold group g, and opens those that do.
func (e *Eye) turnTo(p *Picture, base, g int) {
	for {
		top := e.stack[len(e.stack)-1]
		if top.group == g || p.holds(top.group, g) {
			break
		}
		e.stack = e.stack[:len(e.stack)-1]
		k := p.Groups[top.group].Alpha
		for _, m := range p.Groups[top.group].Masks {
			k *= e.lets(m)
		}
		for i := range top.c {
			top.c[i] *= k
		}
		top.a *= k
		below := &e.stack[len(e.stack)-1]
		below.coat = over(below.coat, top.coat, p.Groups[top.group].Blend)
	}
	at := len(e.stack)
	for e.stack[at-1].group != g {
		e.stack = append(e.stack, open{})
		copy(e.stack[at+1:], e.stack[at:])
		e.stack[at] = open{group: g}
		g = p.Groups[g].Parent
	}
}

// holds tells whether group g lies inside group outer.
func (p *Picture) holds(outer, g int) bool {
	for g > outer {
		g = p.Groups[g].Parent
	}
	return g == outer
}
