//go:build trials

package trials_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/planner"
	"sugarwright/planner/judge"
	"sugarwright/planner/plan"
)

// simplified are drawings that the simplifier has been through, for tests that look and change nothing.
var simplified sync.Map

// simplifiedOnce is a drawing simplified, with nothing refused.
func simplifiedOnce(t testing.TB, name string) (*planner.Simplified, error) {
	if s, ok := simplified.Load(name); ok {
		return s.(*planner.Simplified), nil
	}
	s, err := simpler(t, name)
	if err == nil {
		simplified.Store(name, s)
	}
	return s, err
}

// simpler runs the simplifier on a drawing.
func simpler(t testing.TB, name string, keep ...int) (*planner.Simplified, error) {
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return planner.MakeSimpler(filepath.Base(name), data, options(), planner.Wanted{Keep: keep})
}

// Every drawing ends as drawn, or simplified with a proven plan, or it is said why not; the table goes to
// testdata/results.
func TestSimplify(t *testing.T) {
	for _, set := range []struct {
		dir  string
		ends int // at least, as drawn or simplified, with a proven plan
	}{{"reference", 36}, {"corpora", 34}} {
		names, err := filepath.Glob("../../testdata/" + set.dir + "/*.svg")
		require.NoError(t, err)
		if !*all { // every sixth of the one, every eighth of the other
			step, short := 6, 1
			if set.dir == "corpora" {
				step, short = 8, 2
			}
			var some []string
			for i := 1; i < len(names); i += step {
				some = append(some, names[i])
			}
			names, set.ends = some, len(some)-short
		}
		rows := make([]string, len(names))
		ends := make([]bool, len(names))
		var wg sync.WaitGroup
		gate := make(chan bool, 2)
		for i, name := range names {
			wg.Add(1)
			gate <- true
			go func() {
				defer func() { <-gate; wg.Done() }()
				base := strings.TrimSuffix(filepath.Base(name), ".svg")
				s, err := simplifiedOnce(t, name)
				if !assert.NoError(t, err, base) {
					return
				}
				ends[i] = s.After != nil
				switch {
				case s.After == nil:
					rows[i] = fmt.Sprintf("| %s | %s | | | | %s |\n", base, s.Before.Plan.Verdict, s.Last.Code)
				case s.After == s.Before:
					data, _ := os.ReadFile(name)
					assert.Equal(t, string(data), string(s.SVG), "%s: a drawing that passes comes back byte for byte",
						base)
				default:
					checkSimplified(t, base, s)
					area := 0.0
					for _, c := range s.Changes {
						area += c.Area
					}
					r := float64(s.After.Plan.Log.PictureDiameterMM) / 2
					rows[i] = fmt.Sprintf("| %s | %s | %d | %.1f %% | %d | %s |\n", base, s.Offers[0].Kind, len(s.Changes),
						100*area/(math.Pi*r*r), s.After.Plan.Index().Distinct(), offered(s))
				}
			}()
		}
		wg.Wait()
		n := 0
		for _, e := range ends {
			if e {
				n++
			}
		}
		assert.GreaterOrEqual(t, n, set.ends, set.dir)
		t.Logf("%s: %d of %d", set.dir, n, len(names))
		if *update && *all {
			table(
				t,
				"simplified-"+set.dir,
				"| drawing | verdict, or first offer | changes | of the picture | parts made | offers with what they lose and need, or why not |\n|---|---|---|---|---|---|\n"+
					strings.Join(rows, "")+fmt.Sprintf(
					"\n%d of %d end as drawn or simplified, with a proven plan.\n",
					n,
					len(names),
				),
			)
		}
	}
}

// offered are the offers of a drawing in short: kind, loss (planner/likeness), parts made, what the kitchen needs.
func offered(s *planner.Simplified) string {
	var out []string
	for _, x := range s.Offers {
		line := fmt.Sprintf("%s S %.1f, %d parts", x.Kind, x.Loss.S, x.Plan.Plan.Index().Distinct())
		if n := x.Need; n != nil {
			for _, w := range []struct {
				ok   bool
				text string
			}{{n.Crew > 0, fmt.Sprintf("crew %d", n.Crew)}, {n.Machine, "machine"}, {n.Slab, "slab"}, {n.Kg > 0, fmt.Sprintf("%.1f kg", n.Kg)}} {
				if w.ok {
					line += ", " + w.text
				}
			}
		}
		out = append(out, line)
	}
	return strings.Join(out, "; ")
}

