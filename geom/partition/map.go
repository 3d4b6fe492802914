package partition

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	colorful "github.com/lucasb-eyer/go-colorful"

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

// Sliver is a cell too thin or too small for a part, and the neighbour's colour that it took on.
type Sliver struct {
	At       geom.TruePoint
	Area     float64
	From, To int // colours of the map
	Source   finding.Source
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

// Of divides the artwork's section. The error is a *TooMuch, or an internal one.
func Of(art *artwork.Artwork, f Frame) (*Map, finding.List, error) {
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
			return nil, nil, &TooMuch{Text: err.Error(), Source: o.Source}
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
	cells, err := look(arr, art, f, outlines)
	if err != nil {
		return nil, nil, err
	}
	m := &Map{Frame: f}
	if n := distinct(cells); n > maxColours && f.LikeDE2000 > 0 {
		return nil, nil, &TooMuch{Text: fmt.Sprintf("%d colours, more than %d (maxColours)", n, maxColours)}
	}
	var found finding.List
	ids := m.likeColours(arr, cells, &found)
	m.slivers(arr, cells, ids, &found)
	m.dissolve(arr, cells, ids)
	return m, found, m.Check()
}

// look finds the zone, the colour and the paint of every cell.
func look(arr *Arrangement, art *artwork.Artwork, f Frame, outlines int) ([]cellPaint, error) {
	cells := make([]cellPaint, len(arr.Faces))
	eye := artwork.NewEye(art)
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
		return nil, &TooMuch{Text: fmt.Sprintf("more than %d coats of paint, counted cell by cell (maxCoats)", maxCoats)}
	}
	return cells, nil
}

// maxColours bounds what is compared pair by pair; a kitchen has a dozen.
const maxColours = 400

func distinct(cells []cellPaint) int {
	seen := map[artwork.RGB]bool{}
	for _, c := range cells {
		seen[c.rgb] = true
	}
	return len(seen)
}

// maxCoats bounds the paint looked at, over all cells: a second's work.
const maxCoats = 20_000_000

// Canvas divides all that the page shows, in colours as painted, on a ground.
func Canvas(art *artwork.Artwork, ground artwork.RGB) (*Map, finding.List, error) {
	f := Frame{ToTrue: Whole(art, canvasMM), LogRadius: canvasMM, Ground: ground, Jacket: ground, SliverMM: 0.01, FlattenMM: 0.015, KeepWholeCanvas: true}
	return Of(art, f)
}

// canvasMM is the radius of a canvas: that of a large log.
const canvasMM = 150

