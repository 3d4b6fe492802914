package cuts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner/cuts"
	"sugarwright/planner/symmetry"
)

type region = geom.Region[geom.TruePoint]

var (
	// An L: one concave corner at 10, 10.
	ell = region{{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 30}, {0, 30}}}
	// Two squares on a bridge: a neck of 4.
	dumbbell = region{
		{
			{0, 0},
			{20, 0},
			{20, 8},
			{40, 8},
			{40, 0},
			{60, 0},
			{60, 20},
			{40, 20},
			{40, 12},
			{20, 12},
			{20, 20},
			{0, 20},
		},
	}
	ring = region{{{0, 0}, {40, 0}, {40, 40}, {0, 40}}, {{10, 10}, {10, 30}, {30, 30}, {30, 10}}}
)

// has tells whether a cut has a chord between two points, within a millimetre.
func has(list []cuts.Cut, a, b geom.TruePoint) bool {
	for _, k := range list {
		for _, l := range k.Lines() {
			if cuts.CloseBy([2]geom.TruePoint{l[0], l[1]}, [2]geom.TruePoint{a, b}, 1) {
				return true
			}
		}
	}
	return false
}

// Both edges of a concave corner run on, the shortest cut first; every chord lies inside.
func TestCorner(t *testing.T) {
	list := cuts.Of(ell, nil, nil)
	require.NotEmpty(t, list)
	assert.True(t, has(list, geom.TruePoint{10, 10}, geom.TruePoint{10, 0}))
	assert.True(t, has(list, geom.TruePoint{10, 10}, geom.TruePoint{0, 10}))
	assert.True(t, has(list, geom.TruePoint{10, 10}, geom.TruePoint{0, 0}), "the bisector, and the mirror line")
	for _, k := range list {
		for _, l := range k.Lines() {
			assert.True(t, ell.Contains(geom.Add(l[0], geom.Sub(l[1], l[0]), 0.5)))
		}
	}
}

// A neck is cut across where it is narrowest; pairs of corners that see each other are cut too; of cuts that are images one stands for all.
func TestNeck(t *testing.T) {
	list := cuts.Of(dumbbell, nil, nil)
	assert.True(t, has(list, geom.TruePoint{20, 8}, geom.TruePoint{20, 12}))
	assert.True(
		t,
		has(list, geom.TruePoint{30, 0}, geom.TruePoint{30, 20}) ||
			has(list, geom.TruePoint{30, 8}, geom.TruePoint{30, 12}),
		"the mirror line",
	)
	turn := symmetry.Motion{Centre: geom.TruePoint{30, 10}, Cos: -1}
	assert.Less(t, len(cuts.Of(dumbbell, nil, []symmetry.Motion{turn})), len(list))
}

// Lines through the middle of what lies in a region, and where a part that is stuck opens: at its holes, its pockets, its narrow places, and along its
// main axis.
func TestOwnCuts(t *testing.T) {
	assert.Equal(t, []geom.TruePoint{{20, 20}}, cuts.Middles(ring))
	assert.NotEmpty(t, cuts.Of(ring, cuts.Middles(ring), nil))
	assert.NotEmpty(t, cuts.Opened(ring, 0.4), "a line through the hole")
	pocket := cuts.Opened(ell, 0.4)
	require.Len(t, pocket, 1)
	assert.InDelta(t, 0, geom.Dist(pocket[0][0], geom.TruePoint{10, 10}), 1e-9)
	assert.Empty(t, cuts.Opened(region{{{0, 0}, {9, 0}, {9, 9}, {0, 9}}}, 0.4), "a square has no pocket")
	assert.GreaterOrEqual(t, len(cuts.Halved(ell)), 2)
	wedge := region{{{0, 0}, {60, -8}, {60, 8}}}
	assert.NotEmpty(t, cuts.Narrows(wedge, 5), "where it is 5 wide")
	assert.Empty(t, cuts.Narrows(dumbbell, 2))
	at, d, ok := cuts.Ray(ell, geom.TruePoint{5, 5}, geom.Vec{1, 0})
	assert.True(t, ok)
	assert.Equal(t, 25.0, d)
	assert.Equal(t, geom.TruePoint{30, 5}, at)
	_, _, ok = cuts.Ray(ell, geom.TruePoint{20, 20}, geom.Vec{1, 0})
	assert.False(t, ok, "it starts outside")
}

// Lines through several islands at once, and pairs of them.
func TestIslands(t *testing.T) {
	square := region{{{0, 0}, {60, 0}, {60, 60}, {0, 60}}}
	list := cuts.Of(square, []geom.TruePoint{{20, 30}, {40, 30}, {30, 50}}, nil)
	assert.True(t, has(list, geom.TruePoint{0, 30}, geom.TruePoint{60, 30}), "through two islands")
	assert.Greater(t, len(list), 4)
}
