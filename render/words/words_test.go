package words

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every language has the same keys, with the same places to fill.
func TestLanguagesHaveTheSameKeys(t *testing.T) {
	require.Equal(t, []string{"de", "en"}, Codes())
	en := English()
	for _, code := range Codes() {
		other, ok := In(code)
		require.True(t, ok)
		require.Equal(t, en.Keys(), other.Keys(), code)
		for _, k := range en.Keys() {
			a, b := place.FindAllString(en.Raw(k), -1), place.FindAllString(other.Raw(k), -1)
			slices.Sort(a)
			slices.Sort(b)
			assert.Equal(t, slices.Compact(a), slices.Compact(b), "%s: %s", code, k)
		}
	}
}

var spoken = regexp.MustCompile(`(?:Text|P|Raw)\("([a-z]+\.[a-z_-]+)"`)

// Every key that the code names is in the table.
func TestKeysThatAreSaidExist(t *testing.T) {
	en := English()
	named := map[string]bool{}
	for _, root := range []string{"..", "../../cmd"} {
		err := filepath.WalkDir(root, func(name string, d os.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			data, err := os.ReadFile(name)
			for _, m := range spoken.FindAllStringSubmatch(string(data), -1) {
				named[m[1]] = true
				if !strings.HasSuffix(m[1], "_") {
					assert.NotEmpty(t, en.Raw(m[1]), "%s says %s", name, m[1])
				}
			}
			return err
		})
		require.NoError(t, err)
	}
	assert.Greater(t, len(named), 120)
}

func TestSay(t *testing.T) {
	de, _ := In("de")
	p := P("part.several", All{3, "5", 6}).And(P("step.turn_it"))
	assert.Equal(t, "parts 3, 5 and 6; turn it each minute", English().Say(p))
	assert.Equal(t, "Teile 3, 5 und 6; jede Minute wenden", de.Say(p))
	assert.True(t, de.Has("step.turn_it"))
	assert.False(t, de.Has("step.no_such"))
	assert.Equal(t, "1,5", de.Number(1.5, 1))
	assert.Equal(t, "0.0", English().Number(-0.01, 1))
	assert.Equal(t, "dunkelrot", de.Name("dark red"))
	assert.Equal(t, "strawberry red", de.Name("strawberry red"), "a shop's own name stays")
	assert.Panics(t, func() { English().Text("no.such") })
}
