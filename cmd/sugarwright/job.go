package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sugarwright/planner/job"
	"sugarwright/planner/shop"
)

// jobCommand prints the template of an order, or says whether one is in order.
func jobCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("job", "an order's details, to edit and pass with --job", 0, 0)
	name := fs.String("check", "", "check a file of an order")
	shopFile := fs.String("shop", "", "file of the shop's settings that it is for")
	return does(c, func() int {
		if *name == "" {
			out.Write(job.Template())
			return exitPlan
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
