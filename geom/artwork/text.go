package artwork

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// mostLetters of a drawing are set.
const mostLetters = 5000

// letter is one character of a text, with what the elements round it say of its place (W3C, SVG 2, 11).
type letter struct {
	r      rune
	of     *span
	x, y   float64 // absolute; NaN: goes on
	dx, dy float64
	turn   float64 // degrees
}

// span is letters that one element holds directly.
type span struct {
	n    *node
	ctx  context
	face *font.Face
	ours bool // set in our own face
	path *textPath
}

// textPath is what letters stand on.
type textPath struct {
	n     *node
	line  []pt // in the text's user space
	along []float64
	start float64
}

// text sets a text in its font and paints it.
func (r *reader) text(n *node, ctx context) {
	if v := ctx.style[writingMode]; strings.HasPrefix(v, "t") || strings.HasPrefix(v, "vertical") {
		r.say(finding.TextInArtwork, finding.Error, n, "vertical")
		return
	}
	var all []letter
	r.letters(n, ctx, nil, &all)
	all = collapsed(all)
	if r.set += len(all); r.set > mostLetters {
		r.say(finding.TooMuch, finding.Error, n, "letters", mostLetters)
		return
	}
	place(n, all)
	if !r.faces(n, all) {
		return
	}
	var whole Path
	type coat struct {
		of   *span
		path Path
	}
	var coats []coat
	pen := pt{}
	for i := 0; i < len(all); {
		j := i + 1
		for j < len(all) && math.IsNaN(all[j].x) && math.IsNaN(all[j].y) && all[j].of.path == all[i].of.path {
			j++
		}
		glyphs := r.chunk(all[i:j], &pen)
		for _, g := range glyphs {
			if len(coats) == 0 || coats[len(coats)-1].of != g.of {
				coats = append(coats, coat{of: g.of})
			}
			c := &coats[len(coats)-1]
			c.path = append(c.path, g.path...)
			whole = append(whole, g.path...)
		}
		i = j
	}
	r.laid[n] = whole
	for _, c := range coats {
		if c.of.n != n {
			r.laid[c.of.n] = whole // a box is that of the whole text
		}
		if len(c.path) > 0 {
			r.paint(c.of.n, c.of.ctx, c.path)
		}
	}
	r.sayFaces(n, ctx, all, whole)
}

// letters gathers a text's characters in order.
func (r *reader) letters(n *node, ctx context, path *textPath, out *[]letter) {
	s := &span{n: n, ctx: ctx, path: path}
	for _, c := range n.content {
		if c.node == nil {
			for _, x := range transformed(c.text, ctx.style[textTransform]) {
				*out = append(*out, letter{r: x, of: s, x: math.NaN(), y: math.NaN()})
			}
			continue
		}
		in := c.node
		if in.tag != "tspan" && in.tag != "textPath" && in.tag != "a" && in.tag != "tref" || !holds(in) {
			continue
		}
		inner, ok := r.enter(in, ctx)
		if !ok {
			continue
		}
		p := path
		if in.tag == "textPath" {
			if p = r.textPath(in, inner); p == nil {
				continue
			}
		}
		r.letters(in, inner, p, out)
	}
}

func transformed(s, how string) string {
	switch how {
	case "uppercase":
		return strings.ToUpper(s)
	case "lowercase":
		return strings.ToLower(s)
	}
	return s
}

// collapsed is a text with its white space made one, but where it is kept.
func collapsed(all []letter) (out []letter) {
	kept := func(l letter) bool {
		if w := l.of.ctx.style[whiteSpace]; w != "" {
			return strings.HasPrefix(w, "pre") || w == "break-spaces"
		}
		for n := l.of.n; n != nil; n = n.parent {
			if v, ok := n.attr["space"]; ok {
				return v == "preserve"
			}
		}
		return false
	}
	for _, l := range all {
		space := l.r == ' ' || l.r == '\n' || l.r == '\t' || l.r == '\r'
		if space {
			l.r = ' '
			if !kept(l) && (len(out) == 0 || out[len(out)-1].r == ' ' && !kept(out[len(out)-1])) {
				continue
			}
		}
		out = append(out, l)
	}
	for len(out) > 0 && out[len(out)-1].r == ' ' && !kept(out[len(out)-1]) {
		out = out[:len(out)-1]
	}
	return out
}

