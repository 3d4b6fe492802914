package recipe_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner/recipe"
)

type region = geom.Region[geom.TruePoint]

var least = recipe.Least{RodMM: 6, ThinMM: 3.4, SheetMM: 2.2}

// Sections with their areas by schoolbook formulae: pi d^2/4; (b + c) h/2; b h/2; r^2/2 (a - sin a) of a circle's
// segment; w (t0 + 2 tm + t1)/4 of a strip whose thickness runs straight from its middle to both ends.
var sections = []struct {
	name string
	r    recipe.Recipe
	area float64
}{
	{"rod", recipe.Recipe{Base: recipe.Rod, Size: [4]float64{20}}, 100 * math.Pi},
	{"bar", recipe.Recipe{Base: recipe.Bar, Size: [4]float64{30, 20}}, 600},
	{"strip", recipe.Recipe{Base: recipe.Strip, Size: [4]float64{60, 8}}, 480},
	{"strip with slanted edges", recipe.Recipe{Base: recipe.Strip, Size: [4]float64{60, 8, 6}}, 480},
	{"oval", recipe.Recipe{Base: recipe.Oval, Size: [4]float64{40, 20}}, 200 * math.Pi},
	{"wedge", recipe.Recipe{Base: recipe.Wedge, Size: [4]float64{40, 20, 25, 3}}, 750},
	{"triangle", recipe.Recipe{Base: recipe.Triangle, Size: [4]float64{40, 30, 12}}, 600},
	{"half-moon of 80 by 20, radius 50", recipe.Recipe{Base: recipe.HalfMoon, Size: [4]float64{80, 20}},
		1250 * (2*math.Acos(0.6) - math.Sin(2*math.Acos(0.6)))},
	{"rod with a flat", recipe.Recipe{Base: recipe.FlatRod, Size: [4]float64{40, 30}},
		math.Pi*400 - 200*(2*math.Acos(0.5)-math.Sin(2*math.Acos(0.5)))},
	{"leaf of two segments of radius 50", recipe.Recipe{Base: recipe.Leaf, Size: [4]float64{80, 20, 20}},
		2500 * (2*math.Acos(0.6) - math.Sin(2*math.Acos(0.6)))},
	{"strip thick in the middle", recipe.Recipe{Base: recipe.Tapered, Size: [4]float64{80, 12, 2, 4}}, 600},
	{"drop", recipe.Recipe{Base: recipe.Drop, Size: [4]float64{20, 30}}, 100*(math.Pi-math.Acos(0.5)) + 10*math.Sqrt(300)},
	{"bar on a round", recipe.Recipe{Base: recipe.Bar, Size: [4]float64{40, 20}, Op: recipe.Bow, Done: [10]float64{-4}},
		800 - segment(40, 4)},
	{"half-moon with a hollow flat", recipe.Recipe{Base: recipe.HalfMoon, Size: [4]float64{80, 30}, Op: recipe.Bow, Done: [10]float64{-8}},
		segment(80, 30) - segment(80, 8)},
	{"bar, an edge cut off", recipe.Recipe{Base: recipe.Bar, Size: [4]float64{40, 20}, Op: recipe.Cut, Done: [10]float64{12, 9}, Side: 1},
		800 - 54},
	{"bar with a groove", recipe.Recipe{Base: recipe.Bar, Size: [4]float64{50, 20}, Op: recipe.Groove, Done: [10]float64{12, 6, 20}},
		1000 - 18*math.Pi},
	{"bar with two grooves", recipe.Recipe{Base: recipe.Bar, Size: [4]float64{60, 20}, Op: recipe.Grooves, Done: [10]float64{10, 5, 15, 2, 30}},
		1200 - 25*math.Pi},
	{"strip bent round 30", recipe.Recipe{Base: recipe.Strip, Size: [4]float64{30 * math.Pi, 6}, Op: recipe.Bend,
		Arcs: []recipe.Arc{{LengthMM: 30 * math.Pi, TurnDeg: 180}}}, 180 * math.Pi},
	{"crescent", recipe.Recipe{Base: recipe.Tapered, Size: [4]float64{90, 12, 0, 0}, Op: recipe.Bend,
		Arcs: []recipe.Arc{{LengthMM: 90, TurnDeg: 120}}}, 540},
	{"slab between two seams", recipe.Recipe{Base: recipe.Bar, Size: [4]float64{90, 24}, Op: recipe.Grooves,
		Done: [10]float64{10, 5, 20, 2, 50, 12, 6, 45, 1, 0}}, 2160 - 25*math.Pi - 18*math.Pi},
	{"hook", recipe.Recipe{Base: recipe.Strip, Size: [4]float64{100, 6}, Op: recipe.BendTwice,
		Arcs: []recipe.Arc{{LengthMM: 60, TurnDeg: 180}, {LengthMM: 40, TurnDeg: -90}}}, 600},
}

