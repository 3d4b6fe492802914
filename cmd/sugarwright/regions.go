package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

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

func regionsCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("regions ARTWORK.svg", "the flat colour areas as read from the file", 1, 1)
	to := fs.String("out", "", "file for the flat regions (SVG)")
	colour := fs.String("ground", "#ffffff", "colour of what is not painted")
	var read reading
	read.add(fs)
	return does(c, func() int {
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
		data, err := readArtwork(name)
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
	})
}
