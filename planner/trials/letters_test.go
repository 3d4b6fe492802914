//go:build trials

package trials_test

import (
	"flag"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/letters"
	"sugarwright/planner/recipe"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
)

var pairs = flag.Int("pairs", 7, "one of so many pairs of letters is tried; 1 is all of them")

// Every letter alone, and two side by side, in one order or the other, can be put together in time at a piece of 15 mm (the default). What a maker's
// rules say of letters holds too: straight strokes are no rods, corners are wedges or flats (common practice, no
// source), no part is as thin as needs a note, and each letter alone is within the 15 distinct parts that two people
// make in time (common practice, no source).
func TestLetters(t *testing.T) {
	all := []rune("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789&♥")
	var texts []string
	pair := 0
	for i, c := range all {
		texts = append(texts, string(c))
		for j, d := range all[:i+1] {
			if (i+j)%2 == 0 {
				c, d = d, c
			}
			if pair++; pair%*pairs == 0 {
				texts = append(texts, string(c)+string(d))
			}
		}
	}
	queue := make(chan string)
	var wg sync.WaitGroup
	for range max(1, runtime.NumCPU()) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for text := range queue {
				checkLetters(t, text)
			}
		}()
	}
	for _, x := range texts {
		queue <- x
	}
	close(queue)
	wg.Wait()
}

func checkLetters(t *testing.T, text string) {
	data, err := letters.Draw(text, artwork.RGB{0xb0, 0x20, 0x30}, false)
	if !assert.NoError(t, err, text) {
		return
	}
	of, found, err := parted(data, options())
	if !assert.NoError(t, err, text) || !assert.False(t, found.Refuses(), "%s: %v", text, found) {
		return
	}
	for _, f := range found {
		assert.NotContains(t, []string{"thin-note", "too-thin", "gap-too-thin", "near-rim"}, string(f.Code), text)
	}
	made := map[int]bool{}
	for _, e := range of.Elements {
		made[e.Number] = true
		if e.Kind == set.Subject && text != "♥" {
			assert.NotEqual(t, recipe.Rod, e.Fit.Base, "%s: part %d", text, e.Number)
		}
	}
	if len([]rune(text)) == 1 {
		assert.LessOrEqual(t, len(made), shop.Default().MostDistinct, text)
	}
}

func BenchmarkLetters(b *testing.B) {
	for b.Loop() {
		data, err := letters.Draw("A & B", artwork.RGB{0xb0, 0x20, 0x30}, false)
		require.NoError(b, err)
		require.NotEmpty(b, data)
	}
}
