// Package replay proves a build: from nothing, each part is moved to its place past all that is already there.
//
// Guarantees (P4): it shares no code with the search; sweeps are exact for polygons (vertex against edge, both ways),
// the moving part eroded by its give. A build that it accepts can be laid; what it rejects is named with the part and
// what it hits.
package replay

import (
	"fmt"
	"math"

	sf "github.com/peterstace/simplefeatures/geom"

	"sugarwright/geom"
	"sugarwright/planner/build"
)

// TrueGive and LaidGive are what hot parts yield when pressed past each other, millimetres (DESIGN 5).
const (
	TrueGive = 0.1
	LaidGive = 0.5
)

// Fault is the first thing that is wrong with a build.
type Fault struct {
	Block, Entry int
	Part         build.Part
	Direction    geom.Vec
	Hit          build.Part
	Text         string
}

func (f *Fault) Error() string {
	return fmt.Sprintf("block %d, move %d: %s", f.Block+1, f.Entry+1, f.Text)
}

// Shapes gives the polygon of an element or of a finished block.
type Shapes[P geom.Frame] func(build.Part) geom.Region[P]

// Prove lays every part of every block. It returns nil when all reach their places, as hands lay them, and what lies
// there stands after each move; else the first fault.
func Prove[P geom.Frame](b *build.Build, shapes Shapes[P], give float64) *Fault {
	return prove(b, shapes, give, true)
}

// Reaches proves that every part reaches its place, whatever it weighs.
func Reaches[P geom.Frame](b *build.Build, shapes Shapes[P], give float64) *Fault {
	return prove(b, shapes, give, false)
}

func prove[P geom.Frame](b *build.Build, shapes Shapes[P], give float64, weight bool) *Fault {
	for i, entries := range b.Blocks {
		if f := proveBlock(i, entries, shapes, give, weight); f != nil {
			return f
		}
	}
	return nil
}

type placed[P geom.Frame] struct {
	part  build.Part
	shape geom.Region[P]
}

func proveBlock[P geom.Frame](id int, entries []build.Entry, shapes Shapes[P], give float64, weight bool) *Fault {
	var there []placed[P]
	turned := 0.0
	for k, e := range entries {
		shape := shapes(e.Part)
		fault := func(hit build.Part, format string, a ...any) *Fault {
			return &Fault{id, k, e.Part, e.Direction, hit, fmt.Sprintf(format, a...)}
		}
		nothing := build.Part{Element: -1, Block: -1}
		turned += e.Turn
		if weight && e.Turn != 0 && k > 0 && !standing(there, turned) {
			return fault(nothing, "what is there falls apart when it is turned")
		}
		if weight {
			if why := weigh(e, shape, there, turned); why != "" {
				return fault(nothing, "%s", why)
			}
		}
		switch e.Move {
		case build.First:
			if k > 0 {
				return fault(nothing, "a first part among others")
			}
		case build.Lay:
			if hit, bad := sweep(shape, e.Direction, there, give); bad {
				return fault(hit, "the part cuts through what is there")
			}
		case build.Wrap:
			if hit, bad := outside(shape, there); bad {
				return fault(hit, "a wrap goes round only part of what is there")
			}
		case build.Bend, build.Fold:
			if hit, why := bend(shape, there); why != "" {
				return fault(hit, "%s", why)
			}
		case build.Roll:
			if why := roll(shape, there); why != "" {
				return fault(nothing, "%s", why)
			}
		default:
			return fault(nothing, "the move %v is not proved", e.Move)
		}
		for _, t := range there {
			if t.part == e.Part {
				return fault(t.part, "the part is laid twice")
			}
		}
		if there = append(there, placed[P]{e.Part, shape}); weight && !standing(there, turned) {
			return fault(nothing, "what is there then falls apart")
		}
	}
	return nil
}

// sweep tells whether the eroded shape, coming along d from far away, meets what is there. Shapes that lie apart first
// meet where a vertex of one runs onto an edge of the other.
func sweep[P geom.Frame](shape geom.Region[P], d geom.Vec, there []placed[P], give float64) (build.Part, bool) {
	moving := eroded(shape, give)
	for _, t := range there {
		for _, r := range moving {
			for _, v := range r.Points() {
				if rayHits(v, geom.Vec{-d[0], -d[1]}, t.shape) {
					return t.part, true
				}
			}
			for _, v := range t.shape.Points() {
				if rayHits(v, d, r) {
					return t.part, true
				}
			}
		}
	}
	return build.Part{}, false
}

// rayHits tells whether the ray from p along d crosses the border of r.
func rayHits[P geom.Frame](p P, d geom.Vec, r geom.Region[P]) bool {
	for _, ring := range r {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			ca, cb := d.Cross(geom.Sub(a, p)), d.Cross(geom.Sub(b, p))
			if (ca < 0) == (cb < 0) {
				continue
			}
			e := geom.Sub(b, a)
			if t := geom.Sub(a, p).Cross(e) / d.Cross(e); t > 1e-9 {
				return true
			}
		}
	}
	return false
}

// eroded is the shape taken in by w on all sides; it may fall into pieces or vanish.
func eroded[P geom.Frame](r geom.Region[P], w float64) []geom.Region[P] {
	g, err := toSF(r).AsGeometry(), error(nil)
	func() {
		defer func() {
			if x := recover(); x != nil { // the library panics where it should return an error
				err = fmt.Errorf("%v", x)
			}
		}()
		g, err = sf.Buffer(g, -w, sf.BufferSimplifyFactor(0), sf.BufferQuadSegments(4))
	}()
	if err != nil {
		return []geom.Region[P]{r} // uneroded: stricter, never laxer
	}
	return fromSF[P](g)
}

