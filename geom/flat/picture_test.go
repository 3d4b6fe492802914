package flat_test

import (
	"flag"
	"fmt"
	"image"
	"image/color"
	draw2 "image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/vector"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
)

// drawn paints a map's regions as the page places them. Each pixel is the sum of the regions' colours by the area that
// they cover in it (golang.org/x/image/vector), so that no border lets white through.
func drawn(page artwork.Page, m *partition.Map, w, h int) *image.NRGBA {
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

// Colours count as one within exact on flat areas (rounding), and within blur where an edge is near: there pictures
// smoothed in different ways let different shares of what lies below show through.
const (
	exact = 2
	blur  = 24
)

// differ is the share of painted pixels of either picture whose colour lies outside the range of the other's 3 x 3
// pixels round it: one pixel of tolerance at edges.
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

// most is the share of painted pixels that may differ.
const most = 0.002

// compared is one file's outcome: how much it differs, and what was refused.
type compared struct {
	name    string
	share   float64
	refused string // the first error, with its place
	fault   string
}

// against reads, divides and draws a file, and compares it with its expected picture.
func against(t testing.TB, data []byte, want *image.NRGBA) (c compared) {
	art, found, err := artwork.Parse(data)
	if err != nil {
		c.share, c.refused = 1, err.Error()
		return c
	}
	m, more, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	if err != nil {
		c.share, c.fault = 1, err.Error()
		return c
	}
	for _, f := range append(found, more...) {
		if f.Severity == finding.Error && f.Source.Line > 0 && c.refused == "" {
			c.refused = f.Wording()
		}
	}
	c.share = differ(drawn(art.Page, m, want.Bounds().Dx(), want.Bounds().Dy()), want)
	return c
}

// all compares every SVG of a folder, two at a time.
func all(t *testing.T, dir, expected string) []compared {
	names, err := filepath.Glob(dir + "/*.svg")
	require.NoError(t, err)
	out := make([]compared, len(names))
	var wg sync.WaitGroup
	gate := make(chan bool, 2)
	for i, name := range names {
		wg.Add(1)
		gate <- true
		go func() {
			defer func() { <-gate; wg.Done() }()
			data, err := os.ReadFile(name)
			if !assert.NoError(t, err) {
				return
			}
			base := strings.TrimSuffix(filepath.Base(name), ".svg")
			out[i] = against(t, data, onWhite(t, filepath.Join(expected, base+".png")))
			out[i].name = base
		}()
	}
	wg.Wait()
	return out
}

// The expected pictures of an open test suite (testdata/svgsuite): every file is right, or refused with a place.
func TestSuite(t *testing.T) {
	got := all(t, "../../testdata/svgsuite", "../../testdata/svgsuite")
	require.Len(t, got, 217)
	right, refused := 0, 0
	var list strings.Builder
	for _, c := range got {
		switch {
		case c.share <= most:
			right++
			continue
		case c.refused != "":
			refused++
		}
		fmt.Fprintf(&list, "- %s: %.1f %% of the painted pixels; %s%s\n", c.name, 100*c.share, c.refused, c.fault)
	}
	assert.Equal(t, len(got), right+refused, list.String())
	note(t, "suite",
		fmt.Sprintf("%d of %d agree, %d more are refused with a place.\n%s", right, len(got), refused, list.String()))
}

// The open drawings, against pictures drawn by librsvg 2.54.7 at 512 pixels (rsvg-convert -w 512).
func TestOpenDrawings(t *testing.T) {
	got := all(t, "../../testdata/corpora", "../../testdata/corpora/expected")
	require.Len(t, got, 40)
	worst := compared{}
	for _, c := range got {
		assert.LessOrEqual(t, c.share, most, "%s %s%s", c.name, c.refused, c.fault)
		if c.share > worst.share {
			worst = c
		}
	}
	note(
		t,
		"open",
		fmt.Sprintf("All %d agree; the largest share of differing pixels is %.3f %% (%s).\n", len(got), 100*worst.share,
			worst.name),
	)
}

var update = flag.Bool("update", false, "write what is measured into testdata/results")

// note writes a result, when asked to.
func note(t *testing.T, name, text string) {
	if *update {
		require.NoError(t, os.WriteFile("../../testdata/results/"+name+".md", []byte(text), 0o644))
	}
}
