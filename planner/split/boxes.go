package split

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
)

// boxed builds each figure of a row, or of rows, by itself, with the ground round it, as a block with square edges: so
// makers set letters, one by one between bars, then in a row. A box is as high as its row, or as its figure where no parts
// are found for that; a figure for which there are none then either stays as it is. It returns the pieces with the boxes
// in the figures' place, or nothing where the figures stand in no row.
func (s *splitter) boxed(pieces []piece) ([]piece, error) {
	figures, around := figuresOf(pieces)
	if len(figures) == 0 || len(figures) > Tuned.MostBoxes {
		return nil, nil
	}
	boxes := s.boxes(pieces, figures)
	if boxes == nil {
		return nil, nil
	}
	var out []piece
	for i, f := range figures {
		var figure []piece
		for _, k := range f {
			figure = append(figure, pieces[k])
		}
		box, err := s.inBox(figure, boxes[i], pieces[around].colour)
		if err != nil {
			return nil, err
		}
		out = append(out, box...)
	}
	return disjoint(append(out, pieces[around]))
}

// box is the outline of one, as high as the row or as its figure.
type box struct{ row, own geom.Ring[point] }

// inBox builds a figure in its box; where that cannot be made, it is returned as it is.
func (s *splitter) inBox(figure []piece, b box, ground int) ([]piece, error) {
	for _, frame := range []geom.Ring[point]{b.row, b.own} {
		whole, err := disjoint(append(slices.Clone(figure), piece{region{frame}, ground, -1}))
		if err != nil {
			return nil, err
		}
		if whole[0].shape.Area() > 0.999*frame.Area() { // it is a box itself
			return []piece{{region{frame}, whole[0].colour, whole[0].child}}, nil
		}
		trimmed, outline, err := s.trimmed(whole, region{frame})
		if err != nil {
			return nil, err
		}
		before, found := s.saved()
		for _, in := range []struct {
			pieces  []piece
			outline region
		}{{whole, region{frame}}, {trimmed, outline}} {
			g, err := s.split(in.pieces, false)
			if err != nil {
				return nil, err
			}
			if g.makeable(g.parts) {
				return []piece{{in.outline, -1, g.d.emit(g)}}, nil
			}
			*s.set, s.found = before, found
			if trimmed == nil {
				break
			}
		}
		if math.Abs(b.own.Area()-b.row.Area()) < 1 {
			break
		}
	}
	return figure, nil
}

// trimmed leaves ground along a box's edges to what lies outside, where it is too thin for a part, or a sliver: round
// letters reach a little farther than flat ones, and leave small corners. It returns what is left, and its outline; nothing
// where there is no such ground.
func (s *splitter) trimmed(in []piece, outline region) ([]piece, region, error) {
	edge := append(slices.Clone(outline[0]), outline[0][0])
	along := func(p point) bool { return geom.LineDist(p, edge) < Tuned.OnLineMM }
	var slivers []piece
	for _, p := range in {
		if p.colour != 0 || p.child >= 0 || !slices.ContainsFunc(p.shape[0], along) {
			continue
		}
		if o, err := skeleton.Open(p.shape, s.shop.ThinnestMM); err != nil {
			return nil, nil, err
		} else if o.Pieces == 0 {
			slivers = append(slivers, p)
			continue
		}
		o, err := skeleton.Open(p.shape, Tuned.SliverMM)
		if err != nil {
			return nil, nil, err
		}
		for _, l := range o.Left {
			if flat(l.Shape[0], edge) {
				slivers = append(slivers, piece{l.Shape, 0, -1})
			}
		}
	}
	if slivers == nil {
		return nil, nil, nil
	}
	arr, owner, err := noded(append(slices.Clone(slivers), in...))
	if err != nil {
		return nil, nil, err
	}
	var faces []int32
	for f, o := range owner {
		if o >= len(slivers) {
			faces = append(faces, int32(f))
		}
	}
	var whole region
	for _, r := range arr.Regions(arr.Union(func(f int32) bool { return owner[f] >= len(slivers) }, faces)) {
		if r = r.Filled(); r.Area() > whole.Area() {
			whole = r
		}
	}
	trimmed, err := disjoint(append(slivers, in...))
	if err != nil {
		return nil, nil, err
	}
	outside := func(p piece) bool { return !whole.Contains(geom.Inside(p.shape)) }
	if slices.ContainsFunc(trimmed, func(p piece) bool { return (p.colour != 0 || p.child >= 0) && outside(p) }) {
		return nil, nil, nil
	}
	return slices.DeleteFunc(trimmed, outside), whole, nil
}