// place gives letters what the lists of the elements round them say, the innermost last.
func place(n *node, all []letter) {
	in := func(l *letter, of *node) bool {
		for p := l.of.n; p != nil; p = p.parent {
			if p == of {
				return true
			}
		}
		return false
	}
	var walk func(of *node)
	walk = func(of *node) {
		var own []*letter
		for i := range all {
			if in(&all[i], of) {
				own = append(own, &all[i])
			}
		}
		if len(own) > 0 {
			lists(of, own)
		}
		for _, c := range of.children {
			if c.tag == "tspan" || c.tag == "textPath" || c.tag == "a" {
				walk(c)
			}
		}
	}
	walk(n)
}

// lists are the attributes that place one letter after the other.
func lists(n *node, own []*letter) {
	ctx := own[0].of.ctx
	list := func(name string, whole float64, set func(l *letter, v float64)) (last float64, n2 int) {
		for i, f := range strings.FieldsFunc(n.attr[name], func(c rune) bool { return c == ',' || unicode.IsSpace(c) }) {
			v, ok := length(f, whole, ctx.font)
			if !ok || i >= len(own) {
				break
			}
			set(own[i], v)
			last, n2 = v, i+1
		}
		return last, n2
	}
	if n.tag != "textPath" {
		list("x", ctx.view.W, func(l *letter, v float64) { l.x = v })
		list("y", ctx.view.H, func(l *letter, v float64) { l.y = v })
	}
	list("dx", ctx.view.W, func(l *letter, v float64) { l.dx = v })
	list("dy", ctx.view.H, func(l *letter, v float64) { l.dy = v })
	last, k := list("rotate", 1, func(l *letter, v float64) { l.turn = v })
	for ; k > 0 && k < len(own); k++ {
		own[k].turn = last
	}
}

// faces finds each span's font. A letter that neither it nor our own face has is said, and nothing is set.
func (r *reader) faces(n *node, all []letter) bool {
	known := map[*span]bool{}
	for _, l := range all {
		s := l.of
		if !known[s] {
			known[s] = true
			if s.face = r.fonts.match(askedOf(s.ctx)); s.face == nil {
				s.face, s.ours = r.fonts.bold(), true
			}
		}
		if l.r == ' ' || unicode.Is(unicode.Cf, l.r) {
			continue
		}
		if drawn(s.face, l.r) {
			continue
		}
		if !drawn(r.fonts.bold(), l.r) {
			r.say(finding.TextInArtwork, finding.Error, n, "letter", string(l.r))
			return false
		}
		s.ours = true
	}
	return true
}

// both are a span's face and, for what it lacks, ours.
type both struct{ face, own *font.Face }

func (b both) ResolveFace(c rune) *font.Face {
	if !unicode.IsSpace(c) && !drawn(b.face, c) && drawn(b.own, c) {
		return b.own
	}
	return b.face
}

// drawn tells whether a face has an outline for a letter.
func drawn(f *font.Face, c rune) bool {
	id, ok := f.NominalGlyph(c)
	return ok && len(glyphOf(f, id).Segments) > 0
}

// glyph is one set glyph: its outline in the text's user space.
type glyph struct {
	of   *span
	path Path
}

// set is a glyph on its way: where it stands before the line is moved.
type set struct {
	of      *span
	at      pt
	advance float64
	turn    float64
	data    font.GlyphOutline
	scale   float64
	off     pt
}

