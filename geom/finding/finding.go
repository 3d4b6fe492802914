// Package finding holds located statements about an artwork, an order, a shop or a plan, as facts: a code, a place, and
// the values that a sentence about it names. The sentence itself is chosen where it is printed, in the reader's
// language.
//
// Guarantees: one type for all stages; codes are words and are only ever added; the table of codes says whose each one
// is. It imports nothing of the project.
package finding

import (
	"fmt"
	"slices"
	"sort"
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

// Source is a place in the artwork file: line and column from 1, and the element's id where it has one. Line 0 means
// unknown.
type Source struct {
	Line, Column int
	ID           string
}

// Finding is one statement with its place.
type Finding struct {
	Code     Code
	Case     string // which of the code's wordings; "" is the usual one
	Severity Severity
	Values   []any       // what the wording names, in the units that it prints: float64, int, string or []string
	AtMM     *[2]float64 // place in the true frame, millimetres
	Source   Source
}

// New is a finding without a place.
func New(code Code, severity Severity, values ...any) Finding {
	return Finding{Code: code, Severity: severity, Values: values}
}

// In is the finding in another of the code's wordings.
func (f Finding) In(wording string) Finding {
	f.Case = wording
	return f
}

// At is the finding at a place of the true frame, millimetres.
func (f Finding) At(place [2]float64) Finding {
	f.AtMM = &place
	return f
}

// From is the finding at a place of the artwork file.
func (f Finding) From(s Source) Finding {
	f.Source = s
	return f
}

// About is what the table says of the finding's code.
func (f Finding) About() About { return Codes[f.Code] }

// List collects findings.
type List []Finding

// Add appends findings.
func (l *List) Add(f ...Finding) { *l = append(*l, f...) }

// Worst severity in the list, 0 when empty.
func (l List) Worst() Severity {
	w := Severity(0)
	for _, f := range l {
		w = max(w, f.Severity)
	}
	return w
}

// Refuses tells whether the list holds an error, which stops the plan.
func (l List) Refuses() bool { return l.Worst() == Error }

// Has tells whether a code occurs.
func (l List) Has(c Code) bool {
	return slices.ContainsFunc(l, func(f Finding) bool { return f.Code == c })
}

// Errors are the findings that stop the plan, in the order found.
func (l List) Errors() List {
	var out List
	for _, f := range l {
		if f.Severity == Error {
			out = append(out, f)
		}
	}
	return out
}

// Sorted returns the list worst first, otherwise in the order found.
func (l List) Sorted() List {
	out := slices.Clone(l)
	sort.SliceStable(out, func(i, j int) bool { return out[i].Severity > out[j].Severity })
	return out
}

// Impossible is one of our own impossible cases: a check of a stage's result that failed. It is worded as our fault
// wherever it is printed.
func Impossible(format string, values ...any) error { return &Fault{fmt.Sprintf(format, values...)} }

// Fault is an impossible case.
type Fault struct{ text string }

func (f *Fault) Error() string { return "internal: " + f.text }

// Must takes the value of a call that cannot fail; a failure is an impossible case.
func Must[T any](v T, err error) T {
	if err != nil {
		panic(Impossible("%v", err))
	}
	return v
}

// Wording is the key of the sentence that says the finding: its code and its case.
func (f Finding) Wording() string {
	if f.Case == "" {
		return string(f.Code)
	}
	return string(f.Code) + "_" + f.Case
}
