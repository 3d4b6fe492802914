package set

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
)

// Origin of an element: what it is a copy of, or itself.
func (s *Set) Origin(e int) int {
	if c := s.Elements[e].CopyOf; c >= 0 {
		return c
	}
	return e
}

// Pieces are, by element that is no copy, how many its bar is chopped into: those of blocks that are drawn out with
// another come from there.
func (s *Set) Pieces() []int {
	out := make([]int, len(s.Elements))
	copyOf := s.BlockCopies()
	for i, e := range s.Elements {
		if copyOf[e.Block] < 0 || s.Blocks[e.Block].Scale == 0 {
			out[s.Origin(i)]++
		}
	}
	return out
}

// span is the distance of two parts of a block, and what they are copies of.
type span struct {
	a, b int
	mm   float64
}

// spans of all pairs of parts, in order: alike for blocks that are put together alike.
func (s *Set) spans(b Block) []span {
	var out []span
	for i, e := range b.Elements {
		for _, o := range b.Elements[i+1:] {
			p, q := geom.MomentsOf(s.Elements[e].True).Centroid, geom.MomentsOf(s.Elements[o].True).Centroid
			x, y := s.Origin(e), s.Origin(o)
			out = append(out, span{min(x, y), max(x, y), geom.Dist(p, q)})
		}
	}
	slices.SortFunc(out, func(x, y span) int { return cmp.Or(x.a-y.a, x.b-y.b, cmp.Compare(x.mm, y.mm)) })
	return out
}

// spanMM is by how much like spans may differ: parts made equal differ by less.
const spanMM = 0.2

func alike(x, y span) bool { return x.a == y.a && x.b == y.b && math.Abs(x.mm-y.mm) < spanMM }

// BlockCopies finds, for each block, an earlier one whose parts its own parts are copies of, or -1: the two are built
// once, longer, and chopped.
func (s *Set) BlockCopies() []int {
	out := make([]int, len(s.Blocks))
	for b, blk := range s.Blocks {
		out[b] = -1
		for a := 0; a < b && out[b] < 0; a++ {
			first := s.Blocks[a]
			if out[a] >= 0 || len(blk.Blocks)+len(first.Blocks) > 0 || len(first.Elements) != len(blk.Elements) {
				continue
			}
			left := map[int]int{}
			for _, e := range first.Elements {
				left[s.Origin(e)]++
			}
			same := true
			for _, e := range blk.Elements {
				left[s.Origin(e)]--
				same = same && left[s.Origin(e)] >= 0
			}
			if same && slices.EqualFunc(s.spans(first), s.spans(blk), alike) {
				out[b] = a
			}
		}
	}
	return out
}
