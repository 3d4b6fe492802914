package artwork

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// pt is a point in an element's own user space.
type pt [2]float64

// Path is a list of subpaths.
type Path []subpath

// subpath starts at pts[0]; every segment adds one point (a line) or three (a cubic).
type subpath struct {
	pts    []pt
	cubic  []bool // by segment
	closed bool
}

// polyline is a flattened subpath; turn[i] is true where point i lies inside a curve, so that a join there is round.
type polyline struct {
	pts      []pt
	smooth   []bool
	closed   bool
	from, to pt // directions of an open line's ends, where they are ends of curves; else zero
}

func (s *subpath) line(p pt) {
	s.pts = append(s.pts, p)
	s.cubic = append(s.cubic, false)
}

func (s *subpath) curve(a, b, c pt) {
	s.pts = append(s.pts, a, b, c)
	s.cubic = append(s.cubic, true)
}

func (p Path) segments() int {
	n := 0
	for _, s := range p {
		n += len(s.cubic)
	}
	return n
}

// scanner reads numbers as SVG writes them: "1-1", ".5.5", "1e-3", flags that touch.
type scanner struct {
	s string
	i int
}

func (c *scanner) space() {
	for c.i < len(c.s) && (c.s[c.i] == ' ' || c.s[c.i] == '\t' || c.s[c.i] == '\n' || c.s[c.i] == '\r' || c.s[c.i] == '\f') {
		c.i++
	}
}

func (c *scanner) comma() {
	c.space()
	if c.i < len(c.s) && c.s[c.i] == ',' {
		c.i++
		c.space()
	}
}

func (c *scanner) digits() int {
	n := 0
	for c.i < len(c.s) && c.s[c.i] >= '0' && c.s[c.i] <= '9' {
		c.i++
		n++
	}
	return n
}

func (c *scanner) number() (float64, bool) {
	c.comma()
	start := c.i
	if c.i < len(c.s) && (c.s[c.i] == '+' || c.s[c.i] == '-') {
		c.i++
	}
	n := c.digits()
	if c.i < len(c.s) && c.s[c.i] == '.' {
		c.i++
		n += c.digits()
	}
	if n == 0 {
		c.i = start
		return 0, false
	}
	if c.i < len(c.s) && (c.s[c.i] == 'e' || c.s[c.i] == 'E') {
		back := c.i
		c.i++
		if c.i < len(c.s) && (c.s[c.i] == '+' || c.s[c.i] == '-') {
			c.i++
		}
		if c.digits() == 0 {
			c.i = back
		}
	}
	v, err := strconv.ParseFloat(c.s[start:c.i], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, false
	}
	return v, true
}

func (c *scanner) flag() (float64, bool) {
	c.comma()
	if c.i < len(c.s) && (c.s[c.i] == '0' || c.s[c.i] == '1') {
		c.i++
		return float64(c.s[c.i-1] - '0'), true
	}
	return 0, false
}

// unit passes the letters or the percent sign after a number.
func (c *scanner) unit() {
	for c.i < len(c.s) && (c.s[c.i] == 0x25 || c.s[c.i]|0x20 >= 0x61 && c.s[c.i]|0x20 <= 0x7a) {
		c.i++
	}
}

var errPath = errors.New("path data ends in an error; drawn up to there")

var errTooMany = fmt.Errorf("more than %d path segments (MaxSegments)", MaxSegments)

// argCount of each path command.
var argCount = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// pather carries the state that path commands share.
type pather struct {
	out         Path
	cur, start  pt
	ctrl        pt   // last control point
	ctrlOf      byte // 'C' or 'Q' when ctrl may be reflected
	open, moved bool
}

func (p *pather) sub() *subpath {
	if !p.open {
		p.out = append(p.out, subpath{pts: []pt{p.cur}})
		p.start = p.cur
		p.open = true
	}
	return &p.out[len(p.out)-1]
}

// parsePath reads path data. On an error it returns what came before it, as the standard says, with errPath.
func parsePath(d string) (Path, error) {
	c := &scanner{s: d}
	p := &pather{}
	var cmd byte
	segments := 0
	for {
		c.space()
		if c.i >= len(c.s) {
			break
		}
		if ch := c.s[c.i]; ch >= 'A' && ch <= 'z' {
			cmd = ch
			c.i++
		} else if cmd == 0 || cmd == 'Z' || cmd == 'z' {
			return p.out, errPath
		} else if cmd == 'M' {
			cmd = 'L'
		} else if cmd == 'm' {
			cmd = 'l'
		}
		up := cmd &^ 0x20
		n, known := argCount[up]
		if !known || !p.moved && up != 'M' {
			return p.out, errPath
		}
		var a [7]float64
		for i := 0; i < n; i++ {
			var ok bool
			if up == 'A' && (i == 3 || i == 4) {
				a[i], ok = c.flag()
			} else {
				a[i], ok = c.number()
			}
			if !ok {
				return p.out, errPath
			}
		}
		if segments++; segments > MaxSegments {
			return p.out, errTooMany
		}
		p.do(up, cmd != up, a)
		c.comma()
	}
	return p.out, nil
}

