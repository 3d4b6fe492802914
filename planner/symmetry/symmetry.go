// Package symmetry finds the motions that map a picture onto itself, and the pose in which a picture is split alike
// however it lies on its page.
//
// Guarantees: a motion is one only where every border, sampled every few millimetres, lands on a border of its own
// colour.
package symmetry

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
)

// Motion is a turn about a centre, after a mirroring in the level line through it when Mirror is set.
type Motion struct {
	Centre   point
	Cos, Sin float64
	Mirror   bool
}

func (m Motion) Of(p point) point {
	w := geom.Sub(p, m.Centre)
	if m.Mirror {
		w[1] = -w[1]
	}
	return geom.Add(m.Centre, geom.Vec{m.Cos*w[0] - m.Sin*w[1], m.Sin*w[0] + m.Cos*w[1]}, 1)
}

// mostFold is the highest order of turning symmetry looked for; common practice, no source: more than twelve equal
// parts are not laid.
const mostFold = 12

// Of lists the motions, other than rest, that map the pieces onto themselves, colour by colour (SPLITTING 2).
func Of(pieces []Coloured, log bool) []Motion {
	var subject []point
	for _, p := range pieces {
		if !log || p.Colour != 0 { // the ground is what the subject leaves
			subject = append(subject, p.Shape[0]...)
		}
	}
	if len(subject) < 3 {
		return nil
	}
	centre := geom.SmallestCircle(subject).Centre
	keeps := keeper(pieces, log)
	var out []Motion
	fold := 1
	for n := mostFold; n >= 2; n-- {
		if sin, cos := math.Sincos(2 * math.Pi / float64(n)); keeps(Motion{centre, cos, sin, false}) {
			fold = n
			break
		}
	}
	for k := 1; k < fold; k++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(fold))
		out = append(out, Motion{centre, cos, sin, false})
	}
	// A mirror line at angle a is the mirroring in the level line turned by 2a. Lines tried: level, upright, and
	// through the farthest points.
	tried := []float64{0, math.Pi / 2}
	far := 0.0
	for _, p := range subject {
		far = math.Max(far, geom.Dist(p, centre))
	}
	for _, p := range subject {
		if len(tried) < 26 && geom.Dist(p, centre) > far-0.1 {
			tried = append(tried, geom.Sub(p, centre).Angle())
		}
	}
	for _, a := range tried {
		sin, cos := math.Sincos(2 * a)
		m := Motion{centre, cos, sin, true}
		if !keeps(m) {
			continue
		}
		out = append(out, m)
		for k := 1; k < fold; k++ {
			sin, cos := math.Sincos(2*a + 2*math.Pi*float64(k)/float64(fold))
			out = append(out, Motion{centre, cos, sin, true})
		}
		break
	}
	return out
}

type (
	point  = geom.TruePoint
	region = geom.Region[geom.TruePoint]
)

// Coloured is a region of one colour.
type Coloured struct {
	Shape  region
	Colour int
}

// Mirrored tells whether a section is its own mirror image in some line.
func Mirrored(m *partition.Map) bool {
	return slices.ContainsFunc(ofMap(m), func(k Motion) bool { return k.Mirror })
}

// Fold is how many turns of a section, rest among them, map it onto itself.
func Fold(m *partition.Map) int {
	n := 1
	for _, k := range ofMap(m) {
		if !k.Mirror {
			n++
		}
	}
	return n
}

func ofMap(m *partition.Map) []Motion {
	var pieces []Coloured
	for _, r := range m.Regions {
		pieces = append(pieces, Coloured{r.Shape, r.Colour})
	}
	return Of(pieces, true)
}

// keeper tells of motions whether they map the pieces onto themselves, colour by colour.
func keeper(pieces []Coloured, log bool) func(Motion) bool {
	byColour := map[int][]geom.Ring[point]{}
	for _, p := range pieces {
		if log && p.Colour == 0 {
			continue
		}
		for _, ring := range p.Shape {
			byColour[p.Colour] = append(byColour[p.Colour], geom.Thinned(ring, 0.03))
		}
	}
	return func(m Motion) bool {
		for _, rings := range byColour {
			if !mapsOnto(rings, m) {
				return false
			}
		}
		return true
	}
}

// mapsOnto tells whether every moved point of the borders lies on some border of the same colour.
func mapsOnto(rings []geom.Ring[point], m Motion) bool {
	for _, r := range rings {
		for i, p := range r {
			v := geom.Sub(r[(i+1)%len(r)], p)
			n := int(v.Len()/Tuned.SampleMM) + 1
			for k := 0; k < n; k++ {
				if !OnAny(m.Of(geom.Add(p, v, float64(k)/float64(n))), rings, Tuned.ToleranceMM) {
					return false
				}
			}
		}
	}
	return true
}

// OnAny tells whether p lies within tol of some ring's border.
func OnAny(p point, rings []geom.Ring[point], tol float64) bool {
	for _, r := range rings {
		for i := range r {
			if geom.SegmentDist(p, r[i], r[(i+1)%len(r)]) <= tol {
				return true
			}
		}
	}
	return false
}
