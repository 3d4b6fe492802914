// Package shop holds the shop's settings: defaults, the file that overrides them, and units at the edges.
//
// Guarantees: the defaults are the commented TOML that the command prints, so that the two cannot differ; every value
// has been checked against its range, and values against each other; all faults of a file are listed, with their lines.
// What the shop measured on its own sugar goes before its settings, and those before the defaults.
package shop

import (
	_ "embed" // for the defaults
	"math"
	"sugarwright/geom/finding"
	"sugarwright/planner/heat"
	"sugarwright/planner/recipe"

	"sugarwright/geom/artwork"
)

//go:embed shop.toml
var defaults []byte

// DefaultFile is the commented TOML of all settings.
func DefaultFile() []byte { return defaults }

// Finish of sugar.
type Finish string

// Pulled sugar is aerated and opaque, clear sugar is not.
const (
	Pulled Finish = "pulled"
	Clear  Finish = "clear"
)

// Colour is one of the shop's own.
type Colour struct {
	Name      string
	Finish    Finish
	DoseGPerK float64 // grams of colour a kilogram of this sugar, as the shop entered it; 0 when it did not
}

// Minutes is the table of times.
type Minutes struct {
	recipe.Minutes
	// A filler is pressed in; each kilogram that is laid or closed round
	PressIn, LayKg, WrapKg      float64
	Lay, Wrap, Roll, Turn, Chop float64
	// What is done to the whole log, to a lump and to a load of it: once, and each kilogram
	Pour, PourKg, Colour, ColourKg, Pull, PullKg, PullLoadKg, Round, RoundKg float64
	MachineKg, TurnKg                                                        float64 // what the machine that pulls takes; 0: there is none. Each kilogram turned
	DrawKg                                                                   float64 // kilograms a minute; 0: by stick and air
	StickW                                                                   float64 // what air takes from a stick, W/(m2 K)
	CutPieces                                                                float64 // a minute
	// A block that is built once for several is drawn out; and each length of it
	DrawOut, DrawOutEach float64
	// Once, of a part that holds by itself
	TurnPart float64
}

// Poured is the minutes of pouring so many kilograms.
func (m Minutes) Poured(kg float64) float64 { return m.Pour + m.PourKg*kg }

// Coloured is the minutes of colouring and kneading a lump.
func (m Minutes) Coloured(kg float64) float64 { return m.Colour + m.ColourKg*kg }

// Pulled is how many loads are pulled one by one, the minutes of each, and the pairs of hands at it: none where there is
// a machine, which is put on and taken off in passing.
func (m Minutes) Pulled(kg float64) (loads int, minutes float64, hands int) {
	load := m.PullLoadKg
	if m.MachineKg > 0 {
		load = m.MachineKg
	}
	loads = max(1, int(math.Ceil(kg/load-1e-9)))
	if m.MachineKg > 0 {
		return loads, machineMin + machineKgMin*kg/float64(loads), 0
	}
	return loads, m.Pull + m.PullKg*kg/float64(loads), 1
}

// A pulling machine: a load on and off and pulled, and each kilogram of it; set, no source.
const (
	machineMin   = 3.6
	machineKgMin = 0.4
)

// Turned is the minutes of turning what lies there, and the pairs of hands: one up to 8 kg, two above, by the published
// lifting equation for an arm's reach, a third off for heat and softness.
func (m Minutes) Turned(kg float64) (minutes float64, hands int) {
	hands = 1
	if kg > OneLiftsKg {
		hands = 2
	}
	return m.Turn + m.TurnKg*kg, hands
}

// OneLiftsKg is what one person lifts and turns while it is hot and soft.
const OneLiftsKg = 8.0

// Rounded is the minutes of rolling the log round.
func (m Minutes) Rounded(kg float64) float64 { return m.Round + m.RoundKg*kg }

// What keeps a stick from being drawn: it must be rolled until it holds. Sugar's heat by volume, joules a cubic metre and
// kelvin; the stick's heat, and that at which it holds, by
// the design; ten metres of it lie side by side on the table; kilograms a cubic metre.
const (
	stickHeat   = 1700 * 1300
	stickC      = 62
	holdsC      = 45
	rolledM     = 10
	stickWeight = 1300
)

