// Package shop holds the shop's settings: defaults, the file that overrides them, and units at the edges.
//
// Guarantees: the defaults are the commented TOML that the command prints, so that the two cannot differ; every value has been checked
// against its range.
package shop

import (
	"bytes"
	_ "embed" // for the defaults
	"errors"
	"fmt"
	"sort"
	"strings"

	toml "github.com/pelletier/go-toml/v2"

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
	Name   string `toml:"name"`
	Finish Finish `toml:"finish"`
}

// Minutes is the table of times.
type Minutes struct {
	MakeRod      float64 `toml:"make_rod"`
	MakeStrip    float64 `toml:"make_strip"`
	MakeBlock    float64 `toml:"make_block"`
	MakeSegment  float64 `toml:"make_segment"`
	MakeWedge    float64 `toml:"make_wedge"`
	MakeTeardrop float64 `toml:"make_teardrop"`
	MakeWrap     float64 `toml:"make_wrap"`
	Lay          float64 `toml:"lay"`
	Bend         float64 `toml:"bend"`
	Wrap         float64 `toml:"wrap"`
	Roll         float64 `toml:"roll"`
	Turn         float64 `toml:"turn"`
	Chop         float64 `toml:"chop"`
	Pour         float64 `toml:"pour"`
	Colour       float64 `toml:"colour"`
	Pull         float64 `toml:"pull"`
	Round        float64 `toml:"round"`
	Draw         float64 `toml:"draw"`
	Cut          float64 `toml:"cut"`
}

// Shop is all settings. Millimetres, grams per cubic centimetre, minutes, degrees Celsius.
type Shop struct {
	Crew, MostDistinct, MostColours                                   int
	ClockMin, LeastLumpG                                              float64
	LargestMM, LengthMM, PictureShare, JacketMM, EndLoss, AllowanceMM float64
	Oval                                                              float64
	ThinnestMM, ThinNoteMM, ThinnestWrapMM, GroundGapMM, LeastRodMM   float64
	LeastFit, LikeDE2000, AlikeDE2000, NearRimShare                   float64
	PulledDensity, ClearDensity, TgC, HoldMin, JoinC                  float64
	Minutes                                                           Minutes
	Colours                                                           map[artwork.RGB]Colour
}

type file struct {
	Shop struct {
		Crew         int     `toml:"crew"`
		ClockMin     float64 `toml:"clock_min"`
		MostDistinct int     `toml:"most_distinct"`
		MostColours  int     `toml:"most_colours"`
		LeastLumpG   float64 `toml:"least_lump_g"`
	} `toml:"shop"`
	Log struct {
		LargestMM    float64 `toml:"largest_mm"`
		LengthMM     float64 `toml:"length_mm"`
		PictureShare float64 `toml:"picture_share"`
		JacketMM     float64 `toml:"jacket_mm"`
		EndLoss      float64 `toml:"end_loss"`
		AllowanceMM  float64 `toml:"end_allowance_mm"`
		Oval         float64 `toml:"oval"`
	} `toml:"log"`
	Limits struct {
		ThinnestMM     float64 `toml:"thinnest_mm"`
		ThinNoteMM     float64 `toml:"thin_note_mm"`
		ThinnestWrapMM float64 `toml:"thinnest_wrap_mm"`
		GroundGapMM    float64 `toml:"ground_gap_mm"`
		LeastRodMM     float64 `toml:"least_rod_mm"`
		LeastFit       float64 `toml:"least_fit"`
		LikeDE2000     float64 `toml:"like_de2000"`
		AlikeDE2000    float64 `toml:"alike_de2000"`
		NearRimShare   float64 `toml:"near_rim_share"`
	} `toml:"limits"`
	Sugar struct {
		Pulled  float64 `toml:"pulled_g_cm3"`
		Clear   float64 `toml:"clear_g_cm3"`
		TgC     float64 `toml:"tg_c"`
		HoldMin float64 `toml:"hold_min"`
		JoinC   float64 `toml:"join_c"`
	} `toml:"sugar"`
	Minutes Minutes           `toml:"minutes"`
	Colours map[string]Colour `toml:"colours"`
}

// Default is the shop of the default file.
func Default() *Shop {
	s, err := Read(nil)
	if err != nil {
		panic("internal: the default shop file is wrong: " + err.Error()) // checked by test
	}
	return s
}

