package output

import (
	"os"
	"path/filepath"
)

// disk is all that changes anything in the file system, so that each of its calls can be made to fail or to be the last.
type disk interface {
	MkDir(dir string, mode os.FileMode) error
	MkDirs(dir string) error
	Write(name string, data []byte, mode os.FileMode) error // a new file, down to the medium
	Chmod(name string, mode os.FileMode) error
	Rename(from, to string) error
	Exchange(a, b string) error // errNoExchange where this cannot be had
	Remove(name string) error   // a plain file, or an empty folder
	Sync(dir string) error      // names of a folder, down to the medium
}

// files is the file system of this machine.
type files struct{}

func (files) MkDir(dir string, mode os.FileMode) error  { return os.Mkdir(dir, mode) }
func (files) MkDirs(dir string) error                   { return os.MkdirAll(dir, 0o755) }
func (files) Chmod(name string, mode os.FileMode) error { return os.Chmod(name, mode) }
func (files) Rename(from, to string) error              { return os.Rename(from, to) }
func (files) Exchange(a, b string) error                { return exchange(a, b) }
func (files) Remove(name string) error                  { return os.Remove(name) }

func (files) Write(name string, data []byte, mode os.FileMode) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	if _, err = f.Write(data); err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}

func (files) Sync(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	_ = f.Sync() // not every file system knows it for folders
	return nil
}

// exists tells whether a name is there, a link to nowhere too.
func exists(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

// list is the names in a folder; none where there is no such folder.
func list(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out, nil
}

// plain tells whether a name is a file, and no link, folder or device.
func plain(name string) bool {
	info, err := os.Lstat(name)
	return err == nil && info.Mode().IsRegular()
}

// beside is a hidden name beside another.
func beside(name string) string {
	return filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+".sugarwright")
}
