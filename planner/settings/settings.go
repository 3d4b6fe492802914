// Package settings reads TOML files that people write by hand: the shop's settings and the order.
//
// Guarantees: every fault of a file is listed, each with its line and what is allowed; what is asked for is known, all
// else is a fault; nothing is read beyond a bound.
package settings

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
	toml "github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// Faults are all that is wrong with a file, by line.
type Faults []Fault

// Fault is one thing that is wrong. Line is 0 where no line is at fault; File is "" until it is known.
type Fault struct {
	File string
	Line int
	Text string
}

func (f Faults) Error() string {
	var out []string
	for _, x := range f {
		switch {
		case x.File != "" && x.Line == 0:
			x.Text = x.File + ": " + x.Text
		case x.File != "":
			x.Text = fmt.Sprintf("%s:%d: %s", x.File, x.Line, x.Text)
		case x.Line > 0:
			x.Text = fmt.Sprintf("line %d: %s", x.Line, x.Text)
		}
		out = append(out, x.Text)
	}
	return strings.Join(out, "\n")
}

// In says in which file the faults are.
func (f Faults) In(file string) Faults {
	out := slices.Clone(f)
	for i := range out {
		if out[i].File == "" {
			out[i].File = file
		}
	}
	return out
}

// maxFile bounds a file, bytes: what people write by hand has a twentieth of it.
const maxFile = 1 << 16

// ReadFile reads a file of at most so many bytes; what is no plain file, a pipe for one, is not read.
func ReadFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a plain file", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxFile+1))
}

// File is a TOML file that has been parsed.
type File struct {
	doc    map[string]any
	lines  map[string]int
	faults Faults
}

// Parse a file. The error is of type Faults: where it is no TOML.
func Parse(data []byte) (*File, error) {
	if len(data) > maxFile {
		return nil, Faults{{"", 0, fmt.Sprintf("a file of more than %d bytes", maxFile)}}
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // some editors begin a file so
	f := &File{doc: map[string]any{}}
	if err := toml.Unmarshal(data, &f.doc); err != nil {
		var de *toml.DecodeError
		if errors.As(err, &de) {
			row, col := de.Position()
			if m := commaNumber.FindSubmatch(lineOf(data, row)); m != nil {
				return nil, Faults{{"", row, fmt.Sprintf("%s,%s: write a number with a point, like %s.%s", m[1], m[2], m[1], m[2])}}
			}
			return nil, Faults{{"", row, fmt.Sprintf("column %d: %s", col, strings.TrimPrefix(de.Error(), "toml: "))}}
		}
		return nil, Faults{{"", 0, err.Error()}}
	}
	f.lines = linesOf(data)
	return f, nil
}

// Set puts a number into a file's text, under a section: in place of the one that is there, comments kept, else in a line of its own.
func Set(data []byte, section, key, number string) []byte {
	lines := strings.Split(string(data), "\n")
	head := regexp.MustCompile(`^\s*\[` + regexp.QuoteMeta(section) + `\]`)
	line := regexp.MustCompile(`^(\s*` + regexp.QuoteMeta(key) + `\s*=\s*)[-+0-9._eE]+`)
	in, end := false, -1 // the section's last line
	for i, l := range lines {
		l := strings.TrimSpace(l)
		switch {
		case head.MatchString(l):
			in, end = true, i
		case in && line.MatchString(l):
			lines[i] = line.ReplaceAllString(lines[i], "${1}"+number)
			return []byte(strings.Join(lines, "\n"))
		case strings.HasPrefix(l, "["):
			in = false
		case in && l != "":
			end = i
		}
	}
	if end >= 0 {
		return []byte(strings.Join(slices.Insert(lines, end+1, key+" = "+number), "\n"))
	}
	return append(bytes.TrimRight(data, "\n"), []byte("\n\n["+section+"]\n"+key+" = "+number+"\n")...)
}

// commaNumber is a setting's number with a decimal comma.
var commaNumber = regexp.MustCompile(`=\s*([0-9]+),([0-9]+)\s*(?:#.*)?$`)

// lineOf a file, from 1.
func lineOf(data []byte, row int) []byte {
	lines := bytes.Split(data, []byte("\n"))
	if row < 1 || row > len(lines) {
		return nil
	}
	return bytes.TrimSpace(lines[row-1])
}

// Nearest of some names to one that is misspelt; "" where none is near.
func Nearest(name string, names []string) string {
	best, off := "", 1+len(name)/3
	for _, n := range names {
		d := levenshtein.ComputeDistance(name, n)
		if len(name) > 2 && strings.HasPrefix(n, name) {
			d = 1
		}
		if d < off || d == off && best == "" {
			best, off = n, d
		}
	}
	return best
}

// Fault notes what is wrong at a path.
func (f *File) Fault(path, format string, a ...any) {
	f.faults = append(f.faults, Fault{"", f.Line(path), fmt.Sprintf(format, a...)})
}

// Sort by line.
func (f Faults) Sort() {
	sort.SliceStable(f,
		func(i, j int) bool { return f[i].Line < f[j].Line || f[i].Line == f[j].Line && f[i].Text < f[j].Text })
}

// Faults noted so far, by line; nil when there is none.
func (f *File) Faults() error {
	if len(f.faults) == 0 {
		return nil
	}
	out := slices.Clone(f.faults)
	// Those of a line in the order of reading
	sort.SliceStable(out, func(i, j int) bool { return out[i].Line < out[j].Line })
	return out
}

// Given tells whether a path is in the file.
func (f *File) Given(path string) bool {
	at := any(f.doc)
	for _, k := range strings.Split(path, ".") {
		t, ok := at.(map[string]any)
		if !ok {
			return false
		}
		if at, ok = t[k]; !ok {
			return false
		}
	}
	return true
}

// Line of a path, else the first line of what lies below it, else that of the nearest table that holds it; 0 when there
// is none.
func (f *File) Line(path string) int {
	for path != "" {
		if l, ok := f.lines[path]; ok && l > 0 {
			return l
		}
		first := 0
		for k, l := range f.lines {
			if strings.HasPrefix(k, path+".") && (first == 0 || l < first) {
				first = l
			}
		}
		if first > 0 {
			return first
		}
		path = path[:max(0, strings.LastIndex(path, "."))]
	}
	return 0
}

// linesOf is the line of every key and table of a file that has been decoded without fault; entries of an array of
// tables are numbered from 0.
func linesOf(data []byte) map[string]int {
	out := map[string]int{}
	count := map[string]int{}
	var p unstable.Parser
	p.Reset(data)
	var table []string
	for p.NextExpression() {
		e := p.Expression()
		var path []string
		line := 0
		for it := e.Key(); it.Next(); {
			n := it.Node()
			path = append(path, string(n.Data))
			line = p.Shape(n.Raw).Start.Line
		}
		switch e.Kind {
		case unstable.ArrayTable:
			k := strings.Join(path, ".")
			path = append(path, strconv.Itoa(count[k]))
			count[k]++
			table = path
		case unstable.Table:
			table = path
		case unstable.KeyValue:
			path = append(append([]string(nil), table...), path...)
		}
		out[strings.Join(path, ".")] = line
	}
	return out
}
