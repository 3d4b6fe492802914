package page

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sugarwright/geom/face"
	"sugarwright/geom/finding"
	"sync"
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"
)

// CapHeight is the height of capitals over the font size: that of the embedded face (1493 of 2048 units; checked by
// test).
const CapHeight = 1493.0 / 2048

// UnitsPerEm of the embedded faces.
const UnitsPerEm = face.UnitsPerEm

// Faces are the embedded faces as files: regular and bold.
func Faces() [2][]byte { return face.Files() }

// Curve is one piece of a glyph's outline in font units, y up: a move (1 point), line (1), or quadratic curve (2).
type Curve struct {
	Move bool
	P    []Point
}

// Glyph is one glyph of a text: its place from the text's start, in font units.
type Glyph struct {
	Face int // 0 regular, 1 bold
	ID   uint32
	X, Y float64
}

// Line is a text set in glyphs. Plain is true when each rune is one glyph, left to right, at the face's own advances.
type Line struct {
	Glyphs  []Glyph
	Advance float64 // font units
	Plain   bool
}

type setter struct {
	sync.Mutex
	faces  [2]*font.Face
	lines  map[lineKey]*Line
	curves map[curveKey][]Curve
	shaper shaping.HarfbuzzShaper
	split  shaping.Segmenter
}

type lineKey struct {
	text string
	bold bool
}

type curveKey struct {
	face int
	id   uint32
}

// mostLines bounds the texts that are remembered.
const mostLines = 20000

var set = sync.OnceValue(func() *setter {
	s := &setter{lines: map[lineKey]*Line{}, curves: map[curveKey][]Curve{}}
	var err error
	if s.faces, err = face.Parsed(); err != nil {
		panic(finding.Impossible("the embedded face cannot be read: %v", err)) // checked by test
	}
	return s
})

// Clean makes a text printable: control characters and line breaks become spaces, and what the face lacks its code
// point in brackets, so that nothing is lost in silence.
func Clean(text string) string {
	s := set()
	var b strings.Builder
	for _, r := range text {
		_, has := s.faces[0].NominalGlyph(r)
		switch {
		case r == '\u00a0':
			b.WriteRune(r)
		case r == unicode.ReplacementChar || unicode.IsSpace(r):
			b.WriteByte(' ')
		case unicode.Is(unicode.Cf, r): // marks of direction: the order is found without them
		case unicode.IsControl(r):
			b.WriteByte(' ')
		case !has:
			fmt.Fprintf(&b, "[%04X]", r)
		default:
			b.WriteRune(r)
		}
	}
	return strings.Join(strings.FieldsFunc(b.String(), func(r rune) bool { return r == ' ' }), " ")
}

// Set sets a text in glyphs; scripts that join, and those that run from right to left, are shaped.
func Set(t Text) *Line {
	s := set()
	s.Lock()
	defer s.Unlock()
	key := lineKey{t.Text, t.Bold}
	if l, ok := s.lines[key]; ok {
		return l
	}
	l := s.line(key)
	if len(s.lines) >= mostLines {
		s.lines = map[lineKey]*Line{}
	}
	s.lines[key] = l
	return l
}

func (s *setter) line(key lineKey) *Line {
	face := 0
	if key.bold {
		face = 1
	}
	f := s.faces[face]
	out := &Line{Plain: true}
	for _, r := range key.text {
		id, ok := f.NominalGlyph(r)
		if !ok || r >= 0x0590 && r < 0x2000 || unicode.Is(unicode.M, r) {
			return s.shape(key, face)
		}
		out.Glyphs = append(out.Glyphs, Glyph{Face: face, ID: uint32(id), X: out.Advance})
		out.Advance += float64(f.HorizontalAdvance(id))
	}
	return out
}

