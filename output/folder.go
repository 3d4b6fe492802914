package output

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sugarwright/planner/plan"
)

// Folder is a folder that is to hold certain files and, unless Replace allows it, holds nothing else yet.
type Folder struct {
	Dir     string
	Files   []plan.File // the last one tells what the folder holds
	Inputs  Inputs      // of the run
	Replace bool        // what is not ours, or of another drawing, may lie there: what is in the way goes, the rest stays
	Ours    Ours        // tells what in a folder was written by this program

	disk disk // nil: files
}

// Contents are the names in a folder that this program wrote and nobody changed since; the others are strange. Of is
// what the files were made of; "" when there is nothing of ours.
type Contents struct {
	Of   string
	Ours map[string]bool
}

// Ours tells what this program writes into a folder, and what of a folder's contents it wrote.
type Ours interface {
	In(dir string) Contents
	Of() string             // what the files are made of now
	Known(name string) bool // a name that this program writes
}

// Put makes the folder hold the files. settled tells that what a run before had left half done was put in order first.
// Errors are *Error; those of a folder that is left alone wrap a *Taken.
func (f Folder) Put() (settled bool, err error) {
	if f.disk == nil {
		f.disk = files{}
	}
	f.Dir = resolved(f.Dir)
	if err := f.Allowed(); err != nil {
		return false, err
	}
	if err := f.disk.MkDirs(filepath.Dir(f.Dir)); err != nil {
		return false, &Error{Err: err}
	}
	s, err := stage(f.disk, f.Dir)
	if err != nil {
		return false, &Error{Err: err}
	}
	swapping.Lock()
	defer swapping.Unlock()
	defer s.close()
	if settled, err = f.settle(s); err != nil {
		return settled, &Error{Err: err}
	}
	if err = f.strange(); err != nil {
		return settled, &Error{Err: err}
	}
	if err = f.swap(s); err != nil {
		return settled, err
	}
	if _, err = f.settle(s); err != nil {
		return settled, &Error{Err: err, Replaced: true}
	}
	return settled, nil
}

// isLink tells whether a name is a symbolic link.
func isLink(name string) bool {
	info, err := os.Lstat(name)
	return err == nil && info.Mode()&os.ModeSymlink != 0
}

// Allowed tells beforehand what stands against the folder, and against replacing what it holds.
func (f Folder) Allowed() error {
	refuse := func(format string, values ...any) error { return &Error{Err: taken(format, values...)} }
	dir := resolved(f.Dir)
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, os.ErrNotExist) && isLink(dir): // what another run has just made is none
		return refuse("%s is a link that leads nowhere", f.Dir)
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return &Error{Err: err}
	case !info.IsDir():
		return refuse("%s is not a folder", f.Dir)
	case filepath.Dir(dir) == dir:
		return refuse("%s is the root; a plan has a folder of its own", f.Dir)
	}
	if here, err := os.Getwd(); err == nil && lies(here, info) {
		return refuse("%s is where this run was started, and a folder is swapped as a whole; name another", f.Dir)
	}
	if name, ok := f.Inputs.in(info); ok {
		return refuse("%s lies in %s, which is swapped as a whole; name another folder", name, f.Dir)
	}
	if err := f.strange(); err != nil {
		return &Error{Err: err}
	}
	return nil
}

// clutter is what file managers leave in folders.
var clutter = []string{".DS_Store", "Thumbs.db", "desktop.ini", ".directory"}

// look lists a folder and reads what in it is ours; again where another run has swapped the folder meanwhile.
func (f Folder) look() (names []string, held Contents, err error) {
	const tries = 100
	for range tries {
		before, _ := os.Stat(f.Dir)
		if names, err = list(f.Dir); err == nil && !f.Replace {
			held = f.Ours.In(f.Dir)
		}
		after, _ := os.Stat(f.Dir)
		if before == nil && after == nil || before != nil && after != nil && os.SameFile(before, after) {
			break
		}
	}
	return names, held, err
}

