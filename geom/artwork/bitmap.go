package artwork

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/gif" // readers of the kinds
	_ "image/jpeg"
	_ "image/png"

	_ "golang.org/x/image/webp" // as well

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/trace"
)

// Bounds of a bitmap; its size is read before any of its pixels are.
const (
	MostPixels = 50_000_000
	MostSide   = 20_000
)

// Widths of what is drawn below which a bitmap holds too little, and little, to trace: pixels.
const (
	leastPixels = 60
	fewPixels   = 150
)

// nearColours differ less than the colours of a drawing mostly do (CIE94): one may be a fault of the file; tuned on the
// public drawings.
const nearColours = 9

// bitmap traces a picture of flat colours and reads the drawing that comes of it. What is found has no line and column: nobody
// has that text. Layers have those of the traced drawing.
func bitmap(data []byte, k Kind, how trace.Options) (*Artwork, finding.List, error) {
	size, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, nil, damaged(k, err)
	}
	if size.Width > MostSide || size.Height > MostSide || size.Width*size.Height > MostPixels {
		return nil, nil, &KindError{Kind: k, Text: fmt.Sprintf("the picture has %d x %d pixels; at most %d, and %d a side, are read", size.Width, size.Height, MostPixels, MostSide)}
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, nil, damaged(k, err)
	}
	img = upright(img, turnOf(data, k))
	if b := img.Bounds(); how.Corners != nil && !how.Corners.Convex(b.Dx(), b.Dy()) {
		return nil, nil, &KindError{Kind: k, Text: fmt.Sprintf("the corners are not four points of the picture of %d x %d pixels, from the upper left round with the clock", b.Dx(), b.Dy())}
	}
	drawn, err := trace.Picture(img, how)
	if err != nil {
		return nil, nil, &KindError{Kind: k, Text: err.Error(), Photo: errors.Is(err, trace.ErrPhoto)}
	}
	art, found, err := Parse(drawn.SVG)
	if err != nil {
		return nil, nil, err
	}
	art.Traced, art.Flat, art.Seen = true, drawn.SVG, Preview(img)
	for i := range found {
		found[i].Source = finding.Source{}
	}
	b := img.Bounds()
	v, wording := art.Page.View, ""
	if how.Photo {
		wording = "photo"
	}
	art.Altered = append(art.Altered, Altered{
		Code: finding.Traced, Case: wording, At: []geom.ArtworkPoint{{v.X + v.W/2, v.Y + v.H/2}}, Values: []any{b.Dx(), b.Dy()},
	})
	if n := drawn.Nearest; n != nil && n.Differ < nearColours {
		found.Add(finding.New(finding.NearColours, finding.Note, drawn.Colours, RGB(n.A).Hex(), RGB(n.B).Hex(), drawn.Colours-1))
	}
	if k == JPEG && !how.Photo && trace.Uneven(img) {
		found.Add(finding.New(finding.UnevenLight, finding.Warning))
	}
	switch side := min(b.Dx(), b.Dy()); {
	case side < leastPixels:
		found.Add(finding.New(finding.FewPixels, finding.Error, side, leastPixels))
	case side < fewPixels:
		found.Add(finding.New(finding.FewPixels, finding.Warning, side, fewPixels))
	}
	return art, found, nil
}
