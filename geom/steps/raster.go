package steps

import (
	"image"
	"image/color"
	"math"
	"slices"

	colorful "github.com/lucasb-eyer/go-colorful"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
)

// side is how many dots the longer side of a drawing has while its steps are sought.
const side = 320

// raster is the drawing in dots, row by row.
type raster struct {
	l       *looker
	frame   partition.Frame
	lo      geom.TruePoint
	dot     float64 // its side, millimetres of the canvas
	w, h    int
	field   []int32 // -1: nothing
	dots    [][]int // by field
	seen    []colorful.Color
	of      []*shape         // by field
	at      []int16          // label; -1: nothing
	was     []int16          // label by colour alone
	colours []colorful.Color // the ground first
	spots   []geom.TruePoint
	area    []float64 // by field
}

// newRaster gives each dot the field that it lies in.
func newRaster(m *partition.Map, l *looker) *raster {
	r := &raster{l: l, frame: m.Frame}
	lo, hi := geom.TruePoint{math.Inf(1), math.Inf(1)}, geom.TruePoint{math.Inf(-1), math.Inf(-1)}
	for _, g := range m.Regions {
		b := g.Shape.Bound()
		for k := range 2 {
			lo[k], hi[k] = math.Min(lo[k], b.Min[k]), math.Max(hi[k], b.Max[k])
		}
	}
	r.dot = math.Max(hi[0]-lo[0], hi[1]-lo[1]) / side
	r.lo = geom.TruePoint{lo[0] - 3*r.dot, lo[1] - 3*r.dot}
	r.w, r.h = int((hi[0]-lo[0])/r.dot)+7, int((hi[1]-lo[1])/r.dot)+7
	r.field = make([]int32, r.w*r.h)
	for i := range r.field {
		r.field[i] = -1
	}
	r.spots, r.area = make([]geom.TruePoint, len(l.fields)), make([]float64, len(l.fields))
	for _, g := range m.Regions {
		c := m.Colours[g.Colour].RGB
		f := int32(c[0])<<16 | int32(c[1])<<8 | int32(c[2])
		if int(f) >= len(l.fields) {
			continue // outside
		}
		r.fill(g.Shape, f)
		if g.Area > r.area[f] {
			r.area[f], r.spots[f] = g.Area, geom.Inside(g.Shape)
		}
	}
	return r
}

// fill gives the dots whose middle lies in a shape to a field.
func (r *raster) fill(shape geom.Region[geom.TruePoint], f int32) {
	b := shape.Bound()
	for y := max(0, int((b.Min[1]-r.lo[1])/r.dot)-1); y < min(r.h, int((b.Max[1]-r.lo[1])/r.dot)+2); y++ {
		level := r.point(0, y)[1]
		var xs []float64
		for _, ring := range shape {
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				if (p[1] > level) != (q[1] > level) {
					xs = append(xs, p[0]+(q[0]-p[0])*(level-p[1])/(q[1]-p[1]))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			from := int(math.Ceil((xs[i]-r.lo[0])/r.dot - 0.5))
			for x := max(0, from); x < r.w && r.point(x, y)[0] <= xs[i+1]; x++ {
				r.field[y*r.w+x] = f
			}
		}
	}
}

// point is the middle of a dot.
func (r *raster) point(x, y int) geom.TruePoint {
	return geom.TruePoint{r.lo[0] + (float64(x)+0.5)*r.dot, r.lo[1] + (float64(y)+0.5)*r.dot}
}

// look at a field at a place.
func (r *raster) look(f int32, p geom.TruePoint) colorful.Color {
	c, _ := r.l.eye.SeeAt(r.l.fields[f].holds, r.frame.ToTrue.Artwork(p), r.l.ground)
	return colorOf(c)
}

func colorOf(c artwork.RGB) colorful.Color {
	return colorful.Color{R: float64(c[0]) / 255, G: float64(c[1]) / 255, B: float64(c[2]) / 255}
}

func rgbOf(c colorful.Color) artwork.RGB {
	r, g, b := c.Clamped().RGB255()
	return artwork.RGB{r, g, b}
}

func differ(a, b colorful.Color) float64 { return 100 * a.DistanceCIE94(b) }

// sample sees each dot.
func (r *raster) sample() {
	r.seen = make([]colorful.Color, len(r.field))
	r.dots = make([][]int, len(r.l.fields))
	for i, f := range r.field {
		if f < 0 {
			continue
		}
		r.dots[f] = append(r.dots[f], i)
		switch {
		case r.l.fields[f].shaded:
			r.seen[i] = r.look(f, r.point(i%r.w, i/r.w))
		default:
			r.seen[i] = colorOf(r.l.fields[f].rgb)
		}
	}
}

// mostPlaces of shapes that are drawn in one flat colour each are told, the largest first.
const mostPlaces = 6

// altered are the changes: the largest shapes whose shade became several flat colours, each, and together the others, and those whose became one.
func (r *raster) altered(all []*shape) (out []artwork.Altered) {
	all = slices.DeleteFunc(slices.Clone(all), func(s *shape) bool {
		return !slices.ContainsFunc(s.fields, func(f int32) bool { return r.l.fields[f].shaded })
	})
	slices.SortStableFunc(all, func(a, b *shape) int { return b.dots - a.dots })
	one := artwork.Altered{Code: finding.ShadeFlat, Case: "one"}
	more := artwork.Altered{Code: finding.ShadeFlat, Case: "more", Values: []any{0}}
	ones := 0
	for _, s := range all {
		largest := slices.MaxFunc(s.fields, func(a, b int32) int { return len(r.dots[a]) - len(r.dots[b]) })
		at, source := r.frame.ToTrue.Artwork(r.spots[largest]), r.l.fields[largest].source
		labels := map[int16]bool{}
		for _, f := range s.fields {
			for _, i := range r.dots[f] {
				labels[r.at[i]] = true
			}
		}
		if n := len(labels); n > 1 && len(out) >= mostPlaces {
			more.At, more.Source = append(more.At, at)[:min(mostPlaces, len(more.At)+1)], source
			more.Values = []any{1 + more.Values[0].(int)}
			continue
		} else if n > 1 {
			out = append(out, artwork.Altered{
				Code: finding.ShadeFlat, At: []geom.ArtworkPoint{at}, Source: source, Values: []any{n},
			})
			continue
		}
		if ones++; len(one.At) == 0 {
			one.Source = source
		}
		if len(one.At) < mostPlaces {
			one.At = append(one.At, at)
		}
	}
	if len(more.At) > 0 {
		out = append(out, more)
	}
	if ones > 0 {
		one.Values = []any{ones}
		out = append(out, one)
	}
	return out
}

// preview is the drawing as it is seen, with its shades.
func (r *raster) preview() []byte {
	img := image.NewNRGBA(image.Rect(0, 0, r.w, r.h))
	for i, f := range r.field {
		c := r.l.ground
		if f >= 0 {
			c = rgbOf(r.seen[i])
		}
		img.SetNRGBA(i%r.w, r.h-1-i/r.w, color.NRGBA{c[0], c[1], c[2], 255}) // y up
	}
	return artwork.Preview(img)
}
