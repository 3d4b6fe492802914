// Package sheets is the set of all sheets of a plan, by file.
//
// Guarantees: what hangs at the slab stands in one PDF in the order of the work; the office's sheets and the client's proof
// stand apart.
package sheets

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"sync"

	"sugarwright/planner/plan"
	"sugarwright/render/after"
	"sugarwright/render/bench"
	"sugarwright/render/changes"
	"sugarwright/render/forecast"
	"sugarwright/render/gauge"
	"sugarwright/render/marked"
	"sugarwright/render/order"
	"sugarwright/render/page"
	"sugarwright/render/pdf"
	"sugarwright/render/pictures"
	"sugarwright/render/pour"
	"sugarwright/render/proof"
	"sugarwright/render/raster"
	"sugarwright/render/sheet"
	"sugarwright/render/steps"
	"sugarwright/render/svg"
	"sugarwright/render/wall"
)

// Sheet is one working sheet, on as many pages as it needs.
type Sheet struct {
	Name  string // of its file
	Pages []*page.Page
}

// Set is the sheets that are printed together, as one PDF: for those who work at the slab, for the office, for the client.
type Set struct {
	Name   string // of its file
	Sheets []Sheet
}

// Sets are all sheets of a plan: at the slab the wall sheet, and the booklet in the order of the work; for the office the
// order with its balance, and what goes into the packs; for the client the proof.
func Sets(p *plan.Plan, s sheet.Style) []Set {
	out := make([]Set, len(sets))
	each(len(sets), func(i int) { out[i] = sets[i].drawn(p, s) })
	return out
}

var sets = []set{
	{"working", []drawer{{"wall", wall.Pages}, {"pour", pour.Pages}, {"gauges", gauge.Pages}, {"pictures", wall.Large}, {"after", after.Pages}}},
	{"order", []drawer{{"order", order.Pages}}},
	{"proof", []drawer{{"proof", proof.Pages}}},
}

// set is one that is to be drawn.
type set struct {
	name   string
	sheets []drawer
}

// drawer draws a sheet; one without pages is left out.
type drawer struct {
	name  string
	pages func(*plan.Plan, sheet.Style) []*page.Page
}

// drawn is a set with its sheets, made side by side.
func (d set) drawn(p *plan.Plan, s sheet.Style) Set {
	pages := make([][]*page.Page, len(d.sheets))
	each(len(d.sheets), func(i int) { pages[i] = d.sheets[i].pages(p, s) })
	out := Set{Name: d.name}
	for i, x := range d.sheets {
		if len(pages[i]) > 0 {
			out.Sheets = append(out.Sheets, Sheet{x.name, pages[i]})
		}
	}
	return out
}

// each does so many things side by side.
func each(n int, do func(i int)) {
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() { do(i) })
	}
	wg.Wait()
}

// drawings are pictures of a plan that no sheet has: the log taken apart, and faces along the rope.
func drawings(p *plan.Plan, s sheet.Style) []Sheet {
	out := []Sheet{{"exploded", []*page.Page{pictures.Exploded(p, s, 200, 150)}}}
	if pg, ok := forecast.Picture(p, s); ok {
		out = append(out, Sheet{"forecast", []*page.Page{pg}})
	}
	return out
}

// Known tells whether a name is one that sheets are written by, or a simplified drawing among them. Names are the same
// in every language.
func Known(name string) bool {
	return known.MatchString(name)
}

var known = regexp.MustCompile(`^((wall|pour|gauges|pictures|after|order|exploded|forecast|changes|marked)\.svg` +
	`|(working|order|proof)\.pdf|proof\.svg|steps\.txt|bench\.html|proof(-[0-9]+)?\.png|[^/\\\\]+-simpler\.svg)$`)

// proofDPI is the resolution of the proof as a picture: 0.17 mm a dot, below what is seen at arm's length.
const proofDPI = 150

// Files are all sheets of a plan as files. Of a drawing that is planned: each sheet as SVG, each set as PDF, the step list as
// text, the bench page, and the client's proof as PNG too. Of any: the marked picture where a finding has a place, and
// what was changed.
func Files(p *plan.Plan, s sheet.Style) ([]plan.File, error) { return files(p, s, sets) }

// Working are the files of a drawing that is one of several in an order: without the office's and the client's, which are Joint's.
func Working(p *plan.Plan, s sheet.Style) ([]plan.File, error) { return files(p, s, sets[:1]) }

// Joint are the sheets of the office and the client for an order of several drawings, all of them planned.
func Joint(plans []*plan.Plan, s sheet.Style) ([]plan.File, error) {
	p := plan.Joint(plans)
	title := page.Clean(p.Artwork.Title)
	office, err := Set{Name: "order", Sheets: []Sheet{{"order", order.Pages(p, s)}}}.files(title)
	if err != nil {
		return nil, err
	}
	client, err := Set{Name: "proof", Sheets: []Sheet{{"proof", proof.Together(plans, p, s)}}}.files(title)
	return append(office, client...), err
}

// files of a plan, of those that are planned so many sets.
func files(p *plan.Plan, s sheet.Style, sets []set) ([]plan.File, error) {
	var out []plan.File
	if pages := changes.Pages(p, s); pages != nil {
		out = append(out, plan.File{Name: "changes.svg", Data: svg.Write(pages)})
	}
	if p.Verdict == plan.AsDrawn {
		made, err := planned(p, s, sets)
		if err != nil {
			return nil, err
		}
		out = append(out, made...)
	}
	if pages, ok := marked.Pages(p, s); ok {
		out = append(out, plan.File{Name: "marked.svg", Data: svg.Write(pages)})
	}
	return out, nil
}

// planned are the files of a drawing that is planned: its sets, its drawings, the list of steps and the bench page, made
// side by side and given in this order.
func planned(p *plan.Plan, s sheet.Style, sets []set) ([]plan.File, error) {
	var jobs []func() ([]plan.File, error)
	for _, x := range sets {
		jobs = append(jobs, func() ([]plan.File, error) { return x.drawn(p, s).files(page.Clean(p.Artwork.Title)) })
	}
	jobs = append(jobs,
		func() (out []plan.File, err error) {
			for _, x := range drawings(p, s) {
				out = append(out, plan.File{Name: x.Name + ".svg", Data: svg.Write(x.Pages)})
			}
			return append(out, plan.File{Name: "steps.txt", Data: steps.Text(p, s)}), nil
		},
		func() ([]plan.File, error) {
			data, err := bench.Page(p, s)
			return []plan.File{{Name: "bench.html", Data: data}}, err
		})
	files, errs := make([][]plan.File, len(jobs)), make([]error, len(jobs))
	each(len(jobs), func(i int) { files[i], errs[i] = jobs[i]() })
	return slices.Concat(files...), errors.Join(errs...)
}

// files of a set: each sheet as SVG, all of them as PDF, and the client's as PNG too.
func (set Set) files(title string) (out []plan.File, err error) {
	add := func(name string, data []byte) { out = append(out, plan.File{Name: name, Data: data}) }
	var all []*page.Page
	for _, x := range set.Sheets {
		add(x.Name+".svg", svg.Write(x.Pages))
		all = append(all, x.Pages...)
	}
	data, err := pdf.Write(all, title)
	if err != nil {
		return nil, err
	}
	add(set.Name+".pdf", data)
	if set.Name != "proof" {
		return out, nil
	}
	for i, pg := range all {
		if data, err = raster.PNG(pg, proofDPI); err != nil {
			return nil, err
		}
		name := "proof.png"
		if i > 0 {
			name = fmt.Sprintf("proof-%d.png", i+1)
		}
		add(name, data)
	}
	return out, nil
}
