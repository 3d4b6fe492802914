package assemble

import (
	"encoding/json"
	"math"
	"reflect"

	"sugarwright/planner/layup"
	"sugarwright/planner/simplify"
	"sugarwright/planner/split"
)

// Stage is one stage's result.
type Stage struct {
	Name  string
	Value any
}

// List is the results of the stages that ran, in their order, after the constants of the searches.
func (s *Stages) List() []Stage {
	out := []Stage{
		{"constants", map[string]any{"split": split.Tuned, "layup": layup.Tuned, "simplify": simplify.Tuned}},
	}
	for _, x := range []Stage{{"artwork", s.Artwork}, {"map", s.Map}, {"palette", s.Palette}, {"check", s.Checked}, {"set", s.Set}, {"build", s.Build}, {"log", s.Log},
		{"windows", s.Windows}, {"work", s.Work}, {"section", s.Section}, {"holds", s.Holds}, {"cooling", s.Cooling}, {"laid", s.Laid}, {"clock", s.Clock},
		{"proof", s.Proof}, {"going-hard", s.GoingHard}, {"forecast", s.Forecast}, {"findings", s.Findings}} {
		if v := reflect.ValueOf(x.Value); v.Kind() == reflect.Slice && v.Len() > 0 ||
			v.Kind() != reflect.Slice && !v.IsNil() {
			out = append(out, x)
		}
	}
	return out
}

// JSON of a stage. Numbers that JSON has no word for are written as texts.
func (s Stage) JSON() ([]byte, error) { return json.Marshal(plain(reflect.ValueOf(s.Value))) }

// plain is a value that encoding/json can write, infinities as texts, constants with their unit and source.
func plain(v reflect.Value) any {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return nil
		}
		return plain(v.Elem())
	case reflect.Float32, reflect.Float64:
		if f := v.Float(); math.IsInf(f, 0) || math.IsNaN(f) {
			return reflect.ValueOf(f).String()
		}
	case reflect.Slice, reflect.Array:
		out := make([]any, v.Len())
		for i := range out {
			out[i] = plain(v.Index(i))
		}
		return out
	case reflect.Map:
		out := map[string]any{}
		for _, k := range v.MapKeys() {
			out[text(k)] = plain(v.MapIndex(k))
		}
		return out
	case reflect.Struct:
		return fields(v)
	}
	return v.Interface()
}

// fields of a struct by name; a field with a unit or a source in its tag is written with them.
func fields(v reflect.Value) any {
	out := map[string]any{}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if !f.IsExported() {
			continue
		}
		out[f.Name] = plain(v.Field(i))
		if source, ok := f.Tag.Lookup("source"); ok {
			out[f.Name] = map[string]any{"value": out[f.Name], "unit": f.Tag.Get("unit"), "source": source}
		}
	}
	return out
}

func text(v reflect.Value) string {
	data, err := json.Marshal(v.Interface())
	if err != nil {
		return v.String()
	}
	return string(data)
}
