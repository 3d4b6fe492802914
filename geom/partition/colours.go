package partition

import (
	"cmp"
	"slices"
	"sort"

	colorful "github.com/lucasb-eyer/go-colorful"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
)

// maxColours bounds what is compared pair by pair; a kitchen has a dozen.
const maxColours = 400

func distinct(cells []cellPaint) int {
	seen := map[artwork.RGB]bool{}
	for _, c := range cells {
		seen[c.rgb] = true
	}
	return len(seen)
}

// lab is the colour in go-colorful's type.
func lab(c artwork.RGB) colorful.Color {
	return colorful.Color{R: float64(c[0]) / 255, G: float64(c[1]) / 255, B: float64(c[2]) / 255}
}

// DE2000 is the CIEDE2000 difference of two sRGB colours (D65), on the usual scale.
func DE2000(a, b artwork.RGB) float64 { return 100 * lab(a).DistanceCIEDE2000(lab(b)) }

// likeColours gives each face a colour number: complete-linkage clusters below the threshold, colours sorted by their
// hex digits; a cluster is named by its largest area, the ground's by the ground.
func (m *Map) likeColours(arr *Arrangement, cells []cellPaint, found *finding.List) []int {
	area := map[artwork.RGB]float64{m.Frame.Ground: 0}
	for i, c := range cells {
		if c.zone > 0 {
			area[c.rgb] += float64(arr.Faces[i].Area2) / 2 * Unit * Unit
		}
	}
	var all []artwork.RGB
	for c := range area {
		all = append(all, c)
	}
	slices.SortFunc(all, func(a, b artwork.RGB) int { return cmp.Compare(a.Hex(), b.Hex()) })
	clusters := m.clusters(all)
	id := map[artwork.RGB]int{}
	name := func(cl []artwork.RGB) artwork.RGB {
		best := cl[0]
		for _, c := range cl {
			if c == m.Frame.Ground {
				return c
			}
			if area[c] > area[best] {
				best = c
			}
		}
		return best
	}
	sort.SliceStable(clusters, func(i, j int) bool {
		return name(clusters[i]) == m.Frame.Ground && name(clusters[j]) != m.Frame.Ground
	})
	for i, cl := range clusters {
		c := Colour{RGB: name(cl)}
		for _, x := range cl {
			id[x] = i
			c.Area += area[x]
		}
		m.Colours = append(m.Colours, c)
		if len(cl) > 1 {
			found.Add(finding.New(finding.LikeColours, finding.Note, len(cl), c.RGB.Hex()))
		}
	}
	out := make([]int, len(cells))
	for i, c := range cells {
		out[i] = id[c.rgb]
	}
	return out
}

// clusters groups colours by complete linkage below the threshold, nearest first.
func (m *Map) clusters(all []artwork.RGB) [][]artwork.RGB {
	out := make([][]artwork.RGB, len(all))
	far := make([][]float64, len(all)) // largest difference between members of two clusters
	for i, c := range all {
		out[i] = []artwork.RGB{c}
		if m.Frame.LikeDE2000 > 0 {
			far[i] = make([]float64, len(all))
			for j := range i {
				far[i][j] = DE2000(c, all[j])
				far[j][i] = far[i][j]
			}
		}
	}
	for m.Frame.LikeDE2000 > 0 {
		bi, bj, best := -1, -1, m.Frame.LikeDE2000
		for i := range out {
			for j := i + 1; j < len(out); j++ {
				if far[i][j] < best {
					bi, bj, best = i, j, far[i][j]
				}
			}
		}
		if bi < 0 {
			break
		}
		m.MergedDE = max(m.MergedDE, best)
		out[bi] = append(out[bi], out[bj]...)
		out = slices.Delete(out, bj, bj+1)
		for k := range far[bi] {
			far[bi][k] = max(far[bi][k], far[bj][k])
			far[k][bi] = far[bi][k]
		}
		far = slices.Delete(far, bj, bj+1)
		for k := range far {
			far[k] = slices.Delete(far[k], bj, bj+1)
		}
	}
	return out
}

// Lightness of a colour, CIE L* from 0 to 1.
func Lightness(c artwork.RGB) float64 {
	l, _, _ := lab(c).Lab()
	return l
}
