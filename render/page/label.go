package page

import (
	"container/heap"
	"math"
	"slices"
)

// Tag is a part that wants its label: its rings, and the text. Bare ones stand on white, and need no plate.
type Tag struct {
	Rings [][]Point
	Text  string
	Bare  bool
}

// Clear is the room left round a label.
const Clear = 0.5

// Labels writes a label on each part: inside it where its box fits clear of all leaders, else at a port, led there by a
// straight line. Leaders have the least total length, so no two cross (of two that cross, the sum shrinks when their
// ends are swapped). It returns which tags found no port, and how many did.
func (p *Page) Labels(tags []Tag, ports []Port, size float64) (left []int, led int) {
	l := labelling{tags: tags}
	for i, t := range tags {
		if at, w, h, ok := t.Inside(size); ok {
			l.in = append(l.in, l.apart(inner{tag: i, at: at, w: w, h: h}))
		} else {
			l.out = append(l.out, i)
		}
	}
	for done := false; !done; {
		for len(l.out) > len(ports) { // the last wait for the next drawing
			l.left = append(l.left, l.out[len(l.out)-1])
			l.out = l.out[:len(l.out)-1]
		}
		l.lead(ports)
		done = l.keepClear()
	}
	for k, s := range l.leaders {
		port := ports[l.match[k]]
		p.Leader(s[0], s[1])
		p.Write(Text{At: Point{port.at[0], port.at[1] + size/2}, Size: size, Bold: true, Anchor: port.anchor, Text: tags[l.out[k]].Text})
	}
	for _, n := range l.in {
		if !tags[n.tag].Bare {
			p.Add(Path{Rings: [][]Point{Rect(n.at[0]-n.w, n.at[1]-n.h, 2*n.w, 2*n.h)}, Fill: "#ffffff"})
		}
		at := Point{n.at[0], n.at[1] + size/2}
		p.Write(Text{At: at, Size: size, Bold: true, Anchor: "middle", Text: tags[n.tag].Text, Within: tags[n.tag].Rings})
	}
	return l.left, len(l.leaders)
}

// Half is half of the box that a label takes inside its part.
func Half(text string, size float64) (w, h float64) {
	w = Width(Text{Text: text, Size: size, Bold: true})/2 + Clear
	h = size/2 + Clear
	if b, ok := (Text{At: Point{0, size / 2}, Text: text, Size: size, Bold: true}).Box(); ok { // some letters hang
		h = math.Max(h, math.Max(-b[1], b[3])+Clear)
	}
	return w, h
}

// Inside is where a label stands inside its part, with half of its box; ok is false where it has no room there.
func (t Tag) Inside(size float64) (at Point, w, h float64, ok bool) {
	w, h = Half(t.Text, size)
	at, ok = Deepest(t.Rings, w, h, nil)
	return at, w, h, ok
}

// labelling is how far labels have been placed: those inside their parts, those led out with leaders and the ports that
// they got, those left for another drawing.
type labelling struct {
	tags      []Tag
	in        []inner
	out, left []int
	leaders   [][2]Point
	match     []int
}

// inner is a label inside its part: its middle, half width and half height.
type inner struct {
	tag  int
	at   Point
	w, h float64
}

// apart moves a number within its part where it stands so close beside another that the two read as one.
func (l *labelling) apart(n inner) inner {
	for _, o := range l.in {
		if gap := math.Abs(n.at[0]-o.at[0]) - n.w - o.w; gap > oneWord*n.h || math.Abs(n.at[1]-o.at[1]) > n.h {
			continue
		}
		far := oneWord * n.h
		a, b := Point{o.at[0] - o.w - far, o.at[1] - o.h/2}, Point{o.at[0] + o.w + far, o.at[1] + o.h/2}
		c, d := Point{a[0], b[1]}, Point{b[0], a[1]}
		if at, ok := Deepest(l.tags[n.tag].Rings, n.w, n.h, [][2]Point{{a, c}, {c, b}, {b, d}, {d, a}, {a, b}, {c, d}}); ok {
			n.at = at
		}
	}
	return n
}

// oneWord is the gap, in halves of a number's height, below which two numbers in a line are read as one.
const oneWord = 1.2

