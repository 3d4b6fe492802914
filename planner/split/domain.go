package split

import (
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/cuts"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
	"sugarwright/planner/symmetry"
)

// cell is a face of a domain's arrangement: the smallest thing that parts are made of.
type cell struct {
	shape  region
	bound  orb.Bound
	colour int
	area   float64
	child  int // block that fills it, or -1
	piece  int
	near   []int
}

// domain is one block while it is being split.
type domain struct {
	s       *splitter
	arr     *partition.Arrangement
	face    []int32 // by cell
	cellOf  []int32 // by face; -1 outside
	cells   []cell
	lines   []line
	given   int                // lines that close the ground; the rest are cuts
	groups  int                // of lines
	motions []symmetry.Motion  // that map the pieces onto themselves
	corners []point            // of the pieces
	closes  geom.Circle[point] // the smallest round the subject of the log: what closes it lies outside
}

// piece is what tiles a domain before it is cut: a region of the map or a finished block.
type piece struct {
	shape  region
	colour int
	child  int
}

// coloured are the pieces as their symmetry is sought.
func coloured(pieces []piece) []symmetry.Coloured {
	out := make([]symmetry.Coloured, len(pieces))
	for i, p := range pieces {
		out[i] = symmetry.Coloured{Shape: p.shape, Colour: p.colour}
	}
	return out
}

// solve splits the given regions into parts, as a block; regions that lie inside a round one with holes become blocks
// of their own first, and spirals; figures in a row are boxed where that costs about as little. It returns the block's
// index.
func (s *splitter) solve(ids []int, log bool) (int, error) {
	pieces, err := s.pieces(ids, log)
	if err != nil {
		return 0, err
	}
	if pieces, err = s.rolled(pieces); err != nil {
		return 0, err
	}
	before, found := s.saved()
	g, err := s.plain(pieces, log)
	if err != nil {
		return 0, err
	}
	if !log || s.log.NoBoxes {
		return g.d.emit(g), nil
	}
	with, withFound := s.saved()
	*s.set, s.found = before, found
	boxes, err := s.boxed(pieces)
	if err != nil {
		return 0, err
	}
	if boxes != nil {
		h, err := s.split(boxes, log)
		if err != nil {
			return 0, err
		}
		worth := Tuned.BoxedWorth
		if !slices.ContainsFunc(boxes[1:], func(p piece) bool { return p.child >= 0 }) {
			worth = 1 // a single box saves no order
		}
		if h.makeable(h.parts) && (!g.makeable(g.parts) || s.set.Price+h.total(h.parts) < worth*(with.Price+g.total(g.parts))) {
			s.set.Boxed = true
			return h.d.emit(h), nil
		}
	}
	*s.set, s.found = with, withFound
	return g.d.emit(g), nil
}

// saved is the set and the findings so far, such that nothing that is added to either comes into the other.
func (s *splitter) saved() (set.Set, finding.List) {
	of := *s.set
	of.Elements, of.Blocks = slices.Clip(of.Elements), slices.Clip(of.Blocks)
	return of, slices.Clip(s.found)
}

// plain splits pieces. Where no order is found, open rings are built apart with what they hold.
func (s *splitter) plain(pieces []piece, log bool) (*merger, error) {
	g, err := s.split(pieces, log)
	if err != nil {
		return nil, err
	}
	blocked := len(g.blocked(g.parts))
	if blocked == 0 {
		return g, nil
	}
	before, found := s.saved()
	with, err := s.cradled(pieces)
	if err != nil {
		return nil, err
	}
	if len(with) > len(pieces) || len(s.set.Blocks) > len(before.Blocks) {
		h, err := s.split(with, log)
		if err != nil {
			return nil, err
		}
		if len(h.blocked(h.parts)) < blocked {
			return h, nil
		}
	}
	*s.set, s.found = before, found
	return g, nil
}

// split finds the parts of pieces.
func (s *splitter) split(pieces []piece, log bool) (*merger, error) {
	d := &domain{s: s, corners: cornersOf(pieces)}
	d.motions = symmetry.Of(coloured(pieces), log)
	if log {
		lines, circle := s.closing(pieces)
		d.lines, d.closes = d.grouped(lines), circle
		d.given = len(d.lines)
	}
	if err := d.arrange(pieces); err != nil {
		return nil, err
	}
	d.addOrbits(d.cuts(log))
	if err := d.arrange(pieces); err != nil {
		return nil, err
	}
	g, err := d.augmented(pieces, log)
	if err != nil {
		return nil, err
	}
	g.run()
	return g.repaired(pieces, log)
}

// line is a cut: a chord, or the smallest circle. Lines of one group are cut together: images of each other, or chords
// of one seam.
type line struct {
	at     []point
	groups []int
}

