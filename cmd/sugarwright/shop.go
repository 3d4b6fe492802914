package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sugarwright/planner/shop"
	"sugarwright/planner/windows"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

func shopCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("shop", "the shop's settings, to edit and pass with --shop; with --check, whether a file of them is in order", 0, 0)
	name := fs.String("check", "", "check a file of shop settings, and evaluate the shop's own tests in it")
	return does(c, func() int {
		if *name == "" {
			out.Write(shop.DefaultFile())
			return exitPlan
		}
		s, err := readShop(*name)
		if err != nil {
			return fail(errs, exitUsage, "%v", err)
		}
		fmt.Fprintf(out, "%s: in order\n%s", *name, terminal.Shop(windows.Facts(s), words.English()))
		return exitPlan
	})
}
