package trace

import (
	"image"
	"image/color"
	"math"
	"slices"
)

// Evening out of light: so many tiles to the longer side, of which the brightest share is the paper's; a tile darker than the surface by
// so much is no paper.
const (
	tiles      = 24
	brightest  = 0.15
	notPaper   = 10.0 // of 255
	lightTurns = 8
)

// shrunk is a picture made smaller by a whole factor where it has more than mostSide pixels a side.
func shrunk(img image.Image) image.Image {
	b := img.Bounds()
	k := (max(b.Dx(), b.Dy()) + mostSide - 1) / mostSide
	if k <= 1 {
		return img
	}
	out := image.NewNRGBA(image.Rect(0, 0, b.Dx()/k, b.Dy()/k))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			var sum [4]int
			for d := range k * k {
				c := color.NRGBAModel.Convert(img.At(b.Min.X+k*x+d%k, b.Min.Y+k*y+d/k)).(color.NRGBA)
				for i, v := range [4]uint8{c.R, c.G, c.B, c.A} {
					sum[i] += int(v)
				}
			}
			n := k * k
			out.SetNRGBA(x, y, color.NRGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), uint8(sum[3] / n)})
		}
	}
	return out
}

// quadratic is a surface 1, x, y, x², xy, y² over the picture, x and y from -1 to 1.
type quadratic [6]float64

func terms(x, y float64) [6]float64 { return [6]float64{1, x, y, x * x, x * y, y * y} }

func (q quadratic) at(x, y float64) (v float64) {
	for i, t := range terms(x, y) {
		v += q[i] * t
	}
	return v
}

// evened is a photo of a drawing on white paper as if the light on it were even: each channel divided by the paper's, a quadratic surface
// through the brightest of each tile; tiles that are all paint are left out.
func evened(img image.Image) *image.NRGBA {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	out := image.NewNRGBA(image.Rect(0, 0, w, h))
	size := max(1, (max(w, h)+tiles-1)/tiles)
	type tile struct {
		x, y float64
		v    [3]float64
	}
	var all []tile
	place := func(x, y float64) (float64, float64) { return 2*x/float64(w) - 1, 2*y/float64(h) - 1 }
	for y0 := 0; y0 < h; y0 += size {
		for x0 := 0; x0 < w; x0 += size {
			var lights []float64
			var px []color.NRGBA
			for y := y0; y < min(h, y0+size); y++ {
				for x := x0; x < min(w, x0+size); x++ {
					c := color.NRGBAModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.NRGBA)
					out.SetNRGBA(x, y, c)
					px = append(px, c)
					lights = append(lights, float64(c.R)+float64(c.G)+float64(c.B))
				}
			}
			sorted := slices.Sorted(slices.Values(lights))
			least := sorted[int(float64(len(sorted)-1)*(1-brightest))]
			t, n := tile{}, 0.0
			for i, c := range px {
				if lights[i] >= least {
					n++
					t.v[0], t.v[1], t.v[2] = t.v[0]+float64(c.R), t.v[1]+float64(c.G), t.v[2]+float64(c.B)
				}
			}
			for k := range t.v {
				t.v[k] /= n
			}
			t.x, t.y = place(float64(x0)+float64(size)/2, float64(y0)+float64(size)/2)
			all = append(all, t)
		}
	}
	paper := slices.Clone(all)
	var light [3]quadratic
	for range lightTurns {
		for k := range light {
			light[k] = surface(len(paper), func(i int) (x, y, v float64) { return paper[i].x, paper[i].y, paper[i].v[k] })
		}
		paper = paper[:0]
		for _, t := range all {
			ok := true
			for k := range light {
				ok = ok && t.v[k] >= light[k].at(t.x, t.y)-notPaper
			}
			if ok {
				paper = append(paper, t)
			}
		}
		if len(paper) < 12 { // no paper is seen: as it is
			return out
		}
	}
	for y := range h {
		for x := range w {
			u, v := place(float64(x)+0.5, float64(y)+0.5)
			c := out.NRGBAAt(x, y)
			even := func(p uint8, k int) uint8 {
				return uint8(math.Max(0, math.Min(255, math.Round(255*float64(p)/math.Max(16, light[k].at(u, v))))))
			}
			out.SetNRGBA(x, y, color.NRGBA{even(c.R, 0), even(c.G, 1), even(c.B, 2), c.A})
		}
	}
	return out
}

// surface fits n points by least squares: normal equations.
func surface(n int, point func(i int) (x, y, v float64)) (q quadratic) {
	a := make([][]float64, 6)
	for r := range a {
		a[r] = make([]float64, 7)
	}
	for i := range n {
		x, y, v := point(i)
		t := terms(x, y)
		for r := range 6 {
			for c := range 6 {
				a[r][c] += float64(t[r] * t[c])
			}
			a[r][6] += float64(t[r] * v)
		}
	}
	copy(q[:], solved(a))
	return q
}

