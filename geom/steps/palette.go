package steps

import (
	"cmp"
	"math"
	"slices"

	colorful "github.com/lucasb-eyer/go-colorful"

	"sugarwright/geom/artwork"
)

// shown is how far, in the mean, a shape may be from what is seen, CIE94, before it gets one more step. Tuned on the shaded drawings:
// artists who draw the same things flat give each shape one colour.
const shown = 8

// alike is how far steps of different shapes may differ to be one colour; those that lie beside each other stay apart.
const alike = 9

// leastShare of the drawing's longer side is as thin as a step gets: the least width of 3.4 mm in a picture of 112 mm.
const leastShare = 0.03

// step is one flat colour of a shape.
type step struct {
	colour colorful.Color
	label  int16
}

// bin is dots of nearly one colour.
type bin struct {
	sum [3]float64
	n   int
}

func (b *bin) mean() colorful.Color {
	k := 1 / float64(b.n)
	return colorful.Lab(b.sum[0]*k, b.sum[1]*k, b.sum[2]*k)
}

func (b *bin) add(c colorful.Color, n int) {
	l, u, v := c.Lab()
	b.n += n
	for k, x := range [3]float64{l, u, v} {
		b.sum[k] += float64(n) * x
	}
}

// paint gives each shape the fewest steps that show it, and each dot its label.
func (r *raster) paint(all []*shape, most int) {
	r.at = make([]int16, len(r.field))
	for i := range r.at {
		r.at[i] = -1
	}
	r.of = make([]*shape, len(r.l.fields))
	for _, s := range all {
		for _, f := range s.fields {
			r.of[f] = s
		}
		r.split(s, most)
	}
	r.colour(all)
	for _, s := range all {
		for _, f := range s.fields {
			for _, i := range r.dots[f] {
				r.at[i] = s.label(r, f, r.seen[i])
			}
		}
	}
	r.was = slices.Clone(r.at)
}

// label is the step of a shape that a colour of a field goes to.
func (s *shape) label(r *raster, f int32, c colorful.Color) int16 {
	if !r.l.fields[f].shaded {
		return s.steps[0].label // its own
	}
	best, least := s.steps[0].label, math.Inf(1)
	for _, t := range s.steps {
		if d := differ(t.colour, c); d < least {
			best, least = t.label, d
		}
	}
	return best
}

// split a shape into the fewest steps that show it, at most so many. Where it has a flat colour, that is the first.
func (r *raster) split(s *shape, most int) {
	bins := map[[3]int]*bin{}
	var list []*bin
	for _, f := range s.fields {
		if s.hard >= 0 && int(f) == s.hard {
			continue
		}
		for _, i := range r.dots[f] {
			l, a, b := r.seen[i].Lab()
			k := [3]int{int(math.Floor(50 * l)), int(math.Floor(50 * a)), int(math.Floor(50 * b))}
			if bins[k] == nil {
				bins[k] = &bin{}
				list = append(list, bins[k])
			}
			bins[k].add(r.seen[i], 1)
		}
	}
	var fixed []colorful.Color
	if s.hard >= 0 {
		fixed = append(fixed, colorOf(r.l.fields[s.hard].rgb))
	} else if ground := colorOf(r.l.ground); share(list, ground) >= leastBare {
		fixed = append(fixed, ground) // it fades away
	}
	var colours []colorful.Color
	for n := 1; n <= most; n++ {
		c, off := inSteps(list, fixed, n)
		if colours = c; off < shown {
			break
		}
	}
	for _, c := range colours {
		s.steps = append(s.steps, step{colour: c})
	}
}

// leastBare is the share of a shape that must be the ground's colour for the ground to be one of its steps.
const leastBare = 0.1

// share of bins that nobody tells from a colour.
func share(list []*bin, c colorful.Color) float64 {
	n, all := 0, 0
	for _, b := range list {
		if all += b.n; differ(b.mean(), c) < seamless {
			n += b.n
		}
	}
	return float64(n) / float64(max(1, all))
}

