package replay

import (
	"math"

	"sugarwright/geom"
	"sugarwright/planner/build"
	"sugarwright/planner/stand"
)

// What hands do, common practice, no source: a part comes down by 15 degrees at least, or is slid along the table within
// 15 degrees of level; it is not pushed under what lies there, and what is slid, or goes under an overhang, is small.
const (
	downSin      = 0.25
	slideSin     = 0.27
	slideMM2     = 3000
	belowMM      = 3.05
	underMM      = 1.6
	underShare   = 0.35
	overhangMM2  = 400
	overhanging  = 0.55
	bentUnder    = 0.26
	foldsFromRad = 2.7
)

// weigh is what is wrong with a move under gravity, as the block is turned; nothing where hands do it so.
func weigh[P geom.Frame](e build.Entry, shape geom.Region[P], there []placed[P], turned float64) string {
	sin, cos := math.Sincos(turned * math.Pi / 180)
	up := geom.Vec{sin, cos}
	switch e.Move {
	case build.Lay:
		rise := e.Direction.Unit().Dot(up)
		low, foot := lowest(shape, up), math.Inf(1)
		for _, t := range there {
			foot = math.Min(foot, lowest(t.shape, up))
		}
		below, under := foot-low, overhead(shape, there, up)
		switch {
		case rise > slideSin:
			return "the part would rise into its place"
		case rise > -downSin && (shape.Area() > slideMM2 || math.Abs(below) > belowMM):
			return "the part would be slid in above the table, or is too heavy for it"
		case below > belowMM || under > underShare && below > underMM:
			return "the part would be pushed in from below"
		case under > overhanging && shape.Area() > overhangMM2:
			return "the part would go under an overhang"
		}
	case build.Bend:
		if overhead(shape, there, up) > bentUnder {
			return "a strip is bent on from below"
		}
	}
	return ""
}

func lowest[P geom.Frame](r geom.Region[P], up geom.Vec) float64 {
	low := math.Inf(1)
	for _, p := range r[0] {
		low = math.Min(low, geom.Vec(p).Dot(up))
	}
	return low
}

// overhead is over which share of its width something lies above a part: by looking up from its border.
func overhead[P geom.Frame](shape geom.Region[P], there []placed[P], up geom.Vec) float64 {
	side := geom.Vec{up[1], -up[0]}
	covered, all := 0.0, 0.0
	ring := shape[0]
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		v := geom.Sub(q, p)
		wide := -v.Dot(side) // above nothing of the part itself: its upper border runs to the left
		if wide <= 0 {
			continue
		}
		n := int(math.Ceil(v.Len()))
		for k := range n {
			at := geom.Add(geom.Add(p, v, (float64(k)+0.5)/float64(n)), up, 0.25)
			if rayHits(at, up, shape) { // another border of the part is above
				continue
			}
			all += wide / float64(n)
			for _, t := range there {
				if t.shape.Contains(at) || rayHits(at, up, t.shape) {
					covered += wide / float64(n)
					break
				}
			}
		}
	}
	if all == 0 {
		return 0
	}
	return covered / all
}

// standing checks that what is there stands as it is turned; what a wrap has closed round is one body, which is kept in a
// cradle.
func standing[P geom.Frame](there []placed[P], turned float64) bool {
	sin, cos := math.Sincos(turned * math.Pi / 180)
	var shapes []geom.Region[P]
	closed := -1
	for i, t := range there {
		shapes = append(shapes, t.shape)
		if len(t.shape) > 1 {
			closed = i
		}
	}
	if closed == len(there)-1 {
		return true
	}
	body := func(i int) int { // all that was there when a wrap closed is one
		if i <= closed {
			return 0
		}
		return i
	}
	return stand.Of(shapes).Stands(body, geom.Vec{sin, cos}, stand.Held) < stand.Falls
}
