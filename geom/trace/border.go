package trace

import (
	"math"
	"slices"
)

// point in pixels, x to the right and y down.
type point [2]float64

// chain is a border between two labels, from one node to another or round; its points are used by both sides.
type chain struct {
	from, to    int // corners of pixels; the same for a ring
	left, right int16
	points      []point // ends with its nodes; a ring's first is its last
}

// borders are the chains of a labelled picture, and by crack which chain it is of.
type borders struct {
	*labelled
	chains []chain
	of     map[[2]int]int // crack, from corner to corner as the chain runs -> chain
}

// side is the label of a pixel, -1 beyond the page.
func (l *labelled) side(x, y int) int16 {
	if l.beyond(x, y) {
		return -1
	}
	return l.at[y*l.w+x]
}

// steps from a corner of pixels: right, down, left, up; with the pixels that lie to the left and right of the way.
var steps = [4]struct{ dx, dy, lx, ly, rx, ry int }{
	{1, 0, 0, -1, 0, 0},
	{0, 1, 0, 0, -1, 0},
	{-1, 0, -1, 0, -1, -1},
	{0, -1, -1, -1, 0, -1},
}

// crack tells whether a step from a corner runs between two labels, and which.
func (l *labelled) crack(c, dir int) (left, right int16, ok bool) {
	x, y, s := c%(l.w+1), c/(l.w+1), steps[dir]
	if nx, ny := x+s.dx, y+s.dy; nx < 0 || ny < 0 || nx > l.w || ny > l.h {
		return 0, 0, false
	}
	left, right = l.side(x+s.lx, y+s.ly), l.side(x+s.rx, y+s.ry)
	return left, right, left != right
}

func (l *labelled) step(c, dir int) int { return c + steps[dir].dx + steps[dir].dy*(l.w+1) }

func (l *labelled) degree(c int) (n int) {
	for d := range 4 {
		if _, _, ok := l.crack(c, d); ok {
			n++
		}
	}
	return n
}

// follow all chains.
func follow(l *labelled) *borders {
	b := &borders{labelled: l, of: map[[2]int]int{}}
	walk := func(c, dir int) {
		left, right, _ := l.crack(c, dir)
		id := len(b.chains)
		ch := chain{from: c, left: left, right: right}
		at := []int{c}
		for {
			next := l.step(c, dir)
			b.of[[2]int{c, next}] = id
			at = append(at, next)
			back := (dir + 2) % 4
			c = next
			if c == ch.from || l.degree(c) != 2 {
				break
			}
			for d := range 4 {
				if _, _, ok := l.crack(c, d); ok && d != back {
					dir = d
					break
				}
			}
		}
		ch.to = c
		ch.points = b.refined(at)
		b.chains = append(b.chains, ch)
	}
	done := func(c, dir int) bool {
		n := l.step(c, dir)
		_, one := b.of[[2]int{c, n}]
		_, two := b.of[[2]int{n, c}]
		return one || two
	}
	for pass := range 2 { // from nodes, then rings
		for c := range (l.w + 1) * (l.h + 1) {
			n := l.degree(c)
			if n == 0 || pass == 0 && n == 2 {
				continue
			}
			for d := range 4 {
				if _, _, ok := l.crack(c, d); ok && !done(c, d) {
					walk(c, d)
				}
			}
		}
	}
	return b
}

