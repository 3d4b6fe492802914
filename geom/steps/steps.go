// Package steps makes the shades of an artwork flat: gradients, and all that is seen through or under them, become the few flat
// steps that keep what is seen.
//
// Guarantees: what is flat already keeps its outlines and its colour; a step has no more than what a kitchen can build in mind: it is
// no thinner than leastShare of the drawing, unless the drawing has an edge there; each area that became flat is a numbered change
// with its place; the same artwork gives the same steps.
package steps

import (
	"cmp"
	"encoding/binary"
	"errors"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
	"sugarwright/geom/trace"
)

// Most is into how many flat colours a shade is made, at most, where nothing else is asked.
const Most = 3

// Options say how a drawing is read.
type Options struct {
	Ground artwork.RGB
	Shades int           // into how many flat colours a shade is made, at most; 0: Most
	Trace  trace.Options // of a picture of pixels
}

// Read is a client's drawing as flat paint: artwork.ParseAs, and its shades in steps. Errors are as there.
func Read(data []byte, o Options) (*artwork.Artwork, finding.List, error) {
	art, found, err := artwork.ParseAs(data, o.Trace)
	if err != nil || !art.Shaded() || found.Has(finding.TooMuch) {
		return art, found, err
	}
	out, err := Flat(art, o.Ground, cmp.Or(o.Shades, Most))
	if much := (*partition.TooMuch)(nil); err != nil && errors.As(err, &much) {
		return art, append(found, much.Finding()), nil
	}
	return out, found, err
}

// Flat is the artwork with each shade in the fewest flat steps that show it, at most so many. The error is a *partition.TooMuch, or our own.
func Flat(art *artwork.Artwork, ground artwork.RGB, most int) (*artwork.Artwork, error) {
	frame := partition.CanvasFrame(art, ground)
	l := &looker{eye: artwork.NewEye(art), ground: ground, known: map[string]int{}}
	m, _, err := partition.Seen(art, l, frame)
	if err != nil {
		return nil, err
	}
	r := newRaster(m, l)
	r.sample()
	shapes := r.shapes()
	r.paint(shapes, most)
	r.thicken(shapes)
	stepped := *art
	stepped.Outlines = slices.Clone(art.Outlines)
	l.first = int32(len(art.Outlines))
	for i := range l.fields {
		l.fields[i].first = len(stepped.Outlines) - len(art.Outlines)
		for _, c := range r.contours(int32(i)) {
			stepped.Outlines = append(stepped.Outlines, artwork.Outline{Path: artwork.Polygons(c), Matrix: geom.Identity, Rule: artwork.EvenOdd})
		}
	}
	l.palette = r.rounded()
	if m, _, err = partition.Seen(&stepped, l, frame); err != nil {
		return nil, err
	}
	out := &artwork.Artwork{Title: art.Title, Page: art.Page, Flat: flat.Write(art.Page, m), Traced: art.Traced, Seen: r.preview()}
	out.Altered = append(slices.Clone(art.Altered), r.altered(shapes)...)
	out.Pictures = []artwork.Picture{{Groups: []artwork.Group{{Alpha: 1}}}}
	for _, g := range m.Regions {
		if g.Source.Line == 0 {
			continue
		}
		rings := make([][][2]float64, len(g.Shape))
		for i, ring := range g.Shape {
			for _, p := range ring {
				rings[i] = append(rings[i], frame.ToTrue.Artwork(p))
			}
		}
		out.Pictures[0].Layers = append(out.Pictures[0].Layers, artwork.Layer{
			Outline: len(out.Outlines), RGB: m.Colours[g.Colour].RGB, Alpha: 1, Source: g.Source,
		})
		out.Outlines = append(out.Outlines, artwork.Outline{Path: artwork.Polygons(rings), Matrix: geom.Identity, Rule: artwork.EvenOdd, Source: g.Source})
	}
	return out, nil
}

// field is what is seen where the same outlines hold: one colour, or one that differs from place to place.
type field struct {
	holds  []int32
	shaded bool
	rgb    artwork.RGB // of what is not shaded
	source finding.Source
	// Of what is shaded
	labels []int // steps, from base to top; what lies in the k-th contour has at least the k-th
	first  int   // number of its first contour among all
}

// looker is an eye that first finds the fields, giving each a colour of its own, and then sees their steps.
type looker struct {
	eye     *artwork.Eye
	ground  artwork.RGB
	known   map[string]int
	fields  []field
	key     []byte
	palette []artwork.RGB // nil: fields are sought
	first   int32         // outline that is a contour of a step
}

// See is partition.Eye.
func (l *looker) See(outlines []int32, ground artwork.RGB) (artwork.RGB, finding.Source) {
	slices.Sort(outlines)
	if l.palette == nil {
		i := l.field(outlines)
		return artwork.RGB{uint8(i >> 16), uint8(i >> 8), uint8(i)}, l.fields[i].source
	}
	own, _ := slices.BinarySearch(outlines, l.first)
	f := &l.fields[l.field(outlines[:own])]
	if len(f.labels) == 0 {
		return f.rgb, f.source
	}
	step := 0
	for _, o := range outlines[own:] {
		if k := int(o-l.first) - f.first + 1; k > step && k < len(f.labels) {
			step = k
		}
	}
	if f.labels[step] == bare {
		return ground, finding.Source{}
	}
	return l.palette[f.labels[step]], f.source
}

// field is the number of what is seen where these outlines hold.
func (l *looker) field(holds []int32) int {
	l.key = l.key[:0]
	for _, o := range holds {
		l.key = binary.LittleEndian.AppendUint32(l.key, uint32(o))
	}
	if i, ok := l.known[string(l.key)]; ok {
		return i
	}
	f := field{holds: slices.Clone(holds)}
	f.rgb, f.source = l.eye.See(f.holds, l.ground)
	f.shaded = l.eye.Shaded()
	l.known[string(l.key)] = len(l.fields)
	l.fields = append(l.fields, f)
	return len(l.fields) - 1
}
