package artwork

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strings"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/tdewolff/parse/v2/css"

	"sugarwright/geom/face"
	"sugarwright/geom/finding"
)

// Bounds of fonts in a file.
const (
	mostFaces  = 16
	mostFont   = 4 << 20  // bytes
	mostTables = 16 << 20 // bytes of a font's tables together, unpacked
)

// faceRule is one @font-face of a style sheet.
type faceRule struct {
	family  string
	weight  [2]float64 // from, to
	italic  bool
	stretch float64 // per cent
	data    [][]byte
	outside bool
	src     finding.Source
}

// set takes one of its declarations.
func (f *faceRule) set(name string, values []css.Token) {
	var b strings.Builder
	for _, v := range values {
		b.Write(v.Data)
	}
	v := strings.TrimSpace(b.String())
	switch strings.ToLower(name) {
	case "font-family":
		f.family = unquoted(v)
	case "font-weight":
		words := strings.Fields(v)
		for i, w := range words[:min(2, len(words))] {
			x, _ := weightOf(w, 400)
			f.weight[i] = x
			if i == 0 {
				f.weight[1] = x
			}
		}
	case "font-style":
		f.italic = strings.HasPrefix(v, "italic") || strings.HasPrefix(v, "oblique")
	case "font-stretch":
		f.stretch = stretchOf(v)
	case "src":
		for _, t := range values {
			if t.TokenType != css.URLToken {
				continue
			}
			u := strings.TrimSpace(strings.TrimSuffix(string(t.Data[4:]), ")"))
			data, ok := dataURI(unquoted(u))
			if ok && len(data) <= mostFont {
				f.data = append(f.data, data)
			} else {
				f.outside = true
			}
		}
	}
}

func unquoted(s string) string { return strings.Trim(strings.TrimSpace(s), `"'`) }

// weightOf is a font weight, bolder and lighter by what is above (CSS Fonts 4).
func weightOf(s string, above float64) (float64, bool) {
	switch s {
	case "", "normal":
		return 400, s != ""
	case "bold":
		return 700, true
	case "bolder":
		switch {
		case above < 350:
			return 400, true
		case above < 550:
			return 700, true
		}
		return 900, true
	case "lighter":
		switch {
		case above < 550:
			return 100, true
		case above < 750:
			return 400, true
		}
		return 700, true
	}
	x, ok := length(s+"px", 1, 1)
	return x, ok && x >= 1 && x <= 1000
}

// stretchOf is a font's width in per cent (CSS Fonts 4).
func stretchOf(s string) float64 {
	words := map[string]float64{"ultra-condensed": 50, "extra-condensed": 62.5, "condensed": 75, "semi-condensed": 87.5, "normal": 100, "": 100,
		"semi-expanded": 112.5, "expanded": 125, "extra-expanded": 150, "ultra-expanded": 200}
	if v, ok := words[s]; ok {
		return v
	}
	if v, ok := length(s, 100, 1); ok && strings.HasSuffix(s, "%") {
		return v
	}
	return 100
}

// shorthand reads the font property into what it stands for.
func shorthand(out []declaration, value string, important bool) []declaration {
	put := func(p property, v string) {
		out = append(out, declaration{property: p, value: v, important: important})
	}
	words := strings.Fields(value)
	i := 0
	for ; i < len(words); i++ {
		w := strings.ToLower(words[i])
		if _, ok := weightOf(w, 400); ok && w != "normal" {
			put(fontWeight, w)
		} else if w == "italic" || w == "oblique" {
			put(fontStyle, w)
		} else if strings.Contains(w, "condensed") || strings.Contains(w, "expanded") {
			put(fontStretch, w)
		} else if w != "normal" && w != "small-caps" {
			break
		}
	}
	if i >= len(words) {
		return out
	}
	size, _, _ := strings.Cut(words[i], "/")
	put(fontSize, size)
	i++
	if i+1 < len(words) && words[i] == "/" {
		i += 2
	}
	put(fontFamily, strings.Join(words[i:], " "))
	return out
}

// fonts are those of a file, and our own.
type fonts struct {
	rules []faceRule
	read  map[int]*font.Face // by rule; nil: it cannot be
	own   *font.Face
}

// asked is the font that a text asks for.
type asked struct {
	families []string
	weight   float64
	italic   bool
	stretch  float64
}

func askedOf(ctx context) asked {
	a := asked{weight: 400, stretch: stretchOf(ctx.style[fontStretch])}
	for _, f := range strings.Split(ctx.style[fontFamily], ",") {
		if f = unquoted(f); f != "" {
			a.families = append(a.families, f)
		}
	}
	if w, ok := weightOf(ctx.style[fontWeight], 400); ok {
		a.weight = w
	}
	a.italic = strings.HasPrefix(ctx.style[fontStyle], "italic") || strings.HasPrefix(ctx.style[fontStyle], "oblique")
	return a
}

