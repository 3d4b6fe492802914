package plan

import (
	"math"
	"sync"
)

// Index finds what a plan holds by its id or its number. It is made once for a plan.
type Index struct {
	p        *Plan
	elements map[string]*Element
	numbered map[int][]*Element
	colours  map[string]*Colour
	blocks   map[string]*Block
	making   map[int]*Step    // by part number
	laying   map[string]*Step // by part id
	turns    map[string][]*Step
	touching func() map[string]map[string]bool // made when first asked for
}

// Index of the plan. One that came from Normal or Read has it already.
func (p *Plan) Index() *Index {
	if p.index != nil {
		return p.index
	}
	return newIndex(p)
}

func newIndex(p *Plan) *Index {
	x := &Index{
		p:        p,
		elements: map[string]*Element{},
		numbered: map[int][]*Element{},
		colours:  map[string]*Colour{},
		blocks:   map[string]*Block{},
		making:   map[int]*Step{},
		laying:   map[string]*Step{},
		turns:    map[string][]*Step{},
		touching: sync.OnceValue(func() map[string]map[string]bool { return touching(p) }),
	}
	for i := range p.Elements {
		e := &p.Elements[i]
		x.elements[e.ID] = e
		x.numbered[e.Number] = append(x.numbered[e.Number], e)
	}
	for i := range p.Colours {
		x.colours[p.Colours[i].ID] = &p.Colours[i]
	}
	for i := range p.Layup {
		x.blocks[p.Layup[i].Block] = &p.Layup[i]
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		if len(s.Parts) == 0 {
			continue
		}
		switch s.Do {
		case DoMake:
			if e := x.elements[s.Parts[0]]; e != nil {
				x.making[e.Number] = s
			}
		case DoLay, DoBend, DoFold, DoWrap, DoRoll:
			x.laying[s.Parts[0]] = s
			for _, id := range s.Covers {
				x.laying[id] = s
			}
		case DoTurn:
			x.turns[s.Parts[0]] = append(x.turns[s.Parts[0]], s)
		}
	}
	return x
}

// Element of an id; nil when it names none.
func (x *Index) Element(id string) *Element { return x.elements[id] }

// Alike are all elements of a number: a part and its copies.
func (x *Index) Alike(number int) []*Element { return x.numbered[number] }

// Distinct counts the parts that are made, copies once.
func (x *Index) Distinct() int { return len(x.numbered) }

// Colour of an id; the zero Colour when it names none.
func (x *Index) Colour(id string) Colour {
	if c := x.colours[id]; c != nil {
		return *c
	}
	return Colour{}
}

// Block of a name; nil when there is none.
func (x *Index) Block(name string) *Block { return x.blocks[name] }

// Log is the last block of the lay-up; nil when nothing is laid.
func (x *Index) Log() *Block {
	if n := len(x.p.Layup); n > 0 {
		return &x.p.Layup[n-1]
	}
	return nil
}

// IsLog tells whether a block's name is the log's.
func (x *Index) IsLog(name string) bool { return x.Log() != nil && x.Log().Block == name }

// RolledUp tells whether a block is sheets that are rolled up together.
func (x *Index) RolledUp(name string) bool {
	if b := x.blocks[name]; b != nil {
		for _, p := range b.Parts {
			if p.How == RollInto {
				return true
			}
		}
	}
	return false
}

// Making is the step that makes the parts of a number; nil when there is none.
func (x *Index) Making(number int) *Step { return x.making[number] }

// Laying is the step that lays a part, an element or a block; nil when there is none.
func (x *Index) Laying(part string) *Step { return x.laying[part] }

// Pieces is how many parts are chopped from the bar of an element: fewer than are alike where they lie in blocks that
// are drawn out.
func (x *Index) Pieces(e *Element) int {
	if m := e.Size["made_length_mm"]; m > 0 && e.Size["part_length_mm"] > 0 {
		return int(math.Round(float64(m / e.Size["part_length_mm"])))
	}
	return 1
}

// Scale is how many times as thick an element is made as it is laid: more than once in a block that is drawn out.
func (x *Index) Scale(e *Element) float64 {
	if b := x.blocks[e.Block]; b != nil && b.Scale > 0 {
		return float64(b.Scale)
	}
	return 1
}

// Turns are the steps that turn a block, in their order.
func (x *Index) Turns(block string) []*Step { return x.turns[block] }

// Touching are the pairs of colours, by id, of parts that share a border in the section. It is not to be changed.
func (x *Index) Touching() map[string]map[string]bool { return x.touching() }

func touching(p *Plan) map[string]map[string]bool {
	at := map[Point]map[string]bool{}
	out := map[string]map[string]bool{}
	for _, e := range p.Elements {
		for _, r := range e.True {
			for _, q := range r {
				if at[q] == nil {
					at[q] = map[string]bool{}
				}
				at[q][e.Colour] = true
			}
		}
	}
	for _, set := range at {
		for a := range set {
			for b := range set {
				if a != b {
					if out[a] == nil {
						out[a] = map[string]bool{}
					}
					out[a][b] = true
				}
			}
		}
	}
	return out
}
