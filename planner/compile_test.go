package planner_test

import (
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// P9: the same input gives the same bytes, on one core too.
func TestSameBytes(t *testing.T) {
	for _, name := range []string{"../testdata/reference/house.svg", "../testdata/corpora/twemoji-cherries.svg"} {
		a, err := compile(t, name).Plan.JSON()
		require.NoError(t, err)
		old := runtime.GOMAXPROCS(1)
		b, err := compile(t, name).Plan.JSON()
		runtime.GOMAXPROCS(old)
		require.NoError(t, err)
		assert.Equal(t, string(a), string(b), name)
	}
}

func BenchmarkCompile(b *testing.B) {
	for _, name := range []string{"bullseye-plain", "letter-a", "initials-he"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				compile(b, "../testdata/reference/"+name+".svg")
			}
		})
	}
}
