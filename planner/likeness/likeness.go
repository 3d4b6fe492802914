// Package likeness measures how much of a drawing a simpler one has lost, as people grade it.
//
// Guarantees: equal drawings have lost nothing; a pair and its mirror image have lost alike. What has moved a little, grown
// or become a plainer form is not lost.
//
// References: CIEDE2000 after Sharma, Wu & Dalal 2005. The weights were fitted to grades of simplified drawings, see Weights.
package likeness

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Loss is what a simpler drawing has lost of another.
type Loss struct {
	S     float64 // 0 for the same; below 3.5 a client accepts what was cut, above 6 it is not the thing any more
	Parts float64 // W: the three greatest losses of parts
	Seen  float64 // V: mean difference of colour over the subject, blurred, 0 to 0.6
	Lines float64 // P: lines kept in part; 0 for all or none, 1 for half
	Worst []Lost  // parts lost, worst first
}

// Lost is a part of the drawing, or a set of parts alike, and how much of it is lost.
type Lost struct {
	Colour     int
	At         [2]float64 // millimetres, of the first of them
	Number     int        // how many are alike
	Prominence float64
	Loss       float64 // 0 to 1
}

// Weights of the measure, after non-negative least squares on 59 graded pairs (leave-one-out rank correlation 0.89).
var Weights = struct{ Parts, Seen, Lines float64 }{1.8, 10.8, 1.7}

// Of a drawing and a simpler one: two maps of the same frame.
func Of(before, after *partition.Map) Loss { return New(before).Of(after) }

// Drawing is one that others are compared to.
type Drawing struct {
	m       *partition.Map
	with    *picture // all of it
	flat    *picture // its lines given to what lies beside them
	parts   []part
	subject int // pixels
}

// Dimensions of the comparison, and what the eye takes for the same.
const (
	pixels    = 270   // across the picture circle
	lineMM    = 5.2   // what is narrower is a line
	nearMM    = 2.2   // a border is where it was
	blurMM    = 1.5   // of the difference of colours
	mostSeen  = 0.6   // of the difference of colours
	alikeDE   = 22.0  // colours that stand for each other
	fullDE    = 50.0  // a difference that nobody overlooks
	fullShare = 0.004 // of the subject: a part as prominent as a part can be
	inside    = 1.5   // an island inside another part than the ground stands out so much more
	setShare  = 0.4   // sizes of one set
	leastPart = 6     // pixels; less is not seen
)

// New drawing to compare others to.
func New(m *partition.Map) *Drawing {
	d := &Drawing{m: m, with: draw(m)}
	d.flat = d.with.withoutLines()
	for _, c := range d.with.at {
		if c > 0 {
			d.subject++
		}
	}
	d.parts = d.flat.parts(d.subject)
	return d
}

// Of is what another drawing of the same frame has lost.
func (d *Drawing) Of(after *partition.Map) (out Loss) {
	if d.subject == 0 {
		return out
	}
	with := draw(after)
	flat := with.withoutLines()
	out.Worst = d.lost(flat, with)
	for i, share := range []float64{1, 0.5, 0.25} {
		if i < len(out.Worst) {
			out.Parts += share * out.Worst[i].value()
		}
	}
	out.Seen = d.seen(with)
	out.Lines = d.lines(with)
	out.S = Weights.Parts*out.Parts + Weights.Seen*math.Sqrt(out.Seen) + Weights.Lines*out.Lines
	return out
}

func (l Lost) value() float64 {
	return l.Prominence * math.Pow(float64(l.Number), 0.25) * smooth((l.Loss-0.15)/0.6)
}

func smooth(t float64) float64 {
	t = math.Max(0, math.Min(1, t))
	return t * t * (3 - 2*t)
}

// part of a flat picture: an area of one colour.
type part struct {
	colour     int32
	pixels     []int32
	border     []int32 // pixels of it that touch another part
	x, y       float64 // middle, pixels
	contrast   float64 // towards what it borders on, 0 to 1
	ground     bool    // it borders on the ground
	within     int     // how many parts it borders on
	prominence float64
}

// differ is how far apart two colours are, 0 to 1.
func (p *picture) differ(a, b int32) float64 {
	if a == b {
		return 0
	}
	return math.Min(1, p.de(a, b)/fullDE)
}

