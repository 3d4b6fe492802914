// Package sugar holds material laws and constants.
//
// Guarantees: every constant has its source; the viscosity law refuses to speak outside its range.
//
// References: Williams, Landel & Ferry's law with universal constants, used for sugars by Roos & Karel 1991; 1e12 Pa s at the glass
// transition by convention.
package sugar

import (
	"errors"
	"math"
)

// Constants of the law and of the material.
const (
	etaGlass = 12.0  // log10 Pa s at Tg; convention
	c1       = 17.44 // WLF, universal
	c2       = 51.6  // WLF, universal, K
	Density  = 1450  // kg/m3, published 1400 to 1500
	Gravity  = 9.81
)

// ErrRange is a temperature at which the law does not hold.
var ErrRange = errors.New("outside the range of the viscosity law: glass transition to 100 K above it")

// LogEta is log10 of the viscosity in Pa s at t degrees Celsius, for a glass transition tg.
func LogEta(t, tg float64) (float64, error) {
	if d := t - tg; d >= 0 && d <= 100 {
		return etaGlass - c1*d/(c2+d), nil
	}
	return 0, ErrRange
}

// TempOf is the temperature at which the viscosity is eta Pa s.
func TempOf(eta, tg float64) float64 {
	k := etaGlass - math.Log10(eta)
	return tg + c2*k/(c1-k)
}
