// Package output puts what a run makes where it is wanted: whole, or not at all.
//
// Guarantees (P10): a folder changes from what it held to one whole plan at one moment, whatever ends the program and
// when, and what a run left half done the next one puts in order; one file is replaced by a whole one; no input of a
// run is its output, whatever its name; what this program did not write is left alone unless it is said otherwise, and
// nothing but plain files that it wrote is ever removed. Where the file system cannot exchange two folders, there is a
// moment without a folder between the old and the new one.
package output

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// Error is an output that could not be written, with what stands there now.
type Error struct {
	Err      error
	Replaced bool // the new output stands; what was to be cleared away after it does not all
}

func (e *Error) Error() string {
	if e.Replaced {
		return e.Err.Error() + "; the new files stand"
	}
	return e.Err.Error() + "; nothing was replaced"
}

func (e *Error) Unwrap() error { return e.Err }

// Taken is a place that is not this run's to write to, and why.
type Taken struct{ Why string }

func (t *Taken) Error() string { return t.Why }

// swapping is held from the first byte that is written until all is in place.
var swapping sync.Mutex

// Stop waits until no output is half written, and lets none begin: for a program that is told to end.
func Stop() { swapping.Lock() }

// Inputs are the files that a run reads.
type Inputs []string

// is tells whether a file is one of the inputs, by its identity.
func (in Inputs) is(info os.FileInfo) bool {
	for _, name := range in {
		if x, err := os.Stat(name); name != "" && err == nil && os.SameFile(x, info) {
			return true
		}
	}
	return false
}

// in gives an input that lies in a folder, or below it.
func (in Inputs) in(folder os.FileInfo) (string, bool) {
	for _, name := range in {
		if name != "" && lies(filepath.Dir(resolved(name)), folder) {
			return name, true
		}
	}
	return "", false
}

// lies tells whether a folder is another one, or lies below it.
func lies(dir string, folder os.FileInfo) bool {
	for {
		if info, err := os.Stat(dir); err == nil && os.SameFile(info, folder) {
			return true
		}
		up := filepath.Dir(dir)
		if up == dir {
			return false
		}
		dir = up
	}
}

// Within tells whether a name leads to another place, or below it.
func Within(name, folder string) bool {
	up, err := filepath.Rel(resolved(folder), resolved(name))
	return err == nil && up != ".." && !strings.HasPrefix(up, ".."+string(filepath.Separator))
}

// resolved is the path of what a name leads to, without links; the absolute path of a name that leads nowhere yet.
func resolved(name string) string {
	abs, err := filepath.Abs(name)
	if err != nil {
		return name
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real
	}
	if real, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		return filepath.Join(real, filepath.Base(abs))
	}
	return abs
}

// Same tells whether two names lead to one place.
func Same(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	if err == nil && err2 == nil {
		return os.SameFile(x, y)
	}
	return resolved(a) == resolved(b)
}

// taken is a refusal of a place.
func taken(format string, values ...any) error {
	return &Taken{fmt.Sprintf(format, values...)}
}
