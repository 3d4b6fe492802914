// Package sheets is the set of all sheets of a plan, by file.
//
// Guarantees: the working sheets stand in one PDF in the order of the work; the client's proof stands apart.
package sheets

import (
	"fmt"

	"sugarwright/planner/plan"
	"sugarwright/render/bench"
	"sugarwright/render/changes"
	"sugarwright/render/colours"
	"sugarwright/render/diagram"
	"sugarwright/render/forecast"
	"sugarwright/render/gauge"
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

// Working sheets in the order of the work: the order and its balance, what to boil, how to cut the slab apart, what to
// make, where it goes, gauges to hold against it, how it is put together, the list for the wall, the cards, how it will
// come out, what goes into the packs.
func Working(p *plan.Plan, s sheet.Style) []Sheet {
	out := []Sheet{
		{"order", order.Pages(p, s)},
		{"colours", colours.Pages(p, s)},
		{"slab", slab.Pages(p, s)},
		{"parts", parts.Pages(p, s)},
		{"assembly", diagram.Pages(p, s)},
		{"gauges", gauge.Pages(p, s)},
		{"pictures", pictures.Pages(p, s)},
		{"steps", steps.Pages(p, s)},
		{"cards", steps.Cards(p, s)},
	}
	if pages, ok := forecast.Pages(p, s); ok {
		out = append(out, Sheet{"forecast", pages})
	}
	out = append(out, Sheet{"packs", packs.Pages(p, s)})
	return out
}

// File of a plan's folder.
type File struct {
	Name string
	Data []byte
}

// proofDPI is the resolution of the proof as a picture: 0.17 mm a dot, below what is seen at arm's length.
const proofDPI = 150

// Files are all sheets of a plan as files. Of a drawing that is planned: each working sheet as SVG, all of them as one
// PDF, the step list as text, the bench page, and the client's proof as SVG, PDF and PNG. Of any: the marked picture
// where a finding has a place, and what was changed.
func Files(p *plan.Plan, s sheet.Style) ([]File, error) {
	var out []File
	if pages := changes.Pages(p, s); pages != nil {
		out = append(out, File{"changes.svg", svg.Write(pages)})
	}
	if p.Verdict == plan.AsDrawn {
		made, err := planned(p, s)
		if err != nil {
			return nil, err
		}
		out = append(out, made...)
	}
	if pages, ok := marked.Pages(p, s); ok {
		out = append(out, File{"marked.svg", svg.Write(pages)})
	}
	return out, nil
}

// planned are the files of a drawing that is planned.
func planned(p *plan.Plan, s sheet.Style) ([]File, error) {
	var out []File
	var all []*page.Page
	for _, x := range Working(p, s) {
		out = append(out, File{x.Name + ".svg", svg.Write(x.Pages)})
		all = append(all, x.Pages...)
	}
	data, err := pdf.Write(all, page.Clean(p.Artwork.Title))
	if err != nil {
		return nil, err
	}
	out = append(out, File{"working.pdf", data}, File{"steps.txt", steps.Text(p, s)})
	if data, err = bench.Page(p, s); err != nil {
		return nil, err
	}
	out = append(out, File{"bench.html", data})
	pages := proof.Pages(p, s)
	out = append(out, File{"proof.svg", svg.Write(pages)})
	if data, err = pdf.Write(pages, page.Clean(p.Artwork.Title)); err != nil {
		return nil, err
	}
	out = append(out, File{"proof.pdf", data})
	for i, pg := range pages {
		if data, err = raster.PNG(pg, proofDPI); err != nil {
			return nil, err
		}
		name := "proof.png"
		if i > 0 {
			name = fmt.Sprintf("proof-%d.png", i+1)
		}
		out = append(out, File{name, data})
	}
	return out, nil
}
