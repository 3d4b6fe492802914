package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sugarwright/geom/artwork"
	"sugarwright/geom/letters"
	"sugarwright/output"
	"sugarwright/render/terminal"
)

// lettersCommand draws initials, and says whether they can be made.
func lettersCommand(out, errs io.Writer) *cobra.Command {
	var f flags
	c, fs := command(`letters "A & B"`, "initials or a short name as a drawing that is made to be built", 1, 1)
	f.add(fs)
	to := fs.String("out", "", "file for the drawing (SVG)")
	colour := fs.String("colour", "#b02030", "colour of the letters; with --shop also the name of one in stock")
	small := fs.Bool("small", false, "small letters as they are typed (default: capitals, which are larger)")
	return does(c, func() int {
		if *to == "" {
			return fail(errs, exitUsage, "name the output file: --out F.svg")
		}
		if err := allowed(f.inputs(""), *to); err != nil {
			return failOutput(errs, err)
		}
		out = results(*to, out, errs)
		fill, err := letterColour(*colour, f.shopFile)
		if err != nil {
			return fail(errs, exitUsage, "%v", err)
		}
		data, err := letters.Draw(fs.Arg(0), fill, *small)
		if err != nil {
			return fail(errs, exitUsage, "letters %q: %v", fs.Arg(0), err)
		}
		res, st, code := compileBytes(*to, data, &f, errs)
		if code != 0 {
			return code
		}
		if err := (output.One{Name: *to, Inputs: f.inputs("")}).Put(data); err != nil {
			return failOutput(errs, err)
		}
		fmt.Fprint(out, terminal.Verdict(res.Plan, st.T(), *to), terminal.Cost(res.Plan, st))
		return verdictCode(res.Plan)
	})
}

// letterColour is a colour by its value, or by the name that a shop has for one in stock.
func letterColour(name, shopFile string) (artwork.RGB, error) {
	if rgb, ok := artwork.ParseColour(name); ok {
		return rgb, nil
	}
	if shopFile != "" {
		sh, err := readShop(shopFile)
		if err != nil {
			return artwork.RGB{}, err
		}
		if x, named := sh.Named(name); named {
			return x.Any(), nil
		}
	}
	return artwork.RGB{}, fmt.Errorf("--colour %q is not a colour, nor one in stock of --shop", name)
}
