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
	if !ok && len(href) > 5 && strings.EqualFold(href[:5], "data:") {
		r.say(finding.ImageInArtwork, finding.Error, n, "unread", "its data are no base64")
		return
	}
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
	if kind != SVG && !much {
		if img, shadow := soft(data, ctx.picture > 0); shadow {
			x, y := ctx.m.Apply(0.5, 0.5)
			r.alter(Altered{Code: finding.EffectDropped, Case: "faded", At: []geom.ArtworkPoint{{x, y}}, Source: n.src})
			return
		} else if img != nil {
			r.shadedPicture(n, ctx, img)
			return
		}
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
	port, ok := r.placed(n, ctx, own.W, own.H)
	if !ok {
		return
	}
	m := ctx.m.Times(fitBox(inner.Page.View, port, n.attr["preserveAspectRatio"]))
	r.insert(inner, n, ctx, m, r.rectClip(port, ctx.m, ctx.clips))
}

// placed is where a picture so wide and high stands; ok is false where it has no area. A side that is not given follows the other.
func (r *reader) placed(n *node, ctx context, wide, high float64) (port View, ok bool) {
	size := func(name string, whole, usual float64) float64 {
		if v, ok := length(n.attr[name], whole, ctx.font); ok {
			return v
		}
		return usual
	}
	x, _ := length(n.attr["x"], ctx.view.W, ctx.font)
	y, _ := length(n.attr["y"], ctx.view.H, ctx.font)
	w, h := size("width", ctx.view.W, -1), size("height", ctx.view.H, -1)
	switch {
	case w < 0 && h < 0:
		w, h = wide, high
	case w < 0:
		w = h * wide / high
	case h < 0:
		h = w * high / wide
	}
	return View{x, y, w, h}, w > 0 && h > 0
}

// Most of what a picture of pixels paints may let through what is below, or it is no flat drawing: mostSoft is the share of its painted
// pixels. Where it is dark and grey, and nowhere thick, it is a shadow that a program has saved as pixels.
const (
	mostSoft    = 0.3
	shadowAlpha = 0.8
	shadowDark  = 90 // of 255
)

// soft is a bitmap that is mostly half let through, as a mask by its lightness too; nil where it is not. shadow tells that it is one.
func soft(data []byte, mask bool) (out *image.NRGBA, shadow bool) {
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, false
	}
	painted, half, thickest, light := 0, 0, 0, 0
	b := img.Bounds()
	out = image.NewNRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := color.NRGBAModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.NRGBA)
			out.SetNRGBA(x, y, c)
			through, grey := int(c.A), (2126*int(c.R)+7152*int(c.G)+722*int(c.B))/10000
			if mask && c.A == 255 {
				through = grey
			}
			if through > 8 {
				painted++
				thickest, light = max(thickest, through), max(light, int(max(c.R, c.G, c.B)))
				if through < 247 {
					half++
				}
			}
		}
	}
	if painted == 0 || float64(half) <= mostSoft*float64(painted) {
		return nil, false
	}
	return out, !mask && thickest < shadowAlpha*255 && light < shadowDark
}

// shadedPicture paints a picture of pixels as a shade: it is made flat where shades are.
func (r *reader) shadedPicture(n *node, ctx context, img *image.NRGBA) {
	w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	port, ok := r.placed(n, ctx, w, h)
	if !ok {
		return
	}
	m := ctx.m.Times(fitBox(View{0, 0, w, h}, port, n.attr["preserveAspectRatio"]))
	back, ok := m.Inverse()
	if !ok {
		return
	}
	ctx.clips = append(ctx.clips[:len(ctx.clips):len(ctx.clips)], r.rectClip(port, ctx.m, nil))
	r.layer(n, ctx, Outline{Path: rectPath(0, 0, w, h, 0, 0), Matrix: m, Source: n.src}, paint{shade: &Shade{pixels: img, into: back}}, 1)
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
