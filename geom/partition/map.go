package partition

import (
	"errors"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
)

// Frame holds the circles of the section and the colour tolerance, all in the true frame.
type Frame struct {
	ToTrue          geom.ToTrue
	LogRadius       float64
	JacketRadius    float64 // inner radius of the jacket; paint ends at the picture circle, ground runs on to here
	PictureRadius   float64
	Ground, Jacket  artwork.RGB
	LikeDE2000      float64 // colours nearer than this become one
	SliverMM        float64 // cells with 2 area / perimeter below this join a neighbour
	SpeckMM2        float64 // cells smaller than this join a neighbour too
	FlattenMM       float64 // largest distance of a flattened curve from the curve
	KeepWholeCanvas bool    // do not cut at the picture circle: used once, to place the drawing
}

// Colour of the map: an artwork colour after like colours were merged. Colour 0 is the ground.
type Colour struct {
	RGB  artwork.RGB
	Area float64
}

// Region is a connected area of one colour.
type Region struct {
	Colour int
	Jacket bool
	Shape  geom.Region[geom.TruePoint]
	Area   float64
	Source finding.Source
}

// Map is the section: regions that tile the log's disc.
type Map struct {
	Regions  []Region
	Colours  []Colour
	Frame    Frame
	Slivers  []Sliver
	Moved    float64 // area handed over by the sliver rule, square millimetres
	MergedDE float64 // largest colour difference that was merged
}

// cellPaint is what is seen in one face.
type cellPaint struct {
	rgb    artwork.RGB
	source finding.Source
	zone   int // 0 outside the log, 1 jacket, 2 inside
}

// Eye sees what meets it where just these outlines hold, over a ground, and the place in the file of the paint that is seen most;
// its line is 0 where nothing is painted.
type Eye interface {
	See(outlines []int32, ground artwork.RGB) (artwork.RGB, finding.Source)
}

// Of divides the artwork's section. The error is a *TooMuch, or an internal one.
func Of(art *artwork.Artwork, f Frame) (*Map, finding.List, error) {
	return Seen(art, artwork.NewEye(art), f)
}

// Seen divides the artwork's outlines into what an eye sees of them. The error is as for Of.
func Seen(art *artwork.Artwork, eye Eye, f Frame) (*Map, finding.List, error) {
	b := NewBuilder()
	const outlines = 3 // ids below are the circles
	if !f.KeepWholeCanvas {
		for id, radius := range [outlines]float64{f.LogRadius, f.JacketRadius, f.PictureRadius} {
			c := geom.Circle[geom.TruePoint]{Radius: radius}
			b.Ring(id, snapRing(c.Polygon(geom.Sides(radius, min(f.FlattenMM, 0.02)))))
		}
	}
	reach, left := 1.1*f.LogRadius, artwork.MaxPoints
	for i := range art.Outlines {
		o := &art.Outlines[i]
		rings, err := o.Flat(f.ToTrue, f.FlattenMM, reach, &left)
		if err != nil {
			over := (*artwork.OverBound)(nil)
			if !errors.As(err, &over) {
				return nil, nil, err
			}
			return nil, nil, &TooMuch{Bound: over.Bound, Values: []any{over.Most}, Source: o.Source}
		}
		for _, r := range rings {
			if r = clipSquare(r, reach); len(r) > 2 {
				b.Ring(outlines+i, snapRing(r))
			}
		}
	}
	arr, err := b.Build()
	if err != nil {
		return nil, nil, err
	}
	if err := arr.Check(); err != nil {
		return nil, nil, err
	}
	cells, err := look(arr, art, eye, f, outlines)
	if err != nil {
		return nil, nil, err
	}
	m := &Map{Frame: f}
	if n := distinct(cells); n > maxColours && f.LikeDE2000 > 0 {
		return nil, nil, &TooMuch{Bound: "colours", Values: []any{n, maxColours}}
	}
	var found finding.List
	ids := m.likeColours(arr, cells, &found)
	m.slivers(arr, cells, ids, &found)
	m.dissolve(arr, cells, ids)
	m.dropUnused()
	return m, found, m.Check()
}

