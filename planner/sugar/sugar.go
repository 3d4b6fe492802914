// Package sugar holds the laws and constants of boiled sugar.
//
// Guarantees: every constant has its source and its uncertainty; the viscosity law refuses to speak outside its range;
// a shop's own figure goes before anything computed here (package shop).
//
// References: Williams, Landel and Ferry's law with universal constants, used for sugars by Roos and Karel 1991; Gordon
// and Taylor's mixing rule with water, Fox's for dry solids; Choi and Okos 1986 for heat.
package sugar

import (
	"errors"
	"fmt"
	"math"
)

// Figure is a constant with what it may be off by, and where it is from.
type Figure struct {
	Value, PlusMinus float64
	Source           string
}

func (f Figure) String() string { return fmt.Sprintf("%g +- %g (%s)", f.Value, f.PlusMinus, f.Source) }

// Figures of the material. Kilograms, metres, watts, kelvins.
var (
	Density = Figure{
		1450,
		60,
		"clear candy, trade figures 1400 to 1500; handbook solution tables put bubble-free candy above 1440",
	}
	HeatCapacity = Figure{1700, 80, "Choi and Okos 1986, carbohydrate with 2 % water: 1696 at 60 C"}
	Conductivity = Figure{0.30, 0.05, "Choi and Okos 1986, carbohydrate with 2 % water: 0.281 at 60 C, 0.297 at 80 C"}
	DrySucroseTg = Figure{62, 6, "Roos 1993; 60 and 52 are in print too"}
	DrySyrupTg   = Figure{79, 8, "42 DE glucose syrup solids; from memory"}
	WaterTg      = Figure{-135, 2, "138 K; Johari, Hallbrucker and Mayer 1987: 136 K"}
	EtaUncertain = Figure{
		0,
		1,
		"decades of viscosity: WLF against molten sucrose and glucose is 0.04 to 0.4 high, and Tg is known to 6 K",
	}
	TgUncertain = Figure{
		0,
		6,
		"kelvins, of a glass transition that no test has narrowed: published values of dry sucrose alone differ by 10",
	}
	PulledStiffer = Figure{1, 0.2, "stiffness of pulled over clear sugar at one heat; derived from 10 to 20 % of air"}
)

// Gravity, m/s2.
const Gravity = 9.81

// Diffusivity of heat, m2/s.
func Diffusivity() float64 { return Conductivity.Value / (Density.Value * HeatCapacity.Value) }

// PressEta is the viscosity, Pa s, up to which pressing hands move sugar: 5 % in 30 s under 12.5 kPa; set, no source.
const PressEta = 1.9e6

// Workable is the least heat at which sugar still gives way to pressing hands: a log below it can neither be rolled nor
// drawn.
func Workable(tg float64) float64 { return TempOf(PressEta, tg) }

// Constants of the viscosity law.
const (
	etaGlass = 12.0 // log10 Pa s at Tg; convention
	c1       = 17.44
	c2       = 51.6 // K; WLF, universal
	rangeK   = 100  // above Tg; beyond it the law is not used
)

// ErrRange is a temperature at which the law does not hold.
var ErrRange = errors.New("outside the range of the viscosity law: glass transition to 100 K above it")

// LogEta is log10 of the viscosity in Pa s at t degrees Celsius, for a glass transition tg.
func LogEta(t, tg float64) (float64, error) {
	if d := t - tg; d >= 0 && d <= rangeK {
		return etaGlass - c1*d/(c2+d), nil
	}
	return 0, ErrRange
}

// TempOf is the temperature at which the viscosity is eta Pa s.
func TempOf(eta, tg float64) float64 {
	k := etaGlass - math.Log10(eta)
	return tg + c2*k/(c1-k)
}

// TgOf is the glass transition of a sugar that has viscosity eta Pa s at t degrees Celsius: what a shop's test tells.
func TgOf(eta, t float64) float64 { return t - TempOf(eta, 0) }

const kelvin = 273.15

// Recipe is the dry share of glucose syrup solids (0 to 1) and the water left after the boil, percent by weight.
type Recipe struct{ Syrup, WaterPercent float64 }

