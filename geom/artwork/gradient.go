package artwork

import (
	"image"
	"math"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// flatSpread is the largest difference of one channel, of 255, for which a gradient counts as flat already.
const flatSpread = 6

// Shade is paint that differs from place to place: a gradient, with its stops along 0 to 1 (W3C, SVG 2, 14.2).
type Shade struct {
	stops  []shadeStop
	spread string       // pad, reflect or repeat
	into   geom.Affine  // from the artwork's user units into the gradient's
	linear *[2]pt       // from, to
	radial *[2]circleAt // focal, outer
	pixels *image.NRGBA // of a picture, in pixels; nil: a gradient
}

// shadeStop is a colour, in 0..1 and not multiplied by its alpha, at an offset.
type shadeStop struct {
	at float64
	c  [3]float64
	a  float64
}

type circleAt struct {
	c pt
	r float64
}

// gradient is what a gradient paints on a node: one colour where it is flat, with a note; else a shade, whose colour is the mean
// of its stops. ok is false where it paints nothing.
func (r *reader) gradient(n, g *node, ctx context) (paint, bool) {
	chain := r.chain(g)
	stops, ok := r.stops[g]
	if !ok {
		stops = r.stopsOf(chain)
		r.stops[g] = stops
	}
	if len(stops) == 0 {
		return paint{}, false
	}
	mean, flat := meanOf(stops)
	if flat {
		r.say(finding.Gradient, finding.Note, n, "", mean.Hex())
		return paint{rgba: mean}, true
	}
	s, ok := r.shade(n, g, chain, ctx)
	if !ok {
		return paint{}, false
	}
	if s == nil { // without length: its last colour
		last := stops[len(stops)-1]
		return paint{rgba: last.rgba()}, true
	}
	s.stops = stops
	return paint{rgba: mean, shade: s}, true
}

// chain is a gradient and those that it takes over from.
func (r *reader) chain(g *node) []*node {
	out := []*node{g}
	for range MaxReferences {
		t := r.ids[strings.TrimPrefix(strings.TrimSpace(g.attr["href"]), "#")]
		if t == nil || t.tag != "linearGradient" && t.tag != "radialGradient" {
			break
		}
		out = append(out, t)
		g = t
	}
	return out
}

// shade is a gradient's geometry on a node; nil where it has no length, ok is false where it paints nothing.
func (r *reader) shade(n, g *node, chain []*node, ctx context) (s *Shade, ok bool) {
	attr := func(name string, same bool) string {
		for _, c := range chain {
			if v, ok := c.attr[name]; ok && (!same || c.tag == g.tag) {
				return strings.TrimSpace(v)
			}
		}
		return ""
	}
	s = &Shade{spread: attr("spreadMethod", false)}
	m, view := ctx.m, ctx.view
	if attr("gradientUnits", false) != "userSpaceOnUse" {
		b, ok := r.box(n, ctx)
		if !ok {
			return nil, false
		}
		m, view = m.Times(geom.Affine{b.W, 0, 0, b.H, b.X, b.Y}), View{0, 0, 1, 1}
	}
	if v := attr("gradientTransform", false); v != "" {
		own, err := parseTransform(v)
		if err != nil {
			r.say(finding.BadTransform, finding.Warning, n, "", clipped(v))
		} else {
			m = m.Times(own)
		}
	}
	if s.into, ok = m.Inverse(); !ok {
		return nil, false
	}
	diag := math.Hypot(view.W, view.H) / math.Sqrt2
	value := func(name, usual string, whole float64) float64 {
		if v, ok := length(attr(name, true), whole, ctx.font); ok {
			return v
		}
		v, _ := length(usual, whole, ctx.font)
		return v
	}
	if g.tag == "linearGradient" {
		from := pt{value("x1", "0%", view.W), value("y1", "0%", view.H)}
		to := pt{value("x2", "100%", view.W), value("y2", "0%", view.H)}
		if from == to {
			return nil, true
		}
		s.linear = &[2]pt{from, to}
		return s, true
	}
	outer := circleAt{pt{value("cx", "50%", view.W), value("cy", "50%", view.H)}, value("r", "50%", diag)}
	if outer.r <= 0 {
		return nil, true
	}
	focal := circleAt{outer.c, math.Max(0, value("fr", "0%", diag))}
	if v, ok := length(attr("fx", true), view.W, ctx.font); ok {
		focal.c[0] = v
	}
	if v, ok := length(attr("fy", true), view.H, ctx.font); ok {
		focal.c[1] = v
	}
	// A focal point outside is moved onto the circle, hardly inside (SVG 1.1, 13.2.3).
	if d := math.Hypot(focal.c[0]-outer.c[0], focal.c[1]-outer.c[1]); d > 0.999*outer.r {
		for k := range focal.c {
			focal.c[k] = outer.c[k] + 0.999*outer.r*(focal.c[k]-outer.c[k])/d
		}
	}
	s.radial = &[2]circleAt{focal, outer}
	return s, true
}

// at is the colour at a place of the artwork's user units.
func (s *Shade) at(p pt) shadeStop {
	x, y := s.into.Apply(p[0], p[1])
	if s.pixels != nil {
		return mixedAt(s.pixels, x-0.5, y-0.5)
	}
	t := 0.0
	if s.linear != nil {
		a, b := s.linear[0], s.linear[1]
		dx, dy := b[0]-a[0], b[1]-a[1]
		t = ((x-a[0])*dx + (y-a[1])*dy) / (dx*dx + dy*dy)
	} else {
		t = between(s.radial[0], s.radial[1], pt{x, y})
	}
	switch s.spread {
	case "reflect":
		t = math.Abs(t - 2*math.Round(t/2))
	case "repeat":
		t -= math.Floor(t)
	}
	return s.along(t)
}

// mixedAt is the colour between four pixels, weighted by alpha; none beyond the picture.
func mixedAt(p *image.NRGBA, x, y float64) (out shadeStop) {
	x0, y0 := math.Floor(x), math.Floor(y)
	fx, fy := x-x0, y-y0
	b := p.Bounds()
	if !(x0 >= -2 && y0 >= -2 && x0 <= float64(b.Dx()) && y0 <= float64(b.Dy())) {
		return out
	}
	for k, w := range [4]float64{(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy} {
		at := image.Pt(int(x0)+k%2, int(y0)+k/2)
		if !at.In(b) {
			continue
		}
		c := p.NRGBAAt(at.X, at.Y)
		a := float64(w * float64(c.A) / 255)
		out.a += a
		for i, v := range [3]uint8{c.R, c.G, c.B} {
			out.c[i] += float64(a * float64(v) / 255)
		}
	}
	if out.a > 0 {
		for i := range out.c {
			out.c[i] /= out.a
		}
	}
	return out
}

// between is the largest t at which the circle that runs from a to b goes through a point, with a radius that is not negative; 1
// where there is none.
func between(a, b circleAt, p pt) float64 {
	cx, cy, cr := b.c[0]-a.c[0], b.c[1]-a.c[1], b.r-a.r
	px, py := p[0]-a.c[0], p[1]-a.c[1]
	k := cx*cx + cy*cy - cr*cr
	h := px*cx + py*cy + a.r*cr
	c := px*px + py*py - a.r*a.r
	if math.Abs(k) < 1e-12 {
		if h == 0 {
			return 1
		}
		return c / (2 * h)
	}
	d := h*h - k*c
	if d < 0 {
		return 1
	}
	d = math.Sqrt(d)
	hi, lo := math.Max((h+d)/k, (h-d)/k), math.Min((h+d)/k, (h-d)/k)
	if a.r+hi*cr >= 0 {
		return hi
	}
	if a.r+lo*cr >= 0 {
		return lo
	}
	return 1
}

// along is the colour at an offset.
func (s *Shade) along(t float64) shadeStop {
	if !(t > s.stops[0].at) {
		return s.stops[0]
	}
	for i := 1; i < len(s.stops); i++ {
		a, b := &s.stops[i-1], &s.stops[i]
		if t > b.at || b.at == a.at {
			continue
		}
		k := (t - a.at) / (b.at - a.at)
		out := shadeStop{at: t, a: a.a + k*(b.a-a.a)}
		for c := range out.c {
			out.c[c] = a.c[c] + k*(b.c[c]-a.c[c])
		}
		return out
	}
	return s.stops[len(s.stops)-1]
}

func (s shadeStop) rgba() rgba {
	var out rgba
	for k := range out.RGB {
		out.RGB[k] = byteOf(255 * s.c[k])
	}
	out.a = s.a
	return out
}

// meanOf stops along their offsets, weighted by alpha; flat tells whether they hardly differ.
func meanOf(stops []shadeStop) (mean rgba, flat bool) {
	var sum, lo, hi [4]float64 // colours times alpha, and alpha
	parts := func(s shadeStop) [4]float64 { return [4]float64{s.a * s.c[0], s.a * s.c[1], s.a * s.c[2], s.a} }
	last, at := parts(stops[0]), 0.0
	lo, hi = last, last
	for _, s := range stops {
		c := parts(s)
		for i := range c {
			sum[i] += (s.at - at) * (c[i] + last[i]) / 2
			lo[i], hi[i] = math.Min(lo[i], c[i]), math.Max(hi[i], c[i])
		}
		at, last = s.at, c
	}
	flat = true
	for i := range sum {
		sum[i] += (1 - at) * last[i]
		flat = flat && 255*(hi[i]-lo[i]) <= flatSpread
	}
	if mean.a = sum[3]; mean.a > 0 {
		for i := range mean.RGB {
			mean.RGB[i] = byteOf(255 * sum[i] / mean.a)
		}
	}
	return mean, flat
}

// stopsOf are the stops of the first of a chain that has any, at offsets that do not fall.
func (r *reader) stopsOf(chain []*node) (out []shadeStop) {
	for _, g := range chain {
		for _, s := range g.children {
			if s.tag != "stop" || len(out) >= MaxStops {
				continue
			}
			stop := r.stop(s)
			if len(out) > 0 {
				stop.at = math.Max(out[len(out)-1].at, stop.at)
			}
			out = append(out, stop)
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// stop is a gradient stop.
func (r *reader) stop(n *node) (s shadeStop) {
	in := context{font: usualFont}
	r.above(n, &in)
	r.specify(n, &in)
	v := in.style[stopColour]
	if strings.EqualFold(v, "currentcolor") {
		v = in.style[colour]
	}
	c, ok := parseColour(v)
	if !ok {
		c = rgba{RGB{}, 1}
	}
	o, _ := length(n.attr["offset"], 1, usualFont)
	s.at, s.a = unit(o), c.a*r.fraction(in.style[stopOpacity])
	for k := range s.c {
		s.c[k] = float64(c.RGB[k]) / 255
	}
	return s
}
