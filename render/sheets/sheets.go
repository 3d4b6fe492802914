// Package sheets is the set of all sheets of a plan, by file.
//
// Guarantees: what hangs at the slab stands in one PDF in the order of the work; the office's sheets and the client's proof
// stand apart.
package sheets

import (
	"fmt"
	"regexp"

	"sugarwright/planner/plan"
	"sugarwright/render/bench"
	"sugarwright/render/changes"
	"sugarwright/render/colours"
	"sugarwright/render/diagram"
	"sugarwright/render/forecast"
	"sugarwright/render/gauge"
	"sugarwright/render/lanes"
	"sugarwright/render/marked"
	"sugarwright/render/order"
	"sugarwright/render/packs"
	"sugarwright/render/page"
	"sugarwright/render/parts"
	"sugarwright/render/pdf"
	"sugarwright/render/pictures"
	"sugarwright/render/proof"
	"sugarwright/render/raster"
	"sugarwright/render/sheet"
	"sugarwright/render/slab"
	"sugarwright/render/steps"
	"sugarwright/render/svg"
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

// Sets are all sheets of a plan. Those at the slab stand in the order of the work: what to boil, how to cut the slab apart,
// what to make, where it goes, gauges to hold against it, how it is put together, who does what and when, the list for the
// wall, the cards, how it will come out. The office has the order with its balance, and what goes into the packs.
func Sets(p *plan.Plan, s sheet.Style) []Set {
	working := []Sheet{
		{"colours", colours.Pages(p, s)},
		{"slab", slab.Pages(p, s)},
		{"parts", parts.Pages(p, s)},
		{"assembly", diagram.Pages(p, s)},
		{"gauges", gauge.Pages(p, s)},
		{"pictures", pictures.Pages(p, s)},
		{"lanes", lanes.Pages(p, s)},
		{"steps", steps.Pages(p, s)},
		{"cards", steps.Cards(p, s)},
	}
	if pages, ok := forecast.Pages(p, s); ok {
		working = append(working, Sheet{"forecast", pages})
	}
	return []Set{
		{"working", working},
		{"order", []Sheet{{"order", order.Pages(p, s)}, {"packs", packs.Pages(p, s)}}},
		{"proof", []Sheet{{"proof", proof.Pages(p, s)}}},
	}
}

// Known tells whether a name is one that sheets are written by, or a simplified drawing among them. Names are the same
// in every language.
func Known(name string) bool {
	return known.MatchString(name)
}

var known = regexp.MustCompile(`^((order|colours|slab|parts|assembly|gauges|pictures|lanes|steps|cards|forecast|packs|changes|marked)\.svg` +
	`|(working|order|proof)\.pdf|proof\.svg|steps\.txt|bench\.html|proof(-[0-9]+)?\.png|[^/\\\\]+-simpler\.svg)$`)

// proofDPI is the resolution of the proof as a picture: 0.17 mm a dot, below what is seen at arm's length.
const proofDPI = 150

// Files are all sheets of a plan as files. Of a drawing that is planned: each sheet as SVG, each set as PDF, the step list as
// text, the bench page, and the client's proof as PNG too. Of any: the marked picture where a finding has a place, and
// what was changed.
func Files(p *plan.Plan, s sheet.Style) ([]plan.File, error) {
	var out []plan.File
	if pages := changes.Pages(p, s); pages != nil {
		out = append(out, plan.File{Name: "changes.svg", Data: svg.Write(pages)})
	}
	if p.Verdict == plan.AsDrawn {
		made, err := planned(p, s)
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

// planned are the files of a drawing that is planned.
func planned(p *plan.Plan, s sheet.Style) ([]plan.File, error) {
	var out []plan.File
	add := func(name string, data []byte) { out = append(out, plan.File{Name: name, Data: data}) }
	for _, set := range Sets(p, s) {
		var all []*page.Page
		for _, x := range set.Sheets {
			add(x.Name+".svg", svg.Write(x.Pages))
			all = append(all, x.Pages...)
		}
		data, err := pdf.Write(all, page.Clean(p.Artwork.Title))
		if err != nil {
			return nil, err
		}
		add(set.Name+".pdf", data)
		if set.Name != "proof" {
			continue
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
	}
	add("steps.txt", steps.Text(p, s))
	data, err := bench.Page(p, s)
	if err != nil {
		return nil, err
	}
	add("bench.html", data)
	return out, nil
}
