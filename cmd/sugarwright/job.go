package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"sugarwright/planner/job"
	"sugarwright/planner/shop"
)

// jobCommand prints the template of an order, or says whether one is in order.
func jobCommand(args []string, out, errs io.Writer) int {
	fs := pflag.NewFlagSet("sugarwright job", pflag.ContinueOnError)
	name := fs.String("check", "", "check a file of an order")
	shopFile := fs.String("shop", "", "file of the shop's settings that it is for")
	if code, done := parse(fs, args, 0, out, errs); done {
		return code
	}
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
}
