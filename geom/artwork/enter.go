package artwork

import (
	"math"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// enter computes a node's style and takes its transform, opacity, clips and masks into the context; ok is false where
// nothing of the node is drawn.
func (r *reader) enter(n *node, ctx context) (context, bool) {
	r.specify(n, &ctx)
	if ctx.style[display] == "none" && n.tag != "clipPath" {
		return ctx, false
	}
	if n.parent != nil {
		ctx.m = ctx.m.Times(r.transform(n, &ctx))
	}
	if !finite(ctx.m) {
		r.say(finding.OffTheGrid, finding.Error, n, "transform")
		return ctx, false
	}
	if v := ctx.style[filter]; v != "" && v != "none" && !r.filter(n, v, ctx) {
		return ctx, false
	}
	if v := ctx.style[clipPath]; v != "" && v != "none" {
		c, use, ok := r.clip(n, v, ctx)
		if !ok {
			return ctx, false
		}
		if use {
			ctx.clips = append(ctx.clips[:len(ctx.clips):len(ctx.clips)], c)
		}
	}
	return r.group(n, ctx)
}

// finite tells whether a matrix can be computed with.
func finite(m geom.Affine) bool {
	for _, v := range m {
		if !(math.Abs(v) < 1e100) {
			return false
		}
	}
	return true
}

// specify gives ctx the node's own values in place of those above.
func (r *reader) specify(n *node, ctx *context) {
	above := ctx.style
	for k := firstOwn; k < properties; k++ {
		ctx.style[k] = ""
	}
	for _, d := range n.style {
		k, v := d.property, d.value
		if k == geometry { // it is in the attributes already
			continue
		}
		switch strings.ToLower(v) {
		case "inherit":
			ctx.style[k] = above[k]
			continue
		case "initial", "unset", "revert":
			if ctx.style[k] = ""; k < firstOwn && v == "unset" {
				ctx.style[k] = above[k]
			}
			continue
		case "":
			continue
		}
		if (k == fill || k == strokePaint || k == colour) && !validPaint(v) {
			if i := strings.IndexByte(v, '('); i > 0 &&
				!strings.Contains(" rgb rgba hsl hsla hwb ", " "+strings.ToLower(v[:i])+" ") {
				r.say(finding.Unsupported, finding.Error, n, "colour", propertyNames[k], clipped(v))
			} else {
				r.say(finding.BadValue, finding.Warning, n, "colour", propertyNames[k], clipped(v))
			}
			continue
		}
		if keyword[k] {
			v = strings.ToLower(v)
		}
		if k == unread {
			r.say(finding.Unsupported, finding.Error, n, "property", clipped(v))
			continue
		}
		if k == transform && d.attribute {
			v = "attribute:" + v
		}
		if k == fontSize {
			if x, ok := fontOf(v, ctx.font); ok {
				ctx.font = x
			}
		}
		ctx.style[k] = v
	}
	if v := ctx.style[colour]; strings.EqualFold(v, "currentcolor") {
		ctx.style[colour] = above[colour]
	}
}

// keyword tells the properties whose values are words, in capitals or not.
var keyword = [properties]bool{
	fillRule:       true,
	strokeLinecap:  true,
	strokeLinejoin: true,
	visibility:     true,
	clipRule:       true,
	paintOrder:     true,
	display:        true,
	maskType:       true,
	overflow:       true,
	blendMode:      true,
	isolation:      true,
	transformBox:   true,
	vectorEffect:   true,

	fontWeight:        true,
	fontStyle:         true,
	fontStretch:       true,
	textAnchor:        true,
	direction:         true,
	dominantBaseline:  true,
	writingMode:       true,
	textTransform:     true,
	whiteSpace:        true,
	alignmentBaseline: true,
}

// fontOf is the font size in px; the words' sizes are those of common user agents.
func fontOf(v string, above float64) (float64, bool) {
	words := map[string]float64{
		"xx-small": 9,
		"x-small":  10,
		"small":    13,
		"medium":   16,
		"large":    18,
		"x-large":  24,
		"xx-large": 32,
		"larger":   above * 1.2,
		"smaller":  above / 1.2,
	}
	if x, ok := words[v]; ok {
		return x, true
	}
	x, ok := length(v, above, above)
	return x, ok && x >= 0
}

// transform is the matrix from a node's user space to that round it.
func (r *reader) transform(n *node, ctx *context) geom.Affine {
	if n.tag == "use" { // its place is the last of its transforms
		x, _ := length(n.attr["x"], ctx.view.W, ctx.font)
		y, _ := length(n.attr["y"], ctx.view.H, ctx.font)
		return r.ownTransform(n, ctx).Times(geom.Affine{1, 0, 0, 1, x, y})
	}
	return r.ownTransform(n, ctx)
}

// ownTransform is the transform property, about its origin.
func (r *reader) ownTransform(n *node, ctx *context) geom.Affine {
	v := ctx.style[transform]
	if v == "" || v == "none" {
		return geom.Identity
	}
	text, attribute := strings.CutPrefix(v, "attribute:")
	ref := View{0, 0, ctx.view.W, ctx.view.H}
	if b := ctx.style[transformBox]; b == "fill-box" || b == "content-box" || b == "stroke-box" || b == "border-box" {
		if own, ok := r.box(n, *ctx); ok {
			ref = own
		}
	}
	var m geom.Affine
	var err error
	if attribute {
		m, err = parseTransform(text)
	} else {
		m, err = parseCSSTransform(text, ref, ctx.font)
	}
	if err != nil {
		r.say(finding.BadTransform, finding.Warning, n, "", clipped(text))
		return geom.Identity
	}
	if o := ctx.style[transformOrigin]; o != "" {
		if x, y, ok := origin(o, ref, ctx.font); ok {
			m = about(x, y, m)
		} else {
			r.say(finding.BadValue, finding.Warning, n, "origin", clipped(o))
		}
	}
	return m
}

// origin reads a transform origin against a reference box.
func origin(s string, ref View, font float64) (x, y float64, ok bool) {
	f := strings.Fields(s)
	if len(f) == 1 {
		f = append(f, "center")
	}
	if len(f) < 2 || len(f) > 3 {
		return 0, 0, false
	}
	if f[0] == "top" || f[0] == "bottom" || f[1] == "left" || f[1] == "right" {
		f[0], f[1] = f[1], f[0]
	}
	words := map[string]string{"left": "0%", "top": "0%", "center": "50%", "right": "100%", "bottom": "100%"}
	value := func(t string, whole float64) float64 {
		if w, known := words[t]; known {
			t = w
		}
		v, good := length(t, whole, font)
		ok = ok && good
		return v
	}
	ok = true
	x = ref.X + value(f[0], ref.W)
	y = ref.Y + value(f[1], ref.H)
	return x, y, ok
}

// group opens a group where a node is put together before it is laid on what is below.
func (r *reader) group(n *node, ctx context) (context, bool) {
	if ctx.inClip {
		return ctx, true
	}
	g := Group{Parent: ctx.group, Alpha: r.fraction(ctx.style[opacity]), Blend: Normal}
	if v := ctx.style[blendMode]; v != "" && v != "normal" {
		if !Blend(v).known() {
			r.say(finding.Unsupported, finding.Error, n, "blend", clipped(v))
		} else {
			g.Blend = Blend(v)
			r.say(finding.Translucent, finding.Note, n, "blended", v)
		}
	}
	if v := ctx.style[mask]; v != "" && v != "none" {
		m, use, ok := r.mask(n, v, ctx)
		if !ok {
			return ctx, false
		}
		if use {
			g.Masks = []int{m}
		}
	}
	if g.Alpha == 1 && g.Blend == Normal && len(g.Masks) == 0 && ctx.style[isolation] != "isolate" {
		return ctx, true
	}
	if g.Alpha <= 0 {
		return ctx, false
	}
	if g.Alpha < 1 {
		r.say(finding.Translucent, finding.Note, n, "")
	}
	p := &r.art.Pictures[ctx.picture]
	p.Groups = append(p.Groups, g)
	ctx.group = len(p.Groups) - 1
	return ctx, true
}

func validPaint(v string) bool {
	l := strings.ToLower(v)
	if l == "none" || l == "currentcolor" || strings.HasPrefix(l, "url(") || l == "context-fill" ||
		l == "context-stroke" {
		return true
	}
	_, ok := parseColour(v)
	return ok
}

// fraction is an opacity, 1 where there is none or it makes no sense.
func (r *reader) fraction(v string) float64 {
	c := scanner{s: v}
	x, ok := c.number()
	switch rest := strings.TrimSpace(c.s[c.i:]); {
	case ok && rest == "":
		return unit(x)
	case ok && rest == "%":
		return unit(x / 100)
	}
	return 1
}
