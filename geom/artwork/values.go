package artwork

import (
	"errors"
	"math"
	"strings"

	"sugarwright/geom"
)

// unitPx is the length of a unit in px (W3C, CSS Values and Units: 1in = 96px).
var unitPx = map[string]float64{
	"":   1,
	"px": 1,
	"in": 96,
	"cm": 96 / 2.54,
	"mm": 96 / 25.4,
	"pt": 96.0 / 72,
	"pc": 16,
	"q":  96 / 101.6,
}

// usualFont is the font size where the file says nothing, in px: common practice of user agents.
const usualFont = 16

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
	case "em":
		return v * fontSize, true
	case "rem":
		return v * usualFont, true
	case "ex", "ch":
		return v * fontSize / 2, true
	default:
		k, known := unitPx[u]
		return v * k, known
	}
}

// absolute is a length that needs nothing round it: no percentage.
func absolute(s string) (float64, bool) {
	if strings.HasSuffix(strings.TrimSpace(s), "%") {
		return 0, false
	}
	v, ok := length(s, 0, usualFont)
	return v, ok && v > 0
}

// numbers reads a list of numbers to its end, or to an error.
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

// parseTransform reads the transform list of an attribute: plain numbers, degrees.
func parseTransform(s string) (geom.Affine, error) {
	return transforms(s, func(_ string, _ int, arg string) (float64, bool) { return length(arg+"px", 0, 0) })
}

// parseCSSTransform reads the transform property of a style: its numbers have units (W3C, CSS Transforms 1).
func parseCSSTransform(s string, view View, fontSize float64) (geom.Affine, error) {
	return transforms(s, func(name string, i int, arg string) (float64, bool) {
		switch name {
		case "rotate", "skewX", "skewY", "skew":
			v, ok := degrees(arg)
			return v, ok && (v == 0 || strings.ContainsAny(arg, "dgrtDGRT")) // an angle has a unit
		case "translateX":
			return length(arg, view.W, fontSize)
		case "translateY":
			return length(arg, view.H, fontSize)
		case "translate":
			return length(arg, [2]float64{view.W, view.H}[min(i, 1)], fontSize)
		case "scale", "scaleX", "scaleY":
			if v, ok := strings.CutSuffix(arg, "%"); ok {
				return length(v+"%", 1, 0)
			}
		}
		return length(arg+"px", 0, 0)
	})
}

// degrees reads an angle.
func degrees(s string) (float64, bool) {
	for _, u := range []struct {
		name string
		deg  float64
	}{{"deg", 1}, {"grad", 0.9}, {"rad", 180 / math.Pi}, {"turn", 360}, {"", 1}} {
		if v, ok := strings.CutSuffix(strings.ToLower(s), u.name); ok {
			x, good := length(v+"px", 0, 0)
			return x * u.deg, good
		}
	}
	return 0, false
}

// transforms reads a list of functions whose arguments value understands.
func transforms(s string, value func(name string, i int, arg string) (float64, bool)) (geom.Affine, error) {
	m := geom.Identity
	c := scanner{s: s}
	for c.space(); ; c.comma() {
		if c.i >= len(c.s) {
			return m, nil
		}
		open := strings.IndexByte(c.s[c.i:], '(')
		shut := strings.IndexByte(c.s[c.i:], ')')
		if open < 0 || shut < open {
			return geom.Identity, errTransform
		}
		name := strings.TrimSpace(c.s[c.i : c.i+open])
		args := scanner{s: c.s[c.i+open+1 : c.i+shut]}
		c.i += shut + 1
		var a []float64
		for {
			args.comma()
			if args.i >= len(args.s) {
				break
			}
			start := args.i
			if _, ok := args.number(); !ok {
				return geom.Identity, errTransform
			}
			args.unit()
			v, ok := value(name, len(a), args.s[start:args.i])
			if !ok || len(a) == 6 {
				return geom.Identity, errTransform
			}
			a = append(a, v)
		}
		t, valid := transformOf(name, a)
		if !valid {
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
	one, two := n == 1, n == 1 || n == 2
	switch name {
	case "none":
		return geom.Identity, n == 0
	case "matrix":
		return geom.Affine{at(0), at(1), at(2), at(3), at(4), at(5)}, n == 6
	case "translate":
		return geom.Affine{1, 0, 0, 1, at(0), at(1)}, two
	case "translateX":
		return geom.Affine{1, 0, 0, 1, at(0), 0}, one
	case "translateY":
		return geom.Affine{1, 0, 0, 1, 0, at(0)}, one
	case "scale":
		y := at(1)
		if n == 1 {
			y = at(0)
		}
		return geom.Affine{at(0), 0, 0, y, 0, 0}, two
	case "scaleX":
		return geom.Affine{at(0), 0, 0, 1, 0, 0}, one
	case "scaleY":
		return geom.Affine{1, 0, 0, at(0), 0, 0}, one
	case "rotate":
		sin, cos := math.Sincos(at(0) * math.Pi / 180)
		r := geom.Affine{cos, sin, -sin, cos, 0, 0}
		return about(at(1), at(2), r), one || n == 3
	case "skewX":
		return geom.Affine{1, 0, math.Tan(at(0) * math.Pi / 180), 1, 0, 0}, one
	case "skewY":
		return geom.Affine{1, math.Tan(at(0) * math.Pi / 180), 0, 1, 0, 0}, one
	case "skew":
		return geom.Affine{1, math.Tan(at(1) * math.Pi / 180), math.Tan(at(0) * math.Pi / 180), 1, 0, 0}, two
	}
	return geom.Identity, false
}

// about carries a transform out round a point.
func about(x, y float64, m geom.Affine) geom.Affine {
	return geom.Affine{1, 0, 0, 1, x, y}.Times(m).Times(geom.Affine{1, 0, 0, 1, -x, -y})
}