// lead gives those outside their ports.
func (l *labelling) lead(ports []Port) {
	sites := make([]Point, len(l.out))
	for k, i := range l.out {
		sites[k] = Pole(l.tags[i].Rings)
	}
	l.match = assign(sites, ports)
	l.leaders = l.leaders[:0]
	for k := range l.out {
		l.leaders = append(l.leaders, [2]Point{sites[k], ports[l.match[k]].end})
	}
}

// keepClear moves a number that a leader crosses within its part. Where it cannot, it goes out too while numbers
// outside are few, else the leader's number waits for the next drawing. It tells whether the leaders may stay as they
// are.
func (l *labelling) keepClear() bool {
	var stay []inner
	waits := map[int]bool{}
	clear := true
	for _, n := range l.in {
		var crossing []int
		for k, s := range l.leaders {
			if Hits(s[0], s[1], Box{n.at[0] - n.w, n.at[1] - n.h, n.at[0] + n.w, n.at[1] + n.h}) {
				crossing = append(crossing, l.out[k])
			}
		}
		if len(crossing) > 0 {
			if at, ok := Deepest(l.tags[n.tag].Rings, n.w, n.h, l.leaders); ok {
				n.at = at
			} else if clear = false; len(l.leaders) < fewLeaders {
				l.out = append(l.out, n.tag)
				continue
			} else {
				for _, i := range crossing {
					waits[i] = true
				}
			}
		}
		stay = append(stay, n)
	}
	l.in = stay
	for i := range l.tags {
		if waits[i] {
			l.left = append(l.left, i)
		}
	}
	l.out = slices.DeleteFunc(l.out, func(i int) bool { return waits[i] })
	return clear
}

// fewLeaders is up to how many numbers stand outside before those inside keep their places; tuned: with more, a drawing
// is all lines.
const fewLeaders = 40

// Leader draws a line from a dot in a part to a label, black with a white core so that it shows on any colour.
func (p *Page) Leader(from, to Point) {
	p.Add(Path{Rings: [][]Point{{from, to}}, Open: true, Stroke: "#ffffff", Width: 1})
	p.Add(Path{Rings: [][]Point{{from, to}}, Open: true, Stroke: "#000000", Width: 0.35, Leader: true})
	p.Add(Path{Rings: [][]Point{Circle(from, 1)}, Fill: "#ffffff"})
	p.Add(Path{Rings: [][]Point{Circle(from, 0.7)}, Fill: "#000000"})
}

// Port is a place for a label: where its leader ends and its text stands.
type Port struct {
	end, at Point
	anchor  string
}

// gap between a leader's end and its label.
const portGap = 1.2

// box that a label so wide takes at a port.
func (p Port) box(w, size float64) Box {
	b := Box{p.at[0] - w/2, p.at[1] - size/2, p.at[0] + w/2, p.at[1] + size/2}
	switch p.anchor {
	case "start":
		b[0], b[2] = p.at[0], p.at[0]+w
	case "end":
		b[0], b[2] = p.at[0]-w, p.at[0]
	}
	return b
}

// free are the ports whose labels lie inside a room and clear of what is taken.
func free(ports []Port, room Box, size, w float64, taken []Box) []Port {
	return slices.DeleteFunc(ports, func(p Port) bool {
		b := p.box(w, size)
		if b[0] < room[0] || b[1] < room[1] || b[2] > room[2] || b[3] > room[3] {
			return true
		}
		return slices.ContainsFunc(taken, func(t Box) bool {
			return b.Overlaps(Box{t[0] - portGap, t[1] - portGap, t[2] + portGap, t[3] + portGap})
		})
	})
}

// Widest label of some tags.
func Widest(tags []Tag, size float64) (w float64) {
	for _, t := range tags {
		w = math.Max(w, Width(Text{Text: t.Text, Size: size, Bold: true}))
	}
	return w
}

