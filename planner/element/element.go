// Package element splits the section into the parts that hands make: over-segmented by many straight cuts, then merged again while
// minutes are saved, whole classes of equal parts at once, and never so that a part can no longer be laid.
//
// Guarantees: elements are unions of cells of one arrangement, so they tile the log's polygon (P1) and keep to one colour each (P2).
// The result says whether it is proved over the cells that the candidate cuts leave, or how far from the bound it may be.
//
// References: the merge order and the penalties were tried on drawings whose split by a maker is known; forms are the trade's.
package element

import (
	"fmt"
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/blocking"
	"sugarwright/planner/shop"
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
	Full   geom.Region[geom.TruePoint] // True with grooves for what is laid into it closed: what the form is measured on
	Fit    Fit
	CopyOf int // index of the element that it is a copy of, or -1
	Mirror bool
	Number int // 1.. over distinct elements; a copy has its original's
}

// Block is a sub-assembly: elements and finished blocks that are put together and laid as one. The last block is the log.
type Block struct {
	Outline  geom.Region[geom.TruePoint]
	Elements []int
	Blocks   []int
	Roll     bool                     // two sheets that are rolled up together, the inner first
	Dirs     [blocking.Count]geom.Vec // the directions in which the search found its parts free
}

// Set is the whole split.
type Set struct {
	Elements []Element
	Blocks   []Block
	Price    float64 // minutes of making and laying by the shop's table, with penalties for what hands find hard
	Bound    float64 // no way to make parts of the cells that the cuts leave is cheaper than this
	Proved   bool    // every block was searched to the end
	Nodes    int     // sets of cells priced
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
			return fmt.Errorf("internal: element %d has area %g", i, a)
		}
		sum += a
	}
	if math.Abs(sum-logArea) > 1e-6*logArea {
		return fmt.Errorf("internal: elements cover %.6f of %.6f square mm", sum, logArea)
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
			return fmt.Errorf("internal: element %d lies in %d blocks", i, n)
		}
	}
	for i, n := range held {
		if want := min(1, len(s.Blocks)-1-i); n != want {
			return fmt.Errorf("internal: block %d is laid %d times", i, n)
		}
	}
	return nil
}

// splitter carries what all domains of one drawing share.
type splitter struct {
	m       *partition.Map
	pose    pose
	regions []partition.Region // of the map, in the pose
	shop    *shop.Shop
	set     *Set
	found   finding.List
	known   map[int][]*measured // by size
	sets    int                 // looked at by exhaustive searches
}

// Split finds the elements of a section. Findings of severity error mean that no set of makeable parts was found.
func Split(m *partition.Map, sh *shop.Shop) (*Set, finding.List, error) {
	s := &splitter{m: m, shop: sh, set: &Set{Proved: true}, known: map[int][]*measured{}}
	s.pose = poseOf(m.Regions)
	for _, r := range m.Regions {
		r.Shape = s.pose.moved(r.Shape, s.pose.in)
		s.regions = append(s.regions, r)
	}
	var inside []int
	var jacket []int
	for i, r := range m.Regions {
		if r.Jacket {
			jacket = append(jacket, i)
		} else {
			inside = append(inside, i)
		}
	}
	log, err := s.solve(inside, true)
	if err != nil {
		return nil, s.found, err
	}
	for _, i := range jacket {
		r := s.regions[i]
		b := &s.set.Blocks[log]
		b.Elements = append(b.Elements, len(s.set.Elements))
		s.set.Elements = append(s.set.Elements, Element{Kind: Jacket, Colour: r.Colour, Block: log, True: r.Shape, Full: r.Shape, Fit: best(FitAll(r.Shape)), CopyOf: -1})
	}
	s.back()
	s.copies()
	s.number()
	err = s.judge()
	return s.set, s.found, err
}

// back turns everything out of the pose again.
func (s *splitter) back() {
	out := func(r region) region { return s.pose.moved(r, s.pose.out) }
	for i := range s.set.Elements {
		e := &s.set.Elements[i]
		e.True, e.Full = out(e.True), out(e.Full)
	}
	for i := range s.set.Blocks {
		b := &s.set.Blocks[i]
		b.Outline = out(b.Outline)
		for k, d := range b.Dirs {
			b.Dirs[k] = geom.Vec(s.pose.out(point(d)))
		}
	}
}

// best is the fit of highest overlap; the zero Fit when there is none.
func best(fits []Fit) Fit {
	var out Fit
	for _, f := range fits {
		if f.IoU > out.IoU {
			out = f
		}
	}
	return out
}

// number gives parts their numbers: block by block, in the order found.
func (s *splitter) number() {
	n := 0
	for i := range s.set.Elements {
		e := &s.set.Elements[i]
		if e.CopyOf < 0 {
			n++
			e.Number = n
		}
	}
	for i := range s.set.Elements {
		if e := &s.set.Elements[i]; e.CopyOf >= 0 {
			e.Number = s.set.Elements[e.CopyOf].Number
		}
	}
}

