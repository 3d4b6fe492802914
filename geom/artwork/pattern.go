package artwork

import (
	"math"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// mostTiles of a pattern are drawn as shapes: more, and each would be finer than sugar holds, so that the colour that is seen in the
// mean is painted.
const mostTiles = 200

// tile is a pattern's on one shape: its matrix, where the first lies in that, and what its content is seen through.
type tile struct {
	m, content geom.Affine
	at         View
	view       View
	of         *node // whose children are drawn
}

// tiles paints an outline with a pattern.
func (r *reader) tiles(n, p *node, ctx context, o Outline, alpha float64) {
	if ctx.refs++; ctx.refs > MaxReferences || r.inside[p] {
		r.say(finding.BadReference, finding.Warning, n, "itself", "pattern")
		return
	}
	r.inside[p] = true
	defer delete(r.inside, p)
	t, ok := r.tile(n, p, ctx)
	if !ok || alpha <= 0 {
		return
	}
	back, ok := t.m.Inverse()
	if !ok {
		return
	}
	b := emptyBox()
	o.Path.extremes(back.Times(o.Matrix), &b)
	if o.Stroke != nil {
		reach := o.Stroke.reach() * stretch(back.Times(o.Matrix))
		b.lo, b.hi = pt{b.lo[0] - reach, b.lo[1] - reach}, pt{b.hi[0] + reach, b.hi[1] + reach}
	}
	x0, x1 := math.Floor((b.lo[0]-t.at.X)/t.at.W), math.Floor((b.hi[0]-t.at.X)/t.at.W)
	y0, y1 := math.Floor((b.lo[1]-t.at.Y)/t.at.H), math.Floor((b.hi[1]-t.at.Y)/t.at.H)
	if !((x1-x0+1)*(y1-y0+1) <= mostTiles) {
		if c, ok := r.tileMean(t); ok {
			if ctx.picture == 0 {
				x, y := o.Matrix.Apply(o.Path[0].pts[0][0], o.Path[0].pts[0][1])
				r.alter(Altered{Code: finding.ShadeFlat, Case: "pattern", At: []geom.ArtworkPoint{{x, y}}, Source: n.src})
			}
			r.layer(n, ctx, o, paint{rgba: c}, alpha)
		}
		return
	}
	clip := r.picture(byAlpha)
	r.hold(clip, o, ctx.clips)
	group := ctx.group
	if alpha < 1 {
		pic := &r.art.Pictures[ctx.picture]
		pic.Groups = append(pic.Groups, Group{Parent: ctx.group, Alpha: alpha, Blend: Normal})
		group = len(pic.Groups) - 1
	}
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			in := r.inTile(t, geom.Affine{1, 0, 0, 1, x * t.at.W, y * t.at.H}, []int{clip})
			in.refs, in.picture, in.group = ctx.refs, ctx.picture, group
			r.children(t.of, in)
		}
	}
}

// inTile is the context of a tile's content.
func (r *reader) inTile(t tile, moved geom.Affine, clips []int) context {
	m := t.m.Times(moved)
	in := context{font: usualFont, view: t.view}
	r.above(t.of, &in)
	r.specify(t.of, &in)
	in.clips = append(clips, r.rectClip(t.at, m, nil))
	in.m = m.Times(t.content)
	return in
}

