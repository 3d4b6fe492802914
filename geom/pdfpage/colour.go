package pdfpage

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// space3 is a colour space as far as it leads to sRGB (ISO 32000-1, 8.6). Profiles are not applied: their components are taken for grey,
// sRGB, or plain inks.
type space3 struct {
	kind  string // Gray, RGB, CMYK, Lab, Indexed, Tint, Pattern
	n     int
	base  *space3
	table []byte       // of Indexed
	high  int          // the last index
	tint  types.Object // function of Tint
	lab   [4]float64   // range of a and b
	white [3]float64
}

var grey = space3{kind: "Gray", n: 1}

// space reads a colour space.
func (r *reader) space(o types.Object, depth int) space3 {
	if depth > mostDepth {
		return grey
	}
	o = r.object(o)
	a, isArray := o.(types.Array)
	word := r.name(o)
	if isArray && len(a) > 0 {
		word = r.name(a[0])
	}
	arg := func(i int) types.Object {
		if i < len(a) {
			return a[i]
		}
		return nil
	}
	switch word {
	case "DeviceRGB", "RGB", "CalRGB":
		return space3{kind: "RGB", n: 3}
	case "DeviceCMYK", "CMYK":
		return space3{kind: "CMYK", n: 4}
	case "ICCBased":
		switch r.number(r.dict(arg(1))["N"], 0) {
		case 3:
			return space3{kind: "RGB", n: 3}
		case 4:
			return space3{kind: "CMYK", n: 4}
		}
	case "Lab":
		d := r.dict(arg(1))
		s := space3{kind: "Lab", n: 3, lab: [4]float64{-100, 100, -100, 100}, white: [3]float64{0.9505, 1, 1.089}}
		if v := r.numbers(d["Range"]); len(v) == 4 {
			s.lab = [4]float64(v)
		}
		if v := r.numbers(d["WhitePoint"]); len(v) == 3 {
			s.white = [3]float64(v)
		}
		return s
	case "Indexed", "I":
		base := r.space(arg(1), depth+1)
		s := space3{kind: "Indexed", n: 1, base: &base, high: int(r.number(arg(2), 0))}
		switch t := r.object(arg(3)).(type) {
		case types.StreamDict:
			_, s.table = r.stream(t)
		case types.StringLiteral:
			b, _ := types.Unescape(t.Value())
			s.table = b
		case types.HexLiteral:
			s.table, _ = t.Bytes()
		}
		return s
	case "Separation", "DeviceN":
		base := r.space(arg(2), depth+1)
		n := 1
		if names := r.array(arg(1)); word == "DeviceN" {
			n = max(1, len(names))
		}
		return space3{kind: "Tint", n: n, base: &base, tint: arg(3)}
	case "Pattern":
		s := space3{kind: "Pattern"}
		if len(a) > 1 {
			base := r.space(a[1], depth+1)
			s.base, s.n = &base, base.n
		}
		return s
	}
	return grey
}

// rgb is a colour of a space, 0 to 1.
func (s space3) rgb(r *reader, v []float64) (out [3]float64) {
	at := func(i int) float64 {
		if i < len(v) {
			return math.Max(0, math.Min(1, v[i]))
		}
		return 0
	}
	switch s.kind {
	case "RGB":
		return [3]float64{at(0), at(1), at(2)}
	case "CMYK":
		k := 1 - at(3)
		return [3]float64{(1 - at(0)) * k, (1 - at(1)) * k, (1 - at(2)) * k}
	case "Lab":
		if len(v) == 3 {
			return s.labRGB(v)
		}
	case "Indexed":
		if len(v) > 0 && s.base != nil {
			i := max(0, min(s.high, int(v[0]))) * s.base.n
			var c []float64
			for k := range s.base.n {
				if i+k < len(s.table) {
					c = append(c, float64(s.table[i+k])/255)
				}
			}
			return s.base.rgb(r, c)
		}
	case "Tint":
		if c, ok := r.function(s.tint, v, 0); ok {
			return s.base.rgb(r, c)
		}
		return [3]float64{1 - at(0), 1 - at(0), 1 - at(0)}
	case "Pattern":
		if s.base != nil {
			return s.base.rgb(r, v)
		}
	}
	return [3]float64{at(0), at(0), at(0)}
}

