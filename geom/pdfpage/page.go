// Package pdfpage turns the first page of a PDF into a drawing in SVG: paths, clips, colours, shades, tiles, placed pictures, forms and
// masks. What it cannot turn is counted.
//
// Guarantees: nothing outside the file is opened; unpacked bytes, operators, depth and the drawing's size are bounded; the same file
// gives the same drawing. It knows nothing of sugar, and imports nothing of the project but geom.
//
// References: ISO 32000-1:2008, Portable Document Format.
package pdfpage

import (
	"bytes"
	"errors"
	"fmt"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"sugarwright/geom"
)

// Bounds of what is read.
const (
	mostUnpacked  = 64 << 20
	mostOperators = 2_000_000
	mostDepth     = 12
	mostDrawing   = 15 << 20
	mostPixels    = 50_000_000
)

// Missing is what a page holds and the drawing does not, and how often.
type Missing struct {
	Text     int // runs of letters
	Pictures int // of kinds that are not read
	Shades   int // of kinds that are not read
	Far      int // numbers that nobody can compute with
}

// Page is the first page as a drawing.
type Page struct {
	SVG     []byte
	Pages   int // of the file
	Missing Missing
}

// errTooMuch is a page over one of the bounds.
var errTooMuch = errors.New("the page of the PDF has more in it than is read")

