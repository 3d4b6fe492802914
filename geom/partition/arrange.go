package partition

import (
	"slices"
	"sort"
	"sugarwright/geom/finding"

	"sugarwright/geom"
)

// Half is a directed half of an edge. Its face lies on its left. Twin of half i is i^1.
type Half struct {
	From, To int32
	Next     int32
	Face     int32
}

// Face is one cell of the plane. Face 0 is the outside.
type Face struct {
	Loops []int32 // a half-edge on each border loop; the outer one first, except for face 0
	Area2 int64   // twice the area in square units; 0 for the outside
}

// Arrangement is the plane cut by all outlines.
type Arrangement struct {
	Verts    []Point
	Halves   []Half
	Faces    []Face
	shares   [][]share // by edge, for the half with even index
	comps    int
	outlines int // one more than the highest outline
}

// Builder collects outlines and cutting lines on the grid.
type Builder struct {
	n        noder
	outlines int
}

// NewBuilder starts an arrangement.
func NewBuilder() *Builder { return &Builder{} }

// Ring adds a closed ring of an outline.
func (b *Builder) Ring(outline int, ring []Point) {
	b.outlines = max(b.outlines, outline+1)
	first := int32(len(b.n.pts))
	for i, p := range ring {
		if v := b.n.vertex(p); i > 0 {
			b.n.add(v-1, v, int32(outline), 1)
		}
	}
	if len(ring) > 1 {
		b.n.add(int32(len(b.n.pts)-1), first, int32(outline), 1)
	}
}

// Line adds an open line that only cuts.
func (b *Builder) Line(pts []Point) {
	for i, p := range pts {
		if v := b.n.vertex(p); i > 0 {
			b.n.add(v-1, v, 0, 0)
		}
	}
}

// Build nodes everything and finds the faces.
func (b *Builder) Build() (*Arrangement, error) {
	for _, p := range b.n.pts {
		if abs(p.X) > Limit || abs(p.Y) > Limit {
			return nil, &TooMuch{Bound: "grid"}
		}
	}
	if err := b.n.run(); err != nil {
		return nil, err
	}
	a := &Arrangement{outlines: b.outlines}
	a.take(&b.n)
	a.link()
	return a, a.trace()
}

// take renumbers the vertices in use and makes the half-edges.
func (a *Arrangement) take(n *noder) {
	id := make([]int32, len(n.pts))
	for _, e := range n.edges {
		id[e.a], id[e.b] = 1, 1
	}
	for i, p := range n.pts {
		if id[i] > 0 {
			id[i] = int32(len(a.Verts))
			a.Verts = append(a.Verts, p)
		}
	}
	for _, e := range n.edges {
		u, v := id[e.a], id[e.b]
		a.Halves = append(a.Halves, Half{u, v, -1, -1}, Half{v, u, -1, -1})
		a.shares = append(a.shares, e.shares)
	}
}

// link sorts the halves round each vertex by angle, exactly, and joins them into loops with the face on the left.
func (a *Arrangement) link() {
	out := make([][]int32, len(a.Verts))
	for i, h := range a.Halves {
		out[h.From] = append(out[h.From], int32(i))
	}
	upper := func(d Point) bool { return d.Y > 0 || d.Y == 0 && d.X > 0 }
	for _, hs := range out {
		slices.SortFunc(hs, func(i, j int32) int {
			d := a.dir(i)
			e := a.dir(j)
			if upper(d) != upper(e) {
				if upper(d) {
					return -1
				}
				return 1
			}
			switch c := cross(d, e); {
			case c > 0:
				return -1
			case c < 0:
				return 1
			}
			return int(i - j)
		})
		for k, h := range hs { // arriving by h's twin, the next is the one clockwise of h
			a.Halves[h^1].Next = hs[(k+len(hs)-1)%len(hs)]
		}
	}
}

func (a *Arrangement) dir(h int32) Point {
	return a.Verts[a.Halves[h].To].sub(a.Verts[a.Halves[h].From])
}