// PortsRound are the places for labels w wide round a frame, just outside it, within a room and clear of what is taken.
func PortsRound(frame, room Box, size, w float64, taken []Box) []Port {
	var out []Port
	step := size * 1.35
	n := math.Floor((frame[3] - frame[1]) / step)
	for k := 0.5; k < n; k++ {
		y := (frame[1]+frame[3])/2 + (k-n/2)*step
		out = append(out, Port{Point{frame[0], y}, Point{frame[0] - portGap, y}, "end"},
			Port{Point{frame[2], y}, Point{frame[2] + portGap, y}, "start"})
	}
	step = w + 2.5
	n = math.Floor((frame[2] - frame[0]) / step)
	for k := 0.5; k < n; k++ {
		x := (frame[0]+frame[2])/2 + (k-n/2)*step
		out = append(out, Port{Point{x, frame[1]}, Point{x, frame[1] - portGap - size/2}, "middle"},
			Port{Point{x, frame[3]}, Point{x, frame[3] + portGap + size/2}, "middle"})
	}
	return free(out, room, size, w, taken)
}

// PortsBeside are two columns of places for labels w wide, left and right of a frame, from the room's head to its foot.
func PortsBeside(frame, room Box, size, w float64, taken []Box) []Port {
	var out []Port
	const pitch = 1.5
	for y := room[1] + size/2; y <= room[3]-size/2; y += pitch * size {
		out = append(out, Port{Point{frame[0] - 4, y}, Point{frame[0] - 4 - portGap, y}, "end"},
			Port{Point{frame[2] + 4, y}, Point{frame[2] + 4 + portGap, y}, "start"})
	}
	return free(out, room, size, w, taken)
}

// assign gives each site a port of its own so that the total distance is least (Kuhn 1955, The Hungarian method; in the
// form with potentials, O(n^2 m)). There are at least as many ports as sites.
func assign(sites []Point, ports []Port) []int {
	n, m := len(sites), len(ports)
	u, v := make([]float64, n+1), make([]float64, m+1)
	owner, way := make([]int, m+1), make([]int, m+1)
	for i := 1; i <= n; i++ {
		owner[0] = i
		j0 := 0
		least := make([]float64, m+1)
		for j := range least {
			least[j] = math.Inf(1)
		}
		used := make([]bool, m+1)
		for owner[j0] != 0 {
			used[j0] = true
			i0, delta, j1 := owner[j0], math.Inf(1), 0
			for j := 1; j <= m; j++ {
				if used[j] {
					continue
				}
				d := math.Hypot(sites[i0-1][0]-ports[j-1].end[0], sites[i0-1][1]-ports[j-1].end[1]) - u[i0] - v[j]
				if d < least[j] {
					least[j], way[j] = d, j0
				}
				if least[j] < delta {
					delta, j1 = least[j], j
				}
			}
			for j := 0; j <= m; j++ {
				if used[j] {
					u[owner[j]] += delta
					v[j] -= delta
				} else {
					least[j] -= delta
				}
			}
			j0 = j1
		}
		for j0 != 0 {
			owner[j0] = owner[way[j0]]
			j0 = way[j0]
		}
	}
	match := make([]int, n)
	for j := 1; j <= m; j++ {
		if owner[j] > 0 {
			match[owner[j]-1] = j - 1
		}
	}
	return match
}

// Pole is the point of a region that lies deepest inside it (pole of inaccessibility).
func Pole(rings [][]Point) Point {
	at, _ := deepest(rings, 1, 0, nil)
	return at
}

// Deepest is where a box of half width hw and half height hh lies deepest inside a region and off the lines; ok is
// false when it fits nowhere.
func Deepest(rings [][]Point, hw, hh float64, lines [][2]Point) (at Point, ok bool) {
	at, d := deepest(rings, hh/hw, hh, lines)
	return at, d > hh+0.01 // a box that touches the border is off its part
}

// cell of the search: a square in the plane whose x is scaled by the aspect.
type cell struct {
	at          Point
	half, depth float64
	bound       float64
}

type cells []cell

func (c cells) Len() int           { return len(c) }
func (c cells) Less(i, j int) bool { return c[i].bound > c[j].bound }
func (c cells) Swap(i, j int)      { c[i], c[j] = c[j], c[i] }
func (c *cells) Push(x any)        { *c = append(*c, x.(cell)) }
func (c *cells) Pop() any {
	old := *c
	x := old[len(old)-1]
	*c = old[:len(old)-1]
	return x
}

