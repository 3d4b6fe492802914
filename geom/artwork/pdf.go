package artwork

import (
	"slices"

	"sugarwright/geom/finding"
	"sugarwright/geom/pdfpage"
	"sugarwright/geom/trace"
)

// pdf reads the first page of a PDF as the drawing that pdfpage makes of it. What is found has no line and column: nobody has that text.
func pdf(data []byte, images *images) (*Artwork, finding.List, error) {
	page, err := pdfpage.First(data)
	if err != nil {
		return nil, nil, &KindError{Kind: PDF, Text: err.Error()}
	}
	art, found, err := parseWith(page.SVG, trace.Options{}, images)
	if err != nil {
		return nil, nil, err
	}
	art.Traced, art.Flat = true, page.SVG
	found = slices.DeleteFunc(found, func(f finding.Finding) bool { return f.Severity == finding.Note }) // of no place
	for i := range found {
		found[i].Source = finding.Source{}
	}
	for i := range art.Altered {
		art.Altered[i].Source = finding.Source{}
	}
	if page.Pages > 1 {
		found.Add(finding.New(finding.FirstPage, finding.Warning, page.Pages))
	}
	m := page.Missing
	if m.Text > 0 {
		found.Add(finding.New(finding.TextInArtwork, finding.Error, m.Text).In("pdf"))
	}
	if m.Pictures > 0 {
		found.Add(finding.New(finding.ImageInArtwork, finding.Error, m.Pictures).In("pdf"))
	}
	if m.Far > 0 {
		found.Add(finding.New(finding.OffTheGrid, finding.Error, m.Far).In("pdf"))
	}
	if m.Shades > 0 {
		found.Add(finding.New(finding.Unsupported, finding.Error, m.Shades).In("pdf"))
	}
	return art, found, nil
}
