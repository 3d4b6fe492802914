package simplify

import (
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
)

// eye is an island of a map by which a face or a letter is known: one of a pair alike, a pupil and the white round it, a
// counter.
type eye struct {
	at   geom.TruePoint
	rgb  artwork.RGB
	area float64 // square millimetres
}

// in tells whether a region of a map still is the eye.
func (e eye) in(m *partition.Map, i int) bool {
	r := m.Regions[i]
	return !r.Jacket && r.Area < Tuned.EyeGrows*e.area+Tuned.CrumbMM2 && partition.DE2000(e.rgb, m.Colours[r.Colour].RGB) < Tuned.EyeDE &&
		r.Shape.Contains(e.at)
}

// lookForEyes gathers the eyes of the map.
func (e *engine) lookForEyes() {
	s := e.start(1)
	found := map[int]bool{} // regions
	note := func(i int) {
		if r := s.cur.Regions[i]; !found[i] && (round(r) > Tuned.EyeRound || r.Colour == 0) {
			found[i] = true
			e.eyes = append(e.eyes, eye{geom.Inside(r.Shape), s.cur.Colours[r.Colour].RGB, r.Area})
		}
	}
	for _, set := range s.sets() {
		if len(set) == 2 && s.prominent(set[0]) && s.prominent(set[1]) {
			note(set[0])
			note(set[1])
		}
	}
	for i, r := range s.cur.Regions {
		switch {
		case r.Jacket || s.outer(r) || !s.island(i) || !s.prominent(i):
		case r.Colour == 0 && len(r.Shape) == 1 && s.edge(s.host(i)): // a counter
			note(i)
		case s.pupil(i):
			note(i)
			note(s.host(i))
		case s.twin(i):
			note(i)
		}
	}
}

// prominent tells whether an island is seen at once.
func (s *state) prominent(i int) bool { return s.prominence(i) >= Tuned.SacredFrom }

// host is the region that an island lies in.
func (s *state) host(i int) int { return s.beside(i)[0].regions[0] }

// pupil tells whether a round island lies in a small part that is no edge of the subject.
func (s *state) pupil(i int) bool {
	host := s.host(i)
	return round(s.cur.Regions[i]) > Tuned.EyeRound && s.cur.Regions[host].Area < Tuned.EyeShare*s.subjectArea && !s.edge(host)
}

// edge tells whether a region touches the ground round the picture.
func (s *state) edge(i int) bool {
	return slices.ContainsFunc(s.beside(i), func(n neighbour) bool {
		return slices.ContainsFunc(n.regions, func(k int) bool { return s.outer(s.cur.Regions[k]) })
	})
}

// twin tells whether an island has another like it in the same part.
func (s *state) twin(i int) bool {
	r, host := s.cur.Regions[i], s.host(i)
	n := 0
	for k, o := range s.cur.Regions {
		if k != i && o.Colour == r.Colour && !o.Jacket && like(o.Area, r.Area, Tuned.TwinShare) && s.island(k) && s.host(k) == host {
			n++
		}
	}
	return n == 1
}

// like tells whether two sizes differ by no more than a share.
func like(a, b, share float64) bool { return math.Abs(a-b) <= share*max(a, b) }

// sacred tells whether a region is an eye of the map.
func (s *state) sacred(i int) bool {
	return slices.ContainsFunc(s.eyes, func(e eye) bool { return e.in(s.cur, i) })
}

// feature tells whether an island is a nose or a mouth: it lies under a pair of eyes in one part with them, midway.
func (s *state) feature(i int) bool {
	if !s.island(i) || !s.prominent(i) {
		return false
	}
	at := geom.Inside(s.cur.Regions[i].Shape)
	host := s.cur.Regions[s.host(i)]
	face := geom.Region[geom.TruePoint]{host.Shape[0]}
	for k, a := range s.eyes {
		for _, b := range s.eyes[:k] {
			d := geom.Sub(b.at, a.at)
			mid := geom.Add(a.at, d, 0.5)
			v := geom.Sub(at, mid)
			if like(a.area, b.area, Tuned.TwinShare) && face.Contains(a.at) && face.Contains(b.at) && v[1] < 0 &&
				math.Abs(v.Dot(d)) < Tuned.Midway*d.Len()*d.Len() {
				return true
			}
		}
	}
	return false
}

// KeepsEyes tells whether a redrawn map still has the eyes of the map: a part of its own, of a colour like it, where each was.
func (e Engine) KeepsEyes(after *partition.Map) bool {
	taken := map[int]bool{}
	for _, eye := range e.eyes {
		i := 0
		for i < len(after.Regions) && (taken[i] || !eye.in(after, i)) {
			i++
		}
		if i == len(after.Regions) {
			return false
		}
		taken[i] = true
	}
	return true
}
