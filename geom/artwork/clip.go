package artwork

import (
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// picture opens a new picture to collect into.
func (r *reader) picture(kind pictureKind) int {
	r.art.Pictures = append(r.art.Pictures, Picture{Groups: []Group{{Alpha: 1}}, kind: kind})
	return len(r.art.Pictures) - 1
}

// rectClip is a clip that holds in a rectangle.
func (r *reader) rectClip(v View, m geom.Affine, clips []int) int {
	path := Path{
		{
			pts:    []pt{{v.X, v.Y}, {v.X + v.W, v.Y}, {v.X + v.W, v.Y + v.H}, {v.X, v.Y + v.H}},
			cubic:  make([]bool, 3),
			closed: true,
		},
	}
	c := r.picture(byAlpha)
	r.hold(c, Outline{Path: path, Matrix: m}, clips)
	return c
}

// hold adds a shape to a clip path.
func (r *reader) hold(c int, o Outline, clips []int) {
	p := &r.art.Pictures[c]
	p.Layers = append(p.Layers, Layer{Outline: r.outline(o), Alpha: 1, Clips: clips, Source: o.Source})
}

// referred finds what a clip-path or mask property refers to; ok is false where the node is drawn without it.
func (r *reader) referred(n *node, v, tag, word string, ctx context) (c *node, ok bool) {
	if !strings.HasPrefix(strings.ToLower(v), "url(") {
		r.say(finding.Unsupported, finding.Error, n, "clip", word, clipped(v))
		return nil, false
	}
	id, _ := urlID(v)
	c = r.ids[id]
	if c == nil || c.tag != tag {
		r.say(finding.BadReference, finding.Warning, n, "clip", word, clipped(v))
		return nil, false
	}
	if ctx.refs > MaxReferences {
		r.say(finding.BadReference, finding.Error, n, "deep", MaxReferences)
		return nil, false
	}
	if r.inside[c] {
		r.say(finding.BadReference, finding.Warning, n, "itself", word)
		return nil, false
	}
	return c, true
}

// above is the style that a node takes over where it stands in the file.
func (r *reader) above(n *node, ctx *context) {
	if n.parent != nil {
		r.above(n.parent, ctx)
		r.specify(n.parent, ctx)
	}
}

// targetOf is what a clip path or mask given to n is for: n, or the target of n where that is one itself.
func targetOf(n *node, ctx context) *target {
	if ctx.of != nil && (n.tag == "clipPath" || n.tag == "mask") {
		return ctx.of
	}
	ctx.of = nil
	return &target{n, ctx}
}

// clip resolves a clip-path reference: shapes whose union lets through, inside the clip path's own clips. use is false
// where the node is drawn without it, ok is false where it is not drawn at all.
func (r *reader) clip(n *node, v string, ctx context) (clip int, use, ok bool) {
	c, ok := r.referred(n, v, "clipPath", "clip path", ctx)
	if !ok {
		return 0, false, true
	}
	r.inside[c] = true
	defer delete(r.inside, c)
	inner := context{
		m:       ctx.m,
		font:    ctx.font,
		view:    ctx.view,
		refs:    ctx.refs + 1,
		picture: r.picture(byAlpha),
		inClip:  true,
		of:      targetOf(n, ctx),
	}
	r.above(c, &inner)
	if inner, ok = r.enter(c, inner); !ok {
		return 0, false, false
	}
	if c.attr["clipPathUnits"] == "objectBoundingBox" {
		b, ok := r.box(n, ctx)
		if !ok {
			return 0, false, false
		}
		inner.m = inner.m.Times(geom.Affine{b.W, 0, 0, b.H, b.X, b.Y})
		inner.view = View{0, 0, 1, 1}
	}
	r.children(c, inner)
	return inner.picture, true, true
}

// mask resolves a mask reference: a picture whose lightness, or alpha, is what it lets through, inside the mask's own
// rectangle. use and ok are as for clip.
func (r *reader) mask(n *node, v string, ctx context) (picture int, use, ok bool) {
	c, ok := r.referred(n, v, "mask", "mask", ctx)
	if !ok {
		return 0, false, true
	}
	r.inside[c] = true
	defer delete(r.inside, c)
	inner := context{m: ctx.m, font: ctx.font, view: ctx.view, refs: ctx.refs + 1, of: targetOf(n, ctx)}
	r.above(c, &inner)
	r.specify(c, &inner)
	kind := byLightness
	switch {
	case inner.style[maskType] == "alpha":
		kind = byAlpha
	case strings.EqualFold(inner.style[colourInterpolation], "linearRGB"):
		kind = byLinear
	}
	inner.picture = r.picture(kind)
	b, hasBox := r.box(n, ctx)
	port, okPort := r.region(c, b, hasBox, ctx)
	if !okPort {
		return 0, false, false
	}
	inner.clips = []int{r.rectClip(port, ctx.m, nil)}
	if c.attr["maskContentUnits"] == "objectBoundingBox" {
		if !hasBox {
			return 0, false, false
		}
		inner.m = inner.m.Times(geom.Affine{b.W, 0, 0, b.H, b.X, b.Y})
		inner.view = View{0, 0, 1, 1}
	}
	// A mask may itself be masked or clipped.
	if v := inner.style[clipPath]; v != "" && v != "none" {
		k, use, ok := r.clip(c, v, inner)
		if !ok {
			return 0, false, false
		}
		if use {
			inner.clips = append(inner.clips, k)
		}
	}
	if v := inner.style[mask]; v != "" && v != "none" {
		k, use, ok := r.mask(c, v,
			context{m: ctx.m, font: ctx.font, view: ctx.view, refs: ctx.refs + 1, style: inner.style, of: inner.of})
		if !ok {
			return 0, false, false
		}
		if use {
			inner.clips = append(inner.clips, k)
		}
	}
	r.children(c, inner)
	return inner.picture, true, true
}

// region is a mask's rectangle; its default is a tenth more than the box on every side.
func (r *reader) region(c *node, b View, hasBox bool, ctx context) (View, bool) {
	own := c.attr["maskUnits"] != "userSpaceOnUse"
	if own && !hasBox {
		return View{}, false
	}
	value := func(name, usual string, whole float64) float64 {
		if own {
			whole = 1
		}
		if v, ok := length(c.attr[name], whole, ctx.font); ok {
			return v
		}
		v, _ := length(usual, whole, ctx.font)
		return v
	}
	p := View{
		value("x", "-10%", ctx.view.W),
		value("y", "-10%", ctx.view.H),
		value("width", "120%", ctx.view.W),
		value("height", "120%", ctx.view.H),
	}
	if own {
		p = View{b.X + p.X*b.W, b.Y + p.Y*b.H, p.W * b.W, p.H * b.H}
	}
	return p, p.W > 0 && p.H > 0
}

// box is the bounding box of a shape or a group of shapes in the node's own user space, without strokes; that of a clip
// path or mask is its target's.
func (r *reader) box(n *node, ctx context) (View, bool) {
	if ctx.of != nil && (n.tag == "clipPath" || n.tag == "mask") {
		n, ctx = ctx.of.n, ctx.of.ctx
	}
	b := emptyBox()
	left := MaxSegments
	var add func(n *node, m geom.Affine, ctx context, depth int)
	add = func(n *node, m geom.Affine, ctx context, depth int) {
		if depth > MaxDepth+MaxReferences || skipped[n.tag] || left < 0 {
			return
		}
		p, ok := r.laid[n]
		if !ok {
			p, ok = r.shape(n, ctx)
		}
		if ok {
			left -= 1 + p.segments()
			p.extremes(m, &b)
			return
		}
		kids := n.children
		if n.tag == "use" {
			kids = nil
			if t, ok := r.ids[strings.TrimPrefix(n.attr["href"], "#")]; ok && depth < 2*MaxReferences {
				kids = []*node{t}
			}
		}
		for _, c := range kids {
			left--
			in := ctx
			r.specify(c, &in)
			if in.style[display] != "none" {
				add(c, m.Times(r.transform(c, &in)), in, depth+1)
			}
		}
	}
	add(n, geom.Identity, ctx, 0)
	return b.view(), b.hi[0] > b.lo[0] && b.hi[1] > b.lo[1]
}
