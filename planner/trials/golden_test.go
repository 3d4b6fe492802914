//go:build trials

package trials_test

import (
	"bytes"
	"compress/gzip"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner"
	"sugarwright/planner/plan"
	"sugarwright/render/say"
	"sugarwright/render/words"
)

// kept are the drawings whose plans tests read instead of planning: with few faces, so that the files stay small.
var kept = []string{
	"reference/bullseye-offcentre",
	"reference/citrus-8-thin",
	"reference/initials-he",
	"reference/leaf-veins",
	"reference/spiral",
	"reference/stripes-3-bars",
	"corpora/game-icons-owl",
	"corpora/twemoji-fox-face",
}

// The plans that are kept for other tests are what the program plans today; -update writes them.
func TestGolden(t *testing.T) {
	check := func(name string, p *plan.Plan) {
		data, err := plan.Write(p, []plan.File{}, say.In(words.English()))
		require.NoError(t, err)
		if *update {
			var b bytes.Buffer
			z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
			require.NoError(t, err)
			_, err = z.Write(data)
			require.NoError(t, err)
			require.NoError(t, z.Close())
			require.NoError(t,
				os.WriteFile(filepath.Join(golden.Dir("testdata/plans"), name+".json.gz"), b.Bytes(), 0o644))
			return
		}
		assert.True(t, bytes.Equal(golden.Bytes(t, name), data),
			"%s is not what is planned: go test -tags trials ./planner/trials -run Golden -update", name)
	}
	o := options()
	o.Faces = 3
	for _, name := range kept {
		data, err := os.ReadFile("../../testdata/" + name + ".svg")
		require.NoError(t, err)
		r, err := planner.Compile(filepath.Base(name)+".svg", data, o)
		require.NoError(t, err)
		check(filepath.Base(name), r.Plan)
	}
	data, err := os.ReadFile("../../testdata/reference/house-windows.svg")
	require.NoError(t, err)
	s, err := planner.MakeSimpler("house-windows.svg", data, o, planner.Wanted{})
	require.NoError(t, err)
	require.NotNil(t, s.After)
	check("house-windows", s.After.Plan)
	for _, name := range []string{"orchard-apple", "tower-window", "lantern-face"} {
		check(name, compiled(t, example(name), "", 3).Plan)
	}
	read := func(file string) string {
		data, err := os.ReadFile("../../testdata/kitchen/harbour-flag/" + file)
		require.NoError(t, err)
		return string(data)
	}
	p, err := orderedFaces(t, "artwork.svg", []byte(read("artwork.svg")), read("job.toml"), read("shop.toml"), 3)
	require.NoError(t, err)
	check("harbour-flag", p)
}
