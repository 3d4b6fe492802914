package trace

import (
	"image"
	"image/color"
	"math"
)

// Corners of a sheet of paper on a photo, in pixels: from its upper left round with the clock.
type Corners [4][2]float64

// flattened is the sheet as seen from above: as wide and high as its sides are in the mean. Pixels are mixed from the four beside.
func (c Corners) flattened(img image.Image) image.Image {
	side := func(i, j int) float64 { return math.Hypot(c[i][0]-c[j][0], c[i][1]-c[j][1]) }
	w, h := int(math.Round((side(0, 1)+side(2, 3))/2)), int(math.Round((side(1, 2)+side(3, 0))/2))
	b := img.Bounds()
	w, h = max(1, min(w, 4*b.Dx())), max(1, min(h, 4*b.Dy()))
	to := [4][2]float64{{0, 0}, {float64(w), 0}, {float64(w), float64(h)}, {0, float64(h)}}
	// The projection that takes the corners of the page to those of the photo (eight unknowns).
	var a [][]float64
	for i := range to {
		x, y := to[i][0], to[i][1]
		u, v := c[i][0], c[i][1]
		a = append(a, []float64{x, y, 1, 0, 0, 0, -u * x, -u * y, u}, []float64{0, 0, 0, x, y, 1, -v * x, -v * y, v})
	}
	m := solved(a)
	out := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			px, py := float64(x)+0.5, float64(y)+0.5
			d := m[6]*px + m[7]*py + 1
			out.SetNRGBA(x, y, mixed(img, (m[0]*px+m[1]*py+m[2])/d-0.5, (m[3]*px+m[4]*py+m[5])/d-0.5))
		}
	}
	return out
}

// Convex tells whether corners go round with the clock, each within a picture of w x h.
func (c Corners) Convex(w, h int) bool {
	for i := range c {
		p, q, r := c[i], c[(i+1)%4], c[(i+2)%4]
		if (q[0]-p[0])*(r[1]-q[1])-(q[1]-p[1])*(r[0]-q[0]) < 1 {
			return false
		}
		if p[0] < 0 || p[1] < 0 || p[0] > float64(w) || p[1] > float64(h) {
			return false
		}
	}
	return true
}

// mixed is the colour between four pixels.
func mixed(img image.Image, x, y float64) color.NRGBA {
	b := img.Bounds()
	x, y = math.Max(0, math.Min(x, float64(b.Dx()-1))), math.Max(0, math.Min(y, float64(b.Dy()-1)))
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	var sum [4]float64
	for k := range 4 {
		dx, dy := k%2, k/2
		f := (1 - fx)
		if dx == 1 {
			f = fx
		}
		g := (1 - fy)
		if dy == 1 {
			g = fy
		}
		p := color.NRGBAModel.Convert(img.At(b.Min.X+min(x0+dx, b.Dx()-1), b.Min.Y+min(y0+dy, b.Dy()-1))).(color.NRGBA)
		for i, v := range [4]uint8{p.R, p.G, p.B, p.A} {
			sum[i] += float64(f * g * float64(v))
		}
	}
	return color.NRGBA{uint8(sum[0] + 0.5), uint8(sum[1] + 0.5), uint8(sum[2] + 0.5), uint8(sum[3] + 0.5)}
}
