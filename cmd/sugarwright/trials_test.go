//go:build trials

package main

import (
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"sugarwright/output"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// All examples; -update writes their pages and digests.
func TestExamples(t *testing.T) {
	names, err := filepath.Glob("../../examples/*/artwork.svg")
	require.NoError(t, err)
	require.Len(t, names, 6)
	for _, name := range names {
		checkExample(t, filepath.Base(filepath.Dir(name)))
	}
}

// Scripts that take long: the search for what is simpler.
func TestLongScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "../../testdata/script/long"})
}

var kills = flag.Int("kills", 60, "how many runs are killed")

// Runs that are killed, or told to stop, at any moment leave the old sheets or the new ones, whole; the next run ends
// as if nothing had been. Moments are spread evenly over the time that a run takes.
func TestKills(t *testing.T) {
	dir := t.TempDir()
	two := filepath.Join(dir, "two.svg")
	drawing := []byte(
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200"><circle cx="100" cy="100" r="40" fill="#d0202a"/></svg>`,
	)
	require.NoError(t, os.WriteFile(two, drawing, 0o644))
	start := func(args ...string) *exec.Cmd {
		c := exec.Command(os.Args[0], args...)
		c.Args[0] = "sugarwright" // under this name the test is the command
		require.NoError(t, c.Start())
		return c
	}
	require.NoError(t, start("plan", two, "--out", filepath.Join(dir, "p")).Wait())
	file, to := filepath.Join(dir, "p", "plan.json"), filepath.Join(dir, "s")
	before, err := os.ReadFile(file)
	require.NoError(t, err)
	inks := [][]string{
		{"sheets", file, "--out", to},
		{"sheets", file, "--out", to, "--ink", "black", "--only", "steps.txt,wall.svg,order.svg"},
	}
	begun := time.Now()
	require.NoError(t, start(inks[0]...).Wait())
	took := time.Since(begun)
	mixed, left := 0, 0
	for k := range *kills {
		c := start(inks[(k+1)%2]...)
		time.Sleep(took * time.Duration(k) / time.Duration(*kills))
		if k%3 == 0 {
			_ = c.Process.Signal(os.Interrupt)
		} else {
			_ = c.Process.Kill()
		}
		_ = c.Wait()
		held, err := os.ReadDir(to)
		require.NoError(t, err)
		if len(output.Plans{Drawing: "two.svg"}.In(to).Ours) != len(held) {
			mixed++
		}
		if entries, _ := os.ReadDir(dir); len(entries) > 3 {
			left++
		}
	}
	require.NoError(t, start(inks[0]...).Wait())
	held, err := os.ReadDir(to)
	require.NoError(t, err)
	assert.Len(t, output.Plans{Drawing: "two.svg"}.In(to).Ours, len(held))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 3, "nothing is left beside the folders")
	after, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after))
	now, err := os.ReadFile(two)
	require.NoError(t, err)
	assert.Equal(t, string(drawing), string(now))
	assert.Zero(t, mixed, "folders mixed")
	t.Logf("%d runs ended over %v; after %d of them something had to be put in order", *kills, took, left)
}

func init() { everything = true }
