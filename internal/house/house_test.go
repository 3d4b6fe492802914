package house_test

import (
	"flag"
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/render/words"
)

const root = "../.."

var update = flag.Bool("update", false, "write the lists in testdata/results anew")

// held compares a generated list with the one in the repository.
func held(t *testing.T, name, text string) {
	t.Helper()
	file := filepath.Join(root, "testdata/results", name)
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	}
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(data), text, "go test ./internal/house -update")
}

// imports are the arrows between our own packages, tests aside.
func imports(t *testing.T) map[string][]string {
	out := map[string]map[string]bool{}
	require.NoError(t, filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		dir, _ := filepath.Rel(root, filepath.Dir(file))
		dir = filepath.ToSlash(dir)
		if out[dir] == nil {
			out[dir] = map[string]bool{}
		}
		for _, i := range f.Imports {
			if path, _ := strconv.Unquote(i.Path.Value); strings.HasPrefix(path, "sugarwright/") {
				out[dir][strings.TrimPrefix(path, "sugarwright/")] = true
			}
		}
		return nil
	}))
	arrows := map[string][]string{}
	for p, to := range out {
		arrows[p] = []string{}
		for q := range to {
			arrows[p] = append(arrows[p], q)
		}
		sort.Strings(arrows[p])
	}
	return arrows
}

// The map of the house is as it is drawn in testdata/results/imports.md; geom knows no planner, planner no render and no
// command, render of the planner only the plan, and inside planner nothing leads back up to the pipeline.
func TestMap(t *testing.T) {
	arrows := imports(t)
	var names []string
	n := 0
	for p, to := range arrows {
		names = append(names, p)
		n += len(to)
		for _, q := range to {
			up := strings.HasPrefix(p, "geom") && !strings.HasPrefix(q, "geom") ||
				strings.HasPrefix(p, "planner") && !strings.HasPrefix(q, "geom") && !strings.HasPrefix(q, "planner/") ||
				strings.HasPrefix(p, "render") && strings.HasPrefix(q, "planner") && q != "planner/plan" ||
				strings.HasPrefix(q, "cmd") || strings.HasPrefix(q, "internal") && !strings.HasPrefix(p, "internal")
			assert.False(t, up, "%s imports %s", p, q)
		}
	}
	sort.Strings(names)
	depth := map[string]int{}
	var deep func(p string) int
	deep = func(p string) int {
		if depth[p] == 0 {
			d := 1
			for _, q := range arrows[p] {
				d = max(d, 1+deep(q))
			}
			depth[p] = d
		}
		return depth[p]
	}
	var b strings.Builder
	fmt.Fprintf(&b,
		"# What imports what\n\n%d packages, %d arrows; a floor is one more than the highest that a package stands on.\n\n| floor | package | imports |\n|---|---|---|\n",
		len(names), n)
	sort.SliceStable(names, func(i, j int) bool { return deep(names[i]) > deep(names[j]) })
	for _, p := range names {
		fmt.Fprintf(&b, "| %d | %s | %s |\n", deep(p), p, strings.Join(arrows[p], ", "))
	}
	held(t, "imports.md", b.String())
}

// Every code has its class and, in each language, its sentence; the list is testdata/results/findings.md.
func TestFindings(t *testing.T) {
	files := map[string][]string{}
	found, err := filepath.Glob(filepath.Join(root, "testdata/errors/*.svg"))
	require.NoError(t, err)
	for _, f := range found {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		for c := range finding.Codes {
			if strings.Contains(string(data), " "+string(c)+" ") || strings.Contains(string(data), " "+string(c)+"\n") {
				files[string(c)] = append(files[string(c)], filepath.Base(f))
			}
		}
	}
	var codes []string
	for c := range finding.Codes {
		codes = append(codes, string(c))
	}
	sort.Strings(codes)
	var b strings.Builder
	b.WriteString(
		"# Findings\n\n| code | whose | what a client is told | smallest drawing, or when | file of testdata/errors |\n|---|---|---|---|---|\n")
	for _, c := range codes {
		a := finding.Codes[finding.Code(c)]
		assert.Contains(t, []finding.Class{finding.Drawing, finding.Order, finding.Shop, finding.Program}, a.Class, c)
		assert.NotEmpty(t, a.Smallest, c)
		fmt.Fprintf(&b, "| %s | %s | %s | `%s` | %s |\n", c, a.Class, a.Reason,
			strings.ReplaceAll(a.Smallest, "|", "/"), strings.Join(files[c], ", "))
		for _, l := range words.Codes() {
			table, _ := words.In(l)
			said := table.Has("finding." + c)
			for _, k := range table.Keys() {
				said = said || strings.HasPrefix(k, "finding."+c+"_")
			}
			assert.True(t, said, "%s in %s", c, l)
		}
	}
	held(t, "findings.md", b.String())
}

// DEVELOPERS.md is short, and what it names is there.
func TestDocuments(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	assert.LessOrEqual(t, strings.Count(string(data), "\n"), 200)
	for _, w := range strings.FieldsFunc(string(data), func(r rune) bool { return strings.ContainsRune(" `,;:()|\n", r) }) {
		w = strings.TrimRight(w, ".")
		top, _, ok := strings.Cut(w, "/")
		if !ok || strings.ContainsAny(w, "*<") {
			continue
		}
		switch top {
		case "planner", "render", "geom", "testdata", "internal", "examples", "cmd":
			_, err := os.Stat(filepath.Join(root, w))
			assert.NoError(t, err, w)
		}
	}
}
