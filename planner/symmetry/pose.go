package symmetry

import (
	"math"
	"math/cmplx"
	"sort"

	"sugarwright/geom"
	"sugarwright/geom/partition"
)

// Pose is how a drawing is turned, and perhaps mirrored, before it is split: by its own mirror line, else by the
// direction of most of its straight border, else by its moments. So a drawing is split alike however it lies on the
// page.
type Pose struct {
	cos, sin float64
	flip     bool
}

// Upright is the pose of a drawing that is not turned.
var Upright = Pose{cos: 1}

// In turns a point of the drawing into the pose.
func (p Pose) In(q point) point {
	if p.flip {
		q[0] = -q[0]
	}
	return point{p.cos*q[0] - p.sin*q[1], p.sin*q[0] + p.cos*q[1]}
}

// Out turns a point of the pose back into the drawing.
func (p Pose) Out(q point) point {
	q = point{p.cos*q[0] + p.sin*q[1], -p.sin*q[0] + p.cos*q[1]}
	if p.flip {
		q[0] = -q[0]
	}
	return q
}

// Moved maps a region point by point onto the grid; outlines stay counter-clockwise.
func (p Pose) Moved(r region, by func(point) point) region {
	out := geom.Map(r, func(q point) point { return partition.Snap(by(q)).True() })
	if p.flip {
		for i := range out {
			out[i] = out[i].Reversed()
		}
	}
	return out
}

// mostMoment is the highest moment looked at: drawings turn into themselves at most twelve times.
const mostMoment = mostFold

// feature is a moment of one colour: the integral of z^k about the whole subject's centroid, over its largest possible
// value.
type feature struct {
	k int
	z complex128
}

// features of the subject, low moments first: by Green's theorem exact on polygons (8-point Gauss quadrature is exact
// to degree 15).
func features(rs []partition.Region) []feature {
	nodes := [4][2]float64{{0.1834346424956498, 0.3626837833783620}, {0.5255324099163290, 0.3137066458778873},
		{0.7966664774136267, 0.2223810344533745}, {0.9602898564975363, 0.1012285362903763}}
	var centre geom.Vec
	sum, far, colours := 0.0, 0.0, 0
	for _, r := range rs {
		if r.Jacket || r.Colour == 0 {
			continue
		}
		m := geom.MomentsOf(r.Shape)
		centre[0], centre[1], sum = centre[0]+m.Area*m.Centroid[0], centre[1]+m.Area*m.Centroid[1], sum+m.Area
		colours = max(colours, r.Colour+1)
	}
	if sum == 0 {
		return nil
	}
	c := point{centre[0] / sum, centre[1] / sum}
	z := make([][mostMoment + 1]complex128, colours)
	for _, r := range rs {
		if r.Jacket || r.Colour == 0 {
			continue
		}
		for _, ring := range r.Shape {
			for i := range ring {
				a, b := geom.Sub(ring[i], c), geom.Sub(ring[(i+1)%len(ring)], c)
				far = math.Max(far, a.Len())
				p, q := complex(a[0], a[1]), complex(b[0], b[1])
				for _, n := range nodes {
					for _, t := range [2]float64{0.5 - n[0]/2, 0.5 + n[0]/2} {
						at := p + (q-p)*complex(t, 0)
						f := cmplx.Conj(at) * (q - p) * complex(n[1]/2, 0) / 2i
						for k := range z[r.Colour] {
							z[r.Colour][k] += f
							f *= at
						}
					}
				}
			}
		}
	}
	var out []feature
	for k := 1; k <= mostMoment; k++ {
		for _, m := range z {
			if m[0] != 0 {
				out = append(out, feature{k, m[k] / m[0] / complex(math.Pow(far, float64(k)), 0)})
			}
		}
	}
	return out
}

