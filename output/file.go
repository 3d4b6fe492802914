package output

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"sugarwright/planner/plan"
)

// One is a file that is to hold certain bytes. A device or a pipe is written to as such.
type One struct {
	Name   string
	Inputs Inputs // of the run

	disk disk // nil: files
}

// Allowed tells beforehand what stands against the file.
func (o One) Allowed() error {
	refuse := func(format string, values ...any) error { return &Error{Err: taken(format, values...)} }
	info, err := os.Stat(o.Name)
	switch {
	case errors.Is(err, os.ErrNotExist) && exists(o.Name):
		return refuse("%s is a link that leads nowhere", o.Name)
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return &Error{Err: err}
	case info.IsDir():
		return refuse("%s is a folder", o.Name)
	case info.Mode()&os.ModeDevice != 0 && info.Mode()&os.ModeCharDevice == 0:
		return refuse("%s is a disk", o.Name)
	case info.Mode()&os.ModeSocket != 0:
		return refuse("%s is a socket", o.Name)
	case o.Inputs.is(info):
		return refuse("%s is an input of this run; name another file", o.Name)
	}
	return nil
}

// IsStdout tells whether a name leads to where the standard output goes.
func IsStdout(name string) bool {
	info, err := os.Stat(name)
	out, err2 := os.Stdout.Stat()
	return err == nil && err2 == nil && os.SameFile(info, out)
}

// Put writes the file: beside it first, so that it is replaced by a whole one. Errors are *Error.
func (o One) Put(data []byte) error {
	if o.disk == nil {
		o.disk = files{}
	}
	if err := o.Allowed(); err != nil {
		return err
	}
	info, err := os.Stat(o.Name)
	if err == nil && !info.Mode().IsRegular() {
		return through(o.Name, data)
	}
	mode := os.FileMode(0o644)
	if err == nil {
		mode = info.Mode().Perm()
	}
	target := resolved(o.Name)
	s, err := stage(o.disk, target)
	if err != nil {
		return &Error{Err: err}
	}
	swapping.Lock()
	defer swapping.Unlock()
	defer s.close()
	if err = s.unstage(); err == nil {
		err = s.write([]plan.File{{Name: "file", Data: data}}, 0o755)
	}
	made := filepath.Join(s.at("new"), "file")
	if err == nil {
		err = s.Chmod(made, mode)
	}
	if err == nil {
		err = s.Rename(made, target)
	}
	if err != nil {
		_ = s.unstage()
		return &Error{Err: err}
	}
	if err := s.unstage(); err != nil {
		return &Error{Err: err, Replaced: true}
	}
	if err := s.Sync(filepath.Dir(target)); err != nil {
		return &Error{Err: err, Replaced: true}
	}
	return nil
}

// through writes to a device or a pipe.
func through(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return &Error{Err: err}
	}
	_, err = f.Write(data)
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return &Error{Err: err}
	}
	return nil
}

// Shown is a writer for eyes: marks that turn the reading direction, and control characters but for the end of a line
// and the tab, come as escapes. In JSON and TOML they mean the same.
type Shown struct{ To io.Writer }

func (s Shown) Write(p []byte) (int, error) {
	var b strings.Builder
	for _, r := range string(p) {
		if r != '\n' && r != '\t' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			fmt.Fprintf(&b, "\\u%04x", r)
		} else {
			b.WriteRune(r)
		}
	}
	if _, err := io.WriteString(s.To, b.String()); err != nil {
		return 0, err
	}
	return len(p), nil
}

// Told is a writer that remembers that it failed: what was to be told did not all arrive.
type Told struct {
	To  io.Writer
	Err error
}

func (t *Told) Write(p []byte) (int, error) {
	n, err := t.To.Write(p)
	if err != nil && t.Err == nil {
		t.Err = err
	}
	return n, err
}
