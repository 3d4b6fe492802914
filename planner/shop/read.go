package shop

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	toml "github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"sugarwright/geom/artwork"
)

// Faults are all that is wrong with a shop file, by line.
type Faults []Fault

// Fault is one thing that is wrong. Line is 0 where no line is at fault.
type Fault struct {
	Line int
	Text string
}

func (f Faults) Error() string {
	var out []string
	for _, x := range f {
		if x.Line > 0 {
			x.Text = fmt.Sprintf("line %d: %s", x.Line, x.Text)
		}
		out = append(out, x.Text)
	}
	return strings.Join(out, "\n")
}

// maxDose of a colour, grams a kilogram: beyond it a unit was mistaken.
const maxDose = 50

// maxFile bounds a shop file, bytes.
const maxFile = 1 << 20

// Read overlays a TOML file on the defaults. The error is of type Faults: every fault with its line and what is allowed.
func Read(data []byte) (*Shop, error) {
	if len(data) > maxFile {
		return nil, Faults{{0, fmt.Sprintf("a shop file of more than %d bytes", maxFile)}}
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // some editors begin a file so
	s := &Shop{Colours: map[artwork.RGB]Colour{}}
	if _, faults := s.overlay(defaults); len(faults) > 0 {
		return nil, faults
	}
	lines, faults := s.overlay(data)
	if lines != nil {
		faults = append(faults, s.settle(lines)...)
	}
	if len(faults) > 0 {
		sort.SliceStable(faults, func(i, j int) bool { return faults[i].Line < faults[j].Line })
		return nil, faults
	}
	return s, nil
}

// overlay takes the values of a file; it returns the line of every key in it.
func (s *Shop) overlay(data []byte) (map[string]int, Faults) {
	doc := map[string]any{}
	if err := toml.Unmarshal(data, &doc); err != nil {
		var de *toml.DecodeError
		if errors.As(err, &de) {
			row, col := de.Position()
			return nil, Faults{{row, fmt.Sprintf("column %d: %s", col, strings.TrimPrefix(de.Error(), "toml: "))}}
		}
		return nil, Faults{{0, err.Error()}}
	}
	lines := linesOf(data)
	known := map[string]setting{}
	for _, x := range s.settings() {
		known[x.path] = x
	}
	var faults Faults
	fault := func(path, format string, a ...any) {
		faults = append(faults, Fault{lineOf(lines, path), fmt.Sprintf(format, a...)})
	}
	var paths []string
	var walk func(path string, v any)
	walk = func(path string, v any) {
		paths = append(paths, path)
		x, ok := known[path]
		switch table, isTable := v.(map[string]any); {
		case path == "colours" && isTable:
			s.colours(table, fault)
		case path == "log.outline":
			if v != "stick" && v != "slip" {
				fault(path, "log.outline is %v; allowed are \"stick\" and \"slip\"", v)
			}
			s.Slip = v == "slip"
		case ok:
			take(x, v, fault)
		case isTable && (path == "" || section(known, path)):
			for _, k := range keys(table) {
				if k == "" || strings.Contains(k, ".") { // quoted: no setting's name, though it may read like one
					fault(strings.TrimPrefix(path+"."+k, "."), "unknown setting %q", k)
					continue
				}
				walk(strings.TrimPrefix(path+"."+k, "."), table[k])
			}
		case path == "colours" || section(known, path):
			fault(path, "%s is a section: write [%s] and its settings below it", path, path)
		default:
			fault(path, "unknown setting %s", path)
		}
	}
	walk("", doc)
	for _, path := range paths { // also of what stands in inline tables
		lines[path] = lineOf(lines, path)
	}
	return lines, faults
}

// take puts a value in its place when it is a number in its range.
func take(x setting, v any, fault func(path, format string, a ...any)) {
	var n float64
	switch v := v.(type) {
	case int64:
		n = float64(v)
	case float64:
		n = v
	default:
		fault(x.path, "%s is not a number; allowed is %g to %g", x.path, x.lo, x.hi)
		return
	}
	if !(n >= x.lo && n <= x.hi) {
		fault(x.path, "%s is %g; allowed is %g to %g", x.path, n, x.lo, x.hi)
		return
	}
	if x.f != nil {
		*x.f = n
		return
	}
	if n != math.Trunc(n) {
		fault(x.path, "%s is %g; allowed is a whole number from %g to %g", x.path, n, x.lo, x.hi)
		return
	}
	*x.i = int(n)
}

// maxName bounds the name of a colour, characters.
const maxName = 40

func (s *Shop) colours(table map[string]any, fault func(path, format string, a ...any)) {
	seen := map[artwork.RGB]string{}
	for _, hex := range keys(table) {
		path := "colours." + hex
		rgb, ok := artwork.ParseColour(hex)
		if !ok {
			fault(path, "colours: %q is not a colour", hex)
		} else if other, twice := seen[rgb]; twice {
			fault(path, "colours: %q is the same colour as %q; give it once", hex, other)
		}
		seen[rgb] = hex
		entry, isTable := table[hex].(map[string]any)
		name, named := entry["name"].(string)
		finish, finished := entry["finish"].(string)
		for _, k := range keys(entry) {
			if k != "name" && k != "finish" && k != "dose_g_per_kg" {
				fault(path, "colours: unknown setting %s of %q", k, hex)
			}
		}
		if named && (strings.TrimSpace(name) == "" || utf8.RuneCountInString(name) > maxName || strings.ContainsFunc(name, unicode.IsControl)) {
			fault(path, "colours: the name of %q is empty, longer than %d characters or holds control characters", hex, maxName)
		}
		if !isTable || !named {
			fault(path, "colours: %q needs a name, like { name = \"strawberry red\", finish = \"clear\" }", hex)
		}
		if f := Finish(finish); isTable && (!finished || f != Pulled && f != Clear) {
			fault(path, "colours: finish of %q is %q; allowed are pulled and clear", hex, finish)
		}
		own := Colour{Name: name, Finish: Finish(finish)}
		if v, given := entry["dose_g_per_kg"]; given {
			take(setting{path: path, hi: maxDose, f: &own.DoseGPerK}, v, fault)
		}
		s.Colours[rgb] = own
	}
}

// section tells whether some setting lies below a path.
func section(known map[string]setting, path string) bool {
	for k := range known {
		if strings.HasPrefix(k, path+".") {
			return true
		}
	}
	return false
}

func keys(m map[string]any) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// linesOf is the line of every key and table of a file that has been decoded without fault.
func linesOf(data []byte) map[string]int {
	out := map[string]int{}
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
		case unstable.Table, unstable.ArrayTable:
			table = path
		case unstable.KeyValue:
			path = append(append([]string(nil), table...), path...)
		}
		out[strings.Join(path, ".")] = line
	}
	return out
}

// lineOf is the line of a path, else the first line of what lies below it, else that of the nearest table that holds it.
func lineOf(lines map[string]int, path string) int {
	for path != "" {
		if l, ok := lines[path]; ok && l > 0 {
			return l
		}
		first := 0
		for k, l := range lines {
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
