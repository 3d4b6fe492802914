package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"sugarwright/geom/artwork"
	"sugarwright/output"
	"sugarwright/planner"
	"sugarwright/render/changes"
	"sugarwright/render/sheet"
	"sugarwright/render/svg"
	"sugarwright/render/terminal"
)

func simplifyCommand(args []string, out, errs io.Writer) int {
	var f flags
	fs := pflag.NewFlagSet("sugarwright simplify ARTWORK.svg", pflag.ContinueOnError)
	f.add(fs)
	to := fs.String("out", "", "file for the simplified drawing (SVG)")
	pictures := fs.String("changes", "",
		"file for the two pictures side by side, one over the other, and the list of changes (SVG)")
	keep := fs.String("keep", "", "numbers of changes that are not to be made, like 3,7: the next best is sought")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	name := fs.Arg(0)
	if *to == "" {
		return fail(errs, exitUsage, "name the output file: --out SIMPLER.svg")
	}
	if err := allowed(f.inputs(name), *to, *pictures); err != nil {
		return failOutput(errs, err)
	}
	out = results(*to, results(*pictures, out, errs), errs)
	s, st, code := makeSimpler(name, &f, *keep, errs)
	if code != 0 {
		return code
	}
	if s.After == nil {
		fmt.Fprint(out, terminal.Reply(s.Before.Plan, st.T()))
		return exitRefused
	}
	if err := (output.One{Name: *to, Inputs: f.inputs(name)}).Put(s.SVG); err != nil {
		return failOutput(errs, err)
	}
	p := s.After.Plan
	if *pictures != "" && p.SimplifiedFrom != nil {
		to := output.One{Name: *pictures, Inputs: f.inputs(name)}
		if err := to.Put(svg.Write(changes.Pages(p, st))); err != nil {
			return failOutput(errs, err)
		}
	}
	switch {
	case f.json:
		return printJSON(p, out, errs)
	case s.After == s.Before:
		fmt.Fprintln(out, st.T().Text("terminal.same_bytes", name, *to))
	default:
		fmt.Fprint(out, terminal.Changes(p, st.T()), terminal.Cost(p, st), st.T().Text("terminal.see_changes", *to),
			"\n")
	}
	return exitPlan
}

// makeSimpler reads the artwork and seeks the least change; code is set when it failed.
func makeSimpler(name string, f *flags, keep string, errs io.Writer) (*planner.Simplified, sheet.Style, int) {
	o, st, err := f.options(name)
	var numbers []int
	if err == nil {
		numbers, err = numbersOf(keep)
	}
	var data []byte
	if err == nil {
		data, err = artwork.ReadFile(name)
	}
	if err != nil {
		return nil, st, fail(errs, exitUsage, "%v", err)
	}
	s, err := planner.MakeSimpler(filepath.Base(name), data, o, numbers)
	if err != nil {
		return nil, st, failCompile(errs, name, err)
	}
	shown := s.Before
	if s.After != nil {
		shown = s.After
	}
	sayFindings(errs, st.T(), name, shown.Plan)
	return s, st, 0
}

// numbersOf reads a list like 3,7.
func numbersOf(s string) ([]int, error) {
	var out []int
	for _, p := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' }) {
		n, err := strconv.Atoi(p)
		if err != nil || n < 1 {
			return nil, fmt.Errorf("--keep %q: %q is not the number of a change", s, p)
		}
		out = append(out, n)
	}
	return out, nil
}
