package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/rogpeppe/go-internal/lockedfile"

	"sugarwright/planner/plan"
)

// errNoExchange is a file system that cannot swap two names.
var errNoExchange = errors.New("two folders cannot be exchanged here")

// staging is the hidden folder beside a target in which its next contents are put together. It is there only while one
// run writes, or after a run that was killed. In it lie lock, which one run holds at a time; new, what is being
// written; whole, all of what was written, or what it was exchanged for; old, what was moved away where names cannot be
// exchanged.
type staging struct {
	disk
	target, dir string
	lock        *lockedfile.File
}

func (s *staging) at(name string) string { return filepath.Join(s.dir, name) }

// mostTries bounds how often the lock is sought of a staging folder that others clear away.
const mostTries = 1000

// stage opens the staging folder of a target, and waits while another run holds it.
func stage(d disk, target string) (*staging, error) {
	s := &staging{disk: d, target: target, dir: beside(target)}
	for range mostTries {
		if info, err := os.Lstat(s.dir); err == nil && !info.IsDir() {
			return nil, taken("%s is in the way", s.dir)
		}
		if err := d.MkDir(s.dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		lock, err := lockedfile.OpenFile(s.at("lock"), os.O_RDWR|os.O_CREATE, 0o644)
		if errors.Is(err, fs.ErrNotExist) { // cleared away by the run before
			continue
		}
		if err != nil {
			return nil, err
		}
		mine, err := lock.Stat()
		there, err2 := os.Stat(s.at("lock"))
		if err == nil && err2 == nil && os.SameFile(mine, there) {
			s.lock = lock
			return s, nil
		}
		lock.Close()
	}
	return nil, taken("other runs write to %s without end", target)
}

// close clears the staging folder away, unless something is left in it.
func (s *staging) close() {
	defer s.lock.Close()
	if names, err := list(s.dir); err == nil && len(names) == 1 {
		_ = s.Remove(s.at("lock")) // where a locked file cannot be removed, it stays for the next run
		_ = s.Remove(s.dir)
	}
}

// unstage removes what was being written.
func (s *staging) unstage() error {
	names, err := list(s.at("new"))
	for _, n := range names {
		if f := filepath.Join(s.at("new"), n); err == nil && plain(f) {
			err = s.Remove(f)
		}
	}
	if err == nil && exists(s.at("new")) {
		err = s.Remove(s.at("new"))
	}
	return err
}

// write puts files into the folder new.
func (s *staging) write(files []plan.File, mode os.FileMode) error {
	if err := s.MkDir(s.at("new"), 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := s.Write(filepath.Join(s.at("new"), f.Name), f.Data, 0o644); err != nil {
			return err
		}
	}
	if err := s.Chmod(s.at("new"), mode); err != nil {
		return err
	}
	return s.Sync(s.at("new"))
}
