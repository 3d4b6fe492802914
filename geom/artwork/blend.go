package artwork

import "math"

// Blend is how paint mixes with what is below it.
type Blend string

// Normal covers; the others are those of W3C, Compositing and Blending 1.
const Normal Blend = "normal"

// separable blend functions of backdrop b and source s, each channel by itself.
var separable = map[Blend]func(b, s float64) float64{
	"multiply": func(b, s float64) float64 { return b * s },
	"screen":   screen,
	"overlay":  func(b, s float64) float64 { return hardLight(s, b) },
	"darken":   math.Min,
	"lighten":  math.Max,
	"color-dodge": func(b, s float64) float64 {
		switch {
		case b == 0:
			return 0
		case s >= 1:
			return 1
		}
		return math.Min(1, b/(1-s))
	},
	"color-burn": func(b, s float64) float64 {
		switch {
		case b >= 1:
			return 1
		case s <= 0:
			return 0
		}
		return 1 - math.Min(1, (1-b)/s)
	},
	"hard-light": hardLight,
	"soft-light": func(b, s float64) float64 {
		if s <= 0.5 {
			return b - (1-2*s)*b*(1-b)
		}
		d := math.Sqrt(b)
		if b <= 0.25 {
			d = ((16*b-12)*b + 4) * b
		}
		return b + (2*s-1)*(d-b)
	},
	"difference": func(b, s float64) float64 { return math.Abs(b - s) },
	"exclusion":  func(b, s float64) float64 { return b + s - 2*b*s },
}

func screen(b, s float64) float64 { return b + s - b*s }

func hardLight(b, s float64) float64 {
	if s <= 0.5 {
		return b * 2 * s
	}
	return screen(b, 2*s-1)
}

// whole blend functions take a colour as one.
var whole = map[Blend]func(b, s [3]float64) [3]float64{
	"hue":        func(b, s [3]float64) [3]float64 { return withLum(withSat(s, sat(b)), lum(b)) },
	"saturation": func(b, s [3]float64) [3]float64 { return withLum(withSat(b, sat(s)), lum(b)) },
	"color":      func(b, s [3]float64) [3]float64 { return withLum(s, lum(b)) },
	"luminosity": func(b, s [3]float64) [3]float64 { return withLum(b, lum(s)) },
}

func lum(c [3]float64) float64 { return 0.3*c[0] + 0.59*c[1] + 0.11*c[2] }

func sat(c [3]float64) float64 { return max(c[0], c[1], c[2]) - min(c[0], c[1], c[2]) }

func withLum(c [3]float64, l float64) [3]float64 {
	d := l - lum(c)
	for i := range c {
		c[i] += d
	}
	l = lum(c)
	lo, hi := min(c[0], c[1], c[2]), max(c[0], c[1], c[2])
	for i := range c {
		if lo < 0 {
			c[i] = l + (c[i]-l)*l/(l-lo)
		}
		if hi > 1 {
			c[i] = l + (c[i]-l)*(1-l)/(hi-l)
		}
	}
	return c
}

func withSat(c [3]float64, s float64) [3]float64 {
	lo, d := min(c[0], c[1], c[2]), sat(c)
	for i := range c {
		if d > 0 {
			c[i] = (c[i] - lo) * s / d
		} else {
			c[i] = 0
		}
	}
	return c
}

// known tells whether a blend mode is one of the standard's.
func (m Blend) known() bool {
	_, s := separable[m]
	_, w := whole[m]
	return s || w || m == Normal
}

// over lays s on b: colour = s + b (1 - alpha of s), with the part that meets paint below blended.
func over(b, s coat, m Blend) coat {
	out := coat{a: s.a + b.a*(1-s.a)}
	mixed := s.c
	if m != Normal && s.a > 0 && b.a > 0 {
		var cb, cs, bl [3]float64
		for i := range cb {
			cb[i], cs[i] = b.c[i]/b.a, s.c[i]/s.a
		}
		if f, ok := separable[m]; ok {
			for i := range bl {
				bl[i] = f(cb[i], cs[i])
			}
		} else {
			bl = whole[m](cb, cs)
		}
		for i := range mixed {
			mixed[i] = s.a * ((1-b.a)*cs[i] + b.a*bl[i])
		}
	}
	for i := range out.c {
		out.c[i] = mixed[i] + b.c[i]*(1-s.a)
	}
	return out
}
