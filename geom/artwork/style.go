package artwork

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"github.com/andybalholm/cascadia"
	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"

	"sugarwright/geom/finding"
)

// property is one that is honoured, or whose use is a finding.
type property int

// Those before firstOwn go from parent to child by themselves.
const (
	fill property = iota
	fillRule
	fillOpacity
	strokePaint
	strokeWidth
	strokeLinecap
	strokeLinejoin
	strokeMiterlimit
	strokeDasharray
	strokeDashoffset
	strokeOpacity
	colour
	visibility
	clipRule
	fontSize
	markerStart
	markerMid
	markerEnd
	paintOrder
	colourInterpolation
	fontFamily
	fontWeight
	fontStyle
	fontStretch
	fontFeatures
	letterSpacing
	wordSpacing
	textAnchor
	direction
	dominantBaseline
	writingMode
	textTransform
	whiteSpace
	textDecoration // taken over as if it were inherited, since it is drawn on all that is inside

	opacity
	display
	clipPath
	mask
	maskType
	filter
	overflow
	stopColour
	stopOpacity
	blendMode
	isolation
	transform
	transformOrigin
	transformBox
	vectorEffect
	baselineShift
	alignmentBaseline
	unread   // any whose use is a finding
	geometry // any that stands for an attribute of shapes

	properties
	firstOwn = opacity
)

var propertyNames = [properties]string{
	"fill",
	"fill-rule",
	"fill-opacity",
	"stroke",
	"stroke-width",
	"stroke-linecap",
	"stroke-linejoin",
	"stroke-miterlimit",
	"stroke-dasharray",
	"stroke-dashoffset",
	"stroke-opacity",
	"color",
	"visibility",
	"clip-rule",
	"font-size",
	"marker-start",
	"marker-mid",
	"marker-end",
	"paint-order",
	"color-interpolation",
	"font-family",
	"font-weight",
	"font-style",
	"font-stretch",
	"font-feature-settings",
	"letter-spacing",
	"word-spacing",
	"text-anchor",
	"direction",
	"dominant-baseline",
	"writing-mode",
	"text-transform",
	"white-space",
	"text-decoration",
	"opacity",
	"display",
	"clip-path",
	"mask",
	"mask-type",
	"filter",
	"overflow",
	"stop-color",
	"stop-opacity",
	"mix-blend-mode",
	"isolation",
	"transform",
	"transform-origin",
	"transform-box",
	"vector-effect",
	"baseline-shift",
	"alignment-baseline",
	"",
	"",
}

var propertyOf = func() map[string]property {
	m := map[string]property{}
	for i, n := range propertyNames {
		if n != "" {
			m[n] = property(i)
		}
	}
	m["text-decoration-line"] = textDecoration
	for _, n := range []string{"translate", "rotate", "scale", "mask-image", "-webkit-mask", "-webkit-mask-image"} {
		m[n] = unread
	}
	// W3C, SVG 2: geometry properties
	for _, n := range []string{"x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "d"} {
		m[n] = geometry
	}
	return m
}()

// style is the specified value of every property; "" where none is given.
type style [properties]string

// declaration is one property with its weight in the cascade.
type declaration struct {
	property
	value     string
	important bool
	attribute bool   // from an attribute of that name, whose syntax is stricter
	name      string // of an unread one or of geometry
}

// rule is one selector with its declarations.
type rule struct {
	sel   cascadia.Sel
	order int
	steps string // what the selector walks over: ' ' for a combinator towards ancestors, '~' for one among siblings
	decls []declaration
}

// declare reads "name: value" into the declarations that it stands for.
func declare(out []declaration, p *css.Parser, name []byte) []declaration {
	var b strings.Builder
	for _, v := range p.Values() {
		if v.TokenType != css.CommentToken {
			b.Write(v.Data)
		}
	}
	value, important := strings.TrimSpace(b.String()), false
	if i := strings.LastIndex(value, "!"); i >= 0 && strings.EqualFold(strings.TrimSpace(value[i+1:]), "important") {
		value, important = strings.TrimSpace(value[:i]), true
	}
	word := strings.ToLower(string(name))
	if word == "marker" { // the only shorthand among them
		for _, m := range []property{markerStart, markerMid, markerEnd} {
			out = append(out, declaration{property: m, value: value, important: important})
		}
	}
	if word == "font" {
		return shorthand(out, value, important)
	}
	d := declaration{value: value, important: important}
	k, ok := propertyOf[word]
	if !ok {
		return out
	}
	if d.property = k; k == geometry || k == unread {
		d.name = word
	}
	if k == unread {
		d.value = word + ": " + value
	}
	for i, o := range out { // the last one counts
		if o.property == k && o.name == d.name && o.important == important {
			out = append(out[:i], out[i+1:]...)
			break
		}
	}
	return append(out, d)
}

