package page

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
)

// Check tells the first thing that would keep a sheet from being read: a text or the middle of a line in the margin, a
// text too small, two texts that overlap, a leader that crosses a leader or a text, a text over a rule, a label off its
// part. Texts are
// measured by their glyphs.
func (p *Page) Check() error {
	type placed struct {
		t   *Text
		box Box
	}
	var texts []placed
	var leaders, rules [][2]Point
	for _, it := range p.Items {
		if it.Path != nil {
			for _, r := range it.Path.Rings {
				for _, q := range r {
					if !p.inside(q[0], q[1], 0) {
						return fmt.Errorf("a line at %.1f, %.1f mm is in the margin", q[0], q[1])
					}
				}
				switch {
				case it.Path.Leader:
					leaders = append(leaders, [2]Point{r[0], r[1]})
				case it.Path.Rule:
					rules = append(rules, [2]Point{r[0], r[1]})
				}
			}
			continue
		}
		if x := it.Picture; x != nil {
			if !p.inside(x.At[0], x.At[1], 0) || !p.inside(x.At[2], x.At[3], 0) {
				return fmt.Errorf("a picture at %.1f, %.1f mm is in the margin", x.At[0], x.At[1])
			}
			continue
		}
		t := it.Text
		box, ok := t.Box()
		if !ok {
			continue
		}
		if t.Size < p.Least-1e-9 {
			return fmt.Errorf("text %q is %.1f mm high, less than %.1f", t.Text, t.Size, p.Least)
		}
		if !p.inside(box[0], box[1], 0) || !p.inside(box[2], box[3], 0) {
			return fmt.Errorf("text %q at %.1f, %.1f mm is in the margin", t.Text, t.At[0], t.At[1])
		}
		if t.Within != nil && !Holds(t.Within, box) {
			return fmt.Errorf("label %q at %.1f, %.1f mm is off its part", t.Text, t.At[0], t.At[1])
		}
		for _, o := range texts {
			if box.Overlaps(o.box) {
				return fmt.Errorf("text %q overlaps %q at %.1f, %.1f mm", t.Text, o.t.Text, t.At[0], t.At[1])
			}
		}
		texts = append(texts, placed{t, box})
	}
	for _, l := range rules {
		for _, t := range texts {
			if Hits(l[0], l[1], t.box) {
				return fmt.Errorf("a rule crosses %q at %.1f, %.1f mm", t.t.Text, t.t.At[0], t.t.At[1])
			}
		}
	}
	for i, l := range leaders {
		for _, m := range leaders[:i] {
			if Crosses(l[0], l[1], m[0], m[1]) {
				return fmt.Errorf("leaders cross near %.1f, %.1f mm", l[0][0], l[0][1])
			}
		}
		for _, t := range texts {
			if Hits(l[0], l[1], t.box) {
				return fmt.Errorf("a leader crosses %q at %.1f, %.1f mm", t.t.Text, t.t.At[0], t.t.At[1])
			}
		}
	}
	return nil
}

// inkCell is the square by which a sheet's fullness is told, millimetres.
const inkCell = 4.0

// Ink is the share of a sheet inside its margins that is touched or enclosed by ink, in squares of 4 mm.
func (p *Page) Ink() float64 {
	columns, rows := int((p.W-2*p.Margin)/inkCell), int((p.H-2*p.Margin)/inkCell)
	full := make([]bool, columns*rows)
	mark := func(x, y float64) {
		i, j := int(math.Floor((x-p.Margin)/inkCell)), int(math.Floor((y-p.Margin)/inkCell))
		if i >= 0 && j >= 0 && i < columns && j < rows {
			full[j*columns+i] = true
		}
	}
	each := func(b Box, ink func(Point) bool) {
		for y := p.Margin + inkCell/2; y < p.H-p.Margin; y += inkCell {
			for x := p.Margin + inkCell/2; x < p.W-p.Margin; x += inkCell {
				if x > b[0]-inkCell/2 && x < b[2]+inkCell/2 && y > b[1]-inkCell/2 && y < b[3]+inkCell/2 && ink(Point{x, y}) {
					mark(x, y)
				}
			}
		}
	}
	for _, it := range p.Items {
		if it.Text != nil {
			if b, ok := it.Text.Box(); ok {
				each(b, func(Point) bool { return true })
			}
			continue
		}
		b := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, r := range it.Path.Rings {
			for i, q := range r {
				b = Box{math.Min(b[0], q[0]), math.Min(b[1], q[1]), math.Max(b[2], q[0]), math.Max(b[3], q[1])}
				next := r[(i+1)%len(r)]
				if it.Path.Open && i == len(r)-1 {
					continue
				}
				n := math.Ceil(math.Hypot(next[0]-q[0], next[1]-q[1])) + 1
				for k := 0.0; k <= n; k++ {
					mark(q[0]+(next[0]-q[0])*k/n, q[1]+(next[1]-q[1])*k/n)
				}
			}
		}
		if !it.Path.Open && (it.Path.Stroke != "" || it.Path.Fill != "#ffffff") {
			each(b, func(q Point) bool { return Inside(it.Path.Rings, q) })
		}
	}
	n := 0
	for _, f := range full {
		if f {
			n++
		}
	}
	return float64(n) / float64(len(full))
}

func (p *Page) inside(x, y, half float64) bool {
	const hair = 1e-6
	m := p.Margin - hair
	return x-half >= m && y-half >= m && x+half <= p.W-m && y+half <= p.H-m
}

// Holds tells whether a box lies in a region.
func Holds(rings [][]Point, box Box) bool {
	if !Inside(rings, Point{(box[0] + box[2]) / 2, (box[1] + box[3]) / 2}) {
		return false
	}
	for _, r := range rings {
		for i, a := range r {
			if Hits(a, r[(i+1)%len(r)], box) {
				return false
			}
		}
	}
	return true
}

// Hits tells whether a segment meets a box.
func Hits(a, b Point, box Box) bool {
	lo, hi := 0.0, 1.0
	for k := range 2 {
		d := b[k] - a[k]
		if d == 0 {
			if a[k] < box[k] || a[k] > box[k+2] {
				return false
			}
			continue
		}
		u, v := (box[k]-a[k])/d, (box[k+2]-a[k])/d
		lo, hi = math.Max(lo, math.Min(u, v)), math.Min(hi, math.Max(u, v))
	}
	return lo < hi
}

// Clipped are the pieces of a line inside a box.
func Clipped(line []Point, w Box) [][]Point {
	ls := make(orb.LineString, len(line))
	for i, q := range line {
		ls[i] = orb.Point(q)
	}
	var out [][]Point
	for _, l := range clip.LineString(orb.Bound{Min: orb.Point{w[0], w[1]}, Max: orb.Point{w[2], w[3]}}, ls) {
		piece := make([]Point, len(l))
		for i, q := range l {
			piece[i] = Point(q)
		}
		out = append(out, piece)
	}
	return out
}

// Crosses tells whether two segments cross.
func Crosses(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0]) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// Inside tells whether a point lies in a region, by even and odd crossings.
func Inside(rings [][]Point, p Point) bool {
	in := false
	for _, r := range rings {
		for i, j := 0, len(r)-1; i < len(r); j, i = i, i+1 {
			a, b := r[i], r[j]
			if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1])+a[0] {
				in = !in
			}
		}
	}
	return in
}
