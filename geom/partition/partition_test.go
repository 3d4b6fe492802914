package partition_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
)

func snapped(pts []geom.TruePoint) []partition.Point {
	out := make([]partition.Point, len(pts))
	for i, p := range pts {
		out[i] = partition.Snap(p)
	}
	return out
}

func polar(r, a float64) geom.TruePoint { return geom.TruePoint{r * math.Cos(a), r * math.Sin(a)} }

func build(t testing.TB, rings [][]geom.TruePoint) *partition.Arrangement {
	b := partition.NewBuilder()
	for i, r := range rings {
		b.Ring(i, snapped(r))
	}
	a, err := b.Build()
	require.NoError(t, err)
	require.NoError(t, a.Check())
	return a
}

// Degenerate scene (a): forty near-equal regular 64-gons are one cell of area 7841.371226 (schoolbook: n/2 r^2 sin(2
// pi/n)).
func TestNearEqualRings(t *testing.T) {
	for _, turn := range []float64{1e-13, 1e-10} {
		var rings [][]geom.TruePoint
		for i := 0; i < 40; i++ {
			var r []geom.TruePoint
			for k := 0; k < 64; k++ {
				r = append(r, polar(50, 2*math.Pi*float64(k)/64+float64(i)*turn))
			}
			rings = append(rings, r)
		}
		a := build(t, rings)
		assert.Len(t, a.Faces, 2) // the outside and the cell
		assert.InDelta(t, 7841.371226, float64(a.Faces[1].Area2)/2*partition.Unit*partition.Unit, 0.01)
	}
}

// Degenerate scene (b): a grid of 12 x 12 squares whose corners are computed by two formulae: 144 cells, 169 vertices,
// 312 edges.
func TestGridByTwoFormulae(t *testing.T) {
	const side, turn = 7.3, 0.37
	sin, cos := math.Sincos(turn)
	corner := func(i, j int, rotateFirst bool) geom.TruePoint {
		x, y := float64(i-6), float64(j-6)
		if rotateFirst {
			return geom.TruePoint{(cos*x - sin*y) * side, (sin*x + cos*y) * side}
		}
		x, y = x*side, y*side
		return geom.TruePoint{cos*x - sin*y, sin*x + cos*y}
	}
	var rings [][]geom.TruePoint
	for i := 0; i < 12; i++ {
		for j := 0; j < 12; j++ {
			f := (i+j)%2 == 0
			rings = append(rings,
				[]geom.TruePoint{corner(i, j, f), corner(i+1, j, f), corner(i+1, j+1, f), corner(i, j+1, f)})
		}
	}
	a := build(t, rings)
	assert.Equal(t, 145, len(a.Faces))
	assert.Len(t, a.Verts, 169)
	assert.Len(t, a.Halves, 2*312)
}

// Degenerate scene (c): a block beside n blocks of the same height together, all turned at random: n + 1 cells, 300
// times.
func TestWallsWithTJoints(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for seed := 0; seed < 300; seed++ {
		n := 3 + seed%9
		sin, cos := math.Sincos(rnd.Float64() * 2 * math.Pi)
		rect := func(x, y, w, h float64) []geom.TruePoint {
			var out []geom.TruePoint
			for _, p := range [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}} {
				out = append(out, geom.TruePoint{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]})
			}
			return out
		}
		rings := [][]geom.TruePoint{rect(0, 0, 30, 50)}
		for k := 0; k < n; k++ {
			h := 50 / float64(n)
			rings = append(rings, rect(30, float64(k)*h, 25, h))
		}
		assert.Len(t, build(t, rings).Faces, n+2, "n %d, seed %d", n, seed)
	}
}

// Random scenes keep the arrangement's own proof, and turning by a quarter changes no count.
func TestRandomScenes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for seed := 0; seed < 40; seed++ {
		var rings, turned [][]geom.TruePoint
		for k := 0; k < 3+seed; k++ {
			c := geom.TruePoint{rnd.Float64()*100 - 50, rnd.Float64()*100 - 50}
			var r, q []geom.TruePoint
			for j := 0; j < 3+rnd.IntN(9); j++ {
				p := geom.TruePoint{c[0] + rnd.Float64()*40 - 20, c[1] + rnd.Float64()*40 - 20}
				r, q = append(r, p), append(q, geom.TruePoint{-p[1], p[0]})
			}
			rings, turned = append(rings, r), append(turned, q)
		}
		a, b := build(t, rings), build(t, turned)
		assert.Equal(t, len(a.Faces), len(b.Faces))
		assert.Equal(t, len(a.Verts), len(b.Verts))
	}
}