// pieces replaces each round region with holes, and all that is inside it, by a block; the largest piece of a block is
// never replaced by itself.
func (s *splitter) pieces(ids []int, log bool) ([]piece, error) {
	rs := s.regions
	byArea := append([]int(nil), ids...)
	fill := func(i int) float64 { return rs[i].Shape[0].Area() }
	sort.SliceStable(byArea, func(a, b int) bool { return fill(byArea[a]) > fill(byArea[b]) })
	taken := map[int]bool{}
	total := 0.0
	for _, i := range ids {
		total += rs[i].Area
	}
	var out []piece
	for _, i := range byArea {
		if taken[i] {
			continue
		}
		r := rs[i]
		f := r.Shape.Filled()
		if len(r.Shape) < 2 || f.Area() > 0.999*total || f.Area() < Tuned.RoundEnough*geom.Hull(r.Shape[0]).Area() {
			out = append(out, piece{r.Shape, r.Colour, -1})
			continue
		}
		var in []int
		for _, j := range ids {
			if !taken[j] && (j == i || rs[j].Area < f.Area() && f.Contains(edgePoint(rs[j].Shape))) {
				in = append(in, j)
				taken[j] = true
			}
		}
		b, err := s.solve(in, false)
		if err != nil {
			return nil, err
		}
		out = append(out, piece{f, -1, b})
	}
	return out, nil
}

// edgePoint is a point just inside a region's border.
func edgePoint(r region) point {
	a, b := r[0][0], r[0][1]
	m := point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	return geom.Add(m, geom.Sub(b, a).Unit().Left(), partition.Unit/4)
}

// closing draws the lines of the ground round the subject: the hull's edges over pockets, the smallest circle, which it
// returns, radial cuts that part half-moons at hull corners which miss the circle (SPLITTING 22), and the layers in
// which the rest is closed.
func (s *splitter) closing(pieces []piece) ([][]point, geom.Circle[point]) {
	var pts []point
	border := map[[2]point]bool{}
	for _, p := range pieces {
		if p.colour != 0 {
			ring := p.shape[0]
			pts = append(pts, ring...)
			for i := range ring {
				border[[2]point{ring[i], ring[(i+1)%len(ring)]}] = true
			}
		}
	}
	if len(pts) < 3 {
		return nil, geom.Circle[point]{}
	}
	hull := geom.Hull(pts)
	c := geom.SmallestCircle(hull)
	var out [][]point
	for i := range hull {
		for _, l := range bridged([]point{hull[i], hull[(i+1)%len(hull)]}, pieces) {
			if a, b := l[0], l[1]; geom.Dist(a, b) > 1.5 && !border[[2]point{a, b}] {
				out = append(out, l)
			}
		}
	}
	type spoke struct {
		angle float64
		at    point
	}
	var ring []spoke
	n := geom.Sides(c.Radius, 0.01)
	for i := 0; i < n; i++ {
		a := 2 * math.Pi * (float64(i) + 0.5) / float64(n)
		ring = append(ring, spoke{a, geom.Add(c.Centre, geom.Polar(a), c.Radius)})
	}
	full := func(p point) float64 { return math.Mod(geom.Sub(p, c.Centre).Angle()+2*math.Pi, 2*math.Pi) }
	for _, p := range hull {
		if c.Radius-geom.Dist(p, c.Centre) < Tuned.TouchMM {
			ring = append(ring, spoke{full(p), p})
		}
	}
	corners := geom.Thinned(hull, 0.3)
	for i, p := range corners {
		in := geom.Sub(p, corners[(i+len(corners)-1)%len(corners)])
		o := geom.Sub(corners[(i+1)%len(corners)], p)
		turn := math.Atan2(in.Cross(o), in.Dot(o))
		if turn < 20*math.Pi/180 || c.Radius-geom.Dist(p, c.Centre) < Tuned.TouchMM {
			continue
		}
		a := full(p)
		e := geom.Add(c.Centre, geom.Polar(a), c.Radius)
		ring = append(ring, spoke{a, e})
		out = append(out, []point{p, e})
	}
	sort.SliceStable(ring, func(i, j int) bool { return ring[i].angle < ring[j].angle })
	var line []point
	for _, s := range ring {
		line = append(line, s.at)
	}
	out = append(out, append(line, line[0]))
	return append(out, s.layers(c)...), c
}

