package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sugarwright/output"
	"sugarwright/planner/plan"
	"sugarwright/render/marked"
	"sugarwright/render/say"
	"sugarwright/render/svg"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

func checkCommand(out, errs io.Writer) *cobra.Command {
	var f flags
	c, fs := command("check ARTWORK.svg", "can it be made, and what is in the way", 1, 1)
	f.add(fs)
	to := fs.String("out", "", "file for the marked picture (SVG)")
	return does(c, func() int {
		if err := allowed(f.inputs(fs.Arg(0)), *to); err != nil {
			return failOutput(errs, err)
		}
		out = results(*to, out, errs)
		res, st, code := compile(fs.Arg(0), &f, errs)
		if code != 0 {
			return code
		}
		p := res.Plan
		if *to != "" {
			pages, ok := marked.Pages(p, st)
			if !ok {
				fmt.Fprintln(errs, "sugarwright: no finding has a place; no marked picture written")
			} else if err := (output.One{Name: *to, Inputs: f.inputs(fs.Arg(0))}).Put(svg.Write(pages)); err != nil {
				return failOutput(errs, err)
			}
		}
		if f.json {
			return printJSON(p, out, errs)
		}
		fmt.Fprint(out, terminal.Verdict(p, st.T(), fs.Arg(0)), terminal.Cost(p, st), terminal.Reply(p, st.T()))
		if terminal.Offerable(p) {
			fmt.Fprintln(out, st.T().Text("terminal.try_simplify", fs.Arg(0)))
		}
		return verdictCode(p)
	})
}

// printJSON prints a plan of which no file is written.
func printJSON(p *plan.Plan, out, errs io.Writer) int {
	js, err := plan.Write(p, nil, say.In(words.English()))
	if err != nil {
		return fail(errs, exitInternal, "%v\n%s", err, ourFault)
	}
	out.Write(js)
	return verdictCode(p)
}
