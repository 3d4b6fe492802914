package simplify

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/check"
)

// limbs lists groups of like limbs of a region that could be left out.
func (s *state) limbs(i int) []feature {
	r := s.cur.Regions[i]
	if r.Colour == 0 {
		return nil
	}
	ring := geom.Thinned(r.Shape[0], 0.15)
	n := len(ring)
	var corners []int
	for k, p := range ring {
		a, b := geom.Sub(p, ring[(k+n-1)%n]), geom.Sub(ring[(k+1)%n], p)
		if math.Atan2(a.Cross(b), a.Dot(b)) < -0.35 { // 20 degrees
			corners = append(corners, k)
		}
	}
	if len(corners) > Tuned.MostCorners {
		return nil
	}
	type limb struct {
		shape geom.Region[geom.TruePoint]
		area  float64
		root  float64
	}
	var all []limb
	for x, from := range corners {
		for _, to := range append(slices.Clone(corners[x+1:]), corners[:x]...) {
			root := geom.Dist(ring[from], ring[to])
			if root > Tuned.LimbRoot*s.shop.ThinnestMM || root < 0.5 {
				continue
			}
			var cut geom.Ring[geom.TruePoint]
			for k := from; ; k = (k + 1) % n {
				cut = append(cut, ring[k])
				if k == to {
					break
				}
			}
			area := cut.Area()
			mid := geom.Add(ring[from], geom.Sub(ring[to], ring[from]), 0.5)
			if area < root*root || area > Tuned.LimbShare*r.Area || !r.Shape.Contains(mid) {
				continue
			}
			all = append(all, limb{geom.Region[geom.TruePoint]{cut}, area, root})
		}
	}
	var out []feature
	for len(all) > 0 {
		first := all[0]
		var group []check.Place
		rest := all[:0:0]
		for _, l := range all {
			if math.Abs(l.area-first.area) <= Tuned.Alike*first.area &&
				math.Abs(l.root-first.root) <= Tuned.Alike*first.root+0.2 {
				group = append(group,
					check.Place{Region: i, Shape: l.shape, At: geom.MomentsOf(l.shape).Centroid, Width: l.root})
			} else {
				rest = append(rest, l)
			}
		}
		all = rest
		if f, ok := s.without(i, group); ok {
			f.saves = Tuned.MakeMin + (Tuned.LayMin+Tuned.BayMin)*float64(len(group))
			out = append(out, f)
		}
	}
	return out
}

// without is a region less some of its places, which take on what is beside them.
func (s *state) without(i int, places []check.Place) (feature, bool) {
	r := s.cur.Regions[i]
	own := r.Colour
	d := &decision{places: places, colour: own}
	o := option{kind: Dropped}
	f := feature{decision: d, regions: []int{i}}
	for _, p := range places {
		near := s.neighbours(p)
		if len(near) == 0 {
			return f, false
		}
		o.to = near[0].colour
		c := s.seen(p.Shape, p.Shape.Area(), own, o.to, Dropped)
		if slices.ContainsFunc(near[0].regions, func(i int) bool { return s.outer(s.cur.Regions[i]) }) {
			c *= Tuned.Silhouette
		}
		o.cost += c
		o.coats = append(
			o.coats,
			partition.Coat{
				Shape:  []geom.Region[geom.TruePoint]{p.Shape},
				Over:   func(c int) bool { return c == own },
				Colour: o.to,
				Source: r.Source,
			},
		)
		f.regions = append(f.regions, near[0].regions...)
	}
	d.options = []option{o}
	return f, len(places) > 0
}

// spurs is a region less what a disc of a radius does not reach, kept by its outline.
func (s *state) spurs(i int) []feature {
	r := s.cur.Regions[i]
	key := check.Outline(r, true)
	left, known := s.spur[key]
	if !known {
		for _, radius := range plainMM[:2] {
			open, err := skeleton.Open(r.Shape, 2*radius)
			if err != nil || open.Pieces == 0 {
				break
			}
			var places []check.Place
			for _, p := range open.Left {
				if p.Area > 2 {
					places = append(places, check.Place{Region: i, Shape: p.Shape, At: p.At, Width: p.Width})
				}
			}
			left = append(left, places)
		}
		s.spur[key] = left
	}
	var out []feature
	for _, places := range left {
		places = slices.Clone(places) // what is kept is shared between walks
		for k := range places {
			places[k].Region = i
		}
		if f, ok := s.without(i, places); ok {
			f.decision.options[0].kind = Plainer
			f.decision.options[0].cost *= 0.5 // what is rounded off is not gone
			f.saves = 0.5 * Tuned.BayMin * float64(len(places))
			out = append(out, f)
		}
	}
	return out
}
