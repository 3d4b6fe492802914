package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

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

func planCommand(out, errs io.Writer) *cobra.Command {
	f := flags{faces: facesForeseen}
	c, fs := command("plan [ARTWORK.svg]", "the plan and every sheet, into a folder; with --job alone, of all drawings that an order names", 0, 1)
	f.add(fs)
	simpler := fs.Bool("simplify", false,
		"plan the simplified drawing where this one cannot be built as drawn; the folder then holds both")
	w := wanted{}
	w.add(fs, "with --simplify: ")
	dir := fs.String("out", "", "folder for the plan and the sheets (default: the artwork's name + -plan)")
	stages := fs.String("stages", "", "folder for each stage's result, for developers")
	replace := fs.Bool("replace", false,
		"let the plan take the place of another drawing's, and lie beside files that are not its own")
	return does(c, func() int {
		if w != (wanted{}) && !*simpler {
			return fail(errs, exitUsage, "--keep and --offer speak of a simplified drawing; give --simplify too")
		}
		how := planning{flags: &f, simpler: *simpler, wanted: w, stages: *stages, replace: *replace}
		if fs.NArg() == 0 {
			return how.order(*dir, out, errs)
		}
		name := fs.Arg(0)
		if *dir == "" {
			*dir = folderOf(name)
		}
		res, js, code := how.one(name, *dir, sheets.Files, errs)
		if code != 0 {
			return code
		}
		if f.json {
			out.Write(js)
		} else {
			fmt.Fprintln(out, terminal.Planned(res.Plan, how.style.T(), name, *dir))
		}
		return verdictCode(res.Plan)
	})
}

// folderOf a plan of a file, where none is named.
func folderOf(name string) string {
	return strings.TrimSuffix(baseOf(name), filepath.Ext(name)) + "-plan"
}

// planning is how drawings are planned, and where it went.
type planning struct {
	flags   *flags
	simpler bool
	wanted  wanted
	stages  string
	replace bool
	style   sheet.Style
}

// one drawing is planned into a folder; code is set when it failed.
func (h *planning) one(name, dir string, drawn func(*plan.Plan, sheet.Style) ([]plan.File, error), errs io.Writer) (*planner.Result, []byte, int) {
	folder := output.Folder{
		Dir:     dir,
		Inputs:  h.flags.inputs(name),
		Replace: h.replace,
		Ours:    output.Plans{Drawing: baseOf(name)},
	}
	if err := ready(folder, h.stages); err != nil {
		return nil, nil, failOutput(errs, err)
	}
	res, st, files, code := planned(name, h.flags, h.simpler, h.wanted, errs)
	if h.style = st; code != 0 {
		return nil, nil, code
	}
	folder.Files = files
	js, code := write(folder, h.stages, res, st, drawn, errs)
	return res, js, code
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
func write(
	folder output.Folder,
	stagesDir string,
	res *planner.Result,
	st sheet.Style,
	drawn func(*plan.Plan, sheet.Style) ([]plan.File, error),
	errs io.Writer,
) ([]byte, int) {
	internal := func(err error) ([]byte, int) { return nil, fail(errs, exitInternal, "%v\n%s", err, ourFault) }
	made, err := drawn(res.Plan, st)
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
