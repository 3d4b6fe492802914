package artwork

import (
	"errors"
	"math"
	"strings"

	"sugarwright/geom/finding"
)

// shape turns a basic shape or a path into a path; ok is false when the node is neither.
func (r *reader) shape(n *node, ctx context) (Path, bool) {
	size := func(name string, whole float64) float64 {
		s := strings.TrimSpace(n.attr[name])
		if s == "" || s == "auto" {
			return 0
		}
		v, ok := length(s, whole, r.fontSize(ctx))
		if !ok {
			r.say(finding.BadValue, finding.Warning, n, "", "%s %q is not a length; 0 is used", name, s)
		}
		return v
	}
	w, h := ctx.view.W, ctx.view.H
	diag := math.Hypot(w, h) / math.Sqrt2
	switch n.tag {
	case "rect":
		return rectPath(n, size("x", w), size("y", h), size("width", w), size("height", h), size("rx", w), size("ry", h)), true
	case "circle":
		rad := size("r", diag)
		return ellipsePath(size("cx", w), size("cy", h), rad, rad), true
	case "ellipse":
		rx, ry := size("rx", w), size("ry", h)
		if _, ok := n.attr["rx"]; !ok || n.attr["rx"] == "auto" {
			rx = ry
		}
		if _, ok := n.attr["ry"]; !ok || n.attr["ry"] == "auto" {
			ry = rx
		}
		return ellipsePath(size("cx", w), size("cy", h), rx, ry), true
	case "line":
		s := subpath{pts: []pt{{size("x1", w), size("y1", h)}}}
		s.line(pt{size("x2", w), size("y2", h)})
		return Path{s}, true
	case "polyline", "polygon":
		v, ok := numbers(n.attr["points"])
		if !ok || len(v)%2 == 1 {
			r.say(finding.BadPath, finding.Warning, n, "", "the list of points ends in an error; drawn up to there")
		}
		if len(v) < 4 {
			return nil, true
		}
		s := subpath{pts: []pt{{v[0], v[1]}}, closed: n.tag == "polygon"}
		for i := 2; i+1 < len(v); i += 2 {
			s.line(pt{v[i], v[i+1]})
		}
		return Path{s}, true
	case "path":
		p, err := parsePath(n.attr["d"])
		switch {
		case errors.Is(err, errTooMany):
			r.full = true
			r.say(finding.TooMuch, finding.Error, n, "draw it with fewer points", "%v", err)
		case err != nil:
			r.say(finding.BadPath, finding.Warning, n, "", "%v", err)
		}
		return p, true
	}
	return nil, false
}

func (r *reader) fontSize(ctx context) float64 {
	if v, ok := length(ctx.style["font-size"], 16, 16); ok {
		return v
	}
	return 16
}

func rectPath(n *node, x, y, w, h, rx, ry float64) Path {
	if w <= 0 || h <= 0 {
		return nil
	}
	auto := func(name string) bool { v := strings.TrimSpace(n.attr[name]); return v == "" || v == "auto" }
	if auto("rx") || rx < 0 {
		rx = ry
	}
	if auto("ry") || ry < 0 {
		ry = rx
	}
	rx, ry = math.Min(rx, w/2), math.Min(ry, h/2)
	p := &pather{moved: true}
	if rx <= 0 || ry <= 0 {
		p.cur = pt{x, y}
		for _, q := range []pt{{x + w, y}, {x + w, y + h}, {x, y + h}} {
			p.to(q)
		}
	} else {
		p.cur = pt{x + rx, y}
		p.to(pt{x + w - rx, y})
		p.arc(rx, ry, 0, false, true, pt{x + w, y + ry})
		p.to(pt{x + w, y + h - ry})
		p.arc(rx, ry, 0, false, true, pt{x + w - rx, y + h})
		p.to(pt{x + rx, y + h})
		p.arc(rx, ry, 0, false, true, pt{x, y + h - ry})
		p.to(pt{x, y + ry})
		p.arc(rx, ry, 0, false, true, pt{x + rx, y})
	}
	p.sub().closed = true
	return p.out
}

