package geom

import "math"

// Affine is the matrix a b c d e f of SVG: x' = a x + c y + e, y' = b x + d y + f.
type Affine [6]float64

// Identity leaves points where they are.
var Identity = Affine{1, 0, 0, 1, 0, 0}

// Apply moves a raw coordinate pair.
func (m Affine) Apply(x, y float64) (float64, float64) {
	return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
}

// Times is the matrix that applies n first, then m.
func (m Affine) Times(n Affine) Affine {
	return Affine{
		m[0]*n[0] + m[2]*n[1], m[1]*n[0] + m[3]*n[1],
		m[0]*n[2] + m[2]*n[3], m[1]*n[2] + m[3]*n[3],
		m[0]*n[4] + m[2]*n[5] + m[4], m[1]*n[4] + m[3]*n[5] + m[5],
	}
}

// Det is the factor by which areas grow; negative when the matrix mirrors.
func (m Affine) Det() float64 { return m[0]*m[3] - m[1]*m[2] }

// Scale is the length factor of a similarity with this determinant.
func (m Affine) Scale() float64 { return math.Sqrt(math.Abs(m.Det())) }

// ToTrue takes artwork points to the true frame.
type ToTrue Affine

// Point goes from the artwork frame to the true frame.
func (m ToTrue) Point(p ArtworkPoint) TruePoint {
	x, y := Affine(m).Apply(p[0], p[1])
	return TruePoint{x, y}
}

// Artwork goes back, from the true frame to the artwork frame.
func (m ToTrue) Artwork(p TruePoint) ArtworkPoint {
	d := Affine(m).Det()
	x, y := p[0]-m[4], p[1]-m[5]
	return ArtworkPoint{(m[3]*x - m[2]*y) / d, (m[0]*y - m[1]*x) / d}
}

// Inverse undoes m; ok is false when m flattens the plane.
func (m Affine) Inverse() (Affine, bool) {
	d := m.Det()
	if d == 0 || math.IsNaN(d) || math.IsInf(d, 0) {
		return Identity, false
	}
	a, b, c, e := m[3]/d, -m[1]/d, -m[2]/d, m[0]/d
	return Affine{a, b, c, e, -(a*m[4] + c*m[5]), -(b*m[4] + e*m[5])}, true
}
