// Package mixing seeks the mix of a shop's colours that comes nearest to a wanted shade.
//
// Guarantees: shares are least squares in linear light over one, two or three colours, none negative, their sum one; a
// shade inside what the colours span is met exactly by the model. The model: sugars of two shades worked together look
// like the mean of their light, as white sugar with a little colour nearly does. Its limits: dyes in clear sugar take
// light away one after the other, so that real mixes of strong colours come out darker and duller than the mean; lamps
// other than daylight shift them. A mix is a start for a test lump, no more.
//
// References: IEC 61966-2-1 for linear light; CIEDE2000 as in package partition. Mixing in linear light is schoolbook
// (Grassmann's laws of light).
package mixing

import (
	"math"

	colorful "github.com/lucasb-eyer/go-colorful"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// Light is a colour in linear light, sRGB primaries, 0 to 1.
type Light [3]float64

// Of a colour as it is written.
func Of(c artwork.RGB) Light {
	r, g, b := colorful.Color{R: float64(c[0]) / 255, G: float64(c[1]) / 255, B: float64(c[2]) / 255}.LinearRgb()
	return Light{r, g, b}
}

// RGB is the nearest colour that can be written.
func (l Light) RGB() artwork.RGB {
	r, g, b := colorful.LinearRgb(l[0], l[1], l[2]).Clamped().RGB255()
	return artwork.RGB{r, g, b}
}

// Mix of colours by their shares.
func Mix(shares []float64, of []Light) Light {
	var out Light
	for i, s := range shares {
		for k := range out {
			out[k] += s * of[i][k]
		}
	}
	return out
}

// Recipe is a mix: which colours, their shares, the shade that the model gives, and how far it is from the wanted one.
type Recipe struct {
	Parts  []int
	Shares []float64
	Made   artwork.RGB
	DE2000 float64
}

// Gain is how much nearer (CIEDE2000) one more colour in a mix must bring it; below it nobody sees the difference (1 is
// not noticed, by analogy with print). Most is how many colours are mixed.
const (
	Gain = 1.0
	Most = 3
)

// Best recipe for a wanted shade: the fewest colours that come within near, else the nearest; no share of a colour in a
// mix is below least: a smaller one is raised to it, the others make room. ok is false when there are no colours.
func Best(want artwork.RGB, of []Light, near, least float64) (best Recipe, ok bool) {
	target := Of(want)
	best.DE2000 = math.Inf(1)
	try := func(parts []int) Recipe {
		some := make([]Light, len(parts))
		for i, p := range parts {
			some[i] = of[p]
		}
		shares := atLeast(leastSquares(target, some), least)
		if shares == nil { // the best lies on fewer of them
			return Recipe{DE2000: math.Inf(1)}
		}
		made := Mix(shares, some).RGB()
		return Recipe{append([]int(nil), parts...), shares, made, partition.DE2000(want, made)}
	}
	for n := 1; n <= Most && best.DE2000 > near; n++ {
		nearest := Recipe{DE2000: math.Inf(1)}
		subsets(len(of), n, func(parts []int) {
			if r := try(parts); r.DE2000 < nearest.DE2000 {
				nearest = r
			}
		})
		if nearest.DE2000 < best.DE2000-Gain || nearest.DE2000 <= near && nearest.DE2000 < best.DE2000 {
			best = nearest
		}
	}
	return best, len(best.Parts) > 0
}

// atLeast raises shares below the least; nil stays nil.
func atLeast(shares []float64, least float64) []float64 {
	if len(shares) < 2 {
		return shares
	}
	raised, rest := 0.0, 0.0
	for _, s := range shares {
		if s < least {
			raised += least
		} else {
			rest += s
		}
	}
	for i, s := range shares {
		if s < least {
			shares[i] = least
		} else {
			shares[i] = s * (1 - raised) / rest
		}
	}
	return shares
}

// subsets calls f with each set of k of n, in order.
func subsets(n, k int, f func([]int)) {
	set := make([]int, 0, k)
	var more func(from int)
	more = func(from int) {
		if len(set) == k {
			f(set)
			return
		}
		for i := from; i < n; i++ {
			set = append(set, i)
			more(i + 1)
			set = set[:len(set)-1]
		}
	}
	more(0)
}

// leastSquares are the shares of one, two or three colours, summing to one, that come nearest to a target; nil when one
// of them would be negative or they are not independent.
func leastSquares(target Light, of []Light) []float64 {
	last := of[len(of)-1]
	var a [2]Light // from the last colour to the others
	t := minus(target, last)
	shares := make([]float64, len(of))
	switch len(of) {
	case 1:
		return []float64{1}
	case 2:
		a[0] = minus(of[0], last)
		shares[0] = dot(a[0], t) / dot(a[0], a[0])
	default:
		a[0], a[1] = minus(of[0], last), minus(of[1], last)
		aa, ab, bb := dot(a[0], a[0]), dot(a[0], a[1]), dot(a[1], a[1])
		at, bt := dot(a[0], t), dot(a[1], t)
		det := aa*bb - ab*ab
		shares[0], shares[1] = (at*bb-bt*ab)/det, (bt*aa-at*ab)/det
	}
	rest := 1.0
	for _, s := range shares[:len(shares)-1] {
		rest -= s
	}
	shares[len(shares)-1] = rest
	for _, s := range shares {
		if !(s > 0 && s < 1) { // not a number where colours are not independent
			return nil
		}
	}
	return shares
}

func minus(a, b Light) Light { return Light{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func dot(a, b Light) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
