package artwork

import (
	"math"
	"strings"

	"sugarwright/geom/finding"
)

// flatSpread is the largest difference of one sRGB channel for which a gradient counts as flat already.
const flatSpread = 6

// gradient becomes the mean of its stops along the offset, with a finding that says so.
func (r *reader) gradient(n, g *node) (rgba, bool) {
	stops := g
	for i := 0; i < MaxReferences && !hasStops(stops); i++ {
		t := r.ids[strings.TrimPrefix(stops.attr["href"], "#")]
		if t == nil {
			break
		}
		stops = t
	}
	var sum [4]float64
	var last rgba
	at, spread := 0.0, 0.0
	k := 0
	for _, s := range stops.children {
		if s.tag != "stop" || k >= MaxStops {
			continue
		}
		in := context{font: usualFont}
		r.above(s, &in)
		r.specify(s, &in)
		c, ok := parseColour(in.style[stopColour])
		if strings.EqualFold(in.style[stopColour], "currentcolor") {
			c, ok = parseColour(in.style[colour])
		}
		if !ok {
			c = rgba{RGB{}, 1}
		}
		c.a *= r.fraction(in.style[stopOpacity])
		o, _ := length(s.attr["offset"], 1, 16)
		o = math.Max(at, math.Min(1, o))
		if k == 0 {
			last = c
		}
		for i := 0; i < 3; i++ {
			sum[i] += (o - at) * (float64(c.RGB[i]) + float64(last.RGB[i])) / 2
			spread = math.Max(spread, math.Abs(float64(c.RGB[i])-float64(last.RGB[i])))
		}
		sum[3] += (o - at) * (c.a + last.a) / 2
		at, last = o, c
		k++
	}
	if k == 0 {
		return rgba{}, false
	}
	for i := 0; i < 3; i++ {
		sum[i] += (1 - at) * float64(last.RGB[i])
	}
	sum[3] += (1 - at) * last.a
	sev := finding.Error
	if spread <= flatSpread {
		sev = finding.Note
	}
	out := rgba{a: sum[3]}
	for i := range out.RGB {
		out.RGB[i] = uint8(sum[i] + 0.5)
	}
	r.say(finding.Gradient, sev, n, "give the shape one flat colour, or split it into flat areas", "a gradient is read as the flat colour %s", out.Hex())
	return out, true
}

func hasStops(n *node) bool {
	for _, c := range n.children {
		if c.tag == "stop" {
			return true
		}
	}
	return false
}