// sheetReader gathers the rules of style elements.
type sheetReader struct {
	rules []rule
	faces []faceRule
	found *finding.List
}

func (s *sheetReader) warn(src finding.Source, wording string, values ...any) {
	s.found.Add(finding.New(finding.BadValue, finding.Warning, values...).In(wording).From(src))
}

// read takes the text of one style element.
func (s *sheetReader) read(text string, src finding.Source) {
	p := css.NewParser(parse.NewInput(bytes.NewBufferString(text)), false)
	var sels []cascadia.Sel
	var decls []declaration
	var skipped []bool // by open at-rule
	var face *faceRule // that is being read
	for len(s.rules) <= MaxNodes {
		gt, _, data := p.Next()
		switch gt {
		case css.ErrorGrammar:
			if p.HasParseError() {
				s.warn(src, "style_part")
				continue
			}
			return
		case css.AtRuleGrammar:
			if strings.EqualFold(string(data), "@import") {
				s.warn(src, "style_outside")
			}
		case css.BeginAtRuleGrammar:
			if strings.EqualFold(string(data), "@font-face") && !slices.Contains(skipped, true) {
				s.faces = append(s.faces, faceRule{src: src})
				face = &s.faces[len(s.faces)-1]
			}
			skipped = append(skipped, !forScreen(string(data), p.Values()))
		case css.EndAtRuleGrammar:
			face = nil
			skipped = skipped[:max(0, len(skipped)-1)]
		case css.QualifiedRuleGrammar, css.BeginRulesetGrammar:
			if !slices.Contains(skipped, true) {
				sels = append(sels, s.selector(p, src)...)
			}
		case css.DeclarationGrammar:
			if face != nil {
				face.set(string(data), p.Values())
				continue
			}
			decls = declare(decls, p, data)
		case css.EndRulesetGrammar:
			if !slices.Contains(skipped, true) {
				for _, sel := range sels {
					s.rules = append(s.rules, rule{sel, len(s.rules), steps(sel.String()), decls})
				}
			}
			sels, decls = nil, nil
		}
	}
}

// forScreen tells whether the rules inside an at-rule hold for a picture on a screen.
func forScreen(name string, query []css.Token) bool {
	var b strings.Builder
	for _, v := range query {
		b.Write(v.Data)
	}
	switch strings.ToLower(name) {
	case "@media":
		return onScreen(b.String())
	case "@supports", "@layer":
		return true
	}
	return false
}

// onScreen reads a list of media queries: a light screen, larger than any least width that is asked for.
func onScreen(queries string) bool {
	if strings.TrimSpace(queries) == "" {
		return true
	}
	for _, q := range strings.Split(strings.ToLower(queries), ",") {
		q = strings.TrimPrefix(strings.TrimSpace(q), "only ")
		q, not := strings.CutPrefix(q, "not ")
		holds := !strings.Contains(q, "print") && !strings.Contains(q, "speech") && !strings.Contains(q, "max-") &&
			!strings.Contains(q, "dark")
		if holds != not {
			return true
		}
	}
	return false
}

func (s *sheetReader) selector(p *css.Parser, src finding.Source) []cascadia.Sel {
	var b strings.Builder
	for _, v := range p.Values() {
		b.Write(v.Data)
	}
	group, err := cascadia.ParseGroup(b.String())
	if err != nil {
		text := b.String()
		if strings.Contains(text, ":is(") || strings.Contains(text, ":where(") || strings.Contains(text, "|") {
			s.found.Add(finding.New(finding.Unsupported, finding.Error, clipped(text)).In("selector").From(src))
		} else {
			s.warn(src, "selector", clipped(text))
		}
	}
	return group
}

