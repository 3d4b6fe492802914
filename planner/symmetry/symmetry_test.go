package symmetry_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/internal/sample"
	"sugarwright/planner/symmetry"
)

// motions of a drawing: how many turns, how many mirrors.
func motions(t *testing.T, drawing string) (turns, mirrors int) {
	var pieces []symmetry.Coloured
	for _, r := range sample.Map(t, drawing).Regions {
		pieces = append(pieces, symmetry.Coloured{Shape: r.Shape, Colour: r.Colour})
	}
	for _, m := range symmetry.Of(pieces, true) {
		if m.Mirror {
			mirrors++
		} else {
			turns++
		}
	}
	return turns, mirrors
}

// The square has three turns and four mirrors, the bar one and two, the hook none; a fan of three blades turns and has no mirror.
func TestMotions(t *testing.T) {
	blade := `<path d="M100 100L140 60L150 90z" fill="#a00" transform="rotate(%d 100 100)"/>`
	for _, c := range []struct {
		drawing        string
		turns, mirrors int
	}{
		{`<rect x="60" y="60" width="80" height="80" fill="#a00"/>`, 3, 4},
		{`<rect x="40" y="80" width="120" height="40" fill="#a00"/>`, 1, 2},
		{`<path d="M60 60h80v20h-60v60h-20z" fill="#a00"/>`, 0, 1},
		{`<path d="M60 60h80v20h-60v90h-20z" fill="#a00"/>`, 0, 0},
		{fmt.Sprintf(blade+blade+blade, 0, 120, 240), 2, 0},
		{``, 0, 0},
	} {
		if c.drawing == "" {
			assert.Nil(t, symmetry.Of(nil, true))
			continue
		}
		turns, mirrors := motions(t, c.drawing)
		assert.Equal(t, []int{c.turns, c.mirrors}, []int{turns, mirrors}, c.drawing)
	}
	assert.True(t, symmetry.Mirrored(sample.Map(t, sample.Disc)))
	assert.False(t, symmetry.Mirrored(sample.Map(t, `<path d="M60 60h80v20h-60v90h-20z" fill="#a00"/>`)))
}

// A picture lies alike in its pose however it is turned or mirrored on the page: its parts come to the same places, within the grid's rounding.
func TestPose(t *testing.T) {
	places := func(transform string) (out []geom.TruePoint) {
		m := sample.Map(t,
			`<g transform="`+transform+`"><path d="M60 60h80v20h-60v90h-20z" fill="#a00"/><circle cx="120" cy="120" r="15" fill="#00a"/></g>`)
		pose := symmetry.PoseOf(m.Regions)
		for _, r := range m.Regions {
			if r.Colour != 0 {
				moved := pose.Moved(r.Shape, pose.In)
				assert.Greater(t, moved[0].Area(), 0.0, "outlines stay counter-clockwise")
				out = append(out, geom.MomentsOf(moved).Centroid)
				at := geom.TruePoint{3, 4}
				back := pose.Out(pose.In(at))
				assert.InDelta(t, 0, geom.Dist(at, back), 1e-9)
			}
		}
		return out
	}
	want := places("rotate(0)")
	for _, transform := range []string{"rotate(90 100 100)", "rotate(33 100 100)", "translate(200 0) scale(-1 1)"} {
		got := places(transform)
		for i := range want {
			near := min(geom.Dist(want[i], got[0]), geom.Dist(want[i], got[len(got)-1]))
			assert.Less(t, near, 0.1, transform)
		}
	}
	// By its mirror line, and by its moments where nothing is straight.
	for _, drawing := range []string{`<path d="M100 40L140 140L60 140z" fill="#a00"/>`, `<circle cx="80" cy="90" r="30" fill="#a00"/><circle cx="140" cy="120" r="12" fill="#00a"/>`} {
		m := sample.Map(t, drawing)
		p := symmetry.PoseOf(m.Regions)
		assert.InDelta(t, 5, geom.Vec(p.In(geom.TruePoint{3, 4})).Len(), 1e-9, "a pose keeps lengths")
	}
	assert.Equal(t, symmetry.Upright.In(geom.TruePoint{3, 4}), geom.TruePoint{3, 4})
}