// solved are the unknowns of equations whose last column is the right side (Gauss with the largest pivot); 0 for those of which nothing
// is said.
func solved(a [][]float64) []float64 {
	n := len(a)
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		a[c], a[best] = a[best], a[c]
		if math.Abs(a[c][c]) < 1e-12 {
			continue
		}
		for r := range n {
			if f := a[r][c] / a[c][c]; r != c && f != 0 {
				for k := c; k <= n; k++ {
					a[r][k] -= float64(f * a[c][k])
				}
			}
		}
	}
	out := make([]float64, n)
	for r := range out {
		if math.Abs(a[r][r]) >= 1e-12 {
			out[r] = a[r][n] / a[r][r]
		}
	}
	return out
}

// Paper on a photo whose light was evened out is no darker and no more coloured than this: CIELAB.
const (
	paperL      = 82.0
	paperChroma = 10.0
)

// paper makes what is left of light and shade on the paper white.
func (l *labelled) paper() {
	white := -1
	for a, c := range l.colours {
		if v := labOf(c); v[0] >= paperL && math.Hypot(v[1], v[2]) < paperChroma {
			if white < 0 {
				white = a
			}
			l.colours[a] = rgb{255, 255, 255}
		}
	}
	for i, a := range l.at {
		if a >= 0 && l.colours[a] == (rgb{255, 255, 255}) {
			l.at[i] = int16(white)
		}
	}
}

// Streaks of a pen are no thicker than this, in pixels, and no farther from the colour round them, CIE94.
const (
	streakThick = 9
	streakOff   = 30.0
)

// streaks gives thin areas to the neighbour that is most like them, the smallest first, while it is like enough: a pen covers paper
// unevenly. What is pale goes to what is not.
func (l *labelled) streaks() {
	for range 4 {
		area, members := l.areas()
		order := make([]int, 0, len(members))
		for k := range members {
			order = append(order, k)
		}
		slices.SortStableFunc(order, func(a, b int) int { return len(members[a]) - len(members[b]) })
		changed := false
		for _, k := range order {
			m := members[k]
			own := l.at[m[0]]
			if own < 0 || l.thick(m) > streakThick {
				continue
			}
			beside := map[int16]int{}
			for _, i := range m {
				for _, j := range l.cross(i) {
					if j >= 0 && area[j] != area[i] && l.at[j] >= 0 && l.at[j] != own {
						beside[l.at[j]]++
					}
				}
			}
			best, least := own, streakOff
			for _, a := range sortedKeys(beside) {
				d := differ(labOf(l.colours[a]), labOf(l.colours[own]))
				if l.colours[a] == (rgb{255, 255, 255}) && d > faint { // a pale line on paper stays
					continue
				}
				if d < least {
					best, least = a, d
				}
			}
			if best != own {
				for _, i := range m {
					l.at[i] = best
				}
				changed = true
			}
		}
		if !changed {
			return
		}
	}
}

// thick is about how many pixels an area is thick in the mean: twice its pixels over its rim's.
func (l *labelled) thick(m []int) float64 {
	rim := 0
	for _, i := range m {
		for _, j := range l.cross(i) {
			if j < 0 || l.at[j] != l.at[i] {
				rim++
			}
		}
	}
	return 2 * float64(len(m)) / float64(max(1, rim))
}

// unevenL is how much lighter, in L*, one corner of an even ground may be than another.
const unevenL = 10.0

// Uneven tells whether the light falls off across a picture: its corners are of like colour, and not alike light.
func Uneven(img image.Image) bool {
	b := img.Bounds()
	n := max(1, min(b.Dx(), b.Dy())/16)
	lo, hi := 100.0, 0.0
	for k := range 4 {
		x0, y0 := b.Min.X, b.Min.Y
		if k%2 == 1 {
			x0 = b.Max.X - n
		}
		if k/2 == 1 {
			y0 = b.Max.Y - n
		}
		var sum [3]int
		for i := range n * n {
			c := color.NRGBAModel.Convert(img.At(x0+i%n, y0+i/n)).(color.NRGBA)
			sum[0], sum[1], sum[2] = sum[0]+int(c.R), sum[1]+int(c.G), sum[2]+int(c.B)
		}
		c := labOf(rgb{uint8(sum[0] / n / n), uint8(sum[1] / n / n), uint8(sum[2] / n / n)})
		if math.Hypot(c[1], c[2]) > 2*paperChroma { // no paper
			return false
		}
		lo, hi = math.Min(lo, c[0]), math.Max(hi, c[0])
	}
	return hi-lo > unevenL && lo > paperL/2
}