// Drawn is the minutes of drawing so many kilograms out to sticks as thick as a piece in air of some heat.
func (m Minutes) Drawn(kg, stickMM, airC float64) float64 {
	if m.DrawKg > 0 {
		return kg / m.DrawKg
	}
	d := stickMM / 1000
	return kg / (rolledM * stickWeight * math.Pi * d * d / 4) * m.Sets(stickMM, airC)
}

// Sets is how many minutes a stick of a thickness is kept rolling until it holds.
func (m Minutes) Sets(stickMM, airC float64) float64 {
	air := math.Min(airC, holdsC-5) // in hotter air no stick would set: it is cooled otherwise
	return stickHeat * stickMM / 1000 * math.Log((stickC-air)/(holdsC-air)) / (4 * m.StickW) / 60
}

// FanW is what air takes from a stick under a fan, W/(m2 K): twice what still air takes, by the design.
const FanW = 30

// Place is the minutes of laying one part of so many grams: it is put in its place, bent, closed round, or pressed in.
func (m Minutes) Place(f recipe.Fit, grams float64) float64 {
	switch {
	case f.Closed():
		return m.Wrap + m.WrapKg*grams/1000
	case f.Class == recipe.Pressed:
		return m.Lay + m.PressIn + m.LayKg*grams/1000
	}
	return m.Lay + m.Bending(f.Recipe) + m.LayKg*grams/1000
}

// DrawnOut is the minutes of drawing a block out to n lengths.
func (m Minutes) DrawnOut(n int) float64 { return m.DrawOut + m.DrawOutEach*float64(n) }

// Least are the least sizes of parts.
func (s *Shop) Least() recipe.Least {
	return recipe.Least{RodMM: s.LeastRodMM, ThinMM: s.ThinnestMM, SheetMM: s.ThinnestWrapMM}
}

// Shop is all settings. Millimetres, grams per cubic centimetre, minutes, degrees Celsius, watts per square metre and
// kelvin.
type Shop struct {
	Crew, MostDistinct, MostColours                                            int
	ClockMin, LeastLumpG                                                       float64
	LeastG, MostG                                                              float64 // of a log
	LargestMM, LengthMM, Fill, JacketMM, LayerMM, LayerG, EndLoss, AllowanceMM float64
	Oval                                                                       float64
	Slab                                                                       heat.Slab
	Slip                                                                       bool   // the outline slips along what rolls it
	Kitchen                                                                    string // its name, on the client's proof
	ThinnestMM, ThinNoteMM, ThinnestWrapMM, GroundGapMM, LeastRodMM            float64
	LikeDE2000, AlikeDE2000, NearRimShare, ColourDE2000                        float64
	PulledDensity, ClearDensity, TgC, HoldMin, JoinC                           float64
	EndC, AltitudeM                                                            float64 // to which it is boiled, 0: by the glass transition; of the kitchen
	MoisturePercent, SyrupShare, PulledStiffness, PulledWhite                  float64
	AirC, AirW, LampC, TableC, TableW, WarmC, LayFromC, LayToC                 float64
	DoubtC                                                                     float64 // how far lamp, table and air may be off
	Reserve, SyrupSolids, WaterShare, AcidPercent, TolerancePercent            float64
	FlavourPercent, SlabMM, SparePercent                                       float64
	Spread                                                                     Spread
	Minutes                                                                    Minutes
	Colours                                                                    map[artwork.RGB]Colour
	Stock                                                                      []Stock // by name
	// That it was read from, for faults; "" for the defaults
	File  string
	Lines Lines
	Price Price
	Label Label
	Tests Tests
	// Where TgC comes from: one of the From words
	TgFrom      string
	TgPlusMinus float64 // K
}

// Lines of some settings in the shop's own file, for faults that show when an order is planned; 0 where the file has
// them not.
type Lines struct{ Acid, Stock, Lump int }

// Spread is how much one log differs from the next, and along itself: standard deviations.
type Spread struct{ PlacingMM, HeatC, Oval, Squeeze float64 }

// Where a glass transition comes from, the best first.
const (
	FromTest     = "lump test"
	FromSetting  = "setting"
	FromMoisture = "moisture"
	FromBoil     = "end of boil"
	FromDefault  = "default"
)

// Default is the shop of the default file.
func Default() *Shop {
	s, err := Read(nil)
	if err != nil {
		panic(finding.Impossible("the default shop file is wrong: %v", err)) // checked by test
	}
	return s
}

