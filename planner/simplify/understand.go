package simplify

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/check"
)

// network is the lines of one colour that run round areas: an outline, as a whole.
type network struct {
	colour  int
	regions []int
	area    float64       // square millimetres
	narrow  []check.Place // what of them is narrower than a line may be
}

// crumb is how large what is left of it may be, and still is no part.
func (n network) crumb() float64 { return max(Tuned.CrumbMM2, Tuned.CrumbShare*n.area) }

// networks are the outlines of the current map, one a colour.
func (s *state) networks() (out []network) {
	whiskers := slices.Concat(s.crossing()...)
	for c := 1; c < len(s.cur.Colours); c++ {
		n := network{colour: c}
		length := 0.0
		for i, r := range s.cur.Regions {
			if r.Colour != c || r.Jacket || slices.Contains(whiskers, i) {
				continue
			}
			narrow := s.narrow(i)
			area := 0.0
			for _, p := range narrow {
				area += p.Shape.Area()
			}
			if area < Tuned.LineShare*r.Area || len(s.beside(i)) < 2 {
				continue
			}
			n.regions = append(n.regions, i)
			n.area += r.Area
			n.narrow = append(n.narrow, narrow...)
			for _, p := range narrow {
				length += p.Shape.Perimeter() / 2
			}
		}
		if length > Tuned.OutlineLong*math.Sqrt(s.subjectArea) {
			out = append(out, n)
		}
	}
	return out
}

// narrow are the places of a region that are as narrow as lines, and long, kept by its outline.
func (s *state) narrow(i int) []check.Place {
	r := s.cur.Regions[i]
	key := check.Outline(r, false)
	left, known := s.lines[key]
	if !known {
		s.spent += Tuned.OpenCosts * points([]geom.Region[geom.TruePoint]{r.Shape})
		if open, err := skeleton.Open(r.Shape, Tuned.LineMM); err == nil {
			for _, p := range open.Left {
				if p.Area > 1 && p.Length > Tuned.LineLong*p.Width {
					left = append(left, check.Place{Shape: p.Shape, At: p.At, Width: p.Width})
				}
			}
		}
		s.lines[key] = left
	}
	out := slices.Clone(left)
	for k := range out {
		out[k].Region = i
	}
	return out
}

// beside are the colours and regions that a region borders on.
func (s *state) beside(i int) []neighbour {
	key := check.Outline(s.cur.Regions[i], false)
	if s.nextOf != s.cur {
		s.nextOf, s.next = s.cur, map[[32]byte][]neighbour{}
	}
	n, ok := s.next[key]
	if !ok {
		n = s.neighbours(place(s.cur.Regions[i], i))
		s.next[key] = n
	}
	return n
}

// onlyLines tells whether a drawing is lines on its ground: then they are the thing.
func (s *state) onlyLines(all []network) bool {
	fills := 0.0
	for i, r := range s.cur.Regions {
		if r.Jacket || r.Colour == 0 || slices.ContainsFunc(all, func(n network) bool { return slices.Contains(n.regions, i) }) {
			continue
		}
		fills += r.Area
	}
	return fills < Tuned.LeastFills*s.subjectArea
}

// prominence of a region: its contrast to what it borders on, its size, and whether it stands by itself inside another part.
func (s *state) prominence(i int) float64 {
	r := s.cur.Regions[i]
	near := s.beside(i)
	sum, all := 0.0, 0.0
	for _, n := range near {
		sum, all = sum+n.length*s.differ(r.Colour, n.colour), all+n.length
	}
	if all == 0 {
		return 0
	}
	p := sum / all * min(1, math.Sqrt(r.Area/s.subjectArea/Tuned.FullShare))
	if s.island(i) {
		p *= Tuned.Island
	}
	return p
}

// island tells whether a region lies by itself inside another that is no ground round the picture.
func (s *state) island(i int) bool {
	near := s.beside(i)
	return len(near) == 1 && len(near[0].regions) == 1 && !s.outer(s.cur.Regions[near[0].regions[0]])
}

// missed is what it costs that a set of like regions is gone, in square millimetres of what is seen.
func (s *state) missed(regions []int) float64 {
	most := 0.0
	for _, i := range regions {
		most = max(most, s.prominence(i))
	}
	colour, alone := s.cur.Regions[regions[0]].Colour, true
	for i, r := range s.cur.Regions {
		alone = alone && (r.Colour != colour || r.Jacket || slices.Contains(regions, i))
	}
	if alone && colour != 0 {
		most *= Tuned.OnlyOne
	}
	return Tuned.MissedShare * s.subjectArea * most * math.Pow(float64(len(regions)), 0.25)
}

