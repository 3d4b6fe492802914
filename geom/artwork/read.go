package artwork

import (
	"fmt"
	"math"
	"net/url"
	"strings"

	"github.com/go-text/typesetting/shaping"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/trace"
)

// reader walks the tree and collects paint.
type reader struct {
	art      *Artwork
	found    finding.List
	ids      map[string]*node
	nodes    int
	segments int
	full     bool
	said     map[string]bool // messages already given, with their place
	count    map[finding.Code]int
	inside   map[*node]bool        // clip paths and masks being read, to find circles
	stops    map[*node][]shadeStop // of gradients
	fonts    fonts
	shaper   shaping.HarfbuzzShaper
	split    shaping.Segmenter
	set      int            // letters
	laid     map[*node]Path // texts, by their elements
	images   *images        // read so far, here and in what holds this
}

// context is what a node takes over from those above it.
type context struct {
	m       geom.Affine
	style   style
	font    float64 // font size in px
	clips   []int
	view    View // nearest viewport, for percentages
	refs    int
	uses    *link   // what is being drawn by use
	picture int     // collecting into
	group   int     // of that picture
	inClip  bool    // a clip path's shapes, whatever their paint
	used    *style  // of the use that is being drawn
	of      *target // what is clipped or masked, while a clip path or mask is read
}

// target is an element that a clip path or mask is given to, whose box counts.
type target struct {
	n   *node
	ctx context
}

// Parse reads an SVG, plain or packed, or a bitmap of flat colours, which is traced. An error means that it is none at all (a
// *SyntaxError with its place, or a *KindError); all else is in the findings.
func Parse(data []byte) (*Artwork, finding.List, error) { return ParseAs(data, trace.Options{}) }

// ParseAs is Parse of a picture of pixels of which more is known. A drawing is none: that is a *KindError.
func ParseAs(data []byte, how trace.Options) (*Artwork, finding.List, error) {
	return parseWith(data, how, &images{})
}

// parseWith reads a file that may be an image in another; images counts those that were read.
func parseWith(data []byte, how trace.Options, images *images) (*Artwork, finding.List, error) {
	k := KindOf(data)
	if err := known(k); err != nil {
		return nil, nil, err
	}
	if k == PDF && how == (trace.Options{}) {
		return pdf(data, images)
	}
	if k != SVG && k != PDF {
		return bitmap(data, k, how)
	}
	if how != (trace.Options{}) {
		return nil, nil, &KindError{Kind: k, Text: "the file is a drawing, not a picture of pixels: --photo, --corners and --colours are for pictures"}
	}
	src, err := newSource(data)
	if err != nil {
		return nil, nil, err
	}
	root, err := parseTree(src)
	if err != nil {
		return nil, nil, err
	}
	r := &reader{
		art:    &Artwork{Pictures: []Picture{{Groups: []Group{{Alpha: 1}}}}},
		ids:    map[string]*node{},
		said:   map[string]bool{},
		count:  map[finding.Code]int{},
		inside: map[*node]bool{},
		stops:  map[*node][]shadeStop{},
		images: images,
		laid:   map[*node]Path{},
	}
	if root.bare {
		r.say(finding.BadValue, finding.Warning, root, "namespace")
	}
	for _, at := range src.outside {
		l, c := src.place(at)
		r.found.Add(
			finding.New(finding.BadReference, finding.Warning).In("style").From(finding.Source{Line: l, Column: c}))
	}
	var ok bool
	if r.fonts.rules, ok = cascade(root, &r.found); !ok {
		r.say(finding.TooMuch, finding.Error, root, "style", MaxStyleWork)
		r.full = true
	}
	r.index(root)
	r.art.Title = title(root)
	r.root(root)
	return r.art, r.found, nil
}

// mostTitle letters are kept of a title.
const mostTitle = 300

// title of a drawing: that of its root (SVG 2, 5.8), white space made one.
func title(root *node) string {
	for _, c := range root.children {
		if c.tag != "title" {
			continue
		}
		t := []rune(strings.Join(strings.Fields(c.text.String()), " "))
		if len(t) > mostTitle {
			return string(t[:mostTitle-1]) + "…"
		}
		return string(t)
	}
	return ""
}

func (r *reader) index(n *node) {
	if id := n.attr["id"]; id != "" && r.ids[id] == nil {
		r.ids[id] = n
	}
	for _, c := range n.children {
		r.index(c)
	}
}