// labRGB goes from CIE 1976 L*a*b* to sRGB (IEC 61966-2-1), the white point taken for D65's.
func (s space3) labRGB(v []float64) (out [3]float64) {
	g := func(t float64) float64 {
		if t >= 6.0/29 {
			return t * t * t
		}
		return 108.0 / 841 * (t - 4.0/29)
	}
	m := (v[0] + 16) / 116
	x, y, z := 0.9505*g(m+v[1]/500), g(m), 1.089*g(m-v[2]/200)
	for i, l := range [3]float64{3.2406*x - 1.5372*y - 0.4986*z, -0.9689*x + 1.8758*y + 0.0415*z, 0.0557*x - 0.2040*y + 1.0570*z} {
		if l <= 0.0031308 {
			l *= 12.92
		} else {
			l = 1.055*math.Pow(l, 1/2.4) - 0.055
		}
		out[i] = math.Max(0, math.Min(1, l))
	}
	return out
}

func hex(c [3]float64) string {
	b := func(v float64) int { return int(math.Round(255 * math.Max(0, math.Min(1, v)))) }
	return fmt.Sprintf("#%02x%02x%02x", b(c[0]), b(c[1]), b(c[2]))
}

// colour does one of the operators that set one.
func (p *page) colour(op string) {
	k := &p.s.fill
	if op[0] >= 'A' && op[0] <= 'Z' {
		k = &p.s.stroke
	}
	set := func(s space3, v []float64) { *k = ink{space: s, rgb: s.rgb(p.reader, v)} }
	switch op {
	case "g", "G":
		set(grey, p.nums())
	case "rg", "RG":
		set(space3{kind: "RGB", n: 3}, p.nums())
	case "k", "K":
		set(space3{kind: "CMYK", n: 4}, p.nums())
	case "cs", "CS":
		s := p.spaceNamed(p.last())
		first := make([]float64, s.n)
		switch s.kind {
		case "CMYK":
			first[3] = 1
		case "Tint":
			for i := range first {
				first[i] = 1
			}
		}
		set(s, first)
	default:
		pattern := types.Object(nil)
		if n := p.last(); n != "" {
			pattern = p.dict(p.res["Pattern"])[n]
		}
		v := p.nums()
		if k.space.kind == "Pattern" {
			*k = ink{space: k.space, rgb: k.space.rgb(p.reader, v), pattern: pattern}
			return
		}
		set(k.space, v)
	}
}

func (p *page) spaceNamed(n string) space3 {
	if o, ok := p.dict(p.res["ColorSpace"])[n]; ok {
		return p.space(o, 0)
	}
	return p.space(types.Name(n), 0)
}

// function gives a function's values (ISO 32000-1, 7.10): sampled, exponential, stitched, or several side by side. ok is false for
// programs and what is damaged.
func (r *reader) function(o types.Object, in []float64, depth int) (out []float64, ok bool) {
	if depth > mostDepth || len(in) == 0 {
		return nil, false
	}
	if a := r.array(o); a != nil {
		for _, f := range a {
			v, ok := r.function(f, in, depth+1)
			if !ok || len(v) == 0 {
				return nil, false
			}
			out = append(out, v[0])
		}
		return out, len(out) > 0
	}
	d := r.dict(o)
	domain := r.numbers(d["Domain"])
	if len(domain) < 2*len(in) {
		return nil, false
	}
	x := make([]float64, len(in))
	for i := range in {
		x[i] = math.Max(domain[2*i], math.Min(domain[2*i+1], in[i]))
	}
	switch r.number(d["FunctionType"], -1) {
	case 0:
		return r.sampled(o, d, domain, x)
	case 2:
		c0, c1 := r.numbers(d["C0"]), r.numbers(d["C1"])
		if c0 == nil {
			c0 = []float64{0}
		}
		if c1 == nil {
			c1 = []float64{1}
		}
		t := math.Pow(x[0], r.number(d["N"], 1))
		for i := range min(len(c0), len(c1)) {
			out = append(out, c0[i]+t*(c1[i]-c0[i]))
		}
		return out, len(out) > 0
	case 3:
		fs, bounds, encode := r.array(d["Functions"]), r.numbers(d["Bounds"]), r.numbers(d["Encode"])
		if len(fs) == 0 || len(bounds) != len(fs)-1 || len(encode) < 2*len(fs) {
			return nil, false
		}
		i := 0
		for i < len(bounds) && x[0] >= bounds[i] {
			i++
		}
		lo, hi := domain[0], domain[1]
		if i > 0 {
			lo = bounds[i-1]
		}
		if i < len(bounds) {
			hi = bounds[i]
		}
		t := encode[2*i]
		if hi > lo {
			t += (x[0] - lo) / (hi - lo) * (encode[2*i+1] - encode[2*i])
		}
		return r.function(fs[i], []float64{t}, depth+1)
	}
	return nil, false
}

