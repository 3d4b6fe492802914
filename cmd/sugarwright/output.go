package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"sugarwright/output"
	"sugarwright/planner"
	"sugarwright/planner/plan"
)

// failOutput says what could not be written, and what stands.
func failOutput(errs io.Writer, err error) int { return fail(errs, exitOutput, "%v", err) }

// allowed holds the outputs of a call to be none of its inputs, and different from each other, before anything is
// computed. Names that are not given are empty.
func allowed(inputs output.Inputs, names ...string) error {
	for i, name := range names {
		if name == "" {
			continue
		}
		if err := (output.One{Name: name, Inputs: inputs}).Allowed(); err != nil {
			return err
		}
		for _, other := range names[:i] {
			if other != "" && output.Same(name, other) {
				return fmt.Errorf("%s and %s are the same file: name two", other, name)
			}
		}
	}
	return nil
}

// results is where the lines of a call go: not into the file that goes to the standard output.
func results(to string, out, errs io.Writer) io.Writer {
	if to != "" && output.IsStdout(to) {
		return errs
	}
	return out
}

// put makes a folder hold files, and says what was left of a run before.
func put(f output.Folder, errs io.Writer) error {
	settled, err := f.Put()
	if settled {
		fmt.Fprintf(errs, "sugarwright: %s: what a stopped run had left half done was put in order first\n", f.Dir)
	}
	return err
}

// stagesFolder is the folder for each stage's result; without results where they are not known yet.
func stagesFolder(dir string, inputs output.Inputs, res *planner.Result) (output.Folder, error) {
	f := output.Folder{Dir: dir, Inputs: inputs, Ours: output.Stages{}}
	if res == nil {
		return f, nil
	}
	for i, s := range res.Stages.List() {
		data, err := s.JSON()
		if err != nil {
			return f, err
		}
		f.Files = append(f.Files, plan.File{Name: fmt.Sprintf("%02d-%s.json", i, s.Name), Data: append(data, '\n')})
	}
	return f, nil
}

// apart holds two folders to lie neither in the other.
func apart(a, b string) error {
	if b != "" && (output.Within(a, b) || output.Within(b, a)) {
		return errors.New(
			filepath.Clean(a) + " and " + filepath.Clean(b) + " are not two folders apart; each is swapped as a whole",
		)
	}
	return nil
}
