package artwork

import (
	"bytes"
	"encoding/base64"
	"errors"
	"image"
	"image/color"
	"net/url"
	"slices"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/trace"
)

// image draws a picture that the file holds: a drawing as it is, a bitmap traced. One that lies outside is a finding.
func (r *reader) image(n *node, ctx context) {
	href := strings.TrimSpace(n.attr["href"])
	data, ok := dataURI(href)
	if !ok {
		r.say(finding.ImageInArtwork, finding.Error, n, "outside", clipped(href))
		return
	}
	much := len(data) > MaxImage || ctx.refs > MaxReferences
	kind := KindOf(data)
	if kind != SVG && !much {
		size, _, err := image.DecodeConfig(bytes.NewReader(data))
		r.images.pixels += size.Width * size.Height
		much = err == nil && (size.Width > MostSide || size.Height > MostSide || r.images.pixels > 2*MostPixels)
	}
	if kind != SVG && !much && soft(data, ctx.picture > 0) {
		if ctx.picture == 0 {
			x, y := ctx.m.Apply(0.5, 0.5)
			r.alter(Altered{Code: finding.EffectDropped, Case: "faded", At: []geom.ArtworkPoint{{x, y}}, Source: n.src})
		}
		return
	}
	if r.images.read++; much || r.images.read > mostImages {
		r.say(finding.TooMuch, finding.Error, n, "images", mostImages, MaxImage)
		return
	}
	inner, found, err := parseWith(data, trace.Options{}, r.images)
	if err != nil {
		var is *KindError
		if errors.As(err, &is) && is.Photo {
			r.say(finding.ImageInArtwork, finding.Error, n, "", n.tag)
			return
		}
		r.say(finding.ImageInArtwork, finding.Error, n, "unread", err.Error())
		return
	}
	for _, f := range found {
		f.Source = n.src
		r.found.Add(f)
	}
	own := inner.Page.View
	if inner.Page.Width > 0 {
		own.W, own.H = inner.Page.Width, inner.Page.Height
	}
	size := func(name string, whole, usual float64) float64 {
		if v, ok := length(n.attr[name], whole, ctx.font); ok {
			return v
		}
		return usual
	}
	x, _ := length(n.attr["x"], ctx.view.W, ctx.font)
	y, _ := length(n.attr["y"], ctx.view.H, ctx.font)
	w, h := size("width", ctx.view.W, -1), size("height", ctx.view.H, -1)
	switch { // a side that is not given follows the other
	case w < 0 && h < 0:
		w, h = own.W, own.H
	case w < 0:
		w = h * own.W / own.H
	case h < 0:
		h = w * own.H / own.W
	}
	if w <= 0 || h <= 0 {
		return
	}
	port := View{x, y, w, h}
	m := ctx.m.Times(fitBox(inner.Page.View, port, n.attr["preserveAspectRatio"]))
	r.insert(inner, n, ctx, m, r.rectClip(port, ctx.m, ctx.clips))
}

// mostSoft is the share of a picture's painted pixels that may let through what is below: more, and it is a shadow or a shine that a
// program has saved as pixels.
const mostSoft = 0.3

// soft tells whether a bitmap is mostly half let through, as a mask by its lightness too.
func soft(data []byte, mask bool) bool {
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return false
	}
	painted, half := 0, 0
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			through := int(c.A)
			if mask {
				through = through * (2126*int(c.R) + 7152*int(c.G) + 722*int(c.B)) / (10000 * 255)
			}
			if through > 8 {
				if painted++; through < 247 {
					half++
				}
			}
		}
	}
	return float64(half) > mostSoft*float64(painted)
}

// images counts the pictures inside a file, and inside those.
type images struct{ read, pixels int }

// insert another artwork's paint under a matrix, inside a clip.
func (r *reader) insert(a *Artwork, n *node, ctx context, m geom.Affine, clip int) {
	outlines, pictures := len(r.art.Outlines), len(r.art.Pictures)
	for _, o := range a.Outlines {
		o.Matrix = m.Times(o.Matrix)
		o.Source = n.src
		r.outline(o)
	}
	back, ok := m.Inverse()
	if !ok {
		return
	}
	moved := func(all []int) (out []int) { // pictures from 1 on are clips and masks
		for _, c := range all {
			out = append(out, pictures+c-1)
		}
		return out
	}
	for _, x := range a.Altered {
		x.Source = n.src
		for i, p := range x.At {
			x.At[i][0], x.At[i][1] = m.Apply(p[0], p[1])
		}
		if k := slices.IndexFunc(r.art.Altered, func(y Altered) bool { return x.Code == finding.Traced && y.Code == x.Code }); k >= 0 {
			r.art.Altered[k].At = append(r.art.Altered[k].At, x.At...) // the first says it
			continue
		}
		r.art.Altered = append(r.art.Altered, x)
	}
	for i, p := range a.Pictures {
		at, group := pictures+i-1, 0
		if i == 0 {
			at, group = ctx.picture, ctx.group
		} else {
			r.art.Pictures = append(r.art.Pictures, Picture{Groups: []Group{{Alpha: 1}}, kind: p.kind})
		}
		into := &r.art.Pictures[at]
		first := len(into.Groups) - 1
		groupOf := func(g int) int {
			if g == 0 {
				return group
			}
			return first + g
		}
		for _, g := range p.Groups[1:] {
			into.Groups = append(into.Groups, Group{groupOf(g.Parent), g.Alpha, g.Blend, moved(g.Masks)})
		}
		for _, l := range p.Layers {
			l.Outline += outlines
			l.Clips = moved(l.Clips)
			if i == 0 {
				l.Clips = append(l.Clips, clip)
			}
			l.Group, l.Source = groupOf(l.Group), n.src
			if l.Shade != nil {
				s := *l.Shade
				s.into = s.into.Times(back)
				l.Shade = &s
			}
			into.Layers = append(into.Layers, l)
		}
	}
}

// dataURI is what a data: reference holds (RFC 2397).
func dataURI(href string) ([]byte, bool) {
	if len(href) < 5 || !strings.EqualFold(href[:5], "data:") {
		return nil, false
	}
	head, body, ok := strings.Cut(href[5:], ",")
	if !ok {
		return nil, false
	}
	if strings.HasSuffix(strings.ToLower(strings.TrimSpace(head)), "base64") {
		body = strings.Map(func(c rune) rune {
			if c == ' ' || c == '\n' || c == '\r' || c == '\t' {
				return -1
			}
			return c
		}, body)
		body = strings.TrimRight(body, "=")
		out, err := base64.RawStdEncoding.DecodeString(body)
		return out, err == nil
	}
	out, err := url.PathUnescape(body)
	return []byte(out), err == nil
}