// setting is one number of the file: its place, its range, and where it goes.
type setting struct {
	path   string
	lo, hi float64
	f      *float64
	i      *int
}

func (s *Shop) settings() []setting {
	m, r := &s.Minutes, &s.Price
	number := func(path string, lo, hi float64, f *float64) setting { return setting{path, lo, hi, f, nil} }
	minutes := func(name string, f *float64) setting { return setting{"minutes." + name, 0.05, 120, f, nil} }
	return []setting{
		{"shop.crew", 1, 4, nil, &s.Crew},
		number("shop.clock_min", 5, 240, &s.ClockMin),
		{"shop.most_distinct", 1, 400, nil, &s.MostDistinct},
		{"shop.most_colours", 1, 40, nil, &s.MostColours},
		number("shop.least_lump_g", 0, 5000, &s.LeastLumpG),
		number("log.least_g", 50, 50_000, &s.LeastG),
		number("log.largest_g", 50, 100_000, &s.MostG),
		number("log.largest_mm", 30, 400, &s.LargestMM),
		number("log.length_mm", 50, 3000, &s.LengthMM),
		number("log.fill", 0.3, 0.95, &s.Fill),
		number("log.jacket_mm", 1, 40, &s.JacketMM),
		number("log.layer_mm", 2, 60, &s.LayerMM),
		number("log.layer_g", 100, 50_000, &s.LayerG),
		number("log.end_loss", 0, 0.8, &s.EndLoss),
		number("log.end_allowance_mm", 0, 200, &s.AllowanceMM),
		number("log.oval", 0.5, 1, &s.Oval),
		number("limits.thinnest_mm", 0.5, 30, &s.ThinnestMM),
		number("limits.thin_note_mm", 0.5, 40, &s.ThinNoteMM),
		number("limits.thinnest_wrap_mm", 0.5, 30, &s.ThinnestWrapMM),
		number("limits.ground_gap_mm", 0.5, 30, &s.GroundGapMM),
		number("limits.least_rod_mm", 0.5, 40, &s.LeastRodMM),
		number("limits.like_de2000", 0, 30, &s.LikeDE2000),
		number("limits.alike_de2000", 0, 50, &s.AlikeDE2000),
		number("limits.near_rim_share", 0.3, 1, &s.NearRimShare),
		number("limits.colour_de2000", 0.5, 50, &s.ColourDE2000),
		number("sugar.pulled_g_cm3", 0.5, 1.58, &s.PulledDensity),
		number("sugar.clear_g_cm3", 1.4, 1.58, &s.ClearDensity),
		number("sugar.tg_c", 20, 60, &s.TgC),
		number("sugar.moisture_percent", 0.5, 6, &s.MoisturePercent),
		number("sugar.syrup_share", 0, 0.8, &s.SyrupShare),
		number("sugar.pulled_stiffness", 0.5, 2, &s.PulledStiffness),
		number("sugar.pulled_white", 0, 0.9, &s.PulledWhite),
		number("sugar.hold_min", 0.5, 60, &s.HoldMin),
		number("sugar.join_c", 1, 40, &s.JoinC),
		number("boil.end_c", 110, 160, &s.EndC), number("boil.altitude_m", -400, 4000, &s.AltitudeM),
		number("boil.reserve", 0, 0.5, &s.Reserve),
		number("boil.syrup_solids", 0.5, 1, &s.SyrupSolids),
		number("boil.water_share", 0, 1, &s.WaterShare),
		number("boil.acid_percent", 0, 5, &s.AcidPercent),
		number("boil.flavour_percent", 0, 5, &s.FlavourPercent),
		number("slab.area_m2", 0.01, 10, &s.Slab.AreaM2), number("slab.start_c", -10, 90, &s.Slab.StartC),
		number("boil.slab_mm", 4, 40, &s.SlabMM),
		number("shop.tolerance_percent", 0, 50, &s.TolerancePercent),
		number("shop.spare_percent", 0, 50, &s.SparePercent),
		number("heat.air_c", 5, 50, &s.AirC),
		number("heat.air_w", 2, 60, &s.AirW),
		number("heat.lamp_c", 5, 100, &s.LampC),
		number("heat.table_c", 5, 100, &s.TableC),
		number("heat.table_w", 5, 1000, &s.TableW),
		number("heat.warm_c", 0, 100, &s.WarmC),
		number("heat.lay_from_c", 30, 120, &s.LayFromC),
		number("heat.lay_to_c", 30, 120, &s.LayToC),
		number("spread.placing_mm", 0, 10, &s.Spread.PlacingMM),
		number("spread.heat_c", 0, 15, &s.Spread.HeatC),
		number("spread.oval", 0, 0.2, &s.Spread.Oval),
		number("spread.squeeze", 0, 0.2, &s.Spread.Squeeze),
		number("tests.lump.diameter_mm", 10, 150, &s.Tests.Lump.DiameterMM),
		number("tests.lump.minutes", 0.1, 30, &s.Tests.Lump.Minutes),
		number("tests.lump.height_mm", 5, 150, &s.Tests.Lump.HeightMM),
		number("tests.lump.at_c", 35, 120, &s.Tests.Lump.AtC),
		number("tests.pieces.number", 10, 100_000, &s.Tests.Pieces.Number),
		number("tests.pieces.grams", 5, 100_000, &s.Tests.Pieces.Grams),
		number("tests.oval.width_mm", 20, 500, &s.Tests.Oval.WidthMM),
		number("tests.oval.height_mm", 20, 500, &s.Tests.Oval.HeightMM),
		minutes("make_rod", &m.Rod), minutes("make_bar", &m.Bar), minutes("make_strip", &m.Strip),
		minutes("make_oval", &m.Oval), minutes("make_segment", &m.HalfMoon), minutes("make_wedge", &m.Wedge),
		minutes("make_triangle", &m.Triangle), minutes("make_flat_rod", &m.FlatRod), minutes("make_leaf", &m.Leaf),
		minutes("make_tapered", &m.Tapered), minutes("make_teardrop", &m.Drop), minutes("make_wrap", &m.Sheet),
		minutes("bow", &m.Bow), minutes("cut_edge", &m.Cut), minutes("groove", &m.Groove),
		minutes("next_groove", &m.NextGroove), minutes("bend", &m.Minutes.Bend), minutes("bend_far", &m.BendFar),
		minutes("bend_twice", &m.BendTwice), minutes("press_in", &m.PressIn), number("minutes.lay_kg", 0, 10, &m.LayKg),
		number("minutes.wrap_kg", 0, 10, &m.WrapKg), number("minutes.make_kg", 0, 10, &m.Kg),
		number("minutes.make_m", 0, 10, &m.Metre),
		minutes("lay", &m.Lay), minutes("wrap", &m.Wrap), minutes("roll", &m.Roll),
		minutes("turn",
			&m.Turn), minutes("chop", &m.Chop), number("minutes.draw_out", 0, 60, &m.DrawOut), number("minutes.draw_out_each", 0, 10, &m.DrawOutEach), minutes("pour", &m.Pour), number("minutes.pour_kg", 0, 10, &m.PourKg), minutes("colour", &m.Colour), number("minutes.colour_kg", 0, 10, &m.ColourKg), minutes("pull", &m.Pull), number("minutes.pull_kg", 0, 10, &m.PullKg), number("minutes.pull_load_kg", 0.1, 50, &m.PullLoadKg), number("minutes.machine_kg", 0, 100, &m.MachineKg), number("minutes.turn_kg", 0, 10, &m.TurnKg), number("heat.stick_w", 5, 100, &m.StickW), number("heat.doubt_c", 0, 15, &s.DoubtC),
		minutes("round", &m.Round), number("minutes.round_kg", 0, 10, &m.RoundKg), number("minutes.draw_kg", 0, 50, &m.DrawKg),
		number("minutes.cut_pieces", 1, 10_000, &m.CutPieces), number("minutes.turn_part", 0, 10, &m.TurnPart),
		number("price.hour", 0, 10_000,
			&r.Hour), number("price.set_up_min", 0, 1000, &r.SetUpMin), number("price.pack_min", 0, 60, &r.PackMin),
		number("price.sugar_kg", 0, 10_000,
			&r.SugarKg), number("price.syrup_kg", 0, 10_000, &r.SyrupKg), number("price.extras_kg", 0, 10_000, &r.ExtrasKg),
		number("price.pack", 0, 10_000, &r.Pack), number("price.order", 0, 1_000_000, &r.Order),
		number("price.margin_percent", 0, 1000,
			&r.MarginPercent), number("price.spread_percent", 0, 100, &r.SpreadPercent), number("price.decimals", 0, 2, &r.Decimals),
	}
}
