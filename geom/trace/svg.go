package trace

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"strconv"
)

// Bounds of what is traced: more is a photo, no drawing.
const (
	mostColours = 40
	mostAreas   = 5000
	mostCracks  = 200_000
)

// ErrPhoto is a picture with more colours or areas than a drawing has.
var ErrPhoto = errors.New("the picture has so many colours and areas that it is a photo, not a drawing of flat colours; for a photo of a drawing on white paper give --photo")

// Options say what a picture is.
type Options struct {
	Photo   bool     // of a drawing on white paper: its light is evened out
	Corners *Corners // of the sheet; nil: the picture is the sheet
	Colours int      // at most so many; 0: as many as are found
}

// Drawing is a picture as traced.
type Drawing struct {
	SVG     []byte // one path an area, neighbours with the same points
	Colours int
	Nearest *Pair // of its colours; nil where there is one
}

// Pair is two colours in sRGB and how far they differ (CIE94 for graphic arts, symmetric).
type Pair struct {
	A, B   [3]uint8
	Differ float64
}

// Picture traces a picture of flat colours. Units are its pixels, shrunk by a whole factor where it has more than a thousand
// a side. The error is ErrPhoto.
func Picture(img image.Image, how Options) (*Drawing, error) {
	if how.Corners != nil {
		img = how.Corners.flattened(img)
	}
	if how.Photo {
		img = evened(shrunk(img))
	}
	p := read(img, how.Photo)
	if p.noise {
		return nil, ErrPhoto
	}
	l := p.label()
	if how.Photo {
		l.paper()
		l.streaks()
	}
	l.merge(how.Colours)
	if len(l.colours) > mostColours {
		return nil, ErrPhoto
	}
	l.specks(l.manner.specks)
	area, members := l.areas()
	if len(members) > mostAreas {
		return nil, ErrPhoto
	}
	b := follow(l)
	if len(b.of) > mostCracks {
		return nil, ErrPhoto
	}
	b.fit()
	var out bytes.Buffer
	fmt.Fprintf(&out, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\">\n", l.w, l.h)
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, m := range members {
		a := l.at[m[0]]
		if a < 0 {
			continue
		}
		c := l.colours[a]
		fmt.Fprintf(&out, "<path fill=\"#%02x%02x%02x\" d=\"", c[0], c[1], c[2])
		for _, uses := range b.rings(m, area) {
			for i, p := range b.ring(uses) {
				if i == 0 {
					out.WriteString("M")
				} else {
					out.WriteString("L")
				}
				out.WriteString(num(p[0]) + " " + num(p[1]))
			}
			out.WriteString("Z")
		}
		out.WriteString("\"/>\n")
	}
	out.WriteString("</svg>\n")
	d := &Drawing{SVG: out.Bytes()}
	d.count(l)
	return d, nil
}

// count finds how many colours are left, and the two that differ least.
func (d *Drawing) count(l *labelled) {
	used := make([]bool, len(l.colours))
	for _, a := range l.at {
		if a >= 0 {
			used[a] = true
		}
	}
	for b, q := range l.colours {
		if !used[b] {
			continue
		}
		d.Colours++
		for a, p := range l.colours[:b] {
			if off := differ(labOf(p), labOf(q)); used[a] && (d.Nearest == nil || off < d.Nearest.Differ) {
				d.Nearest = &Pair{A: p, B: q, Differ: off}
			}
		}
	}
}