// Read overlays a TOML file on the defaults. Errors name every fault with its line or key and what is allowed.
func Read(data []byte) (*Shop, error) {
	var f file
	for _, d := range [][]byte{defaults, data} {
		dec := toml.NewDecoder(bytes.NewReader(d))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&f); err != nil {
			return nil, explain(err)
		}
	}
	s := &Shop{
		Crew: f.Shop.Crew, MostDistinct: f.Shop.MostDistinct, MostColours: f.Shop.MostColours, ClockMin: f.Shop.ClockMin, LeastLumpG: f.Shop.LeastLumpG,
		LargestMM: f.Log.LargestMM, LengthMM: f.Log.LengthMM, PictureShare: f.Log.PictureShare, JacketMM: f.Log.JacketMM,
		EndLoss: f.Log.EndLoss, AllowanceMM: f.Log.AllowanceMM, Oval: f.Log.Oval,
		ThinnestMM: f.Limits.ThinnestMM, ThinNoteMM: f.Limits.ThinNoteMM, ThinnestWrapMM: f.Limits.ThinnestWrapMM,
		GroundGapMM: f.Limits.GroundGapMM, LeastRodMM: f.Limits.LeastRodMM, LeastFit: f.Limits.LeastFit,
		LikeDE2000: f.Limits.LikeDE2000, AlikeDE2000: f.Limits.AlikeDE2000, NearRimShare: f.Limits.NearRimShare,
		PulledDensity: f.Sugar.Pulled, ClearDensity: f.Sugar.Clear, TgC: f.Sugar.TgC, HoldMin: f.Sugar.HoldMin, JoinC: f.Sugar.JoinC,
		Minutes: f.Minutes, Colours: map[artwork.RGB]Colour{},
	}
	faults := s.ranges()
	for _, hex := range sorted(f.Colours) {
		c := f.Colours[hex]
		rgb, ok := artwork.ParseColour(hex)
		if !ok {
			faults = append(faults, fmt.Sprintf("colours: %q is not a colour", hex))
		}
		if c.Finish != Pulled && c.Finish != Clear {
			faults = append(faults, fmt.Sprintf("colours: finish of %q is %q; allowed are pulled and clear", hex, c.Finish))
		}
		s.Colours[rgb] = c
	}
	if len(faults) > 0 {
		return nil, errors.New(strings.Join(faults, "\n"))
	}
	return s, nil
}

func sorted(m map[string]Colour) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func explain(err error) error {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		var lines []string
		for _, e := range strict.Errors {
			row, col := e.Position()
			lines = append(lines, fmt.Sprintf("line %d, column %d: unknown setting %s", row, col, strings.Join(e.Key(), ".")))
		}
		return errors.New(strings.Join(lines, "\n"))
	}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		row, col := de.Position()
		return fmt.Errorf("line %d, column %d: %s", row, col, de.Error())
	}
	return err
}

// ranges lists every setting that is out of its range.
func (s *Shop) ranges() []string {
	var out []string
	check := func(name string, v, lo, hi float64) {
		if !(v >= lo && v <= hi) {
			out = append(out, fmt.Sprintf("%s is %g; allowed is %g to %g", name, v, lo, hi))
		}
	}
	check("shop.crew", float64(s.Crew), 1, 4)
	check("shop.clock_min", s.ClockMin, 5, 240)
	check("shop.most_distinct", float64(s.MostDistinct), 1, 400)
	check("shop.most_colours", float64(s.MostColours), 1, 40)
	check("shop.least_lump_g", s.LeastLumpG, 0, 5000)
	check("log.largest_mm", s.LargestMM, 30, 400)
	check("log.length_mm", s.LengthMM, 50, 3000)
	check("log.picture_share", s.PictureShare, 0.3, 0.95)
	check("log.jacket_mm", s.JacketMM, 1, 40)
	check("log.end_loss", s.EndLoss, 0, 0.8)
	check("log.end_allowance_mm", s.AllowanceMM, 0, 200)
	check("log.oval", s.Oval, 0.5, 1)
	check("limits.thinnest_mm", s.ThinnestMM, 0.5, 30)
	check("limits.thin_note_mm", s.ThinNoteMM, 0.5, 40)
	check("limits.thinnest_wrap_mm", s.ThinnestWrapMM, 0.5, 30)
	check("limits.ground_gap_mm", s.GroundGapMM, 0.5, 30)
	check("limits.least_rod_mm", s.LeastRodMM, 0.5, 40)
	check("limits.least_fit", s.LeastFit, 0.3, 0.99)
	check("limits.like_de2000", s.LikeDE2000, 0, 30)
	check("limits.alike_de2000", s.AlikeDE2000, 0, 50)
	check("limits.near_rim_share", s.NearRimShare, 0.3, 1)
	check("sugar.pulled_g_cm3", s.PulledDensity, 0.5, 1.58)
	check("sugar.clear_g_cm3", s.ClearDensity, 1.2, 1.58)
	check("sugar.tg_c", s.TgC, 20, 60)
	check("sugar.hold_min", s.HoldMin, 0.5, 60)
	check("sugar.join_c", s.JoinC, 1, 40)
	m := s.Minutes
	for _, v := range []struct {
		name string
		v    float64
	}{{"make_rod", m.MakeRod}, {"make_strip", m.MakeStrip}, {"make_block", m.MakeBlock}, {"make_segment", m.MakeSegment},
		{"make_wedge", m.MakeWedge}, {"make_teardrop", m.MakeTeardrop}, {"make_wrap", m.MakeWrap}, {"lay", m.Lay}, {"bend", m.Bend},
		{"wrap", m.Wrap}, {"roll", m.Roll}, {"turn", m.Turn}, {"chop", m.Chop}, {"pour", m.Pour}, {"colour", m.Colour},
		{"pull", m.Pull}, {"round", m.Round}, {"draw", m.Draw}, {"cut", m.Cut}} {
		check("minutes."+v.name, v.v, 0.05, 120)
	}
	return out
}