// steps is a selector's combinators and the tests that walk over siblings or children.
func steps(sel string) string {
	var out []byte
	depth := 0
	for i := 0; i < len(sel); i++ {
		switch c := sel[i]; {
		case c == '[':
			depth++
		case c == ']':
			depth--
		case c == ':' || c == '~' || c == '+':
			out = append(out, '~')
		case depth == 0 && (c == ' ' || c == '>') && (i == 0 || sel[i-1] != ' ' && sel[i-1] != '>' && sel[i-1] != '~' && sel[i-1] != '+'):
			out = append(out, ' ')
		}
	}
	return string(out)
}

// clipped shortens text for a message.
func clipped(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}

func inline(text string) []declaration {
	var out []declaration
	p := css.NewParser(parse.NewInput(bytes.NewBufferString(text)), true)
	for range MaxNodes {
		gt, _, data := p.Next()
		if gt == css.ErrorGrammar && !p.HasParseError() {
			break
		}
		if gt == css.DeclarationGrammar {
			out = declare(out, p, data)
		}
	}
	return out
}

// cascade gives every node its own declared values: presentation attributes, then rules by specificity and order, then
// the style attribute, then what is marked important. It also gives the fonts that the file holds. ok is false when the rules are more work than MaxStyleWork.
func cascade(root *node, found *finding.List) (faces []faceRule, ok bool) {
	s := &sheetReader{found: found}
	nodes, deepest, widest, wordiest, longest := 0, 0, 0, 0, 0
	var collect func(n *node)
	collect = func(n *node) {
		nodes, deepest, widest = nodes+1, max(deepest, n.depth), max(widest, len(n.children))
		wordiest = max(wordiest, len(n.attr["class"]), len(n.attr["id"]))
		for _, v := range n.attr {
			longest = max(longest, len(v))
		}
		if n.tag == "style" {
			if t := n.attr["type"]; (t == "" || strings.EqualFold(t, "text/css")) && onScreen(n.attr["media"]) {
				s.read(n.text.String(), n.src)
			}
		}
		for _, c := range n.children {
			collect(c)
		}
	}
	collect(root)
	work := 0.0
	for _, r := range s.rules {
		w := float64(nodes) * (1 + float64(wordiest)/10) // classes are read letter by letter
		if strings.Contains(r.sel.String(), "*=") {
			w *= 1 + float64(longest)/10
		}
		if strings.Contains(r.sel.String(), ":has") {
			w *= float64(nodes)
		}
		for _, step := range r.steps {
			if step == ' ' {
				w *= float64(deepest)
			} else {
				w *= float64(1 + widest)
			}
		}
		work += w
	}
	if work > MaxStyleWork || len(s.rules) > MaxNodes {
		return nil, false
	}
	slices.SortStableFunc(s.rules, func(a, b rule) int {
		if x, y := a.sel.Specificity(), b.sel.Specificity(); x != y {
			if x.Less(y) {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.order, b.order)
	})
	var apply func(n *node)
	apply = func(n *node) {
		n.style = own(n, s.rules)
		for _, c := range n.children {
			apply(c)
		}
	}
	apply(root)
	return s.faces, true
}

// own lists a node's declarations, weakest first.
func own(n *node, rules []rule) []declaration {
	var out, late []declaration
	for i, name := range propertyNames[:unread] {
		if v, ok := n.attr[name]; ok {
			out = append(out, declaration{property: property(i), value: strings.TrimSpace(v), attribute: true})
		}
	}
	set := func(decls []declaration) {
		for _, d := range decls {
			if d.important {
				late = append(late, d)
			} else {
				out = append(out, d)
			}
		}
	}
	for _, r := range rules {
		if r.sel.Match(n.mirror) {
			set(r.decls)
		}
	}
	if v, ok := n.attr["style"]; ok {
		set(inline(v))
	}
	out = append(out, late...)
	for _, d := range out {
		if d.property == geometry {
			v := d.value
			if t, ok := strings.CutPrefix(v, "path("); ok && d.name == "d" {
				v = strings.Trim(strings.TrimSuffix(t, ")"), `"' `)
			}
			n.attr[d.name] = v
		}
	}
	return out
}
