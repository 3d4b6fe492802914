package artwork

import (
	"math"
	"slices"
	"strings"

	"sugarwright/geom/finding"
)

// textPath is what letters stand on.
type textPath struct {
	n     *node
	line  []pt // in the text's user space
	along []float64
	start float64
}

// textPath reads what letters are to stand on; nil where there is nothing.
func (r *reader) textPath(n *node, ctx context) *textPath {
	t, ok := r.target(n, n.attr["href"])
	if !ok {
		r.say(finding.BadReference, finding.Warning, n, "use", clipped(n.attr["href"]))
		return nil
	}
	p, ok := r.shape(t, ctx)
	if !ok || len(p) == 0 {
		return nil
	}
	in := ctx
	r.specify(t, &in)
	p = p.moved(r.ownTransform(t, &in))
	left := MaxSegments
	lines, err := p.flat(ctx.font/500, 0.05, &left)
	if err != nil || len(lines) == 0 {
		return nil
	}
	out := &textPath{n: n, line: lines[0].pts, along: []float64{0}}
	if lines[0].closed {
		out.line = append(slices.Clone(out.line), out.line[0])
	}
	for i := 1; i < len(out.line); i++ {
		a, b := out.line[i-1], out.line[i]
		out.along = append(out.along, out.along[i-1]+math.Hypot(b[0]-a[0], b[1]-a[1]))
	}
	whole := out.along[len(out.along)-1]
	if whole <= 0 {
		return nil
	}
	out.start, _ = length(n.attr["startOffset"], whole, ctx.font)
	if v, ok := numbers(t.attr["pathLength"]); ok && len(v) == 1 && v[0] > 0 && !strings.HasSuffix(strings.TrimSpace(n.attr["startOffset"]), "%") {
		out.start *= whole / v[0]
	}
	return out
}

// at is the place and direction at a distance along; ok is false beyond its ends.
func (p *textPath) at(d float64) (at, dir pt, ok bool) {
	d += p.start
	if d < 0 || d > p.along[len(p.along)-1] {
		return at, dir, false
	}
	i, _ := slices.BinarySearch(p.along, d)
	i = max(1, min(i, len(p.line)-1))
	for i < len(p.line)-1 && p.along[i] == p.along[i-1] {
		i++
	}
	a, b := p.line[i-1], p.line[i]
	l := p.along[i] - p.along[i-1]
	if l <= 0 {
		return a, pt{1, 0}, true
	}
	dir = pt{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
	t := d - p.along[i-1]
	return pt{a[0] + t*dir[0], a[1] + t*dir[1]}, dir, true
}