// bold is our own face. Text whose font is missing is set bold whatever was asked for: a common weight is thinner than sugar holds.
func (f *fonts) bold() *font.Face {
	if f.own == nil {
		all, err := face.Parsed()
		if err != nil {
			return nil
		}
		f.own = all[1]
	}
	return f.own
}

// match finds a font in the file, by family, then width, style and weight (CSS Fonts 4, 5.2); nil where there is none; lighter
// tells that bold was asked for and the file has none.
func (f *fonts) match(a asked) (found *font.Face, lighter bool) {
	for _, family := range a.families {
		var all []int
		for i := range f.rules {
			if strings.EqualFold(f.rules[i].family, family) && f.face(i) != nil {
				all = append(all, i)
			}
		}
		if len(all) == 0 {
			continue
		}
		best := slices.MinFunc(all, func(i, j int) int {
			x, y := &f.rules[i], &f.rules[j]
			return cmp.Or(cmp.Compare(math.Abs(x.stretch-a.stretch), math.Abs(y.stretch-a.stretch)),
				cmp.Compare(differs(x.italic, a.italic), differs(y.italic, a.italic)), cmp.Compare(x.far(a.weight), y.far(a.weight)))
		})
		return f.weighted(best, a.weight), a.weight >= 600 && f.rules[best].weight[1] < 600
	}
	return nil, false
}

func differs(a, b bool) int {
	if a != b {
		return 1
	}
	return 0
}

// far is how far a face is from a weight: heavier first for heavy ones, lighter first for light ones.
func (f *faceRule) far(weight float64) float64 {
	if weight >= f.weight[0] && weight <= f.weight[1] {
		return 0
	}
	d := f.weight[0] - weight
	if d < 0 {
		d = f.weight[1] - weight
	}
	if heavy := d > 0; heavy == (weight > 500) || weight >= 400 && weight <= 500 && d > 0 && weight+d <= 500 {
		return math.Abs(d)
	}
	return 1000 + math.Abs(d)
}

// face reads a rule's font.
func (f *fonts) face(i int) (out *font.Face) {
	if f.read == nil {
		f.read = map[int]*font.Face{}
		for i := range f.rules {
			r := &f.rules[i]
			r.stretch = cmp.Or(r.stretch, 100)
			if r.weight[0] == 0 {
				r.weight = [2]float64{400, 400}
			}
		}
	}
	if known, ok := f.read[i]; ok || i >= mostFaces {
		return known
	}
	defer func() { // a font is a stranger's program of sorts
		if recover() != nil {
			out = nil
		}
		f.read[i] = out
	}()
	for _, data := range f.rules[i].data {
		if !wholeFont(data) {
			continue
		}
		if p, err := font.ParseTTF(bytes.NewReader(data)); err == nil && p.Upem() > 0 {
			return p
		}
	}
	return nil
}

// wholeFont tells whether a font's directory is that of an sfnt (ISO/IEC 14496-22, 4.5) or a WOFF file (W3C WOFF 1.0, 4 and 5)
// whose tables lie inside it and unpack to no more than mostTables: who reads a table believes the directory.
func wholeFont(data []byte) bool {
	u32 := func(at int) int { return int(binary.BigEndian.Uint32(data[at:])) }
	const least = 44
	if len(data) < least {
		return false
	}
	first, each, count := 12, 16, int(binary.BigEndian.Uint16(data[4:]))
	offset, packed, whole := 8, 12, 12 // in a table's entry
	switch string(data[:4]) {
	case "\x00\x01\x00\x00", "OTTO", "true":
	case "wOFF":
		first, each, count = least, 20, int(binary.BigEndian.Uint16(data[12:]))
		offset, packed, whole = 4, 8, 12
	default:
		return false
	}
	if first+each*count > len(data) {
		return false
	}
	sum := 0
	for at := first; at < first+each*count; at += each {
		if u32(at+offset)+u32(at+packed) > len(data) {
			return false
		}
		sum += u32(at + whole)
	}
	return sum <= mostTables
}

// weighted is a rule's face, a variable one at the weight that is asked for.
func (f *fonts) weighted(i int, weight float64) *font.Face {
	base := f.face(i)
	r := &f.rules[i]
	if r.weight[0] == r.weight[1] {
		return base
	}
	p := font.NewFace(base.Font)
	p.SetVariations([]font.Variation{{Tag: opentype.MustNewTag("wght"), Value: float32(math.Max(r.weight[0], math.Min(r.weight[1], weight)))}})
	return p
}