// flat tells whether a sliver lies between a line and a straight border that runs along it; a cusp between it and a round
// one is no sliver.
func flat(ring geom.Ring[point], line geom.Ring[point]) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a, b, l := geom.LineDist(p, line), geom.LineDist(q, line), geom.Dist(p, q)
		if l > 2*Tuned.SliverMM && math.Max(a, b) > Tuned.OnLineMM && math.Abs(a-b) < 0.02*l {
			return true
		}
	}
	return false
}

// figuresOf groups the pieces in the ground round them: those that touch, and what they hold. It also returns the piece
// that is round them; no figures where there is no such piece.
func figuresOf(pieces []piece) (figures [][]int, around int) {
	around = -1
	for i, p := range pieces {
		if p.colour == 0 && (around < 0 || p.shape.Filled().Area() > pieces[around].shape.Filled().Area()) {
			around = i
		}
	}
	if around < 0 || len(pieces[around].shape) < 2 {
		return nil, -1
	}
	// Each hole of the ground is a figure.
	for _, hole := range pieces[around].shape[1:] {
		var in []int
		for i, p := range pieces {
			if i != around && hole.Contains(geom.Inside(p.shape)) {
				in = append(in, i)
			}
		}
		if len(in) == 0 {
			return nil, -1
		}
		figures = append(figures, in)
	}
	return figures, around
}

// boxes are the outlines of the boxes: as wide as each figure, met half-way where no bar of ground would fit between. Nil
// where figures do not stand side by side along their straight edges, or where a corner would come too near to the jacket.
func (s *splitter) boxes(pieces []piece, figures [][]int) []box {
	along := straightest(pieces, figures)
	if along == (geom.Vec{}) {
		return nil
	}
	for _, u := range []geom.Vec{along, along.Left()} {
		if f := s.rows(pieces, figures, u); f != nil {
			return f
		}
	}
	return nil
}

// straightest is the way in which most of the figures' border runs straight, or square to it; zero where little does.
func straightest(pieces []piece, figures [][]int) geom.Vec {
	type way struct{ angle, long float64 }
	var ways []way
	all := 0.0
	for _, f := range figures {
		for _, k := range f {
			ring := geom.Thinned(pieces[k].shape[0], 0.1)
			for i, p := range ring {
				d := geom.Sub(ring[(i+1)%len(ring)], p)
				all += d.Len()
				if d.Len() < Tuned.StraightMM {
					continue
				}
				a := math.Mod(d.Angle()+2*math.Pi, math.Pi/2)
				ways = append(ways, way{a, d.Len()})
			}
		}
	}
	best, most := 0.0, 0.0
	for _, w := range ways {
		sum := 0.0
		for _, o := range ways {
			if d := math.Abs(w.angle - o.angle); math.Min(d, math.Pi/2-d) < Tuned.StraightRad {
				sum += o.long
			}
		}
		if sum > most+1e-6 || sum > most-1e-6 && w.angle < best {
			best, most = w.angle, sum
		}
	}
	if most < Tuned.StraightShare*all {
		return geom.Vec{}
	}
	return geom.Polar(best)
}

// span is how far a figure reaches along a row and square to it.
type span struct {
	figure                 int
	from, to, bottom, high float64
	own                    [2]float64 // its own bottom and top
	points                 []point
}

// rows are the boxes of figures that stand in rows along u: as high as their row, and all rows as wide as the widest.
func (s *splitter) rows(pieces []piece, figures [][]int, u geom.Vec) []box {
	rows, left, right := inRows(spans(pieces, figures, u))
	if len(rows) == len(figures) && len(rows) > 1 {
		return nil // a column: it is a row along the other way
	}
	for k, row := range rows {
		if len(rows) > 1 {
			row[0].from, row[len(row)-1].to = left, right
		}
		if !s.level(row) || k > 0 && !s.above(rows[k-1], row) {
			return nil
		}
	}
	return s.framed(rows, len(figures), u)
}

// spans of figures along u and square to it.
func spans(pieces []piece, figures [][]int, u geom.Vec) (out []span) {
	for i, f := range figures {
		x := span{figure: i, from: math.Inf(1), to: math.Inf(-1), bottom: math.Inf(1), high: math.Inf(-1)}
		for _, k := range f {
			for _, p := range pieces[k].shape[0] {
				q := geom.Vec(p)
				x.from, x.to = math.Min(x.from, q.Dot(u)), math.Max(x.to, q.Dot(u))
				x.bottom, x.high = math.Min(x.bottom, q.Dot(u.Left())), math.Max(x.high, q.Dot(u.Left()))
				x.points = append(x.points, p)
			}
		}
		x.own = [2]float64{x.bottom, x.high}
		out = append(out, x)
	}
	return out
}