// chunk sets letters that go on from one place, and moves the pen to their end.
func (r *reader) chunk(all []letter, pen *pt) []glyph {
	if x := all[0].x; !math.IsNaN(x) {
		pen[0] = x
	}
	if y := all[0].y; !math.IsNaN(y) {
		pen[1] = y
	}
	at := *pen
	if all[0].of.path != nil {
		at = pt{}
	}
	runs := r.shaped(all)
	var out []set
	start := at
	for _, run := range runs {
		s := run.of
		spacing, _ := length(s.ctx.style[letterSpacing], 1, s.ctx.font)
		words, _ := length(s.ctx.style[wordSpacing], 1, s.ctx.font)
		last := -1
		for _, g := range run.Glyphs {
			first := g.TextIndex()
			end := min(first+g.RunesCount(), len(all))
			if first != last {
				for _, l := range all[first:end] {
					at[0], at[1] = at[0]+l.dx, at[1]+l.dy
				}
			}
			scale := s.ctx.font / float64(run.Face.Upem())
			k := scale / 64
			x := set{of: s, at: at, advance: float64(g.Advance) * k, turn: all[first].turn, scale: scale}
			x.off = pt{float64(g.XOffset) * k, -float64(g.YOffset) * k}
			x.at[1] += shifted(s, run.Face, scale)
			x.data = glyphOf(run.Face, g.GlyphID)
			at[0] += x.advance
			if first != last {
				at[0] += spacing
				if all[first].r == ' ' || all[first].r == '\u00a0' {
					at[0] += words
				}
			}
			last = first
			out = append(out, x)
		}
	}
	stretched := fitted(all, out, start[0], &at)
	move := 0.0
	switch anchor := all[0].of.ctx.style[textAnchor]; {
	case anchor == "middle":
		move = (start[0] - at[0]) / 2
	case (anchor == "end") != (all[0].of.ctx.style[direction] == "rtl"):
		move = start[0] - at[0]
	}
	var glyphs []glyph
	for i := range out {
		out[i].at[0] += move
		glyphs = append(glyphs, out[i].glyph(stretched))
	}
	if p := all[0].of.path; p != nil {
		*pen = p.line[len(p.line)-1]
	} else {
		*pen = pt{at[0] + move, at[1]}
	}
	return glyphs
}

// fitted makes a text as long as its textLength says: by the gaps, or by the letters too, whose factor it gives.
func fitted(all []letter, out []set, from float64, end *pt) float64 {
	n := all[0].of.n
	for n != nil && n.attr["textLength"] == "" && n.tag != "text" {
		n = n.parent
	}
	if n == nil || len(out) < 1 {
		return 1
	}
	want, ok := length(n.attr["textLength"], all[0].of.ctx.view.W, all[0].of.ctx.font)
	is := end[0] - from
	if !ok || want < 0 || is <= 0 {
		return 1
	}
	if n.attr["lengthAdjust"] == "spacingAndGlyphs" {
		for i := range out {
			out[i].at[0] = from + (out[i].at[0]-from)*want/is
			out[i].advance *= want / is
		}
		end[0] = from + want
		return want / is
	}
	if len(out) > 1 {
		for i := range out {
			out[i].at[0] += (want - is) * float64(i) / float64(len(out)-1)
		}
		end[0] = from + want
	}
	return 1
}

// shifted is how far below its baseline a span is set: dominant and alignment baselines, and shifts (SVG 2, 11.10).
func shifted(s *span, f *font.Face, scale float64) (dy float64) {
	e, _ := f.FontHExtents()
	base := s.ctx.style[alignmentBaseline]
	if base == "" || base == "auto" || base == "baseline" {
		base = s.ctx.style[dominantBaseline]
	}
	switch base {
	case "middle":
		dy = float64(f.LineMetric(font.XHeight)) / 2 * scale
	case "central":
		dy = float64(e.Ascender+e.Descender) / 2 * scale
	case "hanging":
		dy = 0.8 * float64(e.Ascender) * scale
	case "text-before-edge", "before-edge", "text-top", "top":
		dy = float64(e.Ascender) * scale
	case "text-after-edge", "after-edge", "ideographic", "text-bottom", "bottom":
		dy = float64(e.Descender) * scale
	case "mathematical":
		dy = 0.5 * float64(e.Ascender) * scale
	}
	switch v := s.ctx.style[baselineShift]; v {
	case "", "baseline":
	case "sub":
		dy += float64(e.Ascender-e.Descender) / 2 * scale // as browsers do
	case "super":
		dy -= float64(e.Ascender-e.Descender) / 2 * scale
	default:
		if x, ok := length(v, s.ctx.font, s.ctx.font); ok {
			dy -= x
		}
	}
	return dy
}