// tile reads a pattern's geometry on a shape (W3C, SVG 2, 14.3); ok is false where it paints nothing.
func (r *reader) tile(n, p *node, ctx context) (t tile, ok bool) {
	chain := []*node{p}
	for range MaxReferences {
		q := r.ids[strings.TrimPrefix(strings.TrimSpace(chain[len(chain)-1].attr["href"]), "#")]
		if q == nil || q.tag != "pattern" {
			break
		}
		chain = append(chain, q)
	}
	attr := func(name string) string {
		for _, c := range chain {
			if v, ok := c.attr[name]; ok {
				return strings.TrimSpace(v)
			}
		}
		return ""
	}
	for _, c := range chain {
		if len(c.children) > 0 {
			t.of = c
			break
		}
	}
	if t.of == nil {
		return t, false
	}
	b, hasBox := r.box(n, ctx)
	own := attr("patternUnits") != "userSpaceOnUse"
	view := ctx.view
	if own {
		view = View{0, 0, 1, 1}
	}
	value := func(name string, whole float64) float64 {
		v, _ := length(attr(name), whole, ctx.font)
		return v
	}
	t.at = View{value("x", view.W), value("y", view.H), value("width", view.W), value("height", view.H)}
	if own {
		if !hasBox {
			return t, false
		}
		t.at = View{b.X + t.at.X*b.W, b.Y + t.at.Y*b.H, t.at.W * b.W, t.at.H * b.H}
	}
	if !(t.at.W > 0 && t.at.H > 0) {
		return t, false
	}
	t.m, t.content, t.view = ctx.m, geom.Affine{1, 0, 0, 1, t.at.X, t.at.Y}, ctx.view
	if v := attr("patternTransform"); v != "" {
		own, err := parseTransform(v)
		if err != nil {
			r.say(finding.BadTransform, finding.Warning, n, "", clipped(v))
		} else {
			t.m = t.m.Times(own)
		}
	}
	if v, ok := numbers(attr("viewBox")); ok && len(v) == 4 && v[2] > 0 && v[3] > 0 {
		t.view = View{v[0], v[1], v[2], v[3]}
		t.content = fitBox(t.view, t.at, attr("preserveAspectRatio"))
	} else if attr("patternContentUnits") == "objectBoundingBox" {
		if !hasBox {
			return t, false
		}
		t.content, t.view = geom.Affine{b.W, 0, 0, b.H, t.at.X, t.at.Y}, View{0, 0, 1, 1}
	}
	return t, true
}

// meanSide is how many dots a side a tile is looked at in.
const meanSide = 32

// tileMean is the colour that a tile shows in the mean; ok is false where it shows none.
func (r *reader) tileMean(t tile) (c rgba, ok bool) {
	sub := &reader{art: &Artwork{Pictures: []Picture{{Groups: []Group{{Alpha: 1}}}}, Page: Page{View: t.at, Port: t.at}}, ids: r.ids,
		said: map[string]bool{}, count: map[finding.Code]int{}, inside: r.inside, stops: r.stops, nodes: r.nodes, segments: r.segments}
	t.m = geom.Identity
	in := sub.inTile(t, geom.Identity, nil)
	in.refs = MaxReferences // no patterns within
	sub.children(t.of, in)
	to := geom.ToTrue{meanSide / t.at.W, 0, 0, meanSide / t.at.H, -t.at.X * meanSide / t.at.W, -t.at.Y * meanSide / t.at.H}
	type drawn struct {
		rings []geom.Ring[geom.TruePoint]
		rule  Rule
	}
	all := make([]drawn, len(sub.art.Outlines))
	left := MaxPoints / 10
	for i := range all {
		o := &sub.art.Outlines[i]
		rings, err := o.Flat(to, 0.05, 2*meanSide, &left)
		if err != nil {
			return c, false
		}
		all[i] = drawn{rings, o.Rule}
	}
	eye := NewEye(sub.art)
	var sum [4]float64
	var holds []int32
	for y := range meanSide {
		for x := range meanSide {
			p := geom.TruePoint{float64(x) + 0.5, float64(y) + 0.5}
			holds = holds[:0]
			for i, d := range all {
				w := int32(0)
				for _, ring := range d.rings {
					w += winding(ring, p)
				}
				if d.rule.Inside(w) {
					holds = append(holds, int32(i))
				}
			}
			s, _ := eye.look(holds, to.Artwork(p))
			for k := range s.c {
				sum[k] += s.c[k]
			}
			sum[3] += s.a
		}
	}
	if sum[3] == 0 {
		return c, false
	}
	for k := range c.RGB {
		c.RGB[k] = byteOf(255 * sum[k] / sum[3])
	}
	c.a = sum[3] / meanSide / meanSide
	return c, true
}

// winding is how often a ring runs round a point.
func winding(ring geom.Ring[geom.TruePoint], p geom.TruePoint) (w int32) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > p[1]) == (b[1] > p[1]) {
			continue
		}
		if x := a[0] + (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]); x > p[0] {
			if b[1] > a[1] {
				w++
			} else {
				w--
			}
		}
	}
	return w
}
