package shop

import (
	"math"

	"sugarwright/planner/settings"
	"sugarwright/planner/sugar"
)

// Tests are what the shop measured; zero means not measured.
type Tests struct {
	Lump Lump
	Oval struct{ WidthMM, HeightMM float64 }
	// Good pieces that were weighed together
	Pieces struct{ Number, Grams float64 }
}

// Weighed tells whether the shop has weighed its pieces, so that a net weight can stand on a label.
func (t Tests) Weighed() bool { return t.Pieces.Number > 0 && t.Pieces.Grams > 0 }

// Lump is a round lump of clear sugar of one heat, left on the table: its diameter, how long, its height then, its
// heat.
type Lump struct{ DiameterMM, Minutes, HeightMM, AtC float64 }

// sagExponent and sagRate of a round body that sticks to the table: H/D = (1 + 0.8 tau)^-0.27, tau = rho g D t / eta,
// computed, within 0.006 to tau = 4.
const (
	sagExponent = 0.27
	sagRate     = 0.8
	sagTau      = 4
)

// Sag is height over diameter of a round log that has lain on a table: tau = rho g D t / eta.
func Sag(tau float64) float64 { return math.Pow(1+sagRate*tau, -sagExponent) }

// Viscosity in Pa s that the lump had.
func (l Lump) Viscosity() float64 {
	t := sugar.Density.Value * sugar.Gravity * l.DiameterMM / 1000 * l.Minutes * 60
	return sagRate * t / (math.Pow(l.HeightMM/l.DiameterMM, -1/sagExponent) - 1)
}

// readMM and readC are how well a kitchen reads a height and a heat; set, no source.
const (
	readMM = 0.5
	readC  = 1.0
)

// Tg is the glass transition that the lump tells, and what it may be off by: the height read to half a millimetre, the
// heat to a degree.
func (l Lump) Tg() (tg, plusMinus float64) {
	tg = sugar.TgOf(l.Viscosity(), l.AtC)
	for _, d := range []float64{-readMM, readMM} {
		o := l
		o.HeightMM = math.Min(l.HeightMM+d, l.DiameterMM*0.998)
		plusMinus = math.Max(plusMinus, math.Abs(sugar.TgOf(o.Viscosity(), l.AtC)-tg))
	}
	return tg, plusMinus + readC
}

// runsEta is the viscosity, Pa s, below which even a sheet of 3 mm loses its shape in a minute: a twentieth of its
// height, as windows have it.
const runsEta = 6.4e3

// Range of a glass transition that is believed: what was published for hard candy, 28 to 49 C, and some 10 K more.
const (
	leastTg = 20
	mostTg  = 60
)

