// Package svg writes pages as an SVG file, one below the other, in millimetres.
//
// Guarantees: fixed decimals, same pages same bytes (P9).
package svg

import (
	"bytes"
	"fmt"
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
	y := 0.0
	for i, p := range pages {
		s.Gtransform(fmt.Sprintf("translate(0,%s)", num(y)))
		hatches(s, p, i)
		for _, it := range p.Items {
			if it.Path != nil {
				path(s, it.Path, i)
			} else {
				text(s, it.Text)
			}
		}
		s.Gend()
		y += p.H
	}
	s.End()
	return b.Bytes()
}

func hatches(s *svgo.SVG, p *page.Page, n int) {
	if len(p.Hatches) == 0 {
		return
	}
	s.Def()
	for _, h := range p.Hatches {
		fmt.Fprintf(s.Writer, `<pattern id="p%d-%s" width="%s" height="%s" patternUnits="userSpaceOnUse" patternTransform="rotate(%s)"><path d="M0 0V%s" stroke="%s" stroke-width="0.3" fill="none"/>`,
			n, h.ID, num(h.Spacing), num(h.Spacing), num(h.Angle), num(h.Spacing), h.Colour)
		if h.Cross {
			fmt.Fprintf(s.Writer, `<path d="M0 0H%s" stroke="%s" stroke-width="0.3" fill="none"/>`, num(h.Spacing), h.Colour)
		}
		fmt.Fprintln(s.Writer, `</pattern>`)
	}
	s.DefEnd()
}

// num has at most three decimals, no trailing zeros, no -0.
func num(v float64) string {
	t := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", v), "0"), ".")
	if t == "-0" || t == "" {
		return "0"
	}
	return t
}

func path(s *svgo.SVG, p *page.Path, n int) {
	var d strings.Builder
	for _, r := range p.Rings {
		for i, q := range r {
			if i == 0 {
				d.WriteString("M")
			} else {
				d.WriteString("L")
			}
			d.WriteString(num(q[0]) + " " + num(q[1]))
		}
		if !p.Open {
			d.WriteString("Z")
		}
	}
	fill := p.Fill
	if fill == "" {
		fill = "none"
	}
	if strings.HasPrefix(fill, "hatch:") {
		fill = fmt.Sprintf("url(#p%d-%s)", n, strings.TrimPrefix(fill, "hatch:"))
	}
	attr := []string{`fill="` + fill + `"`, `fill-rule="evenodd"`}
	if p.Stroke != "" {
		attr = append(attr, fmt.Sprintf(`stroke="%s" stroke-width="%s" stroke-linejoin="round"`, p.Stroke, num(p.Width)))
	}
	if p.Dashed {
		attr = append(attr, `stroke-dasharray="2 1.5"`)
	}
	s.Path(d.String(), attr...)
}

func text(s *svgo.SVG, t *page.Text) {
	weight := ""
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	// The width is set from the embedded face's metrics, so that whatever face is at hand fills the same box.
	s.Text(t.At[0], t.At[1], t.Text, fmt.Sprintf(`textLength="%s" lengthAdjust="spacingAndGlyphs" font-family="Go, Arial, Helvetica, sans-serif" font-size="%s" text-anchor="%s" fill="%s"%s`,
		num(page.Natural(*t)), num(t.Size/page.CapHeight), t.Anchor, t.Fill, weight))
}
