// Package heat gives each part the band of temperature in which it can be laid, and says how parts, lumps and the log
// cool.
//
// Guarantees: windows are closed forms; cooling is by exact series, or by implicit steps where table, air and lamp
// differ. The glass transition is known to 6 K, so a band is a guess until a shop has measured its own sugar.
//
// References: sag of a round log on a table and of a flat strip, press and tear limits as derived for the model in
// planner/README.md; Carslaw and Jaeger 1959 for the series.
package heat

import (
	"math"

	"sugarwright/planner/sugar"
)

// Limits of the closed forms.
const (
	loss     = 0.05  // allowed loss of height while a part holds by itself; common practice, no source
	rodSag   = 0.2   // loss of a round part = 0.2 rho g d t / eta; computed
	stripSag = 0.125 // of a flat strip: mean stress rho g t / 2 = 4 eta rate; derived
	tearPa   = 1e6   // tear stress, order only; from memory
	handsNm  = 2.5   // two hands bending; set, no source
	turnS    = 60.0  // seconds between turns of a part too heavy to be left alone; common practice, no source
	narrowC  = 2.0   // a band narrower than this means: turn it each minute
)

// Window is a band in degrees Celsius; Turned means that it holds only if the part is turned each minute.
type Window struct {
	Low, High float64
	Turned    bool
}

// Limits are what a window depends on beside the part: glass transition, minutes that a part must hold its shape by
// itself, length of the log, seconds that hands take to bend, and the shop's own working band (0: none), which cuts the
// window.
type Limits struct {
	TgC, HoldMin, LengthMM, BendS float64
	FromC, ToC                    float64
}

// Of is the window of a part, flat as a sheet or not: thickness and radius of bending (0: straight) in millimetres. A part holds by itself
// until neighbours or a wrap support it; one that is too heavy for that is turned each minute.
func (l Limits) Of(flat bool, thick, radius float64) Window {
	w := Window{Low: l.low(thick, radius)}
	w.High = high(flat, thick, 60*l.HoldMin, l.TgC)
	if w.High < w.Low+narrowC {
		w.High, w.Turned = high(flat, thick, math.Min(turnS, 60*l.HoldMin), l.TgC), true
	}
	if l.FromC > 0 {
		w.Low = math.Max(w.Low, l.FromC)
	}
	if l.ToC > 0 {
		w.High = math.Min(w.High, l.ToC)
	}
	return w
}

// low end: the part takes a press, does not tear when it is bent, and two hands can bend it.
func (l Limits) low(thick, radius float64) float64 {
	eta := sugar.PressEta
	if radius > 0 {
		t, r, length := thick/1000, radius/1000, l.LengthMM/1000
		strain := t / (2*r + t)
		eta = math.Min(sugar.PressEta, math.Min(tearPa*l.BendS/(3*strain), handsNm*3*r*l.BendS/(t*t*t*length)))
	}
	return sugar.TempOf(eta, l.TgC)
}

func high(flat bool, thick, holdS, tg float64) float64 {
	k := rodSag
	if flat {
		k = stripSag
	}
	return sugar.TempOf(k*sugar.Density.Value*sugar.Gravity*thick/1000*holdS/loss, tg)
}
