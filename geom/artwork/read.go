package artwork

import (
	"fmt"
	"math"
	"os"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// maxReference bounds chains of use, clip-path and gradient references; cycles end here too.
const maxReference = 32

// reader walks the tree and collects paint.
type reader struct {
	art      *Artwork
	found    finding.List
	ids      map[string]*node
	nodes    int
	segments int
	full     bool
	said     map[string]bool // messages already given, with their place
}

// context is what a node takes over from those above it.
type context struct {
	m       geom.Affine
	style   map[string]string
	opacity float64
	clips   []int
	view    View // nearest viewport, for percentages
	refs    int
	inClip  *Clip // collecting a clip path's shapes instead of paint
}

// ReadFile reads an SVG file of at most MaxBytes.
func ReadFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s is a folder", name)
	}
	if info.Size() > MaxBytes {
		return nil, fmt.Errorf("%s has %d bytes, more than the %d that are read", name, info.Size(), MaxBytes)
	}
	return os.ReadFile(name)
}

// Parse reads an SVG. An error means that it is no SVG at all (a *SyntaxError with its place); all else is in the findings.
func Parse(data []byte) (*Artwork, finding.List, error) {
	if len(data) > MaxBytes {
		return nil, nil, &SyntaxError{Text: fmt.Sprintf("file larger than %d bytes", MaxBytes)}
	}
	root, err := parseTree(data)
	if err != nil {
		return nil, nil, err
	}
	r := &reader{art: &Artwork{}, ids: map[string]*node{}, said: map[string]bool{}}
	cascade(root, &r.found)
	r.index(root)
	r.root(root)
	r.art.index()
	return r.art, r.found, nil
}

func (r *reader) index(n *node) {
	if id := n.attr["id"]; id != "" && r.ids[id] == nil {
		r.ids[id] = n
	}
	for _, c := range n.children {
		r.index(c)
	}
}

func (r *reader) say(code finding.Code, sev finding.Severity, n *node, advice, format string, a ...any) {
	msg := fmt.Sprintf(format, a...)
	key := fmt.Sprint(code, n.src, msg)
	if r.said[key] {
		return
	}
	r.said[key] = true
	r.found.Add(finding.Finding{Code: code, Severity: sev, Message: msg, Suggestion: advice, Source: n.src})
}

// root sets the artwork frame: user units inside the viewBox; without one, those of width and height.
func (r *reader) root(n *node) {
	ctx := context{m: geom.Identity, style: map[string]string{}, opacity: 1, view: View{0, 0, 100, 100}}
	box, ok := viewBox(n)
	w, wok := length(n.attr["width"], box.W, 16)
	h, hok := length(n.attr["height"], box.H, 16)
	port := box
	switch {
	case ok && wok && hok && w > 0 && h > 0:
		// The viewport, seen in user units, is the viewBox widened to the shape of width x height.
		m := fitBox(box, View{0, 0, w, h}, n.attr["preserveAspectRatio"])
		if m.Det() > 0 {
			port = View{-m[4] / m[0], -m[5] / m[3], w / m[0], h / m[3]}
		}
	case !ok && wok && hok && w > 0 && h > 0:
		box = View{0, 0, w, h}
		port = box
	case !ok:
		box, port = View{0, 0, 300, 150}, View{-1e6, -1e6, 2e6, 2e6}
		if wok && w > 0 {
			box.W = w
		}
		if hok && h > 0 {
			box.H = h
		}
	}
	r.art.View = box
	ctx.view = box
	ctx.clips = []int{r.rectClip(port, geom.Identity, nil)}
	ctx = r.enter(n, ctx)
	r.children(n, ctx)
}

func viewBox(n *node) (View, bool) {
	v, ok := numbers(n.attr["viewBox"])
	if !ok || len(v) != 4 || v[2] <= 0 || v[3] <= 0 {
		return View{}, false
	}
	return View{v[0], v[1], v[2], v[3]}, true
}

// fitBox is the matrix that puts box into port as preserveAspectRatio says.
func fitBox(box, port View, how string) geom.Affine {
	sx, sy := port.W/box.W, port.H/box.H
	f := strings.Fields(how)
	if len(f) > 0 && f[0] == "defer" {
		f = f[1:]
	}
	align := "xMidYMid"
	if len(f) > 0 {
		align = f[0]
	}
	if align == "none" {
		return geom.Affine{sx, 0, 0, sy, port.X - sx*box.X, port.Y - sy*box.Y}
	}
	s := math.Min(sx, sy)
	if len(f) > 1 && f[1] == "slice" {
		s = math.Max(sx, sy)
	}
	at := func(min, max bool, room float64) float64 {
		if min {
			return 0
		}
		if max {
			return room
		}
		return room / 2
	}
	x := at(strings.HasPrefix(align, "xMin"), strings.HasPrefix(align, "xMax"), port.W-s*box.W)
	y := at(strings.HasSuffix(align, "YMin"), strings.HasSuffix(align, "YMax"), port.H-s*box.H)
	return geom.Affine{s, 0, 0, s, port.X + x - s*box.X, port.Y + y - s*box.Y}
}

