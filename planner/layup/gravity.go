package layup

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/planner/recipe"
	"sugarwright/planner/removal"
	"sugarwright/planner/stand"
)

// upward is which way is up, as drawn, in a block that is turned by so many degrees counter-clockwise.
func upward(theta float64) geom.Vec {
	sin, cos := math.Sincos(theta * math.Pi / 180)
	return geom.Vec{sin, cos}
}

// thetas are the turns of a block that are tried: sixteen, and those that lay a long straight border level.
func thetas(ps []*piece) []float64 {
	var out []float64
	for k := range Tuned.EvenTurns {
		out = append(out, 360*float64(k)/float64(Tuned.EvenTurns))
	}
	type side struct{ long, theta float64 }
	var sides []side
	for _, p := range ps {
		ring := p.shape[0]
		for i, q := range ring {
			d := geom.Sub(ring[(i+1)%len(ring)], q)
			if l := d.Len(); l >= Tuned.LevelMM {
				in := d.Unit().Left() // up, where the border lies on the table
				sides = append(sides, side{l, math.Mod(math.Atan2(in[0], in[1])*180/math.Pi+360, 360)})
			}
		}
	}
	slices.SortStableFunc(sides, func(a, b side) int {
		if math.Round(a.long*10) != math.Round(b.long*10) {
			return int(math.Round(b.long*10) - math.Round(a.long*10))
		}
		return int(math.Round(a.theta - b.theta))
	})
	for _, s := range sides {
		if len(out) == Tuned.EvenTurns+Tuned.LevelTurns {
			break
		}
		if !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(turn(o, s.theta)) < 3 }) {
			out = append(out, s.theta)
		}
	}
	return out
}

// bodies says of which body a piece is a part: what lies in a closed wrap is one with it.
func (a *apart) bodies(present removal.Bits) func(int) int {
	body := make([]int, len(a.ps))
	for i := range body {
		body[i] = i
		if !present.Has(i) {
			body[i] = -1
		}
	}
	for i, p := range a.ps {
		if p.rule.Inside == nil || !present.Has(i) {
			continue
		}
		for j := range a.ps {
			if p.rule.Inside.Has(j) && present.Has(j) {
				body[j] = body[i]
			}
		}
	}
	return func(i int) int { return body[i] }
}

// stands is how the pieces that are present stand in a turn; what has been found is remembered.
func (a *apart) stands(present removal.Bits, theta float64) stand.Level {
	key := standing{present.Key(), math.Round(10 * theta)}
	if l, ok := a.found[key]; ok {
		return l
	}
	l := stand.Free
	if !a.closed(present) {
		n := 0
		for i := range a.ps {
			if present.Has(i) {
				n++
			}
		}
		a.asked += n * n
		l = a.pile.Stands(a.bodies(present), upward(theta), stand.Held)
	}
	a.found[key] = l
	return l
}

type standing struct {
	present string
	theta   float64
}

// closed tells whether all that is present lies in one wrap: it is kept turning, or in a cradle.
func (a *apart) closed(present removal.Bits) bool {
	return slices.ContainsFunc(a.ps, func(p *piece) bool {
		return p.rule.Inside != nil && present.Meets(p.rule.Own) && p.rule.Unwraps(present)
	})
}

// cover is which share of a piece's width pieces that are present lie above.
func (a *apart) cover(i int, present removal.Bits, up geom.Vec) float64 {
	side := geom.Vec{up[1], -up[0]}
	shape := a.ps[i].shape[0]
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range shape {
		x := q[0]*side[0] + q[1]*side[1]
		lo, hi = math.Min(lo, x), math.Max(hi, x)
	}
	const lines = 20
	under := 0
	for k := range lines {
		x := lo + (hi-lo)*(float64(k)+0.5)/lines
		_, top, ok := reach(shape, side, up, x)
		if !ok {
			continue
		}
		for j, p := range a.ps {
			if j == i || !present.Has(j) {
				continue
			}
			if _, above, ok := reach(p.shape[0], side, up, x); ok && above > top+0.2 {
				under++
				break
			}
		}
	}
	return float64(under) / lines
}

