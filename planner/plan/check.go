package plan

import (
	"fmt"
	"math"
	"reflect"
)

// Check finds a reference that leads nowhere, a number that no log has, a part without an outline, or a list that the
// verdict forbids: what a schema cannot say.
func (p *Plan) Check() error {
	for _, check := range []func() error{p.checkNumbers, p.checkParts, p.checkSteps, p.checkFaces} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// No log is larger, in millimetres, no crew, and no other figure of a plan.
const (
	mostAcross = 1000
	mostLength = 100_000
	mostNumber = 1e15
	mostHands  = 20
)

// checkNumbers holds sizes to what a log can have, every other number to a bound, and every place to the log.
func (p *Plan) checkNumbers() error {
	d := float64(p.Log.DiameterMM)
	switch piece := float64(p.Piece.DiameterMM); {
	case p.Verdict != AsDrawn && d == 0: // refused before its size was known
	case !(d > 0 && d <= mostAcross):
		return fmt.Errorf("log.diameter_mm is %g; allowed is up to %d", d, mostAcross)
	case !(p.Log.LengthMM > 0 && p.Log.LengthMM <= mostLength):
		return fmt.Errorf("log.length_mm is %g; allowed is up to %d", float64(p.Log.LengthMM), mostLength)
	case !(piece > 0 && piece <= d):
		return fmt.Errorf("piece.diameter_mm is %g; allowed is up to the log's %g", piece, d)
	}
	if p.Shop.Crew < 1 || p.Shop.Crew > mostHands {
		return fmt.Errorf("shop.crew is %d; allowed is 1 to %d", p.Shop.Crew, mostHands)
	}
	return within(reflect.ValueOf(p).Elem(), "", math.Max(d, mostAcross))
}

// within holds each number under a value to a bound, and each point to the log's reach; path names where it stands.
func within(v reflect.Value, path string, reach float64) error {
	if v.Type() == reflect.TypeFor[Point]() {
		if q := v.Interface().(Point); math.Abs(float64(q[0])) > reach || math.Abs(float64(q[1])) > reach {
			return fmt.Errorf("%s lies at %g, %g mm, outside every log", path, float64(q[0]), float64(q[1]))
		}
		return nil
	}
	switch v.Kind() {
	case reflect.Float64:
		if v.Type() == reflect.TypeFor[Num]() && !(math.Abs(v.Float()) <= mostNumber) {
			return fmt.Errorf("%s is %g; allowed is up to %g", path, v.Float(), mostNumber)
		}
	case reflect.Int:
		if math.Abs(float64(v.Int())) > mostNumber {
			return fmt.Errorf("%s is %d; allowed is up to %g", path, v.Int(), mostNumber)
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*Index]() {
			return within(v.Elem(), path, reach)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if err := within(v.Index(i), fmt.Sprintf("%s[%d]", path, i), reach); err != nil {
				return err
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				if err := within(v.Field(i), path+"."+f.Name, reach); err != nil {
					return err
				}
			}
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			if err := within(v.MapIndex(k), fmt.Sprintf("%s[%v]", path, k), reach); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkParts holds the elements and the lay-up to each other.
func (p *Plan) checkParts() error {
	x := p.Index()
	if proven := p.Verdict == AsDrawn; proven != (len(p.Elements) > 0) || proven != (len(p.Steps) > 0) ||
		proven != (p.Boil != nil) {
		return fmt.Errorf("verdict %s with %d elements and %d steps", p.Verdict, len(p.Elements), len(p.Steps))
	}
	part := func(id string) bool { return x.Element(id) != nil || x.Block(id) != nil }
	for _, e := range p.Elements {
		switch {
		case x.colours[e.Colour] == nil:
			return fmt.Errorf("element %s has the colour %q, which is not in the list", e.ID, e.Colour)
		case x.Block(e.Block) == nil:
			return fmt.Errorf("element %s lies in %q, which the lay-up does not build", e.ID, e.Block)
		case e.CopiesOf != nil && x.Element(*e.CopiesOf) == nil:
			return fmt.Errorf("element %s is a copy of %q, which is not in the list", e.ID, *e.CopiesOf)
		case x.Making(e.Number) == nil:
			return fmt.Errorf("no step makes element %s", e.ID)
		case x.Laying(e.ID) == nil:
			return fmt.Errorf("no step lays element %s", e.ID)
		case !outlined(e.True) || !outlined(e.Laid):
			return fmt.Errorf("element %s has no outline", e.ID)
		}
	}
	for _, b := range p.Layup {
		for _, q := range b.Parts {
			if !part(q.Part) {
				return fmt.Errorf("%s lays %q, which is no element and no block", b.Block, q.Part)
			}
		}
	}
	return nil
}

// checkSteps holds the steps, and what may be left out, to the parts.
func (p *Plan) checkSteps() error {
	x := p.Index()
	part := func(id string) bool { return x.Element(id) != nil || x.Block(id) != nil }
	for i, s := range p.Steps {
		if s.Number != i+1 {
			return fmt.Errorf("step %d stands at place %d", s.Number, i+1)
		}
		switch s.Do {
		case DoMake, DoChop, DoLay, DoBend, DoFold, DoWrap, DoRoll, DoTurn:
			if len(s.Parts) == 0 {
				return fmt.Errorf("step %d, %s, names no part", s.Number, s.Do)
			}
		}
		for _, n := range s.Pairs {
			if n < 1 || n > mostHands {
				return fmt.Errorf("step %d is for the pair of hands %d; allowed is 1 to %d", s.Number, n, mostHands)
			}
		}
		for _, id := range s.Parts {
			if !part(id) {
				return fmt.Errorf("step %d is of %q, which is no element and no block", s.Number, id)
			}
		}
	}
	for _, s := range p.GoingHard {
		if len(s.Parts) != 2 {
			return fmt.Errorf("what may be left out before step %d names %d parts, two are wanted", s.Step, len(s.Parts))
		}
		for _, id := range s.Parts {
			if x.Element(id) == nil {
				return fmt.Errorf("what may be left out names %q, which is no element", id)
			}
		}
	}
	return nil
}

// checkFaces holds the forecast's faces, and the changes, to the rest.
func (p *Plan) checkFaces() error {
	for _, c := range p.Changes {
		if len(c.Places) == 0 {
			return fmt.Errorf("change %d has no place", c.Number)
		}
	}
	if p.Forecast == nil {
		return nil
	}
	for _, id := range p.Forecast.Lost {
		if p.Index().Element(id) == nil {
			return fmt.Errorf("the forecast loses %q, which is no element", id)
		}
	}
	for _, f := range p.Forecast.Faces {
		for _, s := range f.Shapes {
			if p.Index().colours[s.Colour] == nil {
				return fmt.Errorf("a face has the colour %q, which is not in the list", s.Colour)
			}
		}
	}
	return nil
}

// outlined tells whether a polygon has rings of three points and more.
func outlined(p Polygon) bool {
	for _, r := range p {
		if len(r) < 3 {
			return false
		}
	}
	return len(p) > 0
}