// do carries out one command.
func (p *pather) do(cmd byte, rel bool, a [7]float64) {
	o := pt{}
	if rel {
		o = p.cur
	}
	at := func(i int) pt { return pt{a[i] + o[0], a[i+1] + o[1]} }
	reflect := func(of byte) pt {
		if p.ctrlOf == of {
			return pt{2*p.cur[0] - p.ctrl[0], 2*p.cur[1] - p.ctrl[1]}
		}
		return p.cur
	}
	set := byte(0)
	switch cmd {
	case 'M':
		p.cur, p.open, p.moved = at(0), false, true
		p.sub()
	case 'L':
		p.to(at(0))
	case 'H':
		p.to(pt{a[0] + o[0], p.cur[1]})
	case 'V':
		p.to(pt{p.cur[0], a[0] + o[1]})
	case 'C', 'S':
		q := []pt{at(0), at(2), at(4)}
		if cmd == 'S' {
			q = []pt{reflect('C'), at(0), at(2)}
		}
		p.sub().curve(q[0], q[1], q[2])
		p.cur, p.ctrl, set = q[2], q[1], 'C'
	case 'Q', 'T':
		k, e := at(0), at(2)
		if cmd == 'T' {
			k, e = reflect('Q'), at(0)
		}
		p.sub().curve(quadToCubic(p.cur, k, e))
		p.cur, p.ctrl, set = e, k, 'Q'
	case 'A':
		p.arc(a[0], a[1], a[2], a[3] != 0, a[4] != 0, at(5))
	case 'Z':
		p.sub().closed = true
		p.cur, p.open = p.start, false
	}
	p.ctrlOf = set
}

func (p *pather) to(q pt) {
	p.sub().line(q)
	p.cur = q
}

func quadToCubic(a, k, e pt) (pt, pt, pt) {
	mix := func(u, v pt) pt { return pt{u[0] + (v[0]-u[0])*2/3, u[1] + (v[1]-u[1])*2/3} }
	return mix(a, k), mix(e, k), e
}

// arc adds an elliptical arc by the end-point to centre form of the standard's implementation notes: radii scaled up
// when too small.
func (p *pather) arc(rx, ry, deg float64, large, sweep bool, e pt) {
	s := p.sub()
	if e == p.cur {
		return
	}
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 {
		p.to(e)
		return
	}
	sin, cos := math.Sincos(math.Mod(deg, 360) * math.Pi / 180)
	dx, dy := (p.cur[0]-e[0])/2, (p.cur[1]-e[1])/2
	x, y := cos*dx+sin*dy, -sin*dx+cos*dy
	if l := x*x/(rx*rx) + y*y/(ry*ry); l > 1 {
		rx, ry = rx*math.Sqrt(l), ry*math.Sqrt(l)
	}
	den := rx*rx*y*y + ry*ry*x*x
	k := math.Sqrt(math.Max(0, (rx*rx*ry*ry-den)/den))
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	t0 := math.Atan2((y-cy)/ry, (x-cx)/rx)
	dt := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - t0
	if sweep && dt < 0 {
		dt += 2 * math.Pi
	} else if !sweep && dt > 0 {
		dt -= 2 * math.Pi
	}
	mx, my := (p.cur[0]+e[0])/2, (p.cur[1]+e[1])/2
	place := func(u, v float64) pt {
		u, v = rx*u+cx, ry*v+cy
		return pt{cos*u - sin*v + mx, sin*u + cos*v + my}
	}
	n := int(math.Ceil(math.Abs(dt)/(math.Pi/4) - 1e-9)) // an eighth of a turn: a cubic is off by 4e-6 of the radius
	h := dt / float64(n)
	f := 4.0 / 3 * math.Tan(h/4)
	for i := 0; i < n; i++ {
		s0, c0 := math.Sincos(t0 + h*float64(i))
		s1, c1 := math.Sincos(t0 + h*float64(i+1))
		end := place(c1, s1)
		if i == n-1 {
			end = e
		}
		s.curve(place(c0-f*s0, s0+f*c0), place(c1+f*s1, s1-f*c1), end)
	}
	p.cur = e
}

// Polygons is a path of closed rings of straight lines.
func Polygons(rings [][][2]float64) Path {
	var out Path
	for _, ring := range rings {
		s := subpath{closed: true, cubic: make([]bool, max(0, len(ring)-1))}
		for _, p := range ring {
			s.pts = append(s.pts, pt(p))
		}
		out = append(out, s)
	}
	return out
}
