// Package finding holds located statements about an artwork or a plan.
//
// Guarantees: one type for all stages; codes are words and are only ever added. It imports nothing of the project.
package finding

import (
	"fmt"
	"sort"
	"strings"
)

// Severity orders findings; the zero value is not used.
type Severity int

// A note informs, a warning asks for a look, an error stops the plan.
const (
	Note Severity = iota + 1
	Warning
	Error
)

func (s Severity) String() string {
	return [...]string{"?", "note", "warning", "error"}[s]
}

// Source is a place in the artwork file: line and column from 1, and the element's id where it has one. Line 0 means unknown.
type Source struct {
	Line, Column int
	ID           string
}

// Finding is one statement with its place.
type Finding struct {
	Code       Code
	Severity   Severity
	Message    string
	Suggestion string
	Element    string      // id of the plan's element, where one is meant
	AtMM       *[2]float64 // place in the true frame, millimetres
	Source     Source
}

// Line is how a finding is printed: file:line:column: severity: message [code].
func (f Finding) Line(file string) string {
	var b strings.Builder
	b.WriteString(file)
	if f.Source.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Source.Line, f.Source.Column)
	}
	fmt.Fprintf(&b, ": %s: %s", f.Severity, f.Message)
	if f.AtMM != nil {
		fmt.Fprintf(&b, " (at %.1f, %.1f mm from the log's centre)", f.AtMM[0]+0, f.AtMM[1]+0)
	}
	if f.Suggestion != "" {
		b.WriteString("; " + f.Suggestion)
	}
	fmt.Fprintf(&b, " [%s]", f.Code)
	return b.String()
}

// List collects findings.
type List []Finding

// Add appends one finding.
func (l *List) Add(f Finding) { *l = append(*l, f) }

// Worst severity in the list, 0 when empty.
func (l List) Worst() Severity {
	w := Severity(0)
	for _, f := range l {
		w = max(w, f.Severity)
	}
	return w
}

// Has tells whether a code occurs.
func (l List) Has(c Code) bool {
	for _, f := range l {
		if f.Code == c {
			return true
		}
	}
	return false
}

// Sorted returns the list worst first, otherwise in the order found.
func (l List) Sorted() List {
	out := append(List(nil), l...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].Severity > out[j].Severity })
	return out
}
