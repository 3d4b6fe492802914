package heat_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/planner/heat"
	"sugarwright/planner/sugar"
)

// Cooling of an endless rod (Carslaw and Jaeger 1959; Incropera's table has the first root and weight to four digits;
// the series summed independently, four rows confirmed by finite volumes).
func TestRodSeries(t *testing.T) {
	for _, c := range []struct{ biot, fourier, centre, half, surface, mean float64 }{
		{0.1, 0.5, 0.929340, 0.918058, 0.884592, 0.906881},
		{0.1, 2, 0.693584, 0.685153, 0.660167, 0.676807},
		{1, 0.1, 0.976817, 0.920502, 0.684565, 0.843266},
		{1, 0.5, 0.548586, 0.495884, 0.352786, 0.447384},
		{1, 1, 0.249380, 0.225399, 0.160338, 0.203347},
		{10, 0.1, 0.900080, 0.710079, 0.131622, 0.509984},
		{10, 0.5, 0.145800, 0.105625, 0.017758, 0.074765},
	} {
		s := heat.NewSeries(heat.Rod, c.biot)
		name := fmt.Sprintf("Bi %g Fo %g", c.biot, c.fourier)
		assert.InDelta(t, c.centre, s.At(0, c.fourier), 1e-5, name)
		assert.InDelta(t, c.half, s.At(0.5, c.fourier), 1e-5, name)
		assert.InDelta(t, c.surface, s.At(1, c.fourier), 1e-5, name)
		assert.InDelta(t, c.mean, s.Mean(c.fourier), 1e-5, name)
	}
	// A surface held at the outer temperature: roots of J0; centre half at Fo 0.2005, tenth at 0.480.
	s := heat.NewSeries(heat.Rod, 1e9)
	assert.InDelta(t, 0.848355, s.At(0, 0.1), 1e-5)
	assert.InDelta(t, 0.394176, s.Mean(0.1), 1e-5)
	assert.InDelta(t, 0.501487, s.At(0, 0.2), 1e-5)
	assert.InDelta(t, 0.217852, s.Mean(0.2), 1e-5)
	assert.InDelta(t, 0.5, s.At(0, 0.2005), 1e-3)
	assert.InDelta(t, 0.1, s.At(0, 0.480), 1e-3)
}

// A sheet that cools on both sides (the same sources).
func TestSheetSeries(t *testing.T) {
	for _, c := range []struct{ biot, fourier, centre, surface, mean float64 }{
		{0.1, 1, 0.922389, 0.878126, 0.907587}, {1, 0.2, 0.950642, 0.643391, 0.851595}, {1, 1, 0.533859, 0.348177, 0.470397}, {10, 0.5, 0.454641, 0.064329, 0.315016},
	} {
		s := heat.NewSeries(heat.Sheet, c.biot)
		assert.InDelta(t, c.centre, s.At(0, c.fourier), 1e-5)
		assert.InDelta(t, c.surface, s.At(1, c.fourier), 1e-5)
		assert.InDelta(t, c.mean, s.Mean(c.fourier), 1e-5)
	}
}

// One heat throughout: exp(-2 Bi Fo); the rod of 15 mm has a time constant of 1002 s (rho 1555.06, c 1718.51, h 10:
// derived). Against the series it is 12 % short at h d / 4 k = 0.2 and 28 % at 1.4 (computed).
func TestLumped(t *testing.T) {
	assert.InDelta(t, 0.904837, heat.Lumped(heat.Rod, 0.1, 0.5), 1e-6)
	assert.InDelta(t, 0.818731, heat.Lumped(heat.Rod, 1, 0.1), 1e-6)
	assert.InDelta(t, 0.135335, heat.Lumped(heat.Rod, 1, 1), 1e-6)
	r, k, rho, c, h := 0.0075, 0.30, 1555.06, 1718.51, 10.0
	assert.InDelta(t, math.Exp(-1), heat.Lumped(heat.Rod, h*r/k, k/(rho*c)*1002.146/(r*r)), 1e-6)
	for _, v := range []struct{ biot, short float64 }{{0.4, 0.12}, {2.8, 0.28}} {
		s := heat.NewSeries(heat.Rod, v.biot)
		half := 0.0
		for s.Mean(half) > 0.75 {
			half += 1e-4
		}
		short := 1 - math.Log(1/0.75)/(2*v.biot)/half
		assert.InDelta(t, v.short, short, 0.06, "Bi %g", v.biot)
	}
}

