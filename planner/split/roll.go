package split

import (
	"math"
	"sugarwright/planner/cuts"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
)

// rolled finds a strip that winds round itself among the pieces, and the sheet that lies between its turns; both become
// a block. The piece that the second sheet was cut from keeps what is outside.
func (s *splitter) rolled(pieces []piece) ([]piece, error) {
	for i, p := range pieces {
		if p.child >= 0 {
			continue
		}
		c, ok := recipe.SidesOf(p.shape)
		if !ok || recipe.TurnOf(c.Outer) < Tuned.RollTurn {
			continue
		}
		f, ok := recipe.Even(p.shape)
		if !ok || f.Misfit > Tuned.RollUneven {
			continue
		}
		from, along := outerEnd(p.shape, c)
		for j, q := range pieces {
			if j == i || q.child >= 0 {
				continue
			}
			to, _, ok := cuts.Ray(q.shape, from, along)
			if !ok {
				continue
			}
			between, rest, ok, err := parted(q.shape, []point{from, to})
			if err != nil {
				return nil, err
			}
			g, even := recipe.Even(between)
			if !ok || !even || g.Misfit > Tuned.RollUneven || g.Thick() > Tuned.RollWidth*f.Thick() ||
				f.Thick() > Tuned.RollWidth*g.Thick() {
				continue
			}
			outline, err := together(p.shape, between)
			if err != nil || len(outline) != 1 {
				return pieces, err
			}
			b := s.rollBlock(outline[0], []sheet{{p, f}, {piece{between, q.colour, -1}, g}})
			out := append([]piece(nil), pieces...)
			out[i], out[j] = piece{outline[0], -1, b}, piece{rest, q.colour, -1}
			return s.rolled(out)
		}
	}
	return pieces, nil
}

// cradled builds each open ring apart, together with what it holds: the piece inside is cut off across the ring's
// mouth. Both are laid as one block, so that rings which stand in each other's way are bent before they meet.
func (s *splitter) cradled(pieces []piece) ([]piece, error) {
	out := append([]piece(nil), pieces...)
	for i := 0; i < len(out); i++ {
		p := out[i]
		if p.child >= 0 || p.colour == 0 {
			continue
		}
		c, ok := recipe.SidesOf(p.shape)
		if !ok || recipe.TurnOf(c.Outer) < Tuned.OpenTurn || recipe.TurnOf(c.Outer) > Tuned.RollTurn {
			continue
		}
		mouth := []point{
			cornerNear(p.shape, c.Inner[0], c.Width),
			cornerNear(p.shape, c.Inner[len(c.Inner)-1], c.Width),
		}
		for j, q := range out {
			if j == i || q.child >= 0 {
				continue
			}
			held, rest, ok, err := parted(q.shape, mouth)
			if err != nil {
				return nil, err
			}
			if !ok {
				continue
			}
			outline, err := together(p.shape, held)
			if err != nil {
				return nil, err
			}
			if len(outline) != 1 || len(outline[0]) != 1 || pinched(outline[0]) {
				continue
			}
			g, err := s.split([]piece{p, {held, q.colour, -1}}, false)
			if err != nil {
				return nil, err
			}
			if len(g.blocked(g.parts)) > 0 {
				continue
			}
			out[i], out[j] = piece{outline[0], -1, g.d.emit(g)}, piece{rest, q.colour, -1}
			break
		}
	}
	return out, nil
}

// cornerNear is the corner of a region's border nearest to p within a reach, or p itself.
func cornerNear(r region, p point, reach float64) point {
	best, dist := p, reach
	ring := r[0]
	n := len(ring)
	for i, q := range ring {
		u, v := geom.Sub(q, ring[(i+n-1)%n]), geom.Sub(ring[(i+1)%n], q)
		if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) < math.Pi/4 {
			continue
		}
		if d := geom.Dist(p, q); d < dist {
			best, dist = q, d
		}
	}
	return best
}