func toSF[P geom.Frame](r geom.Region[P]) sf.Polygon {
	rings := make([]sf.LineString, len(r))
	for i, ring := range r {
		xy := make([]float64, 0, 2*len(ring)+2)
		for _, p := range ring {
			xy = append(xy, p[0], p[1])
		}
		xy = append(xy, ring[0][0], ring[0][1])
		rings[i] = sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
	}
	return sf.NewPolygon(rings)
}

func fromSF[P geom.Frame](g sf.Geometry) []geom.Region[P] {
	var out []geom.Region[P]
	for _, part := range g.Dump() {
		poly, ok := part.AsPolygon()
		if !ok || poly.IsEmpty() {
			continue
		}
		poly = poly.ForceCCW()
		var r geom.Region[P]
		for _, ring := range poly.DumpRings() {
			s := ring.Coordinates()
			pts := make(geom.Ring[P], 0, s.Length())
			for i := 0; i+1 < s.Length(); i++ {
				xy := s.GetXY(i)
				pts = append(pts, P{xy.X, xy.Y})
			}
			r = append(r, pts)
		}
		out = append(out, r)
	}
	return out
}

// outside finds something there that does not lie in the wrap's hole.
func outside[P geom.Frame](shape geom.Region[P], there []placed[P]) (build.Part, bool) {
	if len(shape) < 2 {
		return build.Part{Element: -1, Block: -1}, true
	}
	for _, t := range there {
		in := false
		for _, h := range shape[1:] {
			n := 0
			ring := t.shape[0]
			for i := range ring {
				a, b := ring[i], ring[(i+1)%len(ring)]
				m := P{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
				if h.Contains(geom.Add(m, geom.Sub(b, a).Unit().Left(), 0.01)) {
					n++
				}
			}
			in = in || 2*n > len(ring)
		}
		if !in {
			return t.part, true
		}
	}
	return build.Part{}, false
}

// bend proves a strip bent on: the border that lies on what is there is one run, and from the rest of its long sides,
// outward, the way is open by its own thickness.
func bend[P geom.Frame](shape geom.Region[P], there []placed[P]) (build.Part, string) {
	nothing := build.Part{Element: -1, Block: -1}
	p, a := shape.Perimeter(), shape.Area()
	disc := p*p/16 - a
	if disc < 0 || len(shape) != 1 {
		return nothing, "what is bent is no strip"
	}
	thick := p/4 - math.Sqrt(disc)
	if a < 2*thick*thick {
		return nothing, "what is bent is no strip"
	}
	pts := walk(shape[0], thick/4)
	n := len(pts)
	touch := make([]bool, n)
	runs, covered := 0, 0
	var hitPart build.Part
	blocked := 0
	for i := range pts {
		out := geom.Sub(pts[(i+1)%n], pts[(i+n-1)%n]).Unit().Left()
		out = geom.Vec{-out[0], -out[1]}
		if at(geom.Add(pts[i], out, 0.15), there) != nothing {
			touch[i] = true
			covered++
			continue
		}
		for _, t := range []float64{0.3, 0.6, 0.95} {
			if h := at(geom.Add(pts[i], out, t*thick), there); h != nothing {
				hitPart = h
				blocked++
				break
			}
		}
	}
	// Short breaks are corners; they do not part a run.
	gap := int(math.Ceil(1.5 * thick / (p / float64(n))))
	for i := range touch {
		if !touch[i] || touch[(i+1)%n] {
			continue
		}
		end := true
		for j := 1; j <= gap; j++ {
			end = end && !touch[(i+j)%n]
		}
		if end {
			runs++
		}
	}
	switch {
	case covered*10 < n:
		return nothing, "a strip is bent over nothing"
	case covered*4 > 3*n: // one long side and both ends are less
		return nothing, "a bent strip is closed in from both sides"
	case runs > 1:
		return nothing, "a bent strip is closed in from more than one side"
	case blocked*10 > n: // its ends may meet another strip
		return hitPart, "the way to a bent strip is narrower than the strip"
	}
	return nothing, ""
}

// roll proves two sheets rolled up together: both are strips, the second lies against the first on most of both its
// sides, and nothing else is there yet.
func roll[P geom.Frame](shape geom.Region[P], there []placed[P]) string {
	if len(there) != 1 {
		return "sheets are rolled up before anything else is there"
	}
	first := there[0].shape
	for _, s := range []geom.Region[P]{shape, first} {
		p, a := s.Perimeter(), s.Area()
		disc := p*p/16 - a
		if len(s) != 1 || disc < 0 {
			return "what is rolled is no sheet"
		}
		if thick := p/4 - math.Sqrt(disc); a < 6*thick*thick {
			return "what is rolled is no sheet"
		}
	}
	pts := walk(shape[0], shape.Perimeter()/400)
	on := 0
	for i := range pts {
		out := geom.Sub(pts[(i+1)%len(pts)], pts[(i+len(pts)-1)%len(pts)]).Unit().Left()
		if first.Contains(geom.Add(pts[i], out, -0.15)) {
			on++
		}
	}
	if 3*on < 2*len(pts) { // a sheet that is only bent on touches with one side
		return "the sheets do not wind round each other"
	}
	return ""
}

func at[P geom.Frame](p P, there []placed[P]) build.Part {
	for _, t := range there {
		if t.shape.Contains(p) {
			return t.part
		}
	}
	return build.Part{Element: -1, Block: -1}
}

// walk lists border points no farther apart than step.
func walk[P geom.Frame](r geom.Ring[P], step float64) []P {
	var out []P
	for i := range r {
		a, b := r[i], r[(i+1)%len(r)]
		n := int(math.Ceil(geom.Dist(a, b) / step))
		for k := 0; k < n; k++ {
			out = append(out, geom.Add(a, geom.Sub(b, a), float64(k)/float64(n)))
		}
	}
	return out
}
