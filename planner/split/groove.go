package split

import "sugarwright/geom"

// islands tells for each piece the one piece that lies all round it, or -1.
func (d *domain) islands(pieces int) []int {
	const none, many = -1, -2
	in := make([]int, pieces)
	for i := range in {
		in[i] = none
	}
	for i, h := range d.arr.Halves {
		a, b := d.cellOf[h.Face], d.cellOf[d.arr.Halves[i^1].Face]
		if a < 0 {
			continue
		}
		p := d.cells[a].piece
		switch {
		case b < 0:
			in[p] = many
		case d.cells[b].piece == p:
		case in[p] == none:
			in[p] = d.cells[b].piece
		case in[p] != d.cells[b].piece:
			in[p] = many
		}
	}
	for i := range in {
		in[i] = max(in[i], none)
	}
	return in
}

// filled is a part's outline with its grooves closed by straight lids: what islands of the same region lie in (a dot in
// a seam, SPLITTING 15) counts as filled. It is the outline itself when there is none, or when grooves are more than a
// quarter of the whole.
func (g *merger) filled(shape region, cells []int) region {
	piece := g.d.cells[cells[0]].piece
	has := false
	for _, in := range g.d.island {
		has = has || in == piece
	}
	if !has {
		return shape
	}
	ring := shape[0]
	onHull := map[point]bool{}
	for _, p := range geom.Hull(ring) {
		onHull[p] = true
	}
	n, first := len(ring), 0
	for first < n && !onHull[ring[first]] {
		first++
	}
	var out geom.Ring[point]
	for i := 0; i < n; {
		a := ring[(first+i)%n]
		j := i + 1
		for j < n && !onHull[ring[(first+j)%n]] {
			j++
		}
		b := ring[(first+j)%n]
		out = append(out, a)
		for k := i + 1; k < j; k++ {
			p := ring[(first+k)%n]
			if geom.SegmentDist(p, a, b) < Tuned.LidMM {
				out = append(out, p)
				continue
			}
			// From here to where the border comes back to the lid it must run along one island.
			m := k
			for m < j && geom.SegmentDist(ring[(first+m)%n], a, b) >= Tuned.LidMM {
				m++
			}
			if !g.along(ring, first+k-1, first+m, piece) {
				for ; k < m; k++ {
					out = append(out, ring[(first+k)%n])
				}
			}
			k = m - 1
		}
		i = j
	}
	if len(out) == n || len(out) < 3 {
		return shape
	}
	full := append(region{out}, shape[1:]...)
	if shape.Area() < (1-Tuned.GrooveShare)*full.Area() {
		return shape
	}
	return full
}

// along tells whether the border from one vertex to another runs along an island of a piece.
func (g *merger) along(ring geom.Ring[point], from, to, piece int) bool {
	for i := from; i < to; i++ {
		a, b := ring[i%len(ring)], ring[(i+1)%len(ring)]
		m := point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		c := g.locate(geom.Add(m, geom.Sub(b, a).Unit().Left(), -0.01))
		if c < 0 || g.d.island[g.d.cells[c].piece] != piece {
			return false
		}
	}
	return true
}
