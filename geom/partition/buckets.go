package partition

import "math"

// buckets is a uniform grid over the drawing whose cells are about as wide as the mean edge is long.
type buckets struct {
	minX, minY, side int64
	nx, ny           int64
	edges            [][]int32
	points           [][]int32
	buf              []int
}

// maxBuckets bounds the memory of the grid.
const maxBuckets = 1 << 21

func newBuckets(pts []Point, edges []edge) *buckets {
	g := &buckets{minX: math.MaxInt64, minY: math.MaxInt64, side: 1}
	maxX, maxY, sum := int64(math.MinInt64), int64(math.MinInt64), int64(0)
	for _, e := range edges {
		for _, v := range [2]int32{e.a, e.b} {
			p := pts[v]
			g.minX, maxX = min(g.minX, p.X), max(maxX, p.X)
			g.minY, maxY = min(g.minY, p.Y), max(maxY, p.Y)
		}
		d := pts[e.b].sub(pts[e.a])
		sum += max(abs(d.X), abs(d.Y))
	}
	if len(edges) == 0 {
		g.minX, g.minY, maxX, maxY = 0, 0, 0, 0
	} else {
		g.side = max(16, sum/int64(len(edges)))
	}
	g.minX, g.minY, maxX, maxY = g.minX-4, g.minY-4, maxX+4, maxY+4
	for {
		g.nx, g.ny = (maxX-g.minX)/g.side+1, (maxY-g.minY)/g.side+1
		if g.nx*g.ny <= maxBuckets && g.nx*g.ny <= int64(16*len(edges)+64) {
			break
		}
		g.side = g.side*3/2 + 1
	}
	g.edges = make([][]int32, g.nx*g.ny)
	for i, e := range edges {
		for _, c := range g.cover(pts[e.a], pts[e.b]) {
			g.edges[c] = append(g.edges[c], int32(i))
		}
	}
	return g
}

func (g *buckets) putPoints(pts []Point, used []bool) {
	g.points = make([][]int32, g.nx*g.ny)
	for i, p := range pts {
		if used[i] {
			c := (p.Y-g.minY)/g.side*g.nx + (p.X-g.minX)/g.side
			g.points[c] = append(g.points[c], int32(i))
		}
	}
}

// cover lists the cells that come within three units of a segment. The slice is reused by the next call.
func (g *buckets) cover(a, b Point) []int {
	const pad = 3
	g.buf = g.buf[:0]
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
			g.buf = append(g.buf, int(r*g.nx+c))
		}
	}
	return g.buf
}