// First reads the first page.
func First(data []byte) (out *Page, err error) {
	defer func() { // the file is a stranger's
		if e := recover(); e != nil {
			out, err = nil, fmt.Errorf("the PDF is damaged: %v", e)
		}
	}()
	model.ConfigPath = "disable" // nothing of the machine is read or written
	conf := model.NewDefaultConfiguration()
	conf.ValidationMode = model.ValidationRelaxed
	conf.Limits.MaxStreamBytes, conf.Limits.MaxDecodeBytes = mostUnpacked, mostUnpacked
	ctx, err := pdfcpu.Read(bytes.NewReader(data), conf)
	if err != nil {
		return nil, fmt.Errorf("the PDF is damaged or locked: %w", err)
	}
	if err := ctx.EnsurePageCount(); err != nil {
		return nil, fmt.Errorf("the PDF is damaged: %w", err)
	}
	d, _, inherited, err := ctx.PageDict(1, false)
	if err != nil || d == nil {
		return nil, fmt.Errorf("the PDF has no page: %w", err)
	}
	r := &reader{ctx: ctx, shading: map[string]string{}}
	box := inherited.MediaBox
	if inherited.CropBox != nil {
		box = inherited.CropBox
	}
	x0, y0, w, h := 0.0, 0.0, 612.0, 792.0
	if box != nil {
		x0, y0, w, h = math.Min(box.LL.X, box.UR.X), math.Min(box.LL.Y, box.UR.Y), math.Abs(box.UR.X-box.LL.X), math.Abs(box.UR.Y-box.LL.Y)
	}
	if !(w > 0 && h > 0 && w < 1e6 && h < 1e6) {
		return nil, errors.New("the page of the PDF has no size")
	}
	base := geom.Affine{1, 0, 0, -1, -x0, y0 + h}
	switch turn := ((inherited.Rotate % 360) + 360) % 360; turn { // with the clock
	case 90:
		base, w, h = (geom.Affine{0, 1, -1, 0, h, 0}).Times(base), h, w
	case 180:
		base = (geom.Affine{-1, 0, 0, -1, w, h}).Times(base)
	case 270:
		base, w, h = (geom.Affine{0, -1, 1, 0, 0, w}).Times(base), h, w
	}
	r.w, r.h = w, h
	content, err := ctx.PageContent(d, 1)
	if err != nil && !errors.Is(err, model.ErrNoContent) {
		return nil, fmt.Errorf("the page of the PDF is damaged: %w", err)
	}
	r.hidden = r.hiddenLayers()
	fmt.Fprintf(&r.out, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s">`+"\n", num(w), num(h), num(w), num(h))
	if err := r.run(content, inherited.Resources, newState(base), 0); err != nil {
		return nil, err
	}
	if err := r.annotations(d, base); err != nil {
		return nil, err
	}
	r.out.WriteString("</svg>\n")
	return &Page{SVG: r.out.Bytes(), Pages: ctx.PageCount, Missing: r.missing}, nil
}

// annotations draws what is put onto the page as it is seen there (ISO 32000-1, 12.5.5): its box under its matrix is put into its
// rectangle. Hidden ones, links and notes that open are not on the page.
func (r *reader) annotations(page types.Dict, base geom.Affine) error {
	for i, o := range r.array(page["Annots"]) {
		d := r.dict(o)
		if kind := r.name(d["Subtype"]); i >= mostAnnotations || int(r.number(d["F"], 0))&2 != 0 || kind == "Link" || kind == "Popup" {
			continue
		}
		n := r.dict(d["AP"])["N"]
		if states := r.dict(n); states != nil && states["BBox"] == nil { // of a box that is ticked or not
			n = states[r.name(d["AS"])]
		}
		form, content := r.stream(n)
		at, b := r.numbers(d["Rect"]), []float64(nil)
		if form != nil {
			b = r.numbers(form.Dict["BBox"])
		}
		if len(at) != 4 || len(b) != 4 {
			continue
		}
		m := r.matrix(form.Dict["Matrix"])
		lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		for k := range 4 {
			x, y := m.Apply(b[k/2*2], b[k%2*2+1])
			lo, hi = [2]float64{math.Min(lo[0], x), math.Min(lo[1], y)}, [2]float64{math.Max(hi[0], x), math.Max(hi[1], y)}
		}
		if !(hi[0] > lo[0] && hi[1] > lo[1]) {
			continue
		}
		x0, y0 := math.Min(at[0], at[2]), math.Min(at[1], at[3])
		sx, sy := math.Abs(at[2]-at[0])/(hi[0]-lo[0]), math.Abs(at[3]-at[1])/(hi[1]-lo[1])
		into := geom.Affine{sx, 0, 0, sy, x0 - sx*lo[0], y0 - sy*lo[1]}
		if err := r.run(content, r.dict(form.Dict["Resources"]), newState(base.Times(into).Times(m)), 1); err != nil {
			return err
		}
	}
	return nil
}

// mostAnnotations of a page are drawn.
const mostAnnotations = 1000

// hiddenLayers are the names of the layers that are off when the file is opened.
func (r *reader) hiddenLayers() map[string]bool {
	out := map[string]bool{}
	root, err := r.ctx.Catalog()
	if err != nil {
		return out
	}
	props := r.dict(root["OCProperties"])
	for _, o := range r.array(r.dict(props["D"])["OFF"]) {
		if ref, ok := o.(types.IndirectRef); ok {
			out[ref.String()] = true
		}
	}
	return out
}

func (r *reader) dict(o types.Object) types.Dict {
	switch d := r.object(o).(type) {
	case types.Dict:
		return d
	case types.StreamDict:
		return d.Dict
	}
	return nil
}

func (r *reader) array(o types.Object) types.Array {
	a, _ := r.object(o).(types.Array)
	return a
}

func (r *reader) object(o types.Object) types.Object {
	if o == nil {
		return nil
	}
	v, err := r.ctx.Dereference(o)
	if err != nil {
		return nil
	}
	return v
}

func (r *reader) number(o types.Object, usual float64) float64 {
	switch v := r.object(o).(type) {
	case types.Integer:
		return float64(v)
	case types.Float:
		return float64(v)
	}
	return usual
}

func (r *reader) numbers(o types.Object) (out []float64) {
	for _, v := range r.array(o) {
		out = append(out, r.number(v, 0))
	}
	return out
}

func (r *reader) name(o types.Object) string {
	n, _ := r.object(o).(types.Name)
	return string(n)
}

func (r *reader) matrix(o types.Object) geom.Affine {
	if v := r.numbers(o); len(v) == 6 {
		return geom.Affine(v)
	}
	return geom.Identity
}

// stream is a stream's unpacked bytes; what a bound or a fault of it stops is none.
func (r *reader) stream(o types.Object) (*types.StreamDict, []byte) {
	s, ok := r.object(o).(types.StreamDict)
	if !ok {
		return nil, nil
	}
	if err := s.DecodeWithLimit(mostUnpacked); err != nil {
		return &s, nil
	}
	if r.unpacked += len(s.Content); r.unpacked > mostUnpacked {
		return &s, nil
	}
	return &s, s.Content
}
