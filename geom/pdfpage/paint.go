package pdfpage

import (
	"encoding/base64"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"sugarwright/geom"
)

// softMask writes a mask of a group's light or alpha.
func (p *page) softMask(d types.Dict) error {
	form, content := p.stream(d["G"])
	if form == nil {
		return nil
	}
	id := p.id("m")
	kind := ""
	if p.name(d["S"]) == "Alpha" {
		kind = ` mask-type="alpha"`
	}
	fmt.Fprintf(&p.out, `<mask id="%s"%s maskUnits="userSpaceOnUse" x="0" y="0" width="%s" height="%s">`+"\n", id, kind, num(p.w), num(p.h))
	inner := newState(p.s.ctm.Times(p.matrix(form.Dict["Matrix"])))
	err := p.run(content, p.resources(form.Dict), inner, p.depth+1)
	p.out.WriteString("</mask>\n")
	p.s.mask = id
	return err
}

func (p *page) resources(form types.Dict) types.Dict {
	if d := p.dict(form["Resources"]); d != nil {
		return d
	}
	return p.res
}

// open writes the group that clips, masks and blends what follows; it gives its end.
func (p *page) open() string {
	s := &p.s
	if s.clip == "" && s.mask == "" && s.blend == "" {
		return ""
	}
	p.out.WriteString("<g")
	if s.clip != "" {
		fmt.Fprintf(&p.out, ` clip-path="url(#%s)"`, s.clip)
	}
	if s.mask != "" {
		fmt.Fprintf(&p.out, ` mask="url(#%s)"`, s.mask)
	}
	if s.blend != "" {
		fmt.Fprintf(&p.out, ` style="mix-blend-mode:%s"`, s.blend)
	}
	p.out.WriteString(">")
	return "</g>"
}

// paint the path, by a fill rule, with or without its stroke, and set the clip that was asked for.
func (p *page) paint(rule string, stroked bool) error {
	d := p.path.String()
	p.path.Reset()
	defer func() { p.clip = "" }()
	if d == "" {
		return nil
	}
	s := &p.s
	if (rule != "" || stroked) && p.off == 0 {
		fill, stroke := "none", "none"
		var err error
		if rule != "" {
			if fill, err = p.paintOf(s.fill); err != nil {
				return err
			}
		}
		if stroked {
			if stroke, err = p.paintOf(s.stroke); err != nil {
				return err
			}
		}
		end := p.open()
		fmt.Fprintf(&p.out, `<path d="%s" transform="%s" fill="%s"`, d, matrixOf(s.ctm), fill)
		if fill != "none" {
			if rule == "evenodd" {
				p.out.WriteString(` fill-rule="evenodd"`)
			}
			if s.fillA < 1 {
				fmt.Fprintf(&p.out, ` fill-opacity="%s"`, num(s.fillA))
			}
		}
		if stroke != "none" {
			p.pen(stroke)
		}
		p.out.WriteString("/>" + end + "\n")
	}
	if p.clip != "" {
		id := p.id("c")
		fmt.Fprintf(&p.out, `<clipPath id="%s"`, id)
		if s.clip != "" {
			fmt.Fprintf(&p.out, ` clip-path="url(#%s)"`, s.clip)
		}
		fmt.Fprintf(&p.out, `><path d="%s" transform="%s" clip-rule="%s"/></clipPath>`+"\n", d, matrixOf(s.ctm), p.clip)
		s.clip = id
	}
	return nil
}

// pen writes a stroke's attributes.
func (p *page) pen(stroke string) {
	s := &p.s
	width := s.width
	if k := s.ctm.Scale(); k > 0 { // the thinnest line that is seen
		width = math.Max(width, 0.1/k)
	}
	fmt.Fprintf(&p.out, ` stroke="%s" stroke-width="%s" stroke-miterlimit="%s"`, stroke, num(width), num(math.Max(1, s.miter)))
	if s.cap >= 0 && s.cap < 3 {
		fmt.Fprintf(&p.out, ` stroke-linecap="%s"`, [3]string{"butt", "round", "square"}[s.cap])
	}
	if s.join >= 0 && s.join < 3 {
		fmt.Fprintf(&p.out, ` stroke-linejoin="%s"`, [3]string{"miter", "round", "bevel"}[s.join])
	}
	if len(s.dash) > 0 && len(s.dash) < 50 {
		var b []string
		for _, v := range s.dash {
			b = append(b, num(math.Max(0, v)))
		}
		fmt.Fprintf(&p.out, ` stroke-dasharray="%s" stroke-dashoffset="%s"`, strings.Join(b, " "), num(s.dashAt))
	}
	if s.strokeA < 1 {
		fmt.Fprintf(&p.out, ` stroke-opacity="%s"`, num(s.strokeA))
	}
}

