package planner

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/planner/set"
)

// origin of an element: what it is a copy of, or itself.
func (w *work) origin(e int) int {
	if c := w.set.Elements[e].CopyOf; c >= 0 {
		return c
	}
	return e
}

// span is the distance of two parts of a block, and what they are copies of.
type span struct {
	a, b int
	mm   float64
}

// spans of all pairs of parts, in order: alike for blocks that are put together alike.
func (w *work) spans(b set.Block) []span {
	var out []span
	for i, e := range b.Elements {
		for _, o := range b.Elements[i+1:] {
			p, q := geom.MomentsOf(w.set.Elements[e].True).Centroid, geom.MomentsOf(w.set.Elements[o].True).Centroid
			x, y := w.origin(e), w.origin(o)
			out = append(out, span{min(x, y), max(x, y), geom.Dist(p, q)})
		}
	}
	slices.SortFunc(out, func(x, y span) int { return cmp.Or(x.a-y.a, x.b-y.b, cmp.Compare(x.mm, y.mm)) })
	return out
}

// spanMM is by how much like spans may differ: parts made equal differ by less.
const spanMM = 0.2

func alike(x, y span) bool { return x.a == y.a && x.b == y.b && math.Abs(x.mm-y.mm) < spanMM }

// blockCopies finds blocks whose every part is a copy of a part of an earlier block: they are built once, longer, and chopped.
func (w *work) blockCopies() []int {
	out := make([]int, len(w.set.Blocks))
	for b, blk := range w.set.Blocks {
		out[b] = -1
		for a := 0; a < b && out[b] < 0; a++ {
			first := w.set.Blocks[a]
			if out[a] >= 0 || len(blk.Blocks)+len(first.Blocks) > 0 || len(first.Elements) != len(blk.Elements) {
				continue
			}
			left := map[int]int{}
			for _, e := range first.Elements {
				left[w.origin(e)]++
			}
			same := true
			for _, e := range blk.Elements {
				left[w.origin(e)]--
				same = same && left[w.origin(e)] >= 0
			}
			if same && slices.EqualFunc(w.spans(first), w.spans(blk), alike) {
				out[b] = a
			}
		}
	}
	return out
}
