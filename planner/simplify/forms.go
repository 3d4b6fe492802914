package simplify

import (
	"cmp"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/check"
	"sugarwright/planner/recipe"
)

// Failed is a part of a redrawn map that hands do not make, and the form nearest to it that they do.
type Failed struct {
	Colour int
	Shape  geom.Region[geom.TruePoint]
	Form   geom.Ring[geom.TruePoint] // nil: none is near
}

// Alike tells whether two parts may be copies.
func (f Failed) Alike(o Failed) bool {
	return o.Colour == f.Colour && math.Abs(o.Shape.Area()-f.Shape.Area()) < Tuned.Alike*f.Shape.Area()
}

// Plainer is a redrawn map that is plainer where it could not be put together: parts take the form that hands make; where
// there is none near, or none failed, something goes, for minutes over the clock as much as saves them. False where nothing
// more is to be had. The more often it failed, the bolder.
func (e Engine) Plainer(r *Result, failed []Failed, over float64, times int) (*Result, bool, error) {
	s := r.state
	s.spent = 0
	any := s.formed(failed)
	if !any {
		var at []geom.TruePoint
		for _, f := range failed {
			at = append(at, geom.Inside(f.Shape))
		}
		target := Guess(s.cur) - max(Tuned.LeastSaved*math.Pow(1.7, float64(times)), Tuned.GuessPerMin*over)
		any = s.takeOut(func() float64 { return Guess(s.cur) - target }, at, len(failed) > 0)
	}
	if !any {
		return nil, false, nil
	}
	out, err := s.result()
	return out, err == nil && out.Passes, err
}

// formed gives parts the forms that are near them, parts alike as one change; false where that changes nothing or the limits
// do not hold then.
func (s *state) formed(failed []Failed) bool {
	back := s.saved()
	var groups [][]Failed
	for _, f := range failed {
		if f.Colour == 0 && f.Shape.Area() < Tuned.BayShare*s.subjectArea {
			f.Form = nil // a bay: it closes
			groups = append(groups, []Failed{f})
			continue
		}
		if len(f.Form) < 3 {
			f.Form = s.nearest(f.Shape, f.Colour == 0)
		}
		if most := Tuned.MostForm * min(1, math.Sqrt(Tuned.FormShare*s.subjectArea/f.Shape.Area())); len(f.Form) < 3 || s.far(f) > most {
			continue
		}
		if k := slices.IndexFunc(groups, func(g []Failed) bool { return g[0].Alike(f) }); k >= 0 {
			groups[k] = append(groups[k], f)
		} else {
			groups = append(groups, []Failed{f})
		}
	}
	any := false
	for _, g := range groups {
		d := &decision{colour: g[0].Colour}
		o := option{kind: Plainer, to: g[0].Colour}
		for _, f := range g {
			o.coats = append(o.coats, s.form(f)...)
			d.places = append(d.places, check.Place{Shape: f.Shape, At: geom.Inside(f.Shape), Region: max(0, s.regionAt(geom.Inside(f.Shape)))})
		}
		d.options = []option{o}
		if len(o.coats) > 0 && !refuses(s.refused, d.keys(Plainer)) {
			s.made = append(s.made, d)
			any = true
		}
	}
	if !any {
		return false
	}
	s.rounds = 0
	before := s.turned
	if s.repaint() == nil && s.mend() == nil && len(s.places) == 0 && math.Abs(changed(s.turned)-changed(before)) > Tuned.LeastFormMM2 {
		return true
	}
	back()
	return false
}

// changed is the area that took on another colour.
func changed(turned []partition.Turned) (sum float64) {
	for _, t := range turned {
		sum += t.Area
	}
	return sum
}