// enter computes a node's style and takes its transform, opacity, clip and mask into the context.
func (r *reader) enter(n *node, ctx context) context {
	style := make(map[string]string, len(ctx.style)+4)
	for k, v := range ctx.style {
		if properties[k] {
			style[k] = v
		}
	}
	for k, v := range n.style {
		switch {
		case v == "inherit":
			style[k] = ctx.style[k]
		case v == "initial" || v == "unset" && !properties[k]:
			delete(style, k)
		case v == "unset":
		case (k == "fill" || k == "stroke" || k == "color") && !validPaint(v):
			r.say(finding.BadValue, finding.Warning, n, "", "%s %q is not a colour; the inherited one is used", k, v)
		default:
			style[k] = v
		}
	}
	ctx.style = style
	t := n.attr["transform"]
	if n.tag == "svg" && n.parent == nil {
		t = ""
	}
	if t != "" {
		m, err := parseTransform(t)
		if err != nil {
			r.say(finding.BadTransform, finding.Warning, n, "", "transform %q is not understood and is left out", t)
		}
		ctx.m = ctx.m.Times(m)
	}
	if _, ok := n.style["transform"]; ok {
		r.say(finding.Unsupported, finding.Error, n, "use the transform attribute instead", "a transform given as a style property is not read")
	}
	ctx.opacity *= r.fraction(style, "opacity")
	if v := style["filter"]; v != "" && v != "none" {
		r.say(finding.Unsupported, finding.Error, n, "remove the filter: sugar has flat colours only", "a filter cannot be made in sugar")
	}
	if v := style["mix-blend-mode"]; v != "" && v != "normal" {
		r.say(finding.Unsupported, finding.Error, n, "merge the colours in the drawing program", "blend mode %q cannot be honoured", v)
	}
	if v := style["mask"]; v != "" && v != "none" {
		if c, ok := r.mask(n, v, ctx); ok {
			ctx.clips = append(ctx.clips[:len(ctx.clips):len(ctx.clips)], c)
		} else {
			r.say(finding.Unsupported, finding.Error, n, "cut the shape to the mask's outline in the drawing program", "a mask that is not plain white shapes cannot be honoured")
		}
	}
	if v := style["clip-path"]; v != "" && v != "none" {
		if c, ok := r.clip(n, v, ctx); ok {
			ctx.clips = append(ctx.clips[:len(ctx.clips):len(ctx.clips)], c)
		}
	}
	return ctx
}

func validPaint(v string) bool {
	l := strings.ToLower(v)
	if l == "none" || l == "currentcolor" || strings.HasPrefix(l, "url(") || l == "context-fill" || l == "context-stroke" {
		return true
	}
	_, ok := parseColour(v)
	return ok
}

func (r *reader) fraction(style map[string]string, name string) float64 {
	v, ok := style[name]
	if !ok {
		return 1
	}
	x, ok := length(v, 1, 16)
	if !ok {
		return 1
	}
	return math.Max(0, math.Min(1, x))
}

func (r *reader) children(n *node, ctx context) {
	for _, c := range n.children {
		r.walk(c, ctx)
		if n.tag == "switch" && c.tag != "" {
			break
		}
	}
}

// skipped elements paint nothing by themselves.
var skipped = map[string]bool{"": true, "defs": true, "style": true, "title": true, "desc": true, "metadata": true, "symbol": true,
	"clipPath": true, "mask": true, "linearGradient": true, "radialGradient": true, "pattern": true, "filter": true, "marker": true,
	"script": true, "view": true, "animate": true, "animateTransform": true, "animateMotion": true, "set": true, "cursor": true}

