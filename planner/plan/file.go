package plan

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
)

// Speaker says facts in sentences, for the keys of the file that hold text for people.
type Speaker interface {
	Step(*Plan, Step) string
	Shortcut(*Plan, Shortcut) string
	Change(*Plan, Change) string
	Finding(*Plan, Finding) (message, suggestion string)
	Cautions() []string
}

// FileName of a plan in its folder.
const FileName = "plan.json"

// File of a plan's folder.
type File struct {
	Name string
	Data []byte
}

// Write is the file's bytes: the plan, the names and digests of the files beside it, nil for a plan that is in no
// folder, and the sentences of a speaker; nil leaves them empty.
func Write(p *Plan, beside []File, say Speaker) ([]byte, error) {
	q := *p
	q.Files, q.Digests = []string{}, nil
	if beside != nil {
		q.Files, q.Digests = append(q.Files, FileName), map[string]string{}
	}
	for _, f := range beside {
		q.Files = append(q.Files, f.Name)
		q.Digests[f.Name] = Digest(f.Data)
	}
	q.Cautions = []string{}
	if say != nil {
		q.Steps = each(p.Steps, func(s *Step) { s.Text = say.Step(p, *s) })
		q.GoingHard = each(p.GoingHard, func(s *Shortcut) { s.Text = say.Shortcut(p, *s) })
		q.Changes = each(p.Changes, func(c *Change) { c.Text = say.Change(p, *c) })
		q.Findings = each(p.Findings, func(f *Finding) { f.Message, f.Suggestion = say.Finding(p, *f) })
		q.Cautions = say.Cautions()
	}
	return encode(&q)
}

// each is a copy of a list in which each entry was changed.
func each[T any](list []T, change func(*T)) []T {
	if list == nil {
		return nil
	}
	out := append([]T{}, list...)
	for i := range out {
		change(&out[i])
	}
	return out
}

// encode writes each key of the plan on a line of its own, and each entry of its lists.
func encode(p *Plan) ([]byte, error) {
	var flat bytes.Buffer
	e := json.NewEncoder(&flat)
	e.SetEscapeHTML(false)
	if err := e.Encode(p); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	depth, quoted := 0, false
	data := bytes.TrimSpace(flat.Bytes())
	lists := []bool{} // by depth: whether it is a list
	for i := 0; i < len(data); i++ {
		c := data[i]
		if quoted {
			b.WriteByte(c)
			if c == '\\' {
				i++
				b.WriteByte(data[i])
			} else if c == '"' {
				quoted = false
			}
			continue
		}
		switch c {
		case '"':
			quoted = true
		case '{', '[':
			depth++
			lists = append(lists, c == '[')
		case '}', ']':
			depth--
			lists = lists[:len(lists)-1]
		}
		b.WriteByte(c)
		breaks := depth == 1 && (c == ',' || c == '{') || depth == 2 && lists[1] && c == ',' ||
			depth == 2 && c == '[' && data[i+1] == '{'
		if breaks {
			b.WriteByte('\n')
		}
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// Normal is a plan as its file holds it: numbers as they are printed. Sheets are drawn from it, so they are the same
// when the file is read back.
func Normal(p *Plan) (*Plan, error) {
	data, err := json.Marshal(p)
	if err != nil {
		return nil, err
	}
	out := &Plan{}
	if err := json.Unmarshal(data, out); err != nil {
		return nil, err
	}
	out.index = newIndex(out)
	return out, nil
}

// FormatError is a plan file that cannot be read.
type FormatError struct{ What string }

func (e *FormatError) Error() string { return "not a plan that can be read: " + e.What }

// Read a plan file. The error is a *FormatError: no JSON, another version, a key that is missing or wrong by the
// schema, or a reference that leads nowhere.
func Read(data []byte) (*Plan, error) {
	var head struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, &FormatError{"it is no JSON: " + err.Error()}
	}
	switch {
	case head.Format != Format:
		return nil, &FormatError{fmt.Sprintf("its format is %q, %q is wanted", head.Format, Format)}
	case head.Version != Version:
		return nil, &FormatError{
			fmt.Sprintf("it is of version %d, this program reads version %d: plan the drawing again", head.Version,
				Version),
		}
	}
	if err := Validate(data); err != nil {
		return nil, &FormatError{err.Error()}
	}
	p := &Plan{}
	if err := json.Unmarshal(data, p); err != nil {
		return nil, &FormatError{err.Error()}
	}
	p.index = newIndex(p)
	if err := p.Check(); err != nil {
		return nil, &FormatError{err.Error()}
	}
	return p, nil
}

// Digest of a file, as Digests hold it.
func Digest(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// Listing is what a plan file says of its folder.
type Listing struct {
	Of      string            // the drawing that the client gave, or the order's file
	Digests map[string]string // of the files beside it, by name
}

// ListingOf reads of a plan file what its folder holds, whatever else is wrong with it; false where it is no plan.
func ListingOf(data []byte) (Listing, bool) {
	var p struct {
		Format  string `json:"format"`
		Of      string `json:"of"` // of an order
		Artwork struct {
			File string `json:"file"`
		} `json:"artwork"`
		From struct {
			File string `json:"file"`
		} `json:"simplified_from"`
		Digests map[string]string `json:"digests"`
	}
	if json.Unmarshal(data, &p) != nil || p.Format != Format && p.Format != OrderFormat {
		return Listing{}, false
	}
	l := Listing{Of: p.Artwork.File, Digests: p.Digests}
	if p.Format == OrderFormat {
		l.Of = p.Of
	}
	if p.From.File != "" {
		l.Of = p.From.File
	}
	return l, true
}
