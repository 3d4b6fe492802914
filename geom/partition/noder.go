package partition

import (
	"fmt"
	"slices"
	"sort"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// maxRounds bounds the noding loop; two to four are usual, strokes of fine curves with their needles need a dozen.
const maxRounds = 60

// maxEdges bounds the work of one noding: about ten times the largest drawing of the open corpora.
const maxEdges = 2_000_000

// TooMuch is a drawing that goes over a bound of the partition, with the place where it does.
type TooMuch struct {
	Text   string
	Source finding.Source
	At     *geom.TruePoint
}

func (e *TooMuch) Error() string { return e.Text }

// Finding is the refusal, with its place.
func (e *TooMuch) Finding() finding.Finding {
	f := finding.Finding{Code: finding.TooMuch, Severity: finding.Error, Message: e.Text, Suggestion: "draw it with fewer points and shapes", Source: e.Source}
	if e.At != nil {
		f.AtMM = &[2]float64{e.At[0], e.At[1]}
	}
	return f
}

var errEdges = &TooMuch{Text: fmt.Sprintf("more than %d pieces of lines once they are cut where they cross (maxEdges)", maxEdges)}

// share is what one outline contributes to an edge: its winding grows by Wind on the edge's left.
type share struct {
	outline int32
	wind    int32
}

// edge runs from vertex a to vertex b; shares are sorted by outline.
type edge struct {
	a, b   int32
	shares []share
}

// noder holds vertices and edges while they are split and merged.
type noder struct {
	pts   []Point
	edges []edge
	at    map[Point]int32
}

func (n *noder) vertex(p Point) int32 {
	if v, ok := n.at[p]; ok {
		return v
	}
	v := int32(len(n.pts))
	n.pts = append(n.pts, p)
	n.at[p] = v
	return v
}

// add puts in a segment; wind 0 is a line that only cuts.
func (n *noder) add(p, q Point, outline, wind int32) {
	a, b := n.vertex(p), n.vertex(q)
	if a == b {
		return
	}
	e := edge{a: a, b: b}
	if wind != 0 {
		e.shares = []share{{outline, wind}}
	}
	n.edges = append(n.edges, e)
}

// run splits and merges until nothing changes.
func (n *noder) run() error {
	for round := 0; round < maxRounds; round++ {
		n.merge()
		n.tidy()
		if len(n.edges) > maxEdges {
			return errEdges
		}
		again, err := n.split()
		if err != nil || !again {
			return err
		}
	}
	return &TooMuch{Text: "lines run so close together that they cannot be told apart"}
}

// merge unites vertices within two units of each other; the lowest index stays.
func (n *noder) merge() {
	const side = 3
	cell := func(v int64) int64 {
		if v < 0 {
			return (v - side + 1) / side
		}
		return v / side
	}
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
	grid := make(map[Point]int32, len(n.pts)) // last vertex in a cell; chain by next
	next := make([]int32, len(n.pts))
	for i, p := range n.pts {
		if !used[i] {
			continue
		}
		c := Point{cell(p.X), cell(p.Y)}
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for j := grid[Point{c.X + dx, c.Y + dy}]; j > 0; j = next[j-1] {
					d := n.pts[j-1].sub(p)
					if dot(d, d) <= 4 {
						a, b := find(j-1), find(int32(i))
						root[max(a, b)] = min(a, b)
					}
				}
			}
		}
		next[i] = grid[c]
		grid[c] = int32(i) + 1
	}
	for i := range n.edges {
		n.edges[i].a, n.edges[i].b = find(n.edges[i].a), find(n.edges[i].b)
	}
}

// tidy drops null edges and unites equal ones, adding their shares.
func (n *noder) tidy() {
	out := n.edges[:0]
	for _, e := range n.edges {
		if e.a == e.b {
			continue
		}
		if e.a > e.b {
			e.a, e.b = e.b, e.a
			s := make([]share, len(e.shares))
			for i, x := range e.shares {
				s[i] = share{x.outline, -x.wind}
			}
			e.shares = s
		}
		out = append(out, e)
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].a != out[j].a {
			return out[i].a < out[j].a
		}
		return out[i].b < out[j].b
	})
	n.edges = out[:0]
	for i := 0; i < len(out); {
		j := i + 1
		for j < len(out) && out[j].a == out[i].a && out[j].b == out[i].b {
			j++
		}
		e := out[i]
		e.shares = summed(out[i:j])
		n.edges = append(n.edges, e)
		i = j
	}
}

