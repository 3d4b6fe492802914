//go:build trials

package trials_test

import (
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/letters"
	"sugarwright/planner"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// Every letter alone, and any two side by side, end in a proven plan at a piece of 15 mm (the default). What a maker's
// rules say of letters holds too: straight strokes are no rods, corners are wedges or flats (common practice, no
// source), no part is as thin as needs a note, and each letter alone is within the 15 distinct parts that two people
// make in time (common practice, no source).
func TestLetters(t *testing.T) {
	all := []rune(letters.Characters)
	var texts []string
	for _, c := range all {
		texts = append(texts, string(c))
		for _, d := range all {
			texts = append(texts, string(c)+string(d))
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
	data, err := letters.Draw(text, artwork.RGB{0xb0, 0x20, 0x30})
	if !assert.NoError(t, err, text) {
		return
	}
	white := artwork.RGB{255, 255, 255}
	res, err := planner.Compile(
		text+".svg",
		data,
		planner.Options{
			Shop:    shop.Default(),
			Order:   size.Order{PieceMM: 15, CutMM: 10},
			Ground:  white,
			Jacket:  white,
			NoProof: true,
		},
	)
	if !assert.NoError(t, err, text) {
		return
	}
	p := res.Plan
	assert.Equal(t, plan.AsDrawn, p.Verdict, "%s: %v", text, res.Stages.Findings)
	assert.Equal(t, 15.0, float64(p.Piece.DiameterMM))
	assert.NotEmpty(t, p.Steps, text)
	for _, f := range res.Stages.Findings {
		assert.NotContains(t, []string{"thin-note", "too-thin", "gap-too-thin", "near-rim"}, string(f.Code), text)
	}
	if len([]rune(text)) == 1 {
		assert.LessOrEqual(t, p.Index().Distinct(), shop.Default().MostDistinct, text)
	}
	for _, e := range p.Elements {
		if e.Kind == plan.Subject && text != "♥" {
			assert.NotEqual(t, plan.Rod, e.Form, "%s: part %d", text, e.Number)
		}
	}
}

func BenchmarkLetters(b *testing.B) {
	for b.Loop() {
		data, err := letters.Draw("A & B", artwork.RGB{0xb0, 0x20, 0x30})
		require.NoError(b, err)
		require.NotEmpty(b, data)
	}
}
