// Package repeats finds what lies in a block many times alike, turned about a centre, and makes of it a block of its
// own: built once, thicker than it is laid, drawn out to as many lengths, chopped, and laid as often.
//
// Guarantees: parts stay where and what they are; the set is changed only where minutes are saved and an order of the
// new blocks is proved by replay (P4).
//
// References: common practice, no source: petals, spokes and slices are built once and drawn out.
package repeats

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/layup"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/split"
)

type (
	point  = geom.TruePoint
	region = geom.Region[geom.TruePoint]
)

// Of makes blocks of what repeats, and takes what that saves off the set's price. Where nothing repeats, the set and its
// order are returned as they came.
func Of(of *set.Set, order *build.Build, sh *shop.Shop, log split.Log) (*set.Set, *build.Build, error) {
	for tries := 0; tries < Tuned.MostFold; {
		f := finder{of, sh, log}
		found := f.sectors()
		changed := false
		for _, s := range found {
			if tries++; tries > Tuned.MostFold {
				break
			}
			with := f.with(s)
			again, lost, err := layup.Proven(with)
			if err != nil {
				return nil, nil, err
			}
			if len(lost) == 0 {
				of, order, changed = with, again, true
				break
			}
		}
		if !changed {
			break
		}
	}
	finder{of, sh, log}.thicken()
	return of, order, nil
}

// finder looks for repeats in a set.
type finder struct {
	set  *set.Set
	shop *shop.Shop
	log  split.Log
}

// grams of an element.
func (f finder) grams(i int) float64 {
	e := f.set.Elements[i]
	return f.log.Grams(e.True.Area(), e.Colour)
}

// sector is what repeats: by place in the turn its parts, alike in the same place of each.
type sector struct {
	block   int
	parts   [][]int
	outline []region
	saves   float64
}

