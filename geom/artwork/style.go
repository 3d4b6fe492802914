package artwork

import (
	"bytes"
	"sort"
	"strings"

	"github.com/andybalholm/cascadia"
	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"

	"sugarwright/geom/finding"
)

// properties that are honoured; the value tells whether a child takes it from its parent.
var properties = map[string]bool{
	"fill": true, "fill-rule": true, "fill-opacity": true, "stroke": true, "stroke-width": true, "stroke-linecap": true,
	"stroke-linejoin": true, "stroke-miterlimit": true, "stroke-dasharray": true, "stroke-dashoffset": true, "stroke-opacity": true,
	"color": true, "visibility": true, "clip-rule": true, "font-size": true, "marker-start": true, "marker-mid": true, "marker-end": true,
	"opacity": false, "display": false, "clip-path": false, "mask": false, "filter": false, "overflow": false, "stop-color": false,
	"stop-opacity": false, "mix-blend-mode": false, "transform": false, "paint-order": true, "vector-effect": false,
}

// declaration is one property with its weight in the cascade.
type declaration struct {
	name, value string
	important   bool
}

// rule is one selector with its declarations.
type rule struct {
	sel   cascadia.Sel
	order int
	decls []declaration
}

func declarations(p *css.Parser, name []byte) declaration {
	d := declaration{name: strings.ToLower(string(name))}
	var b strings.Builder
	for _, v := range p.Values() {
		b.Write(v.Data)
	}
	d.value = strings.TrimSpace(b.String())
	if i := strings.LastIndex(d.value, "!"); i >= 0 && strings.EqualFold(strings.TrimSpace(d.value[i+1:]), "important") {
		d.value, d.important = strings.TrimSpace(d.value[:i]), true
	}
	return d
}

// parseSheet reads the text of a style element.
func parseSheet(text string, order *int, src finding.Source, found *finding.List) []rule {
	var out []rule
	p := css.NewParser(parse.NewInput(bytes.NewBufferString(text)), false)
	var sels []cascadia.Sel
	var decls []declaration
	skip := 0
	selector := func() {
		var b strings.Builder
		for _, v := range p.Values() {
			b.Write(v.Data)
		}
		group, err := cascadia.ParseGroup(b.String())
		if err != nil {
			found.Add(finding.Finding{Code: finding.BadValue, Severity: finding.Warning, Source: src,
				Message: "selector " + b.String() + " is not understood and its rule is left out"})
			return
		}
		sels = append(sels, group...)
	}
	for n := 0; n < MaxNodes; n++ {
		gt, _, data := p.Next()
		switch gt {
		case css.ErrorGrammar:
			if p.HasParseError() {
				continue
			}
			return out
		case css.BeginAtRuleGrammar:
			skip++
		case css.EndAtRuleGrammar:
			skip--
		case css.QualifiedRuleGrammar, css.BeginRulesetGrammar:
			selector()
		case css.DeclarationGrammar:
			decls = append(decls, declarations(p, data))
		case css.EndRulesetGrammar:
			if skip == 0 {
				for _, s := range sels {
					*order++
					out = append(out, rule{s, *order, decls})
				}
			}
			sels, decls = nil, nil
		}
	}
	return out
}

// parseInline reads a style attribute.
func parseInline(text string) []declaration {
	var out []declaration
	p := css.NewParser(parse.NewInput(bytes.NewBufferString(text)), true)
	for n := 0; n < 10_000; n++ {
		gt, _, data := p.Next()
		if gt == css.ErrorGrammar && !p.HasParseError() {
			break
		}
		if gt == css.DeclarationGrammar {
			out = append(out, declarations(p, data))
		}
	}
	return out
}

// cascade gives every node its own declared values: presentation attributes, then rules by specificity and order, then the style
// attribute, then what is marked important.
func cascade(root *node, found *finding.List) {
	var rules []rule
	order := 0
	var collect func(n *node)
	collect = func(n *node) {
		if n.tag == "style" {
			if t := n.attr["type"]; t == "" || strings.EqualFold(t, "text/css") {
				rules = append(rules, parseSheet(n.text, &order, n.src, found)...)
			}
		}
		for _, c := range n.children {
			collect(c)
		}
	}
	collect(root)
	sort.SliceStable(rules, func(i, j int) bool {
		if a, b := rules[i].sel.Specificity(), rules[j].sel.Specificity(); a != b {
			return a.Less(b)
		}
		return rules[i].order < rules[j].order
	})
	var apply func(n *node)
	apply = func(n *node) {
		n.style = map[string]string{}
		for name := range properties {
			if v, ok := n.attr[name]; ok && name != "transform" {
				n.style[name] = strings.TrimSpace(v)
			}
		}
		var late []declaration
		set := func(decls []declaration) {
			for _, d := range decls {
				if _, known := properties[d.name]; !known {
					continue
				}
				if d.important {
					late = append(late, d)
				} else {
					n.style[d.name] = d.value
				}
			}
		}
		for _, r := range rules {
			if r.sel.Match(n.mirror) {
				set(r.decls)
			}
		}
		set(parseInline(n.attr["style"]))
		for _, d := range late {
			n.style[d.name] = d.value
		}
		for _, c := range n.children {
			apply(c)
		}
	}
	apply(root)
}
