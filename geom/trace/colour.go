package trace

import "math"

// lab is a colour in CIELAB under D65, from sRGB (IEC 61966-2-1).
type lab [3]float64

var linear = func() (t [256]float64) {
	for i := range t {
		if v := float64(i) / 255; v <= 0.04045 {
			t[i] = v / 12.92
		} else {
			t[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return t
}()

func labOf(c rgb) lab {
	r, g, b := linear[c[0]], linear[c[1]], linear[c[2]]
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124564*r + 0.3575761*g + 0.1804375*b) / 0.95047)
	y := f(0.2126729*r + 0.7151522*g + 0.0721750*b)
	z := f((0.0193339*r + 0.1191920*g + 0.9503041*b) / 1.08883)
	return lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// differ is CIE94 for graphic arts, made symmetric by the mean chroma of both.
func differ(p, q lab) float64 { return math.Sqrt(differ2(p, q)) }

// differ2 is its square.
func differ2(p, q lab) float64 {
	c1, c2 := math.Sqrt(p[1]*p[1]+p[2]*p[2]), math.Sqrt(q[1]*q[1]+q[2]*q[2])
	c := (c1 + c2) / 2
	dl, dc := p[0]-q[0], c1-c2
	da, db := p[1]-q[1], p[2]-q[2]
	dh2 := math.Max(0, da*da+db*db-dc*dc)
	sc, sh := 1+0.045*c, 1+0.015*c
	return dl*dl + dc*dc/(sc*sc) + dh2/(sh*sh)
}

// rgb is a colour in sRGB.
type rgb [3]uint8