// shape sets what needs more than one glyph a rune, runs in the order in which they are seen.
func (s *setter) shape(key lineKey, face int) *Line {
	text := []rune(key.text)
	in := shaping.Input{
		Text:      text,
		RunEnd:    len(text),
		Direction: di.DirectionLTR,
		Face:      s.faces[face],
		Size:      fixed.I(UnitsPerEm),
		Language:  language.NewLanguage("en"),
	}
	runs := s.split.Split(in, fixedFace{s.faces[face]})
	outs := make([]shaping.Output, len(runs))
	for i, r := range runs {
		outs[i] = s.shaper.Shape(r)
	}
	leftward := func(i int) bool { return outs[i].Direction == di.DirectionRTL }
	number := func(i int) bool {
		for _, r := range text[runs[i].RunStart:runs[i].RunEnd] {
			if unicode.IsLetter(r) {
				return false
			}
		}
		return true
	}
	out := &Line{}
	for i := 0; i < len(outs); {
		// Runs from right to left that follow one another, with numbers between them, are seen the last first
		j := i + 1
		for leftward(i) && j < len(outs) && (leftward(j) || number(j) && j+1 < len(outs) && leftward(j+1)) {
			j++
		}
		for k := j - 1; k >= i; k-- {
			s.place(out, outs[k], face)
		}
		i = j
	}
	return out
}

func (s *setter) place(out *Line, run shaping.Output, face int) {
	for _, g := range run.Glyphs {
		out.Glyphs = append(
			out.Glyphs,
			Glyph{
				Face: face,
				ID:   uint32(g.GlyphID),
				X:    out.Advance + float64(g.XOffset)/64,
				Y:    float64(g.YOffset) / 64,
			},
		)
		out.Advance += float64(g.Advance) / 64
	}
}

type fixedFace struct{ f *font.Face }

func (f fixedFace) ResolveFace(rune) *font.Face { return f.f }

// Outline of a glyph.
func Outline(face int, id uint32) []Curve {
	s := set()
	s.Lock()
	defer s.Unlock()
	key := curveKey{face, id}
	if c, ok := s.curves[key]; ok {
		return c
	}
	var out []Curve
	if o, ok := s.faces[face].GlyphData(font.GID(id)).(font.GlyphOutline); ok {
		for _, seg := range o.Segments {
			c := Curve{Move: seg.Op == opentype.SegmentOpMoveTo}
			for _, a := range seg.ArgsSlice() {
				c.P = append(c.P, Point{float64(a.X), float64(a.Y)})
			}
			out = append(out, c)
		}
	}
	s.curves[key] = out
	return out
}

// Scale is millimetres a font unit at a text's size.
func (t Text) Scale() float64 { return t.Size / CapHeight / UnitsPerEm }

// Width of a text in millimetres.
func Width(t Text) float64 { return Set(t).Advance * t.Scale() }

// Start is the x at which a text's first glyph starts.
func (t Text) Start() float64 {
	switch t.Anchor {
	case "middle":
		return t.At[0] - Width(t)/2
	case "end":
		return t.At[0] - Width(t)
	}
	return t.At[0]
}

// Box is the least box round a text's glyphs: left, top, right, bottom; ok is false when it shows nothing.
func (t Text) Box() (box Box, ok bool) {
	k, x0 := t.Scale(), t.Start()
	box = Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, g := range Set(t).Glyphs {
		for _, c := range Outline(g.Face, g.ID) {
			for _, p := range c.P {
				x, y := x0+k*(g.X+p[0]), t.At[1]-k*(g.Y+p[1])
				box = Box{math.Min(box[0], x), math.Min(box[1], y), math.Max(box[2], x), math.Max(box[3], y)}
				ok = true
			}
		}
	}
	return box, ok
}

// Wrap breaks a text into lines no wider than width: between words, and inside a word that is wider by itself.
func Wrap(t Text, width float64) []string {
	fits := func(s string) bool {
		t.Text = s
		return Width(t) <= width
	}
	var lines []string
	line := ""
	for _, word := range strings.Split(t.Text, " ") {
		if line != "" && fits(line+" "+word) {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for r := []rune(word); !fits(word); word = string(r) {
			n := sort.Search(len(r), func(n int) bool { return !fits(string(r[:n+1])) })
			n = max(1, n)
			lines = append(lines, string(r[:n]))
			if r = r[n:]; len(r) == 0 {
				word = ""
				break
			}
		}
		line = word
	}
	return append(lines, line)
}

func sortFloats(v []float64) { sort.Float64s(v) }
