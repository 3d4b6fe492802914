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

	properties
	firstOwn = opacity
)

var propertyNames = [properties]string{"fill", "fill-rule", "fill-opacity", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin",
	"stroke-miterlimit", "stroke-dasharray", "stroke-dashoffset", "stroke-opacity", "color", "visibility", "clip-rule", "font-size",
	"marker-start", "marker-mid", "marker-end", "paint-order", "color-interpolation",
	"opacity", "display", "clip-path", "mask", "mask-type", "filter", "overflow", "stop-color", "stop-opacity", "mix-blend-mode",
	"isolation", "transform", "transform-origin", "transform-box", "vector-effect"}

var propertyOf = func() map[string]property {
	m := map[string]property{}
	for i, n := range propertyNames {
		m[n] = property(i)
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
	attribute bool // from an attribute of that name, whose syntax is stricter
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
			out = append(out, declaration{m, value, important, false})
		}
	}
	if k, ok := propertyOf[word]; ok {
		out = append(out, declaration{k, value, important, false})
	}
	return out
}

// sheetReader gathers the rules of style elements.
type sheetReader struct {
	rules []rule
	found *finding.List
}

func (s *sheetReader) warn(src finding.Source, message string) {
	s.found.Add(finding.Finding{Code: finding.BadValue, Severity: finding.Warning, Source: src, Message: message})
}

// read takes the text of one style element.
func (s *sheetReader) read(text string, src finding.Source) {
	p := css.NewParser(parse.NewInput(bytes.NewBufferString(text)), false)
	var sels []cascadia.Sel
	var decls []declaration
	var skipped []bool // by open at-rule
	for len(s.rules) <= MaxNodes {
		gt, _, data := p.Next()
		switch gt {
		case css.ErrorGrammar:
			if p.HasParseError() {
				s.warn(src, "a part of the style sheet is not understood and is left out")
				continue
			}
			return
		case css.AtRuleGrammar:
			if strings.EqualFold(string(data), "@import") {
				s.warn(src, "a style sheet outside the file is not opened; put its rules into the file")
			}
		case css.BeginAtRuleGrammar:
			skipped = append(skipped, !forScreen(string(data), p.Values()))
		case css.EndAtRuleGrammar:
			skipped = skipped[:max(0, len(skipped)-1)]
		case css.QualifiedRuleGrammar, css.BeginRulesetGrammar:
			sels = append(sels, s.selector(p, src)...)
		case css.DeclarationGrammar:
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
	q := strings.ToLower(b.String())
	return strings.EqualFold(name, "@media") && !strings.ContainsAny(q, "(") && (strings.Contains(q, "screen") || strings.Contains(q, "all")) && !strings.Contains(q, "not ")
}

func (s *sheetReader) selector(p *css.Parser, src finding.Source) []cascadia.Sel {
	var b strings.Builder
	for _, v := range p.Values() {
		b.Write(v.Data)
	}
	group, err := cascadia.ParseGroup(b.String())
	if err != nil {
		s.warn(src, "selector "+clipped(b.String())+" is not understood and its rule is left out")
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

// cascade gives every node its own declared values: presentation attributes, then rules by specificity and order, then the style
// attribute, then what is marked important. It gives false when the rules are more work than MaxStyleWork.
func cascade(root *node, found *finding.List) bool {
	s := &sheetReader{found: found}
	nodes, deepest, widest := 0, 0, 0
	var collect func(n *node)
	collect = func(n *node) {
		nodes, deepest, widest = nodes+1, max(deepest, n.depth), max(widest, len(n.children))
		if n.tag == "style" {
			if t := n.attr["type"]; t == "" || strings.EqualFold(t, "text/css") {
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
		w := float64(nodes)
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
		return false
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
	return true
}

// own lists a node's declarations, weakest first.
func own(n *node, rules []rule) []declaration {
	var out, late []declaration
	for i, name := range propertyNames {
		if v, ok := n.attr[name]; ok {
			out = append(out, declaration{property(i), strings.TrimSpace(v), false, true})
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
	return append(out, late...)
}
