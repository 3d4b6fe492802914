package layup

import (
	"cmp"
	"slices"

	"sugarwright/planner/build"
	"sugarwright/planner/set"
)

// InOrder puts the blocks in the order in which the clock has them done, and numbers the parts anew; false where they are in
// that order already. A block is done before the one into which it is laid.
func InOrder(of *set.Set, b *build.Build, done []float64) (*set.Set, *build.Build, bool) {
	order := make([]int, len(of.Blocks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(done[x], done[y]) })
	if slices.IsSorted(order) || order[len(order)-1] != len(order)-1 { // the log is last
		return of, b, false
	}
	now := make([]int, len(order))
	for i, was := range order {
		now[was] = i
	}
	out, laid := *of, &build.Build{}
	out.Elements, out.Blocks = slices.Clone(of.Elements), nil
	for i := range out.Elements {
		out.Elements[i].Block = now[out.Elements[i].Block]
	}
	for _, was := range order {
		blk := of.Blocks[was]
		blk.Blocks = nil
		for _, c := range of.Blocks[was].Blocks {
			blk.Blocks = append(blk.Blocks, now[c])
		}
		out.Blocks = append(out.Blocks, blk)
		entries := slices.Clone(b.Blocks[was])
		for i, e := range entries {
			if e.Element < 0 {
				entries[i].Block = now[e.Block]
			}
		}
		laid.Blocks = append(laid.Blocks, entries)
	}
	x, y := Numbered(&out, laid)
	return x, y, true
}

// Numbered numbers the parts in the order in which they are first laid, block by block, the log last: the diagram is then
// the instruction. Parts alike share the number, the one from which they are made first.
func Numbered(of *set.Set, b *build.Build) (*set.Set, *build.Build) {
	rank := make([]int, len(of.Elements)) // by element: when the first of its kind is laid
	for i := range rank {
		rank[i] = len(rank)
	}
	n := 0
	for _, entries := range b.Blocks {
		for _, e := range entries {
			if e.Element >= 0 {
				o := of.Origin(e.Element)
				rank[o] = min(rank[o], n)
				n++
			}
		}
	}
	order := make([]int, len(of.Elements))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(rank[of.Origin(x)], rank[of.Origin(y)]) })
	now := make([]int, len(order)) // where each has gone
	for i, was := range order {
		now[was] = i
	}
	out := *of
	out.Elements, out.Blocks = nil, slices.Clone(of.Blocks)
	for _, was := range order {
		e := of.Elements[was]
		if e.CopyOf >= 0 {
			e.CopyOf = now[e.CopyOf]
		}
		out.Elements = append(out.Elements, e)
	}
	for i, blk := range out.Blocks {
		out.Blocks[i].Elements = nil
		for _, e := range blk.Elements {
			out.Blocks[i].Elements = append(out.Blocks[i].Elements, now[e])
		}
	}
	out.Renumber()
	laid := &build.Build{}
	for _, entries := range b.Blocks {
		entries = slices.Clone(entries)
		for i, e := range entries {
			if e.Element >= 0 {
				entries[i].Element = now[e.Element]
			}
		}
		laid.Blocks = append(laid.Blocks, entries)
	}
	return &out, laid
}
