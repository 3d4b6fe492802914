package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sugarwright/geom/artwork"
	"sugarwright/planner"
	"sugarwright/planner/job"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/render/sheet"
	"time"
)

// standardInput is the name under which a drawing comes in by the standard input, and inputName its file's.
const (
	standardInput = "-"
	inputName     = "drawing"
)

// readArtwork reads a drawing's file, or the standard input.
func readArtwork(name string) ([]byte, error) {
	if name == standardInput {
		return artwork.ReadFrom(os.Stdin, "the standard input")
	}
	return artwork.ReadFile(name)
}

// baseOf a drawing's name, as the plan has it.
func baseOf(name string) string {
	if name == standardInput {
		return inputName
	}
	return filepath.Base(name)
}

// compile reads the artwork and runs the pipeline; code is set when it failed.
func compile(name string, f *flags, errs io.Writer) (*planner.Result, sheet.Style, int) {
	data, err := readArtwork(name)
	if err != nil {
		return nil, sheet.Style{}, fail(errs, exitUsage, "%v", err)
	}
	return compileBytes(name, data, f, errs)
}

// compileBytes runs the pipeline on an artwork that has been read, and prints what it found.
func compileBytes(name string, data []byte, f *flags, errs io.Writer) (*planner.Result, sheet.Style, int) {
	o, st, err := f.options(name)
	if err != nil {
		return nil, st, fail(errs, exitUsage, "%v", err)
	}
	res, err := planner.Compile(baseOf(name), data, o)
	if err != nil {
		return nil, st, failCompile(errs, name, err)
	}
	sayFindings(errs, st.T(), name, res.Plan)
	return res, st, 0
}

// readShop reads a file of shop settings; the error lists every fault, one a line.
func readShop(name string) (*shop.Shop, error) {
	data, err := settings.ReadFile(name)
	if err != nil {
		return nil, err
	}
	s, err := shop.Read(data)
	if err != nil {
		return nil, inFile(name, err)
	}
	s.File = name
	return s, nil
}

// readJob reads the order for a drawing; the error lists every fault, one a line. A date is held against today's.
func readJob(name string, sh *shop.Shop, drawing string) (*job.Job, error) {
	data, err := settings.ReadFile(name)
	if err != nil {
		return nil, err
	}
	now := time.Now()
	j, err := job.Read(data, sh, job.Day{now.Year(), int(now.Month()), now.Day()})
	if err != nil {
		return nil, inFile(name, err)
	}
	j.File = name
	if drawing == "" {
		return j, nil
	}
	return j.For(drawing)
}

// inFile says in which file the faults of settings are.
func inFile(name string, err error) error {
	var faults settings.Faults
	if errors.As(err, &faults) {
		return faults.In(name)
	}
	return err
}

// readBounded reads a file of at most so many bytes.
func readBounded(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		err = fmt.Errorf("more than %d bytes, the most that are read", most)
	}
	return data, err
}
