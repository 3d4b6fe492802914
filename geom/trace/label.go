package trace

import (
	"math"
	"slices"
)

// labelled is a picture whose pixels each have a colour of the palette; -1 where there is no paint.
type labelled struct {
	*picture
	colours []rgb
	at      []int16
	odd     []int // pixels that no mix of colours near them explains
}

type vec [3]float64

// vec is a colour in which mixes lie on straight lines: sRGB, since that is what pictures are painted in; where chroma was
// blurred by a lossy file, luma and, for less, chroma (ITU-T T.871).
func (p *picture) vec(c rgb) vec { return p.vecOf(float64(c[0]), float64(c[1]), float64(c[2])) }

func (p *picture) vecOf(r, g, b float64) vec {
	if !p.lossy {
		return vec{r, g, b}
	}
	y := 0.299*r + 0.587*g + 0.114*b
	return vec{y, chroma * 0.564 * (b - y), chroma * 0.713 * (r - y)}
}

// chroma is what a step of it counts beside one of luma.
const chroma = 0.45

// mix is the share of b in a colour between a and b, and how far off it is.
func mix(c, a, b vec) (t, off float64) {
	var dot, len2 float64
	for i := range 3 {
		dot += (c[i] - a[i]) * (b[i] - a[i])
		len2 += (b[i] - a[i]) * (b[i] - a[i])
	}
	if len2 > 0 {
		t = math.Max(0, math.Min(1, dot/len2))
	}
	for i := range 3 {
		d := c[i] - a[i] - t*(b[i]-a[i])
		off += d * d
	}
	return t, math.Sqrt(off)
}

// flatPixels tells which pixels are like those round them.
func (p *picture) flatPixels(l []lab) []bool {
	flat := make([]bool, len(l))
	for i := range l {
		ok := !p.empty[i]
		p.near(i, 1, func(j int) { ok = ok && !p.empty[j] && differ(l[i], l[j]) < p.agree })
		flat[i] = ok
	}
	return flat
}

// label gives each pixel a colour of the palette; what no colour and no mix of two explains becomes a colour of its own where
// there is enough of it.
func (p *picture) label() *labelled {
	l := p.smoothed()
	flat := p.flatPixels(l)
	centres := p.palette(l, flat, nil)
	if len(centres) == 0 { // nothing lies flat
		sum, n := lab{}, 0.0
		for i, c := range l {
			if !p.empty[i] {
				n++
				for k := range 3 {
					sum[k] += c[k]
				}
			}
		}
		if n == 0 {
			return &labelled{picture: p, at: slices.Repeat([]int16{-1}, len(l))}
		}
		centres = []lab{{sum[0] / n, sum[1] / n, sum[2] / n}}
	}
	out := p.grow(l, flat, centres)
	if len(out.odd) > 0 { // thin lines
		odd := make([]bool, len(l))
		for _, i := range out.odd {
			odd[i] = true
		}
		if more := p.palette(l, odd, centres); len(more) > len(centres) {
			centres = more
			out = p.grow(l, flat, centres)
		}
	}
	for range 4 {
		keep := out.solid(flat)
		if !slices.Contains(keep, false) {
			break
		}
		var rest []lab
		for i, k := range keep {
			if k {
				rest = append(rest, centres[i])
			}
		}
		if len(rest) == 0 {
			break
		}
		centres = rest
		out = p.grow(l, flat, centres)
	}
	return out
}

// open is a pixel that has no label yet.
const open = -2

