// Package words holds the words of the sheets: one table a language, and phrases that are said in any of them.
//
// Guarantees: every table has the same keys with the same places to fill (checked by test); a second language is one file beside this one.
package words

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

//go:embed *.toml
var files embed.FS

// Table is the words of one language.
type Table struct {
	Code  string // as in ISO 639-1
	say   map[string]string
	point string
}

// Phrase is something to say: a key of the table, what fills its places, and what is said after it.
type Phrase struct {
	Key  string
	Args []any // string, int, Phrase, Number, Name or All
	Then []Phrase
}

// P is a phrase.
func P(key string, args ...any) Phrase { return Phrase{Key: key, Args: args} }

// And is the phrase with another said after it.
func (p Phrase) And(q Phrase) Phrase {
	p.Then = append(p.Then[:len(p.Then):len(p.Then)], q)
	return p
}

// Has tells whether a key is said in a phrase.
func (p Phrase) Has(key string) bool {
	for _, q := range p.Then {
		if q.Has(key) {
			return true
		}
	}
	return p.Key == key
}

// Number is said with so many decimals.
type Number struct {
	Value  float64
	Digits int
}

// Name of a colour: said in the language where the table has it, else as it is, since it is the shop's own.
type Name string

// All is said as a list.
type All []any

var tables = sync.OnceValue(func() map[string]*Table {
	names, err := fs.Glob(files, "*.toml")
	if err != nil {
		panic("internal: " + err.Error())
	}
	out := map[string]*Table{}
	for _, n := range names {
		data, err := files.ReadFile(n)
		if err != nil {
			panic("internal: " + err.Error())
		}
		t := &Table{Code: strings.TrimSuffix(path.Base(n), ".toml"), say: map[string]string{}}
		sections := map[string]map[string]string{}
		if err := toml.Unmarshal(data, &sections); err != nil {
			panic("internal: " + n + ": " + err.Error()) // checked by test
		}
		for s, keys := range sections {
			for k, v := range keys {
				t.say[s+"."+k] = v
			}
		}
		t.point = t.say["number.point"]
		out[t.Code] = t
	}
	return out
})

// English is the table that the plan file speaks.
func English() *Table { return tables()["en"] }

// In is the table of a language.
func In(code string) (*Table, bool) {
	t, ok := tables()[strings.ToLower(code)]
	return t, ok
}

// Codes of the languages, in order.
func Codes() []string {
	var out []string
	for c := range tables() {
		out = append(out, c)
	}
	sort.Strings(out)
	return out
}

// Keys of a table, in order.
func (t *Table) Keys() []string {
	var out []string
	for k := range t.say {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// Raw is what a key stands for, its places not filled.
func (t *Table) Raw(key string) string { return t.say[key] }

// Text is a phrase of a key, said.
func (t *Table) Text(key string, args ...any) string { return t.Say(P(key, args...)) }

var place = regexp.MustCompile(`\{([0-9])\}`)

// Say a phrase. A key that the table lacks is a fault of ours.
func (t *Table) Say(p Phrase) string {
	text, ok := t.say[p.Key]
	if !ok {
		panic("internal: no words for " + p.Key)
	}
	out := place.ReplaceAllStringFunc(text, func(s string) string {
		if n := int(s[1] - '1'); n >= 0 && n < len(p.Args) {
			return t.one(p.Args[n])
		}
		return s
	})
	for _, q := range p.Then {
		out += t.Say(q)
	}
	return out
}

func (t *Table) one(a any) string {
	switch a := a.(type) {
	case Phrase:
		return t.Say(a)
	case Number:
		return t.Number(a.Value, a.Digits)
	case Name:
		return t.Name(string(a))
	case All:
		var out []string
		for _, x := range a {
			out = append(out, t.one(x))
		}
		if n := len(out); n > 1 {
			return strings.Join(out[:n-1], ", ") + " " + t.say["number.and"] + " " + out[n-1]
		}
		return strings.Join(out, "")
	}
	return fmt.Sprint(a)
}

// Number says a number with so many decimals.
func (t *Table) Number(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, ".", t.point, 1)
}

// Name says the name of a colour.
func (t *Table) Name(name string) string {
	if s, ok := t.say["colour."+strings.ReplaceAll(name, " ", "_")]; ok {
		return s
	}
	return name
}
