//go:build trials

package split

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/symmetry"
)

// batch is a log of a usual length.
var batch = Log{LengthMM: 400, Density: func(int) float64 { return 1.3 }}

// mapOf reads a drawing into a log of 150 mm, the circle inscribed in its page being the picture circle.
func mapOf(t testing.TB, file string) *partition.Map {
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	art, _, err := artwork.Parse(data)
	require.NoError(t, err)
	white := artwork.RGB{255, 255, 255}
	k := 112.5 / art.Page.View.W
	m, _, err := partition.Of(
		art,
		partition.Frame{
			ToTrue: geom.ToTrue{
				k,
				0,
				0,
				-k,
				-k * (art.Page.View.X + art.Page.View.W/2),
				k * (art.Page.View.Y + art.Page.View.H/2),
			},
			LogRadius:     75,
			JacketRadius:  69,
			PictureRadius: 56.25,
			Ground:        white,
			Jacket:        white,
			LikeDE2000:    3,
			SliverMM:      0.02,
			SpeckMM2:      2,
			FlattenMM:     0.015,
		},
	)
	require.NoError(t, err)
	return m
}

// allCuts is a generator of candidate cuts that shares nothing with the product's: all pairs of concave corners that
// see each other, the mirror lines along the page's axes through a region's middle, and necks: of all pairs of border
// points 2 mm apart, those nearest to each other while both neighbours on either side are farther, and the border grows
// apart by a quarter within 12 mm.
func allCuts(r region) [][]point {
	var ring []point
	var corners []point
	edges := [][2]point{}
	for _, q := range r {
		n := len(q)
		for i := range q {
			edges = append(edges, [2]point{q[i], q[(i+1)%n]})
			u, v := geom.Sub(q[i], q[(i+n-1)%n]), geom.Sub(q[(i+1)%n], q[i])
			if math.Atan2(u.Cross(v), u.Dot(v)) < -0.5 { // 29 degrees
				corners = append(corners, q[i])
			}
		}
		ring = append(ring, q...)
	}
	clear := func(a, b point) bool { // the open segment lies inside
		for _, e := range edges {
			if geom.Orient(a, b, e[0])*geom.Orient(a, b, e[1]) < -1e-9 &&
				geom.Orient(e[0], e[1], a)*geom.Orient(e[0], e[1], b) < -1e-9 {
				return false
			}
		}
		for _, s := range []float64{0.02, 0.5, 0.98} {
			if !r.Contains(geom.Add(a, geom.Sub(b, a), s)) {
				return false
			}
		}
		return true
	}
	var out [][]point
	for i, a := range corners {
		for _, b := range corners[i+1:] {
			if geom.Dist(a, b) > 0.5 && clear(a, b) {
				out = append(out, []point{a, b})
			}
		}
	}
	// Necks.
	var pts []point
	var ringOf, at []int
	var rings [][]point
	for k, q := range r {
		n := max(8, int(q.Perimeter()/2))
		step, next, gone := q.Perimeter()/float64(n), 0.0, 0.0
		var on []point
		for i := range q {
			a, b := q[i], q[(i+1)%len(q)]
			for l := geom.Dist(a, b); next < gone+l-1e-9 || i == len(q)-1 && len(on) < n; next += step {
				on = append(on, geom.Add(a, geom.Sub(b, a), min(1, (next-gone)/math.Max(l, 1e-9))))
			}
			gone += geom.Dist(a, b)
		}
		rings = append(rings, on)
		for i, p := range on {
			pts, ringOf, at = append(pts, p), append(ringOf, k), append(at, i)
		}
	}
	beside := func(i, by int) point {
		on := rings[ringOf[i]]
		return on[((at[i]+by)%len(on)+len(on))%len(on)]
	}
	for i := range pts {
		for j := i + 1; j < len(pts); j++ {
			w := geom.Dist(pts[i], pts[j])
			if apart := math.Abs(float64(at[i] - at[j])); ringOf[i] == ringOf[j] &&
				2*math.Min(apart, float64(len(rings[ringOf[i]]))-apart) < 3*w {
				continue
			}
			neck := w < 0.5*math.Sqrt(r.Area())
			for _, by := range []int{-1, 1} {
				neck = neck && geom.Dist(beside(i, by), pts[j]) >= w && geom.Dist(pts[i], beside(j, by)) >= w &&
					geom.Dist(beside(i, 6*by), beside(j, -6*by)) > 1.25*w
			}
			if neck && clear(pts[i], pts[j]) {
				out = append(out, []point{pts[i], pts[j]})
			}
		}
	}
	// Axes: chords through the centroid, upright and level, where the outline mirrors in them.
	c := geom.MomentsOf(r).Centroid
	for k := 0; k < 2; k++ {
		same := true
		for _, p := range ring {
			q := point{p[0], 2*c[1] - p[1]}
			if k == 1 {
				q = point{2*c[0] - p[0], p[1]}
			}
			near := math.Inf(1)
			for _, e := range edges {
				near = math.Min(near, geom.SegmentDist(q, e[0], e[1]))
			}
			same = same && near < 0.2
		}
		if !same {
			continue
		}
		var at []float64
		for _, e := range edges {
			a, b := e[0][1-k]-c[1-k], e[1][1-k]-c[1-k]
			if (a < 0) != (b < 0) {
				at = append(at, e[0][k]+(e[1][k]-e[0][k])*a/(a-b))
			}
		}
		sort.Float64s(at)
		for i := 0; i+1 < len(at); i += 2 {
			if at[i+1]-at[i] > 0.5 {
				p, q := c, c
				p[k], q[k] = at[i], at[i+1]
				out = append(out, []point{p, q})
			}
		}
	}
	return out
}

