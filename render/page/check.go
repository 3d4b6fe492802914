package page

import (
	"fmt"
	"math"
)

// Check tells the first thing that would keep a sheet from being read: a text or the middle of a line in the margin, a
// text too small, two texts that overlap, a leader that crosses a leader or a text, a label off its part. Texts are
// measured by their glyphs.
func (p *Page) Check() error {
	type placed struct {
		t   *Text
		box Box
	}
	var texts []placed
	var leaders [][2]Point
	for _, it := range p.Items {
		if it.Path != nil {
			for _, r := range it.Path.Rings {
				for _, q := range r {
					if !p.inside(q[0], q[1], 0) {
						return fmt.Errorf("a line at %.1f, %.1f mm is in the margin", q[0], q[1])
					}
				}
				if it.Path.Leader {
					leaders = append(leaders, [2]Point{r[0], r[1]})
				}
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
	for i, l := range leaders {
		for _, m := range leaders[:i] {
			if meet(l[0], l[1], m[0], m[1]) {
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

// meet tells whether two segments cross.
func meet(a, b, c, d Point) bool {
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
