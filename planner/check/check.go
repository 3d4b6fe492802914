// Package check holds a section against the shop's limits: thin lines and gaps, small dots, what lies near the rim.
//
// Guarantees: every finding has its place, what was measured and what is needed; it speaks of the drawing only, never
// of the search.
package check

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"math"
	"slices"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/skeleton"
	"sugarwright/planner/recipe"
	"sugarwright/planner/shop"
	"sugarwright/planner/symmetry"
)

// Result is what the limits say of a section.
type Result struct {
	Findings finding.List
	Places   []Place
	LostArea float64 // subject area in regions that fail, square millimetres
	Subject  float64 // subject area in all
	Crowded  bool    // there is too much of it to be looked at area by area: widths are not known
	Finest   float64 // smallest width over its limit: below 1 the log would have to be larger by its inverse
}

// Place is where a section fails: a part of a region that is too thin, or all of one that is too small.
type Place struct {
	Code        finding.Code
	Region      int // of the map
	Shape       geom.Region[geom.TruePoint]
	At          geom.TruePoint
	Width, Need float64
	Whole       bool // nothing of the region is as wide as it must be
}

// leastThin is the area in square millimetres from which a place is no corner (60 square units of a 200-unit drawing;
// SPLITTING 28) in a log of leastThinLogMM and more; in a thinner one, as many square units are less.
const (
	leastThin      = 19
	leastThinLogMM = 150
)

// corner is the area up to which a place that is too thin is a corner.
func corner(m *partition.Map) float64 {
	return leastThin * math.Min(1, math.Pow(2*m.Frame.LogRadius/leastThinLogMM, 2))
}

// MostAreas is how many areas are looked at one by one: four pairs of hands lay 400 parts in 40 minutes (the shop's
// defaults). mostTurns is how many times the border of one of them may turn right round, to either side: in the open
// drawings it is 43 at most.
const (
	MostAreas = 400
	mostTurns = 100
)

// Of checks a map. An error is our own or the geometry library's.
func Of(m *partition.Map, sh *shop.Shop) (*Result, error) {
	areas := areasOf(m)
	if len(areas) > MostAreas {
		return crowded(m, areas, sh), nil
	}
	out := &Result{}
	for _, i := range areas {
		if r := m.Regions[i]; turns(r) > mostTurns {
			out.Findings.Add(finding.New(finding.TooMuch, finding.Error, turns(r), mostTurns).In("turns").
				At(geom.Inside(r.Shape)).From(r.Source))
		}
	}
	if out.Findings.Refuses() {
		out.Crowded, out.Finest = true, math.Inf(1)
		return out, nil
	}
	var err error
	if out.Places, err = Limits(m, sh, nil); err != nil {
		return nil, err
	}
	// Worst first
	worstFirst(out.Places)
	out.Finest = math.Inf(1)
	failed := map[int]bool{}
	for _, p := range out.Places {
		failed[p.Region] = true
		out.Finest = math.Min(out.Finest, p.Width/p.Need)
		out.Findings.Add(p.finding(m))
	}
	for i, r := range m.Regions {
		if r.Jacket || r.Colour == 0 {
			continue
		}
		out.Subject += r.Area
		out.rim(r, m.Frame.LogRadius, sh)
		if failed[i] {
			out.LostArea += r.Area
		} else if err := out.easier(r, m, sh); err != nil {
			return nil, err
		}
	}
	out.colours(m, sh)
	if out.Subject > 0 && !symmetry.Mirrored(m) {
		out.Findings.Add(finding.New(finding.MirroredEnd, finding.Note))
	}
	if out.Finest < 1 && out.Finest > 0 {
		const step = 5 // millimetres
		out.Findings.Add(
			finding.New(finding.SmallestOrder, finding.Note, math.Ceil(2*m.Frame.LogRadius/out.Finest/step)*step))
	}
	return out, nil
}

// Memo keeps what is known of regions that were looked at before, by their outline; the caller owns it.
type Memo map[[sha256.Size]byte][]Place

// Limits lists the places where a map fails the shop's limits, region by region. Regions that the memo knows are not
// measured again.
func Limits(m *partition.Map, sh *shop.Shop, memo Memo) ([]Place, error) {
	var out []Place
	for _, i := range areasOf(m) {
		r := m.Regions[i]
		ground := r.Colour == 0
		key := [sha256.Size]byte{}
		if memo != nil {
			key = Outline(r, ground)
		}
		places, known := memo[key]
		if !known {
			var err error
			if places, err = thin(r, ground, m, sh); err != nil {
				return nil, err
			}
			if memo != nil {
				memo[key] = places
			}
		}
		for _, p := range places {
			p.Region = i
			out = append(out, p)
		}
	}
	return out, nil
}

