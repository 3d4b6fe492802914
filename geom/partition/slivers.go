package partition

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// Sliver is a cell too thin or too small for a part, and the neighbour's colour that it took on.
type Sliver struct {
	At       geom.TruePoint
	Area     float64
	From, To int // colours of the map
	Source   finding.Source
}

// slivers hands each cell thinner than SliverMM to the neighbour with the longest common border, smallest first, unless
// that joins or parts what was apart or one. A thin line drawn on purpose is thicker than this, and stays.
func (m *Map) slivers(arr *Arrangement, cells []cellPaint, ids []int, found *finding.List) {
	halves := make([][]int32, len(arr.Faces))
	length := func(h int32) float64 {
		return geom.Dist(arr.Verts[arr.Halves[h].From].True(), arr.Verts[arr.Halves[h].To].True())
	}
	peri := make([]float64, len(arr.Faces))
	for i, h := range arr.Halves {
		halves[h.Face] = append(halves[h.Face], int32(i))
		peri[h.Face] += length(int32(i))
	}
	var thin []int
	for i, f := range arr.Faces {
		// METHODS 2: twice the area over the perimeter
		if i > 0 && cells[i].zone == 2 && (float64(f.Area2)*Unit*Unit/peri[i] < m.Frame.SliverMM ||
			float64(f.Area2)*Unit*Unit/2 < m.Frame.SpeckMM2) {
			thin = append(thin, i)
		}
	}
	if f, ok := m.tooFine(arr, halves, cells, ids, thin); ok { // to whom each goes is no news then
		found.Add(f)
		return
	}
	sort.SliceStable(thin, func(a, b int) bool { return arr.Faces[thin[a]].Area2 < arr.Faces[thin[b]].Area2 })
	for _, f := range thin {
		border := map[int]float64{}
		like := map[int]map[int32]bool{} // colour -> neighbouring faces
		for _, h := range halves[f] {
			g := arr.Halves[h^1].Face
			if cells[g].zone != 2 {
				continue
			}
			border[ids[g]] += length(h)
			if like[ids[g]] == nil {
				like[ids[g]] = map[int32]bool{}
			}
			like[ids[g]][g] = true
		}
		best := -1
		for c := range border {
			if c != ids[f] && (best < 0 || border[c] > border[best] || border[c] == border[best] && c < best) {
				best = c
			}
		}
		if best < 0 || border[ids[f]] > 0 && len(like[ids[f]]) > 1 ||
			len(like[best]) > 1 && !joined(arr, ids, like[best]) {
			continue
		}
		longest := slices.MaxFunc(halves[f], func(a, b int32) int { return cmp.Compare(length(a), length(b)) })
		p, q := arr.Verts[arr.Halves[longest].From].True(), arr.Verts[arr.Halves[longest].To].True()
		m.Slivers = append(
			m.Slivers,
			Sliver{
				At:     geom.TruePoint{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2},
				Area:   float64(arr.Faces[f].Area2) / 2 * Unit * Unit,
				From:   ids[f],
				To:     best,
				Source: cells[f].source,
			},
		)
		ids[f] = best
		m.Moved += m.Slivers[len(m.Slivers)-1].Area
	}
	m.sayMoved(found)
}

// tooFine refuses a picture of which too much is slivers with no neighbour of their own colour, by their number and area
// alone.
func (m *Map) tooFine(arr *Arrangement, halves [][]int32, cells []cellPaint, ids, thin []int) (f finding.Finding, is bool) {
	alone, area, largest := 0, 0.0, 0
	for _, f := range thin {
		if slices.ContainsFunc(halves[f], func(h int32) bool { return ids[arr.Halves[h^1].Face] == ids[f] }) {
			continue
		}
		area += float64(arr.Faces[f].Area2) / 2 * Unit * Unit
		if alone++; alone == 1 || arr.Faces[f].Area2 > arr.Faces[largest].Area2 {
			largest = f
		}
	}
	if alone <= mostSlivers || area <= sliverBudget*m.budgetArea() {
		return f, false
	}
	m.Moved = area
	at := arr.Verts[arr.Halves[halves[largest][0]].From].True()
	return finding.New(finding.SliversMoved, finding.Error, alone, area).In("too_fine").From(cells[largest].source).At(at),
		true
}

// sayMoved lists the largest slivers, each with its place, and all of them together.
func (m *Map) sayMoved(found *finding.List) {
	if m.Moved <= leastSaidMM2 {
		return
	}
	if m.Moved > sliverBudget*m.budgetArea() {
		found.Add(m.tooMany(len(m.Slivers)))
	} else {
		found.Add(finding.New(finding.SliversMoved, finding.Note, len(m.Slivers), m.Moved))
	}
	slices.SortStableFunc(m.Slivers, func(a, b Sliver) int { return cmp.Compare(b.Area, a.Area) })
	for _, s := range m.Slivers[:min(len(m.Slivers), mostSaid)] {
		if s.Area > leastSaidMM2 {
			from, to := m.Colours[s.From].RGB.Hex(), m.Colours[s.To].RGB.Hex()
			found.Add(
				finding.New(finding.SliversMoved, finding.Note, s.Area, from, to).In("one").From(s.Source).At(s.At))
		}
	}
}

// budgetArea is that of the picture circle.
func (m *Map) budgetArea() float64 {
	r := cmp.Or(m.Frame.PictureRadius, m.Frame.LogRadius)
	return math.Pi * r * r
}

// tooMany refuses a picture of which too much is slivers.
func (m *Map) tooMany(n int) finding.Finding {
	return finding.New(finding.SliversMoved, finding.Error, n, m.Moved).In("too_many")
}

// Slivers below leastSaidMM2, a fifth of a millimetre across in the log, are only counted; so are those after the
// mostSaid largest.
const (
	leastSaidMM2 = 0.05
	mostSaid     = 10
)

// mostSlivers are handed over one by one, whatever they come to in all.
const mostSlivers = 2000

// sliverBudget is the share of the picture that slivers may be in all: above it the picture is no longer as drawn
// (DESIGN 5).
const sliverBudget = 0.005

// joined tells whether faces of one colour hang together already.
func joined(arr *Arrangement, ids []int, faces map[int32]bool) bool {
	var first int32 = -1
	for f := range faces {
		if first < 0 || f < first {
			first = f
		}
	}
	seen := map[int32]bool{first: true}
	stack := []int32{first}
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, start := range arr.Faces[f].Loops {
			for h := start; ; {
				if g := arr.Halves[h^1].Face; !seen[g] && ids[g] == ids[f] {
					seen[g] = true
					stack = append(stack, g)
				}
				if h = arr.Halves[h].Next; h == start {
					break
				}
			}
		}
	}
	for f := range faces {
		if !seen[f] {
			return false
		}
	}
	return true
}
