// Package letters sets initials, names and short words in letters of our own drawing, made to be built of sugar.
//
// Guarantees: strokes are even (12 of 66 high), counters open and no narrower than 8; letters stand in their boxes, a
// gap of 9 apart, so that the ground between them is a strip; rows are broken where the letters come out largest, in
// the middle of a word only where that gains a sixth; every character that is not drawn is named.
//
// References: none; letters of straight strokes laid as strips, corners as wedges, are common practice of the trade.
package letters

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"

	svg "github.com/ajstarks/svgo/float"
	"golang.org/x/text/unicode/norm"

	"sugarwright/geom/artwork"
)

// Sizes of the drawing, in units: a capital's height, where a small letter without a stem above begins and one with a
// stem below ends, how high marks stand over what they mark, the gap between letters and between rows, and what is
// added to it between words.
const (
	height   = 66.0
	middle   = 14.0
	below    = 86.0
	mark     = 20.0
	markWide = 36.0
	gap      = 9.0
	space    = 15.0
)

// glyph is a letter: its width and its outline, y down from the height of capitals; rings inside are counters.
type glyph struct {
	width float64
	path  string
}

// Most is how many letters are set at most: in three rows of four a letter of a piece of 15 mm is 3 mm high; common
// practice, no source.
const Most = 12

// mostRows is how many rows are set at most.
const mostRows = 3

