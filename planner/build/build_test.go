package build_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom"
	"sugarwright/internal/sample"
	"sugarwright/planner/build"
)

// The structure: one first a block, each part once, blocks after they are built, a direction where a part is slid in and nowhere else.
func TestCheck(t *testing.T) {
	l := sample.Pair(t)
	n := len(l.Set.Elements)
	assert.NoError(t, l.Build.Check(n))
	for name, spoil := range map[string]func(b *build.Build){
		"empty block":      func(b *build.Build) { b.Blocks[0] = nil },
		"two firsts":       func(b *build.Build) { b.Blocks[0][1].Move = build.First },
		"no first":         func(b *build.Build) { b.Blocks[0][0].Move = build.Wrap },
		"lost":             func(b *build.Build) { b.Blocks[0] = b.Blocks[0][:1] },
		"twice":            func(b *build.Build) { b.Blocks[2] = append(b.Blocks[2], b.Blocks[2][3]) },
		"no such element":  func(b *build.Build) { b.Blocks[0][1].Element = 99 },
		"not yet built":    func(b *build.Build) { b.Blocks[0][1].Part = build.Part{Element: -1, Block: 1} },
		"no direction":     func(b *build.Build) { b.Blocks[0][1].Direction = geom.Vec{} },
		"wrap with a way":  func(b *build.Build) { b.Blocks[2][3].Direction = geom.Vec{0, -1} },
		"block laid twice": func(b *build.Build) { b.Blocks[2][1].Part = b.Blocks[2][0].Part },
	} {
		l := sample.Pair(t)
		spoil(l.Build)
		assert.ErrorContains(t, l.Build.Check(n), "internal: ", name)
	}
	assert.Equal(t, "bend", build.Bend.String())
}
