package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
	"sugarwright/planner"
	"sugarwright/planner/job"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
	"sugarwright/render/changes"
	"sugarwright/render/marked"
	"sugarwright/render/section"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
	"sugarwright/render/svg"
)

const ourFault = "This is our fault, not the drawing's: please report it with the drawing.\n"

// compile reads the artwork and runs the pipeline; code is set when it failed.
func compile(name string, f *flags, errs io.Writer) (*planner.Result, sheet.Style, int) {
	data, err := artwork.ReadFile(name)
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return nil, sheet.Style{}, exitUsage
	}
	return compileBytes(name, data, f, errs)
}

// compileBytes runs the pipeline on an artwork that has been read.
func compileBytes(name string, data []byte, f *flags, errs io.Writer) (*planner.Result, sheet.Style, int) {
	o, st, err := f.options(name)
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return nil, st, exitUsage
	}
	res, err := planner.Compile(filepath.Base(name), data, o)
	if err != nil {
		return nil, st, sayError(name, err, errs)
	}
	for _, fd := range res.Findings {
		fmt.Fprintln(errs, fd.Line(name))
	}
	return res, st, 0
}

// sayError prints why there is no result, and whose fault it is.
func sayError(name string, err error, errs io.Writer) int {
	var faults settings.Faults
	if errors.As(err, &faults) {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitUsage
	}
	var bad *artwork.SyntaxError
	if errors.As(err, &bad) || errors.Is(err, size.ErrOrder) || errors.Is(err, planner.ErrSize) || errors.Is(err, planner.ErrKeep) {
		fmt.Fprintf(errs, "sugarwright: %s: %v\n", name, err)
		return exitUsage
	}
	fmt.Fprintf(errs, "sugarwright: %s: %v\n%s", name, err, ourFault)
	return exitInternal
}

func verdictCode(p *plan.Plan) int {
	if p.Verdict == planner.AsDrawn {
		return exitPlan
	}
	return exitRefused
}

// markedSheet draws the findings on the section.
func markedSheet(res *planner.Result, st sheet.Style) ([]byte, bool) {
	pages, ok := marked.Pages(res.Plan, regionsOf(res), res.Failing, st)
	if !ok {
		return nil, false
	}
	return svg.Write(pages), true
}

// facesForeseen along the rope: a dozen.
const facesForeseen = 12

func planCommand(args []string, out, errs io.Writer) int {
	f := flags{faces: facesForeseen}
	fs := pflag.NewFlagSet("sugarwright plan ARTWORK.svg", pflag.ContinueOnError)
	f.add(fs)
	simpler := fs.Bool("simplify", false, "plan the simplified drawing where this one cannot be built as drawn; the folder then holds both")
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
		fmt.Fprintln(errs, "sugarwright: --keep refuses changes of a simplified drawing; give --simplify too")
		return exitUsage
	}
	res, before, st, files, code := planned(name, &f, *simpler, *keep, errs)
	if code != 0 {
		return code
	}
	p := res.Plan
	made, err := sheetFiles(res, before, st)
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n%s", err, ourFault)
		return exitInternal
	}
	files = append(files, made...)
	p.Files = []string{"plan.json"}
	for _, x := range files {
		p.Files = append(p.Files, x.Name)
	}
	js, err := p.JSON()
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n%s", err, ourFault)
		return exitInternal
	}
	files = append(files, sheets.File{Name: "plan.json", Data: js}) // last, so that it lists only what is there
	if f.stages != "" {
		if err := stages(f.stages, res); err != nil {
			fmt.Fprintf(errs, "sugarwright: %v\n", err)
			return exitOutput
		}
	}
	if err := save(*dir, files, p.Files); err != nil {
		fmt.Fprintf(errs, "sugarwright: %v; nothing was replaced\n", err)
		return exitOutput
	}
	if f.json {
		out.Write(js)
		return verdictCode(p)
	}
	if p.Verdict == planner.AsDrawn {
		logs := ""
		if p.Order.Logs > 1 {
			logs = fmt.Sprintf(" a log, %d logs", p.Order.Logs)
		}
		fmt.Fprintf(out, "%s: %s, %d parts made, %d laid, round at minute %.0f, %d pieces%s: see %s\n", name, how(p), res.Distinct, len(p.Elements),
			float64(p.Log.MinutesToRoll)+res.RoundMin, p.Piece.Count, logs, *dir)
	} else {
		fmt.Fprintf(out, "%s: %s: see %s\n", name, p.Verdict, *dir)
	}
	return verdictCode(p)
}

// planned compiles a drawing, or with simpler the least change of it that can be built: before is then the client's own, and files hold the changed one. code is set when
// it failed.
func planned(name string, f *flags, simpler bool, keep string, errs io.Writer) (res, before *planner.Result, st sheet.Style, files []sheets.File, code int) {
	if !simpler {
		res, st, code = compile(name, f, errs)
		return res, nil, st, nil, code
	}
	s, st, code := makeSimpler(name, f, keep, errs)
	switch {
	case code != 0:
		return nil, nil, st, nil, code
	case s.After == nil || s.After == s.Before:
		return s.Before, nil, st, nil, 0
	}
	return s.After, s.Before, st, []sheets.File{{Name: s.After.Plan.Artwork.File, Data: s.SVG}}, 0
}

// save puts files into a folder, all or none; listed are those that the plan names.
func save(dir string, files []sheets.File, listed []string) error {
	w, err := newFolder(dir)
	if err != nil {
		return err
	}
	defer w.close()
	for _, x := range files {
		if err := w.put(x.Name, x.Data); err != nil {
			return err
		}
	}
	return w.commit(listed)
}

