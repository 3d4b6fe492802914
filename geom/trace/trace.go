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

// palette finds colours beside those that are known: modes of the pixels that vote, greatest first.
func (p *picture) palette(lab_ []lab, votes []bool, known []lab) []lab {
	reach, least := 3.0, 0.00015
	if p.lossy {
		reach, least = 4, 0.001
	}
	n := len(lab_)
	modes := func(use func(i int) bool, out []lab, share float64) []lab {
		type bin struct {
			sum lab
			n   int
		}
		bins := map[[3]int]*bin{}
		var order [][3]int
		for i, l := range lab_ {
			if p.empty[i] || !use(i) {
				continue
			}
			k := [3]int{int(math.Floor(l[0] / 2)), int(math.Floor(l[1] / 2)), int(math.Floor(l[2] / 2))}
			b := bins[k]
			if b == nil {
				b = &bin{}
				bins[k] = b
				order = append(order, k)
			}
			b.n++
			for c := range 3 {
				b.sum[c] += l[c]
			}
		}
		slices.SortStableFunc(order, func(a, b [3]int) int { return bins[b].n - bins[a].n })
		for i, k := range order {
			if i == mostBins || len(out) > mostColours {
				break
			}
			b := bins[k]
			m := b.sum
			for c := range 3 {
				m[c] /= float64(b.n)
			}
			votes := 0
			for _, o := range order { // all that would be its own
				q := bins[o]
				mid := q.sum
				for c := range 3 {
					mid[c] /= float64(q.n)
				}
				if differ(mid, m) < reach {
					votes += q.n
				}
			}
			if float64(votes) < share*float64(n) {
				continue
			}
			if !slices.ContainsFunc(out, func(o lab) bool { return differ(o, m) < reach }) {
				out = append(out, m)
			}
		}
		for range 3 {
			sums, counts := make([]lab, len(out)), make([]int, len(out))
			for _, k := range order {
				b := bins[k]
				mid := b.sum
				for c := range 3 {
					mid[c] /= float64(b.n)
				}
				best, d := -1, reach
				for i, o := range out {
					if e := differ(o, mid); e < d {
						best, d = i, e
					}
				}
				if best >= 0 {
					counts[best] += b.n
					for c := range 3 {
						sums[best][c] += b.sum[c]
					}
				}
			}
			for i := range out {
				if counts[i] > 0 {
					for c := range 3 {
						out[i][c] = sums[i][c] / float64(counts[i])
					}
				}
			}
		}
		return out
	}
	return modes(func(i int) bool { return votes[i] }, slices.Clone(known), least)
}