// trace walks the loops: counter-clockwise ones are faces; clockwise ones are outer borders of components, given to the
// face that holds them.
func (a *Arrangement) trace() error {
	loop := make([]int32, len(a.Halves))
	for i := range loop {
		loop[i] = -1
	}
	type border struct {
		start int32
		left  Point // lowest vertex
		halfL int32
	}
	a.Faces = []Face{{}}
	faceOf := []int32{} // by loop
	var outer []border
	for i := range a.Halves {
		if loop[i] >= 0 {
			continue
		}
		id := int32(len(faceOf))
		var area int64
		b := border{start: int32(i), left: a.Verts[a.Halves[i].From], halfL: int32(i)}
		for h := int32(i); loop[h] < 0; h = a.Halves[h].Next {
			loop[h] = id
			p, q := a.Verts[a.Halves[h].From], a.Verts[a.Halves[h].To]
			area += cross(p, q)
			if less(p, b.left) {
				b.left, b.halfL = p, h
			}
		}
		if area > 0 {
			faceOf = append(faceOf, int32(len(a.Faces)))
			a.Faces = append(a.Faces, Face{[]int32{b.start}, area})
		} else {
			faceOf = append(faceOf, -1)
			outer = append(outer, b)
		}
	}
	a.comps = len(outer)
	sort.Slice(outer, func(i, j int) bool { return less(outer[i].left, outer[j].left) })
	edges := make([]edge, len(a.Halves)/2)
	for i := range edges {
		edges[i] = edge{a: a.Halves[2*i].From, b: a.Halves[2*i].To}
	}
	g := newBuckets(a.Verts, edges)
	for _, b := range outer {
		f := int32(0)
		if h := a.leftOf(g, b.left); h >= 0 {
			f = faceOf[loop[h]]
			if f < 0 {
				return finding.Impossible("a component inside one not yet placed")
			}
		}
		faceOf[loop[b.start]] = f
		a.Faces[f].Loops = append(a.Faces[f].Loops, b.start)
		if f > 0 {
			h := b.start
			for {
				a.Faces[f].Area2 += cross(a.Verts[a.Halves[h].From], a.Verts[a.Halves[h].To])
				if h = a.Halves[h].Next; h == b.start {
					break
				}
			}
		}
	}
	for i := range a.Halves {
		a.Halves[i].Face = faceOf[loop[i]]
	}
	return nil
}

// leftOf is the half-edge facing p of the first edge that a ray from p to the left meets, or -1.
func (a *Arrangement) leftOf(g *buckets, p Point) int32 {
	row := (p.Y - g.minY) / g.side
	best, bestX, bestUp := int32(-1), 0.0, Point{}
	for c := (p.X - g.minX) / g.side; c >= 0; c-- {
		for _, e := range g.edgesIn(int(row*g.nx + c)) {
			h := 2 * e
			u, v := a.Verts[a.Halves[h].From], a.Verts[a.Halves[h].To]
			if (u.Y > p.Y) == (v.Y > p.Y) {
				continue
			}
			if u.Y > v.Y { // let h run upwards: p must be on its right, so its twin faces p
				u, v = v, u
			} else {
				h++
			}
			if orient(u, v, p) >= 0 {
				continue
			}
			x := float64(u.X) + float64(v.X-u.X)*float64(p.Y-u.Y)/float64(v.Y-u.Y)
			// Edges that leave one vertex on the ray are told apart just above it.
			if d := v.sub(u); best < 0 || x > bestX || x == bestX && cross(bestUp, d) < 0 {
				best, bestX, bestUp = h, x, d
			}
		}
		if best >= 0 && bestX >= float64(g.minX+c*g.side) {
			break
		}
	}
	return best
}

// Windings calls visit for every face with the winding of each outline, and the list of those that wind round it, on a
// walk from the outside. Both slices are reused between calls.
func (a *Arrangement) Windings(visit func(face int, wind []int32, round []int32)) {
	wind := make([]int32, a.outlines)
	where := make([]int32, a.outlines) // in round, plus one
	var round []int32
	cross := func(half, sign int32) {
		for _, s := range a.shares[half/2] {
			o := s.outline
			wind[o] += sign * s.wind
			switch at := where[o]; {
			case wind[o] != 0 && at == 0:
				round = append(round, o)
				where[o] = int32(len(round))
			case wind[o] == 0 && at > 0:
				last := round[len(round)-1]
				round[at-1], where[last], where[o] = last, at, 0
				round = round[:len(round)-1]
			}
		}
	}
	visit(0, wind, round)
	a.tour(func(h int32) {
		cross(h, sideOf(h))
		visit(int(a.Halves[h].Face), wind, round)
	}, func(h int32) {
		cross(h, -sideOf(h))
	})
}

// sideOf is 1 for a half whose face lies left of its edge, else -1.
func sideOf(h int32) int32 { return 1 - 2*(h&1) }