// walk paints one node and what is below it.
func (r *reader) walk(n *node, ctx context) {
	if skipped[n.tag] || r.full {
		return
	}
	if r.nodes++; r.nodes > MaxNodes {
		r.full = true
		r.say(finding.TooMuch, finding.Error, n, "draw it with fewer elements", "more than %d elements once every use is drawn", MaxNodes)
		return
	}
	if n.style["display"] == "none" {
		return
	}
	before := ctx
	ctx = r.enter(n, ctx)
	switch n.tag {
	case "g", "a", "switch":
		if ctx.inClip != nil {
			return // groups are not children of a clip path
		}
		if ctx.opacity < before.opacity && len(n.children) > 1 {
			r.say(finding.Translucent, finding.Warning, n, "", "a group's opacity is given to each of its shapes; where they overlap the colour may differ")
		}
		r.children(n, ctx)
	case "svg":
		if ctx.inClip == nil {
			r.nested(n, ctx, n.attr["width"], n.attr["height"])
		}
	case "use":
		r.use(n, ctx)
	case "text", "tspan", "textPath":
		r.say(finding.TextInArtwork, finding.Error, n, "turn the text into outlines (paths) in the drawing program", "text cannot be read: its letters depend on a font that is not in the file")
	case "image", "foreignObject":
		r.say(finding.ImageInArtwork, finding.Error, n, "ask for the drawing as flat shapes; a photo cannot be made in sugar", "<%s> is a picture, not a drawing", n.tag)
	default:
		p, ok := r.shape(n, ctx)
		if !ok {
			r.say(finding.Unsupported, finding.Warning, n, "", "element <%s> is not known and is left out", n.tag)
			return
		}
		r.paint(n, ctx, p)
	}
}

// nested draws an inner svg or a symbol in its own viewport.
func (r *reader) nested(n *node, ctx context, width, height string) {
	size := func(s string, whole float64) float64 {
		if v, ok := length(s, whole, 16); ok {
			return v
		}
		return whole
	}
	x, _ := length(n.attr["x"], ctx.view.W, 16)
	y, _ := length(n.attr["y"], ctx.view.H, 16)
	if n.tag == "symbol" {
		x, y = 0, 0
	}
	port := View{x, y, size(width, ctx.view.W), size(height, ctx.view.H)}
	if port.W <= 0 || port.H <= 0 {
		return
	}
	if v := ctx.style["overflow"]; v != "visible" && v != "auto" {
		ctx.clips = append(ctx.clips[:len(ctx.clips):len(ctx.clips)], r.rectClip(port, ctx.m, nil))
	}
	if box, ok := viewBox(n); ok {
		ctx.m = ctx.m.Times(fitBox(box, port, n.attr["preserveAspectRatio"]))
		ctx.view = box
	} else {
		ctx.m = ctx.m.Times(geom.Affine{1, 0, 0, 1, port.X, port.Y})
		ctx.view = View{0, 0, port.W, port.H}
	}
	r.children(n, ctx)
}

func (r *reader) use(n *node, ctx context) {
	target, ok := r.target(n, n.attr["href"])
	if !ok {
		r.say(finding.BadReference, finding.Warning, n, "", "use refers to %q, which is not in the file", n.attr["href"])
		return
	}
	if ctx.refs++; ctx.refs > maxReference {
		r.say(finding.BadReference, finding.Error, n, "take the loop out of the file", "references nested deeper than %d, or in a circle", maxReference)
		return
	}
	for p := n.parent; p != nil; p = p.parent {
		if p == target {
			r.say(finding.BadReference, finding.Error, n, "take the loop out of the file", "use refers to an element round itself")
			return
		}
	}
	x, _ := length(n.attr["x"], ctx.view.W, 16)
	y, _ := length(n.attr["y"], ctx.view.H, 16)
	ctx.m = ctx.m.Times(geom.Affine{1, 0, 0, 1, x, y})
	switch target.tag {
	case "symbol":
		r.nested(target, r.enter(target, ctx), n.attr["width"], n.attr["height"])
	case "svg":
		w, h := target.attr["width"], target.attr["height"]
		if v, ok := n.attr["width"]; ok {
			w = v
		}
		if v, ok := n.attr["height"]; ok {
			h = v
		}
		r.nested(target, r.enter(target, ctx), w, h)
	default:
		if ctx.inClip != nil && target.tag == "use" {
			return
		}
		r.walk(target, ctx)
	}
}

// target finds "#id".
func (r *reader) target(n *node, href string) (*node, bool) {
	href = strings.TrimSpace(href)
	if !strings.HasPrefix(href, "#") {
		if href != "" {
			r.say(finding.BadReference, finding.Error, n, "put the shape into the file itself", "%q lies outside the file; nothing outside is opened", href)
		}
		return nil, false
	}
	t, ok := r.ids[href[1:]]
	return t, ok
}

// urlID is the id in url(#id), with the rest after it.
func urlID(v string) (string, string) {
	i, j := strings.IndexByte(v, '('), strings.IndexByte(v, ')')
	if i < 0 || j < i {
		return "", ""
	}
	id := strings.Trim(strings.TrimSpace(v[i+1:j]), `"'`)
	return strings.TrimPrefix(id, "#"), strings.TrimSpace(v[j+1:])
}
