// Package blocking tells which part is in whose way: for ordered pairs of parts, the directions in which the first
// cannot leave.
//
// Guarantees: opposite directions are each other's mirror; a pair is called free only where the overlap seen across the
// direction is narrower than two scan lines, which is what a part gives when it is pressed past another.
//
// References: Wilson & Latombe 1994 (blocking graphs). Sampled by scan lines instead of exact arcs: the replay proves
// every order again.
package blocking

import (
	"math"
	"sort"

	"sugarwright/geom"
)

// Pitch of the scan lines in millimetres. Two lines of overlap block; so what is free overlaps by less than twice the
// pitch, the 0.1 mm that the replay allows on one side.
const Pitch = 0.05

// contact in millimetres: borders of blocks noded apart differ by the grid's rounding, a hundredth of this.
const contact = 0.01

// Mask is a set of directions.
type Mask uint64

// Count of directions: 24 lines 7.5 degrees apart and the 8 directions in which the drawing has most border, each both
// ways.
const (
	Count = 64
	lines = Count / 2
	even  = 24
)

// All directions.
const All = ^Mask(0)

// Table holds the directions and, for each ordered pair, the blocked ones.
type Table struct {
	Dirs [Count]geom.Vec // direction i+32 is opposite to i
	n    int
	mask []Mask // two lines or more
	once []Mask // one line or more
}

// At is the mask of directions in which part i runs into part j.
func (t *Table) At(i, j int) Mask { return t.mask[i*t.n+j] }

// Touched is the mask of directions in which part i runs into part j by one scan line or more. It is for parts that are
// pieces of larger ones: what is free of all their lines stays free when the pieces are one, and wherever the lines
// happen to lie.
func (t *Table) Touched(i, j int) Mask { return t.once[i*t.n+j] }

// Of computes the table for parts that do not overlap, in directions taken from their borders.
func Of(parts []geom.Region[geom.TruePoint]) *Table {
	return Along(parts, directions(parts))
}

// Along computes the table in given directions.
func Along(parts []geom.Region[geom.TruePoint], dirs [Count]geom.Vec) *Table {
	n := len(parts) * len(parts)
	t := &Table{n: len(parts), mask: make([]Mask, n), once: make([]Mask, n), Dirs: dirs}
	var rows [][]reach // one memory for all directions
	for k := 0; k < lines; k++ {
		rows = t.scan(parts, k, rows)
	}
	return t
}

// directions adds to the even ones those with most border length, at least 1.5 degrees from every other.
func directions(parts []geom.Region[geom.TruePoint]) (dirs [Count]geom.Vec) {
	type bin struct {
		len, angle float64
	}
	bins := make([]bin, 720) // quarter degrees of a half turn
	for _, r := range parts {
		for _, ring := range r {
			for i := range ring {
				v := geom.Sub(ring[(i+1)%len(ring)], ring[i])
				l := v.Len()
				if l < 2 { // pieces of curves
					continue
				}
				a := math.Mod(v.Angle()+2*math.Pi, math.Pi)
				b := &bins[int(a/math.Pi*720)%720]
				b.len, b.angle = b.len+l, b.angle+l*a
			}
		}
	}
	angles := make([]float64, 0, lines)
	for i := 0; i < even; i++ {
		angles = append(angles, math.Pi*float64(i)/even)
	}
	sort.SliceStable(bins, func(i, j int) bool { return bins[i].len > bins[j].len+1e-6 })
	for _, b := range bins {
		if b.len == 0 || len(angles) == lines {
			break
		}
		a, ok := b.angle/b.len, true
		for i, o := range angles {
			d := math.Abs(a - o)
			d = math.Min(d, math.Pi-d)
			if d < 0.002 || i >= even && d < 0.026 {
				ok = false
			}
		}
		if ok {
			angles = append(angles, a)
		}
	}
	for i := 0; len(angles) < lines; i++ {
		angles = append(angles, math.Pi*(float64(i)+0.5)/even)
	}
	for i, a := range angles {
		dirs[i] = geom.Polar(a)
		dirs[i+lines] = geom.Polar(a + math.Pi)
	}
	return dirs
}

type reach struct {
	part   int32
	lo, hi float64
}

// scan fills direction k and its opposite.
func (t *Table) scan(parts []geom.Region[geom.TruePoint], k int, rows [][]reach) [][]reach {
	u := t.Dirs[k]
	v := u.Left()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range parts {
		for _, ring := range r {
			for _, p := range ring {
				y := p[0]*v[0] + p[1]*v[1]
				lo, hi = math.Min(lo, y), math.Max(hi, y)
			}
		}
	}
	if !(hi > lo) {
		return rows
	}
	for len(rows) < int((hi-lo)/Pitch)+2 {
		rows = append(rows, nil)
	}
	for i := range rows {
		rows[i] = rows[i][:0]
	}
	for i, r := range parts {
		for _, ring := range r {
			for j := range ring {
				a, b := ring[j], ring[(j+1)%len(ring)]
				ax, ay := a[0]*u[0]+a[1]*u[1], (a[0]*v[0]+a[1]*v[1]-lo)/Pitch-0.5
				bx, by := b[0]*u[0]+b[1]*u[1], (b[0]*v[0]+b[1]*v[1]-lo)/Pitch-0.5
				if ay > by {
					ax, ay, bx, by = bx, by, ax, ay
				}
				for y := int(math.Ceil(ay)); float64(y) < by; y++ {
					x := ax + (bx-ax)*(float64(y)-ay)/(by-ay)
					row := rows[y]
					if n := len(row); n > 0 && row[n-1].part == int32(i) {
						row[n-1].lo, row[n-1].hi = math.Min(row[n-1].lo, x), math.Max(row[n-1].hi, x)
					} else {
						rows[y] = append(row, reach{int32(i), x, x})
					}
				}
			}
		}
	}
	hits := make([]uint8, t.n*t.n)
	for _, row := range rows {
		for a := range row {
			hit, from := hits[int(row[a].part)*t.n:], row[a].lo+contact
			for b := range row {
				if row[b].hi > from && a != b {
					if h := hit[row[b].part]; h < 2 {
						hit[row[b].part] = h + 1
					}
				}
			}
		}
	}
	for i := 0; i < t.n; i++ {
		for j := 0; j < t.n; j++ {
			if hits[i*t.n+j] >= 1 {
				t.once[i*t.n+j] |= 1 << k
				t.once[j*t.n+i] |= 1 << (k + lines)
			}
			if hits[i*t.n+j] >= 2 {
				t.mask[i*t.n+j] |= 1 << k
				t.mask[j*t.n+i] |= 1 << (k + lines)
			}
		}
	}
	return rows
}
