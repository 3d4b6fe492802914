package skeleton

import (
	"fmt"

	sf "github.com/peterstace/simplefeatures/geom"

	"sugarwright/geom"
)

// Grow is a region with all that lies within dist of it, without its holes where they close. An error means that the
// library failed on it.
func Grow(r geom.Region[geom.TruePoint], dist float64) ([]geom.Region[geom.TruePoint], error) {
	return grown(polygon(r), dist)
}

// Closed is a region whose outer border has given up what a disc of radius dist cannot reach from outside; its holes
// stay.
func Closed(r geom.Region[geom.TruePoint], dist float64) ([]geom.Region[geom.TruePoint], error) {
	wide, err := grown(polygon(geom.Region[geom.TruePoint]{geom.Thinned(r[0], 0.03)}), dist)
	if err != nil {
		return nil, err
	}
	var out []geom.Region[geom.TruePoint]
	for _, w := range wide {
		back, err := grown(polygon(w.Filled()), -dist)
		if err != nil {
			return nil, err
		}
		for _, b := range back {
			if geom.MomentsOf(b).Area > 0 && w.Area() > 0 {
				out = append(out, append(b.Filled(), r[1:]...))
			}
		}
	}
	return out, nil
}

// Along is all that lies within dist of lines, which need not be closed. A line of one point gives a disc.
func Along(lines []geom.Ring[geom.TruePoint], dist float64) ([]geom.Region[geom.TruePoint], error) {
	var all []sf.Geometry
	for _, l := range lines {
		if len(l) == 1 {
			all = append(all, sf.NewPoint(sf.Coordinates{XY: sf.XY{X: l[0][0], Y: l[0][1]}}).AsGeometry())
		} else if len(l) > 1 {
			all = append(all, line(l).AsGeometry())
		}
	}
	return grown(sf.NewGeometryCollection(all).AsGeometry(), dist)
}

func grown(g sf.Geometry, dist float64) (out []geom.Region[geom.TruePoint], err error) {
	defer func() {
		if x := recover(); x != nil { // the library panics where it should return an error
			err = fmt.Errorf("growing: %v", x)
		}
	}()
	g, err = sf.Buffer(g, dist, arcs...)
	if err != nil {
		return nil, err
	}
	for _, part := range g.Dump() {
		if poly, ok := part.AsPolygon(); ok && !poly.IsEmpty() {
			out = append(out, region(poly))
		}
	}
	return out, nil
}

// region is the library's polygon as ours: outer ring counter-clockwise, holes clockwise.
func region(p sf.Polygon) geom.Region[geom.TruePoint] {
	rings := append([]sf.LineString{p.ExteriorRing()}, make([]sf.LineString, 0, p.NumInteriorRings())...)
	for i := range p.NumInteriorRings() {
		rings = append(rings, p.InteriorRingN(i))
	}
	out := make(geom.Region[geom.TruePoint], len(rings))
	for i, l := range rings {
		seq := l.Coordinates()
		ring := make(geom.Ring[geom.TruePoint], 0, seq.Length())
		for k := range seq.Length() - 1 {
			xy := seq.GetXY(k)
			ring = append(ring, geom.TruePoint{xy.X, xy.Y})
		}
		if (ring.Area() > 0) != (i == 0) {
			ring = ring.Reversed()
		}
		out[i] = ring
	}
	return out
}

// line is an open line in the library's type.
func line(pts geom.Ring[geom.TruePoint]) sf.LineString {
	xy := make([]float64, 0, 2*len(pts))
	for _, p := range pts {
		xy = append(xy, p[0], p[1])
	}
	return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
}

// Minus is what is left of a region without another.
func Minus(r, other geom.Region[geom.TruePoint]) (out []geom.Region[geom.TruePoint], err error) {
	defer func() {
		if x := recover(); x != nil {
			err = fmt.Errorf("difference: %v", x)
		}
	}()
	rest, err := sf.Difference(polygon(r), polygon(other))
	if err != nil {
		return nil, err
	}
	for _, part := range rest.Dump() {
		if poly, ok := part.AsPolygon(); ok && !poly.IsEmpty() {
			out = append(out, region(poly))
		}
	}
	return out, nil
}