// glyphs by character. Each is one outline without overlaps, but for the dots of i, j and !.
var glyphs = map[rune]glyph{
	'A': {36, "M0,66V16L10,0H26L36,16V66H24V45H12V66ZM12,18V33H24V18Z"},
	'B': {36, "M0,0H28L36,8V24L30,33L36,42V58L28,66H0ZM12,12V27H24V12ZM12,39V54H24V39Z"},
	'C': {36, "M8,0H36V12H12V54H36V66H8L0,58V8Z"},
	'D': {36, "M0,0H24L36,12V54L24,66H0ZM12,12V54H24V12Z"},
	'E': {36, "M0,0H36V12H12V27H32V39H12V54H36V66H0Z"},
	'F': {36, "M0,0H36V12H12V27H32V39H12V66H0Z"},
	'G': {36, "M8,0H36V12H12V54H24V33H36V66H8L0,58V8Z"},
	'H': {36, "M0,0H12V27H24V0H36V66H24V39H12V66H0Z"},
	'I': {12, "M0,0H12V66H0Z"},
	'J': {36, "M24,0H36V58L28,66H8L0,58V42H12V54H24Z"},
	'K': {37, "M0,0H12V24L23,0H37L20,33L37,66H23L12,42V66H0Z"},
	'L': {36, "M0,0H12V54H36V66H0Z"},
	'M': {48, "M0,0H12L24,22L36,0H48V66H36V26L24,48L12,26V66H0Z"},
	'N': {38, "M0,0H12L26,38V0H38V66H26L12,28V66H0Z"},
	'O': {44, "M14,0H30L44,14V52L30,66H14L0,52V14ZM12,12V54H32V12Z"},
	'P': {36, "M0,0H28L36,8V31L28,39H12V66H0ZM12,12V27H24V12Z"},
	'Q': {44, "M14,0H30L44,14V66H14L0,52V14ZM12,12V54H22L32,44V12Z"},
	'R': {37, "M0,0H28L36,8V31L30,39L37,66H24L18,39H12V66H0ZM12,12V27H24V12Z"},
	'S': {36, "M8,0H36V12H12V27H28L36,35V58L28,66H0V54H24V39H8L0,31V8Z"},
	'T': {36, "M0,0H36V12H24V66H12V12H0Z"},
	'U': {36, "M0,0H12V54H24V0H36V58L28,66H8L0,58Z"},
	'V': {40, "M0,0H13L20,44L27,0H40L27,66H13Z"},
	'W': {52, "M0,0H12V54H20V18H32V54H40V0H52V66H0Z"},
	'X': {40, "M0,0H14L20,20L26,0H40L28,33L40,66H26L20,46L14,66H0L12,33Z"},
	'Y': {40, "M0,0H13L20,20L27,0H40L26,36V66H14V36Z"},
	'Z': {36, "M0,0H36V14L14,54H36V66H0V52L22,12H0Z"},
	'0': {34, "M6,0H28L34,6V60L28,66H6L0,60V6ZM12,12V54H22V12Z"},
	'1': {22, "M0,8L8,0H22V66H10V20H0Z"},
	'2': {36, "M0,0H28L36,8V31L28,39H12V54H36V66H0V35L8,27H24V12H0Z"},
	'3': {36, "M0,0H28L36,8V24L30,33L36,42V58L28,66H0V54H24V39H8V27H24V12H0Z"},
	'4': {34, "M0,0H12V30H22V14H34V66H22V42H0Z"},
	'5': {36, "M0,0H36V12H12V27H28L36,35V58L28,66H0V54H24V39H0Z"},
	'6': {36, "M8,0H36V12H12V27H28L36,35V58L28,66H8L0,58V8ZM12,39V54H24V39Z"},
	'7': {36, "M0,0H36V14L20,66H7L22,12H0Z"},
	'8': {36, "M8,0H28L36,8V24L30,33L36,42V58L28,66H8L0,58V42L6,33L0,24V8ZM12,12V27H24V12ZM12,39V54H24V39Z"},
	'9': {36, "M8,0H28L36,8V58L28,66H0V54H24V39H8L0,31V8ZM12,12V27H24V12Z"},
	'&': {36, "M36,9H24V0H14V9H8L0,17V27L5,33L0,39V49L8,57H14V66H24V57H36V46H12V38H28V28H12V20H36Z"},
	'a': {36, "M0,14H28L36,22V66H8L0,58V42L8,34H24V26H0ZM12,46V54H24V46Z"},
	'b': {36, "M0,0H12V14H28L36,22V58L28,66H0ZM12,26V54H24V26Z"},
	'c': {36, "M8,14H36V26H12V54H36V66H8L0,58V22Z"},
	'd': {36, "M24,0H36V66H8L0,58V22L8,14H24ZM12,26V54H24V26Z"},
	'e': {36, "M8,14H28L36,22V46H12V54H36V66H8L0,58V22ZM12,26V34H24V26Z"},
	'f': {28, "M14,0H28V12H18V22H28V34H18V66H6V34H0V22H6V8Z"},
	'g': {36, "M8,14H36V78L28,86H0V74H24V66H8L0,58V22ZM12,26V54H24V26Z"},
	'h': {36, "M0,0H12V14H28L36,22V66H24V26H12V66H0Z"},
	'i': {12, "M0,0H12V12H0ZM0,20H12V66H0Z"},
	'j': {24, "M12,0H24V12H12ZM12,20H24V78L16,86H0V74H12Z"},
	'k': {36, "M0,0H12V32L22,14H36L22,39L36,66H22L12,47V66H0Z"},
	'l': {24, "M0,0H12V54H24V66H8L0,58Z"},
	'm': {52, "M0,14H44L52,22V66H40V26H32V66H20V26H12V66H0Z"},
	'n': {36, "M0,14H28L36,22V66H24V26H12V66H0Z"},
	'o': {38, "M10,14H28L38,24V56L28,66H10L0,56V24ZM12,26V54H26V26Z"},
	'p': {36, "M0,14H28L36,22V58L28,66H12V86H0ZM12,26V54H24V26Z"},
	'q': {36, "M8,14H36V86H24V66H8L0,58V22ZM12,26V54H24V26Z"},
	'r': {28, "M0,14H28V26H12V66H0Z"},
	's': {36, "M8,14H36V26H12V34H28L36,42V58L28,66H0V54H24V46H8L0,38V22Z"},
	't': {28, "M6,0H18V14H28V26H18V54H28V66H14L6,58V26H0V14H6Z"},
	'u': {36, "M0,14H12V54H24V14H36V66H8L0,58Z"},
	'v': {40, "M0,14H13L20,46L27,14H40L27,66H13Z"},
	'w': {52, "M0,14H12V54H20V26H32V54H40V14H52V66H0Z"},
	'x': {40, "M0,14H14L20,27L26,14H40L28,40L40,66H26L20,53L14,66H0L12,40Z"},
	'y': {36, "M0,14H12V54H24V14H36V78L28,86H0V74H24V66H8L0,58Z"},
	'z': {36, "M0,14H36V28L17,54H36V66H0V52L19,26H0Z"},
	'+': {36, "M12,15H24V27H36V39H24V51H12V39H0V27H12Z"},
	'-': {26, "M0,27H26V39H0Z"},
	'!': {12, "M0,0H12V46H0ZM0,54H12V66H0Z"},
	'♥': {60, "M30,64L4,32A17,17 0 0 1 30,12A17,17 0 0 1 56,32Z"},
}

