// Package raster draws a page as a picture of pixels.
//
// Guarantees: areas by the non-zero rule, smoothed at their edges; strokes have round joins and flat ends; same page
// same bytes (P9).
package raster

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"math"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/vector"

	"sugarwright/render/page"
)

// Draw a page at so many pixels a millimetre, on white.
func Draw(p *page.Page, perMM float64) *image.RGBA {
	w, h := int(math.Round(p.W*perMM)), int(math.Round(p.H*perMM))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	d := drawing{img: img, k: perMM}
	for _, it := range p.Items {
		switch {
		case it.Path != nil:
			d.path(it.Path)
		case it.Picture != nil:
			d.picture(it.Picture)
		default:
			d.text(it.Text)
		}
	}
	return img
}

// PNG is the file of a page at so many dots an inch.
func PNG(p *page.Page, dpi float64) ([]byte, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	err := e.Encode(&b, Draw(p, dpi/25.4))
	return b.Bytes(), err
}

type drawing struct {
	img *image.RGBA
	k   float64
}

// fill rasterises rings given in pixels, over no more of the picture than they need.
func (d drawing) fill(hex string, box page.Box, draw func(z *vector.Rasterizer, x, y float32)) {
	x0, y0 := int(math.Floor(box[0]))-1, int(math.Floor(box[1]))-1
	x1, y1 := int(math.Ceil(box[2]))+1, int(math.Ceil(box[3]))+1
	r := image.Rect(x0, y0, x1, y1).Intersect(d.img.Rect)
	if r.Empty() {
		return
	}
	z := vector.NewRasterizer(r.Dx(), r.Dy())
	draw(z, float32(r.Min.X), float32(r.Min.Y))
	if c, ok := page.RGB(hex); ok {
		z.Draw(d.img, r, image.NewUniform(c), image.Point{})
	}
}

// picture fills its box with a picture of pixels; one that is none leaves it white.
func (d drawing) picture(p *page.Picture) {
	src, err := png.Decode(bytes.NewReader(p.PNG))
	if err != nil {
		return
	}
	at := func(v float64) int { return int(math.Round(v * d.k)) }
	xdraw.BiLinear.Scale(d.img, image.Rect(at(p.At[0]), at(p.At[1]), at(p.At[2]), at(p.At[3])), src, src.Bounds(), draw.Over, nil)
}

func bounds(box *page.Box, x, y float64) {
	*box = page.Box{math.Min(box[0], x), math.Min(box[1], y), math.Max(box[2], x), math.Max(box[3], y)}
}

var nothing = page.Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

func (d drawing) path(p *page.Path) {
	if p.Fill != "" && d.panel(p) {
		return
	}
	if p.Fill != "" {
		box := nothing
		for _, r := range p.Rings {
			for _, q := range r {
				bounds(&box, q[0]*d.k, q[1]*d.k)
			}
		}
		d.fill(p.Fill, box, func(z *vector.Rasterizer, x, y float32) {
			for _, r := range p.Rings {
				for i, q := range r {
					px, py := float32(q[0]*d.k)-x, float32(q[1]*d.k)-y
					if i == 0 {
						z.MoveTo(px, py)
					} else {
						z.LineTo(px, py)
					}
				}
				z.ClosePath()
			}
		})
	}
	if p.Stroke != "" {
		d.stroke(p)
	}
}

// panel fills a page-wide rectangle without a border, whole dots at a time, and tells whether it did.
func (d drawing) panel(p *page.Path) bool {
	if len(p.Rings) != 1 || len(p.Rings[0]) != 4 || p.Stroke != "" {
		return false
	}
	box := nothing
	for _, q := range p.Rings[0] {
		bounds(&box, q[0]*d.k, q[1]*d.k)
	}
	w := float64(d.img.Rect.Dx())
	for _, q := range p.Rings[0] {
		if x := q[0] * d.k; x != box[0] && x != box[2] || box[2]-box[0] < w-1 {
			return false
		}
	}
	r := image.Rect(0, int(math.Round(box[1])), d.img.Rect.Dx(), int(math.Round(box[3])))
	c, ok := page.RGB(p.Fill)
	if ok {
		draw.Draw(d.img, r, image.NewUniform(c), image.Point{}, draw.Src)
	}
	return ok
}

