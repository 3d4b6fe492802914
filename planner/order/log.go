package order

import (
	"fmt"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/check"
	"sugarwright/planner/job"
	"sugarwright/planner/palette"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// Log is one log of the order: its size, and the order counted out in such logs.
type Log struct {
	size.Log
	Wanted Wanted
	PerMM  float64 // mass of a millimetre of the log, grams
}

// Check holds the log to what it must be.
func (l *Log) Check() error {
	if !(l.DiameterMM > 0 && l.LengthMM > 0) || l.Wanted.Logs < 1 {
		return finding.Impossible("a log of %g by %g mm, %d of them", l.DiameterMM, l.LengthMM, l.Wanted.Logs)
	}
	return nil
}

// massShare keeps a log that is just as heavy as allowed from being too heavy, against rounding.
const massShare = 1e-6

// PerMM is the mass of a millimetre of a log, grams.
func PerMM(m *partition.Map, colours *palette.Palette) (grams float64) {
	for _, r := range m.Regions {
		grams += r.Area * colours.Density(r.Colour) / 1000
	}
	return grams
}

// stubbyShare is by how much a log may be shorter than twice its thickness: its thickness is settled by a guessed
// density; tuned.
const stubbyShare = 0.05

// LogOf settles the length of a log from the order and from what a millimetre of it weighs. The error is of type
// settings.Faults.
func LogOf(
	o size.Order,
	j *job.Job,
	s *shop.Shop,
	m *partition.Map,
	colours *palette.Palette,
) (*Log, finding.List, error) {
	l := &Log{Log: size.Log{DiameterMM: 2 * m.Frame.LogRadius}, PerMM: PerMM(m, colours)}
	var err error
	if o, l.Wanted, err = PerLog(o, j, s, l.DiameterMM, l.PerMM); err != nil {
		return nil, nil, err
	}
	l.LengthMM = o.Length(l.DiameterMM, l.PerMM, s.EndLoss, s.LengthMM)
	var found finding.List
	if j != nil && len(j.Away) > 0 {
		found.Add(finding.New(finding.DesignAway, finding.Note, j.Away))
	}
	switch g := l.LengthMM * l.PerMM; {
	case l.Wanted.LessG > 0:
		found.Add(finding.New(finding.UnderLeast, finding.Note, l.Wanted.Pieces, l.Wanted.LessG, s.LeastG, o.Count(l.Log, s.EndLoss)).In("raised"))
	case g > s.MostG*(1+massShare):
		found.Add(finding.New(finding.OverLargest, finding.Warning, g, s.MostG).In("weight"))
	case g < s.LeastG*(1-massShare):
		found.Add(finding.New(finding.UnderLeast, finding.Warning, g, s.LeastG))
	}
	if g := l.LengthMM * l.PerMM; s.LeastLumpG > g {
		text := fmt.Sprintf("the least lump that can be mixed, shop.least_lump_g %g g, is more than the whole log of %.0f g; allowed is a log of that weight or more", s.LeastLumpG, g)
		return nil, nil, settings.Faults{{File: s.File, Line: s.Lines.Lump, Text: text}}
	}
	if l.LengthMM < 2*l.DiameterMM*(1-stubbyShare) {
		found.Add(finding.New(finding.LongFace, finding.Warning, l.LengthMM, l.DiameterMM))
	}
	found.Add(lumps(l, m, colours, s.LeastLumpG)...)
	return l, found, nil
}

// GuessLog is a log of a drawing that was refused before its masses were known.
func GuessLog(o size.Order, j *job.Job, s *shop.Shop, diameterMM float64) *Log {
	perMM := math.Pi / 4 * diameterMM * diameterMM * GuessDensity / 1000
	one, want, err := PerLog(o, j, s, diameterMM, perMM)
	if err != nil { // an order that is judged when the drawing can be built
		one = o
	}
	length := one.Length(diameterMM, perMM, s.EndLoss, s.LengthMM)
	return &Log{Log: size.Log{DiameterMM: diameterMM, LengthMM: length}, Wanted: want, PerMM: perMM}
}

// lumps warns of colours of which less is needed than can be mixed.
func lumps(l *Log, m *partition.Map, colours *palette.Palette, leastG float64) finding.List {
	mass := make([]float64, len(m.Colours))
	at := make([]geom.TruePoint, len(mass))
	for _, r := range m.Regions {
		if mass[r.Colour] == 0 {
			at[r.Colour] = geom.Inside(r.Shape)
		}
		mass[r.Colour] += r.Area * colours.Density(r.Colour) * l.LengthMM / 1000
	}
	var found finding.List
	for i, g := range mass {
		if g == 0 || g >= leastG {
			continue
		}
		f := finding.New(finding.SmallLump, finding.Warning, g, colours.Shades[i].Name, leastG)
		if k, off := likest(m, i, mass, leastG); k >= 0 {
			f = f.In("likest")
			f.Values = append(f.Values, colours.Shades[k].Name, off)
		}
		found.Add(f.At(at[i]))
	}
	return found
}

// likest is the colour of the drawing that another is most like, of those of which a lump can be mixed; -1 when there
// is none.
func likest(m *partition.Map, i int, mass []float64, leastG float64) (best int, off float64) {
	best, off = -1, math.Inf(1)
	for k, g := range mass {
		if d := partition.DE2000(m.Colours[i].RGB, m.Colours[k].RGB); k != i && g >= leastG && d < off {
			best, off = k, d
		}
	}
	return best, off
}

// Smallest is the least log, twice as long as wide, in which the drawing's finest place is still as thick as it must
// be, every colour is a lump that can be mixed, and the shop draws so little: its diameter in millimetres and its mass
// in grams. finest is the check's: how many times as thick as needed the finest place is, +Inf where all places are
// thick enough.
func Smallest(
	m *partition.Map,
	finest float64,
	s *shop.Shop,
	colours *palette.Palette,
) (diameterMM, grams float64, err error) {
	if math.IsInf(finest, 1) {
		if finest, err = check.Finest(m, s); err != nil {
			return 0, 0, err
		}
	}
	logMM := 2 * m.Frame.LogRadius
	diameterMM = math.Ceil(logMM / finest)
	perMM, least := 0.0, math.Inf(1) // grams a millimetre of this log; the scarcest colour's
	byColour := map[int]float64{}
	for _, r := range m.Regions {
		g := r.Area * colours.Density(r.Colour) / 1000
		perMM += g
		byColour[r.Colour] += g
	}
	for _, g := range byColour {
		least = math.Min(least, g)
	}
	k := diameterMM / logMM
	grams = perMM * k * k * 2 * diameterMM
	if need := s.LeastLumpG * perMM / least; need > grams { // every colour at least a lump: a longer log
		grams = need
	}
	if least := s.LeastG; grams < least { // the shop draws no smaller one
		diameterMM = math.Min(math.Max(diameterMM, s.LargestMM), math.Ceil(diameterMM*math.Cbrt(least/grams)))
		grams = least
	}
	return diameterMM, grams, nil
}
