package raster_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/render/page"
	"sugarwright/render/raster"
)

// An area is where it was put, in its colour; a stroke is as wide as it says; a text leaves ink inside its box only.
func TestDraw(t *testing.T) {
	pg := &page.Page{W: 40, H: 30}
	pg.Add(page.Path{Rings: [][]page.Point{page.Rect(5, 5, 10, 10), {{7, 7}, {7, 9}, {9, 9}, {9, 7}}}, Fill: "#c02030"})
	pg.Line(page.Point{20, 20}, page.Point{38, 20}, 1)
	pg.Write(page.Text{At: page.Point{20, 10}, Size: 3, Text: "88"})
	img := raster.Draw(pg, 10)
	require.Equal(t, 400, img.Rect.Dx())
	require.Equal(t, 300, img.Rect.Dy())
	white, red := color.RGBA{255, 255, 255, 255}, color.RGBA{0xc0, 0x20, 0x30, 255}
	assert.Equal(t, red, img.RGBAAt(60, 60))
	assert.Equal(t, white, img.RGBAAt(80, 80), "the hole runs the other way round")
	assert.Equal(t, white, img.RGBAAt(40, 60))
	dark := 0
	for y := 180; y < 220; y++ {
		if img.RGBAAt(300, y).R < 128 {
			dark++
		}
	}
	assert.InDelta(t, 10, dark, 1)
	box, ok := pg.Items[len(pg.Items)-1].Text.Box()
	require.True(t, ok)
	ink := 0
	for y := range 180 {
		for x := 160; x < 400; x++ {
			if img.RGBAAt(x, y).R < 200 {
				ink++
				assert.True(
					t,
					float64(x) >= box[0]*10-2 && float64(x) <= box[2]*10+2 && float64(y) >= box[1]*10-2 &&
						float64(y) <= box[3]*10+2,
				)
			}
		}
	}
	assert.Greater(t, ink, 100)
}

// The file has the pixels of its dots an inch.
func TestPNG(t *testing.T) {
	data, err := raster.PNG(&page.Page{W: 25.4, H: 50.8}, 100)
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	assert.Equal(t, 100, img.Bounds().Dx())
	assert.Equal(t, 200, img.Bounds().Dy())
}

// A dashed line has gaps, about as much of it as paint; a hatch is cut at its area.
func TestDashes(t *testing.T) {
	pg := &page.Page{W: 60, H: 20}
	pg.Add(page.Path{Rings: [][]page.Point{{{5, 10}, {55, 10}}}, Open: true, Stroke: "#000000", Width: 1, Dashed: true})
	img := raster.Draw(pg, 10)
	dark, runs, was := 0, 0, false
	for x := 50; x < 550; x++ {
		is := img.RGBAAt(x, 100).R < 128
		if is {
			dark++
		}
		if is && !was {
			runs++
		}
		was = is
	}
	assert.Greater(t, runs, 5)
	assert.Greater(t, dark, 100)
	assert.Less(t, dark, 450)
}

// A picture fills its box, and nothing else; one that is none leaves the sheet white.
func TestPicture(t *testing.T) {
	src := image.NewNRGBA(image.Rect(0, 0, 2, 1))
	src.SetNRGBA(0, 0, color.NRGBA{200, 0, 0, 255})
	src.SetNRGBA(1, 0, color.NRGBA{0, 0, 200, 255})
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, src))
	pg := &page.Page{W: 40, H: 30}
	pg.Show(page.Picture{At: page.Box{10, 10, 30, 20}, PNG: b.Bytes()})
	pg.Show(page.Picture{At: page.Box{0, 0, 5, 5}, PNG: []byte("none")})
	img := raster.Draw(pg.Scaled(0.5), 10)
	assert.Equal(t, color.RGBA{200, 0, 0, 255}, img.RGBAAt(55, 75))
	assert.Equal(t, color.RGBA{0, 0, 200, 255}, img.RGBAAt(145, 75))
	for _, at := range []image.Point{{10, 10}, {45, 75}, {155, 75}, {100, 45}, {100, 105}} {
		assert.Equal(t, color.RGBA{255, 255, 255, 255}, img.RGBAAt(at.X, at.Y))
	}
}
