// Package windows gives each part of a set the band of heat in which it can be laid, and the heat at which it is laid.
//
// Guarantees (P8): every part is laid inside its own band; parts that join differ by no more than the shop allows, or a
// finding says so.
package windows

import (
	"math"

	"sugarwright/geom/finding"
	"sugarwright/planner/heat"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
)

// innerC is how far above the low end of its window a part is laid, where the window is wide enough; set, no source:
// what a hand can tell.
const innerC = 1.5

// bendShare of the minutes that the shop takes to bend a part on is the bending itself, the rest fitting and pressing;
// set, no source.
const bendShare = 0.5

// Part is an element's band and the heat at which it is laid, degrees Celsius.
type Part struct {
	Window heat.Window
	LayC   float64
}

// Windows are the bands of a set's elements, by element.
type Windows struct {
	Parts    []Part
	Binding  int     // the element whose band sets the heat at which all are laid
	KeepC    float64 // at which what waits is kept; 0 without a warm place
	shop     *shop.Shop
	lengthMM float64
}

// Of settles bands and heats. All parts are laid as near to the middle of the coolest part's band as their own bands
// allow, so that parts that join are alike, and flow alike when the log is rolled. That is also the heat at which what
// waits is kept. The closing wraps of ground and jacket go on warmer by half of what parts that join may differ by:
// they need not stand by themselves, and keep the log workable.
func Of(of *set.Set, s *shop.Shop, lengthMM float64) (*Windows, finding.List) {
	w := &Windows{shop: s, lengthMM: lengthMM}
	var found finding.List
	common := math.Inf(1)
	for i, e := range of.Elements {
		win := w.Holding(e, s.HoldMin)
		if e.Kind != set.Jacket && win.High < win.Low {
			f := finding.New(finding.NoWindow, finding.Error, e.Fit.Thick()).At(e.Inside())
			if s.LayFromC > 0 || s.LayToC > 0 {
				f = f.In("own_band")
			}
			found.Add(f)
		}
		if mid := (win.Low + win.High) / 2; mid < common {
			common, w.Binding = mid, i
		}
		w.Parts = append(w.Parts, Part{Window: win})
	}
	found.Add(w.settle(of, common)...)
	if s.TgFrom != shop.FromTest {
		found.Add(finding.New(finding.WindowGuess, finding.Note))
	}
	return w, found
}

// settle the heat at which each part is laid, about a common one.
func (w *Windows) settle(of *set.Set, common float64) (found finding.List) {
	s := w.shop
	coolest, warmest := math.Inf(1), math.Inf(-1)
	for i := range w.Parts {
		p := &w.Parts[i]
		p.LayC = common
		if k := of.Elements[i].Kind; k == set.Ground || k == set.Jacket {
			p.LayC += s.JoinC / 2
		}
		inner := math.Min(innerC, (p.Window.High-p.Window.Low)/4)
		p.LayC = math.Max(p.Window.Low+inner, math.Min(p.Window.High, p.LayC))
		coolest, warmest = math.Min(coolest, p.LayC), math.Max(warmest, p.LayC)
	}
	if s.WarmC > 0 {
		w.KeepC = math.Min(s.WarmC, common)
		if s.WarmC < common-0.5 {
			found.Add(finding.New(finding.WarmTooCold, finding.Warning, s.WarmC, common))
		}
	}
	if warmest-coolest > s.JoinC {
		found.Add(finding.New(finding.JoinHeat, finding.Error, warmest-coolest, s.JoinC))
	}
	return found
}

// Holding is the band of an element that must hold its shape by itself for some minutes.
func (w *Windows) Holding(e set.Element, minutes float64) heat.Window {
	return Limits(w.shop, minutes, w.lengthMM).Of(e.Fit.Flat(), e.Fit.Thick(), e.Fit.Radius())
}

// Limits are what the shop's sugar and hands allow a part that must hold its shape by itself for some minutes.
func Limits(s *shop.Shop, holdMin, lengthMM float64) heat.Limits {
	return heat.Limits{
		TgC:      s.TgC,
		HoldMin:  holdMin,
		LengthMM: lengthMM,
		BendS:    bendShare * 60 * (s.Minutes.Lay + s.Minutes.Minutes.Bend),
		FromC:    s.LayFromC,
		ToC:      s.LayToC,
	}
}

// Waits is for how many minutes a part that has been made stays inside a window: for good where the warm place is warm
// enough.
func (w *Windows) Waits(flat bool, thickMM float64, win heat.Window) float64 {
	around := w.shop.AirC
	if w.KeepC > 0 {
		around = w.KeepC
	}
	shape := heat.Rod
	if flat {
		shape = heat.Sheet
	}
	return heat.Minutes(shape, thickMM, win.High, win.Low, around, w.shop.AirW)
}

// Check holds every part to its band.
func (w *Windows) Check() error {
	for i, p := range w.Parts {
		if p.LayC < p.Window.Low-1e-9 || p.LayC > p.Window.High+1e-9 {
			return finding.Impossible("element %d is laid at %.1f C, outside %.1f to %.1f", i, p.LayC, p.Window.Low,
				p.Window.High)
		}
	}
	return nil
}
