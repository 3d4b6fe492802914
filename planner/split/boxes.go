package split

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
)

// boxed builds each figure of a row, or of rows, by itself, with the ground round it, as a block with square edges: so makers set
// letters, one by one between bars, then in a row. It returns the pieces with the boxes in the figures' place, or nothing
// where the figures stand in no row.
func (s *splitter) boxed(pieces []piece) ([]piece, error) {
	figures, around := figuresOf(pieces)
	if len(figures) == 0 || len(figures) > Tuned.MostBoxes {
		return nil, nil
	}
	frames := s.frames(pieces, figures)
	if frames == nil {
		return nil, nil
	}
	var out []piece
	for i, f := range figures {
		var in []piece
		for _, k := range f {
			in = append(in, pieces[k])
		}
		in, err := disjoint(append(in, piece{region{frames[i]}, pieces[around].colour, -1}))
		if err != nil {
			return nil, err
		}
		if in[0].shape.Area() > 0.999*frames[i].Area() { // it is a box itself
			out = append(out, piece{region{frames[i]}, in[0].colour, in[0].child})
			continue
		}
		g, err := s.split(in, false)
		if err != nil {
			return nil, err
		}
		out = append(out, piece{region{frames[i]}, -1, g.d.emit(g)})
	}
	return disjoint(append(out, pieces[around]))
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

// frames are the outlines of the boxes: as high as the row, as wide as each figure, met half-way where no bar of ground
// would fit between. Nil where figures do not stand side by side along their straight edges, or where a corner would come
// too near to the jacket.
func (s *splitter) frames(pieces []piece, figures [][]int) []geom.Ring[point] {
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
			if d := math.Abs(w.angle - o.angle); math.Min(d, math.Pi/2-d) < 0.01 {
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
	points                 []point
}

// rows are the boxes of figures that stand in rows along u: as high as their row, and all rows as wide as the widest.
func (s *splitter) rows(pieces []piece, figures [][]int, u geom.Vec) []geom.Ring[point] {
	v := u.Left()
	var spans []span
	for i, f := range figures {
		x := span{i, math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1), nil}
		for _, k := range f {
			for _, p := range pieces[k].shape[0] {
				q := geom.Vec(p)
				x.from, x.to = math.Min(x.from, q.Dot(u)), math.Max(x.to, q.Dot(u))
				x.bottom, x.high = math.Min(x.bottom, q.Dot(v)), math.Max(x.high, q.Dot(v))
				x.points = append(x.points, p)
			}
		}
		spans = append(spans, x)
	}
	// Rows: figures whose heights overlap.
	slices.SortStableFunc(spans, func(a, b span) int { return cmp.Compare(a.bottom, b.bottom) })
	var rows [][]span
	top, left, right := math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, x := range spans {
		if x.bottom >= top {
			rows = append(rows, nil)
		}
		k := len(rows) - 1
		rows[k] = append(rows[k], x)
		top, left, right = math.Max(top, x.high), math.Min(left, x.from), math.Max(right, x.to)
	}
	if len(rows) == len(figures) && len(rows) > 1 {
		return nil // a column: it is a row along the other way
	}
	for k, row := range rows {
		low, high := math.Inf(1), math.Inf(-1)
		for _, x := range row {
			low, high = math.Min(low, x.bottom), math.Max(high, x.high)
		}
		for _, x := range row {
			if x.high-x.bottom < Tuned.RowShare*(high-low) {
				return nil
			}
		}
		for i := range row {
			row[i].bottom, row[i].high = low, high
		}
		slices.SortStableFunc(row, func(a, b span) int { return cmp.Compare(a.from, b.from) })
		if len(rows) > 1 {
			row[0].from, row[len(row)-1].to = left, right
		}
		for i := 1; i < len(row); i++ {
			if !s.meet(&row[i-1].to, &row[i].from) {
				return nil
			}
		}
		if k > 0 {
			below := rows[k-1]
			if !s.meet(&below[0].high, &row[0].bottom) {
				return nil
			}
			for i := range below {
				below[i].high = below[0].high
			}
			for i := range row {
				row[i].bottom = row[0].bottom
			}
		}
	}
	most := s.m.Frame.JacketRadius - s.shop.ThinnestWrapMM
	out := make([]geom.Ring[point], len(figures))
	for _, row := range rows {
		for _, x := range row {
			pts := x.points
			for _, c := range [][2]float64{{x.from, x.bottom}, {x.to, x.bottom}, {x.to, x.high}, {x.from, x.high}} {
				p := point(geom.Add(geom.Add(geom.Vec{}, u, c[0]), v, c[1]))
				if geom.Dist(p, point{}) > most {
					return nil
				}
				pts = append(pts, partition.Snap(p).True())
			}
			out[x.figure] = geom.Ring[point](geom.Hull(pts))
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

// disjoint takes from each piece what those before it cover.
func disjoint(pieces []piece) ([]piece, error) {
	b := partition.NewBuilder()
	for i, p := range pieces {
		for _, ring := range p.shape {
			b.Ring(i, snap(ring))
		}
	}
	arr, err := b.Build()
	if err != nil {
		return nil, err
	}
	owner := make([]int, len(arr.Faces))
	arr.Windings(func(face int, _, round []int32) {
		owner[face] = -1
		if len(round) > 0 {
			owner[face] = int(slices.Min(round))
		}
	})
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
