package form

import (
	"sugarwright/geom"
)

// BendWay samples, for a strip-like region, the band of its own thickness outside it through which it is bent on, and
// points just under its inner side.
func BendWay(r geom.Region[geom.TruePoint]) (way, core []geom.TruePoint, ok bool) {
	c, ok := SidesOf(r)
	if !ok {
		return nil, nil, false
	}
	normal := func(line geom.Ring[geom.TruePoint], i int, away geom.Ring[geom.TruePoint]) geom.Vec {
		a, b := line[max(0, i-1)], line[min(len(line)-1, i+1)]
		n := geom.Sub(b, a).Unit().Left()
		if geom.LineDist(geom.Add(line[i], n, 0.3*c.Width), away) < geom.LineDist(geom.Add(line[i], n, -0.3*c.Width),
			away) {
			n = geom.Vec{-n[0], -n[1]}
		}
		return n
	}
	skip := int(c.Width / (geom.LineLength(c.Outer) / float64(len(c.Outer)))) // at its ends a strip may meet another
	for i := skip; i < len(c.Outer)-skip; i += 2 {
		n := normal(c.Outer, i, c.Inner)
		for _, t := range []float64{0.15, 0.4, 0.7, 1} {
			way = append(way, geom.Add(c.Outer[i], n, t*c.Width))
		}
	}
	for i := 0; i < len(c.Inner); i += 2 {
		core = append(core, geom.Add(c.Inner[i], normal(c.Inner, i, c.Outer), 0.1*c.Width))
	}
	return way, core, true
}
