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
	data, err := letters.Draw(text, red)
	require.NoError(t, err)
	art, found, err := artwork.Parse(data)
	require.NoError(t, err)
	require.Empty(t, found)
	m, found, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	require.NoError(t, err)
	require.Empty(t, found)
	return m
}

// Each letter is one area with the counters that its shape has: two in B and 8, one in A D O P Q R 0 6 9, none else
// (schoolbook).
func TestCounters(t *testing.T) {
	for _, c := range letters.Characters {
		want := 0
		switch {
		case strings.ContainsRune("B8", c):
			want = 2
		case strings.ContainsRune("ADOPQR069", c):
			want = 1
		}
		areas, holes := 0, 0
		for _, r := range understood(t, string(c)).Regions {
			if r.Colour != 0 {
				areas++
				holes += len(r.Shape) - 1
			}
		}
		assert.Equal(t, 1, areas, "%c", c)
		assert.Equal(t, want, holes, "%c", c)
	}
}

// Letters touch neither each other nor what is nearest to the rim, in one row and in two.
func TestLettersStandApart(t *testing.T) {
	for text, want := range map[string]int{"AV": 2, "a & b": 3, "♥I❤": 3, "WORDS": 5, "MR & MS": 5, "26 9": 3} {
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

// Two rows are broken at the space nearest to the middle, where that leaves neither far longer; else in the middle.
func TestRows(t *testing.T) {
	for text, want := range map[string][2]int{"ABCDE": {2, 3}, "AB CD E": {2, 3}, "ABC & DE": {3, 3}, "AB & CD": {2, 3}, "A BCDEF": {3, 3}, "ABCDE F": {3, 3}, "AB CDEF": {2, 4}, "LOVE": {2, 2}} {
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
	for text, part := range map[string]string{"É": `'É' is not drawn`, "A-B": `'-' is not drawn`, "ABCDEFG": "7 letters are more than the 6", " ": "no letters", "": "no letters", "A\x00": "is not drawn", "\xff": "is not drawn"} {
		_, err := letters.Draw(text, red)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), part)
	}
}

func ExampleDraw() {
	_, err := letters.Draw("A-B", artwork.RGB{})
	fmt.Println(err)
	// Output: '-' is not drawn; there are A to Z, 0 to 9, & and ♥
}