// scene is rings of random corners: coordinates on the grid, from a plain congruential generator, so that another
// program can make the same.
func scene(seed uint64, rings, corners, page, size int64) [][]partition.Point {
	next := func(n int64) int64 {
		seed = seed*6364136223846793005 + 1442695040888963407
		return int64(seed>>33) % n
	}
	var out [][]partition.Point
	for range rings {
		x, y := next(page), next(page)
		var r []partition.Point
		for range corners {
			px := x + next(size) - size/2 - page/2
			r = append(r, partition.Point{X: px, Y: y + next(size) - size/2 - page/2})
		}
		out = append(out, r)
	}
	return out
}

func arrange(t testing.TB, rings [][]partition.Point) *partition.Arrangement {
	b := partition.NewBuilder()
	for i, r := range rings {
		b.Ring(i, r)
	}
	a, err := b.Build()
	require.NoError(t, err)
	require.NoError(t, a.Check())
	return a
}

// width of a face: twice its outer loop's area over its length, in units.
func width(a *partition.Arrangement, face int) float64 {
	area, length := 0.0, 0.0
	start := a.Faces[face].Loops[0]
	for h := start; ; {
		p, q := a.Verts[a.Halves[h].From], a.Verts[a.Halves[h].To]
		area += float64(p.X*q.Y - p.Y*q.X)
		length += math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
		if h = a.Halves[h].Next; h == start {
			return area / length
		}
	}
}

// Random scenes against the exact arrangement: counts by another program with rational arithmetic (all pairs of
// segments, crossings as fractions, half-edges sorted by the segments' own directions), stored here. Exact cells finer
// than the clearance of two units cannot be kept; all that are wider by far are there.
func TestExactCounts(t *testing.T) {
	for _, c := range []struct {
		seed                       uint64
		rings, corners, page, size int64
		faces                      int // of the exact arrangement, the outside one of them
		wider17, wider20, wider23  int // faces wider than so many units
	}{
		{1, 20, 25, 1000000, 400000, 4411, 4371, 4366, 4359},
		{2, 50, 10, 1000000, 300000, 1716, 1702, 1700, 1699},
		{3, 200, 10, 1000000, 150000, 8595, 8492, 8478, 8463},
		{4, 100, 20, 1000000, 150000, 11046, 10885, 10858, 10832},
		{5, 1200, 10, 1500000, 60000, 28951, 28411, 28338, 28254},
		{6, 4000, 3, 1500000, 40000, 10400, 10212, 10181, 10153},
	} {
		a := arrange(t, scene(c.seed, c.rings, c.corners, c.page, c.size))
		n := 0
		for f := range a.Faces[1:] {
			if width(a, f+1) >= 20 {
				n++
			}
		}
		assert.InDelta(t, c.wider20, n, 6, "scene %d: a cell at the threshold may fall to either side", c.seed)
		assert.True(t, c.wider23 <= n && n <= c.wider17, "scene %d: %d", c.seed, n)
		assert.InEpsilon(t, c.faces, len(a.Faces), 0.003, "scene %d", c.seed)
		assert.LessOrEqual(t, len(a.Faces), c.faces, "scene %d: no cell is made up", c.seed)
		t.Logf("scene %d: %d faces of %d, wider than 20 units: %d of %d", c.seed, len(a.Faces), c.faces, n, c.wider20)
	}
}

// The order in which outlines are painted, and which way round they run, change no cell.
func TestOrderOfPainting(t *testing.T) {
	rings := scene(9, 60, 9, 1000000, 200000)
	for _, r := range rings {
		slices.Reverse(r)
	}
	a := arrange(t, rings)
	slices.Reverse(rings)
	b := arrange(t, rings)
	sorted := func(a *partition.Arrangement) (out []int64) {
		for _, f := range a.Faces {
			out = append(out, f.Area2)
		}
		slices.Sort(out)
		return out
	}
	assert.Equal(t, sorted(a), sorted(b))
	assert.ElementsMatch(t, a.Verts, b.Verts)
}

