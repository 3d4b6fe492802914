package artwork

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"golang.org/x/net/html"

	"sugarwright/geom/finding"
)

// node is one element of the file. The html mirror serves selector matching only; its names are in lower case, as the
// matcher wants them.
type node struct {
	tag      string // local name, SVG namespace; "" for elements of other namespaces
	attr     map[string]string
	style    []declaration // after the cascade, weakest first
	children []*node
	text     strings.Builder
	content  []content // of text, in order
	src      finding.Source
	mirror   *html.Node
	parent   *node
	depth    int
	inText   bool // a text, or in one
	bare     bool // in no namespace: a fragment cut out of a web page
}

// content is a piece of a text: letters, or an element among them.
type content struct {
	text string
	node *node
}

const svgSpace = "http://www.w3.org/2000/svg"
const xmlSpace = "http://www.w3.org/XML/1998/namespace"
const linkSpace = "http://www.w3.org/1999/xlink"

// parseTree reads the whole file.
func parseTree(s *source) (*node, error) {
	d := xml.NewDecoder(bytes.NewReader(s.text))
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // decoded already
	var root, cur *node
	count := 0
	for {
		at := int(d.InputOffset())
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			msg := err.Error()
			if se := (*xml.SyntaxError)(nil); errors.As(err, &se) {
				msg = "not well-formed XML: " + se.Msg
			}
			return nil, s.fail(int(d.InputOffset()), "%s", msg)
		}
		switch t := tok.(type) {
		case xml.StartElement:
			if count++; count > MaxNodes {
				return nil, s.fail(at, "more than %d elements (MaxNodes)", MaxNodes)
			}
			n := newNode(t, cur)
			n.src.Line, n.src.Column = s.place(at)
			if n.depth > MaxDepth {
				return nil, s.fail(at, "elements nested deeper than %d (MaxDepth)", MaxDepth)
			}
			if twice := repeated(t.Attr); twice != "" {
				return nil, s.fail(at, "not well-formed XML: attribute %s is given twice", twice)
			}
			if cur == nil {
				if root != nil {
					return nil, s.fail(at, "not well-formed XML: a second root element")
				}
				if n.tag != "svg" {
					return nil, s.fail(at, "the root element is <%s>, not <svg> in the namespace %s: not an SVG file", t.Name.Local, svgSpace)
				}
				root = n
			}
			cur = n
		case xml.ProcInst:
			if t.Target == "xml-stylesheet" {
				s.outside = append(s.outside, at)
			}
		case xml.EndElement:
			cur = cur.parent
		case xml.CharData:
			if cur != nil {
				cur.text.Write(t)
				if cur.inText {
					cur.content = append(cur.content, content{text: string(t)})
				}
			} else if len(bytes.TrimSpace(t)) > 0 {
				return nil, s.fail(at, "not well-formed XML: text outside the root element")
			}
		}
	}
	if root == nil {
		return nil, &SyntaxError{Text: "no element in the file: not an SVG file"}
	}
	return root, nil
}

// repeated is the name of an attribute that is given twice, or "".
func repeated(attr []xml.Attr) string {
	if len(attr) > 64 { // by a map, lest a hostile element take quadratic time
		seen := map[xml.Name]bool{}
		for _, a := range attr {
			if seen[a.Name] {
				return a.Name.Local
			}
			seen[a.Name] = true
		}
		return ""
	}
	for i, a := range attr {
		for _, b := range attr[:i] {
			if a.Name == b.Name {
				return a.Name.Local
			}
		}
	}
	return ""
}

func newNode(t xml.StartElement, parent *node) *node {
	n := &node{attr: make(map[string]string, len(t.Attr)), parent: parent, depth: 1}
	if t.Name.Space == svgSpace || t.Name.Space == "" && (parent == nil || parent.bare) {
		n.tag, n.bare = t.Name.Local, t.Name.Space == ""
	}
	n.mirror = &html.Node{
		Type: html.ElementNode,
		Data: strings.ToLower(t.Name.Local),
		Attr: make([]html.Attribute, 0, len(t.Attr)),
	}
	for _, a := range t.Attr {
		name := a.Name.Local
		switch {
		case a.Name.Space == "" && name != "xmlns":
			n.attr[name] = a.Value
		case (a.Name.Space == "xml" || a.Name.Space == xmlSpace) && name == "space":
			n.attr[name] = a.Value
		// The prefix is often left undeclared
		case (a.Name.Space == linkSpace || a.Name.Space == "xlink") && name == "href":
			if _, ok := n.attr["href"]; !ok {
				n.attr["href"] = a.Value
			}
		}
		if a.Name.Space == "" {
			n.mirror.Attr = append(n.mirror.Attr, html.Attribute{Key: strings.ToLower(name), Val: a.Value})
		}
	}
	n.src.ID = n.attr["id"]
	n.inText = n.tag == "text"
	if parent == nil {
		(&html.Node{Type: html.DocumentNode}).AppendChild(n.mirror) // :root asks for it
	} else {
		n.depth = parent.depth + 1
		parent.children = append(parent.children, n)
		if parent.inText {
			parent.content = append(parent.content, content{node: n})
		}
		n.inText = n.inText || parent.inText
		parent.mirror.AppendChild(n.mirror)
		if n.src.ID == "" {
			n.src.ID = parent.src.ID
		}
	}
	return n
}
