package artwork

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"golang.org/x/image/colornames"

	"sugarwright/geom"
)

// unitPx is the length of a unit in px (W3C, CSS Values and Units: 1in = 96px).
var unitPx = map[string]float64{"": 1, "px": 1, "in": 96, "cm": 96 / 2.54, "mm": 96 / 25.4, "pt": 96.0 / 72, "pc": 16, "q": 96 / 101.6}

// length in user units; percent is taken of whole, em of the font size.
func length(s string, whole, fontSize float64) (float64, bool) {
	c := scanner{s: strings.TrimSpace(s)}
	v, ok := c.number()
	if !ok {
		return 0, false
	}
	switch u := strings.ToLower(c.s[c.i:]); u {
	case "%":
		return v / 100 * whole, true
	case "em", "rem":
		return v * fontSize, true
	case "ex", "ch":
		return v * fontSize / 2, true
	default:
		k, known := unitPx[u]
		return v * k, known
	}
}

// numbers reads a list of numbers to its end.
func numbers(s string) ([]float64, bool) {
	c := scanner{s: s}
	var out []float64
	for {
		v, ok := c.number()
		if !ok {
			c.space()
			return out, c.i == len(c.s)
		}
		if out = append(out, v); len(out) > 2*MaxSegments {
			return out, false
		}
	}
}

var errTransform = errors.New("bad transform")

// parseTransform reads a transform list.
func parseTransform(s string) (geom.Affine, error) {
	m := geom.Identity
	c := scanner{s: s}
	for {
		c.comma()
		if c.i >= len(c.s) {
			return m, nil
		}
		open := strings.IndexByte(c.s[c.i:], '(')
		shut := strings.IndexByte(c.s[c.i:], ')')
		if open < 0 || shut < open {
			return geom.Identity, errTransform
		}
		name := strings.TrimSpace(c.s[c.i : c.i+open])
		a, ok := numbers(c.s[c.i+open+1 : c.i+shut])
		c.i += shut + 1
		t, valid := transformOf(name, a)
		if !ok || !valid {
			return geom.Identity, errTransform
		}
		m = m.Times(t)
	}
}

func transformOf(name string, a []float64) (geom.Affine, bool) {
	at := func(i int) float64 {
		if i < len(a) {
			return a[i]
		}
		return 0
	}
	n := len(a)
	switch name {
	case "matrix":
		return geom.Affine{at(0), at(1), at(2), at(3), at(4), at(5)}, n == 6
	case "translate":
		return geom.Affine{1, 0, 0, 1, at(0), at(1)}, n == 1 || n == 2
	case "scale":
		y := at(1)
		if n == 1 {
			y = at(0)
		}
		return geom.Affine{at(0), 0, 0, y, 0, 0}, n == 1 || n == 2
	case "rotate":
		sin, cos := math.Sincos(at(0) * math.Pi / 180)
		r := geom.Affine{cos, sin, -sin, cos, 0, 0}
		to, back := geom.Affine{1, 0, 0, 1, at(1), at(2)}, geom.Affine{1, 0, 0, 1, -at(1), -at(2)}
		return to.Times(r).Times(back), n == 1 || n == 3
	case "skewX":
		return geom.Affine{1, 0, math.Tan(at(0) * math.Pi / 180), 1, 0, 0}, n == 1
	case "skewY":
		return geom.Affine{1, math.Tan(at(0) * math.Pi / 180), 0, 1, 0, 0}, n == 1
	}
	return geom.Identity, false
}

// rgba is a colour with its own alpha.
type rgba struct {
	RGB
	a float64
}

// ParseColour reads a CSS colour: a name, #rgb, #rrggbb, with alpha, rgb(), hsl().
func ParseColour(s string) (RGB, bool) {
	c, ok := parseColour(s)
	return c.RGB, ok
}

func parseColour(s string) (rgba, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	if s == "transparent" {
		return rgba{}, true
	}
	if c, ok := colornames.Map[s]; ok {
		return rgba{RGB{c.R, c.G, c.B}, 1}, true
	}
	if s == "rebeccapurple" {
		return rgba{RGB{0x66, 0x33, 0x99}, 1}, true
	}
	if strings.HasPrefix(s, "#") {
		return hexColour(s[1:])
	}
	i := strings.IndexByte(s, '(')
	if i < 0 || !strings.HasSuffix(s, ")") {
		return rgba{}, false
	}
	f := strings.FieldsFunc(s[i+1:len(s)-1], func(r rune) bool { return r == ',' || r == ' ' || r == '/' || r == '\t' || r == '\n' })
	if len(f) != 3 && len(f) != 4 {
		return rgba{}, false
	}
	var v [4]float64
	v[3] = 1
	for k, t := range f {
		pct := strings.HasSuffix(t, "%")
		x, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSuffix(t, "%"), "deg"), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return rgba{}, false
		}
		if pct {
			x /= 100
			if k < 3 && s[0] == 'r' {
				x *= 255
			}
		}
		v[k] = x
	}
	clamp := func(x float64) uint8 { return uint8(math.Max(0, math.Min(255, math.Round(x)))) }
	a := math.Max(0, math.Min(1, v[3]))
	switch s[:i] {
	case "rgb", "rgba":
		return rgba{RGB{clamp(v[0]), clamp(v[1]), clamp(v[2])}, a}, true
	case "hsl", "hsla":
		l, sat := math.Max(0, math.Min(1, v[2])), math.Max(0, math.Min(1, v[1]))
		ch := func(n float64) uint8 {
			k := math.Mod(n+math.Mod(v[0], 360)/30+24, 12)
			return clamp(255 * (l - sat*math.Min(l, 1-l)*math.Max(-1, math.Min(math.Min(k-3, 9-k), 1))))
		}
		return rgba{RGB{ch(0), ch(8), ch(4)}, a}, true
	}
	return rgba{}, false
}

func hexColour(h string) (rgba, bool) {
	v, err := strconv.ParseUint(h, 16, 32)
	if err != nil {
		return rgba{}, false
	}
	switch len(h) {
	case 3:
		return rgba{RGB{uint8(v>>8&15) * 17, uint8(v>>4&15) * 17, uint8(v&15) * 17}, 1}, true
	case 4:
		return rgba{RGB{uint8(v>>12&15) * 17, uint8(v>>8&15) * 17, uint8(v>>4&15) * 17}, float64(v&15) / 15}, true
	case 6:
		return rgba{RGB{uint8(v >> 16), uint8(v >> 8), uint8(v)}, 1}, true
	case 8:
		return rgba{RGB{uint8(v >> 24), uint8(v >> 16), uint8(v >> 8)}, float64(v&255) / 255}, true
	}
	return rgba{}, false
}
