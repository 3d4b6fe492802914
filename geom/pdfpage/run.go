package pdfpage

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"sugarwright/geom"
)

// reader turns operators into a drawing.
type reader struct {
	ctx       *model.Context
	out       bytes.Buffer
	w, h      float64
	missing   Missing
	operators int
	unpacked  int
	ids       int
	hidden    map[string]bool   // layers that are off
	shading   map[string]string // ids of gradients that were written
}

// ink is what is painted with.
type ink struct {
	space   space3
	rgb     [3]float64
	pattern types.Object // a pattern's, where it is one
}

// state of the graphics (ISO 32000-1, 8.4).
type state struct {
	ctm, base    geom.Affine // base: of the page or form, for patterns
	fill, stroke ink
	fillA        float64
	strokeA      float64
	blend        string
	mask         string // id of a soft mask
	width        float64
	cap, join    int
	miter        float64
	dash         []float64
	dashAt       float64
	clip         string // id of the clip
}

func newState(base geom.Affine) state {
	return state{ctm: base, base: base, fill: ink{space: grey}, stroke: ink{space: grey}, fillA: 1, strokeA: 1, width: 1, miter: 10}
}

// farthest is how large a number may be.
const farthest = 1e9

func num(v float64) string {
	if !(math.Abs(v) <= farthest) { // counted where it is read
		v = 0
	}
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}

func matrixOf(m geom.Affine) string {
	return fmt.Sprintf("matrix(%s %s %s %s %s %s)", num(m[0]), num(m[1]), num(m[2]), num(m[3]), num(m[4]), num(m[5]))
}

func (r *reader) id(kind string) string {
	r.ids++
	return fmt.Sprintf("%s%d", kind, r.ids)
}

// page is one content stream that is being run.
type page struct {
	*reader
	res   types.Dict
	s     state
	stack []state
	path  strings.Builder
	at    [2]float64 // the current point
	clip  string     // rule of a clip that is to be set: nonzero or evenodd
	args  []any
	off   int // marked content that is not shown: how deep
	marks []bool
	depth int
}

// run a content stream with its resources.
func (r *reader) run(content []byte, res types.Dict, s state, depth int) error {
	if depth > mostDepth {
		return errTooMuch
	}
	p := &page{reader: r, res: res, s: s, depth: depth}
	l := &lexer{b: content}
	for {
		t, ok := l.next(0)
		if !ok {
			return nil
		}
		op, isOp := t.(operator)
		if !isOp {
			if p.args = append(p.args, t); len(p.args) > 1000 {
				p.args = p.args[500:]
			}
			continue
		}
		if r.operators++; r.operators > mostOperators || r.out.Len() > mostDrawing {
			return errTooMuch
		}
		if op == "BI" {
			inline(l)
			r.missing.Pictures++
			p.args = p.args[:0]
			continue
		}
		for _, a := range p.args {
			if v, ok := a.(float64); ok && !(math.Abs(v) <= farthest) {
				r.missing.Far++
			}
		}
		if err := p.do(string(op)); err != nil {
			return err
		}
		p.args = p.args[:0]
	}
}

// inline skips an inline picture.
func inline(l *lexer) {
	for l.i+3 < len(l.b) {
		if space(l.b[l.i]) && l.b[l.i+1] == 'E' && l.b[l.i+2] == 'I' && (l.i+3 == len(l.b) || space(l.b[l.i+3])) {
			l.i += 3
			return
		}
		l.i++
	}
	l.i = len(l.b)
}

// n is the k-th of the operands as a number, 0 where it is none.
func (p *page) n(k int) float64 {
	if k < len(p.args) {
		v, _ := p.args[k].(float64)
		return v
	}
	return 0
}

func (p *page) nums() (out []float64) {
	for _, a := range p.args {
		if v, ok := a.(float64); ok {
			out = append(out, v)
		}
	}
	return out
}

func (p *page) last() string {
	if len(p.args) == 0 {
		return ""
	}
	v, _ := p.args[len(p.args)-1].(name)
	return string(v)
}

func (p *page) move(op string, v ...float64) {
	p.path.WriteString(op)
	for i, x := range v {
		if i > 0 {
			p.path.WriteByte(' ')
		}
		p.path.WriteString(num(x))
	}
	p.at = [2]float64{v[len(v)-2], v[len(v)-1]}
}