// sectors of all blocks that are worth it, that which saves most first.
func (f finder) sectors() (out []sector) {
	for b, blk := range f.set.Blocks {
		if blk.Roll {
			continue
		}
		for _, c := range f.centres(blk) {
			for n := Tuned.MostFold; n >= Tuned.LeastFold; n-- {
				out = append(out, f.grown(b, f.orbits(blk, c, n))...)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b sector) int {
		switch d := b.saves - a.saves; {
		case d > 1e-9:
			return 1
		case d < -1e-9:
			return -1
		}
		return 0
	})
	return out
}

// centres about which a block's parts may turn: the middle of each number of parts alike.
func (f finder) centres(blk set.Block) (out []point) {
	alike := map[int][]int{}
	for _, e := range blk.Elements {
		o := f.set.Origin(e)
		alike[o] = append(alike[o], e)
	}
	for _, e := range blk.Elements {
		group := alike[e]
		if len(group) < Tuned.LeastFold {
			continue
		}
		var sum geom.Vec
		for _, k := range group {
			at := middle(f.set.Elements[k].True)
			sum[0], sum[1] = sum[0]+at[0]/float64(len(group)), sum[1]+at[1]/float64(len(group))
		}
		c := point(sum)
		if !slices.ContainsFunc(out, func(o point) bool { return geom.Dist(o, c) < Tuned.OffMM }) {
			out = append(out, c)
		}
	}
	return out
}

func middle(r region) point { return geom.MomentsOf(r).Centroid }

// orbits are the parts that an n-th of a turn about a centre takes to parts alike, n to each, in their order round it.
func (f finder) orbits(blk set.Block, c point, n int) (out [][]int) {
	sin, cos := math.Sincos(2 * math.Pi / float64(n))
	turned := func(p point) point {
		w := geom.Sub(p, c)
		return geom.Add(c, geom.Vec{cos*w[0] - sin*w[1], sin*w[0] + cos*w[1]}, 1)
	}
	image := map[int]int{}
	for _, e := range blk.Elements {
		r := geom.Map(f.set.Elements[e].True, turned)
		for _, k := range blk.Elements {
			if f.set.Origin(k) == f.set.Origin(e) && near(r, f.set.Elements[k].True) {
				image[e] = k
				break
			}
		}
	}
	seen := map[int]bool{}
	for _, e := range blk.Elements {
		var orbit []int
		for k, ok := e, true; ok && !seen[k] && len(orbit) <= n; k, ok = image[k] {
			seen[k] = true
			orbit = append(orbit, k)
		}
		if len(orbit) == n && image[orbit[n-1]] == e {
			out = append(out, orbit)
		}
	}
	return out
}

// near tells whether two outlines lie on each other.
func near(a, b region) bool {
	if geom.Dist(middle(a), middle(b)) > Tuned.OffMM {
		return false
	}
	for _, ring := range a {
		for _, p := range ring {
			on := false
			for _, r := range b {
				on = on || geom.LineDist(p, append(slices.Clone(r), r[0])) < Tuned.OffMM
			}
			if !on {
				return false
			}
		}
	}
	return true
}

// grown are the sectors that begin with the first part of some orbit and take on, one after the other, the part of
// another orbit along which they have the longest border.
func (f finder) grown(block int, orbits [][]int) (out []sector) {
	if len(orbits) < 2 {
		return nil
	}
	for first := range orbits {
		s := sector{block: block}
		for _, e := range orbits[first] {
			s.parts = append(s.parts, []int{e})
		}
		used := map[int]bool{first: true}
		for len(s.parts[0]) < min(Tuned.MostParts, len(orbits)) {
			best, at, long := -1, 0, Tuned.SeamMM
			for o, orbit := range orbits {
				if used[o] {
					continue
				}
				for k, e := range orbit {
					seam := 0.0
					for _, own := range s.parts[0] {
						seam += shared(f.set.Elements[own].True, f.set.Elements[e].True)
					}
					if seam > long {
						best, at, long = o, k, seam
					}
				}
			}
			if best < 0 {
				break
			}
			used[best] = true
			s.parts = slices.Clone(s.parts)
			for k := range s.parts {
				orbit := orbits[best]
				s.parts[k] = append(s.parts[k][:len(s.parts[k]):len(s.parts[k])], orbit[(at+k)%len(orbit)])
			}
			if t, ok := f.worth(s); ok {
				out = append(out, t)
			}
		}
	}
	return out
}

// shared is the length of the border that two parts of one block have in common.
func shared(a, b region) (sum float64) {
	edges := map[[2]point]bool{}
	for _, r := range b {
		for i, p := range r {
			edges[[2]point{r[(i+1)%len(r)], p}] = true
		}
	}
	for _, r := range a {
		for i, p := range r {
			if q := r[(i+1)%len(r)]; edges[[2]point{p, q}] {
				sum += geom.Dist(p, q)
			}
		}
	}
	return sum
}

// worth tells whether a sector can be drawn out and saves minutes, and completes it.
func (f finder) worth(s sector) (sector, bool) {
	n := len(s.parts)
	s.outline = nil
	for _, parts := range s.parts {
		var rs []region
		for _, e := range parts {
			rs = append(rs, f.set.Elements[e].True)
		}
		r, ok := geom.Joined(rs...)
		if !ok || len(r) > 1 {
			return s, false
		}
		s.outline = append(s.outline, r)
	}
	each := 0.0
	for _, e := range s.parts[0] {
		each += f.grams(e)
	}
	if !drawable(s.outline[0], n, each*float64(n)) {
		return s, false
	}
	m := f.shop.Minutes
	s.saves = -m.DrawnOut(n) - float64(n)*(m.Chop+m.Lay+m.LayKg*each/1000)
	b := len(s.parts[0]) // laid once each, then n blocks, for b n
	s.saves += split.Tuned.LaidOverhead * float64(b*n-b-n)
	kinds := map[int]bool{}
	for _, e := range s.parts[0] {
		el, o := f.set.Elements[e], f.set.Origin(e)
		s.saves += float64(n-1) * m.Place(el.Fit, f.grams(e))
		if kinds[o] {
			continue
		}
		kinds[o] = true
		switch rest := f.elsewhere(o, s.parts); rest {
		case 0:
			s.saves += m.Chop * float64(n)
		case 1:
			return s, false // what has no copies takes its sizes from the laid shape
		default: // what is made thicker serves nowhere else: the rest is one kind more
			s.saves -= m.Make(el.Fit.Recipe, 0, 0, 1) + split.Tuned.DistinctOverhead
		}
	}
	return s, s.saves >= Tuned.SavesMin
}

// elsewhere counts the parts alike with one that are not among some.
func (f finder) elsewhere(origin int, parts [][]int) (n int) {
	in := slices.Concat(parts...)
	for i := range f.set.Elements {
		if f.set.Origin(i) == origin && !slices.Contains(in, i) {
			n++
		}
	}
	return n
}

// drawable tells whether a block of this section, that weighs so much with all its lengths, keeps its shape when it is
// drawn out to n of them.
func drawable(r region, n int, grams float64) bool {
	hull := geom.Hull(r[0])
	narrow, wide := geom.Widths(hull)
	return grams >= Tuned.LeastG && grams <= Tuned.MostG && n <= Tuned.MostFold && wide <= Tuned.Aspect*narrow &&
		narrow*math.Sqrt(float64(n)) >= Tuned.LeastMM && r.Area() >= Tuned.Solid*hull.Area()
}
