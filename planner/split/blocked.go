package split

import (
	"sugarwright/planner/blocking"
	"sugarwright/planner/form"
)

// blocked lists the parts that cannot be taken away. Taking one part away never blocks another, so taking whatever can go is complete.
func (g *merger) blocked(parts []*part) []int {
	n := len(parts)
	mask := make([]blocking.Mask, n*n)
	owner := make([]int, len(g.d.cells))
	for i, p := range parts {
		for _, c := range p.cells {
			owner[c] = i
		}
	}
	cells := len(g.d.cells)
	for a := 0; a < cells; a++ {
		for b := 0; b < cells; b++ {
			if i, j := owner[a], owner[b]; i != j {
				mask[i*n+j] |= g.table.Touched(a, b)
			}
		}
	}
	present := g.newBits()
	left := make([]int, n)
	for i, p := range parts {
		left[i] = i
		for _, c := range p.cells {
			present.set(c)
		}
	}
	for len(left) > 1 {
		var stay []int
		for _, i := range left {
			if g.leaves(parts[i], i, n, mask, left, present) {
				for k := range present {
					present[k] &^= parts[i].own[k]
				}
				continue
			}
			stay = append(stay, i)
		}
		if len(stay) == len(left) {
			return left
		}
		left = stay
	}
	return nil
}

// leaves tells whether part i can be taken away from those present: in a straight line, as a wrap, or bent off.
func (g *merger) leaves(p *part, i, n int, mask []blocking.Mask, left []int, present bits) bool {
	if p.p.ring {
		return present.within(p.p.inside, p.own)
	}
	if p.p.fit.Form == form.Bent && p.p.way != nil && !p.p.way.meets(present) {
		on := 0
		for _, c := range p.p.core {
			if c >= 0 && present.has(c) {
				on++
			}
		}
		if 2*on > len(p.p.core) {
			return true
		}
	}
	var m blocking.Mask
	for _, j := range left {
		if j != i {
			if m |= mask[i*n+j]; m == blocking.All {
				return false
			}
		}
	}
	return true
}
