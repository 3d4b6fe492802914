// Package split splits the section into the parts that hands make: over-segmented by many straight cuts, then merged
// again while minutes are saved, whole classes of equal parts at once, and never so that a part can no longer be laid.
//
// Guarantees: elements are unions of cells of one arrangement, so they tile the log's polygon (P1) and keep to one
// colour each (P2). The result says whether it is proved over the cells that the candidate cuts leave, or how far from
// the bound it may be.
//
// References: the merge order and the penalties were tried on drawings whose split by a maker is known; forms are the
// trade's.
package split

import (
	"errors"
	"math"
	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/symmetry"
)

// splitter carries what all domains of one drawing share.
type splitter struct {
	m       *partition.Map
	pose    symmetry.Pose
	regions []partition.Region // of the map, in the pose
	shop    *shop.Shop
	log     Log
	set     *set.Set
	found   finding.List
	known   map[int][]*measured // by size
	sets    int                 // looked at by exhaustive searches
	even    bool                // only parts that keep the symmetry of what they lie in
}

// Log is what weighs in the price: how long the parts are made, and grams per cubic centimetre by colour.
type Log struct {
	LengthMM float64
	Density  func(colour int) float64
	NoBoxes  bool // figures in rows are not boxed: where boxes found no order
}

// Grams of a part of a square millimetres.
func (l Log) Grams(area float64, colour int) float64 {
	return area * l.Density(colour) * l.LengthMM / 1000
}

// Of finds the elements of a section. Findings of severity error mean that no set of makeable parts was found.
func Of(m *partition.Map, sh *shop.Shop, of Log) (*set.Set, finding.List, error) {
	return (&splitter{m: m, shop: sh, log: of}).elements()
}

// Even is Of with parts that keep the symmetry of what they lie in, though others be cheaper one by one: what repeats
// is built once.
func Even(m *partition.Map, sh *shop.Shop, of Log) (*set.Set, finding.List, error) {
	return (&splitter{m: m, shop: sh, log: of, even: true}).elements()
}

// elements of the section.
func (s *splitter) elements() (*set.Set, finding.List, error) {
	m, sh := s.m, s.shop
	s.set, s.known = &set.Set{Proved: true}, map[int][]*measured{}
	s.pose = symmetry.PoseOf(m.Regions)
	for _, r := range m.Regions {
		r.Shape = s.pose.Moved(r.Shape, s.pose.In)
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
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		return nil, append(s.found, much.Finding()), nil
	}
	if err != nil {
		return nil, nil, err
	}
	for _, i := range jacket {
		r := s.regions[i]
		b := &s.set.Blocks[log]
		b.Elements = append(b.Elements, len(s.set.Elements))
		s.set.Elements = append(
			s.set.Elements,
			set.Element{
				Kind:   set.Jacket,
				Colour: r.Colour,
				Block:  log,
				True:   r.Shape,
				Fit:    recipe.Best(r.Shape, true, sh.Least(), recipe.Quick),
				CopyOf: -1,
			},
		)
	}
	s.back()
	s.copies()
	s.set.Renumber()
	if err = s.judge(); err != nil || s.found.Refuses() { // the set may lack what no part could be made of
		return s.set, s.found, err
	}
	area := 0.0
	for _, r := range m.Regions {
		area += r.Area
	}
	return s.set, s.found, s.set.Check(area)
}

// back turns everything out of the pose again.
func (s *splitter) back() {
	out := func(r region) region { return s.pose.Moved(r, s.pose.Out) }
	for i := range s.set.Elements {
		e := &s.set.Elements[i]
		e.True = out(e.True)
		e.Fit = e.Fit.Moved(func(v geom.Vec) geom.Vec { return geom.Vec(s.pose.Out(point(v))) })
	}
	for i := range s.set.Blocks {
		b := &s.set.Blocks[i]
		b.Outline = out(b.Outline)
		for k, d := range b.Dirs {
			b.Dirs[k] = geom.Vec(s.pose.Out(point(d)))
		}
	}
}

// judge states P3: parts below the least fit, of no form, or thinner than can be laid, each with its place. The split
// is ours, so the finding is about us.
func (s *splitter) judge() error {
	for i, e := range s.set.Elements {
		closing := e.Kind == set.Jacket || e.Kind == set.Ground && e.Block == len(s.set.Blocks)-1
		if pinched(e.True) || e.Kind != set.Jacket && len(e.True) > 2 || e.Fit.Class == recipe.Refused && !closing {
			s.set.Refused = append(s.set.Refused, i)
			if math.IsInf(e.Fit.Misfit, 1) {
				s.gaveUp(geom.Inside(e.True), "die")
			} else {
				s.gaveUp(geom.Inside(e.True), "no_form", 100*e.Fit.Misfit, 100*recipe.Tuned.CloseMisfit)
			}
			continue
		}
		bad, err := s.thin(e.True, e.Kind, e.Fit, 0)
		if err != nil {
			return err
		}
		if bad {
			s.set.Refused = append(s.set.Refused, i)
			s.gaveUp(geom.Inside(e.True), "thin")
		}
	}
	return nil
}

// gaveUp is a finding about us, with its place.
func (s *splitter) gaveUp(at point, wording string, values ...any) {
	s.found.Add(finding.New(finding.SplitGaveUp, finding.Error, values...).In(wording).At(at))
}

// thin tells whether an element falls apart, or vanishes, when a disc of the thinnest is drawn through it; subject,
// too, when more than a tip of four thinnest is lost (DESIGN 5: ground may end in any point).
func (s *splitter) thin(r region, kind set.Kind, f recipe.Fit, spare float64) (bool, error) {
	need := s.shop.ThinnestMM
	switch {
	case kind == set.Ground || kind == set.Jacket:
		return false, nil
	case f.Bent() || f.Closed():
		need = s.shop.ThinnestWrapMM
	}
	if stout(r, need) || roomy(r, need) {
		return false, nil
	}
	o, err := skeleton.Open(r, need*(1+spare))
	if err != nil {
		return false, err
	}
	if o.Pieces != 1 {
		return true, nil
	}
	for _, p := range o.Left {
		if kind == set.Subject && p.Length > 4*need && p.Area > 1 {
			return true, nil
		}
	}
	return false, nil
}

type (
	point  = geom.TruePoint
	region = geom.Region[geom.TruePoint]
)
