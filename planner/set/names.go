package set

import "fmt"

// Renumber gives parts their numbers: block by block, in the order found.
func (s *Set) Renumber() {
	n := 0
	for i := range s.Elements {
		if e := &s.Elements[i]; e.CopyOf < 0 {
			n++
			e.Number = n
		}
	}
	for i := range s.Elements {
		if e := &s.Elements[i]; e.CopyOf >= 0 {
			e.Number = s.Elements[e.CopyOf].Number
		}
	}
}

// ColourID is the id of a colour in a plan.
func ColourID(colour int) string { return fmt.Sprintf("c%d", colour) }

// ID of an element in a plan: p3 for part 3, p3.2 and so on for its copies.
func (s *Set) ID(e int) string {
	el := s.Elements[e]
	if el.CopyOf < 0 {
		return fmt.Sprintf("p%d", el.Number)
	}
	n := 2
	for i := el.CopyOf + 1; i < e; i++ {
		if s.Elements[i].CopyOf == el.CopyOf {
			n++
		}
	}
	return fmt.Sprintf("p%d.%d", el.Number, n)
}

// AlikeIDs are the ids of an element that is no copy, and of all its copies.
func (s *Set) AlikeIDs(e int) []string {
	ids := []string{s.ID(e)}
	for i, c := range s.Elements {
		if c.CopyOf == e {
			ids = append(ids, s.ID(i))
		}
	}
	return ids
}

// Copies counts, by element, its copies.
func (s *Set) Copies() []int {
	out := make([]int, len(s.Elements))
	for _, e := range s.Elements {
		if e.CopyOf >= 0 {
			out[e.CopyOf]++
		}
	}
	return out
}

// Inside lists the elements of a block and of all blocks in it.
func (s *Set) Inside(block int) []int {
	out := append([]int(nil), s.Blocks[block].Elements...)
	for _, c := range s.Blocks[block].Blocks {
		out = append(out, s.Inside(c)...)
	}
	return out
}

// Holder of a block: the block into which it is laid; the log holds itself.
func (s *Set) Holder(block int) int {
	for h, b := range s.Blocks {
		for _, c := range b.Blocks {
			if c == block {
				return h
			}
		}
	}
	return block
}