// checkSimplified holds a simplified drawing to what is promised of it.
func checkSimplified(t *testing.T, name string, s *planner.Simplified) {
	require.NotEmpty(t, s.Offers, name)
	assert.True(t, len(s.Changes) > 0 || s.Offers[0].Kind == planner.Drawn, name)
	assert.Equal(t, plan.AsDrawn, s.After.Plan.Verdict, name)
	checkPlan(t, name, s.After.Plan)
	for _, w := range tooThin(s.After) {
		assert.Fail(t, "thin", "%s: %s", name, w)
	}
	again, err := planner.MakeSimpler(planner.SimplerName(name), s.SVG, unproved(options()), planner.Wanted{})
	if assert.NoError(t, err, name) {
		assert.True(t, again.After != nil && len(again.Changes) == 0 && string(again.SVG) == string(s.SVG),
			"%s: simplified twice, it changes", name)
	}
	// Areas: within a tenth, or a finding names the colour.
	before, after := areas(s.Before.Plan), areas(s.After.Plan)
	said := 0
	for _, f := range s.After.Stages.Findings {
		if f.Code == finding.ColourShare {
			said++
		}
	}
	moved := 0
	for c, a := range before {
		if math.Abs(after[c]-a) > 0.1*a {
			moved++
		}
	}
	assert.Equal(t, moved, said, "%s: colours that gain or lose more than a tenth", name)
}

// areas by colour inside the jacket, from the regions' polygons.
func areas(p *plan.Plan) map[string]float64 {
	out := map[string]float64{}
	for _, g := range p.Picture {
		r := judge.Region(g.Shape)
		if p.Log.JacketMM == 0 || math.Hypot(r[0][0][0], r[0][0][1]) < float64(p.Log.DiameterMM)/2-0.1 {
			out[g.Fill] += r.Area()
		}
	}
	return out
}

// tooThin opens every region by the thinnest sheet, and every region that is no band by the thinnest line, on a grid of
// its own: a pixel stays when it lies in a disc of pixels that lies in the region. What does not stay and is longer
// than a corner is thin. It shares nothing with the check but the region and what counts as a corner (19 square mm or
// less, or shorter than four widths).
func tooThin(r *planner.Result) []string {
	const px = 0.2
	p := r.Plan
	var out []string
	for _, g := range r.Plan.Picture {
		shape := judge.Region(g.Shape)
		edge := math.Hypot(shape[0][0][0], shape[0][0][1])
		if p.Log.JacketMM > 0 && edge > float64(p.Log.DiameterMM)/2-0.1 ||
			edge > float64(p.Log.DiameterMM)/2-float64(p.Log.JacketMM)-0.5 && len(shape) == 1 {
			continue // jacket, and nothing but ground
		}
		width := float64(p.Shop.ThinnestWrapMM) // what may be a band is held to the sheet's width only
		if 4*math.Pi*shape.Area() > 0.5*math.Pow(shape[0].Perimeter(), 2)*float64(len(shape)*len(shape)) {
			width = float64(p.Shop.ThinnestMM)
		}
		if at, area, length := leftOver(shape, width-2*px, px); area > 19+4*px*length && length > 4*width+1 {
			out = append(
				out,
				fmt.Sprintf("%s at %.1f, %.1f: %.1f square mm, %.1f mm long, are narrower than %.1f", g.Fill, at[0],
					at[1], area, length, width),
			)
		}
	}
	return out
}

