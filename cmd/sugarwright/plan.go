package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"sugarwright/output"
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
	w := wanted{}
	w.add(fs, "with --simplify: ")
	dir := fs.String("out", "", "folder for the plan and the sheets (default: the artwork's name + -plan)")
	stages := fs.String("stages", "", "folder for each stage's result, for developers")
	replace := fs.Bool("replace", false,
		"let the plan take the place of another drawing's, and lie beside files that are not its own")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	name := fs.Arg(0)
	if *dir == "" {
		*dir = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)) + "-plan"
	}
	if w != (wanted{}) && !*simpler {
		return fail(errs, exitUsage, "--keep and --offer speak of a simplified drawing; give --simplify too")
	}
	folder := output.Folder{
		Dir:     *dir,
		Inputs:  f.inputs(name),
		Replace: *replace,
		Ours:    output.Plans{Drawing: filepath.Base(name)},
	}
	if err := ready(folder, *stages); err != nil {
		return failOutput(errs, err)
	}
	res, st, files, code := planned(name, &f, *simpler, w, errs)
	if code != 0 {
		return code
	}
	folder.Files = files
	js, code := write(folder, *stages, res, st, errs)
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
	w wanted,
	errs io.Writer,
) (*planner.Result, sheet.Style, []plan.File, int) {
	if !simpler {
		res, st, code := compile(name, f, errs)
		return res, st, nil, code
	}
	s, st, code := makeSimpler(name, f, w, errs)
	switch {
	case code != 0:
		return nil, st, nil, code
	case s.After == nil || s.After == s.Before:
		return s.Before, st, nil, 0
	}
	return s.After, st, []plan.File{{Name: s.After.Plan.Artwork.File, Data: s.SVG}}, 0
}

// ready tells beforehand what stands against the folders of a call.
func ready(folder output.Folder, stagesDir string) error {
	if err := folder.Allowed(); err != nil || stagesDir == "" {
		return err
	}
	if err := apart(folder.Dir, stagesDir); err != nil {
		return err
	}
	stages, _ := stagesFolder(stagesDir, folder.Inputs, nil)
	return stages.Allowed()
}

// write puts a plan with its sheets into a folder, beside the files that it has already, and each stage's result into
// another where one is named. It returns the plan file's bytes.
func write(folder output.Folder, stagesDir string, res *planner.Result, st sheet.Style, errs io.Writer) ([]byte, int) {
	internal := func(err error) ([]byte, int) { return nil, fail(errs, exitInternal, "%v\n%s", err, ourFault) }
	made, err := sheets.Files(res.Plan, st)
	if err != nil {
		return internal(err)
	}
	folder.Files = append(append([]plan.File{}, folder.Files...), made...)
	js, err := plan.Write(res.Plan, folder.Files, say.In(words.English()))
	if err != nil {
		return internal(err)
	}
	folder.Files = append(folder.Files, plan.File{Name: plan.FileName, Data: js})
	if err := put(folder, errs); err != nil {
		return nil, failOutput(errs, err)
	}
	if stagesDir != "" {
		stages, err := stagesFolder(stagesDir, folder.Inputs, res)
		if err != nil {
			return internal(err)
		}
		if err := put(stages, errs); err != nil {
			return nil, failOutput(errs, err)
		}
	}
	return js, 0
}
