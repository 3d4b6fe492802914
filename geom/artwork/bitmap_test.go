package artwork_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/trace"
)

// Kinds by their first bytes: PNG (ISO/IEC 15948, 5.2), JPEG (ITU-T T.81, B.1), GIF 89a, WebP (RFC 9649), PDF (ISO 32000-1,
// 7.5.2 and annex H), ISO media files (ISO/IEC 14496-12, 4.3), TIFF 6.0, ZIP; the others from memory.
func TestKindOf(t *testing.T) {
	for data, want := range map[string]artwork.Kind{
		"\x89PNG\r\n\x1a\n":          artwork.PNG,
		"\xff\xd8\xff\xe0":           artwork.JPEG,
		"GIF89a":                     artwork.GIF,
		"RIFF\x00\x00\x00\x00WEBPVP": artwork.WebP,
		"RIFF\x00\x00\x00\x00WAVEfm": artwork.SVG,
		"%PDF-1.7":                   artwork.PDF,
		"\n\n%PDF-1.4":               artwork.PDF,
		"%!PS-Adobe-3.0 EPSF-3.0":    artwork.PostScript,
		"\x00\x00\x00\x18ftypheic":   artwork.Phone,
		"II*\x00":                    artwork.TIFF,
		"8BPS\x00\x01":               artwork.Layered,
		"PK\x03\x04":                 artwork.Archive,
		"<svg/>":                     artwork.SVG,
		"\x1f\x8b":                   artwork.SVG, // packed
		"":                           artwork.SVG,
	} {
		assert.Equal(t, want, artwork.KindOf([]byte(data)), "%q", data)
	}
	for _, data := range []string{"%PDF-1.7", "%!PS-Adobe", "\x00\x00\x00\x18ftypavif", "PK\x03\x04", "8BPS", "II*\x00", "\x89PNG\r\n\x1a\n", "GIF89a", "\xff\xd8\xff"} {
		_, _, err := artwork.Parse([]byte(data))
		var kind *artwork.KindError
		require.ErrorAs(t, err, &kind, "%q", data)
		assert.NotContains(t, err.Error(), "XML")
	}
}

// mark is a red square of a side on white.
func mark(side int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			c := color.NRGBA{255, 255, 255, 255}
			if x > side/4 && x < 3*side/4 && y > side/4 && y < 3*side/4 {
				c = color.NRGBA{0xd0, 0x20, 0x2a, 255}
			}
			img.SetNRGBA(x, y, c)
		}
	}
	return img
}

// A bitmap is read as the flat drawing that it shows, with a warning; a small one with another.
func TestBitmap(t *testing.T) {
	packed := func(write func(*bytes.Buffer) error) []byte {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		return b.Bytes()
	}
	flat := image.NewPaletted(image.Rect(0, 0, 200, 200), color.Palette{color.White, color.NRGBA{0xd0, 0x20, 0x2a, 255}})
	draw.Draw(flat, flat.Bounds(), mark(200), image.Point{}, draw.Src)
	for _, data := range [][]byte{
		packed(func(b *bytes.Buffer) error { return png.Encode(b, mark(200)) }),
		packed(func(b *bytes.Buffer) error { return jpeg.Encode(b, mark(200), &jpeg.Options{Quality: 75}) }),
		packed(func(b *bytes.Buffer) error { return gif.Encode(b, flat, nil) }),
	} {
		art, found, err := artwork.Parse(data)
		require.NoError(t, err)
		require.Len(t, art.Altered, 1)
		assert.Equal(t, finding.Traced, art.Altered[0].Code)
		assert.False(t, found.Has(finding.FewPixels))
		assert.Len(t, art.Pictures[0].Layers, 2)
		assert.True(t, art.Traced)
		assert.NotEmpty(t, art.Flat)
		for _, f := range found {
			assert.Zero(t, f.Source)
		}
	}
	_, found, err := artwork.Parse(packed(func(b *bytes.Buffer) error { return png.Encode(b, mark(40)) }))
	require.NoError(t, err)
	assert.True(t, found.Has(finding.FewPixels))
	assert.True(t, found.Refuses())
}

// A bomb, a file of few bytes that says it has billions of pixels, is refused by its head.
func TestBomb(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	head := make([]byte, 17)
	copy(head, "IHDR")
	binary.BigEndian.PutUint32(head[4:], 60000)
	binary.BigEndian.PutUint32(head[8:], 60000)
	head[12], head[13] = 8, 6
	binary.Write(&b, binary.BigEndian, uint32(13))
	b.Write(head)
	binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE(head))
	_, _, err := artwork.Parse(b.Bytes())
	assert.ErrorContains(t, err, "60000 x 60000")
}

// The two colours that are most alike are named where a file may have made two of one; far ones are not.
func TestNearColours(t *testing.T) {
	for other, near := range map[color.NRGBA]bool{{0xb8, 0x20, 0x2a, 255}: true, {0x20, 0x20, 0xd0, 255}: false} {
		img := mark(200)
		draw.Draw(img, image.Rect(80, 80, 120, 120), image.NewUniform(other), image.Point{}, draw.Src)
		var data bytes.Buffer
		require.NoError(t, png.Encode(&data, img))
		_, found, err := artwork.Parse(data.Bytes())
		require.NoError(t, err)
		if !near {
			require.Empty(t, found)
			continue
		}
		require.Len(t, found, 1)
		assert.Equal(t, finding.NearColours, found[0].Code)
		assert.Equal(t, []any{3, "#d0202a", "#b8202a", 2}, found[0].Values)
		_, found, err = artwork.ParseAs(data.Bytes(), trace.Options{Colours: 2})
		require.NoError(t, err)
		require.Empty(t, found)
	}
}
