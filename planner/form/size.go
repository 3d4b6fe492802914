package form

import "math"

// Size names the dimensions of a fit.
func Size(f Fit) map[string]float64 {
	switch f.Form {
	case Rod:
		return map[string]float64{"diameter_mm": f.A}
	case Strip, Bent, Wrap:
		return map[string]float64{"thickness_mm": f.A, "width_mm": f.B}
	case Block:
		return map[string]float64{"width_mm": f.A, "height_mm": f.B}
	case Wedge:
		return map[string]float64{"base_mm": f.A, "height_mm": f.B, "top_mm": f.C, "apex_mm": f.D}
	case Segment:
		return map[string]float64{"chord_mm": f.A, "height_mm": f.B}
	}
	return map[string]float64{"diameter_mm": f.A, "length_mm": f.B}
}

// Thick is the thickness that decides how a fit holds its heat and its shape.
func Thick(f Fit) float64 {
	switch f.Form {
	case Block, Segment:
		return f.B
	case Wedge:
		return math.Min(f.A, f.B)
	}
	return f.A
}
