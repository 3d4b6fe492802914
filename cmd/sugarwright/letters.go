package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"sugarwright/geom/artwork"
	"sugarwright/geom/letters"
	"sugarwright/planner"
)

// lettersCommand draws initials, and says whether they can be made.
func lettersCommand(args []string, out, errs io.Writer) int {
	var f flags
	fs := pflag.NewFlagSet(`sugarwright letters "A & B"`, pflag.ContinueOnError)
	f.add(fs)
	to := fs.String("out", "", "file for the drawing (SVG)")
	colour := fs.String("colour", "#b02030", "colour of the letters; with --shop also the name of one in stock")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	fill, ok := artwork.ParseColour(*colour)
	if !ok && f.shopFile != "" {
		sh, err := readShop(f.shopFile)
		if err != nil {
			fmt.Fprintf(errs, "sugarwright: %v\n", err)
			return exitUsage
		}
		if x, named := sh.Named(*colour); named {
			fill, ok = x.Any(), true
		}
	}
	switch {
	case *to == "":
		fmt.Fprintln(errs, "sugarwright: say where to with --out F.svg")
		return exitUsage
	case !ok:
		fmt.Fprintf(errs, "sugarwright: --colour %q is not a colour, nor one in stock of --shop\n", *colour)
		return exitUsage
	}
	data, err := letters.Draw(fs.Arg(0), fill)
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: letters %q: %v\n", fs.Arg(0), err)
		return exitUsage
	}
	res, st, code := compileBytes(*to, data, &f, errs)
	if code != 0 {
		return code
	}
	if err := writeFile(*to, data); err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitOutput
	}
	fmt.Fprintf(out, "%s: %s\n%s", *to, res.Plan.Verdict, planner.Cost(res, st))
	return verdictCode(res.Plan)
}
