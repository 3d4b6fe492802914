package artwork

import (
	"math"
	"slices"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// paint adds the fill and the stroke of a path, or a clip path's shape.
func (r *reader) paint(n *node, ctx context, p Path) {
	if v := ctx.style[visibility]; v == "hidden" || v == "collapse" || len(p) == 0 {
		return
	}
	if r.segments += p.segments(); r.segments > MaxSegments {
		r.full = true
		r.say(finding.TooMuch, finding.Error, n, "segments", MaxSegments)
		return
	}
	if !r.near(p, ctx.m) {
		r.say(finding.OffTheGrid, finding.Error, n, "coordinate", farthest)
		return
	}
	if ctx.inClip {
		if n.tag != "line" { // which encloses nothing
			r.hold(ctx.picture, Outline{Path: p, Matrix: ctx.m, Rule: ruleOf(ctx.style[clipRule]), Source: n.src},
				ctx.clips)
		}
		return
	}
	coats := []func(){func() { r.fill(n, ctx, p) }, func() { r.strokes(n, ctx, p) }}
	if strokeFirst(ctx.style[paintOrder]) {
		coats[0], coats[1] = coats[1], coats[0]
	}
	for _, c := range coats {
		c()
	}
	for _, m := range []property{markerStart, markerMid, markerEnd} {
		if v := ctx.style[m]; v != "" && v != "none" &&
			(n.tag == "path" || n.tag == "line" || strings.HasPrefix(n.tag, "poly")) {
			r.say(finding.Unsupported, finding.Error, n, "marker")
			break
		}
	}
}

// strokeFirst reads paint-order: what is not named comes after what is, in the usual order.
func strokeFirst(v string) bool {
	words := strings.Fields(v)
	s, f := slices.Index(words, "stroke"), slices.Index(words, "fill")
	return s >= 0 && (f < 0 || s < f)
}

// farthest is how many pages away from the page a coordinate may lie: beyond it doubles are coarser than the grid.
const farthest = 4e9

// near tells whether a path can be computed with.
func (r *reader) near(p Path, m geom.Affine) bool {
	limit, v := r.limit(), r.art.Page.View
	for _, s := range p {
		for _, q := range s.pts {
			x, y := m.Apply(q[0], q[1])
			if !(math.Abs(x-v.X) <= limit && math.Abs(y-v.Y) <= limit) {
				return false
			}
		}
	}
	return true
}

// limit is farthest in user units; a file without a page has none but the numbers' own.
func (r *reader) limit() float64 {
	if v := r.art.Page.View; r.art.Page.Port.W < 1e30 {
		return farthest * math.Max(v.W, v.H)
	}
	return 1e29
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

func (r *reader) fill(n *node, ctx context, p Path) {
	if n.tag == "line" {
		return
	}
	if c, ok := r.colour(n, ctx, fill, "black"); ok {
		r.layer(n, ctx, Outline{Path: p, Matrix: ctx.m, Rule: ruleOf(ctx.style[fillRule]), Source: n.src}, c,
			r.fraction(ctx.style[fillOpacity]))
	}
}

func (r *reader) strokes(n *node, ctx context, p Path) {
	c, ok := r.colour(n, ctx, strokePaint, "none")
	if !ok {
		return
	}
	s := r.stroke(n, ctx)
	if s == nil {
		return
	}
	if s.reach()*stretch(ctx.m) > r.limit() {
		r.say(finding.OffTheGrid, finding.Error, n, "stroke", farthest)
		return
	}
	o := Outline{Path: p, Matrix: ctx.m, Stroke: s, Source: n.src}
	if ctx.style[vectorEffect] == "non-scaling-stroke" { // the pen keeps its width in px of the page
		toPage := r.art.Page.Pixels(math.Max(1, r.art.Page.Width), math.Max(1, r.art.Page.Height))
		if r.art.Page.Width <= 0 {
			toPage = geom.Identity
		}
		back, ok := toPage.Inverse()
		if !ok {
			return
		}
		o.Path, o.Matrix = p.moved(toPage.Times(ctx.m)), back
	}
	r.layer(n, ctx, o, c, r.fraction(ctx.style[strokeOpacity]))
}

// moved is the path under a matrix.
func (p Path) moved(m geom.Affine) Path {
	out := make(Path, len(p))
	for i, s := range p {
		out[i] = subpath{pts: make([]pt, len(s.pts)), cubic: s.cubic, closed: s.closed}
		for k, q := range s.pts {
			out[i].pts[k][0], out[i].pts[k][1] = m.Apply(q[0], q[1])
		}
	}
	return out
}

// paint is what a fill or stroke is painted with: one colour, or a shade, or a pattern.
type paint struct {
	rgba
	shade   *Shade
	pattern *node
}

func (r *reader) layer(n *node, ctx context, o Outline, c paint, alpha float64) {
	if c.pattern != nil {
		r.tiles(n, c.pattern, ctx, o, alpha)
		return
	}
	if c.shade == nil { // that of a shade differs
		alpha *= c.a
	}
	if alpha <= 0 || o.Matrix.Det() == 0 {
		return
	}
	if alpha < 1 && ctx.picture == 0 {
		r.say(finding.Translucent, finding.Note, n, "")
	}
	id := r.outline(o)
	p := &r.art.Pictures[ctx.picture]
	p.Layers = append(p.Layers, Layer{id, c.RGB, alpha, ctx.clips, ctx.group, c.shade, o.Source})
}

// colour resolves fill or stroke; ok is false for none.
func (r *reader) colour(n *node, ctx context, name property, usual string) (c paint, ok bool) {
	v := ctx.style[name]
	if v == "" {
		v = usual
	}
	l := strings.ToLower(v)
	if strings.HasPrefix(l, "url(") {
		id, rest := urlID(v)
		t := r.ids[id]
		switch {
		case t != nil && (t.tag == "linearGradient" || t.tag == "radialGradient"):
			return r.gradient(n, t, ctx)
		case t != nil && t.tag == "pattern":
			return paint{pattern: t}, true
		case t != nil && (t.tag == "hatch" || t.tag == "meshgradient"):
			r.say(finding.Unsupported, finding.Error, n, "fill", t.tag)
			return c, false
		case t != nil && t.tag == "solidColor":
			c.rgba, ok = parseColour(t.attr["solid-color"])
			return c, ok
		case rest == "":
			r.say(finding.BadReference, finding.Warning, n, "paint", propertyNames[name], clipped(id))
			return c, false
		}
		l, v = strings.ToLower(rest), rest
	}
	switch l {
	case "none":
		return c, false
	case "context-fill", "context-stroke": // the paint of the use that this is a copy for
		if ctx.used == nil {
			return c, false
		}
		outer := ctx
		outer.style, outer.used = *ctx.used, nil
		if l == "context-fill" {
			return r.colour(n, outer, fill, "black")
		}
		return r.colour(n, outer, strokePaint, "none")
	case "currentcolor":
		if c.rgba, ok = parseColour(ctx.style[colour]); !ok {
			c.rgba = rgba{RGB{}, 1}
		}
		return c, true
	}
	c.rgba, ok = parseColour(v)
	return c, ok
}

// stroke reads the stroke's properties; nil when it paints nothing.
func (r *reader) stroke(n *node, ctx context) *Stroke {
	s := &Stroke{Width: 1, MiterLimit: 4}
	diag := math.Hypot(ctx.view.W, ctx.view.H) / math.Sqrt2
	size := func(name property, def float64) float64 {
		v := ctx.style[name]
		if v == "" {
			return def
		}
		x, ok := length(v, diag, ctx.font)
		if !ok || x < 0 && name != strokeDashoffset {
			r.say(finding.BadValue, finding.Warning, n, "property", propertyNames[name], clipped(v), def)
			return def
		}
		return x
	}
	s.Width = size(strokeWidth, 1)
	if v := ctx.style[strokeMiterlimit]; v != "" {
		x, ok := numbers(v)
		if ok && len(x) == 1 && x[0] >= 1 {
			s.MiterLimit = x[0]
		} else {
			r.say(finding.BadValue, finding.Warning, n, "miterlimit", clipped(v))
		}
	}
	s.Offset = size(strokeDashoffset, 0)
	switch ctx.style[strokeLinecap] {
	case "round":
		s.Cap = RoundCap
	case "square":
		s.Cap = SquareCap
	}
	switch ctx.style[strokeLinejoin] {
	case "round":
		s.Join = RoundJoin
	case "miter-clip":
		s.Join = MiterClipJoin
	case "bevel":
		s.Join = BevelJoin
	}
	if v := ctx.style[strokeDasharray]; v != "" && v != "none" {
		for _, f := range strings.FieldsFunc(v, func(c rune) bool { return strings.ContainsRune(", \t\r\n\f", c) }) {
			x, ok := length(f, diag, ctx.font)
			if !ok || x < 0 {
				r.say(finding.BadValue, finding.Warning, n, "dashes", v)
				s.Dashes = nil
				break
			}
			s.Dashes = append(s.Dashes, x)
		}
	}
	if v, ok := numbers(n.attr["pathLength"]); ok && len(v) == 1 && v[0] > 0 {
		s.PathLength = v[0]
	}
	if s.Width <= 0 {
		return nil
	}
	return s
}
