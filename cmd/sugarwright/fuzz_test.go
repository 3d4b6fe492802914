package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"sugarwright/output"
	"sugarwright/planner/plan"
)

// FuzzCommand takes any bytes from a file to a folder: the drawing stays as it was; the run ends in one of the exits
// that are promised, never in our own fault; the folder holds one whole plan that can be read, or is not there.
func FuzzCommand(f *testing.F) {
	names, _ := filepath.Glob("../../testdata/errors/*.svg")
	for _, name := range names {
		if data, err := os.ReadFile(name); err == nil && bytes.Contains(data, []byte("<!-- ERROR")) && len(data) < 250 {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		name, to := filepath.Join(dir, "a.svg"), filepath.Join(dir, "a-plan")
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		// In so small a log little can be made: few drawings are planned whole, which takes too long for trying thousands.
		code := run([]string{"plan", name, "--out", to, "--log", "50mm"}, &out, &errs)
		if now, err := os.ReadFile(name); err != nil || !bytes.Equal(now, data) {
			t.Fatal("the drawing was changed")
		}
		wholeFolder(t, dir, to, code, errs.String())
	})
}

// wholeFolder holds a folder to what is promised of it after a run.
func wholeFolder(t *testing.T, dir, to string, code int, errs string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	switch code {
	case exitUsage:
		if len(entries) != 1 {
			t.Fatalf("a drawing that cannot be read left something behind: %v", entries)
		}
		return
	case exitPlan, exitRefused:
	default:
		t.Fatalf("exit %d: %s", code, errs)
	}
	if len(entries) != 2 {
		t.Fatalf("something was left beside the folder: %v", entries)
	}
	data, err := os.ReadFile(filepath.Join(to, plan.FileName))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	held, err := os.ReadDir(to)
	if err != nil {
		t.Fatal(err)
	}
	if ours := (output.Plans{Drawing: "a.svg"}).In(to).Ours; len(ours) != len(held) || len(ours) != len(p.Files) {
		t.Fatalf(
			"the folder is mixed: %d of %d files are of the plan, which lists %d",
			len(ours),
			len(held),
			len(p.Files),
		)
	}
	if (code == exitPlan) != (p.Verdict == plan.AsDrawn) {
		t.Fatalf("exit %d, and the plan says %s", code, p.Verdict)
	}
}
