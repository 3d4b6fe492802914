package split

import (
	"sugarwright/planner/blocking"
	"sugarwright/planner/removal"
)

// blocked lists the parts that cannot be taken away when whatever can go is taken, again and again.
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
			present.Set(c)
		}
	}
	for len(left) > 1 {
		var stay []int
		for _, i := range left {
			if leaves(parts[i], mask[i*n:(i+1)*n], left, present) {
				present.Remove(parts[i].own)
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

// leaves tells whether a part can be taken away from those present: as a wrap, bent off, or in a straight line. mask
// holds, by part, the directions in which it runs into that part; its own entry is empty.
func leaves(p *part, mask []blocking.Mask, left []int, present bits) bool {
	rule := removal.Part{Own: p.own, Inside: p.p.inside, Core: p.p.core}
	if p.p.ring {
		return rule.Unwraps(present)
	}
	if p.p.fit.Bent() {
		if rule.Way = p.p.way; rule.Unbends(present) {
			return true
		}
	}
	return removal.Blocked(left, func(j int) blocking.Mask { return mask[j] }) != blocking.All
}