// grow labels from the pixels that are sure.
func (p *picture) grow(l []lab, flat []bool, centres []lab) *labelled {
	out, queue := p.sure(l, flat, centres)
	colours := make([]vec, len(out.colours))
	for k, c := range out.colours {
		colours[k] = p.vec(c)
	}
	pure := make([]bool, len(l))
	for _, i := range queue {
		pure[i] = true
	}
	for len(queue) > 0 { // rings of pixels round what is labelled
		var next []int
		chosen := map[int]int16{}
		for _, i := range queue {
			p.near(i, 1, func(j int) {
				if _, known := chosen[j]; known || out.at[j] != open {
					return
				}
				near := out.beside(j, 2, func(k int) bool { return pure[k] })
				if len(near) == 0 {
					near = out.beside(j, 1, func(int) bool { return true })
				}
				best, off := share(p.vec(p.rgb[j]), near, colours)
				if off > p.off {
					out.odd = append(out.odd, j)
				}
				chosen[j] = best
				next = append(next, j)
			})
		}
		for j, a := range chosen {
			out.at[j] = a
		}
		slices.Sort(next)
		queue = next
	}
	for i, a := range out.at {
		if a == open {
			out.at[i] = 0
		}
	}
	return out
}

// sure labels the pixels that have a colour of the palette, and lists them; each colour is the mean of those that lie flat, or
// of all where none does.
func (p *picture) sure(l []lab, flat []bool, centres []lab) (out *labelled, list []int) {
	out = &labelled{picture: p, at: make([]int16, len(l)), colours: make([]rgb, len(centres))}
	thin := make([]bool, len(centres)) // lies flat nowhere
	for k, c := range centres {
		thin[k] = true
		for i := 0; thin[k] && i < len(l); i++ {
			thin[k] = !flat[i] || differ(l[i], c) >= p.manner.sure
		}
	}
	own := make([]bin, len(centres)) // of sRGB
	for i := range l {
		out.at[i] = open
		if p.empty[i] {
			out.at[i] = -1
			continue
		}
		k := closest(centres, l[i], p.manner.sure)
		if k < 0 {
			continue
		}
		out.at[i] = int16(k)
		list = append(list, i)
		if flat[i] || thin[k] {
			own[k].add(lab{float64(p.rgb[i][0]), float64(p.rgb[i][1]), float64(p.rgb[i][2])}, 1)
		}
	}
	for k, b := range own {
		if b.n > 0 {
			for c, v := range b.mean() {
				out.colours[k][c] = uint8(math.Round(v))
			}
		}
	}
	return out, list
}

// beside are the labels within a square round a pixel, in order, of the pixels that count.
func (l *labelled) beside(i, r int, counts func(k int) bool) (out []int16) {
	l.near(i, r, func(k int) {
		if a := l.at[k]; a >= 0 && counts(k) && !slices.Contains(out, a) {
			out = append(out, a)
		}
	})
	slices.Sort(out)
	return out
}

// share is the label, of some, that a pixel belongs to, as a mix of two of them of which it holds the greater share; and how
// far it is off that mix.
func share(c vec, near []int16, colours []vec) (best int16, off float64) {
	best = near[0]
	if len(near) == 1 {
		_, off = mix(c, colours[best], colours[best])
		return best, off
	}
	off = math.Inf(1)
	for x, a := range near {
		for _, b := range near[x+1:] {
			if t, e := mix(c, colours[a], colours[b]); e < off-1e-9 {
				off = e
				if best = a; t > 0.5 {
					best = b
				}
			}
		}
	}
	return best, off
}

// The share of a colour's pixels that are mixes of others for it to be
// none.
const (
	mostMixed = 0.6
	// In a lossy file, a colour fainter than this beside a larger one must have so much inside.
	faint, leastInside = 14.0, 0.5
)