// inSteps finds n colours for bins, those that are fixed among them, by k-means from the colour that is farthest off; off is how
// far the bins are from theirs in the mean.
func inSteps(list []*bin, fixed []colorful.Color, n int) (out []colorful.Color, off float64) {
	means := make([]colorful.Color, len(list))
	var all bin
	for i, b := range list {
		means[i] = b.mean()
		all.n += b.n
		for k := range all.sum {
			all.sum[k] += b.sum[k]
		}
	}
	out = slices.Clone(fixed)
	if len(out) == 0 && all.n > 0 {
		out = append(out, all.mean())
	}
	for len(out) < n && len(list) > 0 {
		far, most := 0, -1.0
		for i, b := range list {
			if _, d := nearest(out, means[i]); d*math.Sqrt(float64(b.n)) > most {
				far, most = i, d*math.Sqrt(float64(b.n))
			}
		}
		out = append(out, means[far])
		for range 8 {
			sums := make([]bin, len(out))
			for i, b := range list {
				k, _ := nearest(out, means[i])
				sums[k].add(means[i], b.n)
			}
			for k := len(fixed); k < len(out); k++ {
				if sums[k].n > 0 {
					out[k] = sums[k].mean()
				}
			}
		}
	}
	for i, b := range list {
		_, d := nearest(out, means[i])
		off += d * float64(b.n) / float64(all.n)
	}
	return out, off
}

func nearest(all []colorful.Color, c colorful.Color) (best int, d float64) {
	d = math.Inf(1)
	for i, o := range all {
		if x := differ(o, c); x < d {
			best, d = i, x
		}
	}
	return best, d
}

// bare is the label of the ground.
const bare = 0

// family is steps that become one colour.
type family struct {
	steps []*step
	of    []*shape
	fixed bool // a flat colour of the drawing
	mean  bin
	c     colorful.Color
	l     float64 // its lightness; below 0: not asked yet
}

// colour makes steps alike that hardly differ, and numbers them: the ground first, then the flat colours of the drawing. Steps of
// shapes that lie beside each other stay apart: between them the client drew an edge.
func (r *raster) colour(all []*shape) {
	r.colours = []colorful.Color{colorOf(r.l.ground)}
	known := map[artwork.RGB]*family{}
	ground := &family{fixed: true, c: r.colours[0], l: -1}
	families := []*family{ground}
	known[r.l.ground] = ground
	var free []*family
	for _, s := range all {
		for k := range s.steps {
			t := &s.steps[k]
			if c := rgbOf(t.colour); k == 0 && (s.hard >= 0 || c == r.l.ground) {
				f := known[c]
				if f == nil {
					f = &family{fixed: true, c: colorOf(c), l: -1}
					known[c] = f
					families = append(families, f)
				}
				f.steps, f.of = append(f.steps, t), append(f.of, s)
				continue
			}
			f := &family{steps: []*step{t}, of: []*shape{s}, c: t.colour, l: -1}
			f.mean.add(t.colour, max(1, s.dots/len(s.steps)))
			free = append(free, f)
		}
	}
	slices.SortStableFunc(free, func(a, b *family) int { return cmp.Compare(b.mean.n, a.mean.n) })
	for _, f := range free {
		var into *family
		least := float64(alike)
		for _, g := range families {
			if 100*math.Abs(g.light()-f.light()) >= least { // CIE94 is no less than that
				continue
			}
			if d := differ(g.c, f.c); d < least && !g.touches(f) {
				into, least = g, d
			}
		}
		if into == nil {
			families = append(families, f)
			continue
		}
		into.steps, into.of = append(into.steps, f.steps...), append(into.of, f.of...)
		if !into.fixed {
			into.mean.add(f.c, f.mean.n)
			into.c, into.l = into.mean.mean(), -1
		}
	}
	for i, f := range families {
		if i > 0 {
			r.colours = append(r.colours, f.c)
		}
		for _, t := range f.steps {
			t.label, t.colour = int16(i), f.c
		}
	}
}