// form is the paint that gives a part its form: what the form lacks of the part goes to the colour beside it, where there is
// one; what it has more is painted over its neighbours.
func (s *state) form(f Failed) (out []partition.Coat) {
	i := s.regionAt(geom.Inside(f.Shape))
	if i < 0 || s.cur.Regions[i].Colour != f.Colour {
		return nil
	}
	src := s.cur.Regions[i].Source
	if f.Form == nil {
		near := s.neighbours(check.Place{Region: i, Shape: f.Shape})
		if len(near) == 0 {
			return nil
		}
		return []partition.Coat{{Shape: []geom.Region[geom.TruePoint]{f.Shape}, Over: func(c int) bool { return c == 0 }, Colour: near[0].colour, Source: src}}
	}
	form := geom.Region[geom.TruePoint]{f.Form}
	own := func(c int) bool { return c == f.Colour }
	less, err := skeleton.Minus(f.Shape, form)
	more, err2 := skeleton.Minus(form, f.Shape)
	if err != nil || err2 != nil {
		return nil
	}
	for _, piece := range more { // what it would cover
		if k := s.regionAt(geom.Inside(piece)); k >= 0 && s.cur.Regions[k].Colour != 0 && s.cur.Regions[k].Colour != f.Colour && piece.Area() > Tuned.MostCovered*s.cur.Regions[k].Area {
			return nil
		}
	}
	for _, piece := range less {
		if piece.Area() < Tuned.LeastChangeMM2 {
			continue
		}
		near := s.neighbours(check.Place{Region: i, Shape: piece})
		if len(near) == 0 || near[0].length < 0.15*piece.Perimeter() {
			continue // a cut, not a border
		}
		out = append(out, partition.Coat{Shape: []geom.Region[geom.TruePoint]{piece}, Over: own, Colour: near[0].colour, Source: src})
	}
	return append(out, partition.Coat{Shape: []geom.Region[geom.TruePoint]{form}, Colour: f.Colour, Source: src})
}

// far is how much of a part its form changes, as a share of its area.
func (s *state) far(f Failed) float64 {
	form := geom.Region[geom.TruePoint]{f.Form}
	less, err := skeleton.Minus(f.Shape, form)
	more, err2 := skeleton.Minus(form, f.Shape)
	if err != nil || err2 != nil {
		return math.Inf(1)
	}
	sum := 0.0
	for _, r := range append(less, more...) {
		sum += r.Area()
	}
	return sum / f.Shape.Area()
}

// nearest is the form nearest to a part that none fits: that of its plainer outlines, or an oval, which changes least.
func (s *state) nearest(r geom.Region[geom.TruePoint], ground bool) (form geom.Ring[geom.TruePoint]) {
	if len(r) > 1 {
		return nil
	}
	tries := []geom.Region[geom.TruePoint]{oval(r), {geom.Hull(r[0])}}
	for _, radius := range plainMM {
		if c, err := skeleton.Closed(r, radius); err == nil && len(c) == 1 {
			tries = append(tries, geom.Region[geom.TruePoint]{c[0][0]})
		}
		if o, err := skeleton.Open(r, 2*radius); err == nil {
			rest := []geom.Region[geom.TruePoint]{r}
			for _, p := range o.Left {
				if len(rest) == 1 {
					if m, err := skeleton.Minus(rest[0], p.Shape); err == nil {
						rest = m
					}
				}
			}
			if len(rest) > 0 {
				tries = append(tries, geom.Region[geom.TruePoint]{largest(rest)[0]})
			}
		}
	}
	best := Tuned.MostForm
	for _, t := range tries {
		fit := recipe.Best(t, ground, s.shop.Least(), recipe.Quick)
		if !fit.Found || fit.Class == recipe.Refused {
			continue
		}
		ring := fit.Placed()
		if d := s.far(Failed{Shape: r, Form: ring}); d < best {
			best, form = d, ring
		}
	}
	return form
}

func largest(all []geom.Region[geom.TruePoint]) geom.Region[geom.TruePoint] {
	return slices.MaxFunc(all, func(a, b geom.Region[geom.TruePoint]) int { return cmp.Compare(a.Area(), b.Area()) })
}

// oval of the moments and the area of a region.
func oval(r geom.Region[geom.TruePoint]) geom.Region[geom.TruePoint] {
	m := geom.MomentsOf(r)
	mean, half := (m.Ix+m.Iy)/2, math.Hypot((m.Iy-m.Ix)/2, m.Ixy)
	long, short, turn := math.Sqrt(mean+half), math.Sqrt(math.Max(1e-9, mean-half)), math.Atan2(2*m.Ixy, m.Iy-m.Ix)/2
	k := math.Sqrt(r.Area() / (math.Pi * long * short))
	sin, cos := math.Sincos(turn)
	var ring geom.Ring[geom.TruePoint]
	const sides = 48
	for i := range sides {
		y, x := math.Sincos(2 * math.Pi * float64(i) / sides)
		x, y = k*long*x, k*short*y
		ring = append(ring, geom.TruePoint{m.Centroid[0] + cos*x - sin*y, m.Centroid[1] + sin*x + cos*y})
	}
	return geom.Region[geom.TruePoint]{ring}
}
