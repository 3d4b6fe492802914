package replay_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/replay"
)

// A wall, a brick beside it and one on both, laid on a table (schoolbook statics): the good order stands; what hangs in the
// air, comes from below, is slid in too heavy, or is turned so that it falls, is rejected.
func TestGravity(t *testing.T) {
	parts := []region{rect(0, 0, 20, 40), rect(20, 0, 60, 20), rect(0, 40, 80, 20), rect(-90, 25, 90, 15), rect(20, 20, 60, 20)}
	first := func(e int, turn float64) build.Entry {
		x := entry(e, build.First, geom.Vec{})
		x.Turn = turn
		return x
	}
	lay := func(e int, d geom.Vec) build.Entry { return entry(e, build.Lay, d) }
	down, side := geom.Vec{0, -1}, geom.Vec{-1, 0}
	prove := func(entries ...build.Entry) *replay.Fault {
		return replay.Prove(&build.Build{Blocks: [][]build.Entry{entries}},
			func(p build.Part) region { return parts[p.Element] }, replay.TrueGive)
	}
	assert.Nil(t, prove(first(0, 0), lay(1, down), lay(4, down), lay(2, down)))
	assert.Nil(t, prove(first(0, 0), lay(1, side), lay(4, down)), "slid along the table, 1200 square mm")
	f := prove(first(0, 0), lay(2, down))
	if assert.NotNil(t, f, "a beam on a wall's end") {
		assert.ErrorContains(t, f, "falls")
	}
	f = prove(first(0, 0), lay(3, geom.Vec{1, 0}))
	assert.NotNil(t, f, "a beam stuck to the side of a wall, above the table")
	f = prove(first(1, 0), lay(4, down), lay(0, geom.Vec{0, 1}))
	if assert.NotNil(t, f) {
		assert.ErrorContains(t, f, "rise")
	}
	f = prove(first(2, 0), lay(4, geom.Vec{-1, -0.2}))
	assert.NotNil(t, f, "pushed in from below")
	turned := lay(4, down)
	turned.Turn = 100
	f = prove(first(0, 0), lay(1, down), turned)
	assert.NotNil(t, f, "turned onto a corner")
}