// A drawing is the same drawing a billionth wide, or a billion page widths away.
func TestScaleAndPlace(t *testing.T) {
	const body = `<circle cx="60" cy="60" r="40" fill="#c00"/><path d="M20 150C60 90 120 210 180 130" fill="none" stroke="#00c" stroke-width="12" stroke-linecap="round" stroke-dasharray="30 14"/>
		<rect x="90" y="30" width="80" height="50" rx="9" fill="#0c0" transform="rotate(17 130 55)"/>`
	of := func(svg string) (shares []float64, rings int) {
		art, found, err := artwork.Parse([]byte(svg))
		require.NoError(t, err)
		require.Empty(t, found)
		m, _, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
		require.NoError(t, err)
		sum := 0.0
		for _, r := range m.Regions {
			rings += len(r.Shape)
			sum += r.Area
		}
		for _, c := range m.Colours {
			shares = append(shares, c.Area/sum)
		}
		return shares, rings
	}
	want, rings := of(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + body + `</svg>`)
	for name, svg := range map[string]string{
		"a billionth":          `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2e-7 2e-7"><g transform="scale(1e-9)">` + body + `</g></svg>`,
		"a billion times":      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2e11 2e11"><g transform="scale(1e9)">` + body + `</g></svg>`,
		"a billion units away": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="1e9 -1e9 200 200"><g transform="translate(1e9 -1e9)">` + body + `</g></svg>`,
		"a billion pages away": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="2e11 2e11 200 200"><g transform="translate(2e11 2e11)">` + body + `</g></svg>`,
	} {
		got, n := of(svg)
		assert.Equal(t, rings, n, name)
		require.Len(t, got, len(want), name)
		for i := range want {
			assert.InDelta(t, want[i], got[i], 2e-4, name)
		}
	}
}

// No vertex is nearer than two units to another or to an edge that does not end in it.
func TestClearance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	var rings [][]geom.TruePoint
	for k := 0; k < 12; k++ {
		var r []geom.TruePoint
		for j := 0; j < 8; j++ {
			r = append(r, geom.TruePoint{rnd.Float64() * 0.01, rnd.Float64() * 0.01}) // a hundred units wide
		}
		rings = append(rings, r)
	}
	a := build(t, rings)
	for v, p := range a.Verts {
		for i := 0; i < len(a.Halves); i += 2 {
			h := a.Halves[i]
			if int(h.From) != v && int(h.To) != v {
				d := geom.SegmentDist(p.True(), a.Verts[h.From].True(), a.Verts[h.To].True())
				assert.Greater(t, d, 2*partition.Unit*0.999)
			}
		}
	}
}

func frame() partition.Frame {
	w := artwork.RGB{255, 255, 255}
	return partition.Frame{
		ToTrue:        geom.ToTrue{0.5625, 0, 0, -0.5625, -56.25, 56.25},
		LogRadius:     75,
		JacketRadius:  69,
		PictureRadius: 56.25,
		Ground:        w,
		Jacket:        w,
		LikeDE2000:    3,
		SliverMM:      0.02,
		FlattenMM:     0.01,
	}
}

func mapOf(t testing.TB, body string) *partition.Map {
	art, found, err := artwork.Parse(
		[]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + body + `</svg>`))
	require.NoError(t, err)
	require.Empty(t, found)
	m, _, err := partition.Of(art, frame())
	require.NoError(t, err)
	return m
}

func area(m *partition.Map, hex string) float64 {
	for _, c := range m.Colours {
		if c.RGB.Hex() == hex {
			return c.Area / 0.5625 / 0.5625
		}
	}
	return 0
}

