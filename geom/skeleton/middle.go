package skeleton

import (
	"math"

	"sugarwright/geom"
)

// sampleMM is how densely a border is walked for the middle of what it bounds; tuned: a twelfth of the thinnest line of
// 3.4 mm.
const sampleMM = 0.3

// Middle is the middle lines of the thin places of a region: the centres of the largest discs inside it that touch the
// places' border, where they are smaller than width across. Ends are left out where the way round the border from one
// touching point to the other is shorter than width: lines grown along these middles then end where the places end.
//
// References: the shrinking ball of Ma, Bae and Choi 2012 (Vis. Comput. 28), from memory.
func Middle(
	r geom.Region[geom.TruePoint],
	places []geom.Region[geom.TruePoint],
	width float64,
) []geom.Ring[geom.TruePoint] {
	b := newBorder(r)
	var out []geom.Ring[geom.TruePoint]
	for _, place := range places {
		for _, ring := range place {
			out = append(out, b.middle(ring, width)...)
		}
	}
	return out
}

// border is a region's rings as segments in buckets, each with its way along the ring.
type border struct {
	from, to []geom.TruePoint
	ring     []int
	way      []float64 // of from, along the ring
	length   []float64 // of rings
	cells    map[[2]int][]int32
}

// bucketMM is the side of a bucket, about the width of a line.
const bucketMM = 3.0

func newBorder(r geom.Region[geom.TruePoint]) *border {
	b := &border{cells: map[[2]int][]int32{}}
	for k, ring := range r {
		way := 0.0
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			id := int32(len(b.from))
			b.from, b.to, b.ring, b.way = append(b.from, p), append(b.to, q), append(b.ring, k), append(b.way, way)
			way += geom.Dist(p, q)
			lo, hi := bucket(geom.TruePoint{min(p[0], q[0]), min(p[1], q[1])}), bucket(
				geom.TruePoint{max(p[0], q[0]), max(p[1], q[1])})
			for x := lo[0]; x <= hi[0]; x++ {
				for y := lo[1]; y <= hi[1]; y++ {
					b.cells[[2]int{x, y}] = append(b.cells[[2]int{x, y}], id)
				}
			}
		}
		b.length = append(b.length, way)
	}
	return b
}

func bucket(p geom.TruePoint) [2]int {
	return [2]int{int(math.Floor(p[0] / bucketMM)), int(math.Floor(p[1] / bucketMM))}
}

// nearest is the point of the border nearest to c within reach, and its segment, or -1. Ties go to the lower segment.
func (b *border) nearest(c geom.TruePoint, reach float64) (q geom.TruePoint, seg int32, dist float64) {
	seg, dist = -1, reach
	lo, hi := bucket(geom.TruePoint{c[0] - reach, c[1] - reach}), bucket(geom.TruePoint{c[0] + reach, c[1] + reach})
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for _, i := range b.cells[[2]int{x, y}] {
				p := onSegment(c, b.from[i], b.to[i])
				if d := geom.Dist(c, p); d < dist || d == dist && i < seg {
					q, seg, dist = p, i, d
				}
			}
		}
	}
	return q, seg, dist
}

func onSegment(p, a, b geom.TruePoint) geom.TruePoint {
	d := geom.Sub(b, a)
	l := d.Dot(d)
	if l == 0 {
		return a
	}
	return geom.Add(a, d, max(0, min(1, geom.Sub(p, a).Dot(d)/l)))
}

// middle walks one ring of a place; what of it is not the region's border is passed over.
func (b *border) middle(ring geom.Ring[geom.TruePoint], width float64) []geom.Ring[geom.TruePoint] {
	var out []geom.Ring[geom.TruePoint]
	var run geom.Ring[geom.TruePoint]
	flush := func() {
		if len(run) > 0 {
			out = append(out, run)
			run = nil
		}
	}
	for i, a := range ring {
		d := geom.Sub(ring[(i+1)%len(ring)], a)
		n := int(math.Ceil(d.Len() / sampleMM))
		for k := range n {
			p := geom.Add(a, d, (float64(k)+0.5)/float64(n))
			c, ok := b.centre(p, d.Unit().Left(), width)
			switch {
			case !ok:
				flush()
			case len(run) > 0 && geom.Dist(run[len(run)-1], c) > 2*width:
				flush()
				fallthrough
			default:
				run = append(run, c)
			}
		}
	}
	flush()
	return out
}

// onBorderMM tells a place's own border from the arc that closes it.
const onBorderMM = 0.02

// centre shrinks a disc that touches the border in p from inside, until no border is in it.
func (b *border) centre(p geom.TruePoint, inward geom.Vec, width float64) (c geom.TruePoint, ok bool) {
	_, at, _ := b.nearest(p, onBorderMM)
	if at < 0 {
		return c, false
	}
	r := 0.75 * width // discs of the width and more are no middle of a thin place
	for range 30 {
		c = geom.Add(p, inward, r)
		q, seg, dist := b.nearest(c, r)
		if seg < 0 || dist > r-1e-4 {
			break
		}
		pq := geom.Sub(q, p)
		height := pq.Dot(inward)
		if height <= 1e-9 {
			return c, false
		}
		r = pq.Dot(pq) / (2 * height)
	}
	if 2*r > width {
		return c, false
	}
	q, seg, _ := b.nearest(geom.Add(c, inward, 1e-3), r+2e-3) // the far side
	if seg < 0 {
		return c, false
	}
	if b.ring[at] == b.ring[seg] {
		way := math.Abs(b.way[at] + geom.Dist(b.from[at], p) - b.way[seg] - geom.Dist(b.from[seg], q))
		if way = min(way, b.length[b.ring[at]]-way); way < width {
			return c, false
		}
	}
	return c, true
}

// SurelyOpen tells, quickly, that a disc of the given width reaches all of a region but corners and necks shorter than
// length: along every border, what no such disc can touch from inside is shorter than that, and some disc fits. False
// says nothing: Open knows.
func SurelyOpen(r geom.Region[geom.TruePoint], width, length float64) bool {
	b := newBorder(r)
	fits := false
	for _, ring := range r {
		var bad []bool
		var step []float64
		for i, a := range ring {
			d := geom.Sub(ring[(i+1)%len(ring)], a)
			n := int(math.Ceil(d.Len() / sampleMM))
			for k := range n {
				c := geom.Add(geom.Add(a, d, (float64(k)+0.5)/float64(n)), d.Unit().Left(), width/2)
				_, seg, _ := b.nearest(c, width/2-1e-3)
				bad = append(bad, seg >= 0)
				step = append(step, d.Len()/float64(n))
			}
		}
		good := -1
		for i, x := range bad {
			if !x {
				good = i
				break
			}
		}
		if good < 0 {
			return false
		}
		fits = true
		run := 0.0
		for k := range bad { // round from a good place, so that no run is cut
			if i := (good + k) % len(bad); bad[i] {
				if run += step[i]; run > length {
					return false
				}
			} else {
				run = 0
			}
		}
	}
	return fits
}
