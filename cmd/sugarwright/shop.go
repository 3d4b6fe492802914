package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"sugarwright/planner/shop"
	"sugarwright/planner/windows"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

func shopCommand(args []string, out, errs io.Writer) int {
	fs := pflag.NewFlagSet("sugarwright shop", pflag.ContinueOnError)
	name := fs.String("check", "", "check a file of shop settings, and evaluate the shop's own tests in it")
	if code, done := parse(fs, args, 0, out, errs); done {
		return code
	}
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
}
