// Package set is the result of the split: the elements that hands make, and the blocks into which they are put
// together.
//
// Guarantees: Check holds the areas to the log's (P1), and every element and every block but the log to one block.
package set

import (
	"fmt"
	"math"
	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner/blocking"
	"sugarwright/planner/build"
	"sugarwright/planner/recipe"
)

// Kind is an element's role.
type Kind int

// Subject is any colour but the ground's; a spacer is ground that is laid or bent; Ground is wrapped.
const (
	Subject Kind = iota
	Spacer
	Ground
	Jacket
)

func (k Kind) String() string { return [...]string{"subject", "spacer", "ground", "jacket"}[k] }

// Element is one part that hands make and lay.
type Element struct {
	Kind   Kind
	Colour int // of the map
	Block  int // index into Set.Blocks
	True   geom.Region[geom.TruePoint]
	Fit    recipe.Fit
	CopyOf int // index of the element that it is a copy of, or -1
	Mirror bool
	Number int // 1.. over distinct elements; a copy has its original's
}

// Inside is a point inside an element's true polygon, for labels and findings.
func (e *Element) Inside() geom.TruePoint { return geom.Inside(e.True) }

// Block is a sub-assembly: elements and finished blocks that are put together and laid as one. The last block is the
// log.
type Block struct {
	Outline  geom.Region[geom.TruePoint]
	Elements []int
	Blocks   []int
	Roll     bool                     // two sheets that are rolled up together, the inner first
	Dirs     [blocking.Count]geom.Vec // the directions in which the search found its parts free
	// How many times as thick it is built as it is laid, where it is drawn out to several lengths; else 0
	Scale float64
}

// Set is the whole split.
type Set struct {
	Elements []Element
	Blocks   []Block
	Price    float64 // minutes of making and laying by the shop's table, with penalties for what hands find hard
	Bound    float64 // no way to make parts of the cells that the cuts leave is cheaper than this
	Proved   bool    // every block was searched to the end
	Nodes    int     // sets of cells priced
	Boxed    bool    // figures in rows are blocks of their own
	Refused  []int   // elements that hands do not make
}

// Gap is how much cheaper, as a share, the cheapest way could be at most; 0 when proved.
func (s *Set) Gap() float64 {
	if s.Proved || s.Price <= 0 {
		return 0
	}
	return max(0, 1-s.Bound/s.Price)
}

// Name of a block in plans: "log" for the last.
func (s *Set) Name(block int) string {
	if block == len(s.Blocks)-1 {
		return "log"
	}
	return fmt.Sprintf("block%d", block+1)
}

// Distinct counts parts made, copies once.
func (s *Set) Distinct() int {
	n := 0
	for _, e := range s.Elements {
		if e.CopyOf < 0 {
			n++
		}
	}
	return n
}

// Check proves P1 on areas and the structure: every element and every block but the log belongs to one block.
func (s *Set) Check(logArea float64) error {
	sum := 0.0
	for i, e := range s.Elements {
		a := e.True.Area()
		if a <= 0 {
			return finding.Impossible("element %d has area %g", i, a)
		}
		sum += a
	}
	if math.Abs(sum-logArea) > 1e-6*logArea {
		return finding.Impossible("elements cover %.6f of %.6f square mm", sum, logArea)
	}
	seen := make([]int, len(s.Elements))
	held := make([]int, len(s.Blocks))
	for _, b := range s.Blocks {
		for _, e := range b.Elements {
			seen[e]++
		}
		for _, c := range b.Blocks {
			held[c]++
		}
	}
	for i, n := range seen {
		if n != 1 {
			return finding.Impossible("element %d lies in %d blocks", i, n)
		}
	}
	for i, n := range held {
		if want := min(1, len(s.Blocks)-1-i); n != want {
			return finding.Impossible("block %d is laid %d times", i, n)
		}
	}
	return nil
}

// Thickness of a block: its narrowest width, millimetres.
func (s *Set) Thickness(block int) float64 {
	least, _ := geom.Widths(geom.Hull(s.Blocks[block].Outline[0]))
	return least
}

// Shape of what one entry of a lay-up lays, in the true frame: an element, or the outline of a block.
func (s *Set) Shape(p build.Part) geom.Region[geom.TruePoint] {
	if p.Element >= 0 {
		return s.Elements[p.Element].True
	}
	return s.Blocks[p.Block].Outline
}
