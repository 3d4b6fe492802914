package judge

import (
	"math"
	"sort"

	"sugarwright/geom"
	"sugarwright/planner/plan"
)

// What a part may be off its recipe: the limits by class, with what measuring on a grid and in another frame adds.
const (
	closeMisfit   = 0.12 + 0.03
	pressedMisfit = 0.20 + 0.03
	lumpMM        = 2 + 0.6
	lumpShare     = 0.06 * 1.3
	pressedLumpMM = 3 + 0.75
	areaOff       = 0.03
)

// parts is P3: drawn from its printed sizes alone, each part's section is found again on its polygon; the area of
// that drawing is the part's within 3 %, and so is its weight; no size lies between 0 and 1 mm.
func (j *judge) parts() {
	drawn := map[int]bool{}
	for _, e := range j.p.Elements {
		for k, v := range e.Size {
			whole := k == "side" || k == "grooves" || k == "across"
			j.fault(v == 0 || whole || math.Abs(float64(v)) >= 0.999, "%s: %s is %.2f mm (P3)", e.ID, k, float64(v))
		}
		if drawn[e.Number] {
			continue
		}
		drawn[e.Number] = true
		area, ring := Section(e)
		k := j.p.Index().Scale(&e) // printed as thick as it is built, judged as it is laid
		area /= k * k
		for i := range ring {
			ring[i] = geom.TruePoint{ring[i][0] / k, ring[i][1] / k}
		}
		density := float64(j.p.Index().Colour(e.Colour).Density)
		grams := area * density * float64(j.p.Log.LengthMM) / 1000
		j.fault(near(float64(e.MassG), grams, areaOff), "%s weighs %.0f g, its printed size %.0f (P3)", e.ID,
			float64(e.MassG), grams)
		if ring == nil || e.Class == plan.ClosingClass {
			continue
		}
		misfit, lump := Compare(made(j.p, e), ring)
		if misfit > closeMisfit || lump > lumpMM {
			again, less := Compare(Region(e.True), ring)
			misfit, lump = math.Min(misfit, again), math.Min(lump, less)
		}
		most, large := closeMisfit, math.Max(lumpMM, lumpShare*math.Sqrt(float64(e.AreaMM2)))
		if e.Class == plan.PressedClass {
			j.fault(e.Kind != plan.Subject && e.AreaMM2 <= 700, "%s is no filler (P3)", e.ID)
			most, large = pressedMisfit, math.Max(large, pressedLumpMM)
		}
		j.fault(misfit <= most, "%s is %.1f %% off its printed size (P3)", e.ID, 100*misfit)
		j.fault(lump <= large, "%s has a lump of %.1f mm beside its printed size (P3)", e.ID, lump)
	}
}

// made is the polygon that a part's size speaks of: as it is laid; of what has copies, and of rods, as it must be once the
// log is round.
func made(p *plan.Plan, e plan.Element) geom.Region[geom.TruePoint] {
	alone := e.Form != plan.Rod
	for _, o := range p.Elements {
		alone = alone && (o.Number != e.Number || o.ID == e.ID)
	}
	switch {
	case !alone:
		return Region(e.True)
	case len(e.InBlock) > 0:
		return Region(e.InBlock)
	}
	return Region(e.Laid)
}

// Section draws a part from its printed sizes: its area by that drawing, square millimetres, and its outline. There is
// no outline of sheets, which take that of what they are closed round, and of rolls, which turn more than once.
func Section(e plan.Element) (area float64, ring geom.Ring[geom.TruePoint]) {
	v := func(k string) float64 { return float64(e.Size[k]) }
	turn := 0.0
	for _, a := range e.Arcs {
		turn += math.Abs(float64(a.TurnDeg))
	}
	if e.Form == plan.Wrap || turn > 360 {
		return v("width_mm") * v("thickness_mm"), nil
	}
	switch e.Operation {
	case plan.BendOnce, plan.BendTwice, plan.Follow:
		ring = band(e)
	default:
		ring = bar(e)
	}
	return math.Abs(ring.Area()), ring
}

// pen draws an outline.
type pen struct{ ring geom.Ring[geom.TruePoint] }

func (p *pen) to(x, y float64) { p.ring = append(p.ring, geom.TruePoint{x, y}) }

