package repeats

import (
	"math"
	"slices"

	"sugarwright/planner/blocking"
	"sugarwright/planner/set"
)

// with is the set with each sector as a block of its own, before the block that it lies in.
func (f finder) with(s sector) *set.Set {
	n := len(s.parts)
	moved := func(b int) int {
		if b >= s.block {
			return b + n
		}
		return b
	}
	out := *f.set
	out.Elements, out.Blocks = slices.Clone(f.set.Elements), nil
	out.Price -= s.saves
	out.Proved, out.Bound = false, 0 // other parts may save more when they are built once
	for i := range out.Elements {
		out.Elements[i].Block = moved(out.Elements[i].Block)
	}
	taken := map[int]bool{}
	var added []int
	for k, parts := range s.parts {
		for _, e := range parts {
			out.Elements[e].Block = s.block + k
			taken[e] = true
		}
		added = append(added, s.block+k)
	}
	for b, blk := range f.set.Blocks {
		if b == s.block {
			for k, parts := range s.parts {
				out.Blocks = append(out.Blocks, f.sectorBlock(s, k, parts))
			}
			blk.Elements = slices.DeleteFunc(slices.Clone(blk.Elements), func(e int) bool { return taken[e] })
		}
		inner := make([]int, len(blk.Blocks))
		for i, c := range blk.Blocks {
			inner[i] = moved(c)
		}
		if b == s.block {
			inner = append(inner, added...)
		}
		blk.Blocks = inner
		out.Blocks = append(out.Blocks, blk)
	}
	apart(&out, taken)
	out.Renumber()
	return &out
}

// sectorBlock is the block of one place in the turn.
func (f finder) sectorBlock(s sector, k int, parts []int) set.Block {
	b := set.Block{Outline: s.outline[k], Elements: slices.Clone(parts)}
	var shapes []region
	for _, e := range parts {
		shapes = append(shapes, f.set.Elements[e].True)
	}
	b.Dirs = blocking.Of(shapes).Dirs
	return b
}

// apart gives what lies in the new blocks and what lies elsewhere an original each: the first is made thicker.
func apart(of *set.Set, taken map[int]bool) {
	type key struct {
		origin int
		taken  bool
	}
	first := map[key]int{}
	origins, mirrored := make([]int, len(of.Elements)), make([]bool, len(of.Elements))
	for i := range of.Elements {
		origins[i], mirrored[i] = of.Origin(i), of.Elements[i].Mirror
	}
	for i := range of.Elements {
		k := key{origins[i], taken[i]}
		o, ok := first[k]
		if !ok {
			first[k], o = i, -1
		}
		of.Elements[i].CopyOf = o
		if o >= 0 {
			of.Elements[i].Mirror = mirrored[i] != mirrored[o]
		} else {
			of.Elements[i].Mirror = false
		}
	}
}

// thicken notes of each block that is built once for several how much thicker it is built than it is laid. What cannot
// be drawn out is built as many times as long.
func (f finder) thicken() {
	copyOf := f.set.BlockCopies()
	for b := range f.set.Blocks {
		group, parts := []int{b}, [][]int{f.set.Inside(b)}
		for c, a := range copyOf {
			if a == b {
				group, parts = append(group, c), append(parts, f.set.Inside(c))
			}
		}
		each := 0.0
		for _, e := range f.set.Inside(b) {
			each += f.grams(e)
		}
		n := len(group)
		if n < 2 || f.shared(parts) || !drawable(f.set.Blocks[b].Outline, n, each*float64(n)) {
			continue
		}
		for _, c := range group {
			f.set.Blocks[c].Scale = math.Sqrt(float64(n))
		}
	}
}

// shared tells whether what is alike with some parts lies elsewhere too.
func (f finder) shared(parts [][]int) bool {
	return slices.ContainsFunc(parts[0], func(e int) bool { return f.elsewhere(f.set.Origin(e), parts) > 0 })
}
