package plan

import "fmt"

// Check finds a reference that leads nowhere, a part without an outline, or a list that the verdict forbids: what a
// schema cannot say.
func (p *Plan) Check() error {
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
	for i, s := range p.Steps {
		if s.Number != i+1 {
			return fmt.Errorf("step %d stands at place %d", s.Number, i+1)
		}
		for _, id := range s.Parts {
			if !part(id) {
				return fmt.Errorf("step %d is of %q, which is no element and no block", s.Number, id)
			}
		}
	}
	for _, s := range p.GoingHard {
		for _, id := range s.Parts {
			if x.Element(id) == nil {
				return fmt.Errorf("what may be left out names %q, which is no element", id)
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
