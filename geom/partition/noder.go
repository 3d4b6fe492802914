package partition

import (
	"cmp"
	"fmt"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// Bounds of one noding, for a second or two and a few hundred megabytes.
const (
	// maxEdges is three times the largest drawing of the open corpora.
	maxEdges = 400_000
	// maxTests is pairs of neighbours looked at: drawings take some thirty an edge.
	maxTests = 400_000_000
	// maxRounds of splitting; three to six are usual, bundles of hair-fine lines through one point included.
	maxRounds = 60
	// tol is how near to an edge, in units, a vertex counts as on it (METHODS 2).
	tol = 2
)

// TooMuch is a drawing that goes over a bound of the partition, with the place where it does.
type TooMuch struct {
	Bound  string // the wording of the finding that names the bound
	Values []any
	Source finding.Source
	At     *geom.TruePoint
}

func (e *TooMuch) Error() string { return fmt.Sprint("too much: ", e.Bound, " ", e.Values) }

// Finding is the refusal, with its place.
func (e *TooMuch) Finding() finding.Finding {
	f := finding.New(finding.TooMuch, finding.Error, e.Values...).In(e.Bound).From(e.Source)
	if e.At != nil {
		f = f.At(*e.At)
	}
	return f
}

// share is what one outline contributes to an edge: its winding grows by Wind on the edge's left.
type share struct {
	outline int32
	wind    int32
}

// edge runs from vertex a to vertex b; shares are sorted by outline. New edges are looked at for vertices on them and
// for crossings.
type edge struct {
	a, b       int32
	shares     []share
	newV, newX bool
}

// cut is a vertex at which an edge is split.
type cut struct{ edge, vertex int32 }

// noder holds vertices and edges while they are split and merged.
type noder struct {
	pts   []Point
	newP  []bool // vertices that no edge has been held against yet
	edges []edge
	tests int
}

func (n *noder) vertex(p Point) int32 {
	n.pts, n.newP = append(n.pts, p), append(n.newP, true)
	return int32(len(n.pts) - 1)
}

// add puts in a segment; wind 0 is a line that only cuts.
func (n *noder) add(a, b int32, outline, wind int32) {
	if n.pts[a] == n.pts[b] {
		return
	}
	e := edge{a: a, b: b, newV: true, newX: true}
	if wind != 0 {
		e.shares = []share{{outline, wind}}
	}
	n.edges = append(n.edges, e)
}

// run splits and merges until nothing changes. Vertices on edges come first, crossings only when there are none: both
// at once creep, since of two near-parallel edges each new crossing bends one past the next vertex, two units a round.
func (n *noder) run() error {
	for range maxRounds {
		n.merge()
		n.tidy()
		if len(n.edges) > maxEdges {
			return n.tooMuch("edges", maxEdges)
		}
		g := newBuckets(n.pts, n.edges)
		cuts, err := n.touches(g)
		if err == nil && len(cuts) == 0 {
			cuts, err = n.crossings(g)
		}
		if err != nil {
			return err
		}
		if !n.apply(cuts) {
			return nil
		}
	}
	return n.tooMuch("close")
}

// tooMuch places a refusal at the middle vertex of the newest edge.
func (n *noder) tooMuch(bound string, values ...any) error {
	e := &TooMuch{Bound: bound, Values: values}
	if k := len(n.edges); k > 0 {
		p := n.pts[n.edges[k-1].a].True()
		e.At = &p
	}
	return e
}

func (n *noder) tooManyTests() error {
	return n.tooMuch("tests", maxTests)
}

// merge unites vertices within root 2 times tol of each other; the lowest index stays. So far apart, a vertex within
// tol of the inside of an edge lies further than tol from its ends, and all pieces of a split edge are shorter than the
// edge: splitting at vertices ends.
func (n *noder) merge() {
	used := make([]bool, len(n.pts))
	for _, e := range n.edges {
		used[e.a], used[e.b] = true, true
	}
	root := make([]int32, len(n.pts))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	t := newTable(n.pts)
	merged := false
	for i, p := range n.pts {
		if !used[i] {
			continue
		}
		twin := false
		t.near(p, func(j int32) {
			d := n.pts[j].sub(p)
			if dot(d, d) > 2*tol*tol {
				return
			}
			twin = twin || d == Point{}
			if a, b := find(j), find(int32(i)); a != b {
				root[max(a, b)] = min(a, b)
				merged = true
			}
		})
		if !twin { // its twin stands for it: squares hold few points
			t.put(int32(i))
		}
	}
	if !merged {
		return
	}
	for i := range n.edges {
		e := &n.edges[i]
		a, b := find(e.a), find(e.b)
		if n.pts[a] != n.pts[e.a] || n.pts[b] != n.pts[e.b] {
			e.newV, e.newX = true, true
		}
		e.a, e.b = a, b
	}
}

// tidy drops null edges and unites equal ones, adding their shares; edges end up in order of their vertices.
func (n *noder) tidy() {
	type key struct {
		ends  uint64
		index int32
	}
	keys := make([]key, 0, len(n.edges))
	for i := range n.edges {
		e := &n.edges[i]
		if e.a == e.b {
			continue
		}
		if e.a > e.b {
			e.a, e.b = e.b, e.a
			s := make([]share, len(e.shares))
			for k, x := range e.shares {
				s[k] = share{x.outline, -x.wind}
			}
			e.shares = s
		}
		keys = append(keys, key{uint64(e.a)<<32 | uint64(e.b), int32(i)})
	}
	slices.SortFunc(keys, func(a, b key) int {
		if c := cmp.Compare(a.ends, b.ends); c != 0 {
			return c
		}
		return cmp.Compare(a.index, b.index)
	})
	out := make([]edge, 0, len(keys))
	var all []share
	for i := 0; i < len(keys); {
		e := n.edges[keys[i].index]
		j := i + 1
		for ; j < len(keys) && keys[j].ends == keys[i].ends; j++ {
			f := n.edges[keys[j].index]
			if j == i+1 {
				all = append(all[:0], e.shares...)
			}
			all = append(all, f.shares...)
			e.newV, e.newX = e.newV || f.newV, e.newX || f.newX
		}
		if j > i+1 {
			e.shares = summed(all)
		}
		out = append(out, e)
		i = j
	}
	n.edges = out
}

// summed gathers shares by outline, sorted; what cancels falls out.
func summed(all []share) []share {
	slices.SortFunc(all, func(a, b share) int { return cmp.Compare(a.outline, b.outline) })
	var out []share
	for i := 0; i < len(all); {
		s := all[i]
		for i++; i < len(all) && all[i].outline == s.outline; i++ {
			s.wind += all[i].wind
		}
		if s.wind != 0 {
			out = append(out, s)
		}
	}
	return out
}

// touches lists the vertices within tol of the inside of an edge; of those pairs that are not new nothing has changed.
func (n *noder) touches(g *buckets) ([]cut, error) {
	used := make([]bool, len(n.pts))
	for _, e := range n.edges {
		used[e.a], used[e.b] = true, true
	}
	g.putPoints(n.pts, used)
	var cuts []cut
	var fresh []int32 // vertices
	for c := 0; c < g.cells(); c++ {
		edges, points := g.edgesIn(c), g.pointsIn(c)
		fresh = fresh[:0]
		for _, v := range points {
			if n.newP[v] {
				fresh = append(fresh, v)
			}
		}
		for _, i := range edges {
			e := &n.edges[i]
			with := fresh
			if e.newV {
				with = points
			}
			if n.tests += len(with); n.tests > maxTests {
				return nil, n.tooManyTests()
			}
			for _, v := range with {
				if v != e.a && v != e.b && near(n.pts[v], n.pts[e.a], n.pts[e.b]) {
					cuts = append(cuts, cut{i, v})
				}
			}
		}
	}
	for i := range n.edges {
		n.edges[i].newV = false
	}
	clear(n.newP)
	return cuts, nil
}

// crossings lists for each edge the vertices, new ones, where it crosses another; of two old edges nothing has changed.
func (n *noder) crossings(g *buckets) ([]cut, error) {
	type meet struct {
		i, j int32
		p    Point
	}
	var meets []meet
	var fresh []int32 // edges
	for c := 0; c < g.cells(); c++ {
		edges := g.edgesIn(c)
		fresh = fresh[:0]
		for _, i := range edges {
			if n.edges[i].newX {
				fresh = append(fresh, i)
			}
		}
		if n.tests += len(edges) * len(fresh) / 2; n.tests > maxTests {
			return nil, n.tooManyTests()
		}
		for _, i := range fresh {
			e := &n.edges[i]
			a, b := n.pts[e.a], n.pts[e.b]
			for _, j := range edges {
				f := &n.edges[j]
				if f.newX && j <= i || e.a == f.a || e.a == f.b || e.b == f.a || e.b == f.b {
					continue
				}
				// A pair meets in several cells
				if p, ok := crossing(a, b, n.pts[f.a], n.pts[f.b]); ok && g.cell(p) == c {
					meets = append(meets, meet{min(i, j), max(i, j), p})
				}
			}
		}
		if len(meets) > maxEdges {
			return nil, n.tooMuch("crossings", maxEdges)
		}
	}
	for i := range n.edges {
		n.edges[i].newX = false
	}
	slices.SortFunc(meets, func(a, b meet) int {
		if c := cmp.Compare(a.i, b.i); c != 0 {
			return c
		}
		return cmp.Compare(a.j, b.j)
	})
	cuts := make([]cut, 0, 2*len(meets))
	for _, m := range meets {
		v := n.vertex(m.p)
		cuts = append(cuts, cut{m.i, v}, cut{m.j, v})
	}
	return cuts, nil
}

// apply replaces each cut edge by its pieces; it tells whether there was any.
func (n *noder) apply(cuts []cut) bool {
	if len(cuts) == 0 {
		return false
	}
	along := func(c cut) int64 {
		e := &n.edges[c.edge]
		a := n.pts[e.a]
		return dot(n.pts[c.vertex].sub(a), n.pts[e.b].sub(a))
	}
	slices.SortFunc(cuts, func(x, y cut) int {
		if c := cmp.Compare(x.edge, y.edge); c != 0 {
			return c
		}
		if c := cmp.Compare(along(x), along(y)); c != 0 {
			return c
		}
		return cmp.Compare(x.vertex, y.vertex)
	})
	out := make([]edge, 0, len(n.edges)+len(cuts))
	k := 0
	for i, e := range n.edges {
		if k == len(cuts) || cuts[k].edge != int32(i) {
			out = append(out, e)
			continue
		}
		last := e.a
		for ; k < len(cuts) && cuts[k].edge == int32(i); k++ {
			if v := cuts[k].vertex; v != last {
				out = append(out, edge{last, v, e.shares, true, true})
				last = v
			}
		}
		out = append(out, edge{last, e.b, e.shares, true, true})
	}
	n.edges = out
	return true
}