// say adds a finding about a node, in one of the code's wordings; the same one about the same place is said once, and
// beyond a bound of each code the rest are only mentioned.
func (r *reader) say(code finding.Code, sev finding.Severity, n *node, wording string, values ...any) {
	most := MaxFindings
	if sev == finding.Note {
		most = MaxNotes
	}
	if r.count[code] > most {
		return
	}
	key := fmt.Sprint(code, n.src, wording, values)
	if r.said[key] {
		return
	}
	r.said[key] = true
	if r.count[code]++; r.count[code] > most {
		wording, values = "more", nil
	}
	r.found.Add(finding.New(code, sev, values...).In(wording).From(n.src))
}

// root sets the artwork frame: user units inside the viewBox; without one, those of width and height; without these,
// the drawing's own box.
func (r *reader) root(n *node) {
	box, hasBox := viewBox(n)
	w, wok := absolute(n.attr["width"])
	h, hok := absolute(n.attr["height"])
	page := Page{View: box, Port: box, Aspect: strings.TrimSpace(n.attr["preserveAspectRatio"])}
	switch {
	case hasBox && wok && hok:
		// The viewport, seen in user units, is the viewBox widened to the shape of width x height.
		page.Width, page.Height = w, h
		if m := fitBox(box, View{0, 0, w, h}, page.Aspect); m.Det() > 0 {
			page.Port = View{-m[4] / m[0], -m[5] / m[3], w / m[0], h / m[3]}
		}
	case hasBox && wok:
		page.Width, page.Height = w, w*box.H/box.W
	case hasBox && hok:
		page.Width, page.Height = h*box.W/box.H, h
	case !hasBox && wok && hok:
		page.Width, page.Height = w, h
		page.View = View{0, 0, w, h}
		page.Port = page.View
	case !hasBox:
		page.View = View{0, 0, 300, 150} // CSS: the usual size of what has none
		page.Port = View{-1e30, -1e30, 2e30, 2e30}
		if n.attr["viewBox"] != "" {
			r.say(finding.BadValue, finding.Warning, n, "viewbox", clipped(n.attr["viewBox"]))
		}
	}
	r.art.Page = page
	ctx := context{m: geom.Identity, font: usualFont, view: page.View}
	if page.Port.W < 1e30 {
		ctx.clips = []int{r.rectClip(page.Port, geom.Identity, nil)}
	}
	if n.attr["transform"] != "" {
		r.say(finding.Unsupported, finding.Error, n, "root_transform")
	}
	if noArea(n) {
		r.say(finding.NoPage, finding.Error, n, "")
	} else if in, ok := r.enter(n, ctx); ok {
		r.children(n, in)
	}
	if page.Port.W >= 1e30 {
		if b, ok := r.art.Bounds(); ok {
			r.art.Page.View = b
		}
		r.art.Page.Port = r.art.Page.View
	}
}

