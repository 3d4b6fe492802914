package geom

import "math"

// Joined is the union of regions that share border edges, point for point, in one piece; ok is false when they share
// none, when they meet in a point too, or when the union is not one piece.
func Joined[P Frame](regions ...Region[P]) (out Region[P], ok bool) {
	next, order, shared, ok := outerEdges(regions)
	if !ok || shared == 0 {
		return nil, false
	}
	var outer Ring[P]
	var holes Region[P]
	done := map[P]bool{}
	for _, p := range order {
		if done[p] {
			continue
		}
		var ring Ring[P]
		for q := p; !done[q]; q = next[q] {
			if _, ok := next[q]; !ok {
				return nil, false
			}
			done[q] = true
			ring = append(ring, q)
		}
		switch area := ring.Area(); {
		case area > 0 && outer == nil:
			outer = ring
		case area > 0:
			return nil, false // two pieces
		case math.Abs(area) > 0:
			holes = append(holes, ring)
		}
	}
	return append(Region[P]{outer}, holes...), outer != nil
}

// outerEdges are the edges of regions that no other has the other way round: by their start, in order; and how many
// were shared.
func outerEdges[P Frame](regions []Region[P]) (next map[P]P, order []P, shared int, ok bool) {
	type edge [2]P
	edges := map[edge]bool{}
	each := func(do func(p, q P) bool) bool {
		for _, r := range regions {
			for _, ring := range r {
				for k, p := range ring {
					if !do(p, ring[(k+1)%len(ring)]) {
						return false
					}
				}
			}
		}
		return true
	}
	each(func(p, q P) bool { edges[edge{p, q}] = true; return true })
	next = map[P]P{}
	ok = each(func(p, q P) bool {
		if edges[edge{q, p}] {
			shared++
			return true
		}
		if _, twice := next[p]; twice {
			return false // they meet in a point too
		}
		next[p] = q
		order = append(order, p)
		return true
	})
	return next, order, shared, ok
}