// segment of a circle by chord and height, from the radius and the angle at the centre.
func segment(c, h float64) float64 {
	r := (c*c/4 + h*h) / (2 * h)
	a := 2 * math.Asin(c/(2*r))
	return r * r / 2 * (a - math.Sin(a))
}

// The area in closed form is the schoolbook's, and the drawn section's, to 0.3 %.
func TestAreas(t *testing.T) {
	for _, c := range sections {
		assert.InEpsilon(t, c.area, c.r.Area(), 1e-6, c.name)
		assert.InEpsilon(t, c.area, c.r.Section().Area(), 3e-3, c.name)
		again := recipe.Of(c.r.Base, c.r.Op, c.r.Printed(), c.r.Arcs)
		assert.InDelta(t, c.area, again.Area(), 1e-6, "%s: drawn from its printed sizes", c.name)
	}
}

// Each section is found again from its own outline, turned, mirrored and sampled anew: within 2 % of its area, as the
// same recipe or a plainer one.
func TestFoundAgain(t *testing.T) {
	for _, c := range sections {
		ring := c.r.Section()
		for k, a := range []float64{0, 0.4, 2.1, 4.4} {
			r := region{geom.Map(region{ring}, func(p geom.TruePoint) geom.TruePoint {
				if k%2 == 1 {
					p[0] = -p[0]
				}
				v := geom.Polar(a)
				return geom.TruePoint{50 + v[0]*p[0] - v[1]*p[1], -20 + v[1]*p[0] + v[0]*p[1]}
			})[0]}
			if r.Area() < 0 {
				r[0] = r[0].Reversed()
			}
			f := recipe.Best(r, false, least, recipe.Thorough)
			require.NotEqual(t, recipe.Refused, f.Class, "%s turned by %g: %+v", c.name, a, f)
			assert.Less(t, f.Misfit, 0.045, "%s turned by %g: %+v", c.name, a, f)
			assert.LessOrEqual(t, f.Op, max(c.r.Op, recipe.Cut), "%s turned by %g: %+v", c.name, a, f)
			assert.InEpsilon(t, r.Area(), f.Area(), 3e-3, c.name)
			for name, v := range f.Printed() {
				assert.False(t, v != 0 && math.Abs(v) < 1 && name != "side", "%s: %s is %g", c.name, name, v)
			}
			placed := region{f.Placed()}
			assert.InDelta(t, f.Misfit, misfit(r, placed), 0.012, c.name)
		}
	}
}

// misfit of two regions by points on a grid, a tenth of a millimetre apart at the finest.
func misfit(a, b region) float64 {
	box := a.Bound().Union(b.Bound())
	const n = 300
	off := 0
	dx, dy := (box.Max[0]-box.Min[0])/n, (box.Max[1]-box.Min[1])/n
	for i := range n {
		for j := range n {
			p := geom.TruePoint{box.Min[0] + (float64(i)+0.5)*dx, box.Min[1] + (float64(j)+0.5)*dy}
			if a.Contains(p) != b.Contains(p) {
				off++
			}
		}
	}
	return float64(off) * dx * dy / a.Area()
}

// What hands call a die has no recipe: a comb, a saw edge, a step, a Y, two grooves askew, a hollow on three sides.
func TestDies(t *testing.T) {
	comb := geom.Ring[geom.TruePoint]{{0, 0}, {80, 0}, {80, 30}}
	for x := 70.0; x > 0; x -= 20 {
		comb = append(comb, geom.TruePoint{x, 30}, geom.TruePoint{x, 12}, geom.TruePoint{x - 10, 12}, geom.TruePoint{x - 10, 30})
	}
	comb = append(comb, geom.TruePoint{0, 30})
	saw := geom.Ring[geom.TruePoint]{{0, 0}, {80, 0}}
	for x := 80.0; x > 0; x -= 16 {
		saw = append(saw, geom.TruePoint{x, 25}, geom.TruePoint{x - 8, 14})
	}
	for name, ring := range map[string]geom.Ring[geom.TruePoint]{
		"comb": comb,
		"saw":  saw,
		"step": {{0, 0}, {60, 0}, {60, 12}, {25, 12}, {25, 40}, {0, 40}},
		"y":    {{-5, -40}, {5, -40}, {5, -4}, {36, 15}, {30, 24}, {0, 6}, {-30, 24}, {-36, 15}, {-5, -4}},
		"t":    {{-30, 20}, {-30, 10}, {-5, 10}, {-5, -30}, {5, -30}, {5, 10}, {30, 10}, {30, 20}},
	} {
		f := recipe.Best(region{ring}, true, least, recipe.Thorough)
		assert.Equal(t, recipe.Refused, f.Class, "%s: %+v", name, f)
	}
}

