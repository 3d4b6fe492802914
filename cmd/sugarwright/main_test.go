package main

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
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

// everything is tried in the trials.
var everything bool

// Each bad artwork holds its expected finding in a comment: severity, code, part of the message.
func TestBadArtwork(t *testing.T) {
	names, err := filepath.Glob("../../testdata/errors/*.svg")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	planned := 0
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			m := expected.FindStringSubmatch(string(data))
			require.NotNil(t, m, "no expected finding in the file")
			if m[1] != "ERROR" { // planned as a whole, a second each: some of them, all in the trials
				if planned++; !everything && planned%4 != 1 {
					t.Skip("in the trials")
				}
			}
			var out, errs bytes.Buffer
			code := run([]string{"check", name}, &out, &errs)
			found := false
			for _, l := range strings.Split(errs.String(), "\n") {
				found = found ||
					strings.Contains(l, strings.ToLower(m[1])+":") && strings.HasSuffix(l, "["+m[2]+"]") &&
						strings.Contains(l, m[3])
			}
			assert.True(t, found, "got %s", errs.String())
			if m[1] == "ERROR" {
				assert.Equal(t, exitRefused, code)
			}
		})
	}
}

// whole are the examples whose pages stand in the repository; of the others there are digests.
var whole = []string{"harbour-lighthouse"}

// mostBytes of a generated file in the repository: of a larger one there is a digest.
const mostBytes = 200_000

// planExample plans an example into a folder.
func planExample(t *testing.T, name, dir string) {
	from := "../../examples/" + name + "/"
	args := []string{"plan", from + "artwork.svg", "--out", dir}
	for _, own := range []string{"job", "shop"} { // of an example with an order of its own
		if _, err := os.Stat(from + own + ".toml"); err == nil {
			args = append(args, "--"+own, from+own+".toml")
		}
	}
	var out, errs bytes.Buffer
	require.Equal(t, exitPlan, run(args, &out, &errs), errs.String())
}

// digestsLine of a plan file holds the digests of those, too.
var digestsLine = regexp.MustCompile(`(?m)^"digests":.*\n`)

// filesOf are the files that a plan in a folder lists, but for those that the standard library packs: their bytes
// differ from release to release.
func filesOf(t *testing.T, dir string) map[string][]byte {
	p, err := readPlan(filepath.Join(dir, "plan.json"))
	require.NoError(t, err)
	out := map[string][]byte{}
	for _, f := range p.Files {
		if !strings.HasSuffix(f, ".pdf") && !strings.HasSuffix(f, ".png") {
			data, err := os.ReadFile(filepath.Join(dir, f))
			require.NoError(t, err)
			out[f] = digestsLine.ReplaceAll(data, nil)
		}
	}
	require.Greater(t, len(out), 10)
	return out
}

// checkExample holds the pages of an example to those in the repository, whole or by digest; -update writes them.
func checkExample(t *testing.T, name string) {
	dir := t.TempDir()
	planExample(t, name, dir)
	files := filesOf(t, dir)
	var digests strings.Builder
	for _, f := range slices.Sorted(maps.Keys(files)) {
		kept := "../../examples/" + name + "/" + f
		if !slices.Contains(whole, name) || len(files[f]) > mostBytes || f == "plan.json" {
			fmt.Fprintf(&digests, "%x  %s\n", sha256.Sum256(files[f]), f)
			if *update {
				_ = os.Remove(kept) // what was smaller once
			}
			assert.NoFileExists(t, kept)
			continue
		}
		if *update {
			require.NoError(t, os.WriteFile(kept, files[f], 0o644))
		}
		want, err := os.ReadFile(kept)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, files[f]),
			"%s is not current: go test -tags trials ./cmd/sugarwright -run Examples -update", kept)
	}
	list := "../../examples/" + name + "/digests.sha256"
	if *update {
		require.NoError(t, os.WriteFile(list, []byte(digests.String()), 0o644))
	}
	want, err := os.ReadFile(list)
	require.NoError(t, err)
	assert.Equal(t, string(want), digests.String(), "%s: go test -tags trials ./cmd/sugarwright -run Examples -update",
		name)

	// The sheets are drawn from the plan file alone.
	again := t.TempDir()
	var out, errs bytes.Buffer
	require.Equal(t, exitPlan, run([]string{"sheets", filepath.Join(dir, "plan.json"), "--out", again}, &out, &errs),
		errs.String())
	for f, data := range files {
		if f == "plan.json" {
			continue
		}
		got, err := os.ReadFile(filepath.Join(again, f))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(data, got), "%s of %s is another when it is drawn from plan.json", f, name)
	}
}

// An example's sheets in the repository are what the program makes, and are drawn from its plan file alone.
func TestExample(t *testing.T) { checkExample(t, "harbour-lighthouse") }
