package trace

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/vector"
)

// painted lays polygons over white with the rasterizer of golang.org/x/image, which covers pixels by area.
func painted(side int, shapes []shape) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for _, s := range shapes {
		r := vector.NewRasterizer(side, side)
		for i, p := range s.points {
			if i == 0 {
				r.MoveTo(float32(p[0]), float32(p[1]))
			} else {
				r.LineTo(float32(p[0]), float32(p[1]))
			}
		}
		r.ClosePath()
		r.Draw(img, img.Bounds(), image.NewUniform(s.fill), image.Point{})
	}
	return img
}

type shape struct {
	fill   color.RGBA
	points []point
}

func disc(x, y, r float64, c color.RGBA) shape {
	s := shape{fill: c}
	for i := range 360 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 180)
		s.points = append(s.points, point{x + r*cos, y + r*sin})
	}
	return s
}

var (
	red   = color.RGBA{0xd0, 0x20, 0x2a, 255}
	blue  = color.RGBA{0x20, 0x40, 0xa0, 255}
	cream = color.RGBA{0xf8, 0xe8, 0xc0, 255}
)

// scene is a disc with a triangle that reaches its border, and a bar of two pixels and a half.
func scene(side int) []shape {
	k := float64(side) / 400
	tri := shape{blue, []point{{200 * k, 90.3 * k}, {310.7 * k, 250.2 * k}, {120.4 * k, 260.6 * k}}}
	bar := shape{cream, []point{{150 * k, 300 * k}, {250 * k, 305 * k}, {250 * k, 307.6 * k}, {150 * k, 302.6 * k}}}
	return []shape{disc(200*k, 200*k, 140.4*k, red), tri, bar}
}

// traced is what becomes of a picture: its chains and areas.
func traced(img image.Image) (*borders, []int32, [][]int) {
	l := read(img, false).label()
	l.specks(6)
	b := follow(l)
	b.fit()
	area, members := l.areas()
	return b, area, members
}

// polygonArea of a ring, square pixels.
func polygonArea(p []point) (sum float64) {
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += a[0]*b[1] - a[1]*b[0]
	}
	return math.Abs(sum) / 2
}

// Areas and corners come out finer than the pixels, in the colours that were painted.
func TestScene(t *testing.T) {
	shapes := scene(400)
	b, area, members := traced(painted(400, shapes))
	require.Len(t, b.colours, 4)
	byFill := map[rgb]float64{}
	var triangle []point
	for _, m := range members {
		c := b.colours[b.at[m[0]]]
		for i, uses := range b.rings(m, area) {
			ring := b.ring(uses)
			if i == 0 {
				byFill[c] += polygonArea(ring)
			} else {
				byFill[c] -= polygonArea(ring)
			}
			if c == (rgb{blue.R, blue.G, blue.B}) {
				triangle = ring
			}
		}
	}
	assert.InEpsilon(t, polygonArea(shapes[1].points), byFill[rgb{blue.R, blue.G, blue.B}], 0.002)
	assert.InEpsilon(t, polygonArea(shapes[2].points), byFill[rgb{cream.R, cream.G, cream.B}], 0.06)
	assert.InEpsilon(t, polygonArea(shapes[0].points)-polygonArea(shapes[1].points)-polygonArea(shapes[2].points), byFill[rgb{red.R, red.G, red.B}], 0.002)
	require.Len(t, triangle, 3, "straight sides are straight")
	for _, corner := range shapes[1].points {
		near := math.Inf(1)
		for _, p := range triangle {
			near = min(near, dist(p, corner))
		}
		assert.Less(t, near, 0.3)
	}
}

// Every border but the page's is in two areas, with the same points.
func TestShared(t *testing.T) {
	b, area, members := traced(painted(300, scene(300)))
	edges := map[[2]point]int{}
	for _, m := range members {
		for _, uses := range b.rings(m, area) {
			ring := b.ring(uses)
			for i, p := range ring {
				edges[[2]point{p, ring[(i+1)%len(ring)]}]++
			}
		}
	}
	page := func(p point) bool { return p[0] == 0 || p[1] == 0 || p[0] == 300 || p[1] == 300 }
	for e, n := range edges {
		assert.Equal(t, 1, n)
		if !page(e[0]) || !page(e[1]) {
			assert.Equal(t, 1, edges[[2]point{e[1], e[0]}], "%v", e)
		}
	}
}

// A lossy file has its colours still, and no others.
func TestLossy(t *testing.T) {
	var buf bytes.Buffer
	require.NoError(t, jpeg.Encode(&buf, painted(400, scene(400)), &jpeg.Options{Quality: 60}))
	img, err := jpeg.Decode(&buf)
	require.NoError(t, err)
	l := read(img, false)
	assert.True(t, l.lossy)
	assert.False(t, read(painted(400, scene(400)), false).lossy)
	b, _, _ := traced(img)
	for _, want := range []color.RGBA{red, blue} {
		near := math.Inf(1)
		for _, c := range b.colours {
			near = min(near, differ(labOf(c), labOf(rgb{want.R, want.G, want.B})))
		}
		assert.Less(t, near, 4.0)
	}
	assert.LessOrEqual(t, len(b.colours), 5)
}

// What is transparent is not painted; an empty, a small and a plain picture are traced as well; same picture, same bytes.
func TestEdges(t *testing.T) {
	text := func(img image.Image) string {
		out, err := Picture(img, Options{})
		require.NoError(t, err)
		return string(out.SVG)
	}
	img := image.NewNRGBA(image.Rect(0, 0, 60, 60))
	assert.NotContains(t, text(img), "<path")
	for y := 20; y < 40; y++ {
		for x := 20; x < 40; x++ {
			img.Set(x, y, red)
		}
	}
	assert.Contains(t, text(img), `L20 20`)
	assert.Equal(t, 1, strings.Count(text(img), "<path"))
	assert.Contains(t, text(painted(1, nil)), `fill="#ffffff"`)
	assert.Contains(t, text(painted(40, nil)), `fill="#ffffff"`)
	assert.NotContains(t, text(image.NewNRGBA(image.Rect(0, 0, 0, 0))), "<path")
	one := painted(300, scene(300))
	assert.Equal(t, text(one), text(one))
	noise := image.NewNRGBA(image.Rect(0, 0, 400, 400))
	for i := range noise.Pix {
		noise.Pix[i] = byte(i * i / 7 % 251)
	}
	for i := 3; i < len(noise.Pix); i += 4 {
		noise.Pix[i] = 255
	}
	_, err := Picture(noise, Options{})
	assert.ErrorIs(t, err, ErrPhoto)
}

func BenchmarkPicture(b *testing.B) {
	img := painted(800, scene(800))
	for b.Loop() {
		if _, err := Picture(img, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