// bow draws from the last point to another along an arc whose middle lies rise to the right of the chord's.
func (p *pen) bow(x, y, rise float64) {
	a := p.ring[len(p.ring)-1]
	dx, dy := x-a[0], y-a[1]
	c := math.Hypot(dx, dy)
	if h := math.Abs(rise); h > 1e-9 {
		// By height over the chord at even steps of the angle: x = r sin t, y = r cos t - (r - h).
		r := (c*c + 4*h*h) / (8 * h)
		half := math.Asin(math.Min(1, c/(2*r)))
		if h > c/2 {
			half = math.Pi - half
		}
		const n = 20
		for k := 1; k < n; k++ {
			t := half * (2*float64(k)/n - 1)
			along, over := 0.5+r*math.Sin(t)/c, r*math.Cos(t)-(r-h)
			if rise < 0 {
				over = -over
			}
			p.to(a[0]+dx*along+dy/c*over, a[1]+dy*along-dx/c*over)
		}
	}
	p.to(x, y)
}

// bar draws a straight bar, worked as its operation says.
func bar(e plan.Element) geom.Ring[geom.TruePoint] {
	v := func(k string) float64 { return float64(e.Size[k]) }
	var at [][2]float64 // its corners, counter-clockwise from the left end of the foot
	rise := map[int]float64{}
	switch w, h := v("width_mm"), v("thickness_mm"); e.Form {
	case plan.Rod:
		at = [][2]float64{{0, 0}, {v("diameter_mm"), 0}}
		rise[0], rise[1] = v("diameter_mm")/2, v("diameter_mm")/2
	case plan.Oval:
		p := &pen{}
		for k := range 120 {
			t := 2 * math.Pi * float64(k) / 120
			p.to(v("long_mm")/2*math.Cos(t), v("short_mm")/2*math.Sin(t))
		}
		return p.ring
	case plan.Bar, plan.Strip:
		at = [][2]float64{{0, 0}, {w, 0}, {w + v("slant_mm"), h}, {v("slant_mm"), h}}
	case plan.Segment:
		at = [][2]float64{{0, 0}, {v("chord_mm"), 0}}
		rise[1] = v("height_mm")
	case plan.FlatRod:
		d, h := v("diameter_mm"), v("height_mm")
		at = [][2]float64{{0, 0}, {2 * math.Sqrt(h*(d-h)), 0}}
		rise[1] = h
	case plan.Wedge:
		m := v("base_mm")/2 + v("slant_mm")
		at = [][2]float64{{0, 0}, {v("base_mm"), 0}, {m + v("top_mm")/2, v("height_mm")}, {m - v("top_mm")/2, v("height_mm")}}
	case plan.Triangle:
		at = [][2]float64{{0, 0}, {v("base_mm"), 0}, {v("apex_mm"), v("height_mm")}}
	case plan.Leaf:
		at = [][2]float64{{0, 0}, {v("chord_mm"), 0}}
		rise[0], rise[1] = v("height_2_mm"), v("height_mm")
	case plan.Tapered:
		at = [][2]float64{{0, -v("end_mm") / 2}, {w / 2, -h / 2}, {w, -v("end_2_mm") / 2}, {w, v("end_2_mm") / 2}, {w / 2, h / 2}, {0, v("end_mm") / 2}}
	case plan.Teardrop:
		r, l := v("diameter_mm")/2, v("length_mm")
		x, y := r-r*r/(l-r)*-1, r*math.Sqrt(1-r*r/((l-r)*(l-r))) // where the tangents from the tip touch
		at = [][2]float64{{l, 0}, {x, y}, {x, -y}}
		rise[1] = x
	}
	side := int(e.Size["side"])
	n := len(at)
	over := (side + 1) % max(1, n)
	if n == 4 {
		over = (side + 2) % 4
	}
	if e.Operation == plan.Bow {
		rise[side] += v("bow_mm")
		rise[over] += v("bow_2_mm")
	}
	p := &pen{}
	if e.Operation != plan.CutEdge || side != n-1 { // there the first corner goes
		p.to(at[0][0], at[0][1])
	}
	for k := range at {
		a, b := at[k], at[(k+1)%n]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		on := func(s float64) (float64, float64) { return a[0] + (b[0]-a[0])*s/l, a[1] + (b[1]-a[1])*s/l }
		row := func(name string, n int) {
			d, deep := v(name+"_mm"), v(name+"_depth_mm")
			half := math.Sqrt(deep * (d - deep))
			for i := range n {
				x := v(name+"_at_mm") + float64(i)*v(name+"_pitch_mm")
				p.to(on(x - half))
				bx, by := on(x + half)
				p.bow(bx, by, -deep)
			}
		}
		switch {
		case e.Operation == plan.CutEdge && k == side:
			p.to(on(l - v("cut_width_mm")))
			continue
		case e.Operation == plan.CutEdge && k == (side+1)%n:
			p.to(on(v("cut_depth_mm")))
		case e.Operation == plan.Groove && k == side:
			row("groove", 1)
		case e.Operation == plan.Grooves && k == side:
			row("groove", int(math.Round(v("grooves"))))
		case e.Operation == plan.Grooves && k == over:
			row("across", int(math.Round(v("across"))))
		}
		p.bow(b[0], b[1], rise[k])
	}
	return p.ring
}

