package split

import (
	"sort"
)

// saved is how much cheaper a merge makes the parts; n counts the parts of each class.
func (g *merger) saved(o *option, n []int) float64 {
	sum := 0.0
	var touched [16]int
	classes := touched[:0]
	count := func(p *part, by int) {
		sum -= float64(by) * (p.p.lay + Tuned.LaidOverhead)
		classes = append(classes, p.p.class)
	}
	for _, p := range o.gone {
		count(p, -1)
	}
	for _, p := range o.parts {
		count(p, 1)
	}
	for i, c := range classes {
		first := true
		for _, e := range classes[:i] {
			first = first && e != c
		}
		if !first {
			continue
		}
		k := n[c]
		for j, e := range classes {
			if e == c && j < len(o.gone) {
				k--
			} else if e == c {
				k++
			}
		}
		sum += g.making(c, n[c]) - g.making(c, k)
	}
	return sum
}

// option is one merge, or a whole class of equal merges.
type option struct {
	gone   []*part
	parts  []*part
	saving float64
	whole  bool // it keeps the drawing's symmetry
}

func (g *merger) with(o option) []*part {
	gone := map[*part]bool{}
	for _, p := range o.gone {
		gone[p] = true
	}
	out := make([]*part, 0, len(g.parts))
	for _, p := range g.parts {
		if !gone[p] {
			out = append(out, p)
		}
	}
	return append(out, o.parts...)
}

// owners is the part of each cell.
func (g *merger) owners() []int {
	owner := make([]int, len(g.d.cells))
	for i, p := range g.parts {
		for _, c := range p.cells {
			owner[c] = i
		}
	}
	return owner
}

// options lists all single merges and, where several equal ones can be done at once, the whole class.
func (g *merger) options() []option {
	var out []option
	type key [3]int
	groups := map[key][]int{}
	var keys []key
	var pairs [][2]int // of the single merges
	owner := g.owners()
	for i, p := range g.parts {
		c := g.d.cells[p.cells[0]]
		if c.child >= 0 || g.outer(p.cells) {
			continue
		}
		seen := map[int]bool{}
		for _, pc := range p.cells {
			for _, n := range g.d.cells[pc].near {
				j := owner[n]
				oc := g.d.cells[n]
				if j <= i || seen[j] || oc.colour != c.colour || oc.child >= 0 || g.outer(g.parts[j].cells) {
					continue
				}
				seen[j] = true
				q := g.join(p, g.parts[j])
				if !q.p.ok || len(q.p.shape) > 2 {
					continue
				}
				a, b := p.p.class, g.parts[j].p.class
				k := key{min(a, b), max(a, b), q.p.class}
				if groups[k] == nil {
					keys = append(keys, k)
				}
				groups[k] = append(groups[k], len(out))
				out = append(out, option{gone: []*part{p, g.parts[j]}, parts: []*part{q}})
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	if len(g.images) > 0 {
		for i := range pairs {
			o, alone, ok := g.orbitOf(pairs[i], owner)
			out[i].whole = alone
			if ok && !alone {
				o.whole = true
				out = append(out, o)
			}
		}
	}
	out = append(out, g.closures(owner)...)
	for _, k := range keys {
		if len(groups[k]) < 2 {
			continue
		}
		var o option
		used := map[*part]bool{}
		for _, n := range groups[k] {
			pr := out[n].gone
			if used[pr[0]] || used[pr[1]] {
				continue
			}
			used[pr[0]], used[pr[1]] = true, true
			o.gone = append(o.gone, pr...)
			o.parts = append(o.parts, out[n].parts[0])
		}
		if len(o.parts) > 1 {
			out = append(out, o)
		}
	}
	return out
}

// closures lists merges of all that lies round one part in one colour to a ring: no merge of two leads there without
// passing strips that nobody would bend.
func (g *merger) closures(owner []int) []option {
	var out []option
	for i, p := range g.parts {
		round := map[int][]int{} // by colour, the parts round p
		seen := map[int]bool{i: true}
		for _, c := range p.cells {
			for _, n := range g.d.cells[c].near {
				if j := owner[n]; !seen[j] {
					seen[j] = true
					if o := g.d.cells[n]; o.child < 0 && !g.outer(g.parts[j].cells) {
						round[o.colour] = append(round[o.colour], j)
					}
				}
			}
		}
		for colour := range g.d.s.m.Colours {
			js := round[colour]
			if len(js) < 2 {
				continue
			}
			sort.Ints(js)
			o := option{}
			var cells []int
			for _, j := range js {
				cells = append(cells, g.parts[j].cells...)
				o.gone = append(o.gone, g.parts[j])
			}
			if q := g.part(cells); q.p.ok && len(q.p.shape) == 2 &&
				g.evaluate([]*part{q})[0].p.pen < Tuned.SlightPenalty {
				o.parts, o.whole = []*part{q}, true
				out = append(out, o)
			}
		}
	}
	return out
}
