package simplify

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/check"
)

// feature is something that could be taken out, and the minutes of work that it is guessed to save.
type feature struct {
	decision *decision
	saves    float64
	regions  []int // it and its neighbours
	price    float64
}

// once tells a feature from others of the same place.
func (f feature) once() [4]int {
	o := f.decision.options[0]
	k := f.decision.keys(o.kind)[0]
	return [4]int{int(k.Kind), k.X, k.Y, int(10 * o.cost)}
}

// features lists what could be taken out of the current map, least seen for the minutes that it saves first: groups of
// like regions, all of one colour, bays of outlines. More minutes than are needed do not count.
func (s *state) features(need float64, failed []geom.TruePoint, only bool) []feature {
	var all, out []feature
	groups := map[[3]int][]int{} // colour, size class -> regions
	var order [][3]int
	for i, r := range s.cur.Regions {
		if r.Jacket || s.outer(r) {
			continue
		}
		for _, k := range [][3]int{sizeClass(r), {r.Colour, -1, -1}} {
			if k[1] < 0 && r.Colour == 0 {
				continue
			}
			if groups[k] == nil {
				order = append(order, k)
			}
			groups[k] = append(groups[k], i)
		}
		if r.Colour != 0 {
			all = append(all, s.plainer(i)...)
			if only {
				all = append(all, s.spurs(i)...)
			}
			all = append(all, s.limbs(i)...)
		}
	}
	sets := s.sets()
	inSet := map[int]bool{}
	for _, set := range sets {
		set = slices.DeleteFunc(set, s.feature)
		if len(set) == 0 {
			continue
		}
		for _, i := range set {
			inSet[i] = true
		}
		if f, ok := s.givesWay(set); ok {
			all = append(all, f)
		}
		if f, ok := s.thinnedOut(set); ok {
			all = append(all, f)
		}
	}
	for _, k := range order {
		if k[1] >= 0 && slices.ContainsFunc(groups[k], func(i int) bool { return inSet[i] }) {
			continue // a set goes whole, or not
		}
		if k[1] >= 0 || len(groups[k]) > 1 {
			if f, ok := s.givesWay(groups[k]); ok {
				all = append(all, f)
			}
		}
	}
	if !s.evened {
		s.evened = true
		if f, ok := s.even(); ok {
			all = append(all, f)
		}
	}
	var failing []int
	for _, at := range failed {
		failing = append(failing, s.regionAt(at))
	}
	for _, f := range all {
		o := &f.decision.options[0]
		k := f.decision.keys(o.kind)
		if s.banned[f.once()] || refuses(s.refused, k) || f.saves <= 0 {
			continue
		}
		if !s.bold && o.cost > Tuned.MostSeen*s.subjectArea {
			continue
		}
		o.saves = f.saves / Tuned.GuessPerMin
		f.price = o.cost / min(f.saves, need)
		if slices.ContainsFunc(failing, func(i int) bool { return slices.Contains(f.regions, i) }) {
			f.price *= Tuned.NearFailed
		} else if only {
			continue
		}
		if f.saves < min(need, Tuned.LeastSaved)/4 {
			f.price *= 3 // nibbling
		}
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b feature) int { return cmp.Compare(a.price, b.price) })
	return out
}

// outer tells whether a region is the ground round the picture.
func (s *state) outer(r partition.Region) bool {
	return r.Colour == 0 && math.Hypot(r.Shape[0][0][0], r.Shape[0][0][1]) > s.m.Frame.PictureRadius
}

// sizeClass is the same for regions that may be copies of each other.
func sizeClass(r partition.Region) [3]int {
	return [3]int{r.Colour, int(math.Round(math.Log(r.Area) / math.Log(1+2*Tuned.Alike))), len(r.Shape)}
}

// givesWay is regions that take on the colour beside them that is seen least.
func (s *state) givesWay(regions []int) (feature, bool) {
	d := &decision{colour: s.cur.Regions[regions[0]].Colour}
	o := option{kind: Merged}
	f := feature{decision: d, saves: Tuned.MakeMin}
	for _, i := range regions {
		r := s.cur.Regions[i]
		p := place(r, i)
		near := s.neighbours(p)
		f.regions = append(f.regions, i)
		for _, n := range near {
			f.regions = append(f.regions, n.regions...)
		}
		all := total(near)
		best, cost := -1, math.Inf(1)
		for _, n := range near {
			if n.length < 0.15*all || len(near) > 1 && n.colour == d.colour {
				continue
			}
			kind := Merged
			if s.differ(d.colour, n.colour) > Tuned.MergedBelow {
				kind = Dropped
			}
			c := s.seen(r.Shape, r.Area, d.colour, n.colour, kind)
			if n.colour == 0 && slices.ContainsFunc(n.regions, func(i int) bool { return s.outer(s.cur.Regions[i]) }) {
				c *= Tuned.Silhouette
			}
			if r.Area > Tuned.LargeShare*s.subjectArea {
				c *= Tuned.Silhouette
			}
			// What keeps the border with the others is seen less than what moves it.
			if c *= 2 - n.length/all; c < cost {
				best, cost = n.colour, c
			}
		}
		if best < 0 {
			return f, false
		}
		if s.differ(d.colour, best) > Tuned.MergedBelow {
			o.kind = Dropped
		}
		o.to = best
		o.cost += cost
		own := d.colour
		o.coats = append(
			o.coats,
			partition.Coat{
				Shape:  []geom.Region[geom.TruePoint]{r.Shape},
				Over:   func(c int) bool { return c == own },
				Colour: best,
				Source: r.Source,
			},
		)
		d.places = append(d.places, p)
		f.saves += Tuned.LayMin + Tuned.BayMin*bays(r.Shape)
		if len(near) == 1 {
			f.saves += Tuned.IslandMin
		}
	}
	if o.kind == Dropped {
		if slices.ContainsFunc(regions, func(i int) bool { return s.sacred(i) || !s.bold && s.feature(i) }) {
			return f, false
		}
		o.cost += s.missed(regions)
	}
	d.options = []option{o}
	return f, true
}

