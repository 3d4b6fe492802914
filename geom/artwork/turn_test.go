package artwork_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/trace"
)

// exif puts an orientation into a JPEG (CIPA DC-008: tag 0x0112 of the first directory).
func exif(data []byte, how byte, little bool) []byte {
	t := []byte{'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, how, 0, 0, 0, 0, 0, 0}
	if little {
		t = []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, how, 0, 0, 0, 0, 0, 0, 0}
	}
	body := append([]byte("Exif\x00\x00"), t...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, byte(len(body) + 2)}, body...)
	return append(out, data[2:]...)
}

// A picture lies as the camera was held: a red bar that the file has at the left of a page twice as wide as high is where the standard's table of the
// eight orientations puts row 0 and column 0.
func TestTurn(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 240, 120))
	for y := range 120 {
		for x := range 240 {
			c := color.NRGBA{255, 255, 255, 255}
			if x >= 20 && x < 60 && y >= 20 && y < 50 {
				c = color.NRGBA{200, 0, 0, 255}
			}
			img.SetNRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}))
	left, right, top, bottom := 40.0, 200.0, 35.0, 85.0
	for how, at := range map[byte][4]float64{ // page and middle of the bar
		1: {240, 120, left, top}, 2: {240, 120, right, top}, 3: {240, 120, right, bottom}, 4: {240, 120, left, bottom},
		5: {120, 240, top, left}, 6: {120, 240, bottom, left}, 7: {120, 240, bottom, right}, 8: {120, 240, top, right},
		9: {240, 120, left, top},
	} {
		for _, little := range []bool{false, true} {
			art, _, err := artwork.Parse(exif(b.Bytes(), how, little))
			require.NoError(t, err)
			assert.Equal(t, at[:2], []float64{art.Page.View.W, art.Page.View.H})
			layers := art.Pictures[0].Layers
			art.Pictures[0].Layers = layers[len(layers)-1:]
			for _, l := range layers {
				if l.RGB[1] < 60 {
					art.Pictures[0].Layers = []artwork.Layer{l}
				}
			}
			box, ok := art.Bounds()
			require.True(t, ok)
			assert.InDelta(t, at[2], box.X+box.W/2, 1, "orientation %d", how)
			assert.InDelta(t, at[3], box.Y+box.H/2, 1, "orientation %d", how)
		}
	}
}

// What is said of a picture is held to it.
func TestTraceOptions(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, mark(200), nil))
	_, _, err := artwork.ParseAs(b.Bytes(), trace.Options{Corners: &trace.Corners{{0, 0}, {100, 0}, {0, 100}, {100, 100}}})
	assert.ErrorContains(t, err, "corners")
	_, _, err = artwork.ParseAs(b.Bytes(), trace.Options{Corners: &trace.Corners{{0, 0}, {900, 0}, {900, 100}, {0, 100}}})
	assert.ErrorContains(t, err, "corners")
	_, _, err = artwork.ParseAs([]byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), trace.Options{Photo: true})
	assert.ErrorContains(t, err, "is a drawing")
	art, _, err := artwork.ParseAs(b.Bytes(), trace.Options{Colours: 1})
	require.NoError(t, err)
	assert.Len(t, art.Pictures[0].Layers, 1)
}

// Light that falls off across paper is said, with what evens it out; where that is done already, it is not.
func TestUneven(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 300, 200))
	for y := range 200 {
		for x := range 300 {
			v := uint8(250 - x/3)
			if c := (color.NRGBA{v, v, v - 4, 255}); (x-150)*(x-150)+(y-100)*(y-100) > 2500 {
				img.SetNRGBA(x, y, c)
			} else {
				img.SetNRGBA(x, y, color.NRGBA{v - 50, 20, 20, 255})
			}
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, nil))
	_, found, err := artwork.Parse(b.Bytes())
	require.NoError(t, err)
	assert.True(t, found.Has(finding.UnevenLight))
	art, found, err := artwork.ParseAs(b.Bytes(), trace.Options{Photo: true})
	require.NoError(t, err)
	assert.False(t, found.Has(finding.UnevenLight))
	assert.Len(t, art.Pictures[0].Layers, 2)
	b.Reset()
	require.NoError(t, jpeg.Encode(&b, mark(200), nil))
	_, found, err = artwork.Parse(b.Bytes())
	require.NoError(t, err)
	assert.False(t, found.Has(finding.UnevenLight))
}
