// Package skeleton measures how thick regions are.
//
// Guarantees: the opening test is certain up to the flattening of its arcs (8 to a quarter turn): what a disc of the
// given width cannot reach is reported with its place, and nothing else is.
//
// References: Cabiddu & Attene 2017 (thin by opening, the complement alike).
package skeleton

import (
	"fmt"
	"math"
	"sort"

	sf "github.com/peterstace/simplefeatures/geom"

	"sugarwright/geom"
)

// Place is a part of a region that a disc cannot reach.
type Place struct {
	At     geom.TruePoint
	Width  float64 // 2 area / perimeter: the mean width of the place
	Length float64
	Area   float64
	Shape  geom.Region[geom.TruePoint]
}

// Opened is what a disc of a width can reach: the pieces that remain, and the places that do not.
type Opened struct {
	Pieces int
	Left   []Place
}

// Open tests a region by a disc of the given width. An error means that the library failed on it.
func Open(r geom.Region[geom.TruePoint], width float64) (o Opened, err error) {
	defer func() {
		if x := recover(); x != nil { // the library panics where it should return an error
			err = fmt.Errorf("opening: %v", x)
		}
	}()
	g := polygon(r)
	in, err := sf.Buffer(g, -width/2, arcs...)
	if err != nil {
		return o, err
	}
	in = sound(in, r, width/2)
	// A hundredth more, so that flattened arcs do not leave slivers along the border.
	out, err := sf.Buffer(in, width/2+0.01, arcs...)
	if err != nil {
		return o, err
	}
	rest := g
	if !out.IsEmpty() {
		o.Pieces = len(out.Dump())
		rest, err = sf.Difference(g, out)
	}
	if err != nil {
		return o, err
	}
	for _, part := range rest.Dump() {
		poly, ok := part.AsPolygon()
		if !ok || poly.IsEmpty() {
			continue
		}
		c, _ := poly.PointOnSurface().XY()
		env := poly.Envelope()
		lo, _ := env.Min().XY()
		hi, _ := env.Max().XY()
		o.Left = append(o.Left, Place{geom.TruePoint{c.X, c.Y}, 2 * poly.Area() / poly.Boundary().Length(),
			math.Hypot(hi.X-lo.X, hi.Y-lo.Y), poly.Area(), region(poly)})
	}
	sort.SliceStable(o.Left, func(i, j int) bool { return o.Left[i].Area > o.Left[j].Area })
	return o, nil
}

// arcs: eight to a quarter turn, and no vertex left out.
var arcs = []sf.BufferOption{sf.BufferSimplifyFactor(0), sf.BufferQuadSegments(8)}

// sound drops what an erosion leaves by mistake: a ring taken in by more than it has may come out inverted. A true
// piece keeps its distance from the border.
func sound(in sf.Geometry, r geom.Region[geom.TruePoint], dist float64) sf.Geometry {
	var keep []sf.Polygon
	for _, part := range in.Dump() {
		poly, ok := part.AsPolygon()
		if !ok || poly.IsEmpty() {
			continue
		}
		xy := poly.ExteriorRing().Coordinates().GetXY(0)
		p := geom.TruePoint{xy.X, xy.Y}
		if r.Contains(p) && borderDist(r, p) > 0.97*dist {
			keep = append(keep, poly)
		}
	}
	return sf.NewMultiPolygon(keep).AsGeometry()
}

func borderDist(r geom.Region[geom.TruePoint], p geom.TruePoint) float64 {
	d := math.Inf(1)
	for _, ring := range r {
		for i := range ring {
			d = math.Min(d, geom.SegmentDist(p, ring[i], ring[(i+1)%len(ring)]))
		}
	}
	return d
}

func polygon(r geom.Region[geom.TruePoint]) sf.Geometry {
	rings := make([]sf.LineString, len(r))
	for i, ring := range r {
		xy := make([]float64, 0, 2*len(ring)+2)
		for _, p := range ring {
			xy = append(xy, p[0], p[1])
		}
		rings[i] = sf.NewLineString(sf.NewSequence(append(xy, ring[0][0], ring[0][1]), sf.DimXY))
	}
	return sf.NewPolygon(rings).AsGeometry()
}