// band draws a bent strip about its middle line, point by point.
func band(e plan.Element) geom.Ring[geom.TruePoint] {
	w, tm := float64(e.Size["width_mm"]), float64(e.Size["thickness_mm"])
	e0, e1 := tm, tm
	if e.Form == plan.Tapered {
		e0, e1 = float64(e.Size["end_mm"]), float64(e.Size["end_2_mm"])
	}
	b0, b1 := float64(e.Size["bevel_mm"]), float64(e.Size["bevel_2_mm"])
	const n = 120
	var left, right geom.Ring[geom.TruePoint]
	x, y, way, i, gone := 0.0, 0.0, 0.0, 0, 0.0
	ds := w / n
	for k := 0; k <= n; k++ {
		s := w * float64(k) / n
		t := e0 + (tm-e0)*s/(w/2)
		if s > w/2 {
			t = e1 + (tm-e1)*(w-s)/(w/2)
		}
		sin, cos := math.Sincos(way)
		// Bevels lengthen the left side and shorten the right by as much, at the very ends.
		cut := 0.0
		if k == 0 {
			cut = -b0
		} else if k == n {
			cut = b1
		}
		lx, ly := x-sin*t/2+cos*cut, y+cos*t/2+sin*cut
		rx, ry := x+sin*t/2-cos*cut, y-cos*t/2-sin*cut
		kept := func(at, bevel float64, from bool) bool { // not beyond a bevelled end
			if from {
				return k == 0 || s > -bevel*at
			}
			return k == n || w-s > -bevel*at
		}
		if kept(1, b0, true) && kept(1, b1, false) {
			left = append(left, geom.TruePoint{lx, ly})
		}
		if kept(-1, b0, true) && kept(-1, b1, false) {
			right = append(right, geom.TruePoint{rx, ry})
		}
		for i < len(e.Arcs)-1 && s >= gone+float64(e.Arcs[i].LengthMM)-1e-9 {
			gone += float64(e.Arcs[i].LengthMM)
			i++
		}
		d := 0.0
		if a := e.Arcs[i]; a.LengthMM > 0 {
			d = float64(a.TurnDeg) / float64(a.LengthMM) * math.Pi / 180 * ds
		}
		x, y, way = x+math.Cos(way+d/2)*ds, y+math.Sin(way+d/2)*ds, way+d
	}
	return append(right, left.Reversed()...)
}

