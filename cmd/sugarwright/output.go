package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sugarwright/planner/plan"
	"sugarwright/render/sheets"
)

// folder collects new files beside the old ones and swaps them in only when all are complete (P10).
type folder struct {
	dir, tmp string
	names    []string
}

func newFolder(dir string) (*folder, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	tmp, err := os.MkdirTemp(dir, ".new-")
	if err != nil {
		return nil, err
	}
	return &folder{dir: dir, tmp: tmp}, nil
}

func (f *folder) put(name string, data []byte) error {
	f.names = append(f.names, name)
	return os.WriteFile(filepath.Join(f.tmp, name), data, 0o644)
}

// commit moves the new files in and removes those that the last plan listed and this one does not make.
func (f *folder) commit(files []string) error {
	for _, n := range f.names { // see beforehand what cannot be replaced
		if info, err := os.Lstat(filepath.Join(f.dir, n)); err == nil && info.IsDir() {
			return fmt.Errorf("%s is a folder", filepath.Join(f.dir, n))
		}
	}
	var old struct {
		Format string   `json:"format"`
		Files  []string `json:"files"`
	}
	if files == nil {
		old.Files = nil
	} else if data, err := os.ReadFile(filepath.Join(f.dir, "plan.json")); err == nil {
		if json.Unmarshal(data, &old) != nil || old.Format != plan.Format {
			old.Files = nil
		}
	}
	keep := map[string]bool{}
	for _, n := range files {
		keep[n] = true
	}
	for _, n := range f.names {
		if err := os.Rename(filepath.Join(f.tmp, n), filepath.Join(f.dir, n)); err != nil {
			return err
		}
	}
	for _, n := range old.Files {
		if !keep[n] && n == filepath.Base(n) {
			if err := os.Remove(filepath.Join(f.dir, n)); err != nil && !os.IsNotExist(err) {
				return err
			}
		}
	}
	return nil
}

func (f *folder) close() { os.RemoveAll(f.tmp) }

// writeFile replaces one file only by a complete new one.
func writeFile(name string, data []byte) error {
	tmp, err := os.CreateTemp(filepath.Dir(name), ".new-")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	if _, err := tmp.Write(data); err != nil {
		tmp.Close()
		return err
	}
	if err := tmp.Close(); err != nil {
		return err
	}
	if err := os.Chmod(tmp.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), name)
}

// save puts files into a folder, all or none; listed are those that the plan names, nil where the last plan's files
// stay.
func save(dir string, files []sheets.File, listed []string) error {
	w, err := newFolder(dir)
	if err != nil {
		return err
	}
	defer w.close()
	for _, x := range files {
		if err := w.put(x.Name, x.Data); err != nil {
			return err
		}
	}
	return w.commit(listed)
}
