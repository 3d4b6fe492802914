package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"sugarwright/geom/artwork"
	"sugarwright/output"
	"sugarwright/planner"
	"sugarwright/planner/job"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/render/sheets"
	"sugarwright/render/terminal"
)

// officeFolder is the folder for the sheets that are of the whole order, beside those of its drawings.
const officeFolder = "office"

// order plans all drawings that the order's file names, each into a folder of its own, and the whole into one beside them.
func (h *planning) order(dir string, out, errs io.Writer) int {
	f := h.flags
	if f.jobFile == "" {
		return fail(errs, exitUsage, "name the drawing, or with --job an order that names several; see sugarwright job")
	}
	j, err := f.whole()
	if err != nil {
		return fail(errs, exitUsage, "%v", err)
	}
	if h.stages != "" {
		return fail(errs, exitUsage, "--stages is of one drawing: name it")
	}
	if dir == "" {
		dir = folderOf(f.jobFile)
	}
	files, folders, err := designFiles(j, f.jobFile, dir)
	if err != nil {
		return fail(errs, exitUsage, "%v", err)
	}
	office := output.Folder{
		Dir:     filepath.Join(dir, officeFolder),
		Inputs:  append(f.inputs(""), files...),
		Replace: h.replace,
		Ours:    output.Plans{Drawing: filepath.Base(f.jobFile), Order: true},
	}
	if err := office.Allowed(); err != nil {
		return failOutput(errs, err)
	}
	var plans []*plan.Plan
	code := exitPlan
	for i, name := range files {
		res, _, failed := h.one(name, folders[i], sheets.Working, errs)
		if failed != 0 {
			return failed
		}
		if !f.json {
			fmt.Fprintln(out, terminal.Planned(res.Plan, h.style.T(), name, folders[i]))
		}
		p, err := plan.Normal(res.Plan)
		if err != nil {
			return fail(errs, exitInternal, "%v\n%s", err, ourFault)
		}
		plans = append(plans, p)
		code = max(code, verdictCode(res.Plan))
	}
	if code != exitPlan {
		return fail(errs, code, "the order as a whole has no sheets yet: not all of its drawings are planned")
	}
	joint := plan.Joint(plans)
	office.Files, err = sheets.Joint(plans, h.style)
	var js []byte
	if err == nil {
		js, err = plan.WriteOrder(filepath.Base(f.jobFile), joint, office.Files)
	}
	if err != nil {
		return fail(errs, exitInternal, "%v\n%s", err, ourFault)
	}
	office.Files = append(office.Files, plan.File{Name: plan.OrderFileName, Data: js})
	if err := put(office, errs); err != nil {
		return failOutput(errs, err)
	}
	if f.json {
		out.Write(js)
	} else {
		fmt.Fprintln(out, terminal.Together(joint, h.style.T(), office.Dir))
	}
	return code
}

// whole is the order's file, which must name drawings.
func (f *flags) whole() (*job.Job, error) {
	sh, err := f.shop()
	if err != nil {
		return nil, err
	}
	j, err := readJob(f.jobFile, sh, "")
	if err == nil && len(j.Designs) == 0 {
		err = fmt.Errorf("%s names no drawings ([[designs]]): name the drawing in the call", f.jobFile)
	}
	return j, err
}

// designFiles are the drawings of an order, which lie beside its file, and the folder for each.
func designFiles(j *job.Job, jobFile, dir string) (files, folders []string, err error) {
	taken := map[string]bool{officeFolder: true}
	for _, d := range j.Designs {
		name := besides(jobFile, d.File)
		if _, err := os.Stat(name); err != nil {
			return nil, nil, j.Fault(j.Line("designs"), "%s is not beside the order's file: %v", d.File, errors.Unwrap(err))
		}
		files = append(files, name)
		stem := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
		if taken[strings.ToLower(stem)] {
			stem = strings.ReplaceAll(filepath.Base(name), ".", "-")
		}
		taken[strings.ToLower(stem)] = true
		folders = append(folders, filepath.Join(dir, stem))
	}
	return files, folders, nil
}

// besides is a drawing that an order's file names, as it lies beside it.
func besides(jobFile, drawing string) string {
	return filepath.Join(filepath.Dir(jobFile), filepath.FromSlash(strings.ReplaceAll(drawing, "\\", "/")))
}

// mixed weighs all drawings of an order of several, so that what its packs hold does not hang on which of them is planned.
// Those that are not there, or cannot be read, are said by the plan.
func (f *flags) mixed(o *planner.Options, drawing string) {
	j := o.Job
	if j == nil || len(j.Designs) < 2 {
		return
	}
	sum, shares := 0.0, 0
	for _, d := range j.Designs {
		name := besides(f.jobFile, d.File)
		if job.Same(d.File, drawing) {
			name = drawing
		}
		grams := 0.0
		if data, err := artwork.ReadFile(name); err == nil {
			grams, _ = planner.PieceG(data, *o)
		}
		if grams <= 0 {
			j.Away = append(j.Away, d.File)
			continue
		}
		sum, shares = sum+float64(d.Share)*grams, shares+d.Share
	}
	if len(j.Away) == 0 {
		j.MixG = sum / float64(shares)
	}
}

// shop is the kitchen's settings.
func (f *flags) shop() (*shop.Shop, error) {
	if f.shopFile == "" {
		return shop.Default(), nil
	}
	return readShop(f.shopFile)
}
