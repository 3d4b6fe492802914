package letters_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/letters"
	"sugarwright/geom/partition"
)

var red = artwork.RGB{0xb0, 0x20, 0x30}

// understood is the map of a text as it is read back.
func understood(t *testing.T, text string) *partition.Map {
	data, err := letters.Draw(text, red, true)
	require.NoError(t, err)
	art, found, err := artwork.Parse(data)
	require.NoError(t, err)
	require.Empty(t, found)
	m, found, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	require.NoError(t, err)
	require.Empty(t, found)
	return m
}

// Each letter is one area, two where it has a dot, with the counters that its shape has: two in B and 8, one in A D O P
// Q R 0 6 9 and in a b d e g o p q, none else (schoolbook).
func TestCounters(t *testing.T) {
	for _, c := range letters.Characters {
		want, apart := 0, 1
		switch {
		case strings.ContainsRune("B8", c):
			want = 2
		case strings.ContainsRune("ADOPQR069abdegopq", c):
			want = 1
		case strings.ContainsRune("ij!", c):
			apart = 2
		}
		areas, holes := 0, 0
		for _, r := range understood(t, string(c)).Regions {
			if r.Colour != 0 {
				areas++
				holes += len(r.Shape) - 1
			}
		}
		assert.Equal(t, apart, areas, "%c", c)
		assert.Equal(t, want, holes, "%c", c)
	}
}

// Letters touch neither each other nor what is nearest to the rim, in one row and in two.
func TestLettersStandApart(t *testing.T) {
	for text, want := range map[string]int{"AV": 2, "A & B": 3, "a & b": 3, "Ö": 3, "ï": 3, "Zoé": 4, "mîp": 4, "ANNA & TOM": 8, "JUST/MARRIED": 11, "♥I❤": 3, "WORDS": 5, "MR & MS": 5, "26 9": 3} {
		areas := 0
		far := 0.0
		m := understood(t, text)
		for _, r := range m.Regions {
			if r.Colour == 0 {
				continue
			}
			areas++
			for _, ring := range r.Shape {
				for _, p := range ring {
					q := m.Frame.ToTrue.Artwork(p)
					far = math.Max(far, geom.Dist(q, geom.ArtworkPoint{100, 100}))
				}
			}
		}
		assert.Equal(t, want, areas, text)
		assert.LessOrEqual(t, far, 88.0, text)
		assert.Greater(t, far, 70.0, text)
	}
}

// Rows are broken at a space where that leaves none far longer, else inside a word; a stroke breaks where it stands.
func TestRows(t *testing.T) {
	for text, want := range map[string][2]int{"ABCDE": {2, 3}, "AB CD E": {2, 3}, "ABC & DE": {3, 3}, "AB & CD": {2, 3}, "A BCDEF": {3, 3}, "ABCDE F": {3, 3}, "AB CDEF": {2, 4}, "LOVE": {2, 2}, "LOV/E": {3, 1}, "/LO/VE/": {2, 2}} {
		m := understood(t, text)
		mid := 0.0
		var got [2]int
		for _, r := range m.Regions {
			if r.Colour != 0 {
				c := m.Frame.ToTrue.Artwork(geom.MomentsOf(r.Shape).Centroid)
				if mid = c[1]; mid > 100 {
					got[1]++
				} else {
					got[0]++
				}
			}
		}
		assert.Equal(t, want, got, text)
	}
}

// What is not drawn is named; so is too much, and nothing.
func TestNotDrawn(t *testing.T) {
	for text, part := range map[string]string{"Ø": `'Ø' is not drawn`, "A:B": `':' is not drawn`, "Ñ": "is not drawn", "¨A": "is not drawn", "ABCDEFGHIJKLM": "13 letters are more than the 12", "A/B/C/D": "4 rows are more than the 3", "/": "no letters", " ": "no letters", "": "no letters", "A\x00": "is not drawn", "\xff": "is not drawn"} {
		_, err := letters.Draw(text, red, false)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), part)
	}
}

// Small letters become capitals where they are not asked for, marks go with their letters, and the title says what is
// written.
func TestCapitals(t *testing.T) {
	for text, want := range map[string]string{"zoé & jörg": "ZOÉ & JÖRG", "straße": "STRASSE"} {
		small, err := letters.Draw(text, red, false)
		require.NoError(t, err)
		large, err := letters.Draw(want, red, true)
		require.NoError(t, err)
		assert.Equal(t, string(large), string(small))
		assert.Contains(t, string(small), "<title>"+strings.ReplaceAll(want, "&", "&amp;")+"</title>")
	}
}

func ExampleDraw() {
	_, err := letters.Draw("A:B", artwork.RGB{}, false)
	fmt.Println(err)
	// Output: ':' is not drawn; there are A to Z, a to z, 0 to 9, & + - ! and ♥, letters also with ` ´ ^ ¨
}