// The painter's model: what is painted later hides what is below; areas in square user units by schoolbook formulae.
func TestPainting(t *testing.T) {
	for _, c := range []struct {
		name, body string
		want       map[string]float64
	}{
		{"circle over square", `<rect x="60" y="60" width="80" height="80" fill="#00f"/><circle cx="100" cy="100" r="20" fill="#f00"/>`,
			map[string]float64{"#0000ff": 6400 - 400*math.Pi, "#ff0000": 400 * math.Pi}},
		{"even-odd star has a hole", `<path d="M100 50L129.39 140.45L52.45 84.55L147.55 84.55L70.61 140.45Z" fill-rule="evenodd" fill="#f00"/>`,
			// Star {5/2} less its inner pentagon (5/2 r^2 sin 72, r = 0.381966 R)
			map[string]float64{"#ff0000": 50 * 50 * (1.12256994 - 0.34690)}},
		{"stroke of a line", `<path d="M50 100H150" stroke="#f00" stroke-width="10" fill="none"/>`, map[string]float64{"#ff0000": 1000}},
		{"round caps", `<path d="M50 100H150" stroke="#f00" stroke-width="10" stroke-linecap="round"/>`, map[string]float64{"#ff0000": 1000 + 25*math.Pi}},
		{"square with a miter stroke", `<rect x="60" y="60" width="80" height="80" fill="none" stroke="#f00" stroke-width="10"/>`, map[string]float64{"#ff0000": 90*90 - 70*70}},
		{"bevel stroke", `<rect x="60" y="60" width="80" height="80" fill="none" stroke="#f00" stroke-width="10" stroke-linejoin="bevel"/>`, map[string]float64{"#ff0000": 90*90 - 70*70 - 4*12.5}},
		{"round join", `<rect x="60" y="60" width="80" height="80" fill="none" stroke="#f00" stroke-width="10" stroke-linejoin="round"/>`, map[string]float64{"#ff0000": 80*80 + 4*80*5 + 25*math.Pi - 70*70}},
		{"dashes", `<path d="M50 100H150" stroke="#f00" stroke-width="10" stroke-dasharray="10"/>`, map[string]float64{"#ff0000": 500}},
		{"clip path", `<clipPath id="c"><circle cx="100" cy="100" r="30"/></clipPath><rect x="50" y="100" width="100" height="60" fill="#f00" clip-path="url(#c)"/>`,
			map[string]float64{"#ff0000": 450 * math.Pi}},
		{"use, group, transform", `<defs><rect id="r" width="10" height="20"/></defs><g fill="#f00" transform="translate(80 80) scale(2)"><use href="#r" x="1"/></g>`, map[string]float64{"#ff0000": 800}},
		{"styles by class, id, descendant", `<style>.a{fill:#f00} #b{fill:#0f0} g rect{stroke:none} g .a{fill:#00f}</style><rect class="a" x="60" y="60" width="10" height="10"/><rect class="a" id="b" x="80" y="60" width="10" height="10"/><g><rect class="a" x="100" y="60" width="10" height="10"/></g>`,
			map[string]float64{"#ff0000": 100, "#00ff00": 100, "#0000ff": 100}},
		{"currentColor and nested svg", `<svg x="50" y="50" width="100" height="100" viewBox="0 0 10 10" color="#f00"><rect x="2" y="2" width="3" height="3" fill="currentColor"/></svg>`, map[string]float64{"#ff0000": 900}},
		// SVG 2 implementation notes: radii scaled up to 5
		{"arc with radii too small", `<path transform="translate(60 100) scale(4)" d="M0,0 A1,1 0 0 1 10,0 Z" fill="#f00"/>`, map[string]float64{"#ff0000": 16 * 39.269908}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := mapOf(t, c.body)
			for hex, want := range c.want {
				// Chords within 0.01 mm of an 11 mm circle lose 0.1 % of its area
				assert.InEpsilon(t, want, area(m, hex), 1.5e-3, hex)
			}
		})
	}
}

