package artwork

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"golang.org/x/net/html"

	"sugarwright/geom/finding"
)

// node is one element of the file. The html mirror serves selector matching only.
type node struct {
	tag      string // local name, SVG namespace; "" for elements of other namespaces
	attr     map[string]string
	style    map[string]string // after the cascade
	children []*node
	text     string
	src      finding.Source
	mirror   *html.Node
	parent   *node
}

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

const svgSpace = "http://www.w3.org/2000/svg"
const linkSpace = "http://www.w3.org/1999/xlink"

var entityDecl = regexp.MustCompile(`<!ENTITY\s+([\w.-]+)\s+(?:"([^"]*)"|'([^']*)')`)

// maxEntity bounds what entities may grow to.
const maxEntity = 1 << 20

// entities reads the internal subset of a DOCTYPE. Entities inside entities are expanded once each, to a bound; nothing is fetched.
func entities(doctype string, d *xml.Decoder) error {
	d.Entity = map[string]string{}
	total := 0
	for _, m := range entityDecl.FindAllStringSubmatch(doctype, -1) {
		v := m[2] + m[3]
		for name, text := range d.Entity {
			v = strings.ReplaceAll(v, "&"+name+";", text)
		}
		if total += len(v); total > maxEntity {
			return fmt.Errorf("entities grow beyond %d bytes", maxEntity)
		}
		d.Entity[m[1]] = v
	}
	return nil
}

// parseTree reads the whole file.
func parseTree(data []byte) (*node, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		switch strings.ToLower(label) {
		case "us-ascii", "ascii", "iso-8859-1", "latin1", "windows-1252":
			raw, err := io.ReadAll(in)
			if err != nil {
				return nil, err
			}
			var b strings.Builder
			for _, c := range raw {
				b.WriteRune(rune(c))
			}
			return strings.NewReader(b.String()), nil
		}
		return nil, fmt.Errorf("encoding %s is not read; save as UTF-8", label)
	}
	var root, cur *node
	depth, count := 0, 0
	fail := func(text string) (*node, error) {
		l, c := d.InputPos()
		return nil, &SyntaxError{l, c, text}
	}
	for {
		line, col := d.InputPos()
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var se *xml.SyntaxError
			if errors.As(err, &se) {
				return fail("not well-formed XML: " + se.Msg)
			}
			return fail(err.Error())
		}
		switch t := tok.(type) {
		case xml.Directive:
			if err := entities(string(t), d); err != nil {
				return fail(err.Error())
			}
		case xml.StartElement:
			if count++; count > MaxNodes {
				return fail(fmt.Sprintf("more than %d elements", MaxNodes))
			}
			if depth++; depth > MaxDepth {
				return fail(fmt.Sprintf("elements nested deeper than %d", MaxDepth))
			}
			n := newNode(t, line, col, cur)
			if cur == nil {
				if root != nil {
					return fail("a second root element")
				}
				if n.tag != "svg" {
					return fail("the root element is <" + t.Name.Local + ">, not <svg>: not an SVG file")
				}
				root = n
			}
			cur = n
		case xml.EndElement:
			cur, depth = cur.parent, depth-1
		case xml.CharData:
			if cur != nil {
				cur.text += string(t)
			}
		}
	}
	if root == nil {
		return nil, &SyntaxError{Text: "no element in the file: not an SVG file"}
	}
	return root, nil
}

func newNode(t xml.StartElement, line, col int, parent *node) *node {
	n := &node{attr: map[string]string{}, parent: parent, src: finding.Source{Line: line, Column: col}}
	if t.Name.Space == svgSpace || t.Name.Space == "" {
		n.tag = t.Name.Local
	}
	n.mirror = &html.Node{Type: html.ElementNode, Data: t.Name.Local}
	for _, a := range t.Attr {
		name := a.Name.Local
		switch {
		case a.Name.Space == "" && name != "xmlns":
			n.attr[name] = a.Value
		case (a.Name.Space == linkSpace || a.Name.Space == "xlink") && name == "href":
			if _, ok := n.attr["href"]; !ok {
				n.attr["href"] = a.Value
			}
		}
		n.mirror.Attr = append(n.mirror.Attr, html.Attribute{Key: name, Val: a.Value})
	}
	n.src.ID = n.attr["id"]
	if parent != nil {
		parent.children = append(parent.children, n)
		parent.mirror.AppendChild(n.mirror)
		if n.src.ID == "" {
			n.src.ID = parent.src.ID
		}
	}
	return n
}
