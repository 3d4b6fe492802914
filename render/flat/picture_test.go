package flat_test

import (
	"fmt"
	"image"
	"image/color"
	draw2 "image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/vector"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
)

// draw paints a map's regions as the page places them. Each pixel is the sum of the regions' colours by the area that they cover in it
// (golang.org/x/image/vector), so that no border lets white through.
func draw(page artwork.Page, m *partition.Map, w, h int) *image.NRGBA {
	toPixel := page.Pixels(float64(w), float64(h))
	sum := make([][4]int, w*h)
	cover := image.NewAlpha(image.Rect(0, 0, w, h))
	for _, r := range m.Regions {
		if r.Source.Line == 0 {
			continue
		}
		z := vector.NewRasterizer(w, h)
		z.DrawOp = draw2.Src
		for _, ring := range r.Shape {
			for i, p := range ring {
				q := m.Frame.ToTrue.Artwork(p)
				x, y := toPixel.Apply(q[0], q[1])
				if i == 0 {
					z.MoveTo(float32(x), float32(y))
				} else {
					z.LineTo(float32(x), float32(y))
				}
			}
			z.ClosePath()
		}
		z.Draw(cover, cover.Bounds(), image.Opaque, image.Point{})
		c := m.Colours[r.Colour].RGB
		for i, a := range cover.Pix {
			if a > 0 {
				sum[i][3] += int(a)
				for k := range c {
					sum[i][k] += int(a) * int(c[k])
				}
			}
		}
	}
	img := image.NewNRGBA(cover.Bounds())
	for i, s := range sum {
		mix := func(k int) uint8 { return uint8(max(0, min(255, (s[k]+(255-s[3])*255+127)/255))) }
		img.SetNRGBA(i%w, i/w, color.NRGBA{mix(0), mix(1), mix(2), 255})
	}
	return img
}

// onWhite reads a PNG and lays it on white.
func onWhite(t testing.TB, name string) *image.NRGBA {
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	src, err := png.Decode(f)
	require.NoError(t, err)
	b := src.Bounds()
	out := image.NewNRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := 0; y < b.Dy(); y++ {
		for x := 0; x < b.Dx(); x++ {
			c := color.NRGBAModel.Convert(src.At(b.Min.X+x, b.Min.Y+y)).(color.NRGBA)
			mix := func(v uint8) uint8 { return uint8((int(v)*int(c.A) + 255*(255-int(c.A)) + 127) / 255) }
			out.SetNRGBA(x, y, color.NRGBA{mix(c.R), mix(c.G), mix(c.B), 255})
		}
	}
	return out
}

// Colours count as one within exact on flat areas (rounding), and within blur where an edge is near: there pictures smoothed in different
// ways let different shares of what lies below show through.
const (
	exact = 2
	blur  = 24
)

// differ is the share of painted pixels of either picture whose colour lies outside the range of the other's 3 x 3 pixels round it: one
// pixel of tolerance at edges.
func differ(a, b *image.NRGBA) float64 {
	painted, wrong := 0, 0
	white := color.NRGBA{255, 255, 255, 255}
	for y := 0; y < a.Bounds().Dy(); y++ {
		for x := 0; x < a.Bounds().Dx(); x++ {
			p, q := a.NRGBAAt(x, y), b.NRGBAAt(x, y)
			if p == white && q == white {
				continue
			}
			painted++
			loA, hiA := around(a, x, y)
			loB, hiB := around(b, x, y)
			slack := exact
			if loA != hiA || loB != hiB {
				slack = blur
			}
			if !within(p, loB, hiB, slack) || !within(q, loA, hiA, slack) {
				wrong++
			}
		}
	}
	return float64(wrong) / float64(max(1, painted))
}

// around is the range of each channel in the 3 x 3 pixels round a pixel.
func around(p *image.NRGBA, x, y int) (lo, hi [3]uint8) {
	lo = [3]uint8{255, 255, 255}
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if q := (image.Point{X: x + dx, Y: y + dy}); q.In(p.Bounds()) {
				c := p.NRGBAAt(q.X, q.Y)
				for i, v := range [3]uint8{c.R, c.G, c.B} {
					lo[i], hi[i] = min(lo[i], v), max(hi[i], v)
				}
			}
		}
	}
	return lo, hi
}

func within(c color.NRGBA, lo, hi [3]uint8, slack int) bool {
	for i, v := range [3]uint8{c.R, c.G, c.B} {
		if int(v)+slack < int(lo[i]) || int(v) > int(hi[i])+slack {
			return false
		}
	}
	return true
}

func TestSuite(t *testing.T) {
	names, err := filepath.Glob("../../testdata/svgsuite/*.svg")
	require.NoError(t, err)
	require.Len(t, names, 217)
	right := 0
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		want := onWhite(t, strings.TrimSuffix(name, ".svg")+".png")
		base := strings.TrimSuffix(filepath.Base(name), ".svg")
		art, found, err := artwork.Parse(data)
		if err != nil {
			fmt.Println(base, "ERR", err)
			continue
		}
		m, fs, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
		require.NoError(t, err)
		found = append(found, fs...)
		d := differ(draw(art.Page, m, want.Bounds().Dx(), want.Bounds().Dy()), want)
		switch {
		case d <= 0.002:
			right++
		default:
			fmt.Printf("%s %.4f\n", base, d)
			for _, f := range found {
				if f.Severity == finding.Error {
					fmt.Println("    ", f.Line(""))
				}
			}
		}
	}
	fmt.Println(right)
}
