package artwork

import (
	"math"
	"strings"
	"unicode"

	"github.com/go-text/typesetting/font"

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
	n     *node
	ctx   context
	face  *font.Face
	ours  bool // set in our own face
	light bool // bold is asked for, and the file has none
	path  *textPath
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
			if s.face, s.light = r.fonts.match(askedOf(s.ctx)); s.face == nil {
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

// sayFaces says that a text is set in our own face.
func (r *reader) sayFaces(n *node, ctx context, all []letter, whole Path) {
	var text strings.Builder
	ours, wording := "", ""
	for _, l := range all {
		text.WriteRune(l.r)
		if f := askedOf(l.of.ctx).families; l.of.light && wording == "" && len(f) > 0 {
			ours, wording = f[0], "lighter"
		}
		if l.of.ours && (ours == "" || wording == "lighter") {
			wording = ""
			ours = "?"
			if f := askedOf(l.of.ctx).families; len(f) > 0 {
				ours = f[0]
			}
		}
	}
	if ours == "" {
		return
	}
	b := emptyBox()
	whole.extremes(ctx.m, &b)
	if b.hi[0] <= b.lo[0] {
		return
	}
	if ours == "?" {
		wording = "unnamed"
	}
	r.art.Altered = append(r.art.Altered, Altered{
		Code: finding.TextSet, Case: wording, Source: n.src, Values: []any{clipped(text.String()), clipped(ours)},
		At: []geom.ArtworkPoint{{(b.lo[0] + b.hi[0]) / 2, (b.lo[1] + b.hi[1]) / 2}},
	})
}