// summed gathers the shares of equal edges, sorted by outline; what cancels falls out.
func summed(equal []edge) []share {
	if len(equal) == 1 {
		return equal[0].shares
	}
	var all []share
	for _, e := range equal {
		all = append(all, e.shares...)
	}
	slices.SortFunc(all, func(a, b share) int { return int(a.outline) - int(b.outline) })
	out := all[:0]
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

// split cuts every edge at vertices within two units of it; only when there are none, at proper crossings. It tells whether any edge was
// cut. Both at once creep: of two near-parallel edges each new crossing bends one past the next vertex, two units a round.
func (n *noder) split() (bool, error) {
	g := newBuckets(n.pts, n.edges)
	if n.apply(n.touches(g)) {
		return true, nil
	}
	cuts, err := n.crossings(g)
	if err != nil {
		return false, err
	}
	return n.apply(cuts), nil
}

// touches lists for each edge the vertices within two units of its inside.
func (n *noder) touches(g *buckets) [][]int32 {
	cuts := make([][]int32, len(n.edges))
	seen := make([]int32, len(n.pts))
	used := make([]bool, len(n.pts))
	for _, e := range n.edges {
		used[e.a], used[e.b] = true, true
	}
	g.putPoints(n.pts, used)
	for i, e := range n.edges {
		a, b := n.pts[e.a], n.pts[e.b]
		for _, c := range g.cover(a, b) {
			for _, v := range g.points[c] {
				if v == e.a || v == e.b || seen[v] == int32(i)+1 {
					continue
				}
				seen[v] = int32(i) + 1
				if near(n.pts[v], a, b) {
					cuts[i] = append(cuts[i], v)
				}
			}
		}
	}
	return cuts
}

// crossings lists for each edge the vertices, new ones mostly, where it crosses another.
func (n *noder) crossings(g *buckets) ([][]int32, error) {
	cuts := make([][]int32, len(n.edges))
	seen := make([]int32, len(n.edges))
	total := 0
	for i, e := range n.edges {
		a, b := n.pts[e.a], n.pts[e.b]
		for _, c := range g.cover(a, b) {
			for _, j := range g.edges[c] {
				if j <= int32(i) || seen[j] == int32(i)+1 {
					continue
				}
				seen[j] = int32(i) + 1
				f := n.edges[j]
				if e.a == f.a || e.a == f.b || e.b == f.a || e.b == f.b {
					continue
				}
				if p, ok := crossing(a, b, n.pts[f.a], n.pts[f.b]); ok {
					v := n.vertex(p)
					cuts[i] = append(cuts[i], v)
					cuts[j] = append(cuts[j], v)
					if total++; total > maxEdges {
						return nil, errEdges
					}
				}
			}
		}
	}
	return cuts, nil
}

// apply replaces each cut edge by its pieces.
func (n *noder) apply(cuts [][]int32) bool {
	changed := false
	var out []edge
	for i, e := range n.edges {
		c := cuts[i]
		if len(c) == 0 {
			out = append(out, e)
			continue
		}
		a, d := n.pts[e.a], n.pts[e.b].sub(n.pts[e.a])
		slices.SortFunc(c, func(u, v int32) int {
			du, dv := dot(n.pts[u].sub(a), d), dot(n.pts[v].sub(a), d)
			if du != dv {
				if du < dv {
					return -1
				}
				return 1
			}
			return int(u - v)
		})
		last := e.a
		for _, v := range append(slices.Compact(c), e.b) {
			if v != last {
				out = append(out, edge{last, v, e.shares})
			}
			if v != e.b && v != e.a {
				changed = true
			}
			last = v
		}
	}
	n.edges = out
	return changed
}
