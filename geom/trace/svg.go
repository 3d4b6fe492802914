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

// SVG of a picture of flat colours: one path an area, neighbours with the same points. Units are pixels of the picture, shrunk
// by a whole factor where it has more than a thousand a side. The error is ErrPhoto.
func SVG(img image.Image, how Options) ([]byte, error) {
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
	return out.Bytes(), nil
}
