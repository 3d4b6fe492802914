package replay_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/replay"
)

// arch is a half ring from one radius to another, over the x axis.
func arch(in, out float64) region {
	var r geom.Ring[geom.TruePoint]
	for i := range 41 {
		v := geom.Polar(float64(i) * math.Pi / 40)
		r = append(r, geom.TruePoint{out * v[0], out * v[1]})
	}
	for i := range 41 {
		v := geom.Polar(math.Pi - float64(i)*math.Pi/40)
		r = append(r, geom.TruePoint{in * v[0], in * v[1]})
	}
	return region{r}
}

func half(radius float64) region {
	var r geom.Ring[geom.TruePoint]
	for i := range 41 {
		v := geom.Polar(float64(i) * math.Pi / 40)
		r = append(r, geom.TruePoint{radius * v[0], radius * v[1]})
	}
	return region{r}
}

func bent(on, strip region, more ...region) *replay.Fault {
	shapes := append([]region{on, strip}, more...)
	entries := []build.Entry{entry(0, build.First, geom.Vec{})}
	for i := range more {
		entries = append(entries, entry(i+2, build.Lay, geom.Vec{0, -1}))
	}
	entries = append(entries, entry(1, build.Bend, geom.Vec{}))
	return replay.Prove(&build.Build{Blocks: [][]build.Entry{entries}},
		func(p build.Part) region { return shapes[p.Element] }, replay.TrueGive)
}

// A strip is bent over what it fits; not over what is not there, nor with something in its way.
func TestBend(t *testing.T) {
	assert.Nil(t, bent(half(20), arch(20, 24)))
	assert.NotNil(t, bent(half(4), arch(20, 24)), "most of its inner side lies on nothing")
	f := bent(half(20), arch(20, 24), rect(-2, 19.9, 4, 12))
	if assert.NotNil(t, f, "something stands where it will lie") {
		assert.ErrorContains(t, f, "move 3")
	}
}

// A move that no hand makes, a part that is laid twice, a first among others.
func TestNoSuchMove(t *testing.T) {
	assert.NotNil(t, prove([]build.Entry{entry(0, build.First, geom.Vec{}), entry(1, build.Move(99), geom.Vec{})}))
	assert.NotNil(t, prove([]build.Entry{entry(0, build.First, geom.Vec{}), entry(1, build.First, geom.Vec{})}))
	assert.NotNil(t, prove(append(good(), entry(3, build.Wrap, geom.Vec{}))))
	assert.NotNil(t, prove([]build.Entry{entry(0, build.First, geom.Vec{}), entry(1, build.Lay, geom.Vec{0, 1})}),
		"it would rise")
}