// sets are islands of one colour in one part, of sizes not too far apart, that belong together.
func (s *state) sets() (out [][]int) {
	type key struct{ colour, host int }
	by := map[key][]int{}
	var order []key
	for i, r := range s.cur.Regions {
		if r.Jacket || r.Colour == 0 || !s.island(i) {
			continue
		}
		k := key{r.Colour, s.beside(i)[0].regions[0]}
		if by[k] == nil {
			order = append(order, k)
		}
		by[k] = append(by[k], i)
	}
	for _, k := range order {
		all := by[k]
		slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(s.cur.Regions[b].Area, s.cur.Regions[a].Area) })
		for len(all) > 1 {
			first := s.cur.Regions[all[0]]
			set, rest := all[:1:1], []int(nil)
			for _, i := range all[1:] {
				r := s.cur.Regions[i]
				if r.Area*Tuned.SetFactor > first.Area && math.Abs(round(r)-round(first)) < Tuned.SetRound {
					set = append(set, i)
				} else {
					rest = append(rest, i)
				}
			}
			if len(set) > 1 {
				out = append(out, set)
			}
			all = rest
		}
	}
	return out
}

// round is 1 for a region whose outer border is a circle, and the less, the longer or the more ragged it is.
func round(r partition.Region) float64 {
	outer := geom.Region[geom.TruePoint]{r.Shape[0]}
	l := outer.Perimeter()
	return 4 * math.Pi * outer.Area() / (l * l)
}

// redraw makes the decisions of a drawing for sweets: no outline, no shadow beside the subject, no whiskers; what comes
// after keeps the limits and the clock.
func (s *state) redraw(outline bool) error {
	lines := s.networks()
	if !outline {
		for _, n := range lines {
			if d := s.lineless(n); d != nil {
				s.made = append(s.made, d)
			}
		}
		if err := s.repaint(); err != nil {
			return err
		}
		for _, n := range lines {
			s.crumbs(n.colour, n.crumb())
		}
	}
	for _, group := range s.crossing() {
		if d := s.cutOff(group); len(d.option().coats) > 0 && !refuses(s.refused, d.keys(Dropped)) {
			s.made = append(s.made, d)
		}
	}
	return s.repaint()
}

// crumbs takes out what is left of outlines where lines met: pieces up to a size that were none before.
func (s *state) crumbs(colour int, most float64) {
	var crumbs []check.Place
	for i, r := range s.cur.Regions {
		if r.Colour != colour || r.Jacket || r.Area > most || s.stood(r) {
			continue
		}
		if !s.stroke(i) {
			crumbs = append(crumbs, place(r, i))
		}
	}
	if len(crumbs) == 0 {
		return
	}
	d := &decision{places: crumbs, colour: colour, options: []option{s.erased(crumbs, colour)}}
	if len(d.options[0].coats) > 0 {
		s.made = append(s.made, d)
	}
}

// stroke tells whether what is left of lines means something by itself: a stem or a string, long and on the ground.
func (s *state) stroke(i int) bool {
	near := s.beside(i)
	ground, parts := 0.0, 0
	for _, n := range near {
		if n.colour == 0 {
			ground += n.length
		} else {
			parts++
		}
	}
	r := s.cur.Regions[i]
	return parts == 0 || ground > Tuned.StrokeFree*total(near) && r.Shape.Perimeter()/2 > Tuned.StringLong*math.Sqrt(s.subjectArea)
}

// stood tells whether a region is one of the drawing's own.
func (s *state) stood(r partition.Region) bool {
	at := geom.Inside(r.Shape)
	return slices.ContainsFunc(s.m.Regions, func(o partition.Region) bool {
		return o.Colour == r.Colour && math.Abs(o.Area-r.Area) < 0.02*r.Area && o.Shape.Contains(at)
	})
}

// lineless is the decision that an outline goes, all of it: what lies beside it meets in its middle.
func (s *state) lineless(n network) *decision {
	d := &decision{places: n.narrow, colour: n.colour}
	o := s.erased(n.narrow, n.colour)
	if len(o.coats) == 0 || refuses(s.refused, d.keys(o.kind)) {
		return nil
	}
	d.options = []option{o}
	return d
}