// thinnedOut is a set of small spots of which about half stay, spread as the set is: what is typical of it.
func (s *state) thinnedOut(set []int) (feature, bool) {
	host, area := s.cur.Regions[s.beside(set[0])[0].regions[0]].Area, 0.0
	for _, i := range set {
		area += s.cur.Regions[i].Area
	}
	if len(set) < Tuned.ManySpots || area > Tuned.SpotsShare*host {
		return feature{}, false
	}
	keep := s.spread(set, (len(set)+1)/2)
	gone := slices.DeleteFunc(slices.Clone(set), func(i int) bool { return slices.Contains(keep, i) })
	f, ok := s.givesWay(gone)
	if ok {
		share := float64(len(gone)) / float64(len(set))
		f.decision.options[0].cost -= s.missed(gone) - s.missed(set)*share*share
		f.saves -= Tuned.MakeMin // of what stays
	}
	return f, ok
}

// spread are at least so many of a set that lie as far from each other as they can, each with its mirror image where it has
// one.
func (s *state) spread(set []int, n int) (keep []int) {
	at := func(i int) geom.TruePoint { return geom.MomentsOf(s.cur.Regions[i].Shape).Centroid }
	axis := 0.0
	for _, i := range set {
		axis += at(i)[0] / float64(len(set))
	}
	add := func(i int) {
		keep = append(keep, i)
		p := at(i)
		for _, k := range set {
			if !slices.Contains(keep, k) && geom.Dist(at(k), geom.TruePoint{2*axis - p[0], p[1]}) < Tuned.MirrorMM {
				keep = append(keep, k)
				return
			}
		}
	}
	far := func(i int) float64 {
		d := math.Inf(1)
		for _, k := range keep {
			d = min(d, geom.Dist(at(i), at(k)))
		}
		return d
	}
	first := slices.MinFunc(set, func(a, b int) int { return cmp.Compare(at(a)[1], at(b)[1]) })
	for add(first); len(keep) < n; {
		add(slices.MaxFunc(set, func(a, b int) int { return cmp.Compare(far(a), far(b)) }))
	}
	return keep
}

// place is a whole region.
func place(r partition.Region, i int) check.Place {
	return check.Place{
		Region: i,
		Shape:  r.Shape,
		At:     geom.MomentsOf(r.Shape).Centroid,
		Width:  2 * r.Area / r.Shape.Perimeter(),
		Whole:  true,
	}
}

// bays is how many half turns a region's outline makes inwards, seen to a third of a millimetre.
func bays(r geom.Region[geom.TruePoint]) float64 {
	sum := 0.0
	ring := geom.Thinned(r[0], 0.3)
	for i, p := range ring {
		a, b := geom.Sub(p, ring[(i+len(ring)-1)%len(ring)]), geom.Sub(ring[(i+1)%len(ring)], p)
		if t := math.Atan2(a.Cross(b), a.Dot(b)); t < 0 {
			sum -= t
		}
	}
	return sum / math.Pi
}

// plainMM are the radii to which outlines are made plainer: nothing smaller is formed by hand; tuned.
var plainMM = []float64{2.5, 5, 9}

// closed are the ways to make a region's outline plainer, kept by its outline.
func (e *engine) closed(r partition.Region) [][]geom.Region[geom.TruePoint] {
	key := check.Outline(r, false)
	if c, ok := e.plain[key]; ok {
		return c
	}
	var out [][]geom.Region[geom.TruePoint]
	for _, radius := range plainMM {
		c, err := skeleton.Closed(r.Shape, radius)
		if err == nil && len(c) == 1 && c[0].Area()-r.Area >= 1 {
			out = append(out, c)
		}
	}
	e.plain[key] = out
	return out
}

// plainer is a region's outline without bays, and without spurs, that a disc cannot enter.
func (s *state) plainer(i int) []feature {
	r := s.cur.Regions[i]
	before := bays(r.Shape)
	if before < 0.5 {
		return nil
	}
	var out []feature
	p := place(r, i)
	for _, closed := range s.closed(r) {
		more := closed[0].Area() - r.Area
		o := option{
			kind:  Plainer,
			to:    r.Colour,
			coats: []partition.Coat{{Shape: closed, Colour: r.Colour, Source: r.Source}},
		}
		near := s.neighbours(p)
		for _, n := range near {
			o.cost += more * s.differ(r.Colour, n.colour) * 1.5 * n.length / total(near)
		}
		d := &decision{places: []check.Place{p}, colour: r.Colour, options: []option{o}}
		f := feature{decision: d, saves: Tuned.BayMin * (before - bays(closed[0])), regions: []int{i}}
		for _, n := range near {
			f.regions = append(f.regions, n.regions...)
		}
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b feature) int {
		return cmp.Compare(a.decision.options[0].cost/a.saves, b.decision.options[0].cost/b.saves)
	})
	return out
}

// Guess is the minutes of work that a map is guessed to take beyond what every log takes.
func Guess(m *partition.Map) float64 {
	seen := map[[3]int]bool{}
	sum := 0.0
	for _, r := range m.Regions {
		if r.Jacket {
			continue
		}
		if c := sizeClass(r); !seen[c] {
			seen[c] = true
			sum += Tuned.MakeMin
		}
		sum += Tuned.LayMin + Tuned.BayMin*bays(r.Shape) + Tuned.IslandMin*float64(len(r.Shape)-1)
	}
	return sum
}