// ErrRecipe is a recipe outside what hard candy is made of.
var ErrRecipe = errors.New("outside the range of the mixing rule: syrup 0 to 0.8 of the solids, water 0.5 to 6 %")

// Tg of a recipe in degrees Celsius: Fox's rule for the solids, Gordon and Taylor's with water, k = 0.0293 Tg + 3.61
// (Roos 1993, from memory). Known to 6 K.
func (r Recipe) Tg() (float64, error) {
	if !(r.Syrup >= 0 && r.Syrup <= 0.8 && r.WaterPercent >= 0.5 && r.WaterPercent <= 6) {
		return 0, ErrRecipe
	}
	dry := 1 / ((1-r.Syrup)/(DrySucroseTg.Value+kelvin) + r.Syrup/(DrySyrupTg.Value+kelvin))
	return withWater(dry, 0.0293*(dry-kelvin)+3.61, r.WaterPercent/100), nil
}

// WaterFor is the water (percent) at which the solids have a glass transition of tg degrees Celsius: the rule of Tg
// turned round, kept inside its range.
func WaterFor(syrup, tg float64) float64 {
	lo, hi := 0.5, 6.0
	for range 50 {
		mid := (lo + hi) / 2
		if t, err := (Recipe{syrup, mid}).Tg(); err == nil && t > tg {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// boiling is solids (percent) and the temperature of an open boil (Celsius), middle of the bands of McGee, On Food and
// Cooking, candy table.
var boiling = [...][2]float64{{80, 111}, {85, 114}, {87, 119}, {90, 125.5}, {95, 137.5}, {99, 150}}

// BoilUncertain is half the wider bands of that table, in kelvins, rounded up: the table and the factories' 145 to 152
// C for 1 to 3 % water agree to it.
const BoilUncertain = 5

// EndOfBoil is the temperature of an open boil at sea level that leaves so much water (percent, 1 to 20).
func EndOfBoil(water float64) float64 {
	solids := math.Max(boiling[0][0], math.Min(99, 100-water))
	for i := 1; ; i++ {
		a, b := boiling[i-1], boiling[i]
		if solids <= b[0] || i == len(boiling)-1 {
			return a[1] + (b[1]-a[1])*(solids-a[0])/(b[0]-a[0])
		}
	}
}

// WaterAt is the water (percent) that an open boil to a temperature leaves at sea level: EndOfBoil turned round, between 0.5 and 20.
func WaterAt(endC float64) float64 {
	lo, hi := 0.5, 20.0
	for range 50 {
		mid := (lo + hi) / 2
		if EndOfBoil(mid) > endC {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// BoilsLower is by how many kelvins water boils lower at so many metres: pressure by the standard atmosphere (ISO 2533), boiling
// point by Antoine's equation for water (8.07131, 1730.63, 233.426, millimetres of mercury, 1 to 100 C; both from memory). A strong
// solution falls by about as much (Duehring's rule).
func BoilsLower(metres float64) float64 {
	boils := func(m float64) float64 {
		mmHg := 760 * math.Pow(1-2.25577e-5*m, 5.25588)
		return 1730.63/(8.07131-math.Log10(mmHg)) - 233.426
	}
	return boils(0) - boils(metres)
}

// withWater is Gordon and Taylor's rule: dry glass transition in kelvins, its constant k, the share of water.
func withWater(dry, k, water float64) float64 {
	return ((1-water)*dry+k*water*(WaterTg.Value+kelvin))/(1-water+k*water) - kelvin
}

// Pulled is the density of sugar with a share of air in it, of the same unit as clear.
func Pulled(clear, air float64) float64 { return clear * (1 - air) }

// ConductivityAt t degrees Celsius, of dry sugar: Choi and Okos 1986, carbohydrate, -40 to 150 C, 5 %. W/(m K).
func ConductivityAt(t float64) float64 { return 0.20141 + 1.3874e-3*t - 4.3312e-6*t*t }

// HeatCapacityAt t degrees Celsius, of dry sugar: the same source. J/(kg K).
func HeatCapacityAt(t float64) float64 { return 1548.8 + 1.9625*t - 5.9399e-3*t*t }
