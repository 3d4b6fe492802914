package shop

import (
	"strings"

	"sugarwright/geom/artwork"
	"sugarwright/planner/heat"
	"sugarwright/planner/settings"
)

// Read overlays a TOML file on the defaults. The error is of type settings.Faults: every fault with its line and what
// is allowed.
func Read(data []byte) (*Shop, error) {
	s := &Shop{Colours: map[artwork.RGB]Colour{}, Price: blankPrice()}
	if f, err := s.overlay(defaults); err != nil {
		return nil, err
	} else if err := f.Faults(); err != nil {
		return nil, err
	}
	f, err := s.overlay(data)
	if err != nil {
		return nil, err
	}
	s.settle(f)
	s.Lines = Lines{Acid: f.Line("boil.acid_percent"), Stock: f.Line("stock"), Lump: f.Line("shop.least_lump_g")}
	if err := f.Faults(); err != nil {
		return nil, err
	}
	return s, nil
}

// overlay takes the values of a file.
func (s *Shop) overlay(data []byte) (*settings.File, error) {
	f, err := settings.Parse(data)
	if err != nil {
		return nil, err
	}
	sections := map[string]*settings.Table{"": f.Root()}
	var order []string
	var section func(path string) *settings.Table
	section = func(path string) *settings.Table {
		t, known := sections[path]
		if !known {
			dir, key := apart(path)
			if up := section(dir); up != nil {
				t = up.Table(key)
			}
			sections[path] = t
			order = append(order, path)
		}
		return t
	}
	for _, x := range s.settings() {
		dir, key := apart(x.path)
		switch t := section(dir); {
		case t == nil:
		case x.f != nil:
			t.Number(key, x.lo, x.hi, x.f)
		default:
			t.Whole(key, int(x.lo), int(x.hi), x.i)
		}
	}
	if t := section("shop"); t != nil {
		t.Text("kitchen", maxName, &s.Kitchen)
	}
	if t := section("log"); t != nil {
		outline := "stick"
		if s.Slip {
			outline = "slip"
		}
		t.OneOf("outline", []string{"stick", "slip"}, &outline)
		s.Slip = outline == "slip"
	}
	if t := section("slab"); t != nil {
		t.OneOf("stone", heat.Stones, &s.Slab.Stone)
		cooled := "no"
		if s.Slab.Cooled {
			cooled = "yes"
		}
		t.OneOf("cooled", []string{"no", "yes"}, &cooled)
		s.Slab.Cooled = cooled == "yes"
	}
	if t := section("price"); t != nil {
		t.Text("currency", 8, &s.Price.Currency)
	}
	if t := section("label"); t != nil {
		s.Label.read(t)
	}
	if t := sections[""].Table("stock"); t != nil {
		s.stock(t)
	}
	if t := sections[""].Table("colours"); t != nil {
		s.colours(t)
	}
	sections[""].Done()
	for _, path := range order {
		if t := sections[path]; t != nil {
			t.Done()
		}
	}
	return f, nil
}

// apart splits a path before its last key.
func apart(path string) (dir, key string) {
	i := strings.LastIndex(path, ".")
	return path[:max(0, i)], path[i+1:]
}

// maxDose of a colour, grams a kilogram: beyond it a unit was mistaken.
const maxDose = 50

// maxName bounds the name of a colour, characters.
const maxName = 40

// colours reads the maker's mapping of artwork colours.
func (s *Shop) colours(t *settings.Table) {
	seen := map[artwork.RGB]string{}
	for _, hex := range t.Keys() {
		rgb, ok := artwork.ParseColour(hex)
		if !ok {
			t.Fault(hex, "colours: %q is not a colour", hex)
			t.Value(hex)
			continue
		} else if other, twice := seen[rgb]; twice {
			t.Fault(hex, "colours: %q is the same colour as %q; give it once", hex, other)
		}
		seen[rgb] = hex
		v, _ := t.Value(hex)
		entry, isTable := v.(map[string]any)
		name, named := entry["name"].(string)
		if !isTable || !named {
			t.Fault(hex, "colours: %q needs a name, like { name = \"strawberry red\", finish = \"clear\" }", hex)
			continue
		}
		if !settings.Plain(name, maxName) {
			t.Fault(hex, "colours: the name of %q is empty, longer than %d characters or holds control characters", hex,
				maxName)
		}
		e := t.Table(hex)
		e.Value("name")
		own := Colour{Name: name}
		finish := ""
		if e.OneOf("finish", []string{string(Clear), string(Pulled)}, &finish); !e.Has("finish") {
			t.Fault(hex, "colours: %q needs its finish; allowed are \"clear\", \"pulled\"", hex)
		}
		own.Finish = Finish(finish)
		e.Number("dose_g_per_kg", 0, maxDose, &own.DoseGPerK)
		e.Done()
		s.Colours[rgb] = own
	}
}