// settle puts the shop's own measurements in place of settings, and finds what contradicts itself. Lines are those of
// the shop's file.
func (s *Shop) settle(f *settings.File) {
	fault, given := f.Fault, f.Given
	s.measured(fault, given)
	switch {
	case s.TgFrom == FromTest:
	case given("boil.end_c"):
		s.boiledTo(fault, given)
	case given("sugar.moisture_percent"):
		tg, err := sugar.Recipe{Syrup: s.SyrupShare, WaterPercent: s.MoisturePercent}.Tg()
		if err != nil {
			break // out of its range: a fault already
		} else if tg < leastTg || tg > mostTg {
			fault("sugar.moisture_percent", "sugar.moisture_percent gives a glass transition of %.0f C; believable is %d to %d", tg, leastTg, mostTg)
		}
		if given("sugar.tg_c") {
			fault("sugar.moisture_percent",
				"sugar.moisture_percent says %.0f C for the glass transition, sugar.tg_c %.0f; give one of the two", tg,
				s.TgC)
		}
		s.TgC, s.TgFrom, s.TgPlusMinus = tg, FromMoisture, sugar.TgUncertain.PlusMinus
	case given("sugar.tg_c"):
		s.TgFrom, s.TgPlusMinus = FromSetting, sugar.TgUncertain.PlusMinus
	default:
		s.TgFrom, s.TgPlusMinus = FromDefault, sugar.TgUncertain.PlusMinus
	}
	if s.LayFromC > 0 && s.LayToC > 0 && s.LayFromC >= s.LayToC {
		fault("heat.lay_from_c",
			"heat.lay_from_c is %g and heat.lay_to_c %g: the window is empty; lay_from_c must be below lay_to_c",
			s.LayFromC, s.LayToC)
	}
	if least := sugar.Workable(s.TgC); s.LayToC > 0 && s.LayToC < least {
		fault("heat.lay_to_c",
			"heat.lay_to_c is %g; with a glass transition of %.0f C no hand moves such sugar; allowed is %.0f or more",
			s.LayToC, s.TgC, math.Ceil(least))
	}
	if most := sugar.TempOf(runsEta, s.TgC); s.LayFromC > most {
		fault("heat.lay_from_c",
			"heat.lay_from_c is %g; with a glass transition of %.0f C such sugar runs; allowed is at most %.0f",
			s.LayFromC, s.TgC, math.Floor(most))
	}
	if s.JacketMM < s.ThinnestWrapMM {
		fault("log.jacket_mm", "log.jacket_mm is %g, thinner than limits.thinnest_wrap_mm %g; allowed is %g or more",
			s.JacketMM, s.ThinnestWrapMM, s.ThinnestWrapMM)
	}
	if s.LampC < s.AirC {
		fault("heat.lamp_c", "heat.lamp_c is %g, colder than the air at %g; allowed is %g (no lamp) to 100", s.LampC,
			s.AirC, s.AirC)
	}
	if s.ThinNoteMM < s.ThinnestMM {
		fault("limits.thin_note_mm", "limits.thin_note_mm is %g, below limits.thinnest_mm %g; allowed is %g or more",
			s.ThinNoteMM, s.ThinnestMM, s.ThinnestMM)
	}
	if s.AlikeDE2000 < s.LikeDE2000 {
		fault("limits.alike_de2000", "limits.alike_de2000 is %g, below limits.like_de2000 %g; allowed is %g or more",
			s.AlikeDE2000, s.LikeDE2000, s.LikeDE2000)
	}
	if s.PulledDensity > s.ClearDensity {
		fault("sugar.pulled_g_cm3",
			"sugar.pulled_g_cm3 is %g, above sugar.clear_g_cm3 %g: pulling takes air in; allowed is at most %g",
			s.PulledDensity, s.ClearDensity, s.ClearDensity)
	}
	if room := s.LargestMM/2*(1-s.Fill) - s.JacketMM; room < s.ThinnestWrapMM {
		fault("log.jacket_mm",
			"log.jacket_mm is %g: between picture and rim of a log of %g mm only %.1f mm are left for it and the wrap of %g mm below it",
			s.JacketMM, s.LargestMM, s.LargestMM/2*(1-s.Fill), s.ThinnestWrapMM)
	}
	if s.WarmC > 0 && s.WarmC < s.AirC {
		fault("heat.warm_c",
			"heat.warm_c is %g, colder than the air at %g; allowed is 0 (there is no warm place) or %g to 100", s.WarmC,
			s.AirC, s.AirC)
	}
	if s.LeastG > s.MostG {
		fault("log.least_g", "log.least_g is %g, above log.largest_g %g; allowed is at most %g", s.LeastG, s.MostG,
			s.MostG)
	}
	if s.LeastLumpG > s.LeastG {
		fault("shop.least_lump_g",
			"shop.least_lump_g is %g, more than the smallest batch, log.least_g %g; allowed is at most %g",
			s.LeastLumpG, s.LeastG, s.LeastG)
	}
	if least := s.leastWater(); s.WaterShare < least {
		fault("boil.water_share",
			"boil.water_share is %g: the pan would hold less water than the finished sugar keeps; allowed is %.2f or more",
			s.WaterShare, math.Ceil(least*100)/100)
	}
}

