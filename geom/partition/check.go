package partition

import (
	"sugarwright/geom/finding"
)

// Check proves the arrangement: Euler's count, areas, faces on both sides of every edge, windings that fit on every
// edge, clearance.
func (a *Arrangement) Check() error {
	if err := a.checkFaces(); err != nil {
		return err
	}
	if err := a.checkWindings(); err != nil {
		return err
	}
	return a.checkClearance()
}

// checkWindings proves that across every edge the windings differ by just what the edge's outlines add. Sums of a
// random number an outline stand for the lists of windings; a fault goes unseen with a chance of 2^-64.
func (a *Arrangement) checkWindings() error {
	mark := func(outline int32) uint64 { // splitmix64
		z := uint64(outline)*0x9e3779b97f4a7c15 + 0x9e3779b97f4a7c15
		z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
		z = (z ^ z>>27) * 0x94d049bb133111eb
		return z ^ z>>31
	}
	sum := make([]uint64, len(a.Faces))
	a.tour(func(h int32) {
		to := a.Halves[h].Face
		sum[to] = sum[a.Halves[h^1].Face]
		for _, s := range a.shares[h/2] {
			sum[to] += uint64(int64(sideOf(h)*s.wind)) * mark(s.outline)
		}
	}, func(int32) {})
	for i := 0; i < len(a.Halves); i += 2 {
		d := sum[a.Halves[i].Face] - sum[a.Halves[i+1].Face]
		for _, s := range a.shares[i/2] {
			d -= uint64(int64(s.wind)) * mark(s.outline)
		}
		if d != 0 {
			return finding.Impossible("windings do not fit across edge %d", i/2)
		}
	}
	return nil
}

// checkClearance proves that no vertex is within two units of an edge that does not end in it.
func (a *Arrangement) checkClearance() error {
	n := noder{pts: a.Verts, newP: make([]bool, len(a.Verts)), edges: make([]edge, len(a.Halves)/2)}
	for i := range n.edges {
		n.edges[i] = edge{a: a.Halves[2*i].From, b: a.Halves[2*i].To, newV: true}
	}
	if cuts, _ := n.touches(newBuckets(n.pts, n.edges)); len(cuts) > 0 {
		return finding.Impossible("vertex %d lies on edge %d", cuts[0].vertex, cuts[0].edge)
	}
	return nil
}

func (a *Arrangement) checkFaces() error {
	v, e, f := len(a.Verts), len(a.Halves)/2, len(a.Faces)
	if len(a.Halves) > 0 && v-e+f != 1+a.comps {
		return finding.Impossible("V - E + F = %d - %d + %d, components %d", v, e, f, a.comps)
	}
	var sum, rim int64
	for i, face := range a.Faces {
		if i > 0 && face.Area2 <= 0 {
			return finding.Impossible("face %d has area %d", i, face.Area2)
		}
		sum += face.Area2
	}
	for _, start := range a.Faces[0].Loops {
		for h := start; ; {
			rim -= cross(a.Verts[a.Halves[h].From], a.Verts[a.Halves[h].To])
			if h = a.Halves[h].Next; h == start {
				break
			}
		}
	}
	if sum != rim {
		return finding.Impossible("faces cover %d, outline %d", sum, rim)
	}
	for i, h := range a.Halves {
		if h.Face < 0 || h.Next < 0 || a.Halves[h.Next].From != h.To || a.Halves[h.Next].Face != h.Face {
			return finding.Impossible("half-edge %d is not linked", i)
		}
	}
	return nil
}
