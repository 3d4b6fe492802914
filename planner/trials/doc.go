// Package trials runs the whole program over all public drawings, letters and turned drawings. The runs take minutes,
// so they are behind a build tag: go test -tags trials ./planner/trials. They write the tables of testdata/results
// (-update).
package trials
