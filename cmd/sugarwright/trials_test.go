//go:build trials

package main

import (
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

// All examples; -update writes their pages and digests.
func TestExamples(t *testing.T) {
	names, err := filepath.Glob("../../examples/*/artwork.svg")
	require.NoError(t, err)
	require.Len(t, names, 4)
	for _, name := range names {
		checkExample(t, filepath.Base(filepath.Dir(name)))
	}
}

// Scripts that take long: the search for what is simpler.
func TestLongScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "../../testdata/script/long"})
}
