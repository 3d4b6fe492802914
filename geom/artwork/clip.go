package artwork

import (
	"math"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

func (r *reader) rectClip(v View, m geom.Affine, clips []int) int {
	p := Path{{pts: []pt{{v.X, v.Y}, {v.X + v.W, v.Y}, {v.X + v.W, v.Y + v.H}, {v.X, v.Y + v.H}}, cubic: make([]bool, 3), closed: true}}
	r.art.Outlines = append(r.art.Outlines, Outline{Path: p, Matrix: m})
	r.art.Clips = append(r.art.Clips, Clip{[]ClipShape{{len(r.art.Outlines) - 1, clips}}})
	return len(r.art.Clips) - 1
}

// clip resolves a clip-path reference; ok is false when it is none and the element is drawn unclipped, as the standard says.
func (r *reader) clip(n *node, v string, ctx context) (int, bool) {
	id, _ := urlID(v)
	c := r.ids[id]
	if c == nil || c.tag != "clipPath" {
		r.say(finding.BadReference, finding.Warning, n, "", "clip-path %q is not a clip path in this file and is left out", v)
		return 0, false
	}
	if ctx.refs++; ctx.refs > maxReference {
		r.say(finding.BadReference, finding.Error, n, "take the loop out of the file", "clip paths refer to each other in a circle")
		return 0, false
	}
	inner := context{m: ctx.m, style: map[string]string{}, opacity: 1, view: ctx.view, refs: ctx.refs, inClip: &Clip{}}
	if c.attr["clipPathUnits"] == "objectBoundingBox" {
		b, ok := r.box(n, ctx)
		if !ok {
			r.art.Clips = append(r.art.Clips, Clip{})
			return len(r.art.Clips) - 1, true
		}
		inner.m = inner.m.Times(geom.Affine{b.W, 0, 0, b.H, b.X, b.Y})
	}
	inner = r.enter(c, inner)
	r.children(c, inner)
	r.art.Clips = append(r.art.Clips, *inner.inClip)
	return len(r.art.Clips) - 1, true
}

// mask resolves a mask of opaque white fills, which is a clip by another name; ok is false for any other.
func (r *reader) mask(n *node, v string, ctx context) (int, bool) {
	id, _ := urlID(v)
	m := r.ids[id]
	if m == nil || m.tag != "mask" || m.attr["maskContentUnits"] == "objectBoundingBox" || ctx.refs >= maxReference {
		return 0, false
	}
	white := func(c *node) bool {
		fill := c.style["fill"]
		if fill == "" {
			fill = m.style["fill"]
		}
		col, ok := parseColour(fill)
		for _, k := range []string{"stroke", "opacity", "fill-opacity", "mask", "filter"} {
			if v, set := c.style[k]; set && v != "none" && v != "1" {
				return false
			}
		}
		_, shape := r.shape(c, ctx)
		return ok && shape && col == rgba{RGB{255, 255, 255}, 1} && len(c.children) == 0
	}
	inner := context{m: ctx.m, style: map[string]string{}, opacity: 1, view: ctx.view, refs: ctx.refs + 1, inClip: &Clip{}}
	for _, c := range m.children {
		if skipped[c.tag] {
			continue
		}
		if !white(c) {
			return 0, false
		}
		if rule := c.style["fill-rule"]; rule != "" {
			inner.style["clip-rule"] = rule
		}
		r.walk(c, inner)
	}
	r.art.Clips = append(r.art.Clips, *inner.inClip)
	return len(r.art.Clips) - 1, true
}

// box is the bounding box of a shape or a group of shapes in the node's own user space.
func (r *reader) box(n *node, ctx context) (View, bool) {
	lo, hi := pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	var add func(n *node, m geom.Affine, depth int)
	add = func(n *node, m geom.Affine, depth int) {
		if depth > maxReference || skipped[n.tag] {
			return
		}
		if p, ok := r.shape(n, ctx); ok {
			for _, l := range p.flat(0.01 * math.Max(1e-6, ctx.view.W/100)) {
				for _, q := range l.pts {
					x, y := m.Apply(q[0], q[1])
					lo, hi = pt{math.Min(lo[0], x), math.Min(lo[1], y)}, pt{math.Max(hi[0], x), math.Max(hi[1], y)}
				}
			}
		}
		kids := n.children
		if n.tag == "use" {
			if t, ok := r.ids[strings.TrimPrefix(n.attr["href"], "#")]; ok {
				kids = []*node{t}
			}
		}
		for _, c := range kids {
			t, _ := parseTransform(c.attr["transform"])
			add(c, m.Times(t), depth+1)
		}
	}
	add(n, geom.Identity, 0)
	return View{lo[0], lo[1], hi[0] - lo[0], hi[1] - lo[1]}, hi[0] > lo[0] && hi[1] > lo[1]
}
