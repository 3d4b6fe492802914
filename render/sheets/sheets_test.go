package sheets_test

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/planner"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/words"
	"sugarwright/render/page"
	"sugarwright/render/proof"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
)

// compiled is the plan of a drawing with two faces foreseen, or nil when it cannot be built as drawn.
func compiled(t testing.TB, name string) *plan.Plan {
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	white := artwork.RGB{255, 255, 255}
	res, err := planner.Compile(filepath.Base(name), data, planner.Options{Shop: shop.Default(), Ground: white, Jacket: white, Faces: 2})
	require.NoError(t, err)
	if res.Plan.Verdict != planner.AsDrawn {
		return nil
	}
	return res.Plan
}

// plans are those of all examples and of all reference drawings that build, compiled once.
var plans = sync.OnceValue(func() map[string]*plan.Plan {
	out := map[string]*plan.Plan{}
	var names []string
	for _, pattern := range []string{"../../examples/*/artwork.svg", "../../testdata/reference/*.svg"} {
		found, _ := filepath.Glob(pattern)
		names = append(names, found...)
	}
	var mu sync.Mutex
	var wg sync.WaitGroup
	queue := make(chan string)
	for range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for n := range queue {
				if p := compiled(new(testing.T), n); p != nil {
					mu.Lock()
					out[filepath.Base(filepath.Dir(n))+"/"+filepath.Base(n)] = p
					mu.Unlock()
				}
			}
		}()
	}
	for _, n := range names {
		queue <- n
	}
	close(queue)
	wg.Wait()
	return out
})

// styles to print in: each paper, unit, language and ink at least once.
func styles(t testing.TB) []sheet.Style {
	de, ok := words.In("de")
	require.True(t, ok)
	return []sheet.Style{{Paper: sheet.Papers["a4"]}, {Paper: sheet.Papers["letter"], US: true}, {Paper: sheet.Papers["a4"], Words: de}, {Paper: sheet.Papers["letter"], Black: true}}
}

// Every sheet of every plan can be read: nothing in the margins, no text too small, none over another, no leader over a leader or a text, no label off its part.
func TestSheetsCanBeRead(t *testing.T) {
	all := plans()
	require.GreaterOrEqual(t, len(all), 4+33)
	for name, p := range all {
		for i, s := range styles(t) {
			count := 0
			for _, x := range append(sheets.Working(p, s), sheets.Sheet{Name: "proof", Pages: proof.Pages(p, s, nil)}) {
				require.NotEmpty(t, x.Pages, "%s %s", name, x.Name)
				for k, pg := range x.Pages {
					if err := pg.Check(); err != nil {
						t.Errorf("%s, style %d, %s, page %d: %v", name, i, x.Name, k+1, err)
					}
					count++
				}
			}
			assert.Less(t, count, 120, "%s: too many pages to hang up", name)
		}
	}
}

// Every part has its number on the assembly diagram once for each place where it lies, and on the parts list once.
func TestEveryPartIsNumbered(t *testing.T) {
	for name, p := range plans() {
		want := map[string]int{}
		for _, e := range p.Elements {
			want[fmt.Sprint(e.Number)]++
		}
		for _, x := range sheets.Working(p, styles(t)[0]) {
			got := map[string]int{}
			for _, pg := range x.Pages {
				for _, it := range pg.Items {
					if it.Text != nil && it.Text.Bold && it.Text.Size == sheet.NumberSize {
						got[it.Text.Text]++
					}
				}
			}
			for n, places := range want {
				switch x.Name {
				case "assembly":
					assert.GreaterOrEqual(t, got[n], places, "%s: part %s on the assembly diagram", name, n)
				case "parts":
					assert.Equal(t, 1, got[n], "%s: part %s on the parts list", name, n)
				}
			}
		}
	}
}

var _ = page.Point{}
