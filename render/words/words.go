// Package words holds every sentence that a person reads, on a sheet or on the terminal: one table a language, and
// phrases that are said in any of them.
//
// Guarantees: every table has the same keys with the same places to fill (checked by test); a second language is one
// file beside this one. A place is {1} to {9}: {1.2} prints a number with two decimals, {1+} with its sign, {1c} a
// colour's name in the language.
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
	"sugarwright/geom/finding"
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
	Args []any // string, int, float64, []string, Phrase, Number, Name or All
	Then []Phrase
}

// P is a phrase.
func P(key string, args ...any) Phrase { return Phrase{Key: key, Args: args} }

// And is the phrase with another said after it.
func (p Phrase) And(q Phrase) Phrase {
	p.Then = append(p.Then[:len(p.Then):len(p.Then)], q)
	return p
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
		panic(finding.Impossible("%v", err))
	}
	out := map[string]*Table{}
	for _, n := range names {
		data, err := files.ReadFile(n)
		if err != nil {
			panic(finding.Impossible("%v", err))
		}
		t := &Table{Code: strings.TrimSuffix(path.Base(n), ".toml"), say: map[string]string{}}
		sections := map[string]map[string]string{}
		if err := toml.Unmarshal(data, &sections); err != nil {
			panic(finding.Impossible("%s: %v", n, err)) // checked by test
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

// Has tells whether the table has words for a key.
func (t *Table) Has(key string) bool { return t.say[key] != "" }

// Fits tells whether the table has words for a key, and as many things are named as they have places for.
func (t *Table) Fits(key string, named int) bool {
	for _, m := range place.FindAllStringSubmatch(t.say[key], -1) {
		if int(m[1][0]-'0') > named {
			return false
		}
	}
	return t.Has(key)
}

// Raw is what a key stands for, its places not filled.
func (t *Table) Raw(key string) string { return t.say[key] }

// Text is a phrase of a key, said.
func (t *Table) Text(key string, args ...any) string { return t.Say(P(key, args...)) }

var place = regexp.MustCompile(`\{([1-9])(?:\.([0-9])|([c+]))?\}`)

// Say a phrase. A key that the table lacks is a fault of ours.
func (t *Table) Say(p Phrase) string {
	text, ok := t.say[p.Key]
	if !ok {
		panic(finding.Impossible("no words for %s", p.Key))
	}
	out := place.ReplaceAllStringFunc(text, func(s string) string {
		m := place.FindStringSubmatch(s)
		n := int(m[1][0] - '1')
		if n >= len(p.Args) {
			return s
		}
		return t.filled(p.Args[n], m[2], m[3])
	})
	for _, q := range p.Then {
		out += t.Say(q)
	}
	return out
}

// filled is what stands in a place: with so many decimals, as a colour's name, or with its sign.
func (t *Table) filled(a any, digits, as string) string {
	v, number := a.(float64)
	if k, whole := a.(int); whole {
		v, number = float64(k), true
	}
	switch name, text := a.(string); {
	case number && digits != "":
		return t.Number(v, int(digits[0]-'0'))
	case number && as == "+" && v >= 0:
		return "+" + t.Number(v, 0)
	case number && as == "+":
		return t.Number(v, 0)
	case text && as == "c":
		return t.Name(name)
	}
	return t.one(a)
}

// list says several things with commas, and the word for "and" before the last.
func (t *Table) list(said []string) string {
	if n := len(said); n > 1 {
		return strings.Join(said[:n-1], ", ") + " " + t.say["number.and"] + " " + said[n-1]
	}
	return strings.Join(said, "")
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
		return t.list(out)
	case []string:
		return t.list(a)
	case []any:
		return t.one(All(a))
	case float64:
		return strings.Replace(strconv.FormatFloat(a, 'g', 6, 64), ".", t.point, 1)
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
	for _, shade := range []string{"light", "dark"} {
		if rest, ok := strings.CutPrefix(name, shade+" "); ok {
			return t.Text("shade."+shade, t.Name(rest))
		}
	}
	if i := strings.LastIndexByte(name, ' '); i > 0 && strings.Trim(name[i+1:], "0123456789") == "" {
		return t.Name(name[:i]) + name[i:]
	}
	return name
}
