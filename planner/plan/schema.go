package plan

import (
	"encoding/json"
	"reflect"
	"sync"

	"github.com/google/jsonschema-go/jsonschema"

	"sugarwright/geom/finding"
)

// Schema of the plan file (JSON Schema, draft 2020-12), made from the types of this package; plan.schema.json beside it
// is the same.
func Schema() *jsonschema.Schema {
	number := func() *jsonschema.Schema { return &jsonschema.Schema{Type: "number"} }
	two, three, one := 2, 3, 1
	point := func() *jsonschema.Schema {
		return &jsonschema.Schema{Type: "array", Items: number(), MinItems: &two, MaxItems: &two}
	}
	types := map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[Num]():   number(),
		reflect.TypeFor[Point](): point(),
		reflect.TypeFor[Ring]():  {Type: "array", Items: point(), MinItems: &three},
		reflect.TypeFor[Polygon](): {Types: []string{"array", "null"}, MinItems: &one,
			Items: &jsonschema.Schema{Type: "array", Items: point(), MinItems: &three}},
	}
	for t, values := range enums {
		s := &jsonschema.Schema{Type: "string"}
		for _, v := range values {
			s.Enum = append(s.Enum, v)
		}
		types[t] = s
	}
	s := finding.Must(jsonschema.For[Plan](&jsonschema.ForOptions{TypeSchemas: types}))
	s.Schema, s.Title = "https://json-schema.org/draft/2020-12/schema", "sugarwright-plan, version 2"
	return s
}

var resolved = sync.OnceValue(func() *jsonschema.Resolved { return finding.Must(Schema().Resolve(nil)) })

// Validate a file by the schema. The error names the first key that does not hold to it.
func Validate(data []byte) error {
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	return resolved().Validate(v)
}