// sheetFiles are all sheets of a result; before is the client's own drawing, where this one was simplified from it.
func sheetFiles(res, before *planner.Result, st sheet.Style) ([]sheets.File, error) {
	var files []sheets.File
	var drawing []section.Area
	if before != nil {
		drawing = regionsOf(before)
		files = append(files, sheets.File{Name: "changes.svg", Data: svg.Write(changes.Pages(res.Plan, drawing, regionsOf(res), st))})
	}
	if res.Plan.Verdict == planner.AsDrawn {
		made, err := sheets.Files(res.Plan, st, drawing)
		if err != nil {
			return nil, err
		}
		files = append(files, made...)
	}
	if data, ok := markedSheet(res, st); ok {
		files = append(files, sheets.File{Name: "marked.svg", Data: data})
	}
	return files, nil
}

// how a drawing is built.
func how(p *plan.Plan) string {
	if p.SimplifiedFrom != nil {
		return fmt.Sprintf("simplified (%d changes)", len(p.Changes))
	}
	return "as drawn"
}

func checkCommand(args []string, out, errs io.Writer) int {
	var f flags
	fs := pflag.NewFlagSet("sugarwright check ARTWORK.svg", pflag.ContinueOnError)
	f.add(fs)
	to := fs.String("out", "", "file for the marked picture (SVG)")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	res, st, code := compile(fs.Arg(0), &f, errs)
	if code != 0 {
		return code
	}
	p := res.Plan
	if *to != "" {
		data, ok := markedSheet(res, st)
		if ok {
			if err := writeFile(*to, data); err != nil {
				fmt.Fprintf(errs, "sugarwright: %v\n", err)
				return exitOutput
			}
		} else {
			fmt.Fprintln(errs, "sugarwright: no finding has a place; no marked picture written")
		}
	}
	if f.json {
		js, err := p.JSON()
		if err != nil {
			fmt.Fprintf(errs, "sugarwright: %v\n%s", err, ourFault)
			return exitInternal
		}
		out.Write(js)
		return verdictCode(p)
	}
	fmt.Fprintf(out, "%s: %s\n", fs.Arg(0), p.Verdict)
	fmt.Fprint(out, planner.Cost(res, st), planner.Reply(res, nil))
	if p.Verdict == planner.Simplify {
		fmt.Fprintf(out, "sugarwright simplify %s --out SIMPLER.svg seeks the least change after which it can be made\n", fs.Arg(0))
	}
	return verdictCode(p)
}

func regionsCommand(args []string, out, errs io.Writer) int {
	var f flags
	fs := pflag.NewFlagSet("sugarwright regions ARTWORK.svg", pflag.ContinueOnError)
	to := fs.String("out", "", "file for the flat regions (SVG)")
	fs.StringVar(&f.ground, "ground", "#ffffff", "colour of what is not painted")
	if code, done := parse(fs, args, 1, out, errs); done {
		return code
	}
	if *to == "" {
		fmt.Fprintln(errs, "sugarwright: say where to with --out F.svg")
		return exitUsage
	}
	data, err := artwork.ReadFile(fs.Arg(0))
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitUsage
	}
	ground, ok := artwork.ParseColour(f.ground)
	if !ok {
		fmt.Fprintf(errs, "sugarwright: --ground %q is not a colour\n", f.ground)
		return exitUsage
	}
	art, found, err := artwork.Parse(data)
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %s: %v\n", fs.Arg(0), err)
		return exitUsage
	}
	var m *partition.Map
	if !found.Has(finding.TooMuch) { // what was read is not all of it
		var more finding.List
		m, more, err = partition.Canvas(art, ground)
		found = append(found, more...)
	}
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		found.Add(much.Finding())
	} else if err != nil {
		fmt.Fprintf(errs, "sugarwright: %s: %v\n%s", fs.Arg(0), err, ourFault)
		return exitInternal
	}
	for _, fd := range found {
		fmt.Fprintln(errs, fd.Line(fs.Arg(0)))
	}
	if m == nil {
		return exitRefused
	}
	if err := writeFile(*to, flat.Write(art.Page, m)); err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitOutput
	}
	if found.Worst() == finding.Error { // the picture is not all of the artwork
		return exitRefused
	}
	return exitPlan
}

func shopCommand(args []string, out, errs io.Writer) int {
	fs := pflag.NewFlagSet("sugarwright shop", pflag.ContinueOnError)
	name := fs.String("check", "", "file of shop settings: is it in order, and what do the shop's own tests say")
	if code, done := parse(fs, args, 0, out, errs); done {
		return code
	}
	if *name == "" {
		out.Write(shop.DefaultFile())
		return exitPlan
	}
	s, err := readShop(*name)
	if err != nil {
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitUsage
	}
	fmt.Fprintf(out, "%s: in order\n%s", *name, planner.ShopReport(s))
	return exitPlan
}

// jobCommand prints the template of an order, or says whether one is in order.
func jobCommand(args []string, out, errs io.Writer) int {
	fs := pflag.NewFlagSet("sugarwright job", pflag.ContinueOnError)
	name := fs.String("check", "", "file of an order: is it in order")
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
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitUsage
	}
	fmt.Fprintf(out, "%s: in order\n", *name)
	return exitPlan
}

// stages writes each stage's result for developers.
func stages(dir string, res *planner.Result) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for i, s := range res.Stages() {
		if err := writeFile(filepath.Join(dir, fmt.Sprintf("%d-%s.json", i+1, s.Name)), s.JSON); err != nil {
			return err
		}
	}
	return nil
}