// Characters that are drawn, in order; letters also with the marks.
const Characters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789&+-!♥"

// marks over letters, by the character that combines with what stands before it: their outline, 36 wide, y down from
// the top of what they mark.
var marks = map[rune]string{
	'\u0300': "M2,-20H16L24,-8H10Z",              // grave
	'\u0301': "M20,-20H34L26,-8H12Z",             // acute
	'\u0302': "M18,-20L35,-8H20L18,-10L16,-8H1Z", // circumflex
	'\u0308': "M2,-20H14V-8H2ZM22,-20H34V-8H22Z", // two dots
}

// Page of the drawing: the picture circle is inscribed in it. Letters reach no further from its middle than reach: what
// lies nearer to the rim is lost first.
const (
	page  = 200.0
	reach = 87.0
)

// letter is a glyph with its marks, whether a word ended before it, and whether its row shows that by a space.
type letter struct {
	glyph
	base        rune
	marked      string
	indent      float64 // of the base under a wider mark
	top, bottom float64
	word, apart bool
}

// Draw sets a text as an SVG drawing with its picture circle, in one row or more, as large as it can be; a stroke "/"
// begins a new row. Small letters become capitals, which are larger, where small is not asked for. The error names what
// is not drawn.
func Draw(text string, fill artwork.RGB, small bool) ([]byte, error) {
	text = strings.NewReplacer("❤", "♥", "ß", "ss", "ẞ", "SS").Replace(text)
	if !small {
		text = strings.ToUpper(text)
	}
	given, err := read(text)
	if err != nil {
		return nil, err
	}
	rows, k := given, scale(given)
	if len(given) == 1 {
		rows, k = broken(given[0])
	}
	tall, _ := extent(rows)
	var b bytes.Buffer
	s := svg.New(&b)
	s.Decimals = 4
	s.Startraw(fmt.Sprintf(`viewBox="0 0 %g %g"`, page, page))
	s.Title(strings.Join(strings.Fields(text), " "))
	paint := fmt.Sprintf(`fill="%s" fill-rule="evenodd"`, fill.Hex())
	y := -tall / 2
	for _, row := range rows {
		top, bottom := reaches(row)
		x := -width(row) / 2
		for i, l := range row {
			if i > 0 && l.apart {
				x += space
			}
			s.Group(
				fmt.Sprintf(`transform="translate(%.4f %.4f) scale(%.5f)"`, page/2+k*(x+l.indent), page/2+k*(y-top), k),
			)
			s.Path(l.path, paint)
			if l.marked != "" {
				s.Gtransform(fmt.Sprintf("translate(%g %g)", (l.glyph.width-markWide)/2-l.indent, l.top+mark))
				s.Path(l.marked, paint)
				s.Gend()
			}
			s.Gend()
			x += l.glyph.width + gap
		}
		y += bottom - top + gap
	}
	s.End()
	return b.Bytes(), nil
}

// broken is a line as one row or more, broken where its letters come out largest; a break inside a word counts as a loss
// of a seventh.
func broken(line []letter) (best [][]letter, k float64) {
	worth := 0.0
	var try func(done [][]letter, rest []letter, share float64)
	try = func(done [][]letter, rest []letter, share float64) {
		rows := append(done[:len(done):len(done)], rest)
		if s := scale(rows); s*share > worth*(1+1e-9) {
			best, k, worth = rows, s, s*share
		}
		if len(rows) == mostRows {
			return
		}
		for i := 1; i < len(rest); i++ {
			loss := 1.0
			if !rest[i].word {
				loss = 6.0 / 7
			}
			try(append(done[:len(done):len(done)], rest[:i]), rest[i:], share*loss)
		}
	}
	try(nil, line, 1)
	return best, k
}