// noArea tells whether a side of the root's page or view box is stated as 0, which turns drawing off.
func noArea(n *node) bool {
	for _, a := range []string{"width", "height"} {
		if v, ok := length(n.attr[a], 1, usualFont); ok && v == 0 {
			return true
		}
	}
	v, ok := numbers(n.attr["viewBox"])
	return ok && len(v) == 4 && (v[2] == 0 || v[3] == 0)
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

func (r *reader) children(n *node, ctx context) {
	for _, c := range n.children {
		if n.tag == "switch" {
			if c.tag == "" || skipped[c.tag] || !holds(c) {
				continue
			}
			r.walk(c, ctx)
			break
		}
		r.walk(c, ctx)
	}
}

// holds is the conditional attributes' answer: no extension is there, every feature of SVG 1.1 is taken for granted,
// and the language is English.
func holds(n *node) bool {
	if _, ok := n.attr["requiredExtensions"]; ok {
		return false
	}
	v, ok := n.attr["systemLanguage"]
	if !ok {
		return true
	}
	for _, l := range strings.Split(v, ",") {
		if l = strings.ToLower(strings.TrimSpace(l)); l == "en" || strings.HasPrefix(l, "en-") {
			return true
		}
	}
	return false
}

// skipped elements paint nothing by themselves.
var skipped = map[string]bool{
	"":                 true,
	"defs":             true,
	"style":            true,
	"title":            true,
	"desc":             true,
	"metadata":         true,
	"symbol":           true,
	"clipPath":         true,
	"mask":             true,
	"linearGradient":   true,
	"radialGradient":   true,
	"pattern":          true,
	"filter":           true,
	"marker":           true,
	"script":           true,
	"view":             true,
	"animate":          true,
	"animateTransform": true,
	"animateMotion":    true,
	"animateColor":     true,
	"set":              true,
	"cursor":           true,
	"stop":             true,
	"solidColor":       true,
	"hatch":            true,
	"meshgradient":     true,
	"font":             true,
	"font-face":        true,
	"color-profile":    true,
}

// walk paints one node and what is below it.
func (r *reader) walk(n *node, ctx context) {
	if skipped[n.tag] || r.full || !holds(n) {
		return
	}
	if r.nodes++; r.nodes > MaxNodes {
		r.full = true
		r.say(finding.TooMuch, finding.Error, n, "nodes", MaxNodes)
		return
	}
	if ctx.inClip && (n.tag == "g" || n.tag == "a" || n.tag == "switch" || n.tag == "svg") {
		return // none of them is a child of a clip path
	}
	ctx, ok := r.enter(n, ctx)
	if !ok {
		return
	}
	switch n.tag {
	case "g", "a", "switch":
		r.children(n, ctx)
	case "svg":
		r.nested(n, ctx, n.attr["width"], n.attr["height"])
	case "use":
		r.use(n, ctx)
	case "text":
		if hasText(n) {
			r.text(n, ctx)
		}
	case "image", "foreignObject":
		if n.tag == "image" && n.attr["href"] != "" && ctx.style[visibility] != "hidden" {
			if !ctx.inClip {
				r.image(n, ctx)
			}
			return
		}
		w, wok := length(n.attr["width"], ctx.view.W, ctx.font)
		h, hok := length(n.attr["height"], ctx.view.H, ctx.font)
		if n.tag == "foreignObject" && ctx.style[visibility] != "hidden" && !ctx.inClip && ctx.picture == 0 && !(wok && w <= 0) && !(hok && h <= 0) {
			x, _ := length(n.attr["x"], ctx.view.W, ctx.font)
			y, _ := length(n.attr["y"], ctx.view.H, ctx.font)
			px, py := ctx.m.Apply(x+w/2, y+h/2)
			r.alter(Altered{Code: finding.EffectDropped, Case: "foreign", At: []geom.ArtworkPoint{{px, py}}, Source: n.src})
		}
	default:
		p, ok := r.shape(n, ctx)
		if !ok {
			r.say(finding.Unsupported, finding.Warning, n, "element", clipped(n.tag))
			return
		}
		r.paint(n, ctx, p)
	}
}

// hasText tells whether any letter would be drawn.
func hasText(n *node) bool {
	if strings.TrimSpace(n.text.String()) != "" {
		return true
	}
	for _, c := range n.children {
		if hasText(c) {
			return true
		}
	}
	return false
}

// nested draws an inner svg or a symbol in its own viewport.
func (r *reader) nested(n *node, ctx context, width, height string) {
	size := func(s string, whole float64) float64 {
		if v, ok := length(s, whole, ctx.font); ok {
			return v
		}
		return whole
	}
	x, _ := length(n.attr["x"], ctx.view.W, ctx.font)
	y, _ := length(n.attr["y"], ctx.view.H, ctx.font)
	if n.tag == "symbol" {
		x, y = 0, 0
	}
	port := View{x, y, size(width, ctx.view.W), size(height, ctx.view.H)}
	if port.W <= 0 || port.H <= 0 {
		return
	}
	if v := ctx.style[overflow]; v != "visible" && v != "auto" {
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

// link is one of the elements that are being drawn by use, each from inside the one above.
type link struct {
	target *node
	up     *link
}

func (r *reader) use(n *node, ctx context) {
	target, ok := r.target(n, n.attr["href"])
	if !ok {
		r.say(finding.BadReference, finding.Warning, n, "use", clipped(n.attr["href"]))
		return
	}
	for p := n.parent; p != nil; p = p.parent {
		if p == target {
			r.say(finding.BadReference, finding.Warning, n, "round_itself")
			return
		}
	}
	for l := ctx.uses; l != nil; l = l.up {
		if l.target == target {
			r.say(finding.BadReference, finding.Warning, n, "round_itself")
			return
		}
	}
	ctx.uses = &link{target, ctx.uses}
	if ctx.refs++; ctx.refs > MaxReferences {
		r.say(finding.BadReference, finding.Error, n, "deep", MaxReferences)
		return
	}
	of := ctx.style
	ctx.used = &of
	switch target.tag {
	case "symbol", "svg":
		w, h := target.attr["width"], target.attr["height"]
		if v, ok := n.attr["width"]; ok {
			w = v
		}
		if v, ok := n.attr["height"]; ok {
			h = v
		}
		if ctx.inClip || !holds(target) {
			return
		}
		if in, ok := r.enter(target, ctx); ok {
			r.nested(target, in, w, h)
		}
	default:
		if ctx.inClip && target.tag == "use" {
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
			r.say(finding.BadReference, finding.Error, n, "outside", clipped(href))
		}
		return nil, false
	}
	if t, ok := r.ids[href[1:]]; ok {
		return t, true
	}
	id, err := url.PathUnescape(href[1:])
	t, ok := r.ids[id]
	return t, ok && err == nil
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
