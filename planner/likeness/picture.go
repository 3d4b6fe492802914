package likeness

import (
	"math"
	"sort"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// picture is a map in pixels, the picture circle as wide as it: the number of each pixel's colour, -1 outside the circle.
type picture struct {
	at      []int32
	colours []artwork.RGB
	line    []bool // of a picture without lines: where they were
	perMM   float64
	known   map[pair]float64
}

// draw a map's pixels, each with the colour of the region that holds its middle.
func draw(m *partition.Map) *picture {
	r := m.Frame.PictureRadius
	p := &picture{at: make([]int32, pixels*pixels), perMM: pixels / (2 * r), known: map[pair]float64{}}
	for _, c := range m.Colours {
		p.colours = append(p.colours, c.RGB)
	}
	for i := range p.at {
		p.at[i] = -1
		x, y := float64(i%pixels)+0.5-pixels/2.0, float64(i/pixels)+0.5-pixels/2.0
		if x*x+y*y <= pixels*pixels/4.0 {
			p.at[i] = 0
		}
	}
	var cuts []float64
	for _, region := range m.Regions {
		if region.Jacket || region.Colour == 0 {
			continue
		}
		b := region.Shape.Bound()
		lo, hi := int((r-b.Max[1])*p.perMM), int((r-b.Min[1])*p.perMM)+1
		for y := max(0, lo); y <= min(pixels-1, hi); y++ {
			at := r - (float64(y)+0.5)/p.perMM
			cuts = cuts[:0]
			for _, ring := range region.Shape {
				for i, a := range ring {
					c := ring[(i+1)%len(ring)]
					if (a[1] > at) != (c[1] > at) {
						cuts = append(cuts, a[0]+(c[0]-a[0])*(at-a[1])/(c[1]-a[1]))
					}
				}
			}
			sort.Float64s(cuts)
			for k := 0; k+1 < len(cuts); k += 2 {
				from, to := int(math.Ceil((cuts[k]+r)*p.perMM-0.5)), int(math.Ceil((cuts[k+1]+r)*p.perMM-0.5))
				for x := max(0, from); x < min(pixels, to); x++ {
					if p.at[y*pixels+x] == 0 {
						p.at[y*pixels+x] = int32(region.Colour)
					}
				}
			}
		}
	}
	return p
}

// between is the difference of two colours, kept.
func (p *picture) between(a, b artwork.RGB) float64 {
	if a == b {
		return 0
	}
	k := pair{a, b}
	d, ok := p.known[k]
	if !ok {
		d = partition.DE2000(a, b)
		p.known[k] = d
	}
	return d
}

func (p *picture) de(a, b int32) float64 { return p.between(p.colours[a], p.colours[b]) }

// mm of a place in pixels, in the true frame.
func (p *picture) mm(x, y float64) [2]float64 {
	return [2]float64{(x - pixels/2.0) / p.perMM, (pixels/2.0 - y) / p.perMM}
}

// step is the greatest difference of a pixel to one beside it.
func (p *picture) step(i int32) (d float64) {
	a := p.at[i]
	if a < 0 {
		return 0
	}
	x, y := i%pixels, i/pixels
	for _, n := range [4][2]int32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		if x+n[0] < 0 || y+n[1] < 0 || x+n[0] >= pixels || y+n[1] >= pixels {
			continue
		}
		if b := p.at[i+n[0]+n[1]*pixels]; b >= 0 && b != a {
			d = math.Max(d, p.differ(a, b))
		}
	}
	return d
}

// areas of one colour that hang together, by their pixels.
func (p *picture) areas() (of []int32, all [][]int32) {
	of = make([]int32, len(p.at))
	for i := range of {
		of[i] = -1
	}
	for i, c := range p.at {
		if c < 0 || of[i] >= 0 {
			continue
		}
		n := int32(len(all))
		of[i] = n
		stack, found := []int32{int32(i)}, []int32(nil)
		for len(stack) > 0 {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			found = append(found, k)
			x, y := k%pixels, k/pixels
			for _, d := range [4][2]int32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if x+d[0] < 0 || y+d[1] < 0 || x+d[0] >= pixels || y+d[1] >= pixels {
					continue
				}
				if j := k + d[0] + d[1]*pixels; of[j] < 0 && p.at[j] == c {
					of[j] = n
					stack = append(stack, j)
				}
			}
		}
		all = append(all, found)
	}
	return of, all
}

// parts of a picture that are not ground, with their prominence in a subject of so many pixels.
func (p *picture) parts(subject int) []part {
	of, all := p.areas()
	var out []part
	for n, found := range all {
		c := p.at[found[0]]
		if c == 0 || len(found) < leastPart {
			continue
		}
		q := part{colour: c, pixels: found}
		sum, edges := 0.0, 0
		beside := map[int32]bool{}
		for _, i := range found {
			x, y := i%pixels, i/pixels
			q.x, q.y = q.x+float64(x)+0.5, q.y+float64(y)+0.5
			at := false
			for _, d := range [4][2]int32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if x+d[0] < 0 || y+d[1] < 0 || x+d[0] >= pixels || y+d[1] >= pixels {
					continue
				}
				j := i + d[0] + d[1]*pixels
				if of[j] < 0 || of[j] == int32(n) {
					continue
				}
				at = true
				edges++
				sum += p.differ(c, p.at[j])
				if p.at[j] == 0 {
					q.ground = true
				}
				beside[of[j]] = true
			}
			if at {
				q.border = append(q.border, i)
			}
		}
		if edges > 0 {
			q.contrast = sum / float64(edges)
		}
		q.x, q.y = q.x/float64(len(found)), q.y/float64(len(found))
		q.within = len(beside)
		q.prominence = q.contrast * math.Min(1, math.Sqrt(float64(len(found))/float64(max(1, subject))/fullShare))
		if q.within == 1 && !q.ground {
			q.prominence *= inside
		}
		out = append(out, q)
	}
	return out
}