// Compare lays an outline on a region, turned and perhaps mirrored so that they differ least, their middles on each
// other: the area in which they differ over the region's, and the diameter of the largest disc in it.
func Compare(r geom.Region[geom.TruePoint], ring geom.Ring[geom.TruePoint]) (misfit, lump float64) {
	if ring.Area() < 0 {
		ring = ring.Reversed()
	}
	m := geom.MomentsOf(geom.Region[geom.TruePoint]{ring})
	to := geom.MomentsOf(r)
	far := 0.0
	for _, p := range r[0] {
		far = math.Max(far, geom.Dist(p, to.Centroid))
	}
	place := func(x [3]float64, mirror float64) geom.Region[geom.TruePoint] {
		s, c := math.Sincos(x[0])
		out := make(geom.Ring[geom.TruePoint], len(ring))
		for i, p := range ring {
			u, w := mirror*(p[0]-m.Centroid[0]), p[1]-m.Centroid[1]
			out[i] = geom.TruePoint{to.Centroid[0] + x[1] + c*u - s*w, to.Centroid[1] + x[2] + s*u + c*w}
		}
		return geom.Region[geom.TruePoint]{out}
	}
	const coarse = 44
	off := func(o geom.Region[geom.TruePoint], n int) float64 {
		sum, step := 0.0, 2.4*far/float64(n)
		for i := range n {
			sum += apart(r, o, to.Centroid[1]+(float64(i)+0.5-float64(n)/2)*step)
		}
		return sum * step / to.Area
	}
	// The most promising lies, of sixty turns on both hands, are improved.
	type lie struct {
		x         [3]float64
		hand, off float64
	}
	var lies []lie
	for _, hand := range []float64{1, -1} {
		for k := range 60 {
			l := lie{[3]float64{2 * math.Pi * float64(k) / 60}, hand, 0}
			l.off = off(place(l.x, hand), coarse)
			lies = append(lies, l)
		}
	}
	sort.SliceStable(lies, func(i, j int) bool { return lies[i].off < lies[j].off })
	best, least, hand := [3]float64{}, math.Inf(1), 1.0
	for _, l := range lies[:8] {
		if least < closeMisfit/3 { // near enough
			break
		}
		l.off = off(place(l.x, l.hand), 2*coarse)
		for step := 0.05; step > 0.0015; step /= 2 {
			for again := 4; again > 0; again-- {
				was := l.off
				for i := range l.x {
					for _, by := range []float64{step, -step} {
						x := l.x
						if i > 0 {
							by *= far / 2
						}
						x[i] += by
						if d := off(place(x, l.hand), 2*coarse); d < l.off {
							l.x, l.off = x, d
						}
					}
				}
				if l.off == was {
					break
				}
			}
		}
		if l.off < least {
			best, least, hand = l.x, l.off, l.hand
		}
	}
	// Of lies that leave hardly more between them the one with the smaller disc counts: a hand lays it so.
	lump = largest(r, place(best, hand), far, to.Centroid)
	for again := true; again && lump > lumpMM; {
		again = false
		for i := range best {
			for _, by := range []float64{0.02, -0.02} {
				x := best
				if i > 0 {
					by *= far / 2
				}
				x[i] += by
				o := place(x, hand)
				if d := off(o, 2*coarse); d <= least+0.01 {
					if l := largest(r, o, far, to.Centroid); l < lump-0.05 {
						best, lump, again = x, l, true
					}
				}
			}
		}
	}
	return least, lump
}

// apart is along how much of a level line one of two regions lies and the other does not.
func apart(a, b geom.Region[geom.TruePoint], y float64) (sum float64) {
	type crossing struct {
		x     float64
		which int
	}
	var all []crossing
	for which, r := range []geom.Region[geom.TruePoint]{a, b} {
		for _, ring := range r {
			for k, p := range ring {
				if q := ring[(k+1)%len(ring)]; (p[1] < y) != (q[1] < y) {
					all = append(all, crossing{p[0] + (q[0]-p[0])*(y-p[1])/(q[1]-p[1]), which})
				}
			}
		}
	}
	sort.Slice(all, func(i, j int) bool { return all[i].x < all[j].x })
	in := [2]bool{}
	for i, c := range all {
		if i > 0 && in[0] != in[1] {
			sum += c.x - all[i-1].x
		}
		in[c.which] = !in[c.which]
	}
	return sum
}

// largest is the diameter of the largest disc in the difference of two regions, by points on a grid.
func largest(a, b geom.Region[geom.TruePoint], far float64, at geom.TruePoint) float64 {
	border := func(r geom.Region[geom.TruePoint], p geom.TruePoint) float64 {
		d := math.Inf(1)
		for _, ring := range r {
			for k := range ring {
				d = math.Min(d, geom.SegmentDist(p, ring[k], ring[(k+1)%len(ring)]))
			}
		}
		return d
	}
	const n = 70
	most, step := 0.0, 2.2*far/n
	for i := range n {
		for k := range n {
			p := geom.TruePoint{at[0] + (float64(i)+0.5-n/2.0)*step, at[1] + (float64(k)+0.5-n/2.0)*step}
			if a.Contains(p) != b.Contains(p) {
				if d := border(a, p); d > most {
					most = math.Max(most, math.Min(d, border(b, p)))
				}
			}
		}
	}
	return 2 * most
}