// Paint that lets through, and paint that is blended, becomes the colour that is seen on a white ground. Formulae: W3C,
// Compositing and Blending 1 (co = cs as + cb (1 - as); multiply, screen, difference, luminosity) and CSS Masking 1
// (0.2125 R + 0.7154 G + 0.0721 B).
func TestSeen(t *testing.T) {
	const r60 = `<rect x="60" y="60" width="40" height="40" `
	for _, c := range []struct {
		name, body string
		want       map[string]float64
	}{
		{"half red over blue", r60 + `fill="#00f"/>` + r60 + `fill="#f00" fill-opacity=".5"/>`, map[string]float64{"#800080": 1600}},
		{"a group is put together first", `<g opacity=".5">` + r60 + `fill="#f00"/><rect x="80" y="60" width="40" height="40" fill="#00f"/></g>`, map[string]float64{"#ff8080": 800, "#8080ff": 1600}},
		{"opacities multiply", `<g opacity=".5"><g opacity=".5">` + r60 + `fill="#000"/></g></g>`, map[string]float64{"#bfbfbf": 1600}},
		{"fill and stroke of one shape are one group", `<rect x="60" y="60" width="40" height="40" opacity=".5" fill="#f00" stroke="#00f" stroke-width="4"/>`, map[string]float64{"#ff8080": 36 * 36, "#8080ff": 44*44 - 36*36}},
		{"multiply", r60 + `fill="#ff0"/>` + r60 + `fill="#0ff" style="mix-blend-mode:multiply"/>`, map[string]float64{"#00ff00": 1600}},
		// 1 - (1 - 0.502)^2 = 0.752
		{"screen", r60 + `fill="#800000"/>` + r60 + `fill="#800080" style="mix-blend-mode:screen"/>`, map[string]float64{"#c00080": 1600}},
		{"difference", r60 + `fill="#ff8000"/>` + r60 + `fill="#ff00ff" style="mix-blend-mode:difference"/>`, map[string]float64{"#0080ff": 1600}},
		{"luminosity of grey", r60 + `fill="#808080"/>` + r60 + `fill="#fff" style="mix-blend-mode:luminosity"/>`, map[string]float64{"#ffffff": 0}},
		{"an isolated group is not blended with what is below", r60 + `fill="#ff0"/><g style="isolation:isolate">` + r60 + `fill="#0ff" style="mix-blend-mode:multiply"/></g>`, map[string]float64{"#00ffff": 1600}},
		{"white lets through, black does not", `<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="200" height="200"><rect width="200" height="200" fill="#fff"/><rect x="80" width="20" height="200"/></mask>` + r60 + `fill="#f00" mask="url(#m)"/>`, map[string]float64{"#ff0000": 800}},
		{"grey lets half through", `<mask id="m"><rect width="200" height="200" fill="#808080"/></mask>` + r60 + `fill="#000" mask="url(#m)"/>`, map[string]float64{"#7f7f7f": 1600}},
		// 255 (1 - 0.7154)
		{"green is lighter than blue", `<mask id="m"><rect width="200" height="200" fill="#0f0"/></mask>` + r60 + `fill="#000" mask="url(#m)"/>`, map[string]float64{"#494949": 1600}},
		{"by alpha", `<mask id="m" mask-type="alpha"><rect width="200" height="80"/></mask>` + r60 + `fill="#f00" mask="url(#m)"/>`, map[string]float64{"#ff0000": 800}},
		{"a mask's own rectangle is a tenth wider than the shape", `<mask id="m"><rect width="200" height="200" fill="#fff"/></mask><rect x="60" y="60" width="40" height="40" fill="none" stroke="#f00" stroke-width="40" mask="url(#m)"/>`, map[string]float64{"#ff0000": 48 * 48}},
	} {
		t.Run(c.name, func(t *testing.T) {
			art, found, err := artwork.Parse(
				[]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + c.body + `</svg>`))
			require.NoError(t, err)
			assert.Less(t, found.Worst(), finding.Warning)
			f := frame()
			f.LikeDE2000 = 0
			m, _, err := partition.Of(art, f)
			require.NoError(t, err)
			for hex, want := range c.want {
				if want > 0 {
					assert.InEpsilon(t, want, area(m, hex), 1e-3, hex)
				}
			}
		})
	}
}