type sheet struct {
	piece
	fit recipe.Fit
}

// rollBlock adds the block of two sheets; the one whose end is the heart of the roll comes first.
func (s *splitter) rollBlock(outline region, sheets []sheet) int {
	heart := geom.MomentsOf(outline).Centroid
	near := func(r region) float64 {
		d := math.Inf(1)
		for _, p := range r[0] {
			d = math.Min(d, geom.Dist(p, heart))
		}
		return d
	}
	if sheets[1].shape.Contains(heart) ||
		!sheets[0].shape.Contains(heart) && near(sheets[1].shape) < near(sheets[0].shape) {
		sheets[0], sheets[1] = sheets[1], sheets[0]
	}
	b := set.Block{Outline: outline, Roll: true}
	for _, t := range sheets {
		kind := set.Subject
		if t.colour == 0 {
			kind = set.Spacer
		}
		b.Elements = append(b.Elements, len(s.set.Elements))
		s.set.Elements = append(
			s.set.Elements,
			set.Element{
				Kind:   kind,
				Colour: t.colour,
				Block:  len(s.set.Blocks),
				True:   t.shape,
				Fit:    t.fit,
				CopyOf: -1,
			},
		)
	}
	s.set.Blocks = append(s.set.Blocks, b)
	return len(s.set.Blocks) - 1
}

// outerEnd is the point of a spiral's inner side at its outer end, and the direction in which the strip ends there,
// inward.
func outerEnd(r region, c recipe.Sides[point]) (point, geom.Vec) {
	heart := geom.MomentsOf(r).Centroid
	in, out := c.Inner, c.Outer
	if geom.Dist(in[0], heart) < geom.Dist(in[len(in)-1], heart) {
		in, out = in.Reversed(), out.Reversed()
	}
	// The border's own vertex nearest to where the inner side ends is its corner there.
	corner, dist := in[0], 2*c.Width
	for i, p := range r[0] {
		n := len(r[0])
		u, v := geom.Sub(p, r[0][(i+n-1)%n]), geom.Sub(r[0][(i+1)%n], p)
		if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) < math.Pi/4 {
			continue
		}
		if d := geom.Dist(p, in[0]); d < dist && d < geom.Dist(p, out[0]) {
			corner, dist = p, d
		}
	}
	return corner, geom.Sub(in[0], out[0]).Unit()
}

// parted cuts a region along a line into the piece that is all inside and the rest; ok is false when there are not two
// pieces.
func parted(r region, line []point) (in, rest region, ok bool, err error) {
	b := partition.NewBuilder()
	for _, ring := range r {
		b.Ring(0, snap(ring))
	}
	b.Line(snap(line))
	arr, err := b.Build()
	if err != nil {
		return nil, nil, false, err
	}
	var got []region
	arr.Windings(func(face int, wind, _ []int32) {
		if wind[0] == 0 {
			return
		}
		id := int32(face)
		got = append(got, arr.Regions(arr.Union(func(f int32) bool { return f == id }, []int32{id}))...)
	})
	if len(got) != 2 {
		return nil, nil, false, nil
	}
	if got[0][0].Area() > got[1][0].Area() {
		got[0], got[1] = got[1], got[0]
	}
	return got[0], got[1], true, nil
}

// together is the union of two regions that touch.
func together(a, c region) ([]region, error) {
	b := partition.NewBuilder()
	for i, r := range []region{a, c} {
		for _, ring := range r {
			b.Ring(i, snap(ring))
		}
	}
	arr, err := b.Build()
	if err != nil {
		return nil, err
	}
	in := map[int32]bool{}
	var faces []int32
	arr.Windings(func(face int, _, round []int32) {
		if len(round) > 0 {
			in[int32(face)] = true
			faces = append(faces, int32(face))
		}
	})
	return arr.Regions(arr.Union(func(f int32) bool { return in[f] }, faces)), nil
}
