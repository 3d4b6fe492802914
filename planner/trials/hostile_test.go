//go:build trials

package trials_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/plan"
	"sugarwright/planner/replay"
)

// Every plan of the reference drawings is spoilt in every place in six ways; the replay, or the structure's own check,
// rejects what cannot be laid so. A swap or another direction may be just as good where nothing is in the way: then an
// independent count of what lies on the way must agree that it is.
func TestHostile(t *testing.T) {
	files, err := filepath.Glob("../../testdata/reference/*.svg")
	require.NoError(t, err)
	spoilt, passed := 0, 0
	for _, file := range files {
		r := once(t, file)
		if r.Plan.Verdict != plan.AsDrawn {
			continue
		}
		good, shape := r.Stages.Build, r.Stages.Set.Shape
		n := len(r.Plan.Elements)
		copyOf := func() *build.Build {
			b := &build.Build{}
			for _, e := range good.Blocks {
				b.Blocks = append(b.Blocks, append([]build.Entry(nil), e...))
			}
			return b
		}
		ok := func(b *build.Build) bool { return b.Check(n) == nil && replay.Prove(b, shape, replay.TrueGive) == nil }
		require.True(t, ok(copyOf()), file)
		for i, entries := range good.Blocks {
			for k := range entries {
				e := entries[k]
				b := copyOf()
				b.Blocks[i] = append(b.Blocks[i][:k:k], entries[k+1:]...)
				assert.False(t, ok(b), "%s: part %d of block %d lost", file, k, i)
				b = copyOf()
				b.Blocks[i] = append(b.Blocks[i], e)
				assert.False(t, ok(b), "%s: part %d of block %d doubled", file, k, i)
				spoilt += 2
				if e.Move == build.Wrap && k > 0 {
					b = copyOf()
					b.Blocks[i][k], b.Blocks[i][k-1] = entries[k-1], entries[k]
					assert.False(t, ok(b), "%s: wrap %d of block %d before its core", file, k, i)
					spoilt++
				}
				if e.Turn != 0 && e.Move == build.Lay {
					b = copyOf()
					b.Blocks[i][k].Turn = 0
					spoilt++
					if ok(b) { // it may be laid sideways, not from below
						passed++
						turned := 0.0
						for j := 0; j <= k; j++ {
							turned += b.Blocks[i][j].Turn
						}
						assert.LessOrEqual(t, rise(e.Direction, turned), 0.25+1e-6, "%s: turn %d of block %d left out",
							file, k, i)
					}
				}
				if e.Move == build.Lay {
					for _, d := range []geom.Vec{{e.Direction[1], -e.Direction[0]}, {-e.Direction[1], e.Direction[0]}, {-e.Direction[0], -e.Direction[1]}} {
						b = copyOf()
						b.Blocks[i][k].Direction = d
						spoilt++
						if ok(b) {
							passed++
							assert.False(t, inTheWay(shape, entries[:k], e.Part, d),
								"%s: part %d of block %d turned to %v", file, k, i, d)
						}
					}
				}
				for j := k + 1; j < len(entries); j++ {
					if k == 0 {
						break
					}
					b = copyOf()
					b.Blocks[i][k], b.Blocks[i][j] = entries[j], entries[k]
					spoilt++
					if !ok(b) {
						continue
					}
					passed++
					for m, x := range b.Blocks[i] {
						if x.Move == build.Lay {
							assert.False(t, inTheWay(shape, b.Blocks[i][:m], x.Part, x.Direction),
								"%s: parts %d and %d of block %d swapped", file, k, j, i)
						}
					}
				}
			}
		}
	}
	t.Logf("%d spoilt builds, %d of them just as good", spoilt, passed)
	assert.Greater(t, spoilt, 2000)
	assert.Less(t, passed, spoilt)
}

func rise(d geom.Vec, turned float64) float64 {
	t := geom.Polar(turned * 3.141592653589793 / 180)
	return t[1]*d[0] + t[0]*d[1]
}

// inTheWay slides the part back along its way in steps of a millimetre and counts points of a grid inside it, 0.4 mm
// off its border, that meet what is there: another way to see what the replay sees by exact sweeps.
func inTheWay(
	shape func(build.Part) geom.Region[geom.TruePoint],
	there []build.Entry,
	part build.Part,
	d geom.Vec,
) bool {
	r := shape(part)
	b := r.Bound()
	var inside []geom.TruePoint
	const pitch = 1.5
	for x := b.Min[0] + pitch/2; x < b.Max[0]; x += pitch {
		for y := b.Min[1] + pitch/2; y < b.Max[1]; y += pitch {
			p := geom.TruePoint{x, y}
			if !r.Contains(p) {
				continue
			}
			deep := true
			for _, ring := range r {
				for i := range ring {
					deep = deep && geom.SegmentDist(p, ring[i], ring[(i+1)%len(ring)]) > 0.4
				}
			}
			if deep {
				inside = append(inside, p)
			}
		}
	}
	u := d.Unit()
	for _, e := range there {
		s := shape(e.Part)
		sb := s.Bound()
		for _, p := range inside {
			for step := 1.0; step < 160; step++ {
				q := geom.Add(p, u, -step)
				if q[0] < sb.Min[0] || q[0] > sb.Max[0] || q[1] < sb.Min[1] || q[1] > sb.Max[1] {
					continue
				}
				if s.Contains(q) {
					return true
				}
			}
		}
	}
	return false
}