// A thick body (Carslaw and Jaeger 1959, chapter 2; derived).
func TestSemi(t *testing.T) {
	for _, c := range []struct{ xi, h, want float64 }{{0, 0.5, 0.384310}, {0, 1, 0.572416}, {0.5, 0.5, 0.146498}, {0.5, 1, 0.229049}, {1, 1, 0.063344}} {
		assert.InDelta(t, c.want, heat.Semi(c.xi, c.h), 1e-6)
	}
	for _, c := range [][2]float64{{0.25, 0.276326}, {0.5, 0.520500}, {1, 0.842701}, {2, 0.995322}} {
		assert.InDelta(t, 1-c[1], heat.Semi(c[0], 1e1), 0.11*(1-c[1])+2e-3, "towards a fixed surface")
	}
	for _, c := range []struct{ k, rho, c, want float64 }{{15, 7900, 500, 30.922204}, {2.8, 2700, 880, 39.562219}, {0.16, 600, 1700, 63.329443}} {
		assert.InDelta(t, c.want, heat.Contact(0.35, 1450, 1700, 80, c.k, c.rho, c.c, 25), 1e-5)
	}
}

// Candy from 80 C in air of 25 C (series, k 0.30, rho 1450, c 1700; derived).
func TestCandyRods(t *testing.T) {
	for _, c := range []struct{ d, h, seconds, centre, surface, mean float64 }{
		{15, 15, 60, 78.8548, 71.1331, 75.2109}, {15, 15, 300, 63.3772, 57.0906, 60.1886},
		{50, 12, 60, 80.0000, 73.5939, 78.8157}, {50, 12, 300, 79.8584, 66.3952, 74.6585}, {50, 12, 600, 77.9532, 61.4001, 70.1332}, {50, 12, 1800, 63.1519, 49.5780, 56.1498},
		{150, 12, 300, 80.0000, 67.3136, 78.2011}, {150, 12, 600, 80.0000, 63.1620, 76.6404}, {150, 12, 1800, 79.9685, 54.7832, 71.4388},
	} {
		r := c.d / 2000
		s := heat.NewSeries(heat.Rod, c.h*r/sugar.Conductivity.Value)
		fo := sugar.Diffusivity() * c.seconds / (r * r)
		at := func(v float64) float64 { return 25 + 55*v }
		name := fmt.Sprintf("%g mm %g s", c.d, c.seconds)
		assert.InDelta(t, c.centre, at(s.At(0, fo)), 1e-2, name)
		// The series' end shows at the surface in the first minute
		assert.InDelta(t, c.surface, at(s.At(1, fo)), 0.25, name)
		assert.InDelta(t, c.mean, at(s.Mean(fo)), 1e-2, name)
		assert.InDelta(t, c.seconds/60, heat.Minutes(heat.Rod, c.d, 80, c.mean, 25, c.h), 2e-3*c.seconds/60+1e-3, name)
	}
	// 80 to 70 C in air, minutes (of another hand's computation, printed to two digits).
	for _, c := range [][2]float64{{10, 2.1}, {20, 4.2}, {30, 6.3}, {50, 11}} {
		assert.InEpsilon(t, c[1], heat.Minutes(heat.Rod, c[0], 80, 70, 25, 11), 0.08)
	}
	assert.True(t, math.IsInf(heat.Minutes(heat.Rod, 20, 70, 60, 62, 11), 1), "kept warm")
	assert.Zero(t, heat.Minutes(heat.Rod, 20, 60, 60, 25, 11))
}