// boiledTo takes water and glass transition from the end of the boil, as far as the tables of both are known.
func (s *Shop) boiledTo(fault func(path, format string, a ...any), given func(path string) bool) {
	for _, other := range []string{"sugar.moisture_percent", "sugar.tg_c"} {
		if given(other) {
			fault("boil.end_c", "boil.end_c and %s both say how far the sugar is boiled; give one of the two", other)
			return
		}
	}
	sea := s.EndC + sugar.BoilsLower(s.AltitudeM)
	tg := func(endC float64) float64 {
		t, _ := sugar.Recipe{Syrup: s.SyrupShare, WaterPercent: math.Max(0.5, math.Min(6, sugar.WaterAt(endC)))}.Tg()
		return t
	}
	water := sugar.WaterAt(sea)
	if t := tg(sea); water > 6 || t < leastTg || t > mostTg {
		fault("boil.end_c", "boil.end_c is %g: that leaves %.1f %% of water and a glass transition of %.0f C; hard candy has 0.5 to 6 %% and %d to %d C, so allowed is about %.0f to %.0f", s.EndC, water, t,
			leastTg, mostTg, math.Ceil(sugar.EndOfBoil(6)-sugar.BoilsLower(s.AltitudeM)), math.Floor(sugar.EndOfBoil(0.5)-sugar.BoilsLower(s.AltitudeM)))
		return
	}
	off := (tg(sea+sugar.BoilUncertain) - tg(sea-sugar.BoilUncertain)) / 2
	s.MoisturePercent = math.Max(0.5, water)
	s.TgC, s.TgFrom, s.TgPlusMinus = tg(sea), FromBoil, math.Hypot(sugar.TgUncertain.PlusMinus, off)
}

// EndOfBoil is the temperature to which it is boiled in this kitchen, degrees Celsius.
func (s *Shop) EndOfBoil() float64 {
	if s.EndC > 0 {
		return s.EndC
	}
	return sugar.EndOfBoil(s.WaterPercent()) - sugar.BoilsLower(s.AltitudeM)
}

// WaterPercent is the water left after the boil: the shop's setting, else what its glass transition stands for.
func (s *Shop) WaterPercent() float64 {
	if s.MoisturePercent > 0 {
		return s.MoisturePercent
	}
	return sugar.WaterFor(s.SyrupShare, s.TgC)
}

// leastWater is the water to a kilogram of sugar at which the pan holds as much as the finished sugar keeps.
func (s *Shop) leastWater() float64 {
	solids := 1 - s.WaterPercent()/100
	sucrose := solids * (1 - s.SyrupShare)
	return (1 - sucrose - solids*s.SyrupShare/s.SyrupSolids) / sucrose
}

// measured takes what the tests tell.
func (s *Shop) measured(fault func(path, format string, a ...any), given func(path string) bool) {
	if p := s.Tests.Pieces; given("tests.pieces") && !s.Tests.Weighed() {
		fault("tests.pieces", "tests.pieces has %g pieces of %g g; it needs both their number and their grams", p.Number, p.Grams)
	}
	if l := s.Tests.Lump; l != (Lump{}) || given("tests.lump") {
		missing := false
		for _, x := range []struct {
			name string
			v    float64
		}{{"diameter_mm", l.DiameterMM}, {"minutes", l.Minutes}, {"height_mm", l.HeightMM}, {"at_c", l.AtC}} {
			if x.v == 0 {
				missing = true
				fault("tests.lump", "tests.lump has no %s", x.name)
			}
		}
		least := Sag(sagTau) * l.DiameterMM
		switch tg, pm := l.Tg(); {
		case missing:
		case l.HeightMM > 0.995*l.DiameterMM || l.HeightMM < least:
			fault("tests.lump",
				"tests.lump.height_mm is %g of a lump of %g: allowed is %.1f to %.1f; let it lie longer, or less long",
				l.HeightMM, l.DiameterMM, least, 0.995*l.DiameterMM)
		case tg < leastTg || tg > mostTg:
			fault("tests.lump",
				"tests.lump gives a glass transition of %.0f C; believable is %d to %d: see whether its heat was that of the inside",
				tg, leastTg, mostTg)
		case pm > sugar.TgUncertain.PlusMinus:
			fault("tests.lump",
				"tests.lump is known to %.0f C only, worse than no test (%.0f C): let a larger lump lie longer", pm,
				sugar.TgUncertain.PlusMinus)
		default:
			s.TgC, s.TgPlusMinus, s.TgFrom = tg, pm, FromTest
		}
	}
	if o := s.Tests.Oval; o.WidthMM > 0 || o.HeightMM > 0 {
		switch q := o.HeightMM / o.WidthMM; {
		case o.WidthMM == 0:
			fault("tests.oval", "tests.oval has no width_mm")
		case o.HeightMM == 0:
			fault("tests.oval", "tests.oval has no height_mm")
		case q < 0.5 || q > 1:
			fault("tests.oval", "tests.oval is %.2f (height over width); allowed is 0.5 to 1", q)
		default:
			s.Oval = q
		}
	}
}
