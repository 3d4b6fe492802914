package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"sugarwright/planner"
	"sugarwright/planner/plan"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

// facesForeseen along the rope: a dozen.
const facesForeseen = 12

func planCommand(args []string, out, errs io.Writer) int {
	f := flags{faces: facesForeseen}
	fs := pflag.NewFlagSet("sugarwright plan ARTWORK.svg", pflag.ContinueOnError)
	f.add(fs)
	simpler := fs.Bool("simplify", false,
		"plan the simplified drawing where this one cannot be built as drawn; the folder then holds both")
	keep := fs.String("keep", "", "with --simplify: numbers of changes that are not to be made, like 3,7")
	dir := fs.String("out", "", "folder for the plan and the sheets (default: the artwork's name + -plan)")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	name := fs.Arg(0)
	if *dir == "" {
		*dir = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)) + "-plan"
	}
	if *keep != "" && !*simpler {
		return fail(errs, exitUsage, "--keep refuses changes of a simplified drawing; give --simplify too")
	}
	res, st, files, code := planned(name, &f, *simpler, *keep, errs)
	if code != 0 {
		return code
	}
	js, code := write(*dir, f.stages, res, st, files, errs)
	if code != 0 {
		return code
	}
	if f.json {
		out.Write(js)
	} else {
		fmt.Fprintln(out, terminal.Planned(res.Plan, st.T(), name, *dir))
	}
	return verdictCode(res.Plan)
}

// planned compiles a drawing, or with simpler the least change of it that can be built: files then hold the changed
// one. code is set when it failed.
func planned(
	name string,
	f *flags,
	simpler bool,
	keep string,
	errs io.Writer,
) (*planner.Result, sheet.Style, []sheets.File, int) {
	if !simpler {
		res, st, code := compile(name, f, errs)
		return res, st, nil, code
	}
	s, st, code := makeSimpler(name, f, keep, errs)
	switch {
	case code != 0:
		return nil, st, nil, code
	case s.After == nil || s.After == s.Before:
		return s.Before, st, nil, 0
	}
	return s.After, st, []sheets.File{{Name: s.After.Plan.Artwork.File, Data: s.SVG}}, 0
}

// write puts a plan with its sheets, and other files, into a folder, and each stage's result into another where one is
// named. It returns the plan file's bytes.
func write(
	dir, stagesDir string,
	res *planner.Result,
	st sheet.Style,
	files []sheets.File,
	errs io.Writer,
) ([]byte, int) {
	made, err := sheets.Files(res.Plan, st)
	if err != nil {
		return nil, fail(errs, exitInternal, "%v\n%s", err, ourFault)
	}
	files = append(files, made...)
	listed := []string{"plan.json"}
	for _, x := range files {
		listed = append(listed, x.Name)
	}
	js, err := plan.Write(res.Plan, listed, say.In(words.English()))
	if err != nil {
		return nil, fail(errs, exitInternal, "%v\n%s", err, ourFault)
	}
	files = append(files, sheets.File{Name: "plan.json", Data: js}) // last, so that it lists only what is there
	if err := save(dir, files, listed); err != nil {
		return nil, fail(errs, exitOutput, "%v; nothing was replaced", err)
	}
	if stagesDir != "" {
		if err := saveStages(stagesDir, res); err != nil {
			return nil, fail(errs, exitOutput, "%v", err)
		}
	}
	return js, 0
}

// saveStages writes each stage's result for developers.
func saveStages(dir string, res *planner.Result) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for i, s := range res.Stages.List() {
		data, err := s.JSON()
		if err != nil {
			return err
		}
		if err := writeFile(filepath.Join(dir, fmt.Sprintf("%02d-%s.json", i, s.Name)), append(data, '\n')); err != nil {
			return err
		}
	}
	return nil
}
