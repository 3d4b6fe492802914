package plan_test

import (
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
)

var update = flag.Bool("update", false, "write plan.schema.json anew")

// The schema in the repository is the one that the types give, and a resolver of its own reads it.
func TestSchemaFile(t *testing.T) {
	want, err := json.MarshalIndent(plan.Schema(), "", " ")
	require.NoError(t, err)
	want = append(want, '\n')
	if *update {
		require.NoError(t, os.WriteFile("plan.schema.json", want, 0o644))
	}
	got, err := os.ReadFile("plan.schema.json")
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "go test ./planner/plan -update")
}

// What is read and written again is the same bytes; every plan that is kept holds to the schema.
func TestReadsBack(t *testing.T) {
	for _, name := range golden.Names(t) {
		data := golden.Bytes(t, name)
		require.NoError(t, plan.Validate(data), name)
		p := golden.Plan(t, name)
		n, err := plan.Normal(p)
		require.NoError(t, err)
		a, err := plan.Write(p, nil, nil)
		require.NoError(t, err)
		b, err := plan.Write(n, nil, nil)
		require.NoError(t, err)
		assert.Equal(t, string(a), string(b), name)
	}
}

// A file that is no plan is refused with what is wrong in it: no JSON, another format, another version, a key that is
// missing, of another type or not in the list of its values, a reference that leads nowhere.
func TestBadFiles(t *testing.T) {
	whole := func() map[string]any {
		var v map[string]any
		require.NoError(t, json.Unmarshal(golden.Bytes(t, "orchard-apple"), &v))
		return v
	}
	first := func(v map[string]any, list string) map[string]any { return v[list].([]any)[0].(map[string]any) }
	for _, c := range []struct {
		want  string
		spoil func(v map[string]any)
	}{
		{"format", func(v map[string]any) { v["format"] = "x" }},
		{"version 1", func(v map[string]any) { v["version"] = 1 }},
		{"missing", func(v map[string]any) { delete(v, "steps") }},
		{"verdict", func(v map[string]any) { v["verdict"] = "perhaps" }},
		{"mass_g", func(v map[string]any) { first(v, "elements")["mass_g"] = "heavy" }},
		{"no outline|minItems|true", func(v map[string]any) { first(v, "elements")["true"] = []any{} }},
		{`colour "zz"`, func(v map[string]any) { first(v, "elements")["colour"] = "zz" }},
		{"does not build", func(v map[string]any) { first(v, "elements")["block"] = "nowhere" }},
		{"stands at place 1", func(v map[string]any) { first(v, "steps")["number"] = 7 }},
		{"no element and no block", func(v map[string]any) {
			first(first(v, "layup"), "parts")["part"] = "p999"
		}},
	} {
		v := whole()
		c.spoil(v)
		data, err := json.Marshal(v)
		require.NoError(t, err)
		_, err = plan.Read(data)
		var format *plan.FormatError
		require.ErrorAs(t, err, &format, c.want)
		ok := false
		for _, w := range strings.Split(c.want, "|") {
			ok = ok || strings.Contains(err.Error(), w)
		}
		assert.True(t, ok, "%s: %v", c.want, err)
	}
	for _, bad := range []string{"", "{", "[]", "null", "7"} {
		_, err := plan.Read([]byte(bad))
		assert.Error(t, err, bad)
	}
}

// The index finds what a plan holds; what it does not hold is nil.
func TestIndex(t *testing.T) {
	p := golden.Plan(t, "harbour-flag")
	x := p.Index()
	for _, e := range p.Elements {
		assert.Equal(t, e.ID, x.Element(e.ID).ID)
		assert.Equal(t, e.Colour, x.Colour(e.Colour).ID)
		assert.NotNil(t, x.Making(e.Number))
		assert.Equal(t, e.ID, x.Laying(e.ID).Parts[0])
		assert.Contains(t, x.Alike(e.Number), x.Element(e.ID))
	}
	assert.True(t, x.IsLog(x.Log().Block))
	assert.Nil(t, x.Element("p999"))
	assert.Nil(t, x.Block("nowhere"))
	assert.Zero(t, x.Colour("zz"))
	assert.Nil(t, (&plan.Plan{}).Index().Log())
}

// FuzzRead: whatever the bytes, a plan or an error.
func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"format":"sugarwright-plan","version":2}`))
	f.Add([]byte(`{"format":"sugarwright-plan","version":2,"elements":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := plan.Read(data); (p == nil) == (err == nil) {
			t.Fatal("neither a plan nor an error")
		}
	})
}
