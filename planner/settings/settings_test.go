package settings_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	toml "github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/settings"
)

// values that a file may hold.
type values struct {
	number float64
	whole  int
	text   string
	texts  []string
	word   string
	day    toml.LocalDate
	inner  float64
	list   []float64
}

func read(text string) (v values, f *settings.File, err error) {
	if f, err = settings.Parse([]byte(text)); err != nil {
		return v, nil, err
	}
	t := f.Root()
	t.Number("number", 0, 10, &v.number)
	t.Whole("whole", 1, 9, &v.whole)
	t.Text("text", 12, &v.text)
	t.Texts("texts", 2, 12, &v.texts)
	t.OneOf("word", []string{"clear", "pulled"}, &v.word)
	t.Date("day", &v.day)
	if in := t.Table("inner"); in != nil {
		in.Number("number", 0, 10, &v.inner)
		in.Done()
	}
	for _, l := range t.Tables("list", 2) {
		var x float64
		l.Number("number", 0, 10, &x)
		v.list = append(v.list, x)
		l.Done()
	}
	t.Done()
	return v, f, f.Faults()
}

// A whole file is read as TOML 1.0 has it.
func TestReads(t *testing.T) {
	v, f, err := read(`number = 2.5
whole = 3
text = "rose"
texts = ["a", "b"]
word = "pulled"
day = 2026-05-04

[inner]
number = 4

[[list]]
number = 5
[[list]]
number = 6
`)
	require.NoError(t, err)
	assert.Equal(
		t,
		values{
			2.5,
			3,
			"rose",
			[]string{"a", "b"},
			"pulled",
			toml.LocalDate{Year: 2026, Month: 5, Day: 4},
			4,
			[]float64{5, 6},
		},
		v,
	)
	assert.True(t, f.Given("inner.number"))
	assert.False(t, f.Given("inner.other"))
	assert.Equal(t, 9, f.Line("inner.number"))
	assert.True(t, f.Root().Has("text"))
	assert.Contains(t, f.Root().Keys(), "word")
	assert.Equal(t, 2, f.Root().Line("whole"))
}

// Every fault is told, with its line and what is allowed, all at once.
func TestFaults(t *testing.T) {
	_, _, err := read(`number = 11
whole = 2.5
text = "a text that is far too long"
texts = ["a", "b", "c"]
word = "shiny"
day = "tomorrow"
colour = "red"

[inner]
number = "four"

[[list]]
[[list]]
[[list]]
`)
	var faults settings.Faults
	require.ErrorAs(t, err, &faults)
	lines := map[int]bool{}
	for _, f := range faults {
		lines[f.Line] = true
	}
	for i := 1; i <= 7; i++ {
		assert.True(t, lines[i], "line %d: %v", i, err)
	}
	assert.True(t, lines[10], err)
	assert.ErrorContains(t, err, "clear")
	assert.ErrorContains(t, err, "unknown setting colour")
	in := faults.In("shop.toml")
	assert.True(t, strings.HasPrefix(in.Error(), "shop.toml:"), in.Error())
	assert.Equal(t, "", faults[0].File, "the list itself is as it was")
}

// What is no TOML is told with its line; a key that is given twice too; a file that is far too large is not read.
func TestBroken(t *testing.T) {
	for _, bad := range []string{"a = ", "a = 1\na = 2\n", "[a\n", "a = \x00"} {
		_, err := settings.Parse([]byte(bad))
		assert.Error(t, err, bad)
	}
	_, err := settings.Parse(make([]byte, 1<<17))
	assert.ErrorContains(t, err, "more than")
	_, _, err = read("text = \"a\\u0007b\"\n")
	assert.Error(t, err)
	assert.True(t, settings.Plain("Grün 7", 12))
	assert.False(t, settings.Plain("a\nb", 12))
}

// Only plain files are read.
func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a.toml")
	require.NoError(t, os.WriteFile(name, []byte("a = 1\n"), 0o644))
	data, err := settings.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "a = 1\n", string(data))
	_, err = settings.ReadFile(dir)
	assert.ErrorContains(t, err, "plain file")
	_, err = settings.ReadFile(filepath.Join(dir, "none"))
	assert.Error(t, err)
}

// FuzzParse: whatever the bytes, a file or its faults.
func FuzzParse(f *testing.F) {
	f.Add("number = 3\n[[list]]\n")
	f.Fuzz(func(t *testing.T, text string) { _, _, _ = read(text) })
}

// A number is put in where it stands, with its comment; in its section where it is new; in a section of its own where that is new.
func TestSet(t *testing.T) {
	text := "[a]\nlay = 0.3  # minutes\n[b]\nlay = 7\n"
	assert.Equal(t, "[a]\nlay = 0.41  # minutes\n[b]\nlay = 7\n", string(settings.Set([]byte(text), "a", "lay", "0.41")))
	assert.Equal(t, "[a]\nlay = 0.3  # minutes\n[b]\nlay = 8\n", string(settings.Set([]byte(text), "b", "lay", "8")))
	assert.Equal(t, "[a]\nlay = 0.3  # minutes\nturn = 1\n[b]\nlay = 7\n", string(settings.Set([]byte(text), "a", "turn", "1")))
	assert.Equal(t, text+"\n[c]\nlay = 1\n", string(settings.Set([]byte(text), "c", "lay", "1")))
	_, err := settings.Parse(settings.Set(nil, "c", "lay", "1"))
	assert.NoError(t, err)
}
