// Package svg writes pages as an SVG file, one below the other, in millimetres.
//
// Guarantees: texts are outlines of the embedded face, so that every reader shows the same picture; each line of text is named for those that read aloud;
// fixed decimals, same pages same bytes (P9).
package svg

import (
	"bytes"
	"fmt"
	"sort"
	"strconv"
	"strings"

	svgo "github.com/ajstarks/svgo/float"

	"sugarwright/render/page"
)

// Write draws the pages.
func Write(pages []*page.Page) []byte {
	var b bytes.Buffer
	w, h := 0.0, 0.0
	for _, p := range pages {
		w, h = max(w, p.W), h+p.H
	}
	s := svgo.New(&b)
	s.Decimals = 3
	s.StartviewUnit(w, h, "mm", 0, 0, w, h)
	if len(pages) > 0 {
		s.Title(pages[0].Title)
	}
	s.Rect(0, 0, w, h, `fill="#ffffff"`)
	b.WriteString(Glyphs(pages))
	y := 0.0
	for _, p := range pages {
		s.Gtransform(fmt.Sprintf("translate(0,%s)", num(y)))
		b.WriteString(Items(p))
		s.Gend()
		y += p.H
	}
	s.End()
	return b.Bytes()
}

// Inline is one page as an SVG element to stand in a web page, without glyphs: those of all pages stand there once.
func Inline(p *page.Page) string {
	return fmt.Sprintf(`<svg viewBox="0 0 %s %s" role="img" aria-label="%s">%s</svg>`, num(p.W), num(p.H), escape(p.Title), Items(p))
}

// Glyphs are the definitions of all glyphs that pages use.
func Glyphs(pages []*page.Page) string {
	used := map[string]string{}
	for _, p := range pages {
		for _, it := range p.Items {
			if it.Text == nil {
				continue
			}
			for _, g := range page.Set(*it.Text).Glyphs {
				name := glyphName(g)
				if _, ok := used[name]; !ok {
					used[name] = outline(page.Outline(g.Face, g.ID))
				}
			}
		}
	}
	names := make([]string, 0, len(used))
	for n := range used {
		names = append(names, n)
	}
	sort.Strings(names)
	var b strings.Builder
	b.WriteString("<defs>\n")
	for _, n := range names {
		fmt.Fprintf(&b, "<path id=\"%s\" d=\"%s\"/>\n", n, used[n])
	}
	b.WriteString("</defs>\n")
	return b.String()
}

func glyphName(g page.Glyph) string { return fmt.Sprintf("g%d-%d", g.Face, g.ID) }

// outline of a glyph in font units, y down.
func outline(curves []page.Curve) string {
	var b strings.Builder
	unit := func(v float64) string { return strconv.Itoa(int(v)) }
	for i, c := range curves {
		switch {
		case c.Move:
			if i > 0 {
				b.WriteString("Z")
			}
			b.WriteString("M")
		case len(c.P) == 1:
			b.WriteString("L")
		default:
			b.WriteString("Q")
		}
		for k, p := range c.P {
			if k > 0 {
				b.WriteString(" ")
			}
			b.WriteString(unit(p[0]) + " " + unit(-p[1]))
		}
	}
	if len(curves) > 0 {
		b.WriteString("Z")
	}
	return b.String()
}

// Items of a page.
func Items(p *page.Page) string {
	var b strings.Builder
	for _, it := range p.Items {
		if it.Path != nil {
			path(&b, it.Path)
		} else {
			text(&b, it.Text)
		}
	}
	return b.String()
}

// num has at most three decimals, no trailing zeros, no -0.
func num(v float64) string {
	t := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 3, 64), "0"), ".")
	if t == "-0" || t == "" {
		return "0"
	}
	return t
}

func path(b *strings.Builder, p *page.Path) {
	b.WriteString(`<path d="`)
	for _, r := range p.Rings {
		for i, q := range r {
			if i == 0 {
				b.WriteString("M")
			} else {
				b.WriteString("L")
			}
			b.WriteString(num(q[0]) + " " + num(q[1]))
		}
		if !p.Open {
			b.WriteString("Z")
		}
	}
	fill := p.Fill
	if fill == "" {
		fill = "none"
	}
	b.WriteString(`" fill="` + fill + `"`)
	if p.Stroke != "" {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, p.Stroke, num(p.Width))
	}
	if p.Dashed {
		fmt.Fprintf(b, ` stroke-dasharray="%s %s"`, num(page.Dash[0]), num(page.Dash[1]))
	}
	b.WriteString("/>\n")
}

func text(b *strings.Builder, t *page.Text) {
	k := strconv.FormatFloat(t.Scale(), 'g', 6, 64)
	fmt.Fprintf(b, `<g role="img" aria-label="%s" fill="%s" transform="translate(%s %s) scale(%s)">`, escape(t.Text), t.Fill, num(t.Start()), num(t.At[1]), k)
	for _, g := range page.Set(*t).Glyphs {
		if len(page.Outline(g.Face, g.ID)) == 0 {
			continue
		}
		b.WriteString(`<use xlink:href="#` + glyphName(g) + `" x="` + num(g.X) + `"`)
		if g.Y != 0 {
			b.WriteString(` y="` + num(-g.Y) + `"`)
		}
		b.WriteString("/>")
	}
	b.WriteString("</g>\n")
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

func escape(s string) string { return escaper.Replace(s) }