// do one operator (ISO 32000-1, annex A).
func (p *page) do(op string) error {
	s := &p.s
	switch op {
	case "q":
		if len(p.stack) > 1000 {
			return errTooMuch
		}
		p.stack = append(p.stack, *s)
	case "Q":
		if n := len(p.stack); n > 0 {
			*s, p.stack = p.stack[n-1], p.stack[:n-1]
		}
	case "cm":
		s.ctm = s.ctm.Times(geom.Affine{p.n(0), p.n(1), p.n(2), p.n(3), p.n(4), p.n(5)})
	case "w":
		s.width = p.n(0)
	case "J":
		s.cap = int(p.n(0))
	case "j":
		s.join = int(p.n(0))
	case "M":
		s.miter = p.n(0)
	case "d":
		s.dash = nil
		if len(p.args) > 0 {
			a, _ := p.args[0].([]any)
			for _, v := range a {
				f, _ := v.(float64)
				s.dash = append(s.dash, f)
			}
		}
		s.dashAt = p.n(1)
	case "gs":
		return p.extended(p.dict(p.dict(p.res["ExtGState"])[p.last()]))
	case "m":
		p.move("M", p.n(0), p.n(1))
	case "l":
		p.move("L", p.n(0), p.n(1))
	case "c":
		p.move("C", p.n(0), p.n(1), p.n(2), p.n(3), p.n(4), p.n(5))
	case "v":
		p.move("C", p.at[0], p.at[1], p.n(0), p.n(1), p.n(2), p.n(3))
	case "y":
		p.move("C", p.n(0), p.n(1), p.n(2), p.n(3), p.n(2), p.n(3))
	case "h":
		p.path.WriteString("Z")
	case "re":
		x, y, w, h := p.n(0), p.n(1), p.n(2), p.n(3)
		fmt.Fprintf(&p.path, "M%s %sh%sv%sh%sZ", num(x), num(y), num(w), num(h), num(-w))
		p.at = [2]float64{x, y}
	case "S":
		return p.paint("", true)
	case "s":
		p.path.WriteString("Z")
		return p.paint("", true)
	case "f", "F":
		return p.paint("nonzero", false)
	case "f*":
		return p.paint("evenodd", false)
	case "B":
		return p.paint("nonzero", true)
	case "B*":
		return p.paint("evenodd", true)
	case "b":
		p.path.WriteString("Z")
		return p.paint("nonzero", true)
	case "b*":
		p.path.WriteString("Z")
		return p.paint("evenodd", true)
	case "n":
		return p.paint("", false)
	case "W":
		p.clip = "nonzero"
	case "W*":
		p.clip = "evenodd"
	case "g", "G", "rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN":
		p.colour(op)
	case "sh":
		return p.shade()
	case "Do":
		return p.object1(p.last())
	case "Tj", "TJ", "'", "\"":
		if p.off == 0 && p.hasLetters() {
			p.missing.Text++
		}
	case "BMC":
		p.marks = append(p.marks, false)
	case "BDC":
		off := false
		if len(p.args) == 2 {
			if tag, _ := p.args[0].(name); tag == "OC" {
				if ref, ok := p.dict(p.res["Properties"])[p.last()].(types.IndirectRef); ok {
					off = p.hidden[ref.String()]
				}
			}
		}
		if p.marks = append(p.marks, off); off {
			p.off++
		}
	case "EMC":
		if n := len(p.marks); n > 0 {
			if p.marks[n-1] {
				p.off--
			}
			p.marks = p.marks[:n-1]
		}
	}
	return nil
}

func (p *page) hasLetters() bool {
	for _, a := range p.args {
		switch v := a.(type) {
		case string:
			if strings.TrimSpace(v) != "" {
				return true
			}
		case []any:
			for _, x := range v {
				if t, ok := x.(string); ok && strings.TrimSpace(t) != "" {
					return true
				}
			}
		}
	}
	return false
}

// extended takes what a graphics state dictionary says.
func (p *page) extended(d types.Dict) error {
	s := &p.s
	s.fillA, s.strokeA = p.number(d["ca"], s.fillA), p.number(d["CA"], s.strokeA)
	s.width = p.number(d["LW"], s.width)
	s.cap, s.join = int(p.number(d["LC"], float64(s.cap))), int(p.number(d["LJ"], float64(s.join)))
	s.miter = p.number(d["ML"], s.miter)
	if o := p.object(d["BM"]); o != nil {
		b := p.name(o)
		if a, ok := o.(types.Array); ok && len(a) > 0 {
			b = p.name(a[0])
		}
		if s.blend = blends[b]; s.blend == "normal" {
			s.blend = ""
		}
	}
	switch m := p.object(d["SMask"]).(type) {
	case types.Name:
		s.mask = ""
	case types.Dict:
		return p.softMask(m)
	}
	return nil
}

// blends by their names (ISO 32000-1, 11.3.5), as W3C, Compositing and Blending 1, has them.
var blends = map[string]string{
	"Normal": "normal", "Compatible": "normal", "Multiply": "multiply", "Screen": "screen", "Overlay": "overlay", "Darken": "darken",
	"Lighten": "lighten", "ColorDodge": "color-dodge", "ColorBurn": "color-burn", "HardLight": "hard-light", "SoftLight": "soft-light",
	"Difference": "difference", "Exclusion": "exclusion", "Hue": "hue", "Saturation": "saturation", "Color": "color", "Luminosity": "luminosity",
}

// A shade's function is read in so many pieces, and so many for each function that it is stitched of, up to a bound.
const (
	gradientStops = 16
	mostStops     = 400
)