// Corners of the standards (W3C: SVG 2, CSS Masking 1, CSS Cascade), areas by schoolbook formulae.
func TestCornersOfTheStandard(t *testing.T) {
	for _, c := range []struct {
		name, body string
		want       float64 // red
	}{
		{"a use's place is part of its transform, for its clip too", `<clipPath id="c"><rect width="20" height="20"/></clipPath><defs><rect id="r" width="40" height="40"/></defs><use href="#r" x="60" y="60" clip-path="url(#c)" fill="#f00"/>`, 400},
		{"geometry in a style sheet", `<style>circle{r:40px;cx:100px}</style><circle cy="100" fill="#f00"/>`, 1600 * math.Pi},
		{"the box of a clip path's clip path is the target's", `<clipPath id="d" clipPathUnits="objectBoundingBox"><rect width=".5" height="1"/></clipPath><clipPath id="c" clip-path="url(#d)"><circle cx="100" cy="100" r="40"/></clipPath><rect x="50" y="50" width="100" height="100" fill="#f00" clip-path="url(#c)"/>`, 800 * math.Pi},
		{"words in capitals", `<rect x="60" y="60" width="40" height="40" fill="#f00" style="display:NONE"/><path d="M60 60h40v40h-40z M70 70h20v20h-20z" fill="red" fill-rule="EvenOdd"/>`, 1600 - 400},
		{"rules for print are not for us, others are", `<style media="print">rect{fill:#00f}</style><style>@media print{rect{fill:#0f0}} @media screen and (min-width:1px){rect{fill:#f00}}</style><rect x="60" y="60" width="40" height="40"/>`, 1600},
		{":root", `<style>:root{fill:#f00}</style><rect x="60" y="60" width="40" height="40"/>`, 1600},
		{"dashes of no length are dots", `<path d="M60 100h70" stroke="#f00" stroke-width="10" stroke-dasharray="0 20" stroke-linecap="round"/>`, 4 * 25 * math.Pi},
		{"pathLength measures the dashes", `<circle cx="100" cy="100" r="30" pathLength="100" fill="none" stroke="#f00" stroke-width="10" stroke-dasharray="25"/>`, math.Pi * (35*35 - 25*25) / 2},
		{"a move alone is no line", `<path d="M60 60H100M130 130" stroke="#f00" stroke-width="10" stroke-linecap="round"/>`, 400 + 25*math.Pi},
		{"a pen wider than the bend", `<path d="M90 100A10 10 0 0 1 110 100" fill="none" stroke="#f00" stroke-width="60"/>`, math.Pi * (40*40 + 20*20) / 2},
		{"stroke under fill", `<rect x="60" y="60" width="40" height="40" fill="#0f0" stroke="#f00" stroke-width="20" paint-order="markers stroke"/>`, 60*60 - 40*40},
	} {
		t.Run(c.name, func(t *testing.T) {
			// Chords within 0.01 mm of a circle of 2.8 mm lose 0.45 %
			assert.InEpsilon(t, c.want, area(mapOf(t, c.body), "#ff0000"), 5e-3)
		})
	}
}

func TestLikeColoursMerge(t *testing.T) {
	m := mapOf(t,
		`<rect x="60" y="60" width="40" height="40" fill="#ff0000"/><rect x="100" y="60" width="40" height="40" fill="#fe0000"/>`)
	assert.Len(t, m.Colours, 2)
	m = mapOf(t,
		`<rect x="60" y="60" width="40" height="40" fill="#ff0000"/><rect x="100" y="60" width="40" height="40" fill="#d00000"/>`)
	assert.Len(t, m.Colours, 3)
}

// Random polygons noded, labelled and dissolved into three colours. The same scenes went through GEOS at fixed
// precision by hand (geom/artwork/README.md).
func BenchmarkPartition(b *testing.B) {
	for _, c := range []struct {
		name                              string
		seed                              uint64
		rings, corners, page, size, count int64
	}{
		{"500 segments", 1, 20, 25, 1000000, 400000, 500},
		{"2000 segments", 3, 200, 10, 1000000, 150000, 2000},
		{"12000 segments of triangles", 6, 4000, 3, 1500000, 40000, 12000},
		{"12000 segments", 5, 1200, 10, 1500000, 60000, 12000},
		{"25000 segments of triangles", 7, 8333, 3, 2000000, 40000, 25000},
		{"50000 segments of triangles", 8, 16666, 3, 2800000, 40000, 50000},
		{"100000 segments of triangles", 9, 33333, 3, 4000000, 40000, 100000},
	} {
		rings := scene(c.seed, c.rings, c.corners, c.page, c.size)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				builder := partition.NewBuilder()
				for i, r := range rings {
					builder.Ring(i, r)
				}
				a, err := builder.Build()
				require.NoError(b, err)
				var of [3][]int32
				colour := make([]int, len(a.Faces))
				a.Windings(func(face int, _, round []int32) {
					if colour[face] = len(round) % 3; face > 0 {
						of[colour[face]] = append(of[colour[face]], int32(face))
					}
				})
				regions := 0
				for k, faces := range of {
					regions += len(a.Regions(a.Union(func(f int32) bool { return f > 0 && colour[f] == k }, faces)))
				}
				if regions == 0 {
					b.Fatal("nothing")
				}
			}
		})
	}
}