// stroke draws each segment as a rectangle, with a disc where two meet; all run one way round, so that they unite.
func (d drawing) stroke(p *page.Path) {
	half := p.Width / 2 * d.k
	var quads [][]page.Point
	for _, r := range p.Rings {
		line := r
		if !p.Open && len(r) > 0 {
			line = append(r[:len(r):len(r)], r[0])
		}
		for _, l := range dashes(line, p.Dashed) {
			for i := 0; i+1 < len(l); i++ {
				a, b := page.Point{l[i][0] * d.k, l[i][1] * d.k}, page.Point{l[i+1][0] * d.k, l[i+1][1] * d.k}
				n := math.Hypot(b[0]-a[0], b[1]-a[1])
				if n == 0 {
					continue
				}
				ux, uy := (b[0]-a[0])/n*half, (b[1]-a[1])/n*half
				quads = append(
					quads,
					[]page.Point{
						{a[0] + uy, a[1] - ux},
						{b[0] + uy, b[1] - ux},
						{b[0] - uy, b[1] + ux},
						{a[0] - uy, a[1] + ux},
					},
				)
				if (i > 0 || !p.Open) && half > 0.5 {
					quads = append(quads, page.Circle(a, half))
				}
			}
		}
	}
	box := nothing
	for _, q := range quads {
		for _, c := range q {
			bounds(&box, c[0], c[1])
		}
	}
	if len(quads) == 0 {
		return
	}
	d.fill(p.Stroke, box, func(z *vector.Rasterizer, x, y float32) {
		for _, q := range quads {
			for i, c := range q {
				if i == 0 {
					z.MoveTo(float32(c[0])-x, float32(c[1])-y)
				} else {
					z.LineTo(float32(c[0])-x, float32(c[1])-y)
				}
			}
			z.ClosePath()
		}
	})
}

// dashes cuts a line into the dashes of it.
func dashes(line []page.Point, dashed bool) [][]page.Point {
	if !dashed {
		return [][]page.Point{line}
	}
	var out [][]page.Point
	var cur []page.Point
	on, left := true, page.Dash[0]
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		n := math.Hypot(b[0]-a[0], b[1]-a[1])
		for at := 0.0; at < n; {
			step := math.Min(left, n-at)
			p, q := lerp(a, b, at/n), lerp(a, b, (at+step)/n)
			if on {
				if len(cur) == 0 {
					cur = append(cur, p)
				}
				cur = append(cur, q)
			}
			at += step
			if left -= step; left <= 1e-9 {
				if on {
					out, cur = append(out, cur), nil
				}
				on = !on
				left = page.Dash[map[bool]int{true: 0, false: 1}[on]]
			}
		}
	}
	if len(cur) > 0 {
		out = append(out, cur)
	}
	return out
}

func lerp(a, b page.Point, t float64) page.Point {
	return page.Point{a[0] + (b[0]-a[0])*t, a[1] + (b[1]-a[1])*t}
}

func (d drawing) text(t *page.Text) {
	b, ok := t.Box()
	if !ok {
		return
	}
	k, x0 := t.Scale()*d.k, t.Start()*d.k
	d.fill(
		t.Fill,
		page.Box{b[0] * d.k, b[1] * d.k, b[2] * d.k, b[3] * d.k},
		func(z *vector.Rasterizer, x, y float32) {
			for _, g := range page.Set(*t).Glyphs {
				px := func(p page.Point) float32 { return float32(x0+k*(g.X+p[0])) - x }
				py := func(p page.Point) float32 { return float32(t.At[1]*d.k-k*(g.Y+p[1])) - y }
				for _, c := range page.Outline(g.Face, g.ID) {
					switch {
					case c.Move:
						z.ClosePath()
						z.MoveTo(px(c.P[0]), py(c.P[0]))
					case len(c.P) == 1:
						z.LineTo(px(c.P[0]), py(c.P[0]))
					default:
						z.QuadTo(px(c.P[0]), py(c.P[0]), px(c.P[1]), py(c.P[1]))
					}
				}
				z.ClosePath()
			}
		},
	)
}
