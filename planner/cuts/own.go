package cuts

import (
	"math"

	"sugarwright/geom"
)

// opened lists chords that cut a region at the deepest point of each pocket of its hull, square to the pocket's lid;
// and a line through each hole.
func Opened(r region, least float64) [][]point {
	c := &cutter{size: math.Sqrt(r.Area())}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, math.Min(0.02, least/2)))
	}
	var out [][]point
	for _, h := range r[1:] {
		c.line(1, geom.MomentsOf(region{h.Reversed()}).Centroid, geom.Vec{1, 0})
	}
	for _, k := range c.cuts {
		out = append(out, k.Lines()...)
	}
	ring := c.r[0]
	onHull := map[point]bool{}
	for _, p := range geom.Hull(ring) {
		onHull[p] = true
	}
	first := 0
	for first < len(ring) && !onHull[ring[first]] {
		first++
	}
	for i := 0; i < len(ring); {
		a := ring[(first+i)%len(ring)]
		j := i + 1
		for j < len(ring) && !onHull[ring[(first+j)%len(ring)]] {
			j++
		}
		b := ring[(first+j)%len(ring)]
		u := geom.Sub(b, a).Unit()
		deep, at := least, point{}
		for k := i + 1; k < j; k++ {
			p := ring[(first+k)%len(ring)]
			if e := u.Cross(geom.Sub(p, a)); e > deep {
				deep, at = e, p
			}
		}
		if deep > least {
			if q, _, ok := c.ray(at, u.Left()); ok {
				out = append(out, []point{at, q})
			}
		}
		i = j
	}
	return out
}

// halved cuts a region along its main axis: a convex part that another grips comes free in halves.
func Halved(r region) [][]point {
	c := &cutter{size: math.Sqrt(r.Area())}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, 0.02))
	}
	m := geom.MomentsOf(r)
	c.line(1, m.Centroid, m.Axis())
	c.line(1, m.Centroid, m.Axis().Left())
	var out [][]point
	for _, k := range c.cuts {
		out = append(out, k.Lines()...)
	}
	return out
}

// Across lists the chords in which a line through o along d crosses a region.
func Across(r region, o point, d geom.Vec) (out [][]point) {
	c := &cutter{size: math.Sqrt(r.Area())}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, 0.02))
	}
	c.line(1, o, d)
	for _, k := range c.cuts {
		out = append(out, k.Lines()...)
	}
	return out
}

// narrows lists chords across a region where its width falls below the thinnest: what is beyond is a slip by itself.
func Narrows(r region, need float64) [][]point {
	if r.Perimeter() > 400*need {
		return nil
	}
	c := &cutter{}
	for _, ring := range r {
		c.r = append(c.r, geom.Thinned(ring, 0.02))
	}
	var out [][]point
	for _, ring := range r {
		q := geom.Resampled(ring, need/3)
		n := len(q)
		was := math.Inf(1)
		for i := 0; i <= n; i++ {
			t := geom.Sub(q[(i+1)%n], q[(i+n-1)%n]).Unit()
			from := geom.Add(q[i%n], t.Left(), 2e-3)
			far, d, ok := c.ray(from, t.Left())
			if !ok {
				continue
			}
			if i > 0 && (d < 1.05*need) != (was < 1.05*need) && d < 2*need && was < 2*need {
				out = append(out, []point{c.snapTo(ring, q[i%n]), far})
			}
			was = d
		}
	}
	return out
}
