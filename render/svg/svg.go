// Package svg writes pages as an SVG file, one below the other, in millimetres.
//
// Guarantees: texts are outlines of the embedded face, so that every reader shows the same picture; each line of text
// is named for those that read aloud; fixed decimals, same pages same bytes (P9). Glyphs, and lines that stand more
// than once, are defined once.
package svg

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"maps"
	"math"
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
	again, defs := repeated(pages)
	b.WriteString(defs)
	y := 0.0
	for _, p := range pages {
		s.Group(fmt.Sprintf(`transform="translate(0,%s)" stroke-linejoin="round"`, num(y)))
		b.WriteString(items(p, again))
		s.Gend()
		y += p.H
	}
	s.End()
	return b.Bytes()
}

// Inline is one page as an SVG element to stand in a web page, without glyphs: those of all pages stand there once.
func Inline(p *page.Page) string {
	return fmt.Sprintf(`<svg viewBox="0 0 %s %s" role="img" stroke-linejoin="round" aria-label="%s">%s</svg>`, num(p.W),
		num(p.H), escape(p.Title), Items(p))
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

// glyphName is the id of a glyph: a letter for the face and its number there, to the base of 36.
func glyphName(g page.Glyph) string {
	return string(rune('a'+g.Face)) + strconv.FormatInt(int64(g.ID), 36)
}

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
func Items(p *page.Page) string { return items(p, nil) }

// items of a page, with the words that are defined elsewhere.
func items(p *page.Page, defined shared) string {
	var b strings.Builder
	for _, it := range p.Items {
		switch {
		case it.Path != nil:
			path(&b, it.Path)
		case it.Picture != nil:
			x := it.Picture
			fmt.Fprintf(&b, "<image x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" preserveAspectRatio=\"none\" href=\"data:image/png;base64,%s\"/>\n",
				num(x.At[0]), num(x.At[1]), num(x.At[2]-x.At[0]), num(x.At[3]-x.At[1]), base64.StdEncoding.EncodeToString(x.PNG))
		default:
			text(&b, it.Text, defined)
		}
	}
	return b.String()
}

// word is the glyphs between two gaps of a line, and where it starts.
type word struct {
	glyphs []page.Glyph
	x      float64
}

// wordsOf a line. Glyphs without an outline are the gaps.
func wordsOf(t *page.Text) []word {
	var out []word
	open := false
	for _, g := range page.Set(*t).Glyphs {
		if len(page.Outline(g.Face, g.ID)) == 0 {
			open = false
			continue
		}
		if !open {
			out, open = append(out, word{x: g.X}), true
		}
		w := &out[len(out)-1]
		w.glyphs = append(w.glyphs, g)
	}
	return out
}

// draw the word, from its own start.
func (w word) draw(b *strings.Builder, from float64) {
	for _, g := range w.glyphs {
		use(b, glyphName(g), g.X-from, g.Y)
	}
}

// use draws what is defined elsewhere, so far to the right and up, in font units.
func use(b *strings.Builder, id string, x, y float64) {
	b.WriteString(`<use href="#` + id)
	if v := int(math.Round(x)); v != 0 {
		b.WriteString(`" x="` + strconv.Itoa(v))
	}
	if y != 0 {
		b.WriteString(`" y="` + num(-y))
	}
	b.WriteString(`"/>`)
}

// shared are the words and lines that stand more than once, by how they are drawn: the id of each one's definition.
type shared map[string]string

// word draws a word, so far to the right.
func (d shared) word(b *strings.Builder, w word) {
	if len(w.glyphs) >= leastWord {
		var own strings.Builder
		w.draw(&own, w.x)
		if id := d[own.String()]; id != "" {
			use(b, id, w.x, 0)
			return
		}
	}
	w.draw(b, 0)
}

// line draws a line of words.
func (d shared) line(b *strings.Builder, t *page.Text) {
	var own strings.Builder
	for _, w := range wordsOf(t) {
		d.word(&own, w)
	}
	if id := d[own.String()]; id != "" {
		use(b, id, 0, 0)
		return
	}
	b.WriteString(own.String())
}

// leastWord is the number of glyphs from which a word that stands more than once is defined apart.
const leastWord = 3

// repeated finds the words, and then the lines of several words, that stand more than once, and writes their
// definitions.
func repeated(pages []*page.Page) (shared, string) {
	out := shared{}
	var defs strings.Builder
	find := func(draw func(*page.Text) []string, prefix string) {
		count := map[string]int{}
		known := shared{}
		for _, p := range pages {
			for _, it := range p.Items {
				if it.Text == nil {
					continue
				}
				for _, drawn := range draw(it.Text) {
					if count[drawn]++; count[drawn] == 2 {
						id := prefix + strconv.FormatInt(int64(len(known)), 36)
						known[drawn] = id
						defs.WriteString(`<g id="` + id + `">` + drawn + "</g>\n")
					}
				}
			}
		}
		maps.Copy(out, known)
	}
	find(func(t *page.Text) (drawn []string) {
		for _, w := range wordsOf(t) {
			if len(w.glyphs) >= leastWord {
				var b strings.Builder
				w.draw(&b, w.x)
				drawn = append(drawn, b.String())
			}
		}
		return drawn
	}, "w")
	find(func(t *page.Text) []string {
		ws := wordsOf(t)
		if len(ws) < 2 {
			return nil
		}
		var b strings.Builder
		for _, w := range ws {
			out.word(&b, w)
		}
		return []string{b.String()}
	}, "l")
	if len(out) == 0 {
		return out, ""
	}
	return out, "<defs>\n" + defs.String() + "</defs>\n"
}

// num has at most two decimals, a hundredth of a millimetre, no trailing zeros, no -0.
func num(v float64) string {
	t := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
	if t == "-0" || t == "" {
		return "0"
	}
	return t
}

// hundredths of a millimetre: paths are written as steps between rounded points, so that no rounding adds up.
func hundredths(v float64) int { return int(math.Round(100 * v)) }

func path(b *strings.Builder, p *page.Path) {
	b.WriteString(`<path d="`)
	for _, r := range p.Rings {
		var x, y int // where the pen is, hundredths
		for i, q := range r {
			u, v := hundredths(q[0]), hundredths(q[1])
			switch i {
			case 0:
				b.WriteString("M")
			case 1:
				b.WriteString("l")
			default:
				b.WriteString(" ")
			}
			b.WriteString(num(float64(u-x)/100) + " " + num(float64(v-y)/100))
			x, y = u, v
		}
		if !p.Open {
			b.WriteString("Z")
		}
	}
	fill := p.Fill
	if fill == "" {
		fill = "none"
	}
	b.WriteString(`" fill="` + short(fill) + `"`)
	if p.Stroke != "" {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%s"`, short(p.Stroke), num(p.Width))
	}
	if p.Dashed {
		fmt.Fprintf(b, ` stroke-dasharray="%s %s"`, num(page.Dash[0]), num(page.Dash[1]))
	}
	b.WriteString("/>\n")
}

func text(b *strings.Builder, t *page.Text, defined shared) {
	k := strconv.FormatFloat(t.Scale(), 'g', 5, 64)
	place := fmt.Sprintf("translate(%s %s) scale(%s)", num(t.Start()), num(t.At[1]), k)
	fmt.Fprintf(b, `<g role="img" aria-label="%s"`, escape(t.Text))
	if t.Fill != "#000000" { // what SVG fills with where nothing is said
		b.WriteString(` fill="` + short(t.Fill) + `"`)
	}
	b.WriteString(` transform="` + place + `">`)
	defined.line(b, t)
	b.WriteString("</g>\n")
}

// short is a colour in the fewest digits: #ffcc00 is #fc0.
func short(colour string) string {
	if len(colour) == 7 && colour[1] == colour[2] && colour[3] == colour[4] && colour[5] == colour[6] {
		return "#" + colour[1:2] + colour[3:4] + colour[5:6]
	}
	return colour
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

func escape(s string) string { return escaper.Replace(s) }