func ellipsePath(cx, cy, rx, ry float64) Path {
	if rx <= 0 || ry <= 0 {
		return nil
	}
	p := &pather{moved: true, cur: pt{cx + rx, cy}}
	p.arc(rx, ry, 0, false, true, pt{cx, cy + ry})
	p.arc(rx, ry, 0, false, true, pt{cx - rx, cy})
	p.arc(rx, ry, 0, false, true, pt{cx, cy - ry})
	p.arc(rx, ry, 0, false, true, pt{cx + rx, cy})
	p.sub().closed = true
	return p.out
}

// paint adds the fill and the stroke of a path, or a clip path's shape.
func (r *reader) paint(n *node, ctx context, p Path) {
	if v := ctx.style["visibility"]; v == "hidden" || v == "collapse" || len(p) == 0 {
		return
	}
	if r.segments += p.segments(); r.segments > MaxSegments {
		r.full = true
		r.say(finding.TooMuch, finding.Error, n, "draw it with fewer points", "more than %d path segments", MaxSegments)
		return
	}
	for _, v := range ctx.m {
		if math.IsNaN(v) || math.Abs(v) > 1e12 {
			r.say(finding.OffTheGrid, finding.Error, n, "check the transforms", "a transform is out of range")
			return
		}
	}
	for _, s := range p {
		for _, q := range s.pts {
			if math.Abs(q[0]) > 1e9 || math.Abs(q[1]) > 1e9 || math.IsNaN(q[0]+q[1]) {
				r.say(finding.OffTheGrid, finding.Error, n, "check the numbers of this shape", "a coordinate is out of range")
				return
			}
		}
	}
	if ctx.inClip != nil {
		if n.tag == "line" {
			return // encloses nothing
		}
		id := r.outline(Outline{Path: p, Matrix: ctx.m, Rule: ruleOf(ctx.style["clip-rule"])})
		ctx.inClip.Shapes = append(ctx.inClip.Shapes, ClipShape{id, ctx.clips})
		return
	}
	if n.tag != "line" {
		if c, ok := r.colour(n, ctx, "fill", "black"); ok {
			r.layer(n, ctx, Outline{Path: p, Matrix: ctx.m, Rule: ruleOf(ctx.style["fill-rule"])}, c, r.fraction(ctx.style, "fill-opacity"))
		}
	}
	if c, ok := r.colour(n, ctx, "stroke", "none"); ok {
		if s := r.stroke(n, ctx); s != nil {
			r.layer(n, ctx, Outline{Path: p, Matrix: ctx.m, Stroke: s}, c, r.fraction(ctx.style, "stroke-opacity"))
		}
	}
	for _, m := range []string{"marker-start", "marker-mid", "marker-end"} {
		if v := ctx.style[m]; v != "" && v != "none" && (n.tag == "path" || n.tag == "line" || strings.HasPrefix(n.tag, "poly")) {
			r.say(finding.Unsupported, finding.Error, n, "turn the marker into shapes in the drawing program", "a marker on a line is not read")
			break
		}
	}
}

func ruleOf(v string) Rule {
	if v == "evenodd" {
		return EvenOdd
	}
	return NonZero
}

func (r *reader) outline(o Outline) int {
	r.art.Outlines = append(r.art.Outlines, o)
	return len(r.art.Outlines) - 1
}

func (r *reader) layer(n *node, ctx context, o Outline, c rgba, alpha float64) {
	alpha *= c.a * ctx.opacity
	if alpha <= 0 || o.Matrix.Det() == 0 {
		return
	}
	if alpha < 1 {
		r.say(finding.Translucent, finding.Note, n, "", "partly transparent paint becomes the flat colour that is seen")
	}
	r.art.Layers = append(r.art.Layers, Layer{r.outline(o), c.RGB, alpha, ctx.clips, n.src})
}