// erased gives lines to the areas beside them, each half of a line to its side; the ground takes none, so that a stem stays.
func (s *state) erased(lines []check.Place, colour int) option {
	o := option{kind: Dropped, outline: true}
	own := func(c int) bool { return c == colour }
	for _, p := range lines {
		near := s.neighbours(p)
		fills := slices.DeleteFunc(near, func(n neighbour) bool { return n.colour == 0 })
		if len(fills) == 0 {
			continue // a stem, a stroke by itself
		}
		src := s.cur.Regions[p.Region].Source
		within := []geom.Region[geom.TruePoint]{p.Shape}
		o.to = fills[0].colour
		o.cost += s.seen(p.Shape, p.Shape.Area(), colour, fills[0].colour, Dropped)
		paint := func(b neighbour, reach float64, over func(int) bool) {
			var lines []geom.Ring[geom.TruePoint]
			for _, l := range b.lines {
				lines = append(lines, thinned(l))
			}
			if along, err := skeleton.Along(lines, reach); err == nil {
				o.coats = append(o.coats, partition.Coat{Shape: along, Within: within, Over: over, Colour: b.colour, Source: src})
			}
		}
		for _, b := range fills {
			paint(b, 1.15*p.Width+0.2, own) // all across the line
		}
		for k, b := range fills[1:] { // and back to its middle, where another area lies beyond
			before := fills[:k+1]
			paint(b, 0.55*p.Width+0.05, func(c int) bool {
				return slices.ContainsFunc(before, func(n neighbour) bool { return n.colour == c })
			})
		}
	}
	return o
}

// crossing are groups of lines that reach beyond the subject: whiskers, feelers; each of one colour.
func (s *state) crossing() (out [][]int) {
	by := map[int][]int{}
	var order []int
	for i, r := range s.cur.Regions {
		if r.Jacket || r.Colour == 0 || len(r.Shape) > 1 || r.Area > Tuned.WhiskerShare*s.subjectArea {
			continue
		}
		area := 0.0
		for _, p := range s.narrow(i) {
			area += p.Shape.Area()
		}
		near := s.beside(i)
		outside := slices.ContainsFunc(near, func(n neighbour) bool {
			return n.colour == 0 && slices.ContainsFunc(n.regions, func(k int) bool { return s.outer(s.cur.Regions[k]) })
		})
		parts := 0
		for _, n := range near {
			if n.colour != 0 {
				parts += len(n.regions)
			}
		}
		if area < 0.8*r.Area || !outside || parts != 1 { // what joins two is a stem
			continue
		}
		if by[r.Colour] == nil {
			order = append(order, r.Colour)
		}
		by[r.Colour] = append(by[r.Colour], i)
	}
	for _, c := range order {
		out = append(out, by[c])
	}
	return out
}

// cutOff is the decision that lines which reach beyond the subject go: the part that they lie in takes what its outline would
// hold without them, the ground the rest, so that no stub is left.
func (s *state) cutOff(lines []int) *decision {
	d := &decision{colour: s.cur.Regions[lines[0]].Colour}
	o := option{kind: Dropped}
	for _, i := range lines {
		r := s.cur.Regions[i]
		p := place(r, i)
		d.places = append(d.places, p)
		within := []geom.Region[geom.TruePoint]{r.Shape}
		o.coats = append(o.coats, partition.Coat{Shape: within, Colour: 0, Source: r.Source})
		for _, n := range s.neighbours(p) {
			if n.colour == 0 {
				continue
			}
			o.to = n.colour
			for _, host := range n.regions {
				if closed, err := skeleton.Closed(s.cur.Regions[host].Shape, p.Width); err == nil {
					o.coats = append(o.coats, partition.Coat{Shape: closed, Within: within, Colour: n.colour, Source: r.Source})
				}
			}
		}
		o.cost += s.seen(r.Shape, r.Area, d.colour, o.to, Dropped)
	}
	d.options = []option{o}
	return d
}

// kinds counts the kinds of parts of a map, copies once.
func kinds(m *partition.Map) int {
	seen := map[[3]int]bool{}
	for _, r := range m.Regions {
		if !r.Jacket {
			seen[sizeClass(r)] = true
		}
	}
	return len(seen)
}