// A strip on a table of 55 C in air of 25 C, 80 to 70 C, minutes (of another hand's computation, printed to two
// digits); and with both sides alike, the series.
func TestOnTable(t *testing.T) {
	table, air := heat.Side{C: 55, W: 100}, heat.Side{C: 25, W: 11}
	for _, c := range [][2]float64{{5, 1.2}, {12, 3.1}, {20, 6}} {
		minutes := 0.1
		for heat.OnTable(c[0], 80, minutes, table, air) > 70 {
			minutes += 0.02
		}
		assert.InEpsilon(t, c[1], minutes, 0.12, "%g mm", c[0])
	}
	s := heat.NewSeries(heat.Sheet, 11*0.005/sugar.Conductivity.Value)
	want := 25 + 55*s.Mean(sugar.Diffusivity()*240/(0.005*0.005))
	assert.InDelta(t, want, heat.OnTable(10, 80, 4, air, air), 0.1)
}

// disc is a pile of two parts: a core, and what is round it.
func disc(side int, core float64) (*heat.Pile, []int) {
	part := make([]int, side*side)
	for i := range part {
		x, y := (float64(i/side)+0.5)/float64(side)*2-1, (float64(i%side)+0.5)/float64(side)*2-1
		switch r := math.Hypot(x, y); {
		case r > 1:
			part[i] = -1
		case r < core:
			part[i] = 1
		}
	}
	return heat.NewPile(side, 150/float64(side), part), part
}

// The whole log in air against the series (h 12), lying free: the table takes what the air does.
func TestPileAgainstSeries(t *testing.T) {
	p, _ := disc(96, 0.3)
	p.Lay(0, 80, 0)
	p.Lay(1, 80, 0)
	air, under := heat.Side{C: 25, W: 12}, heat.Side{C: 25, W: 12 * math.Pi / 4}
	p.Cool(10, under, air)
	c := p.Means(2)
	assert.InDelta(t, 76.6404, c[0]*0.91+c[1]*0.09, 0.3)
	assert.InDelta(t, 80, p.Middle(48, 48), 0.1)
	p.Cool(20, under, air)
	c = p.Means(2)
	assert.InDelta(t, 71.4388, c[0]*0.91+c[1]*0.09, 0.6)
}

// Evening-out: a part keeps half of its own difference, at its centre, for 0.20 (d/2)^2 / a (computed for a part in a
// wide ground), no heat is lost inside, and blocks that lie apart do not share theirs.
func TestPileEvensOut(t *testing.T) {
	for _, c := range []struct{ core, minutes float64 }{{0.2, 6.2}, {0.4, 25}} { // 30 and 60 mm
		p, part := disc(96, c.core)
		p.Lay(0, 60, 0)
		p.Lay(1, 70, 0)
		none := heat.Side{C: 60, W: 1e-9}
		sum := func() float64 {
			s := 0.0
			for i := range part {
				s += p.Middle(i/96, i%96)
			}
			return s
		}
		before := sum()
		p.Cool(c.minutes, none, none)
		assert.InDelta(t, 65, p.Middle(48, 48), 2.3, "half of the difference")
		assert.InEpsilon(t, before, sum(), 1e-9)
	}
	p, _ := disc(96, 0.3)
	p.Lay(0, 60, 0)
	p.Lay(1, 70, 1)
	none := heat.Side{C: 60, W: 1e-9}
	p.Cool(10, none, none)
	assert.InDelta(t, 70, p.Means(2)[1], 1e-6, "a block that lies apart")
	p.Join(1, 0)
	p.Cool(10, none, none)
	assert.Less(t, p.Means(2)[1], 68.0)
	assert.True(t, math.IsNaN(p.Means(8)[7]))
}

func BenchmarkPile(b *testing.B) {
	p, _ := disc(96, 0.3)
	p.Lay(0, 60, 0)
	p.Lay(1, 70, 0)
	for b.Loop() {
		p.Cool(30, heat.Side{C: 50, W: 100}, heat.Side{C: 50, W: 11})
	}
}