// areasOf lists the regions that are more than ground round the picture.
func areasOf(m *partition.Map) []int {
	var out []int
	for i, r := range m.Regions {
		if !r.Jacket && (r.Colour != 0 || len(r.Shape) > 1 || !touchesJacket(r, m.Frame.JacketRadius)) {
			out = append(out, i)
		}
	}
	return out
}

// crowded says of a map of more areas than are looked at one by one how many there are, and which are too small for any
// disc of the thinnest, by their area and perimeter alone.
func crowded(m *partition.Map, areas []int, sh *shop.Shop) *Result {
	out := &Result{Crowded: true, Finest: math.Inf(1)}
	for _, i := range areas {
		r := m.Regions[i]
		ground := r.Colour == 0
		if !ground {
			out.Subject += r.Area
		}
		if p, ok := small(r, ground, m.Frame.JacketRadius, sh); ok {
			p.Region = i
			out.Places = append(out.Places, p)
			if !ground {
				out.LostArea += r.Area
			}
		}
	}
	worstFirst(out.Places)
	at := m.Regions[areas[0]]
	if len(out.Places) > 0 {
		at = m.Regions[out.Places[0].Region]
		out.Finest = out.Places[0].Width / out.Places[0].Need
		out.Places = out.Places[:min(len(out.Places), artwork.MaxFindings)]
	}
	out.Findings.Add(finding.New(finding.TooManyAreas, finding.Error, len(areas), MostAreas).
		At(geom.Inside(at.Shape)).From(at.Source))
	for _, p := range out.Places {
		out.Findings.Add(p.finding(m))
	}
	return out
}

// worstFirst sorts places by what of the needed width they have.
func worstFirst(places []Place) {
	slices.SortStableFunc(places, func(a, b Place) int { return cmp.Compare(a.Width/a.Need, b.Width/b.Need) })
}

// need is the width that a region needs, and what is said where it has less.
func need(r partition.Region, ground bool, jacket float64, sh *shop.Shop) (mm float64, code finding.Code) {
	switch {
	case !ground:
		return sh.ThinnestMM, finding.TooThin
	case !touchesJacket(r, jacket) && len(r.Shape) == 1:
		return sh.GroundGapMM, finding.CounterCloses
	}
	return sh.GroundGapMM, finding.GapTooThin
}

// small tells of a region whose area no disc of the needed width has: all of it is too thin. The width that is said is
// four times the area over the perimeter, which is that of a disc or a square.
func small(r partition.Region, ground bool, jacket float64, sh *shop.Shop) (Place, bool) {
	mm, code := need(r, ground, jacket, sh)
	if !ground {
		mm = min(mm, sh.ThinnestWrapMM)
	}
	if r.Area >= math.Pi/4*mm*mm {
		return Place{}, false
	}
	width := 4 * r.Area / r.Shape.Perimeter()
	return Place{Code: code, Shape: r.Shape, At: geom.Inside(r.Shape), Width: width, Need: mm, Whole: true}, true
}

// Outline is a digest of a region's rings.
func Outline(r partition.Region, ground bool) [sha256.Size]byte {
	var b []byte
	if ground {
		b = append(b, 1)
	}
	for _, ring := range r.Shape {
		for _, p := range ring {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
		}
		b = append(b, 2)
	}
	return sha256.Sum256(b)
}