// object1 paints a form or a picture.
func (p *page) object1(key string) error {
	o := p.dict(p.res["XObject"])[key]
	form, content := p.stream(o)
	if form == nil || p.off > 0 {
		return nil
	}
	if ref, ok := form.Dict["OC"].(types.IndirectRef); ok && p.hidden[ref.String()] {
		return nil
	}
	s := p.s
	switch p.name(form.Dict["Subtype"]) {
	case "Form":
		inner := p.s
		inner.ctm = p.s.ctm.Times(p.matrix(form.Dict["Matrix"]))
		inner.base = inner.ctm
		if b := p.numbers(form.Dict["BBox"]); len(b) == 4 {
			id := p.id("c")
			fmt.Fprintf(&p.out, `<clipPath id="%s"`, id)
			if s.clip != "" {
				fmt.Fprintf(&p.out, ` clip-path="url(#%s)"`, s.clip)
			}
			fmt.Fprintf(&p.out, `><path d="M%s %sH%sV%sH%sZ" transform="%s"/></clipPath>`+"\n", num(b[0]), num(b[1]), num(b[2]), num(b[3]), num(b[0]), matrixOf(inner.ctm))
			inner.clip = id
		}
		end := ""
		if p.name(p.dict(form.Dict["Group"])["S"]) == "Transparency" && (s.fillA < 1 || s.mask != "" || s.blend != "") {
			p.s.clip = ""
			end = p.open()
			p.s.clip = s.clip
			if s.fillA < 1 {
				fmt.Fprintf(&p.out, `<g opacity="%s">`, num(s.fillA))
				end = "</g>" + end
			}
			inner.fillA, inner.strokeA, inner.mask, inner.blend = 1, 1, "", ""
		}
		err := p.run(content, p.resources(form.Dict), inner, p.depth+1)
		p.out.WriteString(end)
		return err
	case "Image":
		uri := p.picture(form, content)
		if uri == "" {
			p.missing.Pictures++
			return nil
		}
		end := p.open()
		fmt.Fprintf(&p.out, `<image width="1" height="1" preserveAspectRatio="none" transform="%s"`, matrixOf(s.ctm.Times(geom.Affine{1, 0, 0, -1, 0, 1})))
		if s.fillA < 1 {
			fmt.Fprintf(&p.out, ` opacity="%s"`, num(s.fillA))
		}
		fmt.Fprintf(&p.out, ` href="%s"/>%s`+"\n", uri, end)
	}
	return nil
}

// paintOf writes what a fill or stroke refers to, and is what it is called.
func (p *page) paintOf(k ink) (string, error) {
	if k.pattern == nil {
		return hex(k.rgb), nil
	}
	d := p.dict(k.pattern)
	m := p.s.base.Times(p.matrix(d["Matrix"]))
	back, ok := p.s.ctm.Inverse()
	if !ok {
		return "none", nil
	}
	m = back.Times(m)
	if p.number(d["PatternType"], 0) == 2 {
		id, ok := p.gradient(p.object(d["Shading"]), m)
		if !ok {
			p.missing.Shades++
			return "none", nil
		}
		return "url(#" + id + ")", nil
	}
	form, content := p.stream(k.pattern)
	if form == nil {
		return "none", nil
	}
	w, h := math.Abs(p.number(d["XStep"], 0)), math.Abs(p.number(d["YStep"], 0))
	b := p.numbers(d["BBox"])
	if !(w > 0 && h > 0) || len(b) != 4 {
		return "none", nil
	}
	id := p.id("p")
	fmt.Fprintf(&p.out, `<pattern id="%s" patternUnits="userSpaceOnUse" x="%s" y="%s" width="%s" height="%s" viewBox="%s %s %s %s" patternTransform="%s">`+"\n", id,
		num(b[0]), num(b[1]), num(w), num(h), num(b[0]), num(b[1]), num(w), num(h), matrixOf(m))
	inner := newState(geom.Identity)
	if p.number(d["PaintType"], 1) == 2 { // in the colour that is set
		inner.fill.rgb, inner.stroke.rgb = k.rgb, k.rgb
	}
	err := p.run(content, p.resources(form.Dict), inner, p.depth+1)
	p.out.WriteString("</pattern>\n")
	return "url(#" + id + ")", err
}