// leftOver is the largest connected part of a region that a disc of a width does not reach, on a grid: a pixel in it,
// its area and its extent.
func leftOver(r geom.Region[geom.TruePoint], width, px float64) (at geom.TruePoint, area, length float64) {
	b := r.Bound().Pad(2 * px)
	w, h := int((b.Max[0]-b.Min[0])/px)+1, int((b.Max[1]-b.Min[1])/px)+1
	in := make([]bool, w*h)
	for y := range h {
		cy := b.Min[1] + (float64(y)+0.5)*px
		var xs []float64 // where the row crosses the border
		for _, ring := range r {
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				if (p[1] > cy) != (q[1] > cy) {
					xs = append(xs, p[0]+(q[0]-p[0])*(cy-p[1])/(q[1]-p[1]))
				}
			}
		}
		for x := range w {
			cx, odd := b.Min[0]+(float64(x)+0.5)*px, false
			for _, v := range xs {
				odd = odd != (v < cx)
			}
			in[y*w+x] = odd
		}
	}
	n := int(width / 2 / px)
	var disc [][2]int
	for y := -n; y <= n; y++ {
		for x := -n; x <= n; x++ {
			if float64(x*x+y*y)*px*px <= width*width/4 {
				disc = append(disc, [2]int{x, y})
			}
		}
	}
	stays := make([]bool, w*h)
	for y := n; y < h-n; y++ {
	next:
		for x := n; x < w-n; x++ {
			for _, d := range disc {
				if !in[(y+d[1])*w+x+d[0]] {
					continue next
				}
			}
			for _, d := range disc {
				stays[(y+d[1])*w+x+d[0]] = true
			}
		}
	}
	seen := make([]bool, w*h)
	for i := range in {
		if !in[i] || stays[i] || seen[i] {
			continue
		}
		seen[i] = true
		part := []int{i}
		x0, x1, y0, y1 := w, 0, h, 0
		for k := 0; k < len(part); k++ {
			x, y := part[k]%w, part[k]/w
			x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
			for _, j := range []int{part[k] - 1, part[k] + 1, part[k] - w, part[k] + w} {
				if in[j] && !stays[j] && !seen[j] {
					seen[j] = true
					part = append(part, j)
				}
			}
		}
		if a := float64(len(part)) * px * px; a > area {
			area, length = a, px*math.Hypot(float64(x1-x0+1), float64(y1-y0+1))
			at = geom.TruePoint{b.Min[0] + (float64(i%w)+0.5)*px, b.Min[1] + (float64(i/w)+0.5)*px}
		}
	}
	return at, area, length
}

// The places that a maker names on drawings that must be simplified lie within a twentieth of the width of areas that
// we find too thin, or of places of our notes (testdata/reference/maker.json, one maker's judgement).
func TestPlaces(t *testing.T) {
	data, err := os.ReadFile("../../testdata/reference/maker.json")
	require.NoError(t, err)
	var f struct {
		Records []struct {
			Name, Verdict string
			Why           []struct {
				Text string
				At   geom.ArtworkPoint
			}
		}
	}
	require.NoError(t, json.Unmarshal(data, &f))
	n := 0
	for _, rec := range f.Records {
		if rec.Verdict == string(plan.AsDrawn) {
			continue
		}
		r := once(t, "../../testdata/reference/"+rec.Name+".svg")
		if r.Plan.Verdict == plan.AsDrawn {
			continue // it fills more of the face than the record's, and passes
		}
		for _, why := range rec.Why {
			m := r.Plan.Artwork.ToTrue // x' = a x + c y + e, y' = b x + d y + f
			at := geom.TruePoint{float64(m[0])*why.At[0] + float64(m[2])*why.At[1] + float64(m[4]),
				float64(m[1])*why.At[0] + float64(m[3])*why.At[1] + float64(m[5])}
			near := math.Inf(1)
			for _, poly := range r.Plan.Failing {
				shape := judge.Region(poly)
				if shape.Contains(at) {
					near = 0
				}
				for _, ring := range shape {
					near = min(near, geom.LineDist(at, append(ring, ring[0])))
				}
			}
			for _, p := range r.Stages.Findings {
				if p.AtMM != nil {
					near = min(near, geom.Dist(geom.TruePoint(*p.AtMM), at))
				}
			}
			assert.LessOrEqual(t, near/float64(m[0]), 10.0, "%s: %s", rec.Name, why.Text)
			n++
		}
	}
	assert.Greater(t, n, 8)
}