// solid tells which colours are colours: not most of their pixels are mixes of two others near them.
func (l *labelled) solid(flat []bool) []bool {
	n, mixed := make([]int, len(l.colours)), make([]int, len(l.colours))
	for i, a := range l.at {
		if a < 0 {
			continue
		}
		n[a]++
		if flat[i] && !l.lossy {
			continue
		}
		near := l.beside(i, 2, func(k int) bool { return l.at[k] != a })
	pairs:
		for x, b := range near {
			for _, c := range near[x+1:] {
				if t, off := mix(l.vec(l.rgb[i]), l.vec(l.colours[b]), l.vec(l.colours[c])); off < l.off && t > 0.05 && t < 0.95 {
					mixed[a]++
					break pairs
				}
			}
		}
	}
	inside := make([]int, len(n))
	for i, a := range l.at {
		if a >= 0 && l.lossy {
			same := true
			l.near(i, 1, func(k int) { same = same && l.at[k] == a })
			if same {
				inside[a]++
			}
		}
	}
	keep := make([]bool, len(n))
	for a := range n {
		keep[a] = n[a] > 0 && float64(mixed[a]) <= mostMixed*float64(n[a])
		if l.lossy && float64(inside[a]) < leastInside*float64(n[a]) {
			for b := range n {
				if b != a && n[b] > n[a] && differ(labOf(l.colours[a]), labOf(l.colours[b])) < faint {
					keep[a] = false // a shade of it round what was blurred
				}
			}
		}
	}
	return keep
}

// merge makes colours alike until there are no more than most: each time the two that cost least, by how many pixels change and how far.
func (l *labelled) merge(most int) {
	if most <= 0 {
		return
	}
	n := make([]int, len(l.colours))
	for _, a := range l.at {
		if a >= 0 {
			n[a]++
		}
	}
	into := make([]int16, len(l.colours))
	left := 0
	for a := range into {
		into[a] = int16(a)
		if n[a] > 0 {
			left++
		}
	}
	for ; left > most; left-- {
		from, to, least := -1, -1, math.Inf(1)
		for a := range n {
			for b := range n {
				if a == b || n[a] == 0 || n[b] == 0 || n[a] > n[b] {
					continue
				}
				if c := float64(n[a]) * math.Pow(differ(labOf(l.colours[a]), labOf(l.colours[b])), 2); c < least {
					from, to, least = a, b, c
				}
			}
		}
		n[to], n[from] = n[to]+n[from], 0
		for a := range into {
			if into[a] == int16(from) {
				into[a] = int16(to)
			}
		}
	}
	for i, a := range l.at {
		if a >= 0 {
			l.at[i] = into[a]
		}
	}
}

// specks gives areas of few pixels to the neighbour that they share most border with.
func (l *labelled) specks(least int) {
	for range 3 {
		any := false
		area, members := l.areas()
		for _, m := range members {
			if len(m) >= least {
				continue
			}
			beside := map[int16]int{}
			own := l.at[m[0]]
			for _, i := range m {
				for _, j := range l.cross(i) {
					if j >= 0 && area[j] != area[i] {
						beside[l.at[j]]++
					}
				}
			}
			best, n := own, 0
			for _, a := range sortedKeys(beside) {
				if beside[a] > n {
					best, n = a, beside[a]
				}
			}
			if best != own {
				for _, i := range m {
					l.at[i] = best
				}
				any = true
			}
		}
		if !any {
			return
		}
	}
}

func sortedKeys(m map[int16]int) []int16 {
	var out []int16
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// cross are the four pixels beside one, -1 beyond the page.
func (l *labelled) cross(i int) (out [4]int) {
	x, y := i%l.w, i/l.w
	out = [4]int{-1, -1, -1, -1}
	if x > 0 {
		out[0] = i - 1
	}
	if x < l.w-1 {
		out[1] = i + 1
	}
	if y > 0 {
		out[2] = i - l.w
	}
	if y < l.h-1 {
		out[3] = i + l.w
	}
	return out
}

// areas are the pixels that hang together, side by side, and have one label.
func (l *labelled) areas() (area []int32, members [][]int) {
	area = make([]int32, len(l.at))
	for i := range area {
		area[i] = -1
	}
	for i := range area {
		if area[i] >= 0 {
			continue
		}
		id := int32(len(members))
		area[i] = id
		list := []int{i}
		for k := 0; k < len(list); k++ {
			for _, j := range l.cross(list[k]) {
				if j >= 0 && area[j] < 0 && l.at[j] == l.at[i] {
					area[j] = id
					list = append(list, j)
				}
			}
		}
		members = append(members, list)
	}
	return area, members
}