// bridged is a line along finished blocks, only where it runs over pockets and from one block to the next: what lies less
// than a sliver off a block's edge is its edge. A line between other pieces is itself.
func bridged(line []point, pieces []piece) [][]point {
	type vertex struct {
		at       point
		piece, k int
		along    float64
	}
	u := geom.Sub(line[1], line[0]).Unit()
	var near []vertex
	ends := 0
	for i, p := range pieces {
		if p.child < 0 {
			continue
		}
		for k, q := range p.shape[0] {
			if q == line[0] || q == line[1] {
				ends++
			}
			if geom.SegmentDist(q, line[0], line[1]) < Tuned.SliverMM {
				near = append(near, vertex{q, i, k, u.Dot(geom.Sub(q, line[0]))})
			}
		}
	}
	if ends < 2 {
		return [][]point{line}
	}
	sort.SliceStable(near, func(i, j int) bool { return near[i].along < near[j].along })
	var out [][]point
	for i := 1; i < len(near); i++ {
		a, b := near[i-1], near[i]
		n := len(pieces[a.piece].shape[0])
		if d := (b.k - a.k + n) % n; a.piece != b.piece || d != 1 && d != n-1 {
			out = append(out, []point{a.at, b.at})
		}
	}
	return out
}

// layers are the circles between the sheets in which the log is closed from the smallest circle on: none thicker or
// heavier than the shop closes. Where the circle lies off the log's middle, the first closes the uneven rest, in two
// half shells.
func (s *splitter) layers(c geom.Circle[point]) (out [][]point) {
	from, to := c.Radius, s.m.Frame.JacketRadius
	off := geom.Dist(c.Centre, point{})
	if off > Tuned.OffMM {
		from = c.Radius + off
		if to-from < s.shop.ThinnestWrapMM {
			return nil
		}
		u := geom.Sub(c.Centre, point{}).Unit()
		for _, side := range []float64{-1, 1} {
			a := geom.Add(c.Centre, u, side*c.Radius)
			out = append(out, []point{a, geom.Add(point{}, u, side*from)})
		}
		out = append(out, ringLine(from))
	}
	area := math.Pi * (to*to - from*from)
	n := max(math.Ceil((to-from)/s.shop.LayerMM), math.Ceil(s.log.Grams(area, 0)/s.shop.LayerG))
	n = math.Min(n, math.Floor((to-from)/s.shop.ThinnestWrapMM))
	for k := 1.0; k < n; k++ {
		out = append(out, ringLine(math.Sqrt(from*from+k/n*area/math.Pi)))
	}
	return out
}

// ringLine is a closed line round the log's middle.
func ringLine(r float64) []point {
	ring := geom.Circle[point]{Radius: r}.Polygon(geom.Sides(r, 0.01))
	return append(ring, ring[0])
}

// arrange nodes the pieces' borders and the lines, and takes the faces as cells.
func (d *domain) arrange(pieces []piece) error {
	b := partition.NewBuilder()
	for i, p := range pieces {
		for _, ring := range p.shape {
			b.Ring(i, snap(ring))
		}
	}
	for _, l := range d.lines {
		if !slices.ContainsFunc(pieces, func(p piece) bool { return p.child >= 0 && enters(l.at, p.shape) }) {
			b.Line(snap(l.at))
		}
	}
	arr, err := b.Build()
	if err != nil {
		return err
	}
	if err := arr.Check(); err != nil {
		return err
	}
	d.arr, d.cells, d.face = arr, nil, nil
	d.cellOf = make([]int32, len(arr.Faces))
	for i := range d.cellOf {
		d.cellOf[i] = -1
	}
	owner := make([]int, len(arr.Faces))
	arr.Windings(func(face int, _, round []int32) {
		owner[face] = -1
		if len(round) > 0 {
			owner[face] = int(slices.Min(round))
		}
	})
	handOver(arr, pieces, owner)
	for f := range arr.Faces {
		if owner[f] < 0 {
			continue
		}
		p := pieces[owner[f]]
		c := cell{
			colour: p.colour,
			child:  p.child,
			piece:  owner[f],
			area:   float64(arr.Faces[f].Area2) / 2 * partition.Unit * partition.Unit,
		}
		id := int32(f)
		rs := arr.Regions(arr.Union(func(g int32) bool { return g == id }, []int32{id}))
		c.shape, c.bound = rs[0], rs[0].Bound()
		d.cellOf[f] = int32(len(d.cells))
		d.face = append(d.face, id)
		d.cells = append(d.cells, c)
	}
	near := make([]map[int]bool, len(d.cells))
	for i, h := range arr.Halves {
		a, b := d.cellOf[h.Face], d.cellOf[arr.Halves[i^1].Face]
		if a >= 0 && b >= 0 && a != b {
			if near[a] == nil {
				near[a] = map[int]bool{}
			}
			near[a][int(b)] = true
		}
	}
	for i := range d.cells {
		for j := range near[i] {
			d.cells[i].near = append(d.cells[i].near, j)
		}
		sort.Ints(d.cells[i].near)
	}
	return nil
}