// reach is how far an outline goes along up on a line across.
func reach(ring geom.Ring[geom.TruePoint], side, up geom.Vec, x float64) (low, top float64, ok bool) {
	low, top = math.Inf(1), math.Inf(-1)
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a, b := p[0]*side[0]+p[1]*side[1]-x, q[0]*side[0]+q[1]*side[1]-x
		if (a < 0) == (b < 0) {
			continue
		}
		v := geom.Sub(q, p)
		y := p[0]*up[0] + p[1]*up[1] + v.Dot(up)*a/(a-b)
		low, top = math.Min(low, y), math.Max(top, y)
	}
	return low, top, top >= low
}

// lowest point of a piece, along up.
func lowest(p *piece, up geom.Vec) float64 {
	low := math.Inf(1)
	for _, q := range p.shape[0] {
		low = math.Min(low, q[0]*up[0]+q[1]*up[1])
	}
	return low
}

// foot is the lowest point of the pieces that are present.
func (a *apart) foot(present removal.Bits, up geom.Vec) float64 {
	low := math.Inf(1)
	for i, p := range a.ps {
		if present.Has(i) {
			low = math.Min(low, lowest(p, up))
		}
	}
	return low
}

// begins tells whether a piece is a beginning as it lies: on a foot that is broad enough, or round below in a cradle.
func (a *apart) begins(i int, theta float64) bool {
	present := removal.NewBits(len(a.ps))
	present.Set(i)
	up := upward(theta)
	side := geom.Vec{up[1], -up[0]}
	p := a.ps[i]
	if p.fit.Bent() && len(a.ps) > 1 && !a.bentFirst { // it is bent onto something
		return false
	}
	low := lowest(p, up)
	left, right, high := math.Inf(1), math.Inf(-1), 0.0
	for _, q := range p.shape[0] {
		x := q[0]*side[0] + q[1]*side[1]
		left, right, high = math.Min(left, x), math.Max(right, x), math.Max(high, q[0]*up[0]+q[1]*up[1]-low)
	}
	wide := right - left
	switch a.stands(present, theta) {
	case stand.Free:
		f := footOf(p.shape[0], side, up, low, Tuned.FootMM)
		return high <= Tuned.FootHigh*f && f >= math.Min(Tuned.FootShare*wide, Tuned.FootWideMM) || a.round(p, side, up, low, wide, high)
	case stand.Propped:
		return a.round(p, side, up, low, wide, high)
	}
	return false
}

// round tells whether a piece is blunt below and not high: it lies in a cradle, or against a bar.
func (a *apart) round(p *piece, side, up geom.Vec, low, wide, high float64) bool {
	return footOf(p.shape[0], side, up, low, math.Max(Tuned.BluntMM, Tuned.BluntRise*wide)) >= wide/2 && high <= Tuned.BluntHigh*wide
}

// footOf is how wide an outline is within a height of its lowest point.
func footOf(ring geom.Ring[geom.TruePoint], side, up geom.Vec, low, within float64) float64 {
	left, right := math.Inf(1), math.Inf(-1)
	add := func(p geom.TruePoint) {
		x := p[0]*side[0] + p[1]*side[1]
		left, right = math.Min(left, x), math.Max(right, x)
	}
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a, b := p[0]*up[0]+p[1]*up[1]-low-within, q[0]*up[0]+q[1]*up[1]-low-within
		if a <= 0 {
			add(p)
		}
		if (a < 0) != (b < 0) {
			add(geom.Add(p, geom.Sub(q, p), a/(a-b)))
		}
	}
	return math.Max(0, right-left)
}

// farRound tells whether a strip goes so far round what it lies on that its ends come from below: it is laid flat, what
// it covers is set on it, and its ends are folded up.
func farRound(r recipe.Recipe) bool { return r.Turn() > Tuned.FoldRad }
