package simplify

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/check"
)

// offer lists what may be done about a decision's places, cheapest first; what is refused or leads nowhere is left out.
func (s *state) offer(d *decision) {
	var drop, halves, grow option
	drop.kind, halves.kind, grow.kind = Dropped, Dropped, Bolder
	if d.places[0].Code == finding.TooSmall {
		grow.kind = Larger
	}
	twoSided := true
	for _, p := range d.places {
		near := s.neighbours(p)
		if len(near) == 0 {
			return
		}
		area := p.Shape.Area()
		// Give way to the neighbour that shares most of the border, or half to it and half to the next.
		a := near[0]
		within := []geom.Region[geom.TruePoint]{p.Shape}
		only := func(c int) bool { return c == d.colour }
		src := s.cur.Regions[p.Region].Source
		whole := partition.Coat{Shape: within, Over: only, Colour: a.colour, Source: src}
		drop.coats, drop.to = append(drop.coats, whole), a.colour
		drop.cost += s.weight / dropWeights[0] * s.seen(p.Shape, area, d.colour, a.colour, Dropped)
		if len(near) > 1 && near[1].length > 0.2*a.length {
			halves.coats = append(halves.coats, whole)
			for _, b := range near[1:] {
				along, err := skeleton.Along(b.lines, 0.5*p.Width+0.05)
				if err == nil {
					halves.coats = append(
						halves.coats,
						partition.Coat{
							Shape:  along,
							Within: within,
							Over:   func(c int) bool { return c == a.colour },
							Colour: b.colour,
							Source: src,
						},
					)
				}
			}
			halves.to = a.colour
			halves.cost += s.weight / dropWeights[0] * s.seen(p.Shape, area, d.colour, a.colour, Dropped)
		} else {
			twoSided = false
		}
		// Grow to what is needed, over whatever is beside it.
		var shape []geom.Region[geom.TruePoint]
		var err error
		if grow.kind == Larger {
			grow.after = p.Need + Tuned.SpareMM
			shape, err = skeleton.Grow(p.Shape, (grow.after-p.Width)/2)
		} else {
			grow.after = p.Need + Tuned.SpareMM
			lines := skeleton.Middle(s.cur.Regions[p.Region].Shape, within, grow.after)
			for i := range lines {
				lines[i] = thinned(lines[i])
			}
			shape, err = skeleton.Along(lines, grow.after/2)
		}
		if err != nil || len(shape) == 0 {
			grow.coats, grow.cost = nil, math.Inf(1)
			continue
		}
		more := -area
		for _, r := range shape {
			more += r.Area()
		}
		grow.coats = append(grow.coats, partition.Coat{Shape: shape, Colour: d.colour, Source: src})
		for _, n := range near {
			grow.cost += s.seen(p.Shape, max(0, more)*n.length/total(near), n.colour, d.colour, grow.kind)
		}
	}
	if whole := wholes(d.places); len(whole) > 0 {
		missed := s.missed(whole)
		drop.cost, halves.cost = drop.cost+missed, halves.cost+missed
	}
	if n, ok := s.outlineOf(d.places); ok { // all of it or nothing
		halves.coats = nil
		if drop = (option{}); !s.onlyLines(s.outlines) {
			drop = s.erased(n.narrow, n.colour)
		}
	}
	for _, o := range []option{grow, drop, halves} {
		if len(o.coats) == 0 || math.IsInf(o.cost, 1) || refuses(s.refused, d.keys(o.kind)) {
			continue
		}
		if o.kind == Dropped {
			o.saves = (Tuned.MakeMin + Tuned.LayMin*float64(len(d.places))) / Tuned.GuessPerMin
		}
		d.options = append(d.options, o)
	}
	if !twoSided {
		d.options = slices.DeleteFunc(d.options,
			func(o option) bool { return o.kind == Dropped && len(o.coats) > len(d.places) })
	}
	slices.SortStableFunc(d.options, func(a, b option) int { return cmp.Compare(a.cost, b.cost) })
}

// outlineOf is the outline that places belong to.
func (s *state) outlineOf(places []check.Place) (network, bool) {
	for _, n := range s.outlines {
		if slices.Contains(n.regions, places[0].Region) {
			return n, true
		}
	}
	return network{}, false
}

// wholes are the regions of places that are all of their region.
func wholes(places []check.Place) (out []int) {
	for _, p := range places {
		if p.Whole {
			out = append(out, p.Region)
		}
	}
	return out
}

// thinned leaves out points of an open line that lie within a twentieth of a millimetre of it.
func thinned(l geom.Ring[geom.TruePoint]) geom.Ring[geom.TruePoint] {
	if len(l) < 3 {
		return l
	}
	keep := make([]bool, len(l))
	keep[0], keep[len(l)-1] = true, true
	var walk func(lo, hi int)
	walk = func(lo, hi int) {
		worst, at := 0.05, -1
		for i := lo + 1; i < hi; i++ {
			if d := geom.SegmentDist(l[i], l[lo], l[hi]); d > worst {
				worst, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			walk(lo, at)
			walk(at, hi)
		}
	}
	walk(0, len(l)-1)
	var out geom.Ring[geom.TruePoint]
	for i, p := range l {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// neighbour is a colour beside a place, and the lines along which they touch.
type neighbour struct {
	colour  int
	length  float64
	lines   []geom.Ring[geom.TruePoint]
	regions []int
}

func total(near []neighbour) float64 {
	sum := 0.0
	for _, n := range near {
		sum += n.length
	}
	return sum
}

// neighbours lists the colours other than its own that a place borders on, longest border first.
func (s *state) neighbours(p check.Place) []neighbour {
	own := s.cur.Regions[p.Region].Colour
	var out []neighbour
	for _, ring := range p.Shape {
		last := -1
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			d := geom.Sub(b, a)
			mid := geom.Add(geom.Add(a, d, 0.5), d.Unit().Left(), -Tuned.OutsideMM)
			region := s.regionAt(mid)
			c := -1
			if region >= 0 {
				c = s.cur.Regions[region].Colour
			}
			if c < 0 || c == own {
				last = -1
				continue
			}
			k := slices.IndexFunc(out, func(n neighbour) bool { return n.colour == c })
			if k < 0 {
				k = len(out)
				out = append(out, neighbour{colour: c})
			}
			out[k].length += d.Len()
			if !slices.Contains(out[k].regions, region) {
				out[k].regions = append(out[k].regions, region)
			}
			if last == c {
				l := len(out[k].lines) - 1
				out[k].lines[l] = append(out[k].lines[l], b)
			} else {
				out[k].lines = append(out[k].lines, geom.Ring[geom.TruePoint]{a, b})
			}
			last = c
		}
	}
	slices.SortStableFunc(out, func(a, b neighbour) int { return cmp.Compare(b.length, a.length) })
	return out
}

// regionAt is the region that holds a point, -1 outside the picture circle and in the jacket.
func (s *state) regionAt(p geom.TruePoint) int {
	if math.Hypot(p[0], p[1]) > s.m.Frame.PictureRadius {
		return -1
	}
	if s.boxesOf != s.cur {
		s.boxesOf, s.boxes = s.cur, s.boxes[:0]
		for _, r := range s.cur.Regions {
			s.boxes = append(s.boxes, r.Shape.Bound())
		}
	}
	for i, r := range s.cur.Regions {
		if b := s.boxes[i]; !r.Jacket && p[0] >= b.Min[0] && p[0] <= b.Max[0] && p[1] >= b.Min[1] && p[1] <= b.Max[1] &&
			r.Shape.Contains(p) {
			return i
		}
	}
	return -1
}
