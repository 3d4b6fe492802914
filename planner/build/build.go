// Package build holds the order in which parts are put together: data and structural checks only. Whether a part can
// reach its place is proved by package replay.
package build

import (
	"sugarwright/geom/finding"

	"sugarwright/geom"
	"sugarwright/planner/stand"
)

// Move is how a part comes to its place.
type Move int

// The moves. Roll joins sheets that are rolled up together. Fold lays a strip flat, sets on it what it covers, and folds
// its ends up.
const (
	First Move = iota
	Lay
	Bend
	Wrap
	Roll
	Fold
)

func (m Move) String() string { return [...]string{"first", "lay", "bend", "wrap", "roll", "fold"}[m] }

// Part is an element or a finished block; the other index is -1.
type Part struct{ Element, Block int }

// Entry is one move of the lay-up. Direction is the way the part moves, in the frame of its block as drawn; only Lay
// has one. Turn, in degrees counter-clockwise, is how far the block is turned before the move; of the first part, how it
// is laid. Stands is how all that is there stands then.
type Entry struct {
	Part
	Move      Move
	Direction geom.Vec
	Turn      float64
	Stands    stand.Level
}

// Build is the order of every block; blocks are built in their order, the last is the log.
type Build struct {
	Blocks [][]Entry
}

// Check proves the structure: each block starts with its only first, elements and blocks are laid once, blocks after
// they are built.
func (b *Build) Check(elements int) error {
	seen := make([]int, elements)
	laid := make([]int, len(b.Blocks))
	for i, entries := range b.Blocks {
		if len(entries) == 0 {
			return finding.Impossible("block %d has no parts", i)
		}
		for k, e := range entries {
			if (k == 0) != (e.Move == First) {
				return finding.Impossible("block %d, entry %d is %v", i, k, e.Move)
			}
			switch {
			case e.Element >= 0 && e.Element < elements:
				seen[e.Element]++
			case e.Block >= 0 && e.Block < i:
				laid[e.Block]++
			default:
				return finding.Impossible("block %d, entry %d lays nothing that is finished", i, k)
			}
			if (e.Move == Lay) != (e.Direction != geom.Vec{}) {
				return finding.Impossible("block %d, entry %d: direction does not suit its move", i, k)
			}
		}
	}
	for i, n := range seen {
		if n != 1 {
			return finding.Impossible("element %d is laid %d times", i, n)
		}
	}
	for i, n := range laid[:len(laid)-1] {
		if n != 1 {
			return finding.Impossible("block %d is laid %d times", i, n)
		}
	}
	return nil
}
