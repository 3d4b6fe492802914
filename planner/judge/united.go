package judge

import (
	sf "github.com/peterstace/simplefeatures/geom"

	"sugarwright/geom"
)

// rounding closes what numbers of three decimals leave between two parts that share a border, millimetres; a twentieth
// of what hot parts yield when pressed past each other.
const rounding = 0.005

// united is the outline of parts that lie against each other, where their rounded borders no longer match point for
// point; ok is false when they are not one piece.
func united(parts []geom.Region[geom.TruePoint]) (out geom.Region[geom.TruePoint], ok bool) {
	defer func() {
		if x := recover(); x != nil { // the library panics where it should return an error
			ok = false
		}
	}()
	var all []sf.Geometry
	for _, r := range parts {
		var rings []sf.LineString
		for _, ring := range r {
			var xy []float64
			for _, p := range append(ring[:len(ring):len(ring)], ring[0]) {
				xy = append(xy, p[0], p[1])
			}
			rings = append(rings, sf.NewLineString(sf.NewSequence(xy, sf.DimXY)))
		}
		grown, err := sf.Buffer(sf.NewPolygon(rings).AsGeometry(), rounding)
		if err != nil {
			return nil, false
		}
		all = append(all, grown)
	}
	whole, err := sf.UnionMany(all)
	if err != nil {
		return nil, false
	}
	poly, ok := whole.AsPolygon()
	if !ok {
		return nil, false
	}
	for _, ring := range poly.ForceCCW().DumpRings() {
		s := ring.Coordinates()
		var pts geom.Ring[geom.TruePoint]
		for i := range s.Length() - 1 {
			xy := s.GetXY(i)
			pts = append(pts, geom.TruePoint{xy.X, xy.Y})
		}
		if len(out) == 0 || -pts.Area() > rounding {
			out = append(out, pts)
		}
	}
	return out, true
}