// lost are the parts of the drawing, sets together, with what is lost of each in another, worst first.
func (d *Drawing) lost(flat, with *picture) []Lost {
	there := flat.parts(d.subject)
	taken := make([]bool, len(there))
	order := make([]int, len(d.parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(d.parts[b].pixels), len(d.parts[a].pixels)) })
	loss := make([]float64, len(d.parts))
	perMM := d.flat.perMM
	for _, i := range order {
		p := d.parts[i]
		best, which := 0.0, -1
		for k, q := range there {
			if taken[k] || flat.between(d.flat.colours[p.colour], flat.colours[q.colour]) > alikeDE {
				continue
			}
			shift := math.Hypot(p.x-q.x, p.y-q.y) / perMM
			reach := 0.9*math.Sqrt(float64(len(p.pixels)))/perMM + 4
			r := float64(len(q.pixels)) / float64(len(p.pixels))
			m := math.Exp(-shift*shift/(reach*reach)) * math.Sqrt(math.Min(1, r)) * math.Sqrt(math.Min(1, 4/r))
			if m > best {
				best, which = m, k
			}
		}
		if which >= 0 && best > 0.3 {
			taken[which] = true
		}
		loss[i] = 1 - math.Max(best, math.Min(d.cover(p, with), d.edge(p, flat)))
	}
	var out []Lost
	used := make([]bool, len(d.parts))
	for i, p := range d.parts {
		if used[i] {
			continue
		}
		l := Lost{Colour: int(p.colour), At: d.flat.mm(p.x, p.y), Number: 1, Prominence: p.prominence, Loss: loss[i]}
		for k := i + 1; k < len(d.parts); k++ {
			if q := d.parts[k]; !used[k] && p.alike(q) {
				used[k] = true
				l.Number++
				l.Loss += loss[k]
				l.Prominence = math.Max(l.Prominence, q.prominence)
			}
		}
		l.Loss /= float64(l.Number)
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b Lost) int { return cmp.Compare(b.value(), a.value()) })
	return out
}

// alike tells whether two parts belong to a set.
func (p part) alike(q part) bool {
	a, b := float64(len(p.pixels)), float64(len(q.pixels))
	return p.colour == q.colour && math.Abs(a-b) <= setShare*math.Max(a, b)
}

// cover is the share of a part's place that still has its colour.
func (d *Drawing) cover(p part, with *picture) float64 {
	n := 0
	for _, i := range p.pixels {
		if with.at[i] >= 0 && with.between(d.flat.colours[p.colour], with.colours[with.at[i]]) <= alikeDE {
			n++
		}
	}
	return float64(n) / float64(len(p.pixels))
}

// edge is the share of a part's border, by its contrast, that is kept nearby.
func (d *Drawing) edge(p part, flat *picture) float64 {
	kept, all := 0.0, 0.0
	reach := int(math.Round(nearMM * flat.perMM))
	for _, i := range p.border {
		c := d.flat.step(i)
		now := 0.0
		x, y := int(i)%pixels, int(i)/pixels
		for dy := -reach; dy <= reach && now < c; dy++ {
			for dx := -reach; dx <= reach && now < c; dx++ {
				if dx*dx+dy*dy <= reach*reach && x+dx >= 0 && y+dy >= 0 && x+dx < pixels && y+dy < pixels {
					now = math.Max(now, flat.step(int32((y+dy)*pixels+x+dx)))
				}
			}
		}
		kept, all = kept+math.Min(c, now), all+c
	}
	if all == 0 {
		return 1
	}
	return kept / all
}

// seen is the mean difference of colour over the subject, blurred.
func (d *Drawing) seen(with *picture) float64 {
	diff := make([]float64, pixels*pixels)
	for i, a := range d.with.at {
		if b := with.at[i]; a >= 0 && b >= 0 {
			diff[i] = math.Min(1, with.between(d.with.colours[a], with.colours[b])/fullDE)
		}
	}
	diff = blurred(diff, blurMM*with.perMM)
	sum := 0.0
	for i, a := range d.with.at {
		if a > 0 {
			sum += math.Min(mostSeen, diff[i])
		}
	}
	return sum / float64(d.subject)
}

// lines tells how far lines are kept in part: 4 k (1 - k) of the share k that is kept.
func (d *Drawing) lines(with *picture) float64 {
	kept, all := 0, 0
	reach := int(math.Round(nearMM * with.perMM))
	for i, l := range d.flat.line {
		if !l || d.flat.at[i] == 0 { // a stem has no more to do with an outline than a spot
			continue
		}
		all++
		x, y := i%pixels, i/pixels
		own := d.with.colours[d.with.at[i]]
	look:
		for dy := -reach; dy <= reach; dy++ {
			for dx := -reach; dx <= reach; dx++ {
				if x+dx < 0 || y+dy < 0 || x+dx >= pixels || y+dy >= pixels {
					continue
				}
				if c := with.at[(y+dy)*pixels+x+dx]; c >= 0 && with.between(own, with.colours[c]) <= alikeDE {
					kept++
					break look
				}
			}
		}
	}
	if all < pixels/2 {
		return 0
	}
	k := float64(kept) / float64(all)
	return 4 * k * (1 - k)
}

// blurred is a picture after a Gaussian of so many pixels.
func blurred(in []float64, sigma float64) []float64 {
	r := int(math.Ceil(3 * sigma))
	kernel := make([]float64, 2*r+1)
	sum := 0.0
	for i := range kernel {
		kernel[i] = math.Exp(-float64((i-r)*(i-r)) / (2 * sigma * sigma))
		sum += kernel[i]
	}
	pass := func(in []float64, dx, dy int) []float64 {
		out := make([]float64, len(in))
		for y := range pixels {
			for x := range pixels {
				v := 0.0
				for k, w := range kernel {
					i, j := x+(k-r)*dx, y+(k-r)*dy
					if i >= 0 && j >= 0 && i < pixels && j < pixels {
						v += w * in[j*pixels+i]
					}
				}
				out[y*pixels+x] = v / sum
			}
		}
		return out
	}
	return pass(pass(in, 1, 0), 0, 1)
}

// of colours by their numbers.
type pair struct{ a, b artwork.RGB }
