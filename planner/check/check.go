// Package check holds a section against the shop's limits: thin lines and gaps, small dots, what lies near the rim.
//
// Guarantees: every finding has its place, what was measured and what is needed; it speaks of the drawing only, never of the search.
package check

import (
	"fmt"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/element"
	"sugarwright/planner/shop"
)

// Result is what the limits say of a section.
type Result struct {
	Findings finding.List
	LostArea float64 // subject area in regions that fail, square millimetres
	Subject  float64 // subject area in all
	Finest   float64 // smallest width over its limit: below 1 the log would have to be larger by its inverse
}

// leastThin is the area in square millimetres from which a place is no corner (60 square units of a 200-unit drawing; SPLITTING 28).
const leastThin = 19

// Of checks a map. An error is our own or the geometry library's.
func Of(m *partition.Map, sh *shop.Shop) (*Result, error) {
	out := &Result{Finest: math.Inf(1)}
	picture := m.Frame.PictureRadius
	for _, r := range m.Regions {
		if r.Jacket {
			continue
		}
		ground := r.Colour == 0
		if ground && touchesJacket(r, m.Frame.JacketRadius) && len(r.Shape) == 1 {
			continue // nothing but ground
		}
		if !ground {
			out.Subject += r.Area
			out.rim(r, picture, sh)
		}
		failed, err := out.thin(r, ground, sh)
		if err != nil {
			return nil, err
		}
		if failed && !ground {
			out.LostArea += r.Area
		}
	}
	return out, nil
}

func touchesJacket(r partition.Region, radius float64) bool {
	for _, p := range r.Shape[0] {
		if math.Hypot(p[0], p[1]) > radius-0.1 {
			return true
		}
	}
	return false
}

// thin opens a region by the thinnest that can be laid, or wrapped where it is a band.
func (o *Result) thin(r partition.Region, ground bool, sh *shop.Shop) (bool, error) {
	need, code, what, advice := sh.ThinnestMM, finding.TooThin, "line", "draw it bolder, leave it out, or order a larger log"
	if ground {
		need, code, what, advice = sh.GroundGapMM, finding.GapTooThin, "gap of ground", "draw it wider, close it, or order a larger log"
	}
	for _, f := range element.FitAll(r.Shape) {
		if (f.Form == element.Wrap || f.Form == element.Bent) && f.IoU > 0.75 {
			need = sh.ThinnestWrapMM
		}
	}
	if f := round(r); !ground && f > 0 && f < sh.LeastRodMM {
		at := inside(r)
		o.Finest = math.Min(o.Finest, f/sh.LeastRodMM)
		o.Findings.Add(finding.Finding{Code: finding.TooSmall, Severity: finding.Error, AtMM: at, Source: r.Source,
			Message: fmt.Sprintf("dot of %.1f mm in the log, %.1f needed", f, sh.LeastRodMM), Suggestion: "draw it larger or leave it out"})
		return true, nil
	}
	open, err := skeleton.Open(r.Shape, need)
	if err != nil {
		return false, err
	}
	failed := false
	for _, p := range open.Left {
		vanished := open.Pieces == 0 && p.Area > 1
		if !vanished && (p.Area < leastThin || p.Length < 4*need) {
			continue
		}
		failed = true
		at := [2]float64(p.At)
		o.Finest = math.Min(o.Finest, p.Width/need)
		o.Findings.Add(finding.Finding{Code: code, Severity: finding.Error, AtMM: &at, Source: r.Source,
			Message:    fmt.Sprintf("%s %.1f mm thick in the log, %.1f needed", what, p.Width, need),
			Suggestion: advice})
	}
	if !failed && !ground {
		open, err := skeleton.Open(r.Shape, sh.ThinNoteMM)
		if err != nil {
			return false, err
		}
		for _, p := range open.Left {
			if p.Area > leastThin && p.Length > 4*need || open.Pieces == 0 && p.Area > 1 {
				at := [2]float64(p.At)
				o.Findings.Add(finding.Finding{Code: finding.ThinNote, Severity: finding.Note, AtMM: &at, Source: r.Source,
					Message: fmt.Sprintf("line about %.1f mm thick in the log: it can be laid, %.1f is easier", p.Width, sh.ThinNoteMM)})
				break
			}
		}
	}
	return failed, nil
}

// round is the diameter of a region that is a dot, else 0.
func round(r partition.Region) float64 {
	for _, f := range element.FitAll(r.Shape) {
		if f.Form == element.Rod && f.IoU > 0.85 {
			return f.A
		}
	}
	return 0
}

func inside(r partition.Region) *[2]float64 {
	e := element.Element{True: r.Shape}
	p := [2]float64(e.Inside())
	return &p
}

// rim notes subject beyond the share of the picture circle in which key parts are safe.
func (o *Result) rim(r partition.Region, picture float64, sh *shop.Shop) {
	far, at := 0.0, geom.TruePoint{}
	for _, p := range r.Shape[0] {
		if d := math.Hypot(p[0], p[1]); d > far {
			far, at = d, p
		}
	}
	if far > sh.NearRimShare*picture && !o.Findings.Has(finding.NearRim) {
		p := [2]float64(at)
		o.Findings.Add(finding.Finding{Code: finding.NearRim, Severity: finding.Note, AtMM: &p, Source: r.Source,
			Message: fmt.Sprintf("the picture reaches %.0f mm of the %.0f mm to the picture circle: keep what matters inside %.0f", far, picture, sh.NearRimShare*picture)})
	}
}