// Whole is the transform that puts all paint that the page shows into a circle round the origin, y up.
func Whole(art *artwork.Artwork, radius float64) geom.ToTrue {
	v, ok := art.Bounds()
	if !ok {
		v = art.Page.View
	}
	return Around(geom.Circle[geom.ArtworkPoint]{Centre: geom.ArtworkPoint{v.X + v.W/2, v.Y + v.H/2}, Radius: math.Hypot(v.W, v.H) / 2}, radius)
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

// lab is the colour in go-colorful's type.
func lab(c artwork.RGB) colorful.Color {
	return colorful.Color{R: float64(c[0]) / 255, G: float64(c[1]) / 255, B: float64(c[2]) / 255}
}

// DE2000 is the CIEDE2000 difference of two sRGB colours (D65), on the usual scale.
func DE2000(a, b artwork.RGB) float64 { return 100 * lab(a).DistanceCIEDE2000(lab(b)) }

// likeColours gives each face a colour number: complete-linkage clusters below the threshold, colours sorted by their hex digits; a
// cluster is named by its largest area, the ground's by the ground.
func (m *Map) likeColours(arr *Arrangement, cells []cellPaint, found *finding.List) []int {
	area := map[artwork.RGB]float64{m.Frame.Ground: 0}
	for i, c := range cells {
		if c.zone > 0 {
			area[c.rgb] += float64(arr.Faces[i].Area2) / 2 * Unit * Unit
		}
	}
	var all []artwork.RGB
	for c := range area {
		all = append(all, c)
	}
	slices.SortFunc(all, func(a, b artwork.RGB) int { return cmp.Compare(a.Hex(), b.Hex()) })
	clusters := m.clusters(all)
	id := map[artwork.RGB]int{}
	name := func(cl []artwork.RGB) artwork.RGB {
		best := cl[0]
		for _, c := range cl {
			if c == m.Frame.Ground {
				return c
			}
			if area[c] > area[best] {
				best = c
			}
		}
		return best
	}
	sort.SliceStable(clusters, func(i, j int) bool {
		return name(clusters[i]) == m.Frame.Ground && name(clusters[j]) != m.Frame.Ground
	})
	for i, cl := range clusters {
		c := Colour{RGB: name(cl)}
		for _, x := range cl {
			id[x] = i
			c.Area += area[x]
		}
		m.Colours = append(m.Colours, c)
		if len(cl) > 1 {
			found.Add(finding.Finding{Code: finding.LikeColours, Severity: finding.Note,
				Message: fmt.Sprintf("%d colours too alike to tell apart in sugar become %s", len(cl), c.RGB.Hex())})
		}
	}
	out := make([]int, len(cells))
	for i, c := range cells {
		out[i] = id[c.rgb]
	}
	return out
}

// clusters groups colours by complete linkage below the threshold, nearest first.
func (m *Map) clusters(all []artwork.RGB) [][]artwork.RGB {
	out := make([][]artwork.RGB, len(all))
	far := make([][]float64, len(all)) // largest difference between members of two clusters
	for i, c := range all {
		out[i] = []artwork.RGB{c}
		if m.Frame.LikeDE2000 > 0 {
			far[i] = make([]float64, len(all))
			for j := range i {
				far[i][j] = DE2000(c, all[j])
				far[j][i] = far[i][j]
			}
		}
	}
	for m.Frame.LikeDE2000 > 0 {
		bi, bj, best := -1, -1, m.Frame.LikeDE2000
		for i := range out {
			for j := i + 1; j < len(out); j++ {
				if far[i][j] < best {
					bi, bj, best = i, j, far[i][j]
				}
			}
		}
		if bi < 0 {
			break
		}
		m.MergedDE = max(m.MergedDE, best)
		out[bi] = append(out[bi], out[bj]...)
		out = slices.Delete(out, bj, bj+1)
		for k := range far[bi] {
			far[bi][k] = max(far[bi][k], far[bj][k])
			far[k][bi] = far[bi][k]
		}
		far = slices.Delete(far, bj, bj+1)
		for k := range far {
			far[k] = slices.Delete(far[k], bj, bj+1)
		}
	}
	return out
}

// slivers hands each cell thinner than SliverMM to the neighbour with the longest common border, smallest first, unless that joins or
// parts what was apart or one. A thin line drawn on purpose is thicker than this, and stays.
func (m *Map) slivers(arr *Arrangement, cells []cellPaint, ids []int, found *finding.List) {
	halves := make([][]int32, len(arr.Faces))
	length := func(h int32) float64 {
		return geom.Dist(arr.Verts[arr.Halves[h].From].True(), arr.Verts[arr.Halves[h].To].True())
	}
	peri := make([]float64, len(arr.Faces))
	for i, h := range arr.Halves {
		halves[h.Face] = append(halves[h.Face], int32(i))
		peri[h.Face] += length(int32(i))
	}
	var thin []int
	for i, f := range arr.Faces {
		if i > 0 && cells[i].zone == 2 && (float64(f.Area2)*Unit*Unit/peri[i] < m.Frame.SliverMM || // METHODS 2: twice the area over the perimeter
			float64(f.Area2)*Unit*Unit/2 < m.Frame.SpeckMM2) {
			thin = append(thin, i)
		}
	}
	sort.SliceStable(thin, func(a, b int) bool { return arr.Faces[thin[a]].Area2 < arr.Faces[thin[b]].Area2 })
	for _, f := range thin {
		border := map[int]float64{}
		like := map[int]map[int32]bool{} // colour -> neighbouring faces
		for _, h := range halves[f] {
			g := arr.Halves[h^1].Face
			if cells[g].zone != 2 {
				continue
			}
			border[ids[g]] += length(h)
			if like[ids[g]] == nil {
				like[ids[g]] = map[int32]bool{}
			}
			like[ids[g]][g] = true
		}
		best := -1
		for c := range border {
			if c != ids[f] && (best < 0 || border[c] > border[best] || border[c] == border[best] && c < best) {
				best = c
			}
		}
		if best < 0 || border[ids[f]] > 0 && len(like[ids[f]]) > 1 || len(like[best]) > 1 && !joined(arr, ids, like[best]) {
			continue
		}
		longest := slices.MaxFunc(halves[f], func(a, b int32) int { return cmp.Compare(length(a), length(b)) })
		p, q := arr.Verts[arr.Halves[longest].From].True(), arr.Verts[arr.Halves[longest].To].True()
		m.Slivers = append(m.Slivers, Sliver{At: geom.TruePoint{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}, Area: float64(arr.Faces[f].Area2) / 2 * Unit * Unit,
			From: ids[f], To: best, Source: cells[f].source})
		ids[f] = best
		m.Moved += m.Slivers[len(m.Slivers)-1].Area
	}
	m.sayMoved(found)
}

// sayMoved lists the largest slivers, each with its place, and all of them together.
func (m *Map) sayMoved(found *finding.List) {
	if m.Moved <= leastSaidMM2 {
		return
	}
	f := finding.Finding{Code: finding.SliversMoved, Severity: finding.Note,
		Message: fmt.Sprintf("%d slivers and specks, %.2f square mm in all, given to their neighbours", len(m.Slivers), m.Moved)}
	if r := cmp.Or(m.Frame.PictureRadius, m.Frame.LogRadius); m.Moved > sliverBudget*math.Pi*r*r {
		f.Severity, f.Suggestion = finding.Error, "draw the many small pieces larger or leave them out"
	}
	found.Add(f)
	slices.SortStableFunc(m.Slivers, func(a, b Sliver) int { return cmp.Compare(b.Area, a.Area) })
	for _, s := range m.Slivers[:min(len(m.Slivers), mostSaid)] {
		if s.Area > leastSaidMM2 {
			found.Add(finding.Finding{Code: finding.SliversMoved, Severity: finding.Note, Source: s.Source, AtMM: &[2]float64{s.At[0], s.At[1]},
				Message: fmt.Sprintf("%.2f square mm of %s become %s", s.Area, m.Colours[s.From].RGB.Hex(), m.Colours[s.To].RGB.Hex())})
		}
	}
}

// Slivers below leastSaidMM2, a fifth of a millimetre across in the log, are only counted; so are those after the mostSaid largest.
const (
	leastSaidMM2 = 0.05
	mostSaid     = 10
)

// sliverBudget is the share of the picture that slivers may be in all: above it the picture is no longer as drawn (DESIGN 5).
const sliverBudget = 0.005

// joined tells whether faces of one colour hang together already.
func joined(arr *Arrangement, ids []int, faces map[int32]bool) bool {
	var first int32 = -1
	for f := range faces {
		if first < 0 || f < first {
			first = f
		}
	}
	seen := map[int32]bool{first: true}
	stack := []int32{first}
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, start := range arr.Faces[f].Loops {
			for h := start; ; {
				if g := arr.Halves[h^1].Face; !seen[g] && ids[g] == ids[f] {
					seen[g] = true
					stack = append(stack, g)
				}
				if h = arr.Halves[h].Next; h == start {
					break
				}
			}
		}
	}
	for f := range faces {
		if !seen[f] {
			return false
		}
	}
	return true
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

// Check proves P1 for the map: regions have positive area and together that of the log's polygon.
func (m *Map) Check() error {
	if m.Frame.KeepWholeCanvas {
		return nil
	}
	sum := 0.0
	for i, r := range m.Regions {
		if r.Area <= 0 {
			return fmt.Errorf("internal: region %d has area %g", i, r.Area)
		}
		sum += r.Area
	}
	disc := math.Pi * m.Frame.LogRadius * m.Frame.LogRadius
	if math.Abs(sum-disc) > 1e-4*disc {
		return fmt.Errorf("internal: regions cover %.6f of %.6f square mm", sum, disc)
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
