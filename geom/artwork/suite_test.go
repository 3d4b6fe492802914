package artwork_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
)

// Every drawing at hand, the open ones, those of the open test suite, the invented and the broken ones, is read, or it
// is said with a place why not; what is read has paint.
func TestAllDrawings(t *testing.T) {
	read := 0
	for _, pattern := range []string{"corpora/*/*.svg", "corpora/*.svg", "svgsuite/*.svg", "reference/*.svg", "regression/*.svg", "errors/*.svg"} {
		names, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		require.NoError(t, err)
		for _, name := range names {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			art, found, err := artwork.Parse(data)
			if err != nil {
				continue // it names its line
			}
			for _, f := range found {
				if f.Severity == finding.Error && f.Code != finding.NoPaint {
					assert.Positive(t, f.Source.Line, "%s: %s", name, f.Code)
				}
			}
			if !found.Refuses() {
				require.NotNil(t, art, name)
				read++
			}
		}
	}
	assert.Greater(t, read, 200)
}
