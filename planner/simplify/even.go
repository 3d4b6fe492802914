package simplify

import (
	"slices"

	"github.com/paulmach/orb"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/planner/check"
)

// even is the map with its right half made the mirror image of its left, where it nearly is: parts that differed a
// little become copies.
func (s *state) even() (feature, bool) {
	var box orb.Bound
	for i, r := range s.cur.Regions {
		if r.Colour == 0 || r.Jacket {
			continue
		}
		if b := r.Shape.Bound(); i == 0 || box.IsZero() {
			box = b
		} else {
			box = box.Union(b)
		}
	}
	axis, reach := box.Center()[0], s.m.Frame.LogRadius
	right := []geom.Region[geom.TruePoint]{{{{axis, -reach}, {reach, -reach}, {reach, reach}, {axis, reach}}}}
	o := option{kind: Even, coats: []partition.Coat{{Shape: right, Colour: 0}}}
	for _, r := range s.cur.Regions {
		if r.Jacket || s.outer(r) {
			continue
		}
		image := make(geom.Region[geom.TruePoint], len(r.Shape))
		for k, ring := range r.Shape {
			for _, p := range ring {
				image[k] = append(image[k], geom.TruePoint{2*axis - p[0], p[1]})
			}
			slices.Reverse(image[k])
		}
		o.coats = append(
			o.coats,
			partition.Coat{
				Shape:  []geom.Region[geom.TruePoint]{image},
				Within: right,
				Colour: r.Colour,
				Source: r.Source,
			},
		)
	}
	mirrored, turned, err := s.cur.Repaint(o.coats)
	if err != nil {
		return feature{}, false
	}
	area := 0.0
	for _, t := range turned {
		for _, piece := range t.Shape {
			a := piece.Area()
			area += a
			o.cost += s.seen(piece, a, t.From, t.To, Even)
		}
	}
	if area < Tuned.EvenFrom*s.subjectArea || area > Tuned.EvenTo*s.subjectArea {
		return feature{}, false
	}
	for _, r := range s.cur.Regions { // what has no image would be gone
		at := geom.Inside(r.Shape)
		if !r.Jacket && r.Area > Tuned.CrumbMM2 && !slices.ContainsFunc(mirrored.Regions, func(o partition.Region) bool { return o.Colour == r.Colour && o.Shape.Contains(at) }) {
			return feature{}, false
		}
	}
	d := &decision{places: []check.Place{{Shape: right[0], At: geom.TruePoint(box.Center())}}, options: []option{o}}
	var all []int
	for i := range s.cur.Regions {
		all = append(all, i)
	}
	return feature{decision: d, saves: Guess(s.cur) - Guess(mirrored), regions: all}, true
}