// scale that brings rows to the reach.
func scale(rows [][]letter) float64 {
	_, far := extent(rows)
	return reach / far
}

// extent of rows: their height with the gaps between them, and how far their corners lie from the middle.
func extent(rows [][]letter) (tall, far float64) {
	tall = -gap
	for _, row := range rows {
		top, bottom := reaches(row)
		tall += bottom - top + gap
	}
	y := -tall / 2
	for _, row := range rows {
		top, bottom := reaches(row)
		for _, edge := range []float64{y, y + bottom - top} {
			far = math.Max(far, math.Hypot(width(row)/2, edge))
		}
		y += bottom - top + gap
	}
	return tall, far
}

// reaches of a row: from the top of its highest letter to the foot of its lowest.
func reaches(row []letter) (top, bottom float64) {
	top, bottom = math.Inf(1), math.Inf(-1)
	for _, l := range row {
		top, bottom = math.Min(top, l.top), math.Max(bottom, l.bottom)
	}
	return top, bottom
}

// width of a row.
func width(row []letter) float64 {
	w := -gap
	for i, l := range row {
		w += l.glyph.width + gap
		if i > 0 && l.apart {
			w += space
		}
	}
	return w
}

// read is a text as letters, in the rows that it asks for by strokes.
func read(text string) ([][]letter, error) {
	rows := [][]letter{nil}
	count, word := 0, false
	for _, c := range norm.NFD.String(text) {
		row := &rows[len(rows)-1]
		switch over, marks := marks[c]; {
		case c == ' ':
			word = true
			continue
		case c == '/':
			if len(*row) > 0 {
				rows = append(rows, nil)
			}
			continue
		case c == '\ufe0f': // "as a picture", after a heart
			continue
		case marks && len(*row) > 0 && unicode.IsLetter((*row)[len(*row)-1].base):
			(*row)[len(*row)-1].mark(over)
			continue
		}
		g, ok := glyphs[c]
		if !ok {
			return nil, fmt.Errorf("%q is not drawn; there are A to Z, a to z, 0 to 9, & + - ! and ♥, letters also with ` ´ ^ ¨", c)
		}
		l := letter{glyph: g, base: c, bottom: height, word: word}
		if n := len(*row); word && n > 0 {
			l.apart = spelt(c) && spelt((*row)[n-1].base)
		}
		switch {
		case strings.ContainsRune("acegmnopqrsuvwxyz", c):
			l.top = middle
		case c == '♥':
			l.top, l.bottom = 7, 64
		}
		if strings.ContainsRune("gjpqy", c) {
			l.bottom = below
		}
		*row = append(*row, l)
		count++
		word = false
	}
	if len(rows) > 1 && len(rows[len(rows)-1]) == 0 {
		rows = rows[:len(rows)-1]
	}
	switch {
	case count == 0:
		return nil, errors.New("no letters given")
	case count > Most:
		return nil, fmt.Errorf("%d letters are more than the %d that can be read in a piece", count, Most)
	case len(rows) > mostRows:
		return nil, fmt.Errorf("%d rows are more than the %d that can be read in a piece", len(rows), mostRows)
	}
	return rows, nil
}

// spelt says whether words are made of a character.
func spelt(c rune) bool {
	return unicode.IsLetter(c) || unicode.IsDigit(c)
}

// mark puts a mark over a letter; the dot of i and j makes room for it.
func (l *letter) mark(over string) {
	if l.marked == "" {
		if at := strings.IndexByte(l.path, 'Z'); strings.ContainsRune("ij", l.base) {
			l.path, l.top = l.path[at+1:], mark
		}
		l.top -= mark
		l.indent = max(0, markWide-l.glyph.width) / 2
		l.glyph.width += 2 * l.indent
	}
	l.marked += over
}