// handOver gives shreds of finished blocks to a piece beside them, so that a block stays one cell.
func handOver(arr *partition.Arrangement, pieces []piece, owner []int) {
	area := func(f int) float64 { return float64(arr.Faces[f].Area2) / 2 * partition.Unit * partition.Unit }
	for f := range owner {
		if owner[f] < 0 || pieces[owner[f]].child < 0 || area(f) > Tuned.ShredMM2 {
			continue
		}
		best, long := -1, 0.0
		for _, start := range arr.Faces[f].Loops {
			for h := start; ; {
				if o := owner[arr.Halves[h^1].Face]; o >= 0 && pieces[o].child < 0 {
					if l := geom.Dist(arr.Verts[arr.Halves[h].From].True(), arr.Verts[arr.Halves[h].To].True()); l > long {
						best, long = o, l
					}
				}
				if h = arr.Halves[h].Next; h == start {
					break
				}
			}
		}
		if best >= 0 {
			owner[f] = best
		}
	}
}

// enters tells whether a line runs through the inside of a region, by points a tenth of a millimetre apart and beside
// each corner: a finished block is not cut.
func enters(line []point, r region) bool {
	box := r.Bound().Pad(1)
	within := func(p point) bool {
		return r.Contains(p) && !slices.ContainsFunc(r, func(ring geom.Ring[point]) bool {
			return geom.LineDist(p, append(slices.Clone(ring), ring[0])) < Tuned.OnBorderMM
		})
	}
	for i := 0; i+1 < len(line); i++ {
		d := geom.Sub(line[i+1], line[i])
		n := int(math.Ceil(10 * d.Len()))
		for k := range n {
			if p := geom.Add(line[i], d, (float64(k)+0.5)/float64(n)); box.Contains([2]float64(p)) && within(p) {
				return true
			}
		}
		for _, v := range r.Points() { // a corner shaved off
			t := geom.Sub(v, line[i]).Dot(d) / d.Dot(d)
			if p := geom.Add(line[i], d, t); t > 0 && t < 1 && geom.Dist(p, v) < 0.1 && within(p) {
				return true
			}
		}
	}
	return false
}

func snap(line []point) []partition.Point {
	out := make([]partition.Point, len(line))
	for i, p := range line {
		out[i] = partition.Snap(p)
	}
	return out
}

// cuts lists the candidate cuts of all cells that are worth cutting: the best of each cell first, then the second of
// each, so that no cell is left out where symmetry bounds their number.
func (d *domain) cuts(log bool) [][][]point {
	var lists [][]cuts.Cut
	longest := 0
	for i, c := range d.cells {
		if c.child >= 0 || c.area < 4 || log && d.isOuter(i) || d.whole(c.shape) {
			continue
		}
		lists = append(lists, cuts.Of(c.shape, cuts.Middles(c.shape), d.motions))
		longest = max(longest, len(lists[len(lists)-1]))
	}
	var out [][][]point
	for k := 0; k < longest; k++ {
		for _, l := range lists {
			if k < len(l) {
				out = append(out, l[k].Lines())
			}
		}
	}
	return out
}

// whole tells whether a region is a form already, as near as makes no difference: it is not cut (SPLITTING 20).
func (d *domain) whole(r region) bool {
	hull := geom.Hull(r[0]).Area()
	if len(r) != 1 || r.Area() < 0.985*hull {
		return false
	}
	f := d.s.measure(r).fit(r, false, d.s.shop.Least())
	return f.Class == recipe.Fine && f.Op == recipe.Plain && f.Misfit < 0.05
}

// isOuter tells whether a cell is a sheet of ground that closes the log: a ring round the smallest circle.
func (d *domain) isOuter(i int) bool {
	c := d.cells[i]
	return c.colour == 0 && len(c.shape) > 1 && d.closes.Radius > 0 &&
		c.shape.Filled().Area() > 0.99*math.Pi*d.closes.Radius*d.closes.Radius
}

// union is the outline of a set of cells; ok is false when it is not one connected region, or only in a point.
func (d *domain) union(cells []int) (region, bool) {
	in := map[int32]bool{}
	faces := make([]int32, len(cells))
	for i, c := range cells {
		faces[i] = d.face[c]
		in[faces[i]] = true
	}
	rs := d.arr.Regions(d.arr.Union(func(f int32) bool { return in[f] }, faces))
	if len(rs) != 1 || pinched(rs[0]) {
		return nil, false
	}
	return rs[0], true
}

// pinched tells whether an outline touches itself: hands cannot make a part that hangs together in a point.
func pinched(r region) bool {
	seen := map[point]bool{}
	for _, ring := range r {
		for _, p := range ring {
			if seen[p] {
				return true
			}
			seen[p] = true
		}
	}
	return false
}