// darkest is how light a colour may be, in CIE lightness from 0 to 1, and still be drawn as a line round others.
const darkest = 0.45

// longerThan so many of its widths is a line.
const longerThan = 4

// withoutLines is a picture whose dark lines, narrower than lineMM and longer than four widths, have given way to what
// lies beside them.
func (p *picture) withoutLines() *picture {
	out := &picture{at: append([]int32(nil), p.at...), colours: p.colours, perMM: p.perMM, known: p.known, line: make([]bool, len(p.at))}
	half := lineMM / 2 * p.perMM
	for c := range p.colours {
		if c == 0 || partition.Lightness(p.colours[c]) > darkest {
			continue
		}
		own := make([]bool, len(p.at))
		any := false
		for i, a := range p.at {
			own[i] = a == int32(c)
			any = any || own[i]
		}
		if !any {
			continue
		}
		d2 := distance2(own)
		thick := make([]bool, len(own)) // the middles of discs that fit
		for i := range thick {
			thick[i] = own[i] && d2[i] > half*half
		}
		back := near(thick, half+1)
		narrow := &picture{at: make([]int32, len(p.at)), perMM: p.perMM}
		for i := range own {
			narrow.at[i] = -1
			if own[i] && !back[i] {
				narrow.at[i] = 1
			}
		}
		_, all := narrow.areas()
		for _, found := range all {
			deep := 0.0
			for _, i := range found {
				deep = math.Max(deep, d2[i])
			}
			if float64(len(found)) < longerThan*4*deep { // its area is its length times its width
				continue
			}
			for _, i := range found {
				out.line[i] = true
			}
		}
	}
	out.fill()
	return out
}

// fill gives pixels of lines the colour of the nearest that is none.
func (p *picture) fill() {
	var front []int32
	for i, l := range p.line {
		if l {
			p.at[i] = -2
		} else if p.at[i] >= 0 {
			front = append(front, int32(i))
		}
	}
	for len(front) > 0 {
		var next []int32
		for _, i := range front {
			x, y := i%pixels, i/pixels
			for _, d := range [4][2]int32{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if x+d[0] < 0 || y+d[1] < 0 || x+d[0] >= pixels || y+d[1] >= pixels {
					continue
				}
				if j := i + d[0] + d[1]*pixels; p.at[j] == -2 {
					p.at[j] = p.at[i]
					next = append(next, j)
				}
			}
		}
		front = next
	}
	for i := range p.at {
		if p.at[i] == -2 {
			p.at[i] = 0
		}
	}
}

// distance2 is the squared distance of each pixel to the nearest that is not set (Felzenszwalb & Huttenlocher 2012).
func distance2(set []bool) []float64 {
	const far = 1e12
	g := make([]float64, len(set))
	for i, s := range set {
		if s {
			g[i] = far
		}
	}
	f, d := make([]float64, pixels), make([]float64, pixels)
	v, z := make([]int, pixels), make([]float64, pixels+1)
	pass := func() {
		k := 0
		v[0], z[0], z[1] = 0, math.Inf(-1), math.Inf(1)
		for q := 1; q < pixels; q++ {
			s := ((f[q] + float64(q*q)) - (f[v[k]] + float64(v[k]*v[k]))) / float64(2*q-2*v[k])
			for s <= z[k] {
				k--
				s = ((f[q] + float64(q*q)) - (f[v[k]] + float64(v[k]*v[k]))) / float64(2*q-2*v[k])
			}
			k++
			v[k], z[k], z[k+1] = q, s, math.Inf(1)
		}
		k = 0
		for q := range pixels {
			for z[k+1] < float64(q) {
				k++
			}
			d[q] = float64((q-v[k])*(q-v[k])) + f[v[k]]
		}
	}
	for x := range pixels {
		for y := range pixels {
			f[y] = g[y*pixels+x]
		}
		pass()
		for y := range pixels {
			g[y*pixels+x] = d[y]
		}
	}
	for y := range pixels {
		copy(f, g[y*pixels:(y+1)*pixels])
		pass()
		copy(g[y*pixels:(y+1)*pixels], d)
	}
	return g
}

// near are the pixels within r of a set.
func near(set []bool, r float64) []bool {
	not := make([]bool, len(set))
	for i, s := range set {
		not[i] = !s
	}
	d := distance2(not)
	out := make([]bool, len(set))
	for i := range out {
		out[i] = d[i] <= r*r
	}
	return out
}
