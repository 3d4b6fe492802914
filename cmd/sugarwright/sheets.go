package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sugarwright/output"
	"sugarwright/planner/plan"
	"sugarwright/render/say"
	"sugarwright/render/sheets"
	"sugarwright/render/words"
)

// mostPlanBytes bounds a plan file that is read: that of a log of some hundred parts has a few million.
const mostPlanBytes = 64 << 20

// sheetsCommand draws the sheets of a plan file again.
func sheetsCommand(out, errs io.Writer) *cobra.Command {
	var f flags
	c, fs := command("sheets PLAN.json", "the sheets of a plan again, in another language, paper or ink", 1, 1)
	f.addStyle(fs)
	dir := fs.String("out", "", "folder for the sheets (default: the plan's own name + -sheets)")
	replace := fs.Bool(
		"replace",
		false,
		"let the sheets lie beside files that are not theirs, or take another drawing's place",
	)
	only := fs.String("only", "", "names of the files that are wanted, like working.pdf,proof.pdf")
	return does(c, func() int {
		name := fs.Arg(0)
		if *dir == "" {
			*dir = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)) + "-sheets"
		}
		folder := output.Folder{Dir: *dir, Inputs: output.Inputs{name}, Replace: *replace}
		st, err := f.style()
		if err != nil {
			return fail(errs, exitUsage, "%v", err)
		}
		p, err := readPlan(name)
		if err != nil {
			return fail(errs, exitUsage, "%s: %v", name, err)
		}
		folder.Ours = output.Plans{Drawing: p.Drawing()}
		if err := folder.Allowed(); err != nil {
			return failOutput(errs, err)
		}
		files, err := sheets.Files(p, st)
		if err != nil {
			return fail(errs, exitInternal, "%v\n%s", err, ourFault)
		}
		var has []string
		for _, x := range files {
			has = append(has, x.Name)
		}
		wanted := []plan.File{}
		for _, w := range strings.FieldsFunc(*only, func(r rune) bool { return r == ',' }) {
			k := slices.Index(has, w)
			if k < 0 {
				return fail(errs, exitUsage, "%s: a plan that is %s has no sheet %q; it has %s", name, p.Verdict, w,
					strings.Join(has, ", "))
			}
			wanted = append(wanted, files[k])
		}
		if *only == "" {
			wanted = append(wanted, files...)
		}
		js, err := plan.Write(p, wanted, say.In(words.English()))
		if err != nil {
			return fail(errs, exitInternal, "%v\n%s", err, ourFault)
		}
		folder.Files = append(wanted, plan.File{Name: plan.FileName, Data: js})
		if err := put(folder, errs); err != nil {
			return failOutput(errs, err)
		}
		fmt.Fprintf(out, "%s: %d files in %s\n", name, len(wanted), *dir)
		return exitPlan
	})
}

// readPlan reads a plan file.
func readPlan(name string) (*plan.Plan, error) {
	data, err := readBounded(name, mostPlanBytes)
	if err != nil {
		return nil, err
	}
	return plan.Read(data)
}
