package split

import (
	"math"
	"sugarwright/planner/cuts"

	"sugarwright/geom"
	"sugarwright/planner/recipe"
)

// stout tells, quickly, that a region is far from thin: near its hull, wide, and without sharp corners. The opening of
// a convex region is in one piece; it does not vanish when the width is 1.5 times the disc's (the worst is the triangle
// of equal sides); a tip of a corner reaches r (1/sin(a/2) - 1) beyond the disc, four diameters at 13 degrees.
func stout(r region, need float64) bool {
	if len(r) != 1 {
		return false
	}
	hull := geom.Hull(r[0])
	if r.Area() < recipe.Tuned.StraightFill*hull.Area() || geom.SmallestRect(hull).Width < 2*need {
		return false
	}
	corners := geom.Thinned(hull, 0.3)
	for i, p := range corners {
		in := geom.Sub(p, corners[(i+len(corners)-1)%len(corners)])
		out := geom.Sub(corners[(i+1)%len(corners)], p)
		if math.Abs(math.Atan2(in.Cross(out), in.Dot(out))) > 160*math.Pi/180 {
			return false
		}
	}
	return true
}

// roomy tells, quickly, that nowhere along a region's border the way across is near the thinnest, but in tips: rays
// square to the border, half a thinnest apart, run 1.3 times the thinnest or end on the border close by, as they do in
// a corner.
func roomy(r region, need float64) bool {
	if len(r) != 1 || r.Perimeter() > 400*need {
		return false
	}
	border := region{geom.Thinned(r[0], 0.02)}
	q := geom.Resampled(r[0], need/2)
	n := len(q)
	step := r.Perimeter() / float64(n)
	reach := int(4*need/step) + 1
	room := false
	for i := range q {
		t := geom.Sub(q[(i+1)%n], q[(i+n-1)%n]).Unit()
		far, d, ok := cuts.Ray(border, geom.Add(q[i], t.Left(), 2e-3), t.Left())
		if !ok {
			continue
		}
		if d > 1.3*need {
			room = true
			continue
		}
		tip := false
		for j := -reach; j <= reach && !tip; j++ {
			tip = geom.Dist(q[((i+j)%n+n)%n], far) < step
		}
		if !tip {
			return false
		}
	}
	return room
}
