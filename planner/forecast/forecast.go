// Package forecast rolls a laid log round and says what its faces look like: as planned, and along the rope with what a
// kitchen's hands, heat and rolling differ by.
//
// Guarantees: the same input gives the same faces (P9); the differences are drawn from a fixed seed. The band that a
// forecast cannot see below is flow.Band.
//
// References: the rolling model of package flow; sizes of the differences are the shop's.
package forecast

import (
	"math"
	"math/rand"
	"sync"

	"sugarwright/geom"
	"sugarwright/planner/flow"
)

// Log is what was laid: the section with its points where they are true and where they were laid, in disc coordinates;
// the colour of each part; the squash of the oval, and decades of viscosity a kelvin at the heat of rolling.
type Log struct {
	True, Laid     []geom.Vec
	Parts          []flow.Part
	Colour         []int
	RadiusMM       float64
	Squash, PerK   float64
	PictureShare   float64 // the picture circle over the log
	Slip           bool
	Placing, HeatC float64 // standard deviations: a part beside its place, mm; its heat
	Oval, Squeeze  float64 // of the oval's flatness; of what is left of it after rolling
}

// Face is one section: where its points are, what share of the picture has the wrong colour, and what share of each
// part is in its place.
type Face struct {
	Points []geom.Vec
	Wrong  float64
	Kept   []float64
}

// along is the method of faces along the rope.
var along = flow.Method{Cells: 48, Steps: 2}

// Nominal is the face when all is as planned: the points that the proof of the laid shapes came back to.
func (l *Log) Nominal(at []geom.Vec) *Face { return l.seen(append([]geom.Vec(nil), at...)) }

// seen is the face with its points at these places; where the outline slips the whole picture may turn, and is turned
// back.
func (l *Log) seen(at []geom.Vec) *Face {
	if l.Slip {
		a, b := 0.0, 0.0
		for i, p := range at {
			a, b = a+p.Cross(l.True[i]), b+p.Dot(l.True[i])
		}
		axis := geom.Vec{b, a}.Unit()
		for i, p := range at {
			at[i] = geom.Vec{p[0]*axis[0] - p[1]*axis[1], p[0]*axis[1] + p[1]*axis[0]}
		}
	}
	f := &Face{Points: at}
	l.judge(f)
	return f
}

// Along is n faces along the rope. Half of a part's offset and heat is the same all along, half is its own on each
// face.
func (l *Log) Along(n int) ([]*Face, error) {
	rng := rand.New(rand.NewSource(1))
	parts := len(l.Parts)
	draw := func() []float64 {
		out := make([]float64, 3*parts+4)
		for i := range out {
			out[i] = rng.NormFloat64()
		}
		return out
	}
	log := draw()
	own := make([][]float64, n)
	for k := range own {
		own[k] = draw()
		for i := range own[k] {
			own[k][i] = (log[i] + own[k][i]) / math.Sqrt2
		}
	}
	faces, errs := make([]*Face, n), make([]error, n)
	var wait sync.WaitGroup
	for k := range own {
		wait.Go(func() { faces[k], errs[k] = l.differing(own[k]) })
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return faces, nil
}

// differing is the face of a log that differs by these draws: three a part (right, up, heat), then oval, squeeze and
// its direction.
func (l *Log) differing(draw []float64) (*Face, error) {
	parts := len(l.Parts)
	oval := draw[3*parts:]
	q := math.Exp(-2 * l.Squash)
	h := math.Max(0, l.Squash-oval[0]*l.Oval/(2*q)) // half the logarithm of width over height
	b := &flow.Body{Points: l.moved(draw, math.Exp(l.Squash-h)), Parts: make([]flow.Part, parts)}
	for i, p := range l.Parts {
		b.Parts[i] = flow.Part{
			Rings:     p.Rings,
			Stiffness: flow.Clamped(p.Stiffness * math.Pow(10, -l.PerK*l.HeatC*draw[3*i+2])),
		}
	}
	m := along
	m.Slip = l.Slip
	at, err := flow.Forward(b, h, m)
	if err != nil {
		return nil, err
	}
	// What is left of the oval: an even stretch along some direction.
	k := math.Exp(math.Abs(oval[1]) * l.Squeeze / 2)
	axis := geom.Polar(math.Pi / 2 * math.Erfc(oval[2]/math.Sqrt2)) // any direction as likely as any other
	for i, p := range at {
		u, v := p.Dot(axis)*k, axis.Cross(p)/k
		at[i] = geom.Add(geom.Vec{u * axis[0], u * axis[1]}, axis.Left(), v)
	}
	return l.seen(at), nil
}

// moved is the laid points with every part beside its place, a border by the mean of what meets there, and the whole
// stretched by what the oval was not as expected; at the rim, which the jacket fills, nothing moves.
func (l *Log) moved(draw []float64, stretch float64) []geom.Vec {
	n := make([]float64, len(l.Laid))
	off := make([]geom.Vec, len(l.Laid))
	for i, p := range l.Parts {
		d := geom.Vec{draw[3*i] * l.Placing / l.RadiusMM, draw[3*i+1] * l.Placing / l.RadiusMM}
		seen := map[int32]bool{}
		for _, ring := range p.Rings {
			for _, k := range ring {
				if !seen[k] {
					seen[k] = true
					n[k]++
					off[k] = geom.Add(off[k], d, 1)
				}
			}
		}
	}
	out := make([]geom.Vec, len(l.Laid))
	for k, p := range l.Laid {
		r2 := p.Dot(p)
		free := math.Max(0, 1-r2*r2)
		q := geom.Vec{p[0] * (1 + (stretch-1)*free), p[1] * (1 + (1/stretch-1)*free)}
		if n[k] > 0 {
			q = geom.Add(q, off[k], free/n[k])
		}
		out[k] = q
	}
	return out
}

// judgeCells, a quarter of the squares a side on which colours are compared: 256 across the log.
const judgeCells = 64

// judge compares a face with the true section, square by square inside the picture.
func (l *Log) judge(f *Face) {
	want := (&flow.Body{Parts: l.Parts}).Raster(l.True, judgeCells)
	got := (&flow.Body{Parts: l.Parts}).Raster(f.Points, judgeCells)
	side := 4 * judgeCells
	wrong, all := 0, 0
	area, kept := make([]float64, len(l.Parts)), make([]float64, len(l.Parts))
	for i, k := range want {
		if k < 0 {
			continue
		}
		same := got[i] >= 0 && l.Colour[got[i]] == l.Colour[k]
		area[k]++
		if same {
			kept[k]++
		}
		x, y := (float64(i/side)+0.5)/float64(side)*2-1, (float64(i%side)+0.5)/float64(side)*2-1
		if x*x+y*y < l.PictureShare*l.PictureShare {
			all++
			if !same {
				wrong++
			}
		}
	}
	f.Wrong = float64(wrong) / math.Max(1, float64(all))
	f.Kept = kept
	for k := range kept {
		if area[k] == 0 {
			f.Kept[k] = 1
			continue
		}
		f.Kept[k] /= area[k]
	}
}
