// Package removal tells whether a part can be taken away from those that are present: the one rule by which the split
// judges its parts and the lay-up finds their order.
//
// Guarantees: taking a part away never blocks one that leaves in a straight line or is a wrap. A bent strip leaves only
// while more than half of what it lies on is present, so for it the order of taking away matters: greedy removal can
// end blocked where another order does not.
//
// References: Wilson and Latombe 1994 (assembly by disassembly).
package removal

import "sugarwright/planner/blocking"

// Bits is a set of units: the cells of a block, or its parts.
type Bits []uint64

// NewBits has room for n units.
func NewBits(n int) Bits { return make(Bits, (n+63)/64) }

// Has tells whether a unit is in the set.
func (b Bits) Has(i int) bool { return b[i>>6]>>(i&63)&1 == 1 }

// Set puts a unit into the set.
func (b Bits) Set(i int) { b[i>>6] |= 1 << (i & 63) }

// Remove takes the units of another set out.
func (b Bits) Remove(o Bits) {
	for i := range b {
		b[i] &^= o[i]
	}
}

// Meets tells whether two sets share a unit.
func (b Bits) Meets(o Bits) bool {
	for i := range b {
		if b[i]&o[i] != 0 {
			return true
		}
	}
	return false
}

// Within tells whether all units but those of p lie in o.
func (b Bits) Within(o, p Bits) bool {
	for i := range b {
		if b[i]&^o[i]&^p[i] != 0 {
			return false
		}
	}
	return true
}

// Key of the set, for maps.
func (b Bits) Key() string {
	out := make([]byte, 0, 8*len(b))
	for _, w := range b {
		for k := 0; k < 64; k += 8 {
			out = append(out, byte(w>>k))
		}
	}
	return string(out)
}

// Part is what the rule needs to know of a part beside the directions in which it is blocked.
type Part struct {
	Own    Bits  // its own units
	Inside Bits  // of a wrap: the units inside it; else nil
	Way    Bits  // of a strip that is bent on: the units in its way; else nil
	Core   []int // of a strip that is bent on: the unit under each sample of its inner side, -1 where there is none
}

// Unwraps tells whether a wrap can be opened: all that is present lies inside it.
func (p Part) Unwraps(present Bits) bool { return p.Inside != nil && present.Within(p.Inside, p.Own) }

// Unbends tells whether a bent strip can be bent off: nothing is in its way, and more than half of what it lies on is
// present.
func (p Part) Unbends(present Bits) bool {
	if p.Way == nil || p.Way.Meets(present) {
		return false
	}
	on := 0
	for _, c := range p.Core {
		if c >= 0 && present.Has(c) {
			on++
		}
	}
	return 2*on > len(p.Core)
}

// Blocked are the directions in which a part cannot leave past others; at gives those of one other.
func Blocked(others []int, at func(other int) blocking.Mask) blocking.Mask {
	var m blocking.Mask
	for _, j := range others {
		if m |= at(j); m == blocking.All {
			break
		}
	}
	return m
}
