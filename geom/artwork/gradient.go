package artwork

import (
	"math"
	"strings"

	"sugarwright/geom/finding"
)

// flatSpread is the largest difference of one channel, of 255, for which a gradient counts as flat already.
const flatSpread = 6

// mean is what a gradient is read as.
type mean struct {
	rgba
	flat, none bool // flat within flatSpread; without a stop
}

// gradient becomes the mean of its stops along the offset, with a finding that says so.
func (r *reader) gradient(n, g *node, ctx context) (rgba, bool) {
	m, ok := r.means[g]
	if !ok {
		m = r.meanOf(g)
		r.means[g] = m
	}
	switch {
	case m.none:
		return rgba{}, false
	case m.flat:
		r.say(finding.Gradient, finding.Note, n, "", m.Hex())
	case ctx.picture > 0:
		r.say(finding.Unsupported, finding.Error, n, "soft_mask")
	default:
		r.say(finding.Gradient, finding.Error, n, "error", m.Hex())
	}
	return m.rgba, true
}

func (r *reader) meanOf(g *node) mean {
	for i := 0; i < MaxReferences && !hasStops(g); i++ {
		t := r.ids[strings.TrimPrefix(strings.TrimSpace(g.attr["href"]), "#")]
		if t == nil {
			break
		}
		g = t
	}
	var sum, last, lo, hi [4]float64 // colours times alpha, and alpha
	at, stops := 0.0, 0
	for _, s := range g.children {
		if s.tag != "stop" || stops >= MaxStops {
			continue
		}
		c := r.stop(s)
		o, _ := length(s.attr["offset"], 1, usualFont)
		o = math.Max(at, math.Min(1, o))
		if stops == 0 {
			last, lo, hi = c, c, c
		}
		for i := range c {
			sum[i] += (o - at) * (c[i] + last[i]) / 2
			lo[i], hi[i] = math.Min(lo[i], c[i]), math.Max(hi[i], c[i])
		}
		at, last = o, c
		stops++
	}
	m := mean{flat: true, none: stops == 0}
	for i := range sum {
		sum[i] += (1 - at) * last[i]
		m.flat = m.flat && hi[i]-lo[i] <= flatSpread
	}
	if m.a = sum[3] / 255; m.a > 0 {
		for i := range m.RGB {
			m.RGB[i] = byteOf(sum[i] / m.a)
		}
	}
	return m
}

// stop is a gradient stop's colour times its alpha, and its alpha, all of 255.
func (r *reader) stop(s *node) [4]float64 {
	in := context{font: usualFont}
	r.above(s, &in)
	r.specify(s, &in)
	v := in.style[stopColour]
	if strings.EqualFold(v, "currentcolor") {
		v = in.style[colour]
	}
	c, ok := parseColour(v)
	if !ok {
		c = rgba{RGB{}, 1}
	}
	c.a *= r.fraction(in.style[stopOpacity])
	return [4]float64{c.a * float64(c.RGB[0]), c.a * float64(c.RGB[1]), c.a * float64(c.RGB[2]), 255 * c.a}
}

func hasStops(n *node) bool {
	for _, c := range n.children {
		if c.tag == "stop" {
			return true
		}
	}
	return false
}
