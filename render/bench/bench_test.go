package bench_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/printed"
	"sugarwright/render/bench"
)

// One file that asks for nothing else, with a screen for each step and the cautions; its script is not broken by a
// title.
func TestPage(t *testing.T) {
	for name, p := range printed.Plans(t) {
		p.Artwork.Title = `</script><b>&"`
		for _, s := range printed.Styles(t) {
			data, err := bench.Page(p, s)
			require.NoError(t, err)
			text := string(data)
			asks := regexp.MustCompile(`(src|href)="[^#]|url\([^#]|@import|fetch\(`).FindString(text)
			assert.Empty(t, asks, name)
			assert.Equal(t, 1, strings.Count(text, "</script>"), name)
			assert.Contains(t, text, s.T().Raw("bench.next"), name)
		}
	}
}
