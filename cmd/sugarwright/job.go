package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sugarwright/planner"
	"sugarwright/planner/job"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/render/words"
)

// jobCommand prints the template of an order, or says whether one is in order.
func jobCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("job [ARTWORK.svg]", "an order's details, to edit and pass with --job; of a drawing with the colours that the kitchen would take for it", 0, 1)
	name := fs.String("check", "", "check a file of an order")
	shopFile := fs.String("shop", "", "file of the shop's settings that it is for")
	return does(c, func() int {
		if *name == "" && fs.NArg() == 0 {
			out.Write(job.Template())
			return exitPlan
		}
		if *name == "" {
			return colours(fs.Arg(0), *shopFile, out, errs)
		}
		sh, err := shop.Default(), error(nil)
		if *shopFile != "" {
			sh, err = readShop(*shopFile)
		}
		if err == nil {
			_, err = readJob(*name, sh, "")
		}
		if err != nil {
			return fail(errs, exitUsage, "%v", err)
		}
		fmt.Fprintf(out, "%s: in order\n", *name)
		return exitPlan
	})
}

// colours prints the template of an order for a drawing, with what each of its colours becomes.
func colours(name, shopFile string, out, errs io.Writer) int {
	data, err := readArtwork(name)
	if err != nil {
		return fail(errs, exitUsage, "%v", err)
	}
	f := flags{ground: "#ffffff", paper: "a4", wall: "one", units: "si", language: "en", ink: "colour", shopFile: shopFile}
	o, _, err := f.options(name)
	if err != nil {
		return fail(errs, exitUsage, "%v", err)
	}
	pots, err := planner.Pots(data, o)
	if err != nil {
		return failCompile(errs, name, err)
	}
	if len(pots) == 0 {
		return fail(errs, exitRefused, "%s: what is painted was not understood; see sugarwright check", name)
	}
	text, _, _ := bytes.Cut(job.Template(), []byte("# [colours]"))
	out.Write(text)
	fmt.Fprintf(out, "[colours]                 # of %s; write what the client wants instead: one of the shop's by name, or a shade to be mixed\n", baseOf(name))
	for _, p := range pots {
		as, kept := p.Shade.Name, ""
		if _, named := o.Shop.Named(as); !named { // by no name that an order knows
			as = p.Shade.Made.Hex()
			if p.Shade.From == plan.ByRule || p.Shade.Name == shop.PlainWhite {
				kept = "# "
			}
		}
		fmt.Fprintf(out, "%s%q = { as = %q, finish = %q }\t# %s: %s\n", kept, p.Of.Hex(), as, p.Shade.Finish, p.Shade.Name, farOff(p.Shade.OffDE2000, o.Shop))
	}
	return exitPlan
}

// farOff says in words how far a colour is from the drawing's.
func farOff(de2000 float64, sh *shop.Shop) string {
	t := words.English()
	for _, x := range []struct {
		below float64
		key   string
	}{{0.05, "same"}, {sh.LikeDE2000, "unseen"}, {sh.AlikeDE2000, "beside"}, {sh.ColourDE2000, "seen"}} {
		if de2000 < x.below {
			return t.Text("colour.off_"+x.key, de2000)
		}
	}
	return t.Text("colour.off_far", de2000)
}
