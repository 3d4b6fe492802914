// Package golden reads the plans that are kept in testdata/plans, for tests that need a plan and do not plan one. They
// are made by the trials (go test -tags trials ./planner/trials -run Golden -update) and held there to be what the
// program plans today.
package golden

import (
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
	"testing"

	"sugarwright/planner/plan"
)

// Dir is the folder of a path in the repository.
func Dir(path string) string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(file), "..", "..", path)
}

// Names of the plans, in order.
func Names(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(Dir("testdata/plans"), "*.json.gz"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no plans in testdata/plans: %v", err)
	}
	var out []string
	for _, f := range files {
		out = append(out, strings.TrimSuffix(filepath.Base(f), ".json.gz"))
	}
	sort.Strings(out)
	return out
}

// Bytes of a plan's file.
func Bytes(t testing.TB, name string) []byte {
	t.Helper()
	f, err := os.Open(filepath.Join(Dir("testdata/plans"), name+".json.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Plan of a name. Each call reads it anew, so a test may change it.
func Plan(t testing.TB, name string) *plan.Plan {
	t.Helper()
	p, err := plan.Read(Bytes(t, name))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}