// colour resolves fill or stroke; ok is false for none.
func (r *reader) colour(n *node, ctx context, name, def string) (rgba, bool) {
	v := ctx.style[name]
	if v == "" {
		v = def
	}
	l := strings.ToLower(v)
	if strings.HasPrefix(l, "url(") {
		id, rest := urlID(v)
		t := r.ids[id]
		switch {
		case t != nil && (t.tag == "linearGradient" || t.tag == "radialGradient"):
			return r.gradient(n, t)
		case t != nil && t.tag == "pattern":
			r.say(finding.Unsupported, finding.Error, n, "draw the pattern's shapes themselves", "a pattern fill is not read")
			return rgba{}, false
		case rest == "":
			r.say(finding.BadReference, finding.Warning, n, "", "%s refers to %q, which is not in the file; not painted", name, id)
			return rgba{}, false
		}
		l, v = strings.ToLower(rest), rest
	}
	switch l {
	case "none":
		return rgba{}, false
	case "currentcolor":
		if c, ok := parseColour(ctx.style["color"]); ok {
			return c, true
		}
		return rgba{RGB{}, 1}, true
	}
	c, ok := parseColour(v)
	return c, ok
}

// flatSpread is the largest difference of one sRGB channel for which a gradient counts as flat already.
const flatSpread = 6

// gradient becomes the mean of its stops along the offset, with a finding that says so.
func (r *reader) gradient(n, g *node) (rgba, bool) {
	stops := g
	for i := 0; i < maxReference && !hasStops(stops); i++ {
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
		if s.tag != "stop" {
			continue
		}
		c, ok := parseColour(s.style["stop-color"])
		if !ok {
			c = rgba{RGB{}, 1}
		}
		c.a *= r.fraction(s.style, "stop-opacity")
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

// stroke reads the stroke's properties; nil when it paints nothing.
func (r *reader) stroke(n *node, ctx context) *Stroke {
	s := &Stroke{Width: 1, MiterLimit: 4}
	diag := math.Hypot(ctx.view.W, ctx.view.H) / math.Sqrt2
	size := func(name string, def float64) float64 {
		v, set := ctx.style[name]
		if !set {
			return def
		}
		x, ok := length(v, diag, r.fontSize(ctx))
		if !ok || x < 0 && name != "stroke-dashoffset" {
			r.say(finding.BadValue, finding.Warning, n, "", "%s %q is not understood; %g is used", name, v, def)
			return def
		}
		return x
	}
	if v := ctx.style["vector-effect"]; v == "non-scaling-stroke" {
		r.say(finding.Unsupported, finding.Error, n, "turn the stroke into an outline in the drawing program", "a stroke that does not scale is not read")
	}
	s.Width = size("stroke-width", 1)
	s.MiterLimit = size("stroke-miterlimit", 4)
	if s.MiterLimit < 1 {
		s.MiterLimit = 4
	}
	s.Offset = size("stroke-dashoffset", 0)
	switch ctx.style["stroke-linecap"] {
	case "round":
		s.Cap = RoundCap
	case "square":
		s.Cap = SquareCap
	}
	switch ctx.style["stroke-linejoin"] {
	case "round":
		s.Join = RoundJoin
	case "bevel":
		s.Join = BevelJoin
	}
	if v := ctx.style["stroke-dasharray"]; v != "" && v != "none" {
		for _, f := range strings.FieldsFunc(v, func(c rune) bool { return c == ',' || c == ' ' || c == '\n' || c == '\t' }) {
			x, ok := length(f, diag, r.fontSize(ctx))
			if !ok || x < 0 {
				r.say(finding.BadValue, finding.Warning, n, "", "stroke-dasharray %q is not understood; drawn without dashes", v)
				s.Dashes = nil
				break
			}
			s.Dashes = append(s.Dashes, x)
		}
	}
	if s.Width <= 0 {
		return nil
	}
	return s
}
