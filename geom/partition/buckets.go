package partition

import "math"

// buckets is a uniform grid over the drawing. The edges that come within pad units of cell c are
// items[first[c]:first[c+1]], and so for the points in it.
type buckets struct {
	minX, minY, side int64
	nx, ny           int64
	first, items     []int32
	firstP, itemsP   []int32
}

const (
	maxBuckets = 1 << 21 // bounds the memory of the grid
	pad        = 4       // units: more than the noder's tolerance
)

func newBuckets(pts []Point, edges []edge) *buckets {
	g := &buckets{minX: math.MaxInt64, minY: math.MaxInt64, side: 1}
	maxX, maxY, sum := int64(math.MinInt64), int64(math.MinInt64), int64(0)
	for i := range edges {
		a, b := pts[edges[i].a], pts[edges[i].b]
		g.minX, maxX = min(g.minX, a.X, b.X), max(maxX, a.X, b.X)
		g.minY, maxY = min(g.minY, a.Y, b.Y), max(maxY, a.Y, b.Y)
		sum += max(abs(a.X-b.X), abs(a.Y-b.Y))
	}
	if len(edges) == 0 {
		g.minX, g.minY, maxX, maxY = 0, 0, 0, 0
	} else {
		g.side = max(4*pad, sum/int64(len(edges))) // about as wide as the mean edge is long
	}
	g.minX, g.minY, maxX, maxY = g.minX-pad, g.minY-pad, maxX+pad, maxY+pad
	for {
		g.nx, g.ny = (maxX-g.minX)/g.side+1, (maxY-g.minY)/g.side+1
		if g.nx*g.ny <= maxBuckets && g.nx*g.ny <= int64(16*len(edges)+64) {
			break
		}
		g.side = g.side*3/2 + 1
	}
	// Count, then fill.
	where := make([]int32, 0, 3*len(edges)) // cells of all edges, one edge after another
	ends := make([]int32, len(edges))
	g.first = make([]int32, g.nx*g.ny+1)
	for i := range edges {
		where = g.cover(where, pts[edges[i].a], pts[edges[i].b])
		ends[i] = int32(len(where))
	}
	for _, c := range where {
		g.first[c+1]++
	}
	for c := 1; c < len(g.first); c++ {
		g.first[c] += g.first[c-1]
	}
	g.items = make([]int32, len(where))
	fill := append([]int32(nil), g.first...)
	k := int32(0)
	for i := range edges {
		for ; k < ends[i]; k++ {
			c := where[k]
			g.items[fill[c]] = int32(i)
			fill[c]++
		}
	}
	return g
}

func (g *buckets) cells() int { return int(g.nx * g.ny) }

func (g *buckets) edgesIn(c int) []int32 { return g.items[g.first[c]:g.first[c+1]] }

func (g *buckets) pointsIn(c int) []int32 { return g.itemsP[g.firstP[c]:g.firstP[c+1]] }

// cell is the number of the cell that holds a point.
func (g *buckets) cell(p Point) int { return int((p.Y-g.minY)/g.side*g.nx + (p.X-g.minX)/g.side) }

func (g *buckets) putPoints(pts []Point, used []bool) {
	g.firstP = make([]int32, g.nx*g.ny+1)
	n := 0
	for i, p := range pts {
		if used[i] {
			g.firstP[g.cell(p)+1]++
			n++
		}
	}
	for c := 1; c < len(g.firstP); c++ {
		g.firstP[c] += g.firstP[c-1]
	}
	g.itemsP = make([]int32, n)
	fill := append([]int32(nil), g.firstP...)
	for i, p := range pts {
		if used[i] {
			c := g.cell(p)
			g.itemsP[fill[c]] = int32(i)
			fill[c]++
		}
	}
}

// cover adds the cells that come within pad units of a segment.
func (g *buckets) cover(out []int32, a, b Point) []int32 {
	if a.Y > b.Y {
		a, b = b, a
	}
	r0 := max(0, (a.Y-pad-g.minY)/g.side)
	r1 := min(g.ny-1, (b.Y+pad-g.minY)/g.side)
	for r := r0; r <= r1; r++ {
		x0, x1 := min(a.X, b.X), max(a.X, b.X)
		if b.Y > a.Y && r1 > r0 {
			lo := float64(max(a.Y, g.minY+r*g.side-pad))
			hi := float64(min(b.Y, g.minY+(r+1)*g.side+pad))
			k := float64(b.X-a.X) / float64(b.Y-a.Y)
			u, v := float64(a.X)+k*(lo-float64(a.Y)), float64(a.X)+k*(hi-float64(a.Y))
			x0, x1 = max(x0, int64(math.Floor(min(u, v)))-1), min(x1, int64(math.Ceil(max(u, v)))+1)
		}
		c0 := max(0, (x0-pad-g.minX)/g.side)
		c1 := min(g.nx-1, (x1+pad-g.minX)/g.side)
		for c := c0; c <= c1; c++ {
			out = append(out, int32(r*g.nx+c))
		}
	}
	return out
}

const (
	reach  = 3  // units: root 2 times the tolerance, and a little
	square = 16 // units
)

// table finds points near a place: an open hash of small squares, each with a chain of its points.
type table struct {
	pts        []Point
	head, next []int32 // index plus one
	mask       uint64
}

func newTable(pts []Point) *table {
	size := 64
	for size < 2*len(pts) {
		size *= 2
	}
	return &table{pts: pts, head: make([]int32, size), next: make([]int32, len(pts)), mask: uint64(size - 1)}
}

func (t *table) square(p Point) Point {
	floor := func(v int64) int64 {
		if v < 0 {
			return (v - square + 1) / square
		}
		return v / square
	}
	return Point{floor(p.X), floor(p.Y)}
}

// slot is where a square's chain starts, or would.
func (t *table) slot(s Point) uint64 {
	h := uint64(s.X)*0x9e3779b97f4a7c15 ^ uint64(s.Y)*0xc2b2ae3d27d4eb4f
	for h ^= h >> 29; ; h++ {
		k := h & t.mask
		if t.head[k] == 0 || t.square(t.pts[t.head[k]-1]) == s {
			return k
		}
	}
}

func (t *table) put(i int32) {
	k := t.slot(t.square(t.pts[i]))
	t.next[i] = t.head[k]
	t.head[k] = i + 1
}

// near visits the points put in that may lie within reach of p.
func (t *table) near(p Point, visit func(int32)) {
	lo, hi := t.square(Point{p.X - reach, p.Y - reach}), t.square(Point{p.X + reach, p.Y + reach})
	for x := lo.X; x <= hi.X; x++ {
		for y := lo.Y; y <= hi.Y; y++ {
			for j := t.head[t.slot(Point{x, y})]; j > 0; j = t.next[j-1] {
				visit(j - 1)
			}
		}
	}
}
