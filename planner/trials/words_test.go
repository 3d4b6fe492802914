//go:build trials

package trials_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom/artwork"
	"sugarwright/geom/letters"
	"sugarwright/planner"
)

// Names and words as clients order them, in our letters: what can be built by whom, and what cannot. None of up
// to nine letters is too thin for sugar; of those that are refused the table says why.
func TestWords(t *testing.T) {
	words := []struct {
		text  string
		small bool
	}{
		{"LOVE", false}, {"love", true}, {"Zoé", true}, {"JÖRG", false}, {"HELLO", false}, {"30!", false}, {"Anna", true}, {"ANNA & TOM", false},
		{"Anna & Tom", true}, {"LEA ♥ JAN", false}, {"Lea ♥ Jan", true}, {"WEDDING", false}, {"THANK YOU", false}, {"MR & MRS", false},
		{"JUST/MARRIED", false}, {"EMMA+NOAH", false},
	}
	crews := []struct {
		grams float64
		crew  int
	}{{6000, 2}, {6000, 4}}
	cells := make([]string, len(words)*len(crews))
	todo := make(chan int)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for at := range todo {
				w, c := words[at/len(crews)], crews[at%len(crews)]
				data, err := letters.Draw(w.text, artwork.RGB{0xb0, 0x20, 0x30}, w.small)
				assert.NoError(t, err)
				st := options()
				st.Order.WeightG, st.Shop.Crew = c.grams, c.crew
				res, err := planner.Compile("word.svg", data, st)
				if !assert.NoError(t, err, w.text) {
					continue
				}
				p := res.Plan
				for _, f := range p.Findings {
					if f.Severity == "error" {
						cells[at] = f.Code
						if len([]rune(w.text)) <= 9 {
							assert.NotContains(t, []string{"too-thin", "gap-too-thin", "counter-closes", "near-rim"}, f.Code, w.text)
						}
						break
					}
				}
				if cells[at] == "" {
					cells[at] = fmt.Sprintf("%d, %d, %.0f", p.Index().Distinct(), len(p.Elements), float64(p.Clock.RoundMin))
				}
			}
		})
	}
	for i := range cells {
		todo <- i
	}
	close(todo)
	wg.Wait()
	var b strings.Builder
	b.WriteString("Words in our own letters, planned for pieces of 15 mm; by log and pairs of hands: parts made, laid, and the minute at which the log is round; or the finding that refuses it.\n\n| text | 6 kg, 2 | 6 kg, 4 |\n|---|---|---|\n")
	planned := 0
	for i, w := range words {
		row := cells[i*len(crews) : (i+1)*len(crews)]
		fmt.Fprintf(&b, "| %s | %s |\n", w.text, strings.Join(row, " | "))
		if strings.Contains(row[1], ",") {
			planned++
		}
	}
	assert.GreaterOrEqual(t, planned, 11, "planned for four pairs of hands")
	t.Log(b.String())
	if *update {
		table(t, "words", b.String())
	}
}