// light is the colour's lightness, 0 to 1.
func (g *family) light() float64 {
	if g.l < 0 {
		g.l, _, _ = g.c.Lab()
	}
	return g.l
}

// touches tells whether a shape of one family lies beside one of another with an edge between, or is the same.
func (g *family) touches(f *family) bool {
	for _, s := range g.of {
		for _, t := range f.of {
			if s == t {
				return true
			}
			if b := s.beside[t]; b != nil && b.dots >= leastEdge && b.mean() >= seamless {
				return true
			}
		}
	}
	return false
}

// leastEdge is how many dots long an edge is for the colours beside it to stay apart.
const leastEdge = 8

// rounded is the palette as a drawing has it.
func (r *raster) rounded() (out []artwork.RGB) {
	for _, c := range r.colours {
		out = append(out, rgbOf(c))
	}
	return out
}

// around are the four dots beside one that hold something.
func (r *raster) around(i int, f func(j int)) {
	x, y := i%r.w, i/r.w
	if x > 0 && r.field[i-1] >= 0 {
		f(i - 1)
	}
	if x+1 < r.w && r.field[i+1] >= 0 {
		f(i + 1)
	}
	if y > 0 && r.field[i-r.w] >= 0 {
		f(i - r.w)
	}
	if y+1 < r.h && r.field[i+r.w] >= 0 {
		f(i + r.w)
	}
}

// thicken gives what is too thin for a hand in a step to the step beside it, where the shape has several.
func (r *raster) thicken(all []*shape) {
	for _, s := range all {
		if len(s.steps) < 2 {
			continue
		}
		var dots []int
		for _, f := range s.fields {
			if r.l.fields[f].shaded {
				dots = append(dots, r.dots[f]...)
			}
		}
		slices.Sort(dots)
		for range s.steps { // what one gives up may be too thin in the next
			if !r.opened(s, dots) {
				break
			}
		}
	}
}

// opened takes from each step of a shape what no disc of the least width reaches (the opening by an octagon), nearest first to what
// is kept; dots are those of the shape that are shaded. It tells whether anything was taken.
func (r *raster) opened(s *shape, dots []int) bool {
	least := int(math.Ceil(leastShare * side / 2))
	kept := map[int]bool{}
	for _, t := range s.steps {
		in := map[int]bool{}
		for _, f := range s.fields {
			for _, i := range r.dots[f] {
				if r.at[i] == t.label {
					in[i] = true
				}
			}
		}
		for i := range r.grown(r.grown(in, least, false), least, true) {
			if in[i] {
				kept[i] = true
			}
		}
	}
	left := slices.DeleteFunc(slices.Clone(dots), func(i int) bool { return kept[i] })
	taken := false
	for len(left) > 0 {
		put := map[int]int16{}
		left = slices.DeleteFunc(left, func(i int) bool {
			r.around(i, func(j int) {
				if _, done := put[i]; !done && kept[j] {
					put[i] = r.at[j]
				}
			})
			_, done := put[i]
			return done
		})
		if len(put) == 0 {
			break
		}
		for i, l := range put {
			kept[i] = true
			taken = taken || r.at[i] != l
			r.at[i] = l
		}
	}
	return taken
}

// grown is a set of dots with n layers added, or taken off, by turns along the sides and along the diagonals too.
func (r *raster) grown(in map[int]bool, n int, outward bool) map[int]bool {
	out := in
	for k := range n {
		next := map[int]bool{}
		steps := []int{1, -1, r.w, -r.w}
		if k%2 == 1 {
			steps = append(steps, r.w+1, r.w-1, -r.w+1, -r.w-1)
		}
		for i := range out {
			whole := true
			for _, d := range steps {
				if outward {
					next[i+d] = true
				}
				whole = whole && out[i+d]
			}
			if outward || whole {
				next[i] = true
			}
		}
		out = next
	}
	return out
}
