package artwork

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
)

// previewSide is how many pixels wide or high a preview is at most.
const previewSide = 240

// Preview is a small PNG of a picture on white, each pixel the mean of those that it stands for.
func Preview(img image.Image) []byte {
	b := img.Bounds()
	k := max(1, (max(b.Dx(), b.Dy())+previewSide-1)/previewSide)
	w, h := max(1, b.Dx()/k), max(1, b.Dy()/k)
	out := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			var sum [3]int
			n := 0
			for v := k * y; v < min(k*y+k, b.Dy()); v++ {
				for u := k * x; u < min(k*x+k, b.Dx()); u++ {
					c := color.NRGBAModel.Convert(img.At(b.Min.X+u, b.Min.Y+v)).(color.NRGBA)
					n++
					for i, p := range [3]uint8{c.R, c.G, c.B} {
						sum[i] += (int(p)*int(c.A) + 255*(255-int(c.A)) + 127) / 255
					}
				}
			}
			out.SetNRGBA(x, y, color.NRGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), 255})
		}
	}
	var file bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestCompression}
	if err := e.Encode(&file, out); err != nil {
		return nil
	}
	return file.Bytes()
}