// dropUnused leaves out colours of which no region is left (all of it were slivers); the ground stays.
func (m *Map) dropUnused() {
	used := make([]bool, len(m.Colours))
	for _, r := range m.Regions {
		used[r.Colour] = true
	}
	id := make([]int, len(m.Colours))
	var kept []Colour
	for i, c := range m.Colours {
		if id[i] = len(kept); i == 0 || used[i] {
			kept = append(kept, c)
		}
	}
	m.Colours = kept
	for i := range m.Regions {
		m.Regions[i].Colour = id[m.Regions[i].Colour]
	}
}

// look finds the zone, the colour and the paint of every cell.
func look(arr *Arrangement, art *artwork.Artwork, eye Eye, f Frame, outlines int) ([]cellPaint, error) {
	cells := make([]cellPaint, len(arr.Faces))
	var holds []int32
	work := 0
	arr.Windings(func(face int, wind []int32, round []int32) {
		p := cellPaint{rgb: f.Ground}
		switch {
		case f.KeepWholeCanvas && face == 0, !f.KeepWholeCanvas && wind[0] == 0:
			cells[face] = p
			return
		case !f.KeepWholeCanvas && wind[1] == 0:
			p.zone, p.rgb = 1, f.Jacket
		default:
			p.zone = 2
			if work += len(round); work <= maxCoats && (f.KeepWholeCanvas || wind[2] != 0) {
				holds = holds[:0]
				for _, o := range round {
					if i := o - int32(outlines); i >= 0 && art.Outlines[i].Rule.Inside(wind[o]) {
						holds = append(holds, i)
					}
				}
				p.rgb, p.source = eye.See(holds, f.Ground)
			}
		}
		cells[face] = p
	})
	if work > maxCoats {
		return nil, &TooMuch{Bound: "coats", Values: []any{maxCoats}}
	}
	return cells, nil
}

// maxCoats bounds the paint looked at, over all cells: a second's work.
const maxCoats = 20_000_000

// Canvas divides all that the page shows, in colours as painted, on a ground.
func Canvas(art *artwork.Artwork, ground artwork.RGB) (*Map, finding.List, error) {
	return Of(art, CanvasFrame(art, ground))
}

// CanvasFrame holds all that the page shows.
func CanvasFrame(art *artwork.Artwork, ground artwork.RGB) Frame {
	return Frame{
		ToTrue:          Whole(art, canvasMM),
		LogRadius:       canvasMM,
		Ground:          ground,
		Jacket:          ground,
		SliverMM:        0.01,
		FlattenMM:       0.015,
		KeepWholeCanvas: true,
	}
}

// canvasMM is the radius of a canvas: that of a large log.
const canvasMM = 150

// Whole is the transform that puts all paint that the page shows into a circle round the origin, y up.
func Whole(art *artwork.Artwork, radius float64) geom.ToTrue {
	v, ok := art.Bounds()
	if !ok {
		v = art.Page.View
	}
	return Around(
		geom.Circle[geom.ArtworkPoint]{
			Centre: geom.ArtworkPoint{v.X + v.W/2, v.Y + v.H/2},
			Radius: math.Hypot(v.W, v.H) / 2,
		},
		radius,
	)
}

// Around is the transform that puts a circle of the artwork onto one of this radius round the origin, y up.
func Around(c geom.Circle[geom.ArtworkPoint], radius float64) geom.ToTrue {
	k := radius / c.Radius
	return geom.ToTrue{k, 0, 0, -k, -k * c.Centre[0], k * c.Centre[1]}
}

func snapRing(r geom.Ring[geom.TruePoint]) []Point {
	out := make([]Point, len(r))
	for i, p := range r {
		out[i] = Snap(p)
	}
	return out
}

