//go:build trials

package sheets_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
)

// damages lists ways to damage a value of a JSON document, each with its path.
func damages(v any, path string, put func(any), each func(path string, damage, mend func())) {
	try := func(name string, bad any) { each(path+" "+name, func() { put(bad) }, func() { put(v) }) }
	switch x := v.(type) {
	case map[string]any:
		for k := range x {
			damages(x[k], path+"/"+k, func(n any) { x[k] = n }, each)
		}
	case []any:
		if len(x) > 0 {
			try("emptied", []any{})
			damages(x[0], path+"/0", func(n any) { x[0] = n }, each)
		}
		if len(x) > 1 {
			try("cut", x[:1])
		}
		try("null", nil)
	case string:
		try("renamed", "nobody-knows")
		try("blanked", "")
	case float64:
		try("zero", 0.0)
		try("below", -7.0)
		try("large", 1e9)
	}
}

// A plan file in which one value is damaged is refused, or drawn whole; no sheet is drawn with a hole by a panic.
func TestDamagedFiles(t *testing.T) {
	for _, name := range []string{"harbour-flag", "citrus-8-thin"} {
		var v any
		require.NoError(t, json.Unmarshal(golden.Bytes(t, name), &v))
		refused, drawn := 0, 0
		damages(v, "", func(any) {}, func(path string, damage, mend func()) {
			damage()
			data, err := json.Marshal(v)
			mend()
			require.NoError(t, err)
			p, err := plan.Read(data)
			if err != nil {
				refused++
				return
			}
			defer func() {
				if x := recover(); x != nil {
					assert.Fail(t, fmt.Sprintf("%s: %v", path, x), name)
				}
			}()
			drawn++
			s := sheet.Style{Paper: sheet.Papers["a4"]}
			if p.Verdict == plan.AsDrawn {
				sheets.Sets(p, s)
				return
			}
			_, err = sheets.Files(p, s)
			assert.NoError(t, err, path)
		})
		t.Logf("%s: %d refused, %d drawn", name, refused, drawn)
	}
}