// refined are the points of a chain of pixel corners, each crack's middle moved to where the shares of both colours in the
// pixels across it say that the border is; cracks whose shares do not end pure are left out.
func (b *borders) refined(at []int) []point {
	pos := func(c int) point { return point{float64(c % (b.w + 1)), float64(c / (b.w + 1))} }
	reach := 2
	if b.lossy {
		reach = 3
	}
	ring := at[0] == at[len(at)-1]
	var out []point
	if !ring {
		out = append(out, pos(at[0]))
	}
	for i := 1; i < len(at); i++ {
		p, q := pos(at[i-1]), pos(at[i])
		mid := point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}
		nx, ny := int(p[1]-q[1]), int(q[0]-p[0]) // to the right of the way, y down
		x, y := int(math.Floor(mid[0])), int(math.Floor(mid[1]))
		if nx != 0 {
			x = int(mid[0])
			if nx < 0 {
				x--
			}
		} else if ny < 0 {
			y = int(mid[1]) - 1
		} else {
			y = int(mid[1])
		}
		lx, ly := x-nx, y-ny
		left, right := b.side(lx, ly), b.side(x, y)
		if b.beyond(lx, ly) || b.beyond(x, y) {
			out = append(out, mid) // the page's own border
			continue
		}
		var a, c vec
		share := func(i int) float64 { t, _ := mix(b.vec(b.rgb[i]), a, c); return t } // of what lies to the right
		switch {
		case left < 0:
			share = func(i int) float64 { return b.alpha[i] }
		case right < 0:
			share = func(i int) float64 { return 1 - b.alpha[i] }
		default:
			a, c = b.vec(b.colours[left]), b.vec(b.colours[right])
		}
		sum, ok, n := 0.0, true, 0
		for k := range reach {
			u, v := b.side(lx-k*nx, ly-k*ny), b.side(x+k*nx, y+k*ny)
			if u != left || v != right {
				break
			}
			if u < 0 && b.beyond(lx-k*nx, ly-k*ny) || v < 0 && b.beyond(x+k*nx, y+k*ny) {
				break
			}
			tl, tr := share((ly-k*ny)*b.w+lx-k*nx), share((y+k*ny)*b.w+x+k*nx)
			sum += (1 - tl) + (1 - tr) - 1
			ok = tl < 0.12 && tr > 0.88
			n++
		}
		if !ok && n > 0 {
			continue
		}
		sum = math.Max(-1, math.Min(1, sum))
		out = append(out, point{mid[0] + sum*float64(nx), mid[1] + sum*float64(ny)})
	}
	if ring {
		if len(out) < 3 { // nothing pure: the cracks themselves
			out = out[:0]
			for _, c := range at[1:] {
				out = append(out, pos(c))
			}
		}
		return append(out, out[0])
	}
	return append(out, pos(at[len(at)-1]))
}

// beyond tells whether a pixel is none of the page's.
func (l *labelled) beyond(x, y int) bool { return x < 0 || y < 0 || x >= l.w || y >= l.h }

// rings of an area, as chains and whether each runs backward, the area to the right of the way.
func (b *borders) rings(members []int, area []int32) (out [][]use) {
	id := area[members[0]]
	own := func(x, y int) bool { return x >= 0 && y >= 0 && x < b.w && y < b.h && area[y*b.w+x] == id }
	seen := map[[2]int]bool{}
	for _, i := range members {
		x, y := i%b.w, i/b.w
		for d, s := range steps {
			c := y*(b.w+1) + x - s.rx - s.ry*(b.w+1) // corner from which the pixel lies to the right of the step
			if own(x-s.rx+s.lx, y-s.ry+s.ly) || seen[[2]int{c, d}] {
				continue
			}
			var ring []use
			dir := d
			for !seen[[2]int{c, dir}] {
				seen[[2]int{c, dir}] = true
				next := b.step(c, dir)
				u := use{}
				if k, ok := b.of[[2]int{c, next}]; ok {
					u = use{k, false}
				} else {
					u = use{b.of[[2]int{next, c}], true}
				}
				if len(ring) == 0 || ring[len(ring)-1] != u {
					ring = append(ring, u)
				}
				c = next
				for _, turn := range []int{1, 0, 3} { // right first: areas hang together side by side only
					t := (dir + turn) % 4
					cx, cy, st := c%(b.w+1), c/(b.w+1), steps[t]
					if own(cx+st.rx, cy+st.ry) && !own(cx+st.lx, cy+st.ly) {
						dir = t
						break
					}
				}
			}
			if len(ring) > 1 && ring[0] == ring[len(ring)-1] {
				ring = ring[:len(ring)-1]
			}
			out = append(out, ring)
		}
	}
	return out
}

type use struct {
	chain int
	back  bool
}

// ring of points of chains, without its last point, which is its first.
func (b *borders) ring(uses []use) (out []point) {
	for _, u := range uses {
		p := b.chains[u.chain].points
		if u.back {
			p = slices.Clone(p)
			slices.Reverse(p)
		}
		out = append(out, p[:len(p)-1]...)
	}
	return out
}
