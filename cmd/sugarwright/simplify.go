package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"sugarwright/geom/artwork"
	"sugarwright/planner"
	"sugarwright/render/changes"
	"sugarwright/render/section"
	"sugarwright/render/sheet"
	"sugarwright/render/svg"
)

func simplifyCommand(args []string, out, errs io.Writer) int {
	var f flags
	fs := pflag.NewFlagSet("sugarwright simplify ARTWORK.svg", pflag.ContinueOnError)
	f.add(fs)
	to := fs.String("out", "", "file for the simplified drawing (SVG)")
	pictures := fs.String("changes", "", "file for the two pictures side by side, one over the other, and the list of changes (SVG)")
	keep := fs.String("keep", "", "numbers of changes that are not to be made, like 3,7: the next best is sought")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	name := fs.Arg(0)
	if *to == "" {
		fmt.Fprintln(errs, "sugarwright: say where to with --out SIMPLER.svg")
		return exitUsage
	}
	for _, o := range []string{*to, *pictures} {
		if o != "" && sameFile(name, o) {
			fmt.Fprintf(errs, "sugarwright: %s is the artwork itself: it is never replaced; name another file\n", o)
			return exitUsage
		}
	}
	if *pictures != "" && sameFile(*to, *pictures) {
		fmt.Fprintf(errs, "sugarwright: --out and --changes are the same file: name two\n")
		return exitUsage
	}
	s, st, code := makeSimpler(name, &f, *keep, errs)
	if code != 0 {
		return code
	}
	if s.After == nil {
		fmt.Fprint(out, planner.Reply(s.Before, s))
		return exitRefused
	}
	if err := writeFile(*to, s.SVG); err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitOutput
	}
	if *pictures != "" {
		if err := writeFile(*pictures, svg.Write(changes.Pages(s.After.Plan, regionsOf(s.Before), regionsOf(s.After), st))); err != nil {
			fmt.Fprintf(errs, "sugarwright: %v\n", err)
			return exitOutput
		}
	}
	p := s.After.Plan
	if f.json {
		js, err := p.JSON()
		if err != nil {
			return exitInternal
		}
		out.Write(js)
		return exitPlan
	}
	if s.After == s.Before {
		fmt.Fprintf(out, "%s: can be made as drawn; %s holds the same bytes\n", name, *to)
		return exitPlan
	}
	for _, c := range p.Changes {
		saved := ""
		if c.MinutesSaved > 0 {
			saved = fmt.Sprintf(", saves about %.1f minutes", float64(c.MinutesSaved))
		}
		fmt.Fprintf(out, "%3d %s (at %.0f, %.0f mm; %.1f square mm%s)\n", c.Number, c.Text, float64(c.Places[0][0])+0, float64(c.Places[0][1])+0, float64(c.AreaMM2), saved)
	}
	fmt.Fprint(out, planner.Cost(s.After, st))
	fmt.Fprintf(out, "see %s; refuse changes with --keep and their numbers\n", *to)
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
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return nil, st, exitUsage
	}
	s, err := planner.MakeSimpler(filepath.Base(name), data, o, numbers)
	if err != nil {
		return nil, st, sayError(name, err, errs)
	}
	found := s.Before.Findings
	if s.After != nil {
		found = s.After.Findings
	}
	for _, fd := range found {
		fmt.Fprintln(errs, fd.Line(name))
	}
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

// sameFile tells whether two names mean one file.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	if err == nil && err2 == nil {
		return os.SameFile(x, y)
	}
	p, err := filepath.Abs(a)
	q, err2 := filepath.Abs(b)
	return err == nil && err2 == nil && p == q
}

// regionsOf are the flat areas of a result inside the picture circle, for pictures.
func regionsOf(r *planner.Result) []section.Area {
	var out []section.Area
	for _, g := range r.Regions {
		out = append(out, section.Area{Shape: g.Shape, Fill: g.Fill})
	}
	return out
}