// For every drawing with at most ten of these cuts, all ways to cut along some of them are tried, and priced as the
// product prices: its own split costs at most 6 % more than the best of them.
func TestEnumeration(t *testing.T) {
	var files []string
	for _, dir := range []string{"reference", "corpora"} {
		f, err := filepath.Glob("../../testdata/" + dir + "/*.svg")
		require.NoError(t, err)
		files = append(files, f...)
	}
	tried := 0
	for _, file := range files {
		m := mapOf(t, file)
		s := &splitter{
			m:       m,
			shop:    shop.Default(),
			log:     batch,
			set:     &set.Set{Proved: true},
			known:   map[int][]*measured{},
			regions: m.Regions,
			pose:    symmetry.Upright,
		}
		var ids []int
		for i, r := range m.Regions {
			if !r.Jacket {
				ids = append(ids, i)
			}
		}
		pieces, err := s.pieces(ids, true)
		if err != nil {
			continue
		}
		if pieces, err = s.rolled(pieces); err != nil || len(pieces) > 25 {
			continue
		}
		d := &domain{s: s}
		lines, circle := s.closing(pieces)
		d.lines, d.closes = d.grouped(lines), circle
		require.NoError(t, d.arrange(pieces))
		var cuts [][]point
		for i, c := range d.cells {
			if c.child < 0 && !d.isOuter(i) && c.area > 4 && len(cuts) <= 10 {
				cuts = append(cuts, allCuts(c.shape)...)
			}
		}
		if len(cuts) == 0 || len(cuts) > 10 {
			continue
		}
		for i, l := range cuts {
			d.lines = append(d.lines, line{at: l, groups: []int{1000 + i}})
		}
		require.NoError(t, d.arrange(pieces))
		g := newMerger(d, true)
		g.priceAll()
		g.cleanUp()
		g.findSeams()
		g.atoms = g.parts
		least := math.Inf(1)
		for pick := 0; pick < 1<<len(cuts); pick++ {
			parts := g.uncut()
			for k := range d.groups { // the lines that close the ground are always cut
				parts, _ = g.cutAll(parts, k)
			}
			for i := range cuts {
				if pick>>i&1 == 1 {
					parts, _ = g.cutAll(parts, 1000+i)
				}
			}
			if cost := g.total(g.evaluate(parts)); cost < least && len(g.blocked(parts)) == 0 {
				least = cost
			}
		}
		ours := &splitter{
			m:       m,
			shop:    s.shop,
			log:     batch,
			set:     &set.Set{Proved: true},
			known:   map[int][]*measured{},
			regions: m.Regions,
			pose:    symmetry.Upright,
		}
		before := s.set.Price
		_, err = ours.solve(ids, true)
		require.NoError(t, err)
		got := ours.set.Price - before // blocks in the picture are the same on both sides
		name := filepath.Base(file)
		t.Logf("%s: %d cuts, best of %d ways %.2f, ours %.2f", name, len(cuts), 1<<len(cuts), least, got)
		if math.IsInf(least, 1) || least > Tuned.NoPart {
			continue
		}
		tried++
		assert.LessOrEqual(t, got, 1.06*least, fmt.Sprintf("%s: %d cuts", name, len(cuts)))
	}
	assert.GreaterOrEqual(t, tried, 8)
}
