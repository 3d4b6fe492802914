package partition

import (
	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// Coat is paint laid over a map, inside the picture circle.
type Coat struct {
	Shape  []geom.Region[geom.TruePoint] // nil: the whole picture
	Within []geom.Region[geom.TruePoint] // nil: everywhere
	Over   func(colour int) bool         // the colours that give way; nil: all
	Colour int
	Source finding.Source // of what is painted on unpainted ground
}

// Turned is area that a coat gave another colour than it has in the map. Where coats lie over each other, it is the
// last one's.
type Turned struct {
	Coat, From, To int
	Shape          []geom.Region[geom.TruePoint]
	Area           float64
}

// Repaint lays coats over the map, in order, and divides it anew: the same arrangement, slivers and checks as for an
// artwork. It also says what has another colour now. The error is a *TooMuch, or an internal one.
func (m *Map) Repaint(coats []Coat) (*Map, []Turned, error) {
	b := NewBuilder()
	f := m.Frame
	n := len(m.Regions)
	for i, r := range m.Regions {
		for _, ring := range r.Shape {
			b.Ring(i, snapRing(ring))
		}
	}
	circle := geom.Circle[geom.TruePoint]{Radius: f.PictureRadius}
	b.Ring(n, snapRing(circle.Polygon(geom.Sides(f.PictureRadius, min(f.FlattenMM, 0.02)))))
	for i, c := range coats {
		for k, shape := range [][]geom.Region[geom.TruePoint]{c.Shape, c.Within} {
			for _, r := range shape {
				for _, ring := range r {
					if ring = clipSquare(ring, f.LogRadius); len(ring) > 2 {
						b.Ring(n+1+2*i+k, snapRing(ring))
					}
				}
			}
		}
	}
	arr, err := b.Build()
	if err != nil {
		return nil, nil, err
	}
	if err := arr.Check(); err != nil {
		return nil, nil, err
	}
	cells, ids := make([]cellPaint, len(arr.Faces)), make([]int, len(arr.Faces))
	was, by := make([]int, len(arr.Faces)), make([]int, len(arr.Faces))
	arr.Windings(func(face int, wind, round []int32) {
		by[face] = -1
		region := -1
		for _, o := range round {
			if int(o) < n {
				region = int(o)
			}
		}
		if region < 0 {
			return
		}
		r := &m.Regions[region]
		cells[face], ids[face], was[face] = cellPaint{zone: 2, source: r.Source}, r.Colour, r.Colour
		if r.Jacket {
			cells[face].zone = 1
			return
		}
		if wind[n] == 0 {
			return
		}
		in := func(shape []geom.Region[geom.TruePoint], id int) bool {
			return shape == nil || id < len(wind) && wind[id] != 0
		}
		for i, c := range coats {
			if c.Colour != ids[face] && in(c.Shape, n+1+2*i) && in(c.Within, n+2+2*i) &&
				(c.Over == nil || c.Over(ids[face])) {
				ids[face], by[face] = c.Colour, i
				if cells[face].source.Line == 0 {
					cells[face].source = c.Source
				}
			}
		}
	})
	out := &Map{Frame: f, MergedDE: m.MergedDE}
	for _, c := range m.Colours {
		out.Colours = append(out.Colours, Colour{RGB: c.RGB})
	}
	var unsaid finding.List // slivers of a repainting are nobody's drawing
	out.slivers(arr, cells, ids, &unsaid)
	turned := turnedOf(arr, ids, was, by)
	out.dissolve(arr, cells, ids)
	for _, r := range out.Regions {
		out.Colours[r.Colour].Area += r.Area
	}
	return out, turned, out.Check()
}

// turnedOf gathers the faces that have another colour now, by coat and colours, in the order of coats.
func turnedOf(arr *Arrangement, ids, was, by []int) []Turned {
	type key struct{ coat, from, to int }
	faces := map[key][]int32{}
	var order []key
	for i := range arr.Faces {
		if ids[i] != was[i] {
			k := key{by[i], was[i], ids[i]}
			if faces[k] == nil {
				order = append(order, k)
			}
			faces[k] = append(faces[k], int32(i))
		}
	}
	var out []Turned
	for _, k := range order {
		in := make(map[int32]bool, len(faces[k]))
		area := int64(0)
		for _, f := range faces[k] {
			in[f] = true
			area += arr.Faces[f].Area2
		}
		shape := arr.Regions(arr.Union(func(f int32) bool { return in[f] }, faces[k]))
		out = append(out, Turned{k.coat, k.from, k.to, shape, float64(area) / 2 * Unit * Unit})
	}
	return out
}
