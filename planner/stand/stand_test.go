package stand_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/stand"
)

type (
	point  = geom.TruePoint
	region = geom.Region[point]
)

func box(x, y, w, h float64) region {
	return region{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}}
}

func turned(r region, deg float64) region {
	s, c := math.Sincos(deg * math.Pi / 180)
	return geom.Map(r, func(p point) point { return point{c*p[0] - s*p[1], s*p[0] + c*p[1]} })
}

func halfMoon(r float64) region {
	var ring geom.Ring[point]
	for k := range 41 {
		a := math.Pi * float64(k) / 40
		ring = append(ring, point{r * math.Cos(a), r * math.Sin(a)})
	}
	return region{ring}
}

func all(i int) int { return i }

func level(up geom.Vec, bodies ...region) stand.Level {
	return stand.Of(bodies).Stands(all, up, stand.Held)
}

var up = geom.Vec{0, 1}

// Bricks of 60 by 20 (schoolbook): the upper tips when its middle is past the lower one's end, at 30 mm, less what the
// round edges take; tack holds it farther.
func TestBricks(t *testing.T) {
	over := func(x float64) stand.Level { return level(up, box(0, 0, 60, 20), box(x, 20, 60, 20)) }
	assert.Equal(t, stand.Free, over(0))
	assert.Equal(t, stand.Free, over(28))
	assert.Equal(t, stand.Tacked, over(32))
	assert.Equal(t, stand.Tacked, over(35))
	assert.NotEqual(t, stand.Tacked, over(40))
}

// A brick stuck to the side of a wall, above the table, is carried by tack alone while it is narrower than tack over
// weight, 350 Pa / (1400 kg/m3 g) = 25 mm (schoolbook); without tack it falls.
func TestStuckOnAWall(t *testing.T) {
	on := func(b float64) stand.Level {
		p := stand.Of([]region{box(-60, 0, 60, 80), box(0, 20, b, 40)})
		return p.Stands(all, up, stand.Tacked)
	}
	assert.Equal(t, stand.Tacked, on(5))
	assert.Equal(t, stand.Tacked, on(20))
	assert.Equal(t, stand.Falls, on(30))
	assert.Equal(t, stand.Falls, on(60))
}

// Two strips that lean on each other stand, one alone falls; a lintel on two posts stands, a beam on one post, off by 10
// mm, tips at both ends; a bar beside a wall does not hold on to the wall's corner.
func TestFrames(t *testing.T) {
	left := region{{{-20, 0}, {-10, 0}, {0, 40}, {0, 50}}}
	right := region{{{10, 0}, {20, 0}, {0, 50}, {0, 40}}}
	assert.Equal(t, stand.Free, level(up, left, right))
	p := stand.Of([]region{left})
	assert.Equal(t, stand.Falls, p.Stands(all, up, stand.Tacked))

	assert.Equal(t, stand.Free, level(up, box(0, 0, 10, 30), box(40, 0, 10, 30), box(0, 30, 50, 10)))
	beam := stand.Of([]region{box(0, 0, 10, 30), box(-30, 30, 50, 10)})
	assert.Equal(t, stand.Falls, beam.Stands(all, up, stand.Free))
	assert.Equal(t, stand.Free, level(up, box(0, 0, 10, 30), box(-20, 30, 50, 10)))
}

// A triangle on its tip, a strip on edge that leans, and a half-moon on its arc, are no beginnings; on their flats they
// are. A half-moon on its arc stands by itself only where its middle is over its foot.
func TestFirstParts(t *testing.T) {
	triangle := region{{{0, 0}, {40, 0}, {20, 40}}}
	assert.Equal(t, stand.Free, level(up, triangle))
	p := stand.Of([]region{triangle})
	assert.Equal(t, stand.Falls, p.Stands(all, geom.Vec{0.1, -1}, stand.Tacked))
	assert.Equal(t, stand.Free, level(up, halfMoon(30)))
	leaning := turned(box(0, 0, 3.5, 38), 12)
	assert.Equal(t, stand.Falls, stand.Of([]region{leaning}).Stands(all, up, stand.Tacked))
	assert.Equal(t, stand.Propped, stand.Of([]region{turned(halfMoon(30), 150)}).Stands(all, up, stand.Held))
}

// The verdict is the pile's, however it is turned with its up, and whatever else is there that is not present.
func TestTurned(t *testing.T) {
	pile := []region{box(0, 0, 60, 20), box(20, 20, 60, 20), box(-30, 40, 10, 10)}
	for _, deg := range []float64{0, 37, 90, 201} {
		var r []region
		for _, b := range pile {
			r = append(r, turned(b, deg))
		}
		p := stand.Of(r)
		u := geom.Polar((deg + 90) * math.Pi / 180)
		assert.Equal(t, stand.Free, p.Stands(func(i int) int {
			if i < 2 {
				return i
			}
			return -1
		}, u, stand.Held), "%g degrees", deg)
		assert.Equal(t, stand.Falls, p.Stands(all, u, stand.Held), "%g degrees", deg)
	}
}

func BenchmarkStands(b *testing.B) {
	var pile []region
	for y := range 4 {
		for x := range 5 {
			pile = append(pile, box(20*float64(x)+10*float64(y%2), 15*float64(y), 20, 15))
		}
	}
	p := stand.Of(pile)
	for b.Loop() {
		p.Stands(all, up, stand.Held)
	}
}

// What a pile remembers of how it fell changes no verdict: each subset of a stack of bricks that is askew, in four turns,
// is judged as by a pile that remembers nothing.
func TestFallsChangeNoVerdict(t *testing.T) {
	var bodies []region
	for k := range 6 {
		bodies = append(bodies, box(float64(k*k*k%17)*1.5, float64(20*k), 30, 20))
	}
	known := stand.Of(bodies)
	levels := map[stand.Level]int{}
	for set := 1; set < 1<<len(bodies); set++ {
		there := func(i int) int {
			if set>>i&1 == 1 {
				return i
			}
			return -1
		}
		for _, up := range []geom.Vec{{0, 1}, {0.5, 1}, {1, 0}, {0, -1}} {
			got := known.Stands(there, up, stand.Held)
			levels[got]++
			assert.Equal(t, stand.Of(bodies).Stands(there, up, stand.Held), got, "set %b, up %v", set, up)
		}
	}
	assert.Greater(t, len(levels), 2, "the sets differ: %v", levels)
	assert.Positive(t, levels[stand.Falls])
}