// glyph is the outline where it stands, the letter's x made longer by a factor.
func (x *set) glyph(stretched float64) glyph {
	m := geom.Affine{x.scale * stretched, 0, 0, -x.scale, x.off[0] * stretched, x.off[1]}
	if p := x.of.path; p != nil {
		mid := x.at[0] + x.advance/2
		at, dir, ok := p.at(mid)
		if !ok {
			return glyph{of: x.of}
		}
		t := geom.Affine{dir[0], dir[1], -dir[1], dir[0], at[0], at[1]}
		m = t.Times(geom.Affine{1, 0, 0, 1, -x.advance / 2, x.at[1]}).Times(rotation(x.turn)).Times(m)
	} else {
		m = (geom.Affine{1, 0, 0, 1, x.at[0], x.at[1]}).Times(rotation(x.turn)).Times(m)
	}
	return glyph{x.of, outlineOf(x.data, m)}
}

func rotation(deg float64) geom.Affine {
	if deg == 0 {
		return geom.Identity
	}
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return geom.Affine{cos, sin, -sin, cos, 0, 0}
}

// outlineOf a glyph under a matrix; quadratic curves become cubic ones.
func outlineOf(o font.GlyphOutline, m geom.Affine) (out Path) {
	at := func(p font.SegmentPoint) (q pt) {
		q[0], q[1] = m.Apply(float64(p.X), float64(p.Y))
		return q
	}
	for _, s := range o.Segments {
		a := s.ArgsSlice()
		if s.Op == opentype.SegmentOpMoveTo {
			out = append(out, subpath{pts: []pt{at(a[0])}, closed: true})
			continue
		}
		if len(out) == 0 {
			continue
		}
		p := &out[len(out)-1]
		from := p.pts[len(p.pts)-1]
		switch s.Op {
		case opentype.SegmentOpLineTo:
			p.line(at(a[0]))
		case opentype.SegmentOpQuadTo:
			c, e := at(a[0]), at(a[1])
			third := func(p, q pt) pt { return pt{p[0] + 2*(q[0]-p[0])/3, p[1] + 2*(q[1]-p[1])/3} }
			p.curve(third(from, c), third(e, c), e)
		case opentype.SegmentOpCubeTo:
			p.curve(at(a[0]), at(a[1]), at(a[2]))
		}
	}
	return out
}

// shapedRun is glyphs of one span and direction.
type shapedRun struct {
	shaping.Output
	of    *span
	level int
}

// shaped are letters as glyphs, run after run as they are seen. Runs of both directions are put in order as the bidirectional
// algorithm does (Unicode Standard Annex 9, rule L2).
func (r *reader) shaped(all []letter) (out []shapedRun) {
	runes := make([]rune, len(all))
	for i, l := range all {
		runes[i] = l.r
	}
	base := di.DirectionLTR
	if all[0].of.ctx.style[direction] == "rtl" {
		base = di.DirectionRTL
	}
	for i := 0; i < len(all); {
		j := i + 1
		for j < len(all) && all[j].of == all[i].of {
			j++
		}
		s := all[i].of
		in := shaping.Input{Text: runes, RunStart: i, RunEnd: j, Direction: base, Face: s.face, Size: fixed.I(int(s.face.Upem())), Language: language.NewLanguage("en")}
		for _, run := range r.split.Split(in, both{s.face, r.fonts.bold()}) {
			run.Size = fixed.I(int(run.Face.Upem()))
			if v, ok := length(s.ctx.style[letterSpacing], 1, s.ctx.font); ok && v != 0 { // no ligatures (CSS Text 3, 8.2)
				run.FontFeatures = append(run.FontFeatures, shaping.FontFeature{Tag: opentype.MustNewTag("liga")}, shaping.FontFeature{Tag: opentype.MustNewTag("clig")})
			}
			x := shapedRun{Output: r.shapeRun(run), of: s}
			leftward := run.Direction == di.DirectionRTL
			switch {
			case leftward:
				x.level = 1
			case base == di.DirectionRTL:
				x.level = 2
			}
			out = append(out, x)
		}
		i = j
	}
	for level := 2; level > 0; level-- {
		for i := 0; i < len(out); i++ {
			j := i
			for j < len(out) && out[j].level >= level {
				j++
			}
			slices.Reverse(out[i:j])
			i = max(i, j)
		}
	}
	return out
}