// PoseOf finds the pose of a map's regions.
func PoseOf(rs []partition.Region) Pose {
	fs := features(rs)
	first := feature{}
	for _, f := range fs {
		if cmplx.Abs(f.z) > Tuned.SlightMoment {
			first = f
			break
		}
	}
	angle, turns := 0.0, 1 // the drawing's direction that becomes upright, and in how many ways it may point
	switch mirror, ok := mirrorLine(rs, first); {
	case ok:
		angle, turns = mirror, 2
	default:
		if along, ok := mostAlong(rs); ok {
			angle, turns = along, 4
		} else if first.k > 0 {
			angle, turns = cmplx.Phase(first.z)/float64(first.k), first.k
		}
	}
	// Of the ways that are left, mirrored or not, take the one whose moments come first in order.
	type way struct {
		Pose
		key []float64
	}
	var ways []way
	for t := 0; t < turns; t++ {
		for _, flip := range []bool{false, true} {
			a := angle + 2*math.Pi*float64(t)/float64(turns)
			if flip {
				a = math.Pi - a
			}
			w := way{Pose: Pose{cos: math.Cos(math.Pi/2 - a), sin: math.Sin(math.Pi/2 - a), flip: flip}}
			for _, f := range fs {
				m := f.z
				if flip { // z becomes -conj(z)
					m = cmplx.Conj(m)
					if f.k%2 == 1 {
						m = -m
					}
				}
				m *= cmplx.Rect(1, float64(f.k)*(math.Pi/2-a))
				w.key = append(w.key, imag(m), real(m))
			}
			ways = append(ways, w)
		}
	}
	sort.SliceStable(ways, func(i, j int) bool {
		for k, v := range ways[i].key {
			if d := v - ways[j].key[k]; math.Abs(d) > Tuned.SlightMoment/5 {
				return d < 0
			}
		}
		return false
	})
	return ways[0].Pose
}

// mirrorLine is the angle of a line in which the drawing mirrors onto itself. A mirror line lies where the first moment
// that is not slight points, or half way between.
func mirrorLine(rs []partition.Region, first feature) (float64, bool) {
	if first.k == 0 {
		return 0, false
	}
	var pieces []Coloured
	var subject []point
	for _, r := range rs {
		if !r.Jacket && r.Colour != 0 {
			pieces = append(pieces, Coloured{r.Shape, r.Colour})
			subject = append(subject, r.Shape[0]...)
		}
	}
	keeps := keeper(pieces, true)
	centre := geom.SmallestCircle(subject).Centre
	for j := 0; j < 2*first.k; j++ {
		a := (cmplx.Phase(first.z) + math.Pi*float64(j)) / float64(first.k)
		sin, cos := math.Sincos(2 * a)
		if keeps(Motion{centre, cos, sin, true}) {
			return a, true
		}
	}
	return 0, false
}

// mostAlong is the direction along which, or square to which, most straight border lies.
func mostAlong(rs []partition.Region) (float64, bool) {
	const bins = 360 // quarter degrees of a right angle
	var length, sum [bins]float64
	total := 0.0
	for _, r := range rs {
		if r.Jacket || r.Colour == 0 {
			continue
		}
		for _, ring := range r.Shape {
			thin := geom.Thinned(ring, 0.02)
			for i := range thin {
				v := geom.Sub(thin[(i+1)%len(thin)], thin[i])
				l := v.Len()
				total += l
				if l < Tuned.StraightMM {
					continue
				}
				a := math.Mod(v.Angle()+4*math.Pi, math.Pi/2)
				b := int(a/(math.Pi/2)*bins) % bins
				length[b] += l
				sum[b] += l * a
			}
		}
	}
	best, most := 0.0, 0.0
	for b := range length {
		// An angle near a bin's edge falls into two.
		l, s := 0.0, 0.0
		for d := -1; d <= 1; d++ {
			n := (b + d + bins) % bins
			shift := 0.0
			if b+d < 0 {
				shift = -math.Pi / 2
			} else if b+d >= bins {
				shift = math.Pi / 2
			}
			l += length[n]
			s += sum[n] + length[n]*shift
		}
		if l > most+1e-6 {
			best, most = s/l, l
		}
	}
	return best, most > Tuned.AlongShare*total
}