// Symmetric in, symmetric out: the simplified drawing, mirrored or turned as the drawing itself can be, covers itself.
func TestSimplifiedSymmetry(t *testing.T) {
	mirror := func(p geom.TruePoint) geom.TruePoint { return geom.TruePoint{-p[0], p[1]} }
	turn := func(n float64) func(geom.TruePoint) geom.TruePoint {
		sin, cos := math.Sincos(2 * math.Pi / n)
		return func(p geom.TruePoint) geom.TruePoint {
			return geom.TruePoint{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]}
		}
	}
	for _, c := range []struct {
		name  string
		moves []func(geom.TruePoint) geom.TruePoint
	}{
		{"reference/citrus-8-thin", []func(geom.TruePoint) geom.TruePoint{mirror, turn(8)}},
		{"reference/ring-ticks-fine", []func(geom.TruePoint) geom.TruePoint{mirror, turn(48)}},
		{"corpora/twemoji-panda-face", []func(geom.TruePoint) geom.TruePoint{mirror}},
	} {
		if !*all && strings.HasPrefix(c.name, "corpora") { // half a minute
			continue
		}
		s, err := simplifiedOnce(t, "../../testdata/"+c.name+".svg")
		require.NoError(t, err)
		require.NotNil(t, s.After, c.name)
		was, is := wrong(s.Before, c.moves), wrong(s.After, c.moves)
		assert.LessOrEqual(t, is, was+0.004, "%s: share of the picture that does not fall on itself", c.name)
	}
}

// wrong is the largest share of points of the picture circle whose colour differs from that of their image.
func wrong(r *planner.Result, moves []func(geom.TruePoint) geom.TruePoint) float64 {
	var shapes []geom.Region[geom.TruePoint]
	var boxes []orb.Bound
	for _, g := range r.Plan.Picture {
		shapes = append(shapes, judge.Region(g.Shape))
		boxes = append(boxes, shapes[len(shapes)-1].Bound())
	}
	colour := func(p geom.TruePoint) string {
		for i, s := range shapes {
			if boxes[i].Contains(orb.Point(p)) && s.Contains(p) {
				return r.Plan.Picture[i].Fill
			}
		}
		return ""
	}
	radius := float64(r.Plan.Log.PictureDiameterMM) / 2
	worst := 0.0
	for _, m := range moves {
		n, bad := 0, 0
		for x := -radius; x < radius; x += 1.3 {
			for y := -radius; y < radius; y += 1.3 {
				if p := (geom.TruePoint{x, y}); math.Hypot(x, y) < 0.98*radius {
					n++
					if colour(p) != colour(m(p)) {
						bad++
					}
				}
			}
		}
		worst = max(worst, float64(bad)/float64(n))
	}
	return worst
}

// A refused change is not made; what is made instead has a new number, which can be refused too; other numbers stay.
func TestKeep(t *testing.T) {
	const name = "../../testdata/reference/house-windows.svg"
	s, err := simplifiedOnce(t, name)
	require.NoError(t, err)
	require.NotEmpty(t, s.Changes)
	first := s.Changes[0]
	kept, err := simpler(t, name, first.Number)
	require.NoError(t, err)
	require.NotNil(t, kept.After, "the next best passes")
	for _, c := range kept.Changes {
		assert.NotEqual(t, first.Keys, c.Keys)
		assert.Greater(t, c.Number, len(s.Changes), "a new number for what is new")
	}
	_, err = simpler(t, name, 99)
	assert.ErrorIs(t, err, planner.ErrKeep)
	_, err = simpler(t, "../../testdata/reference/letter-a.svg", 1)
	assert.ErrorIs(t, err, planner.ErrKeep, "nothing is changed, so nothing can be refused")
}

func BenchmarkSimplify(b *testing.B) {
	for _, name := range []string{"citrus-8-thin", "house-windows"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				s, err := simpler(b, "../../testdata/reference/"+name+".svg")
				if err != nil || s.After == nil {
					b.Fatal(err)
				}
			}
		})
	}
}
