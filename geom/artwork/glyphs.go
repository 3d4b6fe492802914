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
)

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
	glyphs = append(glyphs, decorated(out)...)
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

// decorated are the lines under, over and through letters that stand on straight baselines: one for each stretch of one element.
func decorated(all []set) (out []glyph) {
	for i := 0; i < len(all); {
		s, j := all[i].of, i+1
		for j < len(all) && all[j].of == s && all[j].at[1] == all[i].at[1] {
			j++
		}
		a, b := all[i], all[j-1]
		i = j
		how := s.ctx.style[textDecoration]
		if how == "" || how == "none" || s.path != nil || a.turn != 0 {
			continue
		}
		line := func(word string, y, thick font.LineMetric) {
			if !strings.Contains(how, word) {
				return
			}
			t := math.Max(float64(s.face.LineMetric(thick))*a.scale, s.ctx.font/30)
			at := a.at[1] - float64(s.face.LineMetric(y))*a.scale
			if word == "overline" {
				e, _ := s.face.FontHExtents()
				at = a.at[1] - 0.8*float64(e.Ascender)*a.scale
			}
			out = append(out, glyph{s, rectPath(a.at[0], at-t/2, b.at[0]+b.advance-a.at[0], t, 0, 0)})
		}
		line("underline", font.UnderlinePosition, font.UnderlineThickness)
		line("overline", font.UnderlinePosition, font.UnderlineThickness)
		line("line-through", font.StrikethroughPosition, font.StrikethroughThickness)
	}
	return out
}