// sampled is a function of samples of 8 or 16 bits: between two in one dimension, at the nearest in several.
func (r *reader) sampled(o types.Object, d types.Dict, domain, x []float64) (out []float64, ok bool) {
	_, data := r.stream(o)
	size, rng := r.numbers(d["Size"]), r.numbers(d["Range"])
	bits := int(r.number(d["BitsPerSample"], 0))
	n := len(rng) / 2
	if len(size) != len(x) || n == 0 || bits != 8 && bits != 16 {
		return nil, false
	}
	value := func(i, k int) float64 {
		at := (i*n + k) * bits / 8
		if at < 0 || at+bits/8 > len(data) {
			return 0
		}
		if bits == 8 {
			return float64(data[at]) / 255
		}
		return float64(int(data[at])<<8|int(data[at+1])) / 65535
	}
	index, step, part := 0, 1, 0.0
	for i := range x {
		t := 0.0
		if w := domain[2*i+1] - domain[2*i]; w > 0 {
			t = (x[i] - domain[2*i]) / w * (size[i] - 1)
		}
		k := math.Floor(t)
		if part = t - k; len(x) > 1 {
			k, part = math.Round(t), 0
		}
		index += int(k) * step
		if step *= max(1, int(size[i])); step > 1<<24 {
			return nil, false
		}
	}
	for k := range n {
		v := value(index, k)
		if part > 0 {
			v += part * (value(index+1, k) - v)
		}
		out = append(out, rng[2*k]+v*(rng[2*k+1]-rng[2*k]))
	}
	return out, true
}

// bitmap is a picture's samples as PNG, seen through its soft mask; a stencil in the colour that is set.
func (p *page) bitmap(d types.Dict, data []byte) ([]byte, bool) {
	w, h := int(p.number(d["Width"], 0)), int(p.number(d["Height"], 0))
	if w < 1 || h < 1 || w > 20000 || h > 20000 || w*h > mostPixels {
		return nil, false
	}
	bits := int(p.number(d["BitsPerComponent"], 8))
	stencil, _ := p.object(d["ImageMask"]).(types.Boolean)
	s := grey
	if stencil {
		bits = 1
	} else {
		o := p.object(d["ColorSpace"])
		if n, ok := o.(types.Name); ok {
			s = p.spaceNamed(string(n))
		} else {
			s = p.space(o, 0)
		}
	}
	if bits != 1 && bits != 2 && bits != 4 && bits != 8 || s.n < 1 {
		return nil, false
	}
	decode := p.numbers(d["Decode"])
	row := (w*s.n*bits + 7) / 8
	if len(data) < row*h {
		return nil, false
	}
	var alpha image.Image
	if m, content := p.stream(d["SMask"]); m != nil && content != nil {
		if b, ok := p.bitmap(m.Dict, content); ok {
			if img, err := png.Decode(bytes.NewReader(b)); err == nil {
				alpha = img
			}
		}
	}
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	known := map[[4]int]color.NRGBA{}
	most := float64(int(1)<<bits - 1)
	for y := range h {
		for x := range w {
			var key [4]int
			v := make([]float64, 0, 4)
			for k := range min(4, s.n) {
				bit := (x*s.n + k) * bits
				key[k] = int(data[y*row+bit/8]>>(8-bits-bit%8)) & (1<<bits - 1)
				t := float64(key[k]) / most
				if s.kind == "Indexed" {
					t = float64(key[k])
				} else if len(decode) >= 2*s.n {
					t = decode[2*k] + t*(decode[2*k+1]-decode[2*k])
				} else if s.kind == "Lab" {
					lo, hi := [3]float64{0, s.lab[0], s.lab[2]}, [3]float64{100, s.lab[1], s.lab[3]}
					t = lo[k] + t*(hi[k]-lo[k])
				}
				v = append(v, t)
			}
			c, ok := known[key]
			if !ok {
				if rgb := s.rgb(p.reader, v); stencil {
					rgb = p.s.fill.rgb
					c = color.NRGBA{uint8(255*rgb[0] + 0.5), uint8(255*rgb[1] + 0.5), uint8(255*rgb[2] + 0.5), uint8(255 * (1 - v[0]))}
				} else {
					c = color.NRGBA{uint8(255*rgb[0] + 0.5), uint8(255*rgb[1] + 0.5), uint8(255*rgb[2] + 0.5), 255}
				}
				known[key] = c
			}
			if alpha != nil {
				b := alpha.Bounds()
				c.A = color.GrayModel.Convert(alpha.At(x*b.Dx()/w, y*b.Dy()/h)).(color.Gray).Y
			}
			img.SetNRGBA(x, y, c)
		}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return nil, false
	}
	return out.Bytes(), true
}
