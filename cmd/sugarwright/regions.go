package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/output"
	"sugarwright/planner/assemble"
	"sugarwright/planner/intake"
	"sugarwright/planner/plan"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

func regionsCommand(args []string, out, errs io.Writer) int {
	fs := pflag.NewFlagSet("sugarwright regions ARTWORK.svg", pflag.ContinueOnError)
	to := fs.String("out", "", "file for the flat regions (SVG)")
	colour := fs.String("ground", "#ffffff", "colour of what is not painted")
	var read reading
	read.add(fs)
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	name := fs.Arg(0)
	if *to == "" {
		return fail(errs, exitUsage, "name the output file: --out F.svg")
	}
	ground, ok := artwork.ParseColour(*colour)
	if !ok {
		return fail(errs, exitUsage, "--ground %q is not a colour", *colour)
	}
	if err := allowed(output.Inputs{name}, *to); err != nil {
		return failOutput(errs, err)
	}
	o, err := read.options()
	if err != nil {
		return fail(errs, exitUsage, "%v", err)
	}
	o.Ground = ground
	data, err := artwork.ReadFile(name)
	if err != nil {
		return fail(errs, exitUsage, "%v", err)
	}
	art, m, found, err := intake.Canvas(data, o)
	if err != nil {
		return failCompile(errs, name, err)
	}
	for _, f := range found {
		if art.Traced {
			f.Source = finding.Source{} // of no file that anybody has
		}
		fmt.Fprintln(errs, terminal.Finding(words.English(), &plan.Plan{}, name, assemble.Finding(f)))
	}
	if m == nil {
		return exitRefused
	}
	if err := (output.One{Name: *to, Inputs: output.Inputs{name}}).Put(flat.Write(art.Page, m)); err != nil {
		return failOutput(errs, err)
	}
	if found.Refuses() { // the picture is not all of the artwork
		return exitRefused
	}
	return exitPlan
}
