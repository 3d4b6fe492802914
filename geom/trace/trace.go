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
	noise bool // more edges than areas
}

// mostSide is to how many pixels a side a picture is shrunk.
const mostSide = 1000

// read a picture, shrunk by a whole factor.
func read(img image.Image) *picture {
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
	small, large := 0, 0
	for y := range p.h {
		for x := 1; x < p.w; x++ {
			switch d := differ(p.lab[y*p.w+x], p.lab[y*p.w+x-1]); {
			case d == 0:
			case d < 3:
				small++
			case d > 8:
				large++
			}
		}
	}
	p.lossy, p.noise = small > large, large > n/3
	return p
}

// near calls back for the pixels within a square.
func (p *picture) near(i, r int, f func(j int)) {
	x, y := i%p.w, i/p.w
	for v := max(0, y-r); v <= min(p.h-1, y+r); v++ {
		for u := max(0, x-r); u <= min(p.w-1, x+r); u++ {
			f(v*p.w + u)
		}
	}
}

// smoothed is the picture with the noise of a lossy file taken out and its edges kept: a bilateral filter of radius 2.
func (p *picture) smoothed() []lab {
	if !p.lossy {
		return p.lab
	}
	out := make([]lab, len(p.lab))
	for i := range p.lab {
		var sum lab
		all := 0.0
		x, y := i%p.w, i/p.w
		p.near(i, 2, func(j int) {
			d := differ(p.lab[i], p.lab[j])
			u, v := float64(j%p.w-x), float64(j/p.w-y)
			k := math.Exp(-(u*u+v*v)/4.5 - d*d/72)
			for c := range 3 {
				sum[c] += k * p.lab[j][c]
			}
			all += k
		})
		for c := range 3 {
			out[i][c] = sum[c] / all
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
	reach, share := 3.0, 0.00015
	if p.lossy {
		reach, share = 4, 0.001
	}
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
			if differ(means[k], means[i]) < reach {
				n += b.n
			}
		}
		if float64(n) >= share*float64(len(l)) && closest(out, means[i], reach) < 0 {
			out = append(out, means[i])
		}
	}
	for range 3 { // to the middle of what is nearest to each
		own := make([]bin, len(out))
		for k, b := range bins {
			if i := closest(out, means[k], reach); i >= 0 {
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
