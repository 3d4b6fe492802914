// Package letters sets initials and short words in letters of our own drawing, made to be built of sugar.
//
// Guarantees: strokes are even (12 of 66 high), counters open and no narrower than 8; letters stand in their boxes, a
// gap of 9 apart, so that the ground between them is a strip; every character that is not drawn is named.
//
// References: none; letters of straight strokes laid as strips, corners as wedges, are common practice of the trade.
package letters

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	svg "github.com/ajstarks/svgo/float"

	"sugarwright/geom/artwork"
)

// Sizes of the drawing, in units: a letter's height, the gap between letters and between rows.
const (
	height = 66.0
	gap    = 9.0
)

// glyph is a letter: its width and its outline, y down; rings inside are counters.
type glyph struct {
	width float64
	path  string
}

// Most is how many letters are set at most: one line of six is the longest that can be read in a piece; common
// practice, no source.
const Most = 6

// glyphs by character. Each is one outline without overlaps.
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
	'♥': {60, "M30,64L4,32A17,17 0 0 1 30,12A17,17 0 0 1 56,32Z"},
}

// Characters that are drawn, in order.
const Characters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789&♥"

// Page of the drawing: the picture circle is inscribed in it. Letters reach no further from its middle than reach: what
// lies nearer to the rim is lost first.
const (
	page  = 200.0
	reach = 87.0
)

// rowsFrom is the count of letters from which two rows are larger than one.
const rowsFrom = 4

// Draw sets a text as an SVG drawing with its picture circle, in one row or two, as large as it can be. Small letters
// become capitals. The error names what is not drawn.
func Draw(text string, fill artwork.RGB) ([]byte, error) {
	rows, err := split(text)
	if err != nil {
		return nil, err
	}
	tall := float64(len(rows))*(height+gap) - gap
	far := 0.0
	for i, row := range rows {
		top := float64(i) * (height + gap)
		for _, y := range []float64{top, top + height} {
			far = math.Max(far, math.Hypot(width(row)/2, y-tall/2))
		}
	}
	k := reach / far
	var b bytes.Buffer
	s := svg.New(&b)
	s.Decimals = 4
	s.Startraw(fmt.Sprintf(`viewBox="0 0 %g %g"`, page, page))
	s.Title(strings.ToUpper(strings.Join(strings.Fields(text), " ")))
	for i, row := range rows {
		x := -width(row) / 2
		for _, c := range row {
			g := glyphs[c]
			s.Group(
				fmt.Sprintf(`transform="translate(%.4f %.4f) scale(%.5f)"`, page/2+k*x,
					page/2+k*(float64(i)*(height+gap)-tall/2), k),
			)
			s.Path(g.path, fmt.Sprintf(`fill="%s" fill-rule="evenodd"`, fill.Hex()))
			s.Gend()
			x += g.width + gap
		}
	}
	s.End()
	return b.Bytes(), nil
}

// width of a row.
func width(row []rune) float64 {
	w := -gap
	for _, c := range row {
		w += glyphs[c].width + gap
	}
	return w
}

// split turns a text into one row of letters or two, broken at the space nearest to its middle, else in the middle.
func split(text string) ([][]rune, error) {
	var all []rune
	var spaces []int // letters before each
	for _, c := range strings.ToUpper(text) {
		switch {
		case c == ' ':
			spaces = append(spaces, len(all))
			continue
		case c == '❤':
			c = '♥'
		case c == '\ufe0f': // "as a picture", after a heart
			continue
		}
		if _, ok := glyphs[c]; !ok {
			return nil, fmt.Errorf("%q is not drawn; there are A to Z, 0 to 9, & and ♥", c)
		}
		all = append(all, c)
	}
	switch n := len(all); {
	case n == 0:
		return nil, fmt.Errorf("no letters given")
	case n > Most:
		return nil, fmt.Errorf("%d letters are more than the %d that can be read in a piece", n, Most)
	case n < rowsFrom:
		return [][]rune{all}, nil
	default:
		at, far := n/2, n // rows of which one is more than twice as long as the other are small
		for _, sp := range spaces {
			if d := max(2*sp-n, n-2*sp); d < far && 3*d <= n {
				at, far = sp, d
			}
		}
		return [][]rune{all[:at], all[at:]}, nil
	}
}
