// Package trace turns a picture of flat colours into areas with shared borders, finer than its pixels.
package trace

import (
	"image"
	"image/color"
	"math"
	"slices"
)

// picture is what is traced: colours by pixel, and whether there is any.
type picture struct {
	w, h  int
	rgb   []rgb
	lab   []lab
	alpha []float64
	empty []bool // no paint
	lossy bool
	manner
	noise bool // more edges than areas
}

// mostSide is to how many pixels a side a picture is shrunk.
const mostSide = 1000

// read a picture, shrunk by a whole factor; photo tells that it is one.
func read(img image.Image, photo bool) *picture {
	b := img.Bounds()
	k := 1
	for max(b.Dx(), b.Dy()) > k*mostSide {
		k++
	}
	p := &picture{w: b.Dx() / k, h: b.Dy() / k}
	n := p.w * p.h
	p.rgb, p.lab, p.alpha, p.empty = make([]rgb, n), make([]lab, n), make([]float64, n), make([]bool, n)
	known := map[rgb]lab{}
	for y := range p.h {
		for x := range p.w {
			var sum [4]int
			for dy := range k {
				for dx := range k {
					c := color.NRGBAModel.Convert(img.At(b.Min.X+k*x+dx, b.Min.Y+k*y+dy)).(color.NRGBA)
					a := int(c.A)
					sum[0], sum[1], sum[2], sum[3] = sum[0]+int(c.R)*a, sum[1]+int(c.G)*a, sum[2]+int(c.B)*a, sum[3]+a
				}
			}
			i := y*p.w + x
			alpha := float64(sum[3]) / float64(k*k) / 255
			p.alpha[i], p.empty[i] = alpha, alpha < 0.5
			p.rgb[i] = rgb{255, 255, 255}
			if sum[3] > 0 {
				for c := range 3 { // the paint itself
					p.rgb[i][c] = uint8(math.Round(float64(sum[c]) / float64(sum[3])))
				}
			}
			l, ok := known[p.rgb[i]]
			if !ok {
				l = labOf(p.rgb[i])
				known[p.rgb[i]] = l
			}
			p.lab[i] = l
		}
	}
	p.lay()
	small, large := 0, 0
	for y := range p.h {
		for x := 1; x < p.w; x++ {
			i := y*p.w + x
			if p.alpha[i] < 1 || p.alpha[i-1] < 1 { // rounded where paint ends, not lost
				continue
			}
			switch d := differ(p.lab[i], p.lab[i-1]); {
			case d == 0:
			case d < 3:
				small++
			case d > 8:
				large++
			}
		}
	}
	p.lossy, p.noise = float64(small) > leastRatio*float64(large) && small > leastLost*max(p.w, p.h) || photo, large > n/3
	switch {
	case photo:
		p.manner = ofPhoto
	case p.lossy:
		p.manner = ofLossy
	default:
		p.manner = ofClean
	}
	return p
}

// A lossy file has so many times its longer side pixels that differ a little from their neighbour, and so many times those that differ
// much: clean pictures of the open drawings have 8 times at most and 1.3 times then, JPEGs of them 21 times and twice at least.
const (
	leastLost  = 4
	leastRatio = 1.8
)

// translucent paint lets the ground through between these alphas, and is so even round a pixel where that is no edge.
const (
	leastPaint, mostPaint = 0.04, 0.96
	evenAlpha             = 0.02
)

// lay puts paint that lets the ground through onto white: what is as thin all round is no edge of what is thicker.
func (p *picture) lay() {
	laid := make([]bool, len(p.alpha))
	for i, a := range p.alpha {
		even := a > leastPaint && a < mostPaint
		if even {
			p.near(i, 1, func(j int) { even = even && math.Abs(p.alpha[j]-a) < evenAlpha })
		}
		laid[i] = even
	}
	for i := range laid {
		if !laid[i] {
			continue
		}
		p.near(i, 1, func(j int) { // to its edge
			if a := p.alpha[j]; a > leastPaint && a < mostPaint {
				for c := range 3 {
					p.rgb[j][c] = uint8(math.Round(255 + a*(float64(p.rgb[j][c])-255)))
				}
				p.alpha[j], p.empty[j], p.lab[j] = 1, false, labOf(p.rgb[j])
			}
		})
	}
}

// manner is how near colours must be in a kind of picture, CIE94, and how fine its borders are known. Tuned on the open drawings, as
// clean and lossy files, and on felt-pen drawings as photos.
type manner struct {
	agree  float64 // of pixels side by side that lie flat
	reach  float64 // of what one colour of the palette takes in
	sure   float64 // of a pixel that has a colour for sure
	share  float64 // of the pixels that a colour must have
	off    float64 // of a pixel from a mix of two colours, in steps of sRGB
	noise  float64 // of a colour, that is smoothed
	tol    float64 // of a border, in pixels
	specks int     // areas of fewer pixels are none
}