// judge states P3: parts below the least fit, of no form, or thinner than can be laid, each with its place. The split is ours, so the
// finding is about us.
func (s *splitter) judge() error {
	for _, e := range s.set.Elements {
		formless := e.Fit.A <= 0 || pinched(e.True) || e.Kind != Jacket && len(e.True) > 2
		if formless || e.Kind == Subject && e.Fit.IoU < s.shop.LeastFit {
			s.gaveUp(inside(e.True), fmt.Sprintf("no split was found here in which every part is near a form that hands make (best fit %.2f, %.2f needed)", e.Fit.IoU, s.shop.LeastFit))
			continue
		}
		bad, err := s.thin(e.True, e.Kind, e.Fit.Form)
		if err != nil {
			return err
		}
		if bad {
			s.gaveUp(inside(e.True), "the split that was found leaves a part here that is too thin to be laid")
		}
	}
	return nil
}

// gaveUp is a finding about us, with its place.
func (s *splitter) gaveUp(at point, message string) {
	s.found.Add(finding.Finding{Code: finding.SplitGaveUp, Severity: finding.Error, AtMM: (*[2]float64)(&at), Message: message,
		Suggestion: "this is a limit of the program, not a fault of the drawing; simpler outlines here would help it"})
}

// openSpare keeps a part off the limit by more than the flattening of the opening's arcs.
const openSpare = 0.01

// thin tells whether an element falls apart, or vanishes, when a disc of the thinnest is drawn through it; subject, too, when more than a
// tip of four thinnest is lost (DESIGN 5: ground may end in any point).
func (s *splitter) thin(r region, kind Kind, form Form) (bool, error) {
	need := s.shop.ThinnestMM
	switch {
	case kind == Ground || kind == Jacket:
		return false, nil
	case form == Bent || form == Wrap:
		need = s.shop.ThinnestWrapMM
	}
	if stout(r, need) || roomy(r, need) {
		return false, nil
	}
	o, err := skeleton.Open(r, need*(1+openSpare))
	if err != nil {
		return false, err
	}
	if o.Pieces != 1 {
		return true, nil
	}
	for _, p := range o.Left {
		if kind == Subject && p.Length > 4*need && p.Area > 1 {
			return true, nil
		}
	}
	return false, nil
}

// stout tells, quickly, that a region is far from thin: near its hull, wide, and without sharp corners. The opening of a convex region is
// in one piece; it does not vanish when the width is 1.5 times the disc's (the worst is the triangle of equal sides); a tip of a corner
// reaches r (1/sin(a/2) - 1) beyond the disc, four diameters at 13 degrees.
func stout(r region, need float64) bool {
	if len(r) != 1 {
		return false
	}
	hull := geom.Hull(r[0])
	if r.Area() < straightFill*hull.Area() || geom.SmallestRect(hull).Width < 2*need {
		return false
	}
	corners := geom.Thinned(hull, 0.3)
	for i, p := range corners {
		in := geom.Sub(p, corners[(i+len(corners)-1)%len(corners)])
		out := geom.Sub(corners[(i+1)%len(corners)], p)
		if math.Abs(math.Atan2(in.Cross(out), in.Dot(out))) > 160*math.Pi/180 {
			return false
		}
	}
	return true
}

// roomy tells, quickly, that nowhere along a region's border the way across is near the thinnest, but in tips: rays square to the border,
// half a thinnest apart, run 1.3 times the thinnest or end on the border close by, as they do in a corner.
func roomy(r region, need float64) bool {
	if len(r) != 1 || r.Perimeter() > 400*need {
		return false
	}
	c := cutter{r: region{geom.Thinned(r[0], 0.02)}}
	q := resampled(r[0], need/2)
	n := len(q)
	step := r.Perimeter() / float64(n)
	reach := int(4*need/step) + 1
	room := false
	for i := range q {
		t := geom.Sub(q[(i+1)%n], q[(i+n-1)%n]).Unit()
		far, d, ok := c.ray(geom.Add(q[i], t.Left(), 2e-3), t.Left())
		if !ok {
			continue
		}
		if d > 1.3*need {
			room = true
			continue
		}
		tip := false
		for j := -reach; j <= reach && !tip; j++ {
			tip = geom.Dist(q[((i+j)%n+n)%n], far) < step
		}
		if !tip {
			return false
		}
	}
	return room
}

// inside is a point of a region: its centroid when that lies inside, else the middle of the widest run of a level line.
func inside(r geom.Region[geom.TruePoint]) geom.TruePoint {
	c := geom.MomentsOf(r).Centroid
	if r.Contains(c) {
		return c
	}
	b := r.Bound()
	bestP, bestW := r[0][0], 0.0
	for i := 1; i < 16; i++ {
		y := b.Min[1] + (b.Max[1]-b.Min[1])*(float64(i)+0.137)/16.3
		var xs []float64
		for _, ring := range r {
			for j := range ring {
				p, q := ring[j], ring[(j+1)%len(ring)]
				if (p[1] > y) != (q[1] > y) {
					xs = append(xs, p[0]+(q[0]-p[0])*(y-p[1])/(q[1]-p[1]))
				}
			}
		}
		sort.Float64s(xs)
		for j := 0; j+1 < len(xs); j += 2 {
			if w := xs[j+1] - xs[j]; w > bestW {
				bestP, bestW = geom.TruePoint{(xs[j] + xs[j+1]) / 2, y}, w
			}
		}
	}
	return bestP
}

// Inside is a point inside an element's true polygon, for labels and findings.
func (e *Element) Inside() geom.TruePoint { return inside(e.True) }
