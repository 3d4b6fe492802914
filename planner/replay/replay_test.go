package replay_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/replay"
)

type region = geom.Region[geom.TruePoint]

func rect(x, y, w, h float64) region {
	return region{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}}
}

// A channel with a bar in it and a lid, and a wrap round all:
//
//	+--------------+   3 wrap
//	|  +--lid 2--+ |
//	|  |U| bar|U | |
//	|  |U+----+U | |
//	+--------------+
var (
	channel = region{{{0, 0}, {30, 0}, {30, 20}, {20, 20}, {20, 10}, {10, 10}, {10, 20}, {0, 20}}}
	parts   = []region{channel, rect(10, 10, 10, 10), rect(0, 20, 30, 10),
		{{{-10, -10}, {40, -10}, {40, 40}, {-10, 40}}, {{0, 0}, {0, 30}, {30, 30}, {30, 0}}}}
	down = geom.Vec{0, -1}
)

func entry(e int, m build.Move, d geom.Vec) build.Entry {
	return build.Entry{Part: build.Part{Element: e, Block: -1}, Move: m, Direction: d}
}

func good() []build.Entry {
	return []build.Entry{
		entry(0, build.First, geom.Vec{}),
		entry(1, build.Lay, down),
		entry(2, build.Lay, down),
		entry(3, build.Wrap, geom.Vec{}),
	}
}

func prove(entries []build.Entry) *replay.Fault {
	return replay.Prove(&build.Build{Blocks: [][]build.Entry{entries}},
		func(p build.Part) region { return parts[p.Element] }, replay.TrueGive)
}

func TestGoodBuild(t *testing.T) { assert.Nil(t, prove(good())) }

// Every mutation of a good build is rejected.
func TestMutations(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func([]build.Entry) []build.Entry
	}{
		{"two parts swapped", func(e []build.Entry) []build.Entry { e[1], e[2] = e[2], e[1]; return e }},
		{"a direction turned", func(e []build.Entry) []build.Entry { e[1].Direction = geom.Vec{1, 0}; return e }},
		{"a slanted direction", func(e []build.Entry) []build.Entry { e[1].Direction = geom.Vec{0.1, -1}; return e }},
		{"from below", func(e []build.Entry) []build.Entry { e[2].Direction = geom.Vec{0, 1}; return e }},
		{"a wrap before its core", func(e []build.Entry) []build.Entry { return []build.Entry{e[0], e[3], e[1], e[2]} }},
		{"a part doubled", func(e []build.Entry) []build.Entry { return append(e[:2:2], e[1], e[2], e[3]) }},
		{"a turn too much", func(e []build.Entry) []build.Entry { e[1].Turn = 180; return e }},
		{"two firsts", func(e []build.Entry) []build.Entry { e[1].Move = build.First; return e }},
		{"a lid that is wrapped", func(e []build.Entry) []build.Entry { e[2].Move = build.Wrap; return e }},
		{"a bar that is bent", func(e []build.Entry) []build.Entry { e[1].Move = build.Bend; return e }},
	} {
		t.Run(c.name, func(t *testing.T) { assert.NotNil(t, prove(c.f(good()))) })
	}
}

// A part turned over is laid from above although it goes up in the drawing.
func TestTurnAllowsTheOtherSide(t *testing.T) {
	parts := []region{rect(0, 0, 10, 10), rect(0, -10, 10, 10)}
	e := []build.Entry{entry(0, build.First, geom.Vec{}), entry(1, build.Lay, geom.Vec{0, 1})}
	p := func(x build.Part) region { return parts[x.Element] }
	assert.NotNil(t, replay.Prove(&build.Build{Blocks: [][]build.Entry{e}}, p, replay.TrueGive))
	e[1].Turn = 180
	assert.Nil(t, replay.Prove(&build.Build{Blocks: [][]build.Entry{e}}, p, replay.TrueGive))
}

func BenchmarkProve(b *testing.B) {
	for b.Loop() {
		prove(good())
	}
}