// finding says a place in words.
func (p Place) finding(m *partition.Map) finding.Finding {
	return finding.New(p.Code, finding.Error, p.Width, p.Need).At(p.At).From(m.Regions[p.Region].Source)
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
func thin(r partition.Region, ground bool, m *partition.Map, sh *shop.Shop) ([]Place, error) {
	need, code := need(r, ground, m.Frame.JacketRadius, sh)
	if !ground && r.Area < math.Pi/4*sh.LeastRodMM*sh.LeastRodMM {
		if d := round(r); d > 0 && d < sh.LeastRodMM {
			return []Place{
				{
					Code:  finding.TooSmall,
					Shape: r.Shape,
					At:    geom.Inside(r.Shape),
					Width: d,
					Need:  sh.LeastRodMM,
					Whole: true,
				},
			}, nil
		}
	}
	out, err := opened(r, need, 4*need, corner(m), code)
	if err != nil || len(out) == 0 || need <= sh.ThinnestWrapMM {
		return out, err
	}
	if recipe.Sheetlike(r.Shape) {
		return opened(r, sh.ThinnestWrapMM, 4*sh.ThinnestWrapMM, corner(m), code)
	}
	return out, nil
}

// surely is the share of a length that borders may be out of reach without more looking: two sides of a neck, askew,
// still end below it.
const surely = 0.75

// opened lists the places of a region that a disc of the needed width cannot reach, corners and ends shorter than
// length, and those no larger than a corner, aside.
func opened(r partition.Region, need, length, corner float64, code finding.Code) ([]Place, error) {
	if skeleton.SurelyOpen(r.Shape, need, surely*length) {
		return nil, nil
	}
	open, err := skeleton.Open(r.Shape, need)
	if err != nil {
		return nil, err
	}
	var out []Place
	for _, p := range open.Left {
		vanished := open.Pieces == 0 && p.Area > corner/leastThin
		if vanished || p.Area >= corner && p.Length >= length {
			out = append(out,
				Place{Code: code, Shape: p.Shape, At: p.At, Width: p.Width, Need: need, Whole: open.Pieces == 0})
		}
	}
	return out, nil
}

// turns is how many times the borders of a region turn right round in all, to either side, beyond once each.
func turns(r partition.Region) float64 {
	sum := 0.0
	for _, ring := range r.Shape {
		for i, p := range ring {
			q, s := ring[(i+1)%len(ring)], ring[(i+2)%len(ring)]
			in, out := geom.Sub(q, p), geom.Sub(s, q)
			sum += math.Abs(math.Atan2(in.Cross(out), in.Dot(out)))
		}
		sum -= 2 * math.Pi
	}
	return sum / (2 * math.Pi)
}

// easier notes subject that can be laid, but would be easier were it thicker.
func (o *Result) easier(r partition.Region, m *partition.Map, sh *shop.Shop) error {
	places, err := opened(r, sh.ThinNoteMM, 4*sh.ThinnestMM, corner(m), finding.ThinNote)
	if err == nil && len(places) > 0 {
		o.Findings.Add(
			finding.New(finding.ThinNote, finding.Note, places[0].Width, sh.ThinNoteMM).At(places[0].At).From(r.Source))
	}
	return err
}

// round is the diameter of a region that is a dot, else 0.
func round(r partition.Region) float64 {
	d, misfit := recipe.AsRod(r.Shape)
	if misfit < 0.16 {
		return d
	}
	return 0
}

// rim notes subject beyond the share of the picture circle in which key parts are safe.
func (o *Result) rim(r partition.Region, log float64, sh *shop.Shop) {
	far, at := 0.0, geom.TruePoint{}
	for _, p := range r.Shape[0] {
		if d := math.Hypot(p[0], p[1]); d > far {
			far, at = d, p
		}
	}
	if far > sh.NearRimShare*log && !o.Findings.Has(finding.NearRim) {
		o.Findings.Add(
			finding.New(finding.NearRim, finding.Note, far, log, sh.NearRimShare*log).At(at).From(r.Source))
	}
}

// colours warns of more colours than are kept apart on the slab, and notes those that are hard to tell apart in sugar.
func (o *Result) colours(m *partition.Map, sh *shop.Shop) {
	largest := make([]*partition.Region, len(m.Colours))
	used := 0
	for i := range m.Regions {
		r := &m.Regions[i]
		if c := r.Colour; !r.Jacket && (largest[c] == nil || r.Area > largest[c].Area) {
			if largest[c] == nil {
				used++
			}
			largest[c] = r
		}
	}
	if used > sh.MostColours {
		o.Findings.Add(finding.New(finding.TooManyColours, finding.Warning, used, sh.MostColours))
	}
	for i := range m.Colours {
		for j := range i {
			a, b := largest[i], largest[j]
			if a == nil || b == nil {
				continue
			}
			if d := partition.DE2000(m.Colours[i].RGB, m.Colours[j].RGB); d < sh.AlikeDE2000 {
				if b.Area < a.Area && b.Colour > 0 {
					a = b
				}
				first, second := partition.Name(m.Colours[i].RGB), partition.Name(m.Colours[j].RGB)
				f := finding.New(finding.AlikeColours, finding.Note, first, second, d, sh.AlikeDE2000)
				o.Findings.Add(f.At(geom.Inside(a.Shape)).From(a.Source))
			}
		}
	}
}

// mostSpare is up to how much thicker than needed the finest place is looked for.
const mostSpare = 4

// Finest is how many times as thick as needed the finest place of a map is that holds all limits, from 1 to 4, to a
// fiftieth.
func Finest(m *partition.Map, sh *shop.Shop) (float64, error) {
	lo, hi := 1.0, float64(mostSpare)
	for hi-lo > 0.02*lo {
		mid := math.Sqrt(lo * hi)
		s := *sh
		s.ThinnestMM, s.ThinnestWrapMM, s.GroundGapMM, s.LeastRodMM = mid*sh.ThinnestMM, mid*sh.ThinnestWrapMM, mid*sh.GroundGapMM, mid*sh.LeastRodMM
		places, err := Limits(m, &s, nil)
		if err != nil {
			return 0, err
		}
		if len(places) == 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, nil
}