// strange tells what in the folder stands against replacing it.
func (f Folder) strange() error {
	names, held, err := f.look()
	if err != nil {
		return err
	}
	for _, x := range f.Files {
		if slices.Contains(names, x.Name) && !plain(filepath.Join(f.Dir, x.Name)) {
			return taken("%s is no plain file", filepath.Join(f.Dir, x.Name))
		}
	}
	if f.Replace {
		return nil
	}
	if held.Of != "" && held.Of != f.Ours.Of() {
		return taken("%s holds the plan of %s; name another folder, or give --replace", f.Dir, held.Of)
	}
	names = slices.DeleteFunc(names, func(n string) bool { return held.Ours[n] || slices.Contains(clutter, n) })
	const shown = 3
	more := ""
	if len(names) > shown {
		names, more = names[:shown], " and others"
	}
	if len(names) > 0 {
		return taken(
			"%s holds what is not of this plan, or was changed by hand: %s%s; name another folder, or give --replace",
			f.Dir,
			strings.Join(names, ", "),
			more,
		)
	}
	return nil
}

// swap puts the files together beside the folder, then exchanges the two.
func (f Folder) swap(s *staging) error {
	mode := os.FileMode(0o755)
	if info, err := os.Stat(f.Dir); err == nil {
		mode = info.Mode().Perm()
	}
	err := s.write(f.Files, mode)
	if err == nil {
		err = s.Rename(s.at("new"), s.at("whole"))
	}
	if err != nil {
		_ = s.unstage() // else the next run does
		return &Error{Err: err}
	}
	if !exists(f.Dir) {
		err = s.Rename(s.at("whole"), f.Dir)
	} else if err = s.Exchange(s.at("whole"), f.Dir); errors.Is(err, errNoExchange) {
		if err = s.Rename(f.Dir, s.at("old")); err == nil {
			if err = s.Rename(s.at("whole"), f.Dir); err != nil {
				_ = s.Rename(s.at("old"), f.Dir)
			}
		}
	}
	if err != nil {
		if exists(f.Dir) {
			_ = f.clear(s, s.at("whole"))
		}
		return &Error{Err: err}
	}
	if err := s.Sync(filepath.Dir(f.Dir)); err != nil {
		return &Error{Err: err, Replaced: true}
	}
	return nil
}

// settle puts in order what lies in the staging folder: what was not yet whole goes; what was whole takes the place of a
// folder that was moved away; what was exchanged or moved away goes, but for what is not ours, which goes back.
func (f Folder) settle(s *staging) (some bool, err error) {
	if exists(s.at("new")) {
		some = true
		if err := s.unstage(); err != nil {
			return some, err
		}
	}
	if exists(s.at("old")) && !exists(f.Dir) {
		from := s.at("whole")
		if !exists(from) {
			from = s.at("old")
		}
		if err := s.Rename(from, f.Dir); err != nil {
			return true, err
		}
	}
	for _, dir := range []string{s.at("whole"), s.at("old")} {
		if exists(dir) {
			some = true
			if err := f.clear(s, dir); err != nil {
				return some, err
			}
		}
	}
	return some, nil
}

// clear empties a folder that was swapped out: what is not ours, and has no successor, goes back. The file that tells
// what is ours goes last.
func (f Folder) clear(s *staging, dir string) error {
	names, err := list(dir)
	if err != nil {
		return err
	}
	if !exists(f.Dir) && slices.ContainsFunc(names, func(n string) bool { return !f.Ours.Known(n) }) {
		if err := s.MkDir(f.Dir, 0o755); err != nil {
			return err
		}
	}
	ours := f.Ours.In(dir).Ours
	last := f.Files[len(f.Files)-1].Name
	slices.SortStableFunc(names, func(a, b string) int { return btoi(a == last) - btoi(b == last) })
	for _, n := range names {
		from, to := filepath.Join(dir, n), filepath.Join(f.Dir, n)
		switch {
		case plain(from) && (ours[n] || f.Ours.Known(n) && exists(to)):
			err = s.Remove(from)
		case exists(to):
			err = taken("%s is left in %s by a run that was stopped, and there is another in %s", n, dir, f.Dir)
		default:
			err = s.Rename(from, to)
		}
		if err != nil {
			return err
		}
	}
	return s.Remove(dir)
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
