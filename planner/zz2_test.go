package planner_test

import "testing"

func BenchmarkOne(b *testing.B) {
	for b.Loop() {
		compile(b, "../testdata/corpora/twemoji-strawberry.svg")
	}
}
