package output

import (
	"io"
	"os"
	"path/filepath"
	"regexp"

	"sugarwright/planner/plan"
	"sugarwright/render/sheets"
)

// Plans tells what of a folder is a plan with its sheets: the plan file, and each plain file that it lists by a name
// that this program writes, with the digest that it lists.
type Plans struct {
	Drawing string // the client's drawing, by its file's name; the order's file for an order of several
	Order   bool
}

// Of is the drawing, or the order's file.
func (p Plans) Of() string { return p.Drawing }

// list is the file that says what the folder holds.
func (p Plans) list() string {
	if p.Order {
		return plan.OrderFileName
	}
	return plan.FileName
}

// Known tells whether a name is one that is written into a plan's folder.
func (p Plans) Known(name string) bool { return name == p.list() || sheets.Known(name) }

// mostBytes of a file that is looked at: those of a plan have a few million.
const mostBytes = 64 << 20

// In lists what of a folder is ours.
func (p Plans) In(dir string) Contents {
	c := Contents{Ours: map[string]bool{}}
	data, ok := read(filepath.Join(dir, p.list()))
	if !ok {
		return c
	}
	listed, ok := plan.ListingOf(data)
	if !ok {
		return c
	}
	c.Of = listed.Of
	c.Ours[p.list()] = true
	for name, digest := range listed.Digests {
		if !p.Known(name) {
			continue
		}
		if data, ok := read(filepath.Join(dir, name)); ok && plan.Digest(data) == digest {
			c.Ours[name] = true
		}
	}
	return c
}

// read gives the bytes of a plain file; false where it is none, or larger than any of ours.
func read(name string) ([]byte, bool) {
	if !plain(name) {
		return nil, false
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, false
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	return data, err == nil && len(data) <= mostBytes
}

// Stages tells what of a folder are results of stages, for developers: by their names alone.
type Stages struct{}

var stageName = regexp.MustCompile(`^[0-9]{2}-[a-z-]+\.json$`)

// Of is nothing: any drawing's stages may replace any other's.
func (Stages) Of() string { return "" }

// Known tells whether a name is that of a stage's result.
func (Stages) Known(name string) bool { return stageName.MatchString(name) }

// In lists what of a folder is ours.
func (s Stages) In(dir string) Contents {
	c := Contents{Ours: map[string]bool{}}
	names, _ := list(dir)
	for _, n := range names {
		if s.Known(n) && plain(filepath.Join(dir, n)) {
			c.Ours[n] = true
		}
	}
	return c
}