// clipSquare keeps what lies in the square of half width w; edges that run along its sides change no winding inside.
func clipSquare(r geom.Ring[geom.TruePoint], w float64) geom.Ring[geom.TruePoint] {
	in := true
	for _, p := range r {
		in = in && math.Abs(p[0]) <= w && math.Abs(p[1]) <= w
	}
	if in {
		return r
	}
	c := geom.Ring[geom.TruePoint]{{-w, -w}, {w, -w}, {w, w}, {-w, w}}
	for i := range c {
		r = geom.ClipHalf(r, c[i], geom.Sub(c[(i+1)%4], c[i]))
	}
	return r
}

// dissolve unites neighbouring faces of one colour into regions.
func (m *Map) dissolve(arr *Arrangement, cells []cellPaint, ids []int) {
	key := func(f int32) int { return ids[f]*4 + cells[f].zone }
	group := make([]int32, len(arr.Faces))
	for i := range group {
		group[i] = -1
	}
	for i := range arr.Faces {
		if group[i] >= 0 || cells[i].zone == 0 {
			continue
		}
		id := int32(i)
		members := []int32{id}
		group[i] = id
		for k := 0; k < len(members); k++ {
			for _, start := range arr.Faces[members[k]].Loops {
				for h := start; ; {
					if g := arr.Halves[h^1].Face; group[g] < 0 && cells[g].zone > 0 && key(g) == key(members[k]) {
						group[g] = id
						members = append(members, g)
					}
					if h = arr.Halves[h].Next; h == start {
						break
					}
				}
			}
		}
		r := Region{Colour: ids[i], Jacket: cells[i].zone == 1}
		big := int64(-1)
		for _, f := range members {
			if a := arr.Faces[f].Area2; a > big && cells[f].source.Line > 0 {
				big, r.Source = a, cells[f].source
			}
		}
		loops := arr.Union(func(f int32) bool { return group[f] == id }, members)
		for _, s := range arr.Regions(loops) {
			r.Shape, r.Area = s, s.Area()
			m.Regions = append(m.Regions, r)
		}
	}
}

// Check proves P1 for the map: regions have positive area and together that of the log's polygon; each piece of a
// border is run through once each way, by the two regions that it parts, or lies on the log's rim.
func (m *Map) Check() error {
	sum, edges := 0.0, 0
	for i, r := range m.Regions {
		if r.Area <= 0 {
			return finding.Impossible("region %d has area %g", i, r.Area)
		}
		sum += r.Area
		for _, ring := range r.Shape {
			edges += len(ring)
		}
	}
	type edge struct{ from, to geom.TruePoint }
	seen := make(map[edge]bool, edges)
	for i, r := range m.Regions {
		for _, ring := range r.Shape {
			for k, p := range ring {
				e := edge{p, ring[(k+1)%len(ring)]}
				if seen[e] {
					return finding.Impossible("region %d runs along a border that another has on the same side", i)
				}
				seen[e] = true
			}
		}
	}
	if m.Frame.KeepWholeCanvas {
		return nil
	}
	disc := math.Pi * m.Frame.LogRadius * m.Frame.LogRadius
	if math.Abs(sum-disc) > 1e-4*disc {
		return finding.Impossible("regions cover %.6f of %.6f square mm", sum, disc)
	}
	for e := range seen {
		// DESIGN 5: the rim's vertices
		if !seen[edge{e.to, e.from}] && math.Abs(math.Hypot(e.from[0], e.from[1])-m.Frame.LogRadius) > 0.05 {
			return finding.Impossible("a border at %.4f, %.4f has a region on one side only", e.from[0], e.from[1])
		}
	}
	return nil
}

// Subject is the vertices of all regions that are neither ground nor jacket.
func (m *Map) Subject() []geom.TruePoint {
	var out []geom.TruePoint
	for _, r := range m.Regions {
		if r.Colour != 0 && !r.Jacket {
			out = append(out, r.Shape[0]...)
		}
	}
	return out
}
