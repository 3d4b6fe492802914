package artwork

import (
	"errors"
	"math"
	"strings"

	"sugarwright/geom/finding"
)

// shape turns a basic shape or a path into a path; ok is false when the node is neither.
func (r *reader) shape(n *node, ctx context) (Path, bool) {
	size := func(name string, whole float64) float64 {
		s := strings.TrimSpace(n.attr[name])
		if s == "" || s == "auto" {
			return 0
		}
		v, ok := length(s, whole, ctx.font)
		if !ok {
			r.say(finding.BadValue, finding.Warning, n, "length", name, clipped(s))
		} else if v < 0 && (name == "width" || name == "height" || name == "r" || n.tag == "ellipse" && name[0] == 'r') {
			r.say(finding.BadValue, finding.Error, n, "negative", name, clipped(s))
		}
		return v
	}
	radius := func(name string, whole float64) float64 { // NaN where it is left to the other one
		if v := strings.TrimSpace(n.attr[name]); v == "" || v == "auto" {
			return math.NaN()
		}
		if v := size(name, whole); v >= 0 {
			return v
		}
		return math.NaN() // a negative radius is an error, and an error is as good as nothing
	}
	w, h := ctx.view.W, ctx.view.H
	diag := math.Hypot(w, h) / math.Sqrt2
	switch n.tag {
	case "rect":
		return rectPath(size("x", w), size("y", h), size("width", w), size("height", h), radius("rx", w),
			radius("ry", h)), true
	case "circle":
		rad := size("r", diag)
		return ellipsePath(size("cx", w), size("cy", h), rad, rad), true
	case "ellipse":
		rx, ry := eachOther(radius("rx", w), radius("ry", h))
		return ellipsePath(size("cx", w), size("cy", h), rx, ry), true
	case "line":
		s := subpath{pts: []pt{{size("x1", w), size("y1", h)}}}
		s.line(pt{size("x2", w), size("y2", h)})
		return Path{s}, true
	case "polyline", "polygon":
		v, ok := numbers(n.attr["points"])
		if !ok || len(v)%2 == 1 {
			r.say(finding.BadPath, finding.Warning, n, "points")
		}
		if len(v) < 4 {
			return nil, true
		}
		s := subpath{pts: []pt{{v[0], v[1]}}, closed: n.tag == "polygon"}
		for i := 2; i+1 < len(v); i += 2 {
			s.line(pt{v[i], v[i+1]})
		}
		return Path{s}, true
	case "path":
		p, err := parsePath(n.attr["d"])
		switch {
		case errors.Is(err, errTooMany):
			r.full = true
			r.say(finding.TooMuch, finding.Error, n, "segments", MaxSegments)
		case err != nil:
			r.say(finding.BadPath, finding.Warning, n, "")
		}
		return p, true
	}
	return nil, false
}

// eachOther gives a radius that is not stated the value of the other.
func eachOther(rx, ry float64) (float64, float64) {
	if math.IsNaN(rx) {
		rx = ry
	}
	if math.IsNaN(ry) {
		ry = rx
	}
	if math.IsNaN(rx) {
		return 0, 0
	}
	return rx, ry
}

func rectPath(x, y, w, h, rx, ry float64) Path {
	if w <= 0 || h <= 0 {
		return nil
	}
	rx, ry = eachOther(rx, ry)
	rx, ry = math.Min(rx, w/2), math.Min(ry, h/2)
	p := &pather{moved: true}
	if rx <= 0 || ry <= 0 {
		p.cur = pt{x, y}
		for _, q := range []pt{{x + w, y}, {x + w, y + h}, {x, y + h}} {
			p.to(q)
		}
	} else {
		p.cur = pt{x + rx, y}
		p.to(pt{x + w - rx, y})
		p.arc(rx, ry, 0, false, true, pt{x + w, y + ry})
		p.to(pt{x + w, y + h - ry})
		p.arc(rx, ry, 0, false, true, pt{x + w - rx, y + h})
		p.to(pt{x + rx, y + h})
		p.arc(rx, ry, 0, false, true, pt{x, y + h - ry})
		p.to(pt{x, y + ry})
		p.arc(rx, ry, 0, false, true, pt{x + rx, y})
	}
	p.sub().closed = true
	return p.out
}

func ellipsePath(cx, cy, rx, ry float64) Path {
	if rx <= 0 || ry <= 0 {
		return nil
	}
	p := &pather{moved: true, cur: pt{cx + rx, cy}}
	p.arc(rx, ry, 0, false, true, pt{cx, cy + ry})
	p.arc(rx, ry, 0, false, true, pt{cx - rx, cy})
	p.arc(rx, ry, 0, false, true, pt{cx, cy - ry})
	p.arc(rx, ry, 0, false, true, pt{cx + rx, cy})
	p.sub().closed = true
	return p.out
}
