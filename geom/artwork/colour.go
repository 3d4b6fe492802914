package artwork

import (
	"math"
	"strconv"
	"strings"

	"golang.org/x/image/colornames"
)

// rgba is a colour with its own alpha.
type rgba struct {
	RGB
	a float64
}

// ParseColour reads a CSS colour: a name, #rgb, #rrggbb, rgb(), hsl(), hwb(); one that is not opaque is none.
func ParseColour(s string) (RGB, bool) {
	c, ok := parseColour(s)
	return c.RGB, ok && c.a == 1
}

func parseColour(s string) (rgba, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	if i := strings.Index(s, "icc-color("); i > 0 { // SVG 1.1: the colour before it is the one to fall back on
		s = strings.TrimSpace(s[:i])
	}
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
	v, ok := components(s, s[i+1:len(s)-1])
	if !ok {
		return rgba{}, false
	}
	a := unit(v[3])
	switch s[:i] {
	case "rgb", "rgba":
		return rgba{RGB{byteOf(v[0]), byteOf(v[1]), byteOf(v[2])}, a}, true
	case "hsl", "hsla":
		return rgba{hsl(v[0], unit(v[1]), unit(v[2])), a}, true
	case "hwb":
		w, b := unit(v[1]), unit(v[2])
		if w+b > 1 {
			w, b = w/(w+b), b/(w+b)
		}
		c := hsl(v[0], 1, 0.5)
		for k := range c {
			c[k] = byteOf(float64(c[k])*(1-w-b) + 255*w)
		}
		return rgba{c, a}, true
	}
	return rgba{}, false
}

// components are the three numbers of a colour's function, and its alpha. Where they are parted by commas, numbers and
// per cent do not mix in rgb() (CSS Color 4, legacy syntax).
func components(s, inside string) (v [4]float64, ok bool) {
	f := strings.FieldsFunc(inside, func(r rune) bool { return strings.ContainsRune(", /\t\r\n\f", r) })
	if len(f) != 3 && len(f) != 4 {
		return v, false
	}
	v = [4]float64{3: 1}
	percents := 0
	for k, t := range f {
		if t == "none" {
			v[k] = 0
			continue
		}
		if k == 0 && (s[0] == 'h') {
			x, ok := degrees(t)
			if !ok {
				return v, false
			}
			v[k] = x
			continue
		}
		digits, pct := strings.CutSuffix(t, "%")
		x, err := strconv.ParseFloat(digits, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return v, false
		}
		if pct {
			if x /= 100; k < 3 {
				percents++
			}
			if k < 3 && s[0] == 'r' {
				x *= 255
			}
		} else if k > 0 && k < 3 && s[0] == 'h' {
			x /= 100
		}
		v[k] = x
	}
	return v, s[0] != 'r' || !strings.Contains(inside, ",") || percents%3 == 0
}

func unit(x float64) float64 { return math.Max(0, math.Min(1, x)) }

func byteOf(x float64) uint8 { return uint8(math.Max(0, math.Min(255, math.Round(x)))) }

// hsl is hue in degrees, saturation and lightness in 0..1 (W3C, CSS Color 4).
func hsl(h, s, l float64) RGB {
	channel := func(n float64) uint8 {
		k := math.Mod(n+math.Mod(h, 360)/30+24, 12)
		return byteOf(255 * (l - s*math.Min(l, 1-l)*math.Max(-1, math.Min(math.Min(k-3, 9-k), 1))))
	}
	return RGB{channel(0), channel(8), channel(4)}
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