// inRows puts figures whose heights overlap into a row each, in their order along it; also how far all reach.
func inRows(of []span) (rows [][]span, left, right float64) {
	slices.SortStableFunc(of, func(a, b span) int { return cmp.Compare(a.bottom, b.bottom) })
	top := math.Inf(-1)
	left, right = math.Inf(1), math.Inf(-1)
	for _, x := range of {
		if x.bottom >= top {
			rows = append(rows, nil)
		}
		k := len(rows) - 1
		rows[k] = append(rows[k], x)
		top, left, right = math.Max(top, x.high), math.Min(left, x.from), math.Max(right, x.to)
	}
	for _, row := range rows {
		slices.SortStableFunc(row, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	}
	return rows, left, right
}

// level makes the figures of a row as high as the row, side by side; false where one is much lower, or two overlap.
func (s *splitter) level(row []span) bool {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range row {
		low, high = math.Min(low, x.bottom), math.Max(high, x.high)
	}
	for i := range row {
		if x := &row[i]; x.high-x.bottom < Tuned.RowShare*(high-low) || i > 0 && !s.meet(&row[i-1].to, &x.from) {
			return false
		}
	}
	for i := range row {
		row[i].bottom, row[i].high = low, high
	}
	return true
}

// above has a row meet the one below it.
func (s *splitter) above(below, row []span) bool {
	if !s.meet(&below[0].high, &row[0].bottom) {
		return false
	}
	for i := range below {
		below[i].high = below[0].high
	}
	for i := range row {
		row[i].bottom = row[0].bottom
	}
	return true
}

// framed are the boxes of figures in rows; nil where one comes too near to the jacket.
func (s *splitter) framed(rows [][]span, figures int, u geom.Vec) []box {
	most := s.m.Frame.JacketRadius - s.shop.ThinnestWrapMM
	out := make([]box, figures)
	for _, row := range rows {
		for _, x := range row {
			frame := func(bottom, top float64) geom.Ring[point] {
				pts := slices.Clone(x.points)
				for _, c := range [][2]float64{{x.from, bottom}, {x.to, bottom}, {x.to, top}, {x.from, top}} {
					pts = append(pts, partition.Snap(point(geom.Add(geom.Add(geom.Vec{}, u, c[0]), u.Left(), c[1]))).True())
				}
				return geom.Ring[point](geom.Hull(pts))
			}
			b := box{frame(x.bottom, x.high), frame(x.own[0], x.own[1])}
			if slices.ContainsFunc(b.row, func(p point) bool { return geom.Dist(p, point{}) > most }) {
				return nil
			}
			out[x.figure] = b
		}
	}
	return out
}

// meet has two borders meet half-way where no bar of ground fits between; false where they overlap.
func (s *splitter) meet(to, from *float64) bool {
	gap := *from - *to
	if gap >= 0 && gap < s.shop.ThinnestMM+0.1 {
		*to, *from = *to+gap/2, *to+gap/2
	}
	return gap >= 0
}

// noded is the arrangement of pieces, and by face the first of them that covers it; -1 where none does.
func noded(pieces []piece) (*partition.Arrangement, []int, error) {
	b := partition.NewBuilder()
	for i, p := range pieces {
		for _, ring := range p.shape {
			b.Ring(i, snap(ring))
		}
	}
	arr, err := b.Build()
	if err != nil {
		return nil, nil, err
	}
	owner := make([]int, len(arr.Faces))
	arr.Windings(func(face int, _, round []int32) {
		owner[face] = -1
		if len(round) > 0 {
			owner[face] = int(slices.Min(round))
		}
	})
	return arr, owner, nil
}

// disjoint takes from each piece what those before it cover.
func disjoint(pieces []piece) ([]piece, error) {
	arr, owner, err := noded(pieces)
	if err != nil {
		return nil, err
	}
	var out []piece
	for i, p := range pieces {
		if p.child >= 0 {
			out = append(out, p)
			continue
		}
		var faces []int32
		for f, o := range owner {
			if o == i {
				faces = append(faces, int32(f))
			}
		}
		for _, r := range arr.Regions(arr.Union(func(f int32) bool { return owner[f] == i }, faces)) {
			out = append(out, piece{r, p.colour, -1})
		}
	}
	return out, nil
}
