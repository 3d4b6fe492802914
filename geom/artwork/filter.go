package artwork

import (
	"math"
	"regexp"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// blurred is how many standard deviations of a blur thick a thing must be for something of its shape to stay: a Gaussian falls
// to a tenth at two of them, on either side.
const blurred = 4

// faint is the alpha below which what is only blurred is a shadow or a shine, and not a thing.
const faint = 0.75

// effect is what a filter, or one of its primitives, gives.
type effect struct {
	sharp bool    // the thing itself is in it
	own   bool    // and nothing else was added or changed
	blur  float64 // the standard deviation that the thing is blurred by, where it is not sharp
}

// filter settles what is drawn of a node that has one. Shadows and glows are left out, what is blurred is drawn sharp or, where
// little of its shape is seen, left out; ok is false there. Each is a change.
func (r *reader) filter(n *node, v string, ctx context) (ok bool) {
	e, known := r.effect(n, v, ctx)
	if !known || e.own {
		return true
	}
	b, painted := r.box(n, ctx)
	if !painted {
		if thick, any := r.thickness(n, ctx); !any || thick == 0 {
			return true
		}
	}
	wording := ""
	if !e.sharp && e.blur > 0 {
		thick, any := r.thickness(n, ctx)
		wording = "sharp"
		if any && (thick < blurred*e.blur || r.fraction(ctx.style[opacity]) < faint) {
			wording = "faded"
		}
	}
	if !ctx.inClip {
		x, y := ctx.m.Apply(b.X+b.W/2, b.Y+b.H/2)
		r.alter(Altered{Code: finding.EffectDropped, Case: wording, At: []geom.ArtworkPoint{{x, y}}, Source: n.src})
	}
	return wording != "faded"
}

// alter notes a change that was made to one shape; like ones are one change, at the first of them.
func (r *reader) alter(a Altered) {
	for i, b := range r.art.Altered {
		if b.Code == a.Code && b.Case == a.Case {
			r.art.Altered[i].Values[0] = b.Values[0].(int) + 1
			r.art.Altered[i].At = append(b.At, a.At...)
			return
		}
	}
	a.Values = []any{1}
	r.art.Altered = append(r.art.Altered, a)
}

// effectFunction is one of the functions of CSS.
var effectFunction = regexp.MustCompile(`([a-z-]+)\(([^()]*(?:\([^()]*\)[^()]*)*)\)`)

// effect reads the filter property; known is false where there is none to apply.
func (r *reader) effect(n *node, v string, ctx context) (e effect, known bool) {
	if strings.HasPrefix(strings.ToLower(v), "url(") {
		id, _ := urlID(v)
		f := r.ids[id]
		if f == nil || f.tag != "filter" {
			r.say(finding.BadReference, finding.Warning, n, "clip", "filter", clipped(v))
			return e, false
		}
		return r.primitives(n, f, ctx), true
	}
	e = effect{sharp: true, own: true}
	for _, m := range effectFunction.FindAllStringSubmatch(strings.ToLower(v), -1) {
		e.own = false
		if s, ok := length(strings.TrimSpace(m[2]), 1, ctx.font); m[1] == "blur" && ok && s > 0 {
			e.sharp, e.blur = false, s
		}
	}
	return e, true
}

// primitives follows the thing through a filter's primitives to the last.
func (r *reader) primitives(n, f *node, ctx context) effect {
	for range MaxReferences { // they may be those of another filter
		t := r.ids[strings.TrimPrefix(strings.TrimSpace(f.attr["href"]), "#")]
		if len(f.children) > 0 || t == nil || t.tag != "filter" {
			break
		}
		f = t
	}
	scale := 1.0
	if f.attr["primitiveUnits"] == "objectBoundingBox" {
		if b, ok := r.box(n, ctx); ok {
			scale = math.Hypot(b.W, b.H) / math.Sqrt2
		}
	}
	source := effect{sharp: true, own: true}
	last, named := source, map[string]effect{}
	in := func(name string) effect {
		switch name = strings.TrimSpace(name); name {
		case "":
			return last
		case "SourceGraphic":
			return source
		}
		return named[name] // other inputs are not the thing
	}
	with := func(a, b effect) effect {
		return effect{a.sharp || b.sharp, false, math.Max(a.blur, b.blur)}
	}
	for _, p := range f.children {
		e := in(p.attr["in"])
		switch p.tag {
		case "":
			continue
		case "feGaussianBlur":
			s, _ := numbers(p.attr["stdDeviation"])
			if len(s) > 0 && math.Max(s[0], s[len(s)-1]) > 0 {
				e = effect{blur: math.Max(e.blur, scale*math.Max(s[0], s[len(s)-1]))}
			}
		case "feDropShadow":
			e.own = false
		case "feBlend", "feComposite":
			e = with(e, in(p.attr["in2"]))
		case "feMerge":
			e = effect{}
			for _, m := range p.children {
				if m.tag == "feMergeNode" {
					e = with(e, in(m.attr["in"]))
				}
			}
		case "feOffset":
			if e.sharp {
				e = effect{}
			}
		case "feFlood", "feImage", "feTurbulence", "feTile":
			e = effect{}
		default: // another look of the same thing
			e.own = false
		}
		if last = e; p.attr["result"] != "" {
			named[p.attr["result"]] = e
		}
	}
	if !last.sharp && last.blur == 0 {
		last.sharp = true // what cannot be followed is drawn as it is
	}
	return last
}

// thickness is that of the thickest shape in a node: 2 area / perimeter of what is filled, the width of what is stroked; 0 and false
// where there is no shape.
func (r *reader) thickness(n *node, ctx context) (most float64, any bool) {
	if skipped[n.tag] || n.depth > MaxDepth {
		return 0, false
	}
	if p, ok := r.shape(n, ctx); ok {
		if v := ctx.style[fill]; v != "none" {
			left := MaxSegments
			lines, err := p.flat(1e9, 0.3, &left)
			if err == nil {
				area, length := 0.0, 0.0
				for _, l := range lines {
					for i, a := range l.pts {
						b := l.pts[(i+1)%len(l.pts)]
						area += (a[0]*b[1] - a[1]*b[0]) / 2
						length += math.Hypot(b[0]-a[0], b[1]-a[1])
					}
				}
				if length > 0 {
					most = 2 * math.Abs(area) / length
				}
			}
		}
		if v := ctx.style[strokePaint]; v != "" && v != "none" {
			w, ok := length(ctx.style[strokeWidth], 1, ctx.font)
			if !ok {
				w = 1
			}
			most = math.Max(most, w)
		}
		return most, true
	}
	for _, c := range n.children {
		in := ctx
		r.specify(c, &in)
		if t, ok := r.thickness(c, in); ok {
			most, any = math.Max(most, t), true
		}
	}
	return most, any
}
