package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the examples' sheets")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"sugarwright": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "../../testdata/script"})
}

var expected = regexp.MustCompile(`<!--\s*(ERROR|WARNING|NOTE) (\S+) "([^"]*)"\s*-->`)

// Each bad artwork holds its expected finding in a comment: severity, code, part of the message.
func TestBadArtwork(t *testing.T) {
	names, err := filepath.Glob("../../testdata/errors/*.svg")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			m := expected.FindStringSubmatch(string(data))
			require.NotNil(t, m, "no expected finding in the file")
			var out, errs bytes.Buffer
			code := run([]string{"check", name}, &out, &errs)
			found := false
			for _, l := range strings.Split(errs.String(), "\n") {
				found = found || strings.Contains(l, strings.ToLower(m[1])+":") && strings.HasSuffix(l, "["+m[2]+"]") && strings.Contains(l, m[3])
			}
			assert.True(t, found, "got %s", errs.String())
			if m[1] == "ERROR" {
				assert.Equal(t, exitRefused, code)
			}
		})
	}
}

// The examples' sheets in the repository are what the program makes; -update writes them.
func TestExamplesAreCurrent(t *testing.T) {
	names, err := filepath.Glob("../../examples/*/artwork.svg")
	require.NoError(t, err)
	require.Len(t, names, 4)
	for _, name := range names {
		dir := t.TempDir()
		if *update {
			dir = filepath.Dir(name)
		}
		args := []string{"plan", name, "--out", dir}
		for _, own := range []string{"job", "shop"} { // of an example with an order of its own
			if file := filepath.Join(filepath.Dir(name), own+".toml"); exists(file) {
				args = append(args, "--"+own, file)
			}
		}
		var out, errs bytes.Buffer
		require.Equal(t, exitPlan, run(args, &out, &errs), errs.String())
		var p struct{ Files []string }
		data, err := os.ReadFile(filepath.Join(dir, "plan.json"))
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &p))
		require.Greater(t, len(p.Files), 12)
		for _, f := range p.Files {
			if strings.HasSuffix(f, ".pdf") || strings.HasSuffix(f, ".png") { // packed by the standard library, whose bytes differ from release to release
				continue
			}
			got, err := os.ReadFile(filepath.Join(dir, f))
			require.NoError(t, err)
			want, err := os.ReadFile(filepath.Join(filepath.Dir(name), f))
			require.NoError(t, err)
			assert.True(t, bytes.Equal(want, got), "%s of %s is not current: go test ./cmd/sugarwright -run Examples -update", f, name)
		}
	}
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}