// shade fills the clip with a shading.
func (p *page) shade() error {
	if p.off > 0 {
		return nil
	}
	id, ok := p.gradient(p.object(p.dict(p.res["Shading"])[p.last()]), p.s.ctm)
	if !ok {
		p.missing.Shades++
		return nil
	}
	end := p.open()
	fmt.Fprintf(&p.out, `<rect width="%s" height="%s" fill="url(#%s)"`, num(p.w), num(p.h), id)
	if p.s.fillA < 1 {
		fmt.Fprintf(&p.out, ` fill-opacity="%s"`, num(p.s.fillA))
	}
	p.out.WriteString("/>" + end + "\n")
	return nil
}

// gradient writes an axial or radial shading (ISO 32000-1, 8.7.4.5.3 and 4) under a matrix.
func (p *page) gradient(o types.Object, m geom.Affine) (id string, ok bool) {
	d := p.dict(o)
	kind := p.number(d["ShadingType"], 0)
	at := p.numbers(d["Coords"])
	if kind != 2 && kind != 3 || len(at) != 2*int(kind) {
		return "", false
	}
	space := p.space(d["ColorSpace"], 0)
	t0, t1 := 0.0, 1.0
	if v := p.numbers(d["Domain"]); len(v) == 2 {
		t0, t1 = v[0], v[1]
	}
	swapped := kind == 3 && at[5] < at[2]
	if swapped { // from the smaller circle to the larger
		at = []float64{at[3], at[4], at[5], at[0], at[1], at[2]}
		t0, t1 = t1, t0
	}
	n := min(mostStops, gradientStops*max(1, len(p.array(p.dict(d["Function"])["Functions"]))))
	extends := [2]bool{}
	for i, o := range p.array(d["Extend"]) {
		if v, ok := p.object(o).(types.Boolean); ok && i < 2 {
			extends[i] = bool(v)
		}
	}
	var stops strings.Builder
	const nothing = `<stop offset="%d" stop-opacity="0"/>`
	if swapped {
		extends[0], extends[1] = extends[1], extends[0]
	}
	if !extends[0] {
		fmt.Fprintf(&stops, nothing, 0)
	}
	for i := range n + 1 {
		f := float64(i) / float64(n)
		v, ok := p.function(d["Function"], []float64{t0 + f*(t1-t0)}, 0)
		if !ok {
			return "", false
		}
		fmt.Fprintf(&stops, `<stop offset="%s" stop-color="%s"/>`, num(f), hex(space.rgb(p.reader, v)))
	}
	if !extends[1] {
		fmt.Fprintf(&stops, nothing, 1)
	}
	id = p.id("g")
	if kind == 2 {
		fmt.Fprintf(&p.out, `<linearGradient id="%s" gradientUnits="userSpaceOnUse" x1="%s" y1="%s" x2="%s" y2="%s" gradientTransform="%s">%s</linearGradient>`+"\n", id,
			num(at[0]), num(at[1]), num(at[2]), num(at[3]), matrixOf(m), stops.String())
		return id, true
	}
	fmt.Fprintf(&p.out, `<radialGradient id="%s" gradientUnits="userSpaceOnUse" fx="%s" fy="%s" fr="%s" cx="%s" cy="%s" r="%s" gradientTransform="%s">%s</radialGradient>`+"\n", id,
		num(at[0]), num(at[1]), num(at[2]), num(at[3]), num(at[4]), num(at[5]), matrixOf(m), stops.String())
	return id, true
}

// picture is a placed picture as a data URI; "" for kinds that are not read.
func (p *page) picture(form *types.StreamDict, content []byte) string {
	filters := form.FilterPipeline
	if n := len(filters); n > 0 && filters[n-1].Name == "DCTDecode" {
		if n == 1 && form.Dict["SMask"] == nil {
			return "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(form.Raw)
		}
		return ""
	}
	if n := len(filters); n > 0 && !slices.Contains([]string{"FlateDecode", "LZWDecode", "RunLengthDecode", "ASCII85Decode", "ASCIIHexDecode"}, filters[n-1].Name) || content == nil {
		return ""
	}
	data, ok := p.bitmap(form.Dict, content)
	if !ok {
		return ""
	}
	return "data:image/png;base64," + base64.StdEncoding.EncodeToString(data)
}
