package artwork

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"sort"
	"strings"
	"unicode/utf8"

	"golang.org/x/net/html/charset"
)

// SyntaxError is a file that is not well-formed XML, not SVG, or over a bound.
type SyntaxError struct {
	Line, Column int
	Text         string
}

func (e *SyntaxError) Error() string {
	if e.Line == 0 {
		return e.Text
	}
	return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, e.Text)
}

// ReadFile reads an SVG file of at most MaxBytes.
func ReadFile(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return ReadFrom(f, name)
}

// ReadFrom is ReadFile of what is open already; name is for its error.
func ReadFrom(f io.Reader, name string) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%s has more than %d bytes, the most that are read (MaxBytes)", name, MaxBytes)
	}
	return data, nil
}

// source is a file's text in UTF-8 with its entities put in, and the way back from there to lines and columns.
type source struct {
	text    []byte
	lines   []int // offset in the file's own text of each line
	own     []byte
	anchors []anchor // where text and own run apart, in order
	last    mark     // the last place asked for
	outside []int    // where style sheets outside the file are asked for
}

// anchor is a place in the text from which offsets in the file count on; inside an entity all stand for its reference.
type anchor struct {
	at, own int
	frozen  bool
}

// mark is an offset in the file's own text and its column.
type mark struct{ at, column int }

// place is line and column, from 1, of an offset in the text.
func (s *source) place(at int) (line, column int) {
	if i := sort.Search(len(s.anchors), func(i int) bool { return s.anchors[i].at > at }) - 1; i >= 0 {
		a := s.anchors[i]
		if at = at - a.at + a.own; a.frozen {
			at = a.own
		}
	}
	at = max(0, min(at, len(s.own)))
	line = sort.Search(len(s.lines), func(i int) bool { return s.lines[i] > at })
	// Count on from the last place where that is nearer
	if from := s.lines[line-1]; s.last.at < from || s.last.at > at {
		s.last = mark{at: from, column: 1}
	}
	s.last = mark{at, s.last.column + utf8.RuneCount(s.own[s.last.at:at])}
	return line, s.last.column
}

func (s *source) fail(at int, format string, a ...any) error {
	l, c := s.place(at)
	return &SyntaxError{l, c, fmt.Sprintf(format, a...)}
}

// newSource unpacks, decodes and expands.
func newSource(data []byte) (*source, error) {
	if len(data) > MaxBytes {
		return nil, &SyntaxError{Text: fmt.Sprintf("more than %d bytes, the most that are read (MaxBytes)", MaxBytes)}
	}
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) { // svgz
		z, err := gzip.NewReader(bytes.NewReader(data))
		if err == nil {
			data, err = io.ReadAll(io.LimitReader(z, MaxBytes+1))
		}
		if err != nil {
			return nil, &SyntaxError{Text: "the file is packed (gzip) and cannot be unpacked: " + err.Error()}
		}
		if len(data) > MaxBytes {
			return nil, &SyntaxError{
				Text: fmt.Sprintf("more than %d bytes once unpacked, the most that are read (MaxBytes)", MaxBytes),
			}
		}
	}
	own, err := decoded(data)
	if err != nil {
		return nil, &SyntaxError{Text: err.Error()}
	}
	if v := []byte(`<?xml version="1.1"`); bytes.HasPrefix(own, v) { // to be read as 1.0, says the standard
		own = append([]byte(`<?xml version="1.0"`), own[len(v):]...)
	}
	s := &source{own: own, lines: []int{0}, last: mark{0, 1}}
	for i, c := range own {
		if c == '\n' || c == '\r' && (i+1 == len(own) || own[i+1] != '\n') {
			s.lines = append(s.lines, i+1)
		}
	}
	return s, s.expand()
}

var encodingName = regexp.MustCompile(`^<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["']`)

// decoded is the text in UTF-8, from its byte order mark or the encoding that it states.
func decoded(data []byte) ([]byte, error) {
	label := ""
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return data[3:], nil
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}), bytes.HasPrefix(data, []byte{0, '<'}):
		label = "utf-16be"
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{'<', 0}):
		label = "utf-16le"
	default:
		if m := encodingName.FindSubmatch(data[:min(len(data), 300)]); m != nil {
			label = strings.ToLower(string(m[1]))
		}
	}
	if label == "" || label == "utf-8" || label == "utf8" {
		return data, nil
	}
	r, err := charset.NewReaderLabel(label, bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("encoding %s is not read; save as UTF-8", label)
	}
	out, err := io.ReadAll(io.LimitReader(r, 2*MaxBytes))
	return bytes.TrimPrefix(out, []byte("\ufeff")), err
}

var errOutside = errors.New("entity lies outside the file; nothing outside is opened")

// entity is one declared in the internal subset.
type entity struct {
	text    string
	outside bool
}

var entityDecl = regexp.MustCompile(`<!ENTITY\s+([^\s%"'<>&;]+)\s+(?:"([^"]*)"|'([^']*)'|(SYSTEM|PUBLIC))`)

