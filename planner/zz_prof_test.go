package planner_test

import (
	"path/filepath"
	"testing"
)

func BenchmarkZZ(b *testing.B) {
	a, _ := filepath.Glob("../testdata/reference/*.svg")
	c, _ := filepath.Glob("../testdata/corpora/*.svg")
	for b.Loop() {
		for _, n := range append(a, c...) {
			compile(b, n)
		}
	}
}
