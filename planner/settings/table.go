package settings

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	toml "github.com/pelletier/go-toml/v2"
)

// Table is a part of a file, of which each known key is asked for once.
type Table struct {
	f      *File
	path   string // entries of lists are numbered
	shown  string // the path as people write it
	values map[string]any
	known  map[string]bool
}

// Root is the whole file.
func (f *File) Root() *Table { return &Table{f, "", "", f.doc, map[string]bool{}} }

// Path of a key of the table.
func (t *Table) Path(key string) string { return strings.TrimPrefix(t.path+"."+key, ".") }

// Fault notes what is wrong with a key.
func (t *Table) Fault(key, format string, a ...any) { t.f.Fault(t.Path(key), format, a...) }

// Line of a key.
func (t *Table) Line(key string) int { return t.f.Line(t.Path(key)) }

// Value of a key, which is known from now on.
func (t *Table) Value(key string) (any, bool) {
	t.known[key] = true
	v, ok := t.values[key]
	return v, ok
}

// Has tells whether the table holds a key.
func (t *Table) Has(key string) bool {
	_, ok := t.values[key]
	return ok
}

// Keys that the table holds, in order.
func (t *Table) Keys() []string {
	out := make([]string, 0, len(t.values))
	for k := range t.values {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// Table below a key; nil when there is none.
func (t *Table) Table(key string) *Table {
	v, ok := t.Value(key)
	if !ok {
		return nil
	}
	m, ok := v.(map[string]any)
	if !ok {
		t.Fault(key, "%s is a section: write [%s] and its settings below it", t.Path(key), t.Path(key))
		return nil
	}
	return &Table{t.f, t.Path(key), t.name(key), m, map[string]bool{}}
}

// Tables of an array of tables.
func (t *Table) Tables(key string, most int) []*Table {
	v, ok := t.Value(key)
	if !ok {
		return nil
	}
	list, ok := v.([]any)
	if !ok || len(list) > most {
		t.Fault(key, "%s is a list of at most %d: write [[%s]] above each", t.Path(key), most, t.Path(key))
		return nil
	}
	var out []*Table
	for i, x := range list {
		m, ok := x.(map[string]any)
		if !ok {
			t.Fault(key, "%s is a list of tables: write [[%s]] above each", t.Path(key), t.Path(key))
			return nil
		}
		out = append(out, &Table{t.f, t.Path(key) + "." + strconv.Itoa(i), t.name(key), m, map[string]bool{}})
	}
	return out
}

// Number in a range.
func (t *Table) Number(key string, lo, hi float64, to *float64) {
	v, ok := t.Value(key)
	if !ok {
		return
	}
	var n float64
	switch v := v.(type) {
	case int64:
		n = float64(v)
	case float64:
		n = v
	default:
		t.Fault(key, "%s is not a number; allowed is %s to %s", t.name(key), plain(lo), plain(hi))
		return
	}
	if !(n >= lo && n <= hi) {
		t.Fault(key, "%s is %s; allowed is %s to %s", t.name(key), plain(n), plain(lo), plain(hi))
		return
	}
	*to = n
}

// plain writes a number without an exponent, as people do.
func plain(v float64) string {
	if math.Abs(v) >= 1e15 {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	return strconv.FormatFloat(v+0, 'f', -1, 64)
}

// Whole number in a range.
func (t *Table) Whole(key string, lo, hi int, to *int) {
	v := math.NaN()
	t.Number(key, float64(lo), float64(hi), &v)
	if math.IsNaN(v) {
		return
	}
	if v != math.Trunc(v) {
		t.Fault(key, "%s is %s; allowed is a whole number from %d to %d", t.name(key), plain(v), lo, hi)
		return
	}
	*to = int(v)
}

// Text of at most so many characters, without control characters.
func (t *Table) Text(key string, most int, to *string) {
	v, ok := t.Value(key)
	if !ok {
		return
	}
	s, isText := v.(string)
	if !isText || !Plain(s, most) {
		t.Fault(key, "%s is not a text; allowed are 1 to %d characters in quotes, no control characters or direction marks", t.name(key),
			most)
		return
	}
	*to = s
}

// Plain tells whether a text says something in so many characters, none of them a control character.
func Plain(s string, most int) bool {
	return strings.ContainsFunc(s, func(r rune) bool { return unicode.IsGraphic(r) && !unicode.IsSpace(r) }) &&
		utf8.RuneCountInString(s) <= most &&
		!strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }) &&
		utf8.ValidString(s)
}

// Texts is a list of texts.
func (t *Table) Texts(key string, count, most int, to *[]string) {
	v, ok := t.Value(key)
	if !ok {
		return
	}
	list, isList := v.([]any)
	out := []string{}
	for _, x := range list {
		s, isText := x.(string)
		isList = isList && isText && Plain(s, most)
		out = append(out, s)
	}
	if !isList || len(list) > count {
		t.Fault(key, "%s is a list of at most %d texts like [\"milk\", \"nuts\"], each of 1 to %d characters",
			t.name(key), count, most)
		return
	}
	*to = out
}

// OneOf some words.
func (t *Table) OneOf(key string, words []string, to *string) {
	v, ok := t.Value(key)
	if !ok {
		return
	}
	s, isText := v.(string)
	if !isText || !slices.Contains(words, s) {
		t.Fault(key, "%s is %v; allowed are %s", t.name(key), v, quoted(words))
		return
	}
	*to = s
}

// Date of a day, written 2026-12-05; the zero value is none.
func (t *Table) Date(key string, to *toml.LocalDate) {
	v, ok := t.Value(key)
	if !ok {
		return
	}
	d, isDate := v.(toml.LocalDate)
	if !isDate {
		t.Fault(key, "%s is not a day; write it like 2026-12-05, without quotes", t.name(key))
		return
	}
	*to = d
}

// name of a key as people write it.
func (t *Table) name(key string) string { return strings.TrimPrefix(t.shown+"."+key, ".") }

// Done notes every key that was not asked for.
func (t *Table) Done() {
	var known []string
	for k := range t.known {
		known = append(known, k)
	}
	sort.Strings(known)
	for _, k := range t.Keys() {
		if !t.known[k] {
			name := t.name(k)
			if k == "" || strings.Contains(k, ".") { // quoted: no setting's name, though it may read like one
				name = strconv.Quote(k)
			}
			meant := ""
			if near := Nearest(k, known); near != "" {
				meant = " (" + near + "?)"
			}
			t.Fault(k, "unknown setting %s%s; allowed here are %s", name, meant, strings.Join(known, ", "))
		}
	}
}

func quoted(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = strconv.Quote(w)
	}
	return strings.Join(out, ", ")
}