var comments = regexp.MustCompile(`(?s)<!--.*?-->`)

// subset is where the internal subset of the DOCTYPE lies, from "[" to "]"; ok is false where there is none.
func subset(own []byte) (from, to int, ok bool) {
	i := bytes.Index(own, []byte("<!DOCTYPE"))
	if i < 0 {
		return 0, 0, false
	}
	quote := byte(0)
	for from = i; i < len(own); i++ {
		switch c := own[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case bytes.HasPrefix(own[i:], []byte("<!--")):
			j := bytes.Index(own[i:], []byte("-->"))
			if j < 0 {
				return 0, 0, false
			}
			i += j + 2
		case c == '[':
			from = i
		case c == ']':
			return from, i, own[from] == '['
		case c == '>' && own[from] != '[':
			return 0, 0, false
		}
	}
	return 0, 0, false
}

// expand puts the internal subset's entities into the text: those that the standard knows are left to the XML reader.
// In attributes their quotes and angle brackets stay what they are, characters.
func (s *source) expand() error {
	s.text = s.own
	from, to, ok := subset(s.own)
	if !ok {
		return nil
	}
	known := map[string]entity{}
	for _, m := range entityDecl.FindAllStringSubmatch(comments.ReplaceAllString(string(s.own[from:to]), ""), -1) {
		if _, ok := known[m[1]]; !ok { // the first declaration binds
			known[m[1]] = entity{m[2] + m[3], m[4] != ""}
		}
	}
	if len(known) == 0 {
		return nil
	}
	x := &expander{known: known}
	out := append([]byte(nil), s.own[:to]...)
	var quote byte
	inTag := false
	for i := to; i < len(s.own); {
		rest := s.own[i:]
		skip := 1
		switch c := rest[0]; {
		case inTag && quote == 0 && (c == '"' || c == '\''):
			quote = c
		case inTag && quote == c:
			quote = 0
		case inTag && quote == 0 && c == '>':
			inTag = false
		case !inTag && bytes.HasPrefix(rest, []byte("<!--")):
			skip = until(rest, "-->")
		case !inTag && bytes.HasPrefix(rest, []byte("<![CDATA[")):
			skip = until(rest, "]]>")
		case !inTag && bytes.HasPrefix(rest, []byte("<?")):
			skip = until(rest, "?>")
		case !inTag && c == '<':
			inTag = true
		case c == '&' && (!inTag || quote != 0):
			name, n := reference(rest)
			if e, ok := known[name]; ok {
				text, err := x.full(e, 0)
				if x.grown += len(text); err == nil && x.grown > MaxEntities {
					err = errGrowth
				}
				if err != nil {
					s.text, s.anchors = s.own, nil
					return s.fail(i, "&%s;: %v", name, err)
				}
				if quote != 0 {
					text = inAttribute.Replace(text)
				}
				s.anchors = append(s.anchors, anchor{len(out), i, true})
				out = append(out, text...)
				i += n
				s.anchors = append(s.anchors, anchor{len(out), i, false})
				continue
			}
		}
		out = append(out, rest[:skip]...)
		i += skip
	}
	s.text = out
	return nil
}

var inAttribute = strings.NewReplacer("<", "&lt;", `"`, "&quot;", "'", "&apos;")

// until is the length up to and including the mark.
func until(b []byte, mark string) int {
	if i := bytes.Index(b, []byte(mark)); i >= 0 {
		return i + len(mark)
	}
	return len(b)
}

// reference is the name in "&name;" and the length of it all.
func reference(b []byte) (string, int) {
	if i := bytes.IndexByte(b[:min(len(b), 100)], ';'); i > 1 {
		return string(b[1:i]), i + 1
	}
	return "", 0
}

var errGrowth = fmt.Errorf("entities grow beyond %d bytes (MaxEntities)", MaxEntities)

// expander puts entities into entities.
type expander struct {
	known map[string]entity
	grown int
}

func (x *expander) full(e entity, depth int) (string, error) {
	if e.outside {
		return "", errOutside
	}
	if depth > MaxReferences {
		return "", fmt.Errorf("entities nested deeper than %d, or in a circle (MaxReferences)", MaxReferences)
	}
	if !strings.Contains(e.text, "&") {
		return e.text, nil
	}
	var b strings.Builder
	for t := e.text; t != ""; {
		i := strings.IndexByte(t, '&')
		if i < 0 {
			b.WriteString(t)
			break
		}
		b.WriteString(t[:i])
		name, n := reference([]byte(t[i:]))
		inner, ok := x.known[name]
		if !ok {
			b.WriteByte('&')
			t = t[i+1:]
			continue
		}
		text, err := x.full(inner, depth+1)
		if err != nil {
			return "", err
		}
		b.WriteString(text)
		if x.grown+b.Len() > MaxEntities {
			return "", errGrowth
		}
		t = t[i+n:]
	}
	return b.String(), nil
}