// A wrap round a core d with thickness t is pi (d + t) long at mid thickness, and that times t is the ring's area
// (derived): d 40, t 5: 141.371669; d 100, t 3: 323.584043; d 150, t 8: 496.371639.
func TestWrapIsDevelopedAtMidThickness(t *testing.T) {
	for _, c := range [][3]float64{{40, 5, 141.371669}, {100, 3, 323.584043}, {150, 8, 496.371639}} {
		out := geom.Circle[geom.TruePoint]{Radius: c[0]/2 + c[1]}.Polygon(720)
		in := geom.Circle[geom.TruePoint]{Radius: c[0] / 2}.Polygon(720).Reversed()
		f := recipe.Best(region{out, in}, false, least, recipe.Thorough)
		assert.Equal(t, recipe.Fine, f.Class)
		assert.InDelta(t, c[1], f.Printed()["thickness_mm"], 0.01)
		assert.InEpsilon(t, c[2], f.Printed()["width_mm"], 2e-3)
	}
}

// A ring that is twice as thick on one side is no sheet; a round that is nearly one is a rod; a strip that turns is
// laid as a sheet.
func TestShapes(t *testing.T) {
	out := geom.Circle[geom.TruePoint]{Radius: 30}.Polygon(200)
	in := geom.Circle[geom.TruePoint]{Centre: geom.TruePoint{3, 0}, Radius: 20}.Polygon(200).Reversed()
	assert.Equal(t, recipe.Refused, recipe.Best(region{out, in}, false, least, recipe.Thorough).Class)
	d, off := recipe.AsRod(region{out})
	assert.InDelta(t, 60, d, 0.1)
	assert.Less(t, off, 0.01)
	bent := region{sections[17].r.Section()}
	assert.True(t, recipe.Sheetlike(bent))
	assert.False(t, recipe.Sheetlike(region{out}))
	sides, ok := recipe.SidesOf(bent)
	require.True(t, ok)
	assert.Greater(t, recipe.TurnOf(sides.Outer), 2.7)
	way, core, ok := recipe.BendWay(bent)
	assert.True(t, ok)
	assert.NotEmpty(t, way)
	assert.NotEmpty(t, core)
	a, b := recipe.Signature(bent), recipe.Signature(region{geom.Map(bent, func(p geom.TruePoint) geom.TruePoint {
		return geom.TruePoint{0.6*p[0] - 0.8*p[1], 0.8*p[0] + 0.6*p[1]}
	})[0]})
	for i := range a {
		assert.InDelta(t, a[i], b[i], 1e-6*max(1, math.Abs(a[i])))
	}
}

// Minutes follow mass and length, and each operation adds its own.
func TestMinutes(t *testing.T) {
	m := recipe.Minutes{Rod: 0.5, Bar: 0.8, Kg: 0.6, Metre: 0.4, Groove: 0.4, NextGroove: 0.2, Bow: 0.3, Cut: 0.3, Bend: 0.4, BendFar: 0.8, BendTwice: 1.2}
	rod := recipe.Recipe{Base: recipe.Rod, Size: [4]float64{20}}
	assert.InDelta(t, 0.5+0.06+0.16, m.Make(rod, 100, 400, 1), 1e-9)
	assert.InDelta(t, 0.5+1.2+0.64, m.Make(rod, 500, 400, 4), 1e-9, "2 kg, 1.6 m")
	assert.InDelta(t, 0.8+0.6+0.06+0.16, m.Make(sections[16].r, 100, 400, 1), 1e-9, "two grooves")
	assert.InDelta(t, 0.8, m.Bending(sections[17].r), 1e-9, "half round")
	assert.InDelta(t, 1.2, m.Bending(sections[20].r), 1e-9)
	assert.InDelta(t, 30, sections[17].r.Radius(), 1e-9)
	assert.InDelta(t, math.Pi, sections[17].r.Turn(), 1e-9)
	assert.True(t, sections[17].r.Bent())
	assert.True(t, sections[17].r.Flat())
	assert.InDelta(t, 6, sections[17].r.Thick(), 1e-9)
}

// BenchmarkBest of a plain wedge, of a crescent, and of a die.
func BenchmarkBest(b *testing.B) {
	for _, k := range []int{5, 18} {
		r := region{sections[k].r.Section()}
		b.Run(sections[k].name, func(b *testing.B) {
			for b.Loop() {
				recipe.Best(r, false, least, recipe.Quick)
			}
		})
	}
}
