package artwork

import (
	"math"
	"strings"

	"sugarwright/geom/finding"
)

// flatSpread is the largest difference of one channel, of 255, for which a gradient counts as flat already.
const flatSpread = 6

// gradient becomes the mean of its stops along the offset, with a finding that says so.
func (r *reader) gradient(n, g *node, ctx context) (rgba, bool) {
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
	if stops == 0 {
		return rgba{}, false
	}
	out, sev := rgba{}, finding.Note
	for i := range sum {
		sum[i] += (1 - at) * last[i]
		if hi[i]-lo[i] > flatSpread {
			sev = finding.Error
		}
	}
	if out.a = sum[3] / 255; out.a > 0 {
		for i := range out.RGB {
			out.RGB[i] = byteOf(sum[i] / out.a)
		}
	}
	if ctx.picture > 0 && sev == finding.Error {
		r.say(finding.Unsupported, sev, n, "cut the shape to a hard outline in the drawing program", "a soft mask cannot be made in sugar; its gradient is read as one grey")
		return out, true
	}
	r.say(finding.Gradient, sev, n, "give the shape one flat colour, or split it into flat areas", "a gradient is read as the flat colour %s", out.Hex())
	return out, true
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