// tour walks from the outside to every face, depth first. It enters a face over a half on its own side, and leaves it
// the same way.
func (a *Arrangement) tour(enter, leave func(half int32)) {
	type step struct{ via, next int32 }
	first, halves := a.byFace()
	seen := make([]bool, len(a.Faces))
	seen[0] = true
	stack := []step{{-1, first[0]}}
	for len(stack) > 0 {
		s := &stack[len(stack)-1]
		face := int32(0)
		if s.via >= 0 {
			face = a.Halves[s.via].Face
		}
		if s.next < first[face+1] {
			t := halves[s.next] ^ 1
			s.next++
			if f := a.Halves[t].Face; !seen[f] {
				seen[f] = true
				enter(t)
				stack = append(stack, step{t, first[f]})
			}
			continue
		}
		if s.via >= 0 {
			leave(s.via)
		}
		stack = stack[:len(stack)-1]
	}
}

// byFace lists the halves of every face: those of face f are halves[first[f]:first[f+1]].
func (a *Arrangement) byFace() (first, halves []int32) {
	first = make([]int32, len(a.Faces)+2)
	for _, h := range a.Halves {
		first[h.Face+2]++
	}
	for i := 2; i < len(first); i++ {
		first[i] += first[i-1]
	}
	halves = make([]int32, len(a.Halves))
	for i, h := range a.Halves {
		halves[first[h.Face+1]] = int32(i)
		first[h.Face+1]++
	}
	return first[:len(a.Faces)+1], halves
}

// Union is the outline of a set of faces as loops of half-edges with the set on their left: outer loops and holes,
// unsorted.
func (a *Arrangement) Union(in func(face int32) bool, faces []int32) [][]int32 {
	var loops [][]int32
	done := map[int32]bool{}
	for _, f := range faces {
		for _, start := range a.Faces[f].Loops {
			for h := start; ; {
				if !done[h] && !in(a.Halves[h^1].Face) {
					loops = append(loops, a.walk(h, in, done))
				}
				if h = a.Halves[h].Next; h == start {
					break
				}
			}
		}
	}
	return loops
}

// walk follows the border of a set of faces from h, turning as sharp to the left as it can at vertices where the set
// touches itself, so that every loop is simple.
func (a *Arrangement) walk(h int32, in func(int32) bool, done map[int32]bool) []int32 {
	var loop []int32
	for !done[h] {
		done[h] = true
		loop = append(loop, h)
		n := a.Halves[h].Next
		for in(a.Halves[n^1].Face) {
			n = a.Halves[n^1].Next
		}
		h = n
	}
	return loop
}

// Regions turns loops into connected regions in the true frame: each outer ring with the holes inside it, by lowest
// vertex.
func (a *Arrangement) Regions(loops [][]int32) []geom.Region[geom.TruePoint] {
	type ring struct {
		pts  geom.Ring[geom.TruePoint]
		area int64
		low  Point
	}
	var outs, holes []ring
	for _, l := range loops {
		r := ring{low: a.Verts[a.Halves[l[0]].From]}
		at := 0
		for i, h := range l {
			p, q := a.Verts[a.Halves[h].From], a.Verts[a.Halves[h].To]
			r.area += cross(p, q)
			if less(p, r.low) {
				r.low, at = p, i
			}
		}
		for i := range l {
			r.pts = append(r.pts, a.Verts[a.Halves[l[(at+i)%len(l)]].From].True())
		}
		if r.area > 0 {
			outs = append(outs, r)
		} else {
			holes = append(holes, r)
		}
	}
	sort.Slice(outs, func(i, j int) bool { return compare(outs[i].low, outs[j].low) < 0 })
	sort.Slice(holes, func(i, j int) bool { return compare(holes[i].low, holes[j].low) < 0 })
	out := make([]geom.Region[geom.TruePoint], len(outs))
	for i, o := range outs {
		out[i] = geom.Region[geom.TruePoint]{o.pts}
	}
	for _, h := range holes {
		best := -1
		for i, o := range outs {
			if o.area > -h.area && (best < 0 || o.area < outs[best].area) && o.pts.Contains(midOf(h.pts)) {
				best = i
			}
		}
		if best >= 0 {
			out[best] = append(out[best], h.pts)
		}
	}
	return out
}

// midOf is the middle of a ring's first edge, a hair to its right: for a hole, inside the region that has the hole is
// left, so right is in the hole.
func midOf(r geom.Ring[geom.TruePoint]) geom.TruePoint {
	m := geom.TruePoint{(r[0][0] + r[1][0]) / 2, (r[0][1] + r[1][1]) / 2}
	return geom.Add(m, geom.Sub(r[1], r[0]).Unit().Left(), -Unit/4)
}
