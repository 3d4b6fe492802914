package flat_test

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/draw"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/geom/steps"
)

// The pictures beside the drawings of testdata/paint, which are our own, were drawn of them by Chromium 156.

// A gradient has at each place the colour that a browser gives it: linear, radial and focal, in both units, with transforms, in each
// way of going on beyond its ends, transparent, and with hard stops.
func TestGradients(t *testing.T) {
	data, err := os.ReadFile("../../testdata/paint/gradients.svg")
	require.NoError(t, err)
	art, found, err := artwork.Parse(data)
	require.NoError(t, err)
	require.Empty(t, found.Errors())
	want := onWhite(t, "../../testdata/paint/gradients.png")
	eye := artwork.NewEye(art)
	layers := art.Pictures[0].Layers
	require.Len(t, layers, 10)
	looked := 0
	for i, l := range layers {
		require.NotNil(t, l.Shade)
		holds := []int32{int32(l.Outline)}
		for _, c := range l.Clips {
			for _, in := range art.Pictures[c].Layers {
				holds = append(holds, int32(in.Outline))
			}
		}
		col, row := i%4, i/4
		for y := 100*row + 20; y < 100*row+55; y += 3 {
			for x := 100*col + 25; x < 100*col+75; x += 3 {
				got, _ := eye.SeeAt(holds, geom.ArtworkPoint{float64(x) + 0.5, float64(y) + 0.5}, artwork.RGB{255, 255, 255})
				c := want.NRGBAAt(x, y)
				near := 4.0
				if lo, hi := around(want, x, y); i == 2 || i == 9 { // stripes and hard stops: as far as the pixels beside
					near += float64(max(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2]))
				}
				for k, v := range [3]uint8{c.R, c.G, c.B} {
					assert.InDelta(t, v, got[k], near, "gradient %d at %d, %d", i, x, y)
				}
				looked++
			}
		}
	}
	assert.Greater(t, looked, 1500)
}

// Patterns are shapes, tile by tile; one that is too fine becomes its colour in the mean, and is a change.
func TestPatterns(t *testing.T) {
	data, err := os.ReadFile("../../testdata/paint/patterns.svg")
	require.NoError(t, err)
	art, found, err := steps.Read(data, steps.Options{Ground: artwork.RGB{255, 255, 255}})
	require.NoError(t, err)
	require.Empty(t, found.Errors())
	require.Len(t, art.Altered, 1)
	assert.Equal(t, "pattern", art.Altered[0].Case)
	m, _, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	require.NoError(t, err)
	want := onWhite(t, "../../testdata/paint/patterns.png")
	got := drawn(art.Page, m, 200, 200)
	fine := image.Rect(7, 107, 63, 193)
	cover := math.Pi / 9 // a disc of radius 1 in a tile of side 3, #800 on white
	for k, v := range [3]float64{136, 0, 0} {
		assert.InDelta(t, cover*v+(1-cover)*255, mean(got, fine, k), 3)
	}
	for _, p := range []*image.NRGBA{want, got} {
		draw.Draw(p, fine.Inset(-4), image.NewUniform(color.White), image.Point{}, draw.Src)
	}
	assert.Less(t, differ(got, want), 0.003)
}

func mean(p *image.NRGBA, r image.Rectangle, k int) float64 {
	sum := 0.0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			c := p.NRGBAAt(x, y)
			sum += float64([3]uint8{c.R, c.G, c.B}[k])
		}
	}
	return math.Round(sum / float64(r.Dx()*r.Dy()))
}

// Text is set in the font that the file holds as a browser sets it: kerning, anchors, lists of places, turned and spaced letters, lengths
// that are asked for, an arc, baselines, white space, as a clip. The fonts are Go's own (golang.org/x/image, BSD), put in here.
func TestText(t *testing.T) {
	data, err := os.ReadFile("../../testdata/paint/text.svg")
	require.NoError(t, err)
	for mark, ttf := range map[string][]byte{"@REG@": goregular.TTF, "@BOLD@": gobold.TTF} {
		data = bytes.ReplaceAll(data, []byte(mark), []byte(base64.StdEncoding.EncodeToString(ttf)))
	}
	art, found, err := artwork.Parse(data)
	require.NoError(t, err)
	require.Empty(t, found)
	assert.Empty(t, art.Altered)
	m, _, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	require.NoError(t, err)
	want := onWhite(t, "../../testdata/paint/text.png")
	got := drawn(art.Page, m, 400, 400)
	assert.Less(t, inkOff(got, want), 0.02)
}

// inkOff is the share of dark dots of one picture that have no dark dot of the other within one dot.
func inkOff(a, b *image.NRGBA) float64 {
	dark := func(p *image.NRGBA, x, y int) bool {
		c := p.NRGBAAt(x, y)
		return int(c.R)+int(c.G)+int(c.B) < 3*128
	}
	all, off := 0, 0
	for _, pair := range [2][2]*image.NRGBA{{a, b}, {b, a}} {
		for y := 1; y < 399; y++ {
			for x := 1; x < 399; x++ {
				if !dark(pair[0], x, y) {
					continue
				}
				all++
				near := false
				for k := range 9 {
					near = near || dark(pair[1], x+k%3-1, y+k/3-1)
				}
				if !near {
					off++
				}
			}
		}
	}
	return float64(off) / float64(all)
}