var (
	ofClean = manner{1.5, 3, 3, 0.00015, 20, 0, 0.15, 6}
	ofLossy = manner{6, 4, 5, 0.001, 30, 6, 0.3, 20}
	ofPhoto = manner{8, 13, 11, 0.002, 60, 10, 0.5, 60}
)

// near calls back for the pixels within a square.
func (p *picture) near(i, r int, f func(j int)) {
	x, y := i%p.w, i/p.w
	for v := max(0, y-r); v <= min(p.h-1, y+r); v++ {
		for u := max(0, x-r); u <= min(p.w-1, x+r); u++ {
			f(v*p.w + u)
		}
	}
}

// smoothed is the picture with the noise of a lossy file taken out and its edges kept: a bilateral filter of radius 2 (Tomasi and
// Manduchi 1998). Each pair of pixels is weighed once.
func (p *picture) smoothed() []lab {
	if !p.lossy {
		return p.lab
	}
	const steps = 1024 // of the weight by difference, up to four times the noise
	var weight [steps + 1]float64
	for i := range weight {
		weight[i] = math.Exp(-8 * float64(i) / steps)
	}
	scale := steps / (16 * p.manner.noise * p.manner.noise)
	out, all := slices.Clone(p.lab), make([]float64, len(p.lab))
	for i := range all {
		all[i] = 1
	}
	for _, d := range [12][2]int{{1, 0}, {2, 0}, {-2, 1}, {-1, 1}, {0, 1}, {1, 1}, {2, 1}, {-2, 2}, {-1, 2}, {0, 2}, {1, 2}, {2, 2}} {
		far := math.Exp(-float64(d[0]*d[0]+d[1]*d[1]) / 4.5)
		for y := range p.h - d[1] {
			for x := max(0, -d[0]); x < min(p.w, p.w-d[0]); x++ {
				i := y*p.w + x
				j := i + d[1]*p.w + d[0]
				a, b := &p.lab[i], &p.lab[j]
				k := differ2(*a, *b) * scale
				if k > steps {
					continue
				}
				w := far * weight[int(k)]
				for c := range 3 {
					out[i][c] += float64(w * b[c])
					out[j][c] += float64(w * a[c])
				}
				all[i] += w
				all[j] += w
			}
		}
	}
	for i := range out {
		for c := range 3 {
			out[i][c] /= all[i]
		}
	}
	return out
}

// mostBins are looked at for a colour's middle.
const mostBins = 500

// bin is pixels of nearly one colour.
type bin struct {
	sum lab
	n   int
}

func (b *bin) add(l lab, n int) {
	b.n += n
	for c := range 3 {
		b.sum[c] += float64(n) * l[c]
	}
}

func (b *bin) mean() (m lab) {
	for c := range 3 {
		m[c] = b.sum[c] / float64(b.n)
	}
	return m
}

// binned are the colours of the pixels that vote, in bins of two steps, the fullest first.
func (p *picture) binned(l []lab, votes []bool) (out []*bin) {
	bins := map[[3]int]*bin{}
	for i, c := range l {
		if p.empty[i] || !votes[i] {
			continue
		}
		k := [3]int{int(math.Floor(c[0] / 2)), int(math.Floor(c[1] / 2)), int(math.Floor(c[2] / 2))}
		b := bins[k]
		if b == nil {
			b = &bin{}
			bins[k] = b
			out = append(out, b)
		}
		b.add(c, 1)
	}
	slices.SortStableFunc(out, func(a, b *bin) int { return b.n - a.n })
	return out
}

// palette finds colours beside those that are known: modes of the pixels that vote, the fullest first.
func (p *picture) palette(l []lab, votes []bool, known []lab) []lab {
	bins := p.binned(l, votes)
	means := make([]lab, len(bins))
	for i, b := range bins {
		means[i] = b.mean()
	}
	out := slices.Clone(known)
	for i := range bins {
		if i == mostBins || len(out) > mostColours {
			break
		}
		n := 0 // what would be its own
		for k, b := range bins {
			if differ(means[k], means[i]) < p.reach {
				n += b.n
			}
		}
		if float64(n) >= p.share*float64(len(l)) && closest(out, means[i], p.reach) < 0 {
			out = append(out, means[i])
		}
	}
	for range 3 { // to the middle of what is nearest to each
		own := make([]bin, len(out))
		for k, b := range bins {
			if i := closest(out, means[k], p.reach); i >= 0 {
				own[i].add(means[k], b.n)
			}
		}
		for i := range out {
			if own[i].n > 0 {
				out[i] = own[i].mean()
			}
		}
	}
	return out
}

// closest of some colours to one, within reach; -1 where there is none.
func closest(colours []lab, l lab, reach float64) int {
	best := -1
	for i, c := range colours {
		if d := differ(l, c); d < reach {
			best, reach = i, d
		}
	}
	return best
}