// mostCells bounds the search for the deepest point; it is found to a tenth of a millimetre long before.
const mostCells = 1500

// deepest seeks the point whose distance to border and lines is greatest, in the larger of the two coordinates with x
// scaled by aspect, so that a box of that aspect touches: squares of the plane, the most promising first, are cut in
// four until none can better the best by a tenth of a millimetre. Nothing less than least is sought.
func deepest(rings [][]Point, aspect, least float64, lines [][2]Point) (Point, float64) {
	var edges [][2]Point
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	scaled := make([][]Point, len(rings))
	for i, r := range rings {
		for _, q := range r {
			q[0] *= aspect
			scaled[i] = append(scaled[i], q)
			lo = Point{math.Min(lo[0], q[0]), math.Min(lo[1], q[1])}
			hi = Point{math.Max(hi[0], q[0]), math.Max(hi[1], q[1])}
		}
		for j, a := range scaled[i] {
			edges = append(edges, [2]Point{a, scaled[i][(j+1)%len(scaled[i])]})
		}
	}
	for _, l := range lines {
		edges = append(edges, [2]Point{{l[0][0] * aspect, l[0][1]}, {l[1][0] * aspect, l[1][1]}})
	}
	borders := 0
	for _, r := range rings {
		borders += len(r)
	}
	measure := func(at Point, half float64) cell {
		d, in := math.Inf(1), false
		for i, e := range edges {
			a, b := e[0], e[1]
			if i < borders && (a[1] > at[1]) != (b[1] > at[1]) && at[0] < (b[0]-a[0])*(at[1]-a[1])/(b[1]-a[1])+a[0] {
				in = !in
			}
			if min(a[0], b[0])-at[0] < d && at[0]-max(a[0], b[0]) < d && min(a[1], b[1])-at[1] < d && at[1]-max(a[1], b[1]) < d {
				d = math.Min(d, chebyshev(at, a, b))
			}
		}
		if !in {
			d = -d
		}
		return cell{at, half, d, d + half}
	}
	var queue cells
	size := math.Min(hi[0]-lo[0], hi[1]-lo[1])
	best := cell{depth: math.Inf(-1)}
	if size > 0 && math.Max(hi[0]-lo[0], hi[1]-lo[1])/size < 200 {
		for x := lo[0]; x < hi[0]; x += size {
			for y := lo[1]; y < hi[1]; y += size {
				heap.Push(&queue, measure(Point{x + size/2, y + size/2}, size/2))
			}
		}
	}
	precision := 0.1
	for n := 0; len(queue) > 0 && n < mostCells; n++ {
		c := heap.Pop(&queue).(cell)
		if c.depth > best.depth {
			best = c
		}
		if least == 0 { // for a dot a tenth of the depth will do, however thin the part
			precision = math.Max(0.01, 0.1*best.depth)
		}
		if c.bound <= best.depth+precision || c.bound < least {
			break
		}
		h := c.half / 2
		for k := range 4 {
			heap.Push(&queue, measure(Point{c.at[0] + h*float64(k%2*2-1), c.at[1] + h*float64(k/2*2-1)}, h))
		}
	}
	return Point{best.at[0] / aspect, best.at[1]}, best.depth
}

// chebyshev is the distance of a point from a segment in the larger of the two coordinates. That is convex along the
// segment, and least at an end or where the two coordinates are as large.
func chebyshev(p, a, b Point) float64 {
	ax, ay := a[0]-p[0], a[1]-p[1]
	dx, dy := b[0]-a[0], b[1]-a[1]
	d := math.Min(math.Max(math.Abs(ax), math.Abs(ay)), math.Max(math.Abs(ax+dx), math.Abs(ay+dy)))
	for _, s := range [2]float64{1, -1} { // x = s y
		if den := dx - s*dy; den != 0 {
			if t := -(ax - s*ay) / den; t > 0 && t < 1 {
				d = math.Min(d, math.Max(math.Abs(ax+t*dx), math.Abs(ay+t*dy)))
			}
		}
	}
	return d
}