// shapeRun shapes one run. A font that its own tables lead astray gives no glyphs: it is a stranger's program of sorts.
func (r *reader) shapeRun(in shaping.Input) (out shaping.Output) {
	defer func() {
		if recover() != nil {
			out = shaping.Output{Face: in.Face}
			r.shaper = shaping.HarfbuzzShaper{}
		}
	}()
	return r.shaper.Shape(in)
}

// glyphOf is a glyph's outline; none where the font's tables lead astray, or where it is a picture.
func glyphOf(f *font.Face, id font.GID) (out font.GlyphOutline) {
	defer func() {
		if recover() != nil {
			out = font.GlyphOutline{}
		}
	}()
	o, _ := f.GlyphData(id).(font.GlyphOutline)
	return o
}

// textPath reads what letters are to stand on; nil where there is nothing.
func (r *reader) textPath(n *node, ctx context) *textPath {
	t, ok := r.target(n, n.attr["href"])
	if !ok {
		r.say(finding.BadReference, finding.Warning, n, "use", clipped(n.attr["href"]))
		return nil
	}
	p, ok := r.shape(t, ctx)
	if !ok || len(p) == 0 {
		return nil
	}
	in := ctx
	r.specify(t, &in)
	p = p.moved(r.ownTransform(t, &in))
	left := MaxSegments
	lines, err := p.flat(ctx.font/500, 0.05, &left)
	if err != nil || len(lines) == 0 {
		return nil
	}
	out := &textPath{n: n, line: lines[0].pts, along: []float64{0}}
	if lines[0].closed {
		out.line = append(slices.Clone(out.line), out.line[0])
	}
	for i := 1; i < len(out.line); i++ {
		a, b := out.line[i-1], out.line[i]
		out.along = append(out.along, out.along[i-1]+math.Hypot(b[0]-a[0], b[1]-a[1]))
	}
	whole := out.along[len(out.along)-1]
	if whole <= 0 {
		return nil
	}
	out.start, _ = length(n.attr["startOffset"], whole, ctx.font)
	if v, ok := numbers(t.attr["pathLength"]); ok && len(v) == 1 && v[0] > 0 && !strings.HasSuffix(strings.TrimSpace(n.attr["startOffset"]), "%") {
		out.start *= whole / v[0]
	}
	return out
}

// at is the place and direction at a distance along; ok is false beyond its ends.
func (p *textPath) at(d float64) (at, dir pt, ok bool) {
	d += p.start
	if d < 0 || d > p.along[len(p.along)-1] {
		return at, dir, false
	}
	i, _ := slices.BinarySearch(p.along, d)
	i = max(1, min(i, len(p.line)-1))
	for i < len(p.line)-1 && p.along[i] == p.along[i-1] {
		i++
	}
	a, b := p.line[i-1], p.line[i]
	l := p.along[i] - p.along[i-1]
	if l <= 0 {
		return a, pt{1, 0}, true
	}
	dir = pt{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
	t := d - p.along[i-1]
	return pt{a[0] + t*dir[0], a[1] + t*dir[1]}, dir, true
}

// sayFaces says that a text is set in our own face.
func (r *reader) sayFaces(n *node, ctx context, all []letter, whole Path) {
	var text strings.Builder
	ours := ""
	for _, l := range all {
		text.WriteRune(l.r)
		if l.of.ours && ours == "" {
			ours = "?"
			if f := askedOf(l.of.ctx).families; len(f) > 0 {
				ours = f[0]
			}
		}
	}
	if ours == "" || ctx.inClip || ctx.picture > 0 {
		return
	}
	b := emptyBox()
	whole.extremes(ctx.m, &b)
	if b.hi[0] <= b.lo[0] {
		return
	}
	wording := ""
	if ours == "?" {
		wording = "unnamed"
	}
	r.art.Altered = append(r.art.Altered, Altered{
		Code: finding.TextSet, Case: wording, Source: n.src, Values: []any{clipped(text.String()), clipped(ours)},
		At: []geom.ArtworkPoint{{(b.lo[0] + b.hi[0]) / 2, (b.lo[1] + b.hi[1]) / 2}},
	})
}
